# SPDX-License-Identifier: MIT
"""Plan a demonstration: which height, how sure that is, how many panes to bring.

A planning aid. Rehearse with the very panes of the day; safety is decided by local codes,
the employer's risk assessment and licensed practice.
"""

from glasskit.demonstration.advice import THICKNESSES, Change, candidates
from glasskit.demonstration.approval import Approval, approvals
from glasskit.demonstration.breaking import break_chance, far_chance, ring_chance
from glasskit.demonstration.breaklog import Entry, Log, Trouble, read_log
from glasskit.demonstration.chances import Odds, inputs_of, odds, odds_in, worlds_of
from glasskit.demonstration.drop_records import (
    RECORDS,
    SUPPORTS,
    Blow,
    KnownDrop,
    Rule,
    known_drops,
    outcome,
)
from glasskit.demonstration.evidence import Weighed, weigh
from glasskit.demonstration.history import Hindsight, hindsight
from glasskit.demonstration.learning import Lesson, lessons
from glasskit.demonstration.planning import CAUTIONS, Plan, most_sensible, moved, plan
from glasskit.demonstration.posterior import (
    Case,
    Hit,
    Knowledge,
    Reckoning,
    Study,
    View,
    cases,
    knowledge,
    plates_of_1876,
    reckonings,
    study,
)
from glasskit.demonstration.prospects import Prospect, Wish, prospect, rights
from glasskit.demonstration.reach import WAIST, Place
from glasskit.demonstration.rehearsal import NextBlow, Told, next_blow, told
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
from glasskit.demonstration.verdicts import Struck, blow_strengths, strike
from glasskit.demonstration.worlds import Belief, Worlds, draw_worlds, learned

__all__ = [
    "CAUTIONS",
    "EYES",
    "FOUND_AT",
    "REACH",
    "RECORDS",
    "SUPPORTS",
    "THICKNESSES",
    "WAIST",
    "Approval",
    "Belief",
    "Blow",
    "Case",
    "Change",
    "Doubt",
    "DroppedBall",
    "Entry",
    "FallingPane",
    "GuidedDrop",
    "Hindsight",
    "Hit",
    "Knowledge",
    "KnownDrop",
    "Lesson",
    "Log",
    "NextBlow",
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
    "Study",
    "SwungHammer",
    "Told",
    "Trouble",
    "View",
    "Weighed",
    "Wish",
    "Worlds",
    "annealed",
    "approvals",
    "blow_strengths",
    "break_chance",
    "candidates",
    "cases",
    "chemically",
    "draw_worlds",
    "enough",
    "everyday_flaws",
    "expected_panes",
    "far_chance",
    "hindsight",
    "inputs_of",
    "knowledge",
    "known_drops",
    "learned",
    "lessons",
    "most_sensible",
    "moved",
    "next_blow",
    "odds",
    "odds_in",
    "outcome",
    "panes_for_all",
    "panes_to_bring",
    "plan",
    "plates_of_1876",
    "prospect",
    "proved_share",
    "read_log",
    "reckonings",
    "rehearsals_needed",
    "rights",
    "ring_chance",
    "strike",
    "study",
    "told",
    "toughened",
    "weigh",
    "worlds_of",
]
