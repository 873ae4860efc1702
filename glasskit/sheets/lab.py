# SPDX-License-Identifier: MIT
"""Pages of the laboratory: what a series showed and how sure that is; what can hurt."""

import datetime
from collections.abc import Mapping
from typing import Any

from glasskit.draw.lab import ChartScene, LotsScene, PaperScene
from glasskit.draw.look import Look
from glasskit.draw.picture import Size, still
from glasskit.lab import METHODS, Columns, Comparison, ControlChart, Outcome
from glasskit.quantities import System
from glasskit.sheets.page import filled, picture, render
from glasskit.tables import read, standing
from glasskit.words.lab import (
    budget_rows,
    chart_numbers,
    chart_rows,
    chart_sentence,
    chart_source,
    comparison_doubts,
    comparison_rows,
    comparison_sentence,
    deviations,
    outcome_sentence,
    provenance,
    result_rows,
    specimen_table,
    stated_rows,
)
from glasskit.words.testcards import checked

FIELDS = {
    "glass": "glass and supplier's lot",
    "date": "tested on",
    "tester": "tested by",
    "conditions": "temperature and humidity",
    "rate": "stress rate",
    "planned": "specimens planned",
    "checked": "checked by",
}
"""Fields of the head, by name; what is not given is a line to write on."""

PLOT = Size(9.0, 2.7, 150)
"""Size of the picture on the page."""

PAIR = Size(9.0, 4.0, 150)
"""Size of the picture of two lots."""


def laboratory_report(
    outcome: Outcome,
    fields: Mapping[str, str] | None = None,
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return the report of one series.

    Parameters
    ----------
    outcome : Outcome
        From `glasskit.lab.reduce_series`.
    fields : mapping, optional
        What is known of `FIELDS`.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    look = Look(system=system, mono=True)
    return render(
        "laboratory.html",
        on,
        title="Test report",
        fields=filled(FIELDS, fields),
        method=METHODS[outcome.method],
        checked=checked(outcome.method),
        source=_source(outcome),
        plot=picture(still(PaperScene(), outcome, look, PLOT)) if outcome.fits else "",
        budget=budget_rows(outcome),
        **_series(outcome, system),
    )


def comparison_report(
    comparison: Comparison,
    fields: Mapping[str, str] | None = None,
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return the report of two lots: ratios with intervals, and each lot with its troubles.

    Parameters
    ----------
    comparison : Comparison
        From `glasskit.lab.compare`.
    fields : mapping, optional
        What is known of `FIELDS`.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    look = Look(system=system, mono=True)
    lots = zip(comparison.names, (comparison.first, comparison.second), strict=True)
    plot = picture(still(LotsScene(), comparison, look, PAIR)) if comparison.ratios else ""
    return render(
        "laboratory_comparison.html",
        on,
        title="Comparison of two lots",
        fields=filled(FIELDS, fields),
        sentence=comparison_sentence(comparison, system),
        method=METHODS[comparison.first.method],
        checked=checked(comparison.first.method),
        source=_source(comparison.first),
        plot=plot,
        ratios=comparison_rows(comparison),
        doubts=comparison_doubts(comparison, system),
        lots=[{"name": name, **_series(lot, system)} for name, lot in lots],
    )


CHART_FIELDS = {
    "reference": "reference lot",
    "rig": "rig and method",
    "kept_by": "kept by",
    "action": "what was done about a signal",
    "checked": "checked by",
}
"""Fields of `chart_report`, by name; what is not given is a line to write on."""


def chart_report(
    chart: ControlChart,
    columns: Columns,
    fields: Mapping[str, str] | None = None,
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return the control chart of a reference lot, to print and hang at the rig.

    Parameters
    ----------
    chart : ControlChart
        From `glasskit.lab.control_chart`.
    columns : Columns
        What it was made of, for the name of the file and what was set aside.
    fields : mapping, optional
        What is known of `CHART_FIELDS`.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    look = Look(system=system, mono=True)
    return render(
        "laboratory_chart.html",
        on,
        title="Control chart",
        fields=filled(CHART_FIELDS, fields),
        sentence=chart_sentence(chart, system),
        plot=picture(still(ChartScene(), chart, look, PAIR)),
        numbers=chart_numbers(chart, system),
        source=chart_source(columns),
        rows=chart_rows(chart, system),
    )


def _source(outcome: Outcome) -> str:
    """Return the work that the method follows."""
    sources = {row["key"]: row["text"] for row in read("references")}
    return sources[METHODS[outcome.method].reference]


def _series(outcome: Outcome, system: System) -> dict[str, Any]:
    """Return what a page says of one series, and from what it can be reduced again."""
    heads, rows = specimen_table(outcome, system)
    return {
        "sentence": outcome_sentence(outcome, system),
        "fits": result_rows(outcome, system),
        "deviations": deviations(outcome),
        "provenance": provenance(outcome),
        "stated": stated_rows(outcome, system),
        "heads": heads,
        "specimens": rows,
    }


SAFETY_FIELDS = {
    "laboratory": "laboratory",
    "supervisor": "supervisor",
    "number": "emergency number, address to tell",
    "first_aider": "first-aider, and where",
    "eyewash": "eyewash and shower",
    "kit": "first-aid kit",
    "fire": "extinguisher, alarm, way out",
    "bin": "sharps bin",
    "sheets": "safety data sheets",
    "heat": "who may use furnace and salt bath",
}
"""Fields of `laboratory_safety`, by name; what is not given is a line to write on."""


def laboratory_safety(
    fields: Mapping[str, str] | None = None, on: datetime.date | None = None
) -> str:
    """Return the first page of a newcomer: what can hurt in a glass laboratory, to fill in.

    Parameters
    ----------
    fields : mapping, optional
        Text by a name of `SAFETY_FIELDS`; the others stay empty lines.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `glasskit.sheets.save`; prompts from ``glasskit/data/lab_hazards.csv``.

    Raises
    ------
    ValueError
        If a field is unknown.

    Examples
    --------
    >>> "Hydrofluoric acid" in laboratory_safety()
    True

    """
    return render(
        "laboratory_safety.html",
        on,
        title="Safety in the glass laboratory",
        fields=filled(SAFETY_FIELDS, fields),
        hazards=read("lab_hazards"),
        hurt=[standing(key) for key in ("first-aider", "eye", "splash", "cut", "burn")],
    )
