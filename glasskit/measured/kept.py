# SPDX-License-Identifier: MIT
"""Readings that are kept, a line each in a table that a spreadsheet opens.

A reading is added and never changed: who reads the table sees what was measured when. The
table is the kit's own method; its columns are plain words.
"""

import csv
import io
import os
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from glasskit.files import update
from glasskit.quantities import (
    FloatArray,
    finite,
    of_type,
    plain_number,
    read_only,
    require,
    unit,
)
from glasskit.rows import Trouble, cells, rows, safe_cell

__all__ = ["Gathered", "Reading", "gather_readings", "keep_reading"]

_COLUMNS = ("day", "what", "value", "low", "high", "unit", "file", "remark")
_DIGITS = 6


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One measured number, with the interval that holds it 95 times in 100.

    Attributes
    ----------
    what : str
        What was measured, such as "height of the first fall".
    kind : str
        Kind of quantity, a key of `glasskit.quantities.UNITS`.
    value, low, high : float
        The number and the ends of its interval [SI].
    file : str
        Name of the recording; empty for the invented example.
    remark : str
        What else must be known, such as what was corrected by hand.

    Raises
    ------
    ValueError
        If the numbers are not finite or not in order, or the kind is unknown.

    Examples
    --------
    >>> Reading(what="first fall", kind="height", value=1.02, low=1.0, high=1.04).kind
    'height'

    """

    what: str
    kind: str
    value: float
    low: float
    high: float
    file: str = ""
    remark: str = ""

    def __post_init__(self) -> None:
        """Check that the interval holds the number."""
        unit(self.kind)
        for name in ("value", "low", "high"):
            finite(name, getattr(self, name))
        require(self.low <= self.value, "low", self.low, f"be at most value, {self.value:g}")
        require(
            self.high >= self.value, "high", self.high, f"be at least value, {self.value:g}"
        )


def keep_reading(path: str | os.PathLike[str], reading: Reading, day: date) -> Path:
    """Add a reading to a table, below what stands there.

    Parameters
    ----------
    path : path
        The table, a CSV; made, with its folder, if it is not there.
    reading : Reading
        What to keep.
    day : date
        When it was measured.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    TypeError
        If `reading` is none.
    OSError
        If it cannot be written; it is then as it was.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> fall = Reading(what="first fall", kind="height", value=1.02, low=1.0, high=1.04)
    >>> with TemporaryDirectory() as folder:
    ...     print(keep_reading(f"{folder}/kept.csv", fall, date(2030, 5, 31)).read_text())
    day,what,value,low,high,unit,file,remark
    2030-05-31,first fall,1.02,1,1.04,m,,
    <BLANKLINE>

    """
    of_type("reading", reading, Reading)
    shown = unit(reading.kind)
    numbers = (
        f"{shown.from_si(number):.{_DIGITS}g}"
        for number in (reading.value, reading.low, reading.high)
    )
    words = (safe_cell(" ".join(text.split())) for text in (reading.file, reading.remark))

    def grown(old: bytes | None) -> bytes:
        rows = io.StringIO(newline="")
        writer = csv.writer(rows, lineterminator="\n")
        if not old:
            writer.writerow(_COLUMNS)
        elif not old.endswith(b"\n"):
            rows.write("\n")
        writer.writerow(
            [day.isoformat(), safe_cell(reading.what), *numbers, shown.symbol, *words]
        )
        return (old or b"") + rows.getvalue().encode()

    Path(path).parent.mkdir(parents=True, exist_ok=True)
    return update(path, grown)


@dataclass(frozen=True, kw_only=True, eq=False)
class Gathered:
    """Kept readings of one thing, as a class brings them together.

    Attributes
    ----------
    what : str
        What was measured.
    unit : str
        Unit of the numbers, as it stands in the table; empty for a pure number.
    values, low, high : ndarray
        The numbers and the ends of their intervals [`unit`].

    """

    what: str
    unit: str
    values: FloatArray
    low: FloatArray
    high: FloatArray

    @property
    def middle(self) -> float:
        """The median [`unit`]: one slip does not move it far."""
        return float(np.median(self.values))

    @property
    def holding(self) -> int:
        """How many intervals hold the median."""
        return int(np.sum((self.low <= self.middle) & (self.middle <= self.high)))


def gather_readings(text: str) -> tuple[tuple[Gathered, ...], tuple[Trouble, ...]]:
    r"""Bring together what a table holds of each thing that was measured.

    Parameters
    ----------
    text : str
        The table that `keep_reading` writes, or what a spreadsheet made of it.

    Returns
    -------
    tuple of Gathered
        One for each thing and unit, in the order in which they were kept.
    tuple of Trouble
        Lines set aside: those that cannot be read, and those of an invented example.

    Raises
    ------
    ValueError
        If the first row does not name the columns of such a table.

    Examples
    --------
    >>> head = "day,what,value,low,high,unit,file,remark"
    >>> lines = [f"2030-05-31,pieces,{n},{n - 2},{n + 2},,pane.jpg," for n in (60, 61, 66)]
    >>> [pieces], troubles = gather_readings("\n".join([head, *lines]))
    >>> pieces.middle, pieces.holding
    (61.0, 2)

    """
    table = rows(text)
    heads = cells(table.first.text, table.mark)
    missing = ", ".join(name for name in _COLUMNS if name not in heads)
    if missing:
        raise ValueError(f"header must name the columns of kept readings; none is {missing}")
    found: dict[tuple[str, str], list[tuple[float, ...]]] = {}
    troubles = []
    for line in table.lines:
        try:
            row = cells(line.text, table.mark)
            if len(row) != len(heads):
                raise ValueError(f"line must have {len(heads)} cells; got {len(row)}")
            told = dict(zip(heads, row, strict=True))
            if not told["file"]:
                raise ValueError("file must be named; this is of the invented example")
            ends = tuple(plain_number(told[name]) for name in ("value", "low", "high"))
            finite("value, low and high", ends)
            found.setdefault((told["what"], told["unit"]), []).append(ends)
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    gathered = []
    for (what, symbol), numbers in found.items():
        values, low, high = read_only(*np.array(numbers).T)
        gathered.append(Gathered(what=what, unit=symbol, values=values, low=low, high=high))
    return tuple(gathered), tuple(troubles)
