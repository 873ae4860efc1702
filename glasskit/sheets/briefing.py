# SPDX-License-Identifier: MIT
"""Cards in large type for the day: what to do when something goes wrong, and who does it.

What stands on them comes from ``glasskit/data/briefing.csv``. They remind trained people; they
train nobody.
"""

import datetime
from collections.abc import Mapping

from glasskit.sheets.page import filled, render
from glasskit.tables import read

FIELDS = {
    "stop_word": "Stop word",
    "number": "Emergency number",
    "address": "Address to tell them",
    "first_aider": "First-aider, and where",
    "kit": "First-aid kit and eyewash",
    "exits": "Exits, and where to meet",
}
"""Fields of each card, by name; what is not given is a line to write on."""

_TITLES = {
    "emergency": "Presenter: when something goes wrong",
    "stewards": "Stewards",
    "first-aider": "First-aider",
}


def briefing_cards(
    fields: Mapping[str, str] | None = None, on: datetime.date | None = None
) -> str:
    """Return cards for presenter, stewards and first-aider, one page each, as HTML.

    Parameters
    ----------
    fields : mapping, optional
        Text by a name of `FIELDS`; the others stay empty lines.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If a field is unknown.

    Examples
    --------
    >>> briefing_cards({"stop_word": "Stop"}).count("<section")
    3

    """
    rows = read("briefing")
    cards = [
        (title, [row for row in rows if row["card"] == name])
        for name, title in _TITLES.items()
    ]
    return render(
        "briefing.html",
        on,
        title="Cards for the day",
        cards=cards,
        fields=filled(FIELDS, fields),
    )
