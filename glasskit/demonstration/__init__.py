# SPDX-License-Identifier: MIT
"""Plan a demonstration: which height, how sure that is, how many panes to bring.

A planning aid. Rehearse with the very panes of the day; safety is decided by local codes,
the employer's risk assessment and licensed practice.
"""

from glasskit.demonstration.advice import THICKNESSES, Change, candidates
from glasskit.demonstration.breaklog import Entry, Log, Trouble, read_log
from glasskit.demonstration.chances import Odds, chosen_odds, inputs_of, odds, swings
from glasskit.demonstration.drop_records import (
    RECORDS,
    SUPPORTS,
    Blow,
    KnownDrop,
    Rule,
    known_drops,
    outcome,
)
from glasskit.demonstration.history import Hindsight, hindsight
from glasskit.demonstration.planning import CAUTIONS, HEIGHTS, Plan, moved, plan
from glasskit.demonstration.prospects import Prospect, Wish, prospect
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Rig,
    Specimen,
    SwungHammer,
    annealed,
    chemically,
    everyday_flaws,
    toughened,
)
from glasskit.demonstration.screening import EYES, FOUND_AT, REACH, Doubt, Screening
from glasskit.demonstration.spares import (
    enough,
    expected_panes,
    panes_to_bring,
    proved_share,
    rehearsals_needed,
)

__all__ = [
    "CAUTIONS",
    "EYES",
    "FOUND_AT",
    "HEIGHTS",
    "REACH",
    "RECORDS",
    "SUPPORTS",
    "THICKNESSES",
    "Blow",
    "Change",
    "Doubt",
    "DroppedBall",
    "Entry",
    "FallingPane",
    "GuidedDrop",
    "Hindsight",
    "KnownDrop",
    "Log",
    "Odds",
    "Plan",
    "Prospect",
    "Rig",
    "Rule",
    "Screening",
    "Specimen",
    "SwungHammer",
    "Trouble",
    "Wish",
    "annealed",
    "candidates",
    "chemically",
    "chosen_odds",
    "enough",
    "everyday_flaws",
    "expected_panes",
    "hindsight",
    "inputs_of",
    "known_drops",
    "moved",
    "odds",
    "outcome",
    "panes_to_bring",
    "plan",
    "prospect",
    "proved_share",
    "read_log",
    "rehearsals_needed",
    "swings",
    "toughened",
]
