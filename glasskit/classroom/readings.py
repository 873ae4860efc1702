# SPDX-License-Identifier: MIT
"""Read what a class measured on bent sticks: pasted, typed or from a file, row by row.

The first row names the columns with their units: a load (mass or force), the span between
the supports, and the diameter of a rod or the width and height of a bar. Tabs, semicolons or
commas part the entries; numbers may have a decimal comma. No row is lost and no number is
changed: one that cannot be read or looks like a slip is set aside with a sentence that says
why, until somebody has corrected it or has written ``!`` after the number to say that it is
right.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType

import numpy as np

from glasskit.quantities import GRAVITY, plain_number, show_number, units_of
from glasskit.rows import Line, cells, load, rows

_LENGTHS = {symbol: units_of("length")[symbol].scale for symbol in ("mm", "cm", "m", "in")}
_LOADS = {
    **{symbol: units_of("mass")[symbol].scale * GRAVITY for symbol in ("g", "kg", "oz", "lb")},
    **{symbol: units_of("force")[symbol].scale for symbol in ("N", "kN", "lbf")},
}
_NAMES = {
    **dict.fromkeys(("load", "mass", "force", "weight"), "load"),
    "span": "span",
    **dict.fromkeys(("diameter", "dia"), "diameter"),
    **dict.fromkeys(("width", "breadth"), "width"),
    **dict.fromkeys(("height", "thickness", "depth"), "height"),
}
# Ends of what a class can bend [SI], and how many times off the middle of its column a number
# may be before it looks like a slip. Loads scatter, calliper readings hardly do.
_SENSIBLE = {
    "load": (1e-3, 1e3, 6.0),
    "span": (5e-3, 2.0, 4.0),
    "diameter": (1e-4, 5e-2, 2.5),
    "width": (5e-4, 0.5, 2.5),
    "height": (1e-4, 0.1, 2.5),
}
_PEERS = 5  # readings that make the middle of a column mean something
_EXAMPLE = "mass / g; span / mm; diameter / mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One row as it was typed, and what was made of it.

    Attributes
    ----------
    line : int
        Line of the text, counted from 1.
    text : str
        The row as typed.
    status : str
        "used", "doubtful" (readable, but looks like a slip: set aside), "unreadable", or
        "blank" for remarks and empty lines, see `rows.Rows`.
    note : str
        One sentence for each fault, empty where there is none.
    values : mapping of str to float
        What could be read: "load" [N], "span", "diameter", "width", "height" [m].
    vouched : set of str
        The values that stand with a ``!``.
    labels : mapping of str to str
        What stands in the other columns, by their headings: who, which kind.

    """

    line: int
    text: str
    status: str
    note: str
    values: Mapping[str, float]
    vouched: frozenset[str] = frozenset()
    labels: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassSheet:
    """All rows of a class.

    Attributes
    ----------
    header : str
        The row that names the columns, as typed.
    rod : bool
        Whether the sticks are round; bars are flat.
    rows : tuple of Reading
        Every row but the header, in the order typed.

    """

    header: str
    rod: bool
    rows: tuple[Reading, ...]

    def with_status(self, status: str) -> tuple[Reading, ...]:
        """Return the rows of one status, in the order typed."""
        return tuple(row for row in self.rows if row.status == status)

    @property
    def halves(self) -> tuple[str, dict[str, tuple[Reading, ...]]] | None:
        """A column with two different words in it, and the rows used with each; or None."""
        used = self.with_status("used")
        for heading in dict.fromkeys(name for row in used for name in row.labels):
            words = [row.labels.get(heading, "").lower() for row in used]
            kinds = dict.fromkeys(words)
            if len(kinds) == 2 and "" not in kinds:
                return heading, {
                    kind: tuple(
                        row for row, word in zip(used, words, strict=True) if word == kind
                    )
                    for kind in kinds
                }
        return None

    @property
    def to_check(self) -> tuple[Reading, ...]:
        """Rows set aside, in the order typed."""
        return tuple(row for row in self.rows if row.note)


@dataclass(frozen=True, slots=True)
class _Column:
    place: int
    heading: str
    quantity: str
    unit: str

    @property
    def units(self) -> dict[str, float]:
        return _LOADS if self.quantity == "load" else _LENGTHS


def load_sheet(path: str | Path) -> ClassSheet:
    r"""Read a class's file; see `read_sheet`.

    Parameters
    ----------
    path : path
        CSV or text as a spreadsheet writes it, any usual encoding.

    Returns
    -------
    ClassSheet
        Every row, used or set aside with a sentence.

    Raises
    ------
    ValueError
        If it is no text or too large, or the first row does not name the columns with their
        units.
    OSError
        If the file cannot be read.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder) / "class.csv"
    ...     _ = path.write_text("mass / g; span / mm; diameter / mm\n60; 100; 1.8")
    ...     sheet = load_sheet(path)
    >>> len(sheet.rows)
    1

    """
    return read_sheet(load(path))


def read_sheet(text: str) -> ClassSheet:
    r"""Read a class's rows, the first of which names the columns.

    Parameters
    ----------
    text : str
        As pasted. Units of load g, kg, oz, lb, N, kN, lbf; of length mm, cm, m, in. Other
        columns (a name, a remark) are kept; one with two different words in it parts the
        sticks into two groups. Remarks begin with ``#`` and a
        blank.

    Returns
    -------
    ClassSheet
        Every row, good or bad.

    Raises
    ------
    ValueError
        If the first row does not name the columns with their units.

    Notes
    -----
    A number looks like a slip if it lies far from the middle of its column (a factor of 2.5
    for width, height and diameter, 4 for the span, 6 for the load, given five readings or
    more), or outside what a class can bend. A slip within these goes unseen, and a column
    that is wrong all through is seen only by the second rule.

    Examples
    --------
    >>> typed = ["mass / g; span / mm; diameter / mm", "58,5; 100; 1,8", "6o; 100; 1,8"]
    >>> sheet = read_sheet("\n".join(typed))
    >>> [row.status for row in sheet.rows]
    ['used', 'unreadable']
    >>> sheet.to_check[0].note
    'load: “6o” is not a number; is the letter o meant as a zero?'

    """
    try:
        table = rows(text)
    except ValueError:
        raise ValueError(f"the first row must name the columns, such as {_EXAMPLE}") from None
    headings = _entries(table.first, table.mark)
    columns = _columns(headings)
    read = [_reading(line, table.mark, headings, columns) for line in table.lines]
    read += [_blank(line) for line in (*table.remarks, *table.blanks)]
    read.sort(key=lambda row: row.line)
    rod = any(column.quantity == "diameter" for column in columns)
    return ClassSheet(header=table.first.text, rod=rod, rows=tuple(_doubted(read, columns)))


def _blank(line: Line) -> Reading:
    return Reading(line=line.number, text=line.text, status="blank", note="", values={})


def _entries(line: Line, mark: str) -> Sequence[str]:
    """Return the entries of a row; a quotation mark left open is a letter like others here."""
    try:
        return cells(line.text, mark)
    except ValueError:
        return [part.strip() for part in line.text.split(mark)]


def _columns(headings: Sequence[str]) -> list[_Column]:
    """Find the columns that are needed, or say what is missing."""
    found: dict[str, _Column] = {}
    for place, heading in enumerate(headings):
        words = re.findall(r"[^\W\d_]+", heading)
        quantity = next((_NAMES[w.lower()] for w in words if w.lower() in _NAMES), None)
        if quantity is None:
            continue
        column = _Column(place, heading, quantity, "")
        by_name = {unit.lower(): unit for unit in column.units}
        if words[-1].lower() not in by_name:
            listed = ", ".join(column.units)
            raise ValueError(f"the heading “{heading}” must end in a unit: one of {listed}")
        if quantity in found:
            both = f"“{found[quantity].heading}” and “{heading}”"
            raise ValueError(f"two columns give the {quantity}: {both}")
        found[quantity] = replace(column, unit=by_name[words[-1].lower()])
    flat = {"width", "height"}
    size = flat if flat & found.keys() and "diameter" not in found else {"diameter"}
    missing = sorted(({"load", "span"} | size) - found.keys())
    if missing:
        raise ValueError(
            f"the first row must name the columns, such as {_EXAMPLE}; "
            f"there is none for {' and '.join(missing)}"
        )
    return [column for name, column in found.items() if name in {"load", "span"} | size]


def _reading(
    line: Line, mark: str, headings: Sequence[str], columns: Sequence[_Column]
) -> Reading:
    entries, width = _entries(line, mark), len(headings)
    read = {column.place for column in columns}
    labels = {
        heading: entry
        for place, (heading, entry) in enumerate(zip(headings, entries, strict=False))
        if place not in read and entry
    }
    notes: list[str] = []
    if len(entries) > width and any(entries[width:]):
        entries = []
        advice = "; with decimal commas part the entries by semicolons" if mark == "," else ""
        notes.append(f"more entries than the {width} columns of the first row{advice}.")
    values, foreign, vouched = {}, [], set()
    for column in columns if entries else ():
        entry = entries[column.place] if column.place < len(entries) else ""
        try:
            value, unit, sure = _number(entry, column)
        except ValueError as fault:
            notes.append(f"{column.quantity}: {fault}")
            continue
        values[column.quantity] = value * column.units[unit]
        if sure:
            vouched.add(column.quantity)
        elif unit != column.unit:
            foreign.append(
                f"{column.quantity}: “{entry}” is not in {column.unit}, the column's unit."
            )
    status = "unreadable" if notes else "doubtful" if foreign else "used"
    note = " ".join([*notes, *foreign])
    return Reading(
        line=line.number,
        text=line.text,
        status=status,
        note=note,
        values=MappingProxyType(values),
        vouched=frozenset(vouched),
        labels=MappingProxyType(labels),
    )


def _number(entry: str, column: _Column) -> tuple[float, str, bool]:
    """Return the number of an entry, its unit, and whether somebody vouches for it."""
    if not entry:
        raise ValueError("nothing is written here.")
    sure = entry.endswith("!")
    bare = entry.rstrip("! ").replace("−", "-")
    by_length = sorted(column.units, key=len, reverse=True)
    unit = next((u for u in by_length if bare.lower().endswith(u.lower())), None)
    digits = bare[: -len(unit)].strip() if unit else bare
    try:
        value = plain_number(digits)
    except ValueError:
        raise ValueError(f"“{entry}” is not a number{_guess(digits)}") from None
    if not 0 < value < np.inf:
        raise ValueError(f"“{entry}” is not above zero.")
    return value, unit or column.unit, sure


def _guess(digits: str) -> str:
    letters = {letter for letter in digits if letter.isalpha()}
    if letters and letters <= set("oO"):
        return f"; is the letter {letters.pop()} meant as a zero?"
    if letters and letters <= set("lI"):
        return f"; is the letter {letters.pop()} meant as a one?"
    if "." in digits and "," in digits:
        return ": it has both a point and a comma."
    return "."


def _doubted(rows: Sequence[Reading], columns: Sequence[_Column]) -> Iterable[Reading]:
    """Set aside the rows with numbers that look like slips."""
    middles = {}
    for column in columns:
        known = [row.values[column.quantity] for row in rows if column.quantity in row.values]
        middles[column.quantity] = float(np.median(known)) if len(known) >= _PEERS else None
    for row in rows:
        doubts = [
            doubt
            for column in columns
            if (doubt := _doubt(row, column, middles[column.quantity]))
        ]
        if not doubts:
            yield row
            continue
        status = "doubtful" if row.status == "used" else row.status
        yield replace(row, status=status, note=" ".join([row.note, *doubts]).strip())


def _doubt(row: Reading, column: _Column, middle: float | None) -> str:
    """Return a sentence on a number that looks like a slip, or nothing."""
    value = row.values.get(column.quantity)
    if value is None or column.quantity in row.vouched:
        return ""
    low, high, most = _SENSIBLE[column.quantity]
    far = middle is not None and not 1 / most < value / middle < most
    if not far and low <= value <= high:
        return ""
    scale = column.units[column.unit]
    typed = f"{column.quantity}: {show_number(value / scale)} {column.unit}"
    if not far or middle is None:
        meant = _meant(value / scale, column, np.sqrt(low * high), 30)
        return f"{typed} is hardly possible; {meant}"
    times = show_number(max(value / middle, middle / value), 2)
    side = "more" if value > middle else "less"
    meant = _meant(value / scale, column, middle, 3)
    return f"{typed} is {times} times {side} than the middle of the class; {meant}"


def _meant(typed: float, column: _Column, middle: float, most: float) -> str:
    """Guess which unit was meant."""
    off = {
        unit: abs(np.log(typed * scale / middle))
        for unit, scale in column.units.items()
        if unit != column.unit
    }
    best = min(off, key=lambda unit: off[unit])
    if off[best] < np.log(most):
        return f"was it measured in {best}?"
    return "is a digit or the decimal point out of place?"
