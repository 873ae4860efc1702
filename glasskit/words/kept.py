# SPDX-License-Identifier: MIT
"""Say what a class kept of one thing, and whether the readings agree."""

from collections.abc import Sequence

import numpy as np

from glasskit.measured import Gathered
from glasskit.quantities import UNITS, FloatArray, System, show_number, unit

HEADS = ("what was measured", "readings", "middle", "least to most", "agreement")


def gathered_row(found: Gathered, system: System = "metric") -> tuple[str, ...]:
    """Return the cells of one thing, below `HEADS`; a unit that is not known stays.

    Examples
    --------
    >>> import numpy as np
    >>> ends = {"low": np.array([58.0, 64.0]), "high": np.array([62.0, 68.0])}
    >>> pieces = Gathered(what="pieces", unit="", values=np.array([60.0, 66.0]), **ends)
    >>> gathered_row(pieces)
    ('pieces', '2', '63.0', '60.0 to 66.0', '0 of 2 intervals hold the middle')

    """
    number = found.values.size
    symbol, numbers = _shown(found, system)
    ends = (float(numbers.min()), float(numbers.max()))
    symbol = f" {symbol}" if symbol else ""
    held = f"{found.holding} of {number} intervals hold the middle" if number > 1 else "–"
    spread = " to ".join(map(show_number, ends))
    return (
        found.what,
        str(number),
        f"{show_number(float(np.median(numbers)))}{symbol}",
        f"{spread}{symbol}" if number > 1 else "–",
        held,
    )


def _shown(found: Gathered, system: System) -> tuple[str, FloatArray]:
    """Return unit and numbers as they are shown; the table holds metric ones."""
    for kind, kept in UNITS["metric"].items():
        if kept.symbol == found.unit:
            now = unit(kind, system)
            values = [now.from_si(kept.to_si(one)) for one in found.values.tolist()]
            return now.symbol, np.array(values)
    return found.unit, found.values


def gathered_sentence(things: Sequence[Gathered]) -> str:
    """Say how many readings of how many things were kept."""
    if not things:
        return "No reading of a recording of your own is kept yet."
    number = sum(one.values.size for one in things)
    return (
        f"Readings kept: {number}; things measured: {len(things)}. "
        "Only readings of the same pane, ball and height are to be compared."
    )
