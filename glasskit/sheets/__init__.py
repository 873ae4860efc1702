# SPDX-License-Identifier: MIT
"""Sheets to print and pictures for slides: each from one call, each a file that stands alone."""

from glasskit.sheets.page import save
from glasskit.sheets.risk import risk_assessment

__all__ = ["risk_assessment", "save"]
