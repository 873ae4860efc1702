# SPDX-License-Identifier: MIT
"""What a class needs: questions, exercises, likenesses to hold, the pupils' own readings."""

from glasskit.classroom.exercises import (
    BalanceTask,
    DropTask,
    StickTask,
    balance_task,
    drop_task,
    stick_task,
)
from glasskit.classroom.likenesses import (
    BentStick,
    NotchedStrip,
    brittle_stick,
    chocolate_bar,
    spanning,
)
from glasskit.classroom.numberquestions import (
    NumberQuestion,
    number_question,
    number_questions,
)
from glasskit.classroom.questions import (
    Bank,
    Option,
    Question,
    Tally,
    bank,
    question,
    read_bank,
    shuffled,
)
from glasskit.classroom.readings import ClassSheet, load_sheet, read_sheet
from glasskit.classroom.results import (
    LEAST,
    ClassResult,
    Cut,
    class_result,
    find_cut,
    save_table,
    strength_of,
)
from glasskit.classroom.squeezing import BallTray, BookRow, CurledCard

__all__ = [
    "LEAST",
    "BalanceTask",
    "BallTray",
    "Bank",
    "BentStick",
    "BookRow",
    "ClassResult",
    "ClassSheet",
    "CurledCard",
    "Cut",
    "DropTask",
    "NotchedStrip",
    "NumberQuestion",
    "Option",
    "Question",
    "StickTask",
    "Tally",
    "balance_task",
    "bank",
    "brittle_stick",
    "chocolate_bar",
    "class_result",
    "drop_task",
    "find_cut",
    "load_sheet",
    "number_question",
    "number_questions",
    "question",
    "read_bank",
    "read_sheet",
    "save_table",
    "shuffled",
    "spanning",
    "stick_task",
    "strength_of",
]
