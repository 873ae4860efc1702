# SPDX-License-Identifier: MIT
"""Put the test cards into words: what each test is for, its formula, limits, usual mistake."""

from glasskit.tables import read
from glasskit.words.tables import SURE

_LABELS = {
    "purpose": "what for",
    "formula": "formula",
    "limits": "holds where",
    "specimens": "how many",
    "record": "write down",
    "mistake": "usual mistake",
}


def card_names() -> tuple[str, ...]:
    """Return the names of all test cards, in the order of the list."""
    return tuple(row["test"] for row in read("test_cards"))


def card_rows(name: str) -> list[tuple[str, str]]:
    """Return label and text of each line of one test card."""
    cards = {row["test"]: row for row in read("test_cards")}
    if name not in cards:
        raise ValueError(f"name must be one of {', '.join(cards)}; got {name!r}")
    card = cards[name]
    rows = [(label, card[column]) for column, label in _LABELS.items()]
    rows.insert(1, ("standard", f"{card['standard']} ({SURE[card['status']]})"))
    return rows
