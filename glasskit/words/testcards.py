# SPDX-License-Identifier: MIT
"""Put the test cards into words: what each test is for, its formula, limits, usual mistake."""

from collections.abc import Mapping

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
    return [*rows, ("published example", _example(card)), ("95% interval", _held(card))]


def checked(method: str) -> str:
    """Return in one line what stands beside a method's formula and how its interval holds.

    Parameters
    ----------
    method : str
        Key of `glasskit.lab.METHODS`.

    Returns
    -------
    str
        Two sentences of its test card.

    """
    [card] = [row for row in read("test_cards") if row["method"] == method]
    return f"Published example: {_example(card)}. Its 95% interval: {_held(card)}."


def _example(card: Mapping[str, str]) -> str:
    """Return a published example beside ours, or that we have seen none."""
    seen = card["example_status"]
    return card["example"] if seen == "none" else f"{card['example']} ({SURE[seen]})"


def _held(card: Mapping[str, str]) -> str:
    """Return how often the interval of a method held what was true."""
    if card["coverage"] == "none":
        return "none is given"
    sets = "20,000 simulated tests" if card["method"] else "2,000 simulated series"
    return f"held the truth in {card['coverage']}% of {sets}"
