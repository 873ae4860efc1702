# SPDX-License-Identifier: MIT
"""Sheets to print and pictures for slides: each from one call, standing alone."""

from glasskit.sheets.cards import question_cards
from glasskit.sheets.film import closing_crack_film, fall_film, film
from glasskit.sheets.laboratory import laboratory_report
from glasskit.sheets.page import save
from glasskit.sheets.plan import plan_sheet
from glasskit.sheets.risk import risk_assessment
from glasskit.sheets.slides import slides

__all__ = [
    "closing_crack_film",
    "fall_film",
    "film",
    "laboratory_report",
    "plan_sheet",
    "question_cards",
    "risk_assessment",
    "save",
    "slides",
]
