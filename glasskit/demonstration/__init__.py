# SPDX-License-Identifier: MIT
"""Plan a demonstration: which height, how sure that is, how many panes to bring.

A planning aid. Rehearse with the very panes of the day; safety is decided by local codes,
the employer's risk assessment and licensed practice.
"""

from glasskit.demonstration.advice import Change
from glasskit.demonstration.approval import Approval, approvals
from glasskit.demonstration.both import BothPanes, drop_both
from glasskit.demonstration.breaklog import Entry, Log, read_log
from glasskit.demonstration.chances import Odds
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
from glasskit.demonstration.planning import CAUTIONS, Plan, moved, plan
from glasskit.demonstration.posterior import (
    Knowledge,
    Reckoning,
    knowledge,
    reckonings,
)
from glasskit.demonstration.prospects import Prospect, Target
from glasskit.demonstration.reach import Place
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
    panes_for_all,
    panes_to_bring,
    proved_share,
    rehearsals_needed,
)
from glasskit.demonstration.supply import glued, stated
from glasskit.demonstration.verdicts import Struck, strike

__all__ = [
    "CAUTIONS",
    "EYES",
    "FOUND_AT",
    "REACH",
    "RECORDS",
    "SUPPORTS",
    "Approval",
    "Blow",
    "BothPanes",
    "Change",
    "Doubt",
    "DroppedBall",
    "Entry",
    "FallingPane",
    "GuidedDrop",
    "Hindsight",
    "Knowledge",
    "KnownDrop",
    "Log",
    "Odds",
    "Place",
    "Plan",
    "Prospect",
    "Reckoning",
    "Rig",
    "Rule",
    "Screening",
    "Specimen",
    "Struck",
    "SwungHammer",
    "Target",
    "annealed",
    "approvals",
    "chemically",
    "drop_both",
    "enough",
    "everyday_flaws",
    "expected_panes",
    "glued",
    "hindsight",
    "knowledge",
    "known_drops",
    "moved",
    "outcome",
    "panes_for_all",
    "panes_to_bring",
    "plan",
    "proved_share",
    "read_log",
    "reckonings",
    "rehearsals_needed",
    "stated",
    "strike",
    "toughened",
]
