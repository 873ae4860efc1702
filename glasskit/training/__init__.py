# SPDX-License-Identifier: MIT
"""Practice for a first week: planted mistakes, audits, surfaces, incidents, and the record.

`cases` over `mistakes` set single results, `audits` a file and a report, `surfaces` broken
pieces and `patterns` broken panes to read, `incidents` moments to stop; `progress` and `week`
keep what somebody has done.
"""

from glasskit.training.audits import Audit, Marked, audit
from glasskit.training.cases import Case, case, practice_set
from glasskit.training.incidents import Incident, incidents
from glasskit.training.invented import bars_and_rings
from glasskit.training.mistakes import MISTAKES
from glasskit.training.patterns import Mark, Pattern, pattern
from glasskit.training.progress import Attempt, Opened, Progress, open_progress, save_progress
from glasskit.training.surfaces import ANSWERS, SURFACES, Reading, Surface, surface
from glasskit.training.week import Entry, Task, Week, add_entry, open_week, tasks

__all__ = [
    "ANSWERS",
    "MISTAKES",
    "SURFACES",
    "Attempt",
    "Audit",
    "Case",
    "Entry",
    "Incident",
    "Mark",
    "Marked",
    "Opened",
    "Pattern",
    "Progress",
    "Reading",
    "Surface",
    "Task",
    "Week",
    "add_entry",
    "audit",
    "bars_and_rings",
    "case",
    "incidents",
    "open_progress",
    "open_week",
    "pattern",
    "practice_set",
    "save_progress",
    "surface",
    "tasks",
]
