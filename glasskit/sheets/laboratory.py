# SPDX-License-Identifier: MIT
"""One page that says what a series showed, how sure it is, and what a supervisor must know."""

import datetime
from collections.abc import Mapping

from glasskit.draw.laboratory import PaperScene
from glasskit.draw.look import Look
from glasskit.draw.picture import Size, still
from glasskit.laboratory import METHODS
from glasskit.outcome import Outcome
from glasskit.quantities import System, show
from glasskit.sheets.page import filled, picture, render
from glasskit.tables import read
from glasskit.words.laboratory import budget_rows, deviations, outcome_sentence, result_rows

__all__ = ["FIELDS", "PLOT", "laboratory_report"]

FIELDS = {
    "glass": "glass and supplier's lot",
    "date": "tested on",
    "tester": "tested by",
    "conditions": "temperature and humidity",
    "rate": "stress rate",
    "checked": "checked by",
}
"""Fields of the head, by name; what is not given is a line to write on."""

PLOT = Size(9.0, 2.7, 150)
"""Size of the picture on the page."""


def laboratory_report(
    outcome: Outcome,
    fields: Mapping[str, str] | None = None,
    title: str = "Test report",
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return the report of one series.

    Parameters
    ----------
    outcome : Outcome
        From `outcome.reduce_series`.
    fields : mapping, optional
        What is known of `FIELDS`.
    title : str
        Headline.
    system : {"metric", "us"}
        Units.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML for `page.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    """
    method = METHODS[outcome.method]
    look = Look(system=system, mono=True)
    half = outcome.reduction.budget.expanded()
    rows = [
        (
            record.specimen,
            record.origin or "unknown",
            show(value, method.kind, system),
            show(width, method.kind, system, 2),
        )
        for record, value, width in zip(
            outcome.records, outcome.reduction.value, half, strict=True
        )
    ]
    sources = {row["key"]: row["text"] for row in read("references")}
    return render(
        "laboratory.html",
        on,
        title=title,
        fields=filled(FIELDS, fields),
        sentence=outcome_sentence(outcome, system),
        method=method,
        source=sources[method.reference],
        plot=picture(still(PaperScene(), outcome, look, PLOT)) if outcome.fits else "",
        fits=result_rows(outcome, system),
        budget=budget_rows(outcome),
        deviations=deviations(outcome),
        specimens=rows,
    )
