# SPDX-License-Identifier: MIT
"""A risk assessment to fill in: it prompts a competent person, it certifies nothing.

What stands on it comes from four plain tables in ``glasskit/data``: ``demos`` (which hazards
a demonstration brings), ``hazards`` (whom they reach, and the usual controls in their order),
``sheet_rules`` and ``protection`` (markings of published codes). Add a row and it is printed.
"""

import datetime
from collections.abc import Iterable, Mapping, Sequence

from glasskit.impact import throw_range
from glasskit.quantities import System, one_of, show
from glasskit.sheets.page import filled, render
from glasskit.tables import read

CONTROLS = {
    "remove": "remove",
    "contain": "contain",
    "distance": "distance",
    "guard": "guard",
    "procedure": "procedure",
    "protect": "wear",
}
FIELDS = {
    "activity": "Activity",
    "place": "Place",
    "audience": "Audience: number, ages, needs",
    "dates": "Dates and times",
    "presenter": "Presenter",
    "helper": "Helper (watches safety only)",
    "assessor": "Assessor",
    "reviewer": "Reviewer",
    "first_aider": "First-aider, and where",
    "stop_word": "Stop word",
}
PANE = ("kind", "size", "thickness", "mass", "stress or grade", "number", "edges looked at")
_SPEEDS = (5.0, 10.0, 15.0)  # [m/s], to show how the range grows; none is a measured speed
_TABLE = 0.9  # [m], height of a table


def demo_names() -> tuple[str, ...]:
    """Return the demonstrations that the tables know."""
    return tuple(row["demo"] for row in read("demos"))


def _chosen(demos: Iterable[str]) -> list[dict[str, str]]:
    known = {row["demo"]: row for row in read("demos")}
    wanted = [demos] if isinstance(demos, str) else list(demos)
    for name in wanted or [""]:
        one_of("demo", name, known)
    return [known[name] for name in dict.fromkeys(wanted)]


def hazards(demos: str | Iterable[str]) -> list[dict[str, str]]:
    """Return the hazards of some demonstrations, each once, as the tables list them.

    Parameters
    ----------
    demos : str or iterable of str
        Names from `demo_names`.

    Returns
    -------
    list of dict
        Rows of ``hazards.csv``: label, who, the controls, source and status.

    Raises
    ------
    ValueError
        If no demonstration is given or one is unknown.

    Examples
    --------
    >>> [row["hazard"] for row in hazards("scratch")]
    ['fragments', 'cuts', 'fingers', 'light', 'dust', 'etch']

    """
    keys = {key for demo in _chosen(demos) for key in demo["hazards"].split(";")}
    return [row for row in read("hazards") if row["hazard"] in keys]


def rules(demos: str | Iterable[str]) -> dict[str, list[dict[str, str]]]:
    """Return the rules for some demonstrations, by part of the sheet.

    Parameters
    ----------
    demos : str or iterable of str
        Names from `demo_names`.

    Returns
    -------
    dict of str to list of dict
        "no-go", "screen", "distance", "before", "not broken", "clear-up", "waste" and
        "emergency", each to rows with text, source and status.

    """
    names = {demo["demo"] for demo in _chosen(demos)}
    parts: dict[str, list[dict[str, str]]] = {}
    for row in read("sheet_rules"):
        if not row["demos"] or names & set(row["demos"].split(";")):
            parts.setdefault(row["part"], []).append(row)
    return parts


def risk_assessment(
    demos: str | Iterable[str],
    *,
    fields: Mapping[str, str] | None = None,
    panes: Sequence[Mapping[str, str]] = (),
    system: System = "metric",
    on: datetime.date | None = None,
) -> str:
    """Return a risk assessment to fill in, as one HTML document.

    Parameters
    ----------
    demos : str or iterable of str
        Names from `demo_names`.
    fields : mapping, optional
        Text for fields of the head, by a name of `FIELDS`; the others stay empty lines.
    panes : sequence of mapping
        Panes to be used: text by a column of `PANE`.
    system : {"metric", "us"}
        Units of computed lengths and speeds.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If no demonstration is given, or a demonstration, field or column is unknown.

    Notes
    -----
    It prompts; it does not certify. A competent person adds what the place and the people
    bring, judges what is left, and signs. Rules and markings carry their source; those not
    looked up say so.

    Examples
    --------
    >>> html = risk_assessment(["hammer"], fields={"place": "hall <2>"})
    >>> "hall &lt;2&gt;" in html
    True

    """
    for pane in panes:
        for column in pane:
            one_of("column", column, PANE)
    rows = [[str(pane.get(column, "")) for column in PANE] for pane in panes]
    rows += [[""] * len(PANE)] * max(3 - len(rows), 1)
    throws = [
        (
            show(speed, "speed", system, 2),
            show(throw_range(speed, _TABLE), "height", system, 2),
        )
        for speed in _SPEEDS
    ]
    return render(
        "risk.html",
        on,
        title="Risk assessment",
        demos=[demo["label"] for demo in _chosen(demos)],
        fields=filled(FIELDS, fields),
        columns=PANE,
        panes=rows,
        hazards=hazards(demos),
        controls=CONTROLS,
        rules=rules(demos),
        protection=read("protection"),
        throws=throws,
        table=show(_TABLE, "height", system, 2),
    )
