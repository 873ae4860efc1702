# SPDX-License-Identifier: MIT
"""Sheets to print and pictures for slides: each from one call, standing alone."""

from glasskit.sheets.briefing import briefing_cards
from glasskit.sheets.cards import question_cards
from glasskit.sheets.film import (
    both_film,
    closing_crack_film,
    fall_film,
    film,
    slow_motion_film,
)
from glasskit.sheets.lab import (
    chart_report,
    comparison_report,
    laboratory_report,
    laboratory_safety,
)
from glasskit.sheets.lesson import (
    answer_key,
    exit_tickets,
    glossary_page,
    lesson_hazards,
    lesson_pack,
    lesson_plan,
    pupils_page,
    worksheets,
    worksheets_for_all,
)
from glasskit.sheets.page import save
from glasskit.sheets.plan import plan_sheet
from glasskit.sheets.risk import risk_assessment
from glasskit.sheets.slides import slides

__all__ = [
    "answer_key",
    "both_film",
    "briefing_cards",
    "chart_report",
    "closing_crack_film",
    "comparison_report",
    "exit_tickets",
    "fall_film",
    "film",
    "glossary_page",
    "laboratory_report",
    "laboratory_safety",
    "lesson_hazards",
    "lesson_pack",
    "lesson_plan",
    "plan_sheet",
    "pupils_page",
    "question_cards",
    "risk_assessment",
    "save",
    "slides",
    "slow_motion_film",
    "worksheets",
    "worksheets_for_all",
]
