# SPDX-License-Identifier: MIT
"""Say what a class kept of one thing, and whether the readings agree."""

from collections.abc import Sequence

from glasskit.measured import Gathered
from glasskit.quantities import show_number

HEADS = ("what was measured", "readings", "middle", "least to most", "agreement")


def gathered_row(found: Gathered) -> tuple[str, ...]:
    """Return the cells of one thing, below `HEADS`.

    Examples
    --------
    >>> import numpy as np
    >>> ends = {"low": np.array([58.0, 64.0]), "high": np.array([62.0, 68.0])}
    >>> pieces = Gathered(what="pieces", unit="", values=np.array([60.0, 66.0]), **ends)
    >>> gathered_row(pieces)
    ('pieces', '2', '63.0', '60.0 to 66.0', '0 of 2 intervals hold the middle')

    """
    number = found.values.size
    ends = (float(found.values.min()), float(found.values.max()))
    symbol = f" {found.unit}" if found.unit else ""
    held = f"{found.holding} of {number} intervals hold the middle" if number > 1 else "–"
    spread = " to ".join(map(show_number, ends))
    return (
        found.what,
        str(number),
        f"{show_number(found.middle)}{symbol}",
        f"{spread}{symbol}" if number > 1 else "–",
        held,
    )


def gathered_sentence(things: Sequence[Gathered]) -> str:
    """Say how many readings of how many things were kept."""
    if not things:
        return "No reading of a recording of your own is kept yet."
    number = sum(one.values.size for one in things)
    return (
        f"Readings kept: {number}; things measured: {len(things)}. "
        "Only readings of the same pane, ball and height are to be compared."
    )
