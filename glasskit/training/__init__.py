# SPDX-License-Identifier: MIT
"""Practice for a first week: cases with planted mistakes, and how far somebody has come."""

from glasskit.training.cases import Case, case, practice_set
from glasskit.training.invented import bars_and_rings
from glasskit.training.mistakes import MISTAKES
from glasskit.training.progress import Attempt, Opened, Progress, open_progress, save_progress

__all__ = [
    "MISTAKES",
    "Attempt",
    "Case",
    "Opened",
    "Progress",
    "bars_and_rings",
    "case",
    "open_progress",
    "practice_set",
    "save_progress",
]
