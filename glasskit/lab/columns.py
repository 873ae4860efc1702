# SPDX-License-Identifier: MIT
"""Read columns of numbers told apart by their units, as rigs and spreadsheets write them.

A rig calls its load what it likes; that it stands in newtons says what it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from types import MappingProxyType

import numpy as np

from glasskit.quantities import FloatArray, Unit, plain_number, unit, units_of
from glasskit.rows import Line, Trouble, cells, heading, rows, under_titles

_KEPT = {"what", "value", "unit", "file"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Columns:
    """Columns of a file, all of the same length.

    Attributes
    ----------
    values : mapping of str to ndarray
        Numbers by kind of quantity [SI].
    labels : tuple of str
        What stands in the first column, if it is none of these; else, or where it is empty,
        the number of the line.
    lines : tuple of int
        Line of the file of each entry, from 1.
    troubles : tuple of Trouble
        Lines set aside, in order.
    remarks : tuple of Line
        Lines that begin with ``#`` and were taken for remarks.
    notes : tuple of str
        Headings that are not read.
    file : str
        Name of the file; empty for a text.
    checksum : str
        SHA-256 of its bytes, of a text as UTF-8.

    """

    values: Mapping[str, FloatArray]
    labels: tuple[str, ...]
    lines: tuple[int, ...]
    troubles: tuple[Trouble, ...]
    remarks: tuple[Line, ...]
    notes: tuple[str, ...]
    file: str = ""
    checksum: str = ""

    def __post_init__(self) -> None:
        for array in self.values.values():
            array.flags.writeable = False


def parse_columns(text: str, kinds: Sequence[str], what: str = "") -> Columns:
    r"""Read columns from the text of a file, each told by its unit.

    Parameters
    ----------
    text : str
        First row the names, a unit with each or in the row below; titles above it are
        remarks. What parts the cells, which comma is a decimal one, and what is a remark: as
        in `parse_records`. For one kind also a table of kept readings, see Notes.
    kinds : sequence of str
        Kinds of quantity, keys of `glasskit.quantities.UNITS`, one column of each.
    what : str
        Which thing is read from a table of kept readings; empty: the first that fits.

    Returns
    -------
    Columns
        Numbers, and lines set aside.

    Raises
    ------
    ValueError
        If a kind is unknown, or has no column or more than one.

    Notes
    -----
    In a table with the columns ``what``, ``value``, ``unit`` and ``file``, as
    `glasskit.measured.keep_reading` writes it, each line has its own unit. One thing is read,
    `what` or that of the first line with a fitting unit, once from each file; lines of other
    things, further lines of a file, and lines without one (an invented example) are set aside.

    Examples
    --------
    >>> found = parse_columns("month, mean [MPa]\nMay, 61\nJune, ?\nJuly, 63", ("stress",))
    >>> found.values["stress"] / 1e6, found.labels, str(found.troubles[0])
    (array([61., 63.]), ('May', 'July'), "line 3: mean must be a number; got '?'")

    """
    table = rows(text)
    if not set(cells(table.first.text, table.mark)) >= _KEPT:
        table = under_titles(
            table, lambda row, below: _units_in(row, kinds) or _some_unit(below, kinds)
        )
    heads = [heading(cell) for cell in cells(table.first.text, table.mark)]
    lines = table.lines
    kept: list[Trouble] = []
    if len(kinds) == 1 and {name for name, _ in heads} >= _KEPT:
        heads, lines, kept = _one_thing(heads, lines, table.mark, kinds[0], what)
    if lines and not any(unit for _, unit in heads):
        below = cells(lines[0].text, table.mark)
        if len(below) == len(heads) and _some_unit(below, kinds):
            heads = [(name, _bare(unit)) for (name, _), unit in zip(heads, below, strict=True)]
            lines = lines[1:]
    places = {kind: _place(kind, heads) for kind in kinds}
    others = [at for at in range(len(heads)) if at not in [at for at, _ in places.values()]]
    label = 0 if 0 in others else None
    read: dict[str, list[float]] = {kind: [] for kind in kinds}
    labels, at_lines, troubles = [], [], []
    for line in lines:
        try:
            found = cells(line.text, table.mark)
            if len(found) != len(heads):
                raise ValueError(f"line must have {len(heads)} cells; got {len(found)}")
            row = {
                kind: unit.to_si(_number(heads[at][0], found[at]))
                for kind, (at, unit) in places.items()
            }
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
            continue
        for kind, value in row.items():
            read[kind].append(value)
        labels.append((found[label] if label is not None else "") or str(line.number))
        at_lines.append(line.number)
    return Columns(
        values=MappingProxyType({kind: np.array(values) for kind, values in read.items()}),
        labels=tuple(labels),
        lines=tuple(at_lines),
        troubles=tuple(sorted([*kept, *troubles], key=lambda one: one.line)),
        remarks=table.remarks,
        notes=tuple(heads[at][0] for at in others if at != label),
        checksum=sha256(text.encode()).hexdigest(),
    )


def _one_thing(
    heads: list[tuple[str, str]], lines: Sequence[Line], mark: str, kind: str, what: str
) -> tuple[list[tuple[str, str]], tuple[Line, ...], list[Trouble]]:
    """Return a table of kept readings as one of a single thing with a fitting unit.

    Only the unit in which such a reading is kept counts: a stiffness in GPa is no stress.
    """
    symbol = unit(kind).symbol
    names = [name for name, _ in heads]
    used, troubles = [], []
    files: dict[str, int] = {}
    for line in lines:
        try:
            row = dict(zip(names, cells(line.text, mark), strict=False))
            if row.get("unit") != symbol:
                raise ValueError(f"unit must be {symbol}; got {row.get('unit', '')!r}")
            if not row.get("file"):
                raise ValueError("file must be named; this is of the invented example")
            what = what or row["what"]
            if row["what"] != what:
                raise ValueError(f"what must be {what!r} here; got {row['what']!r}")
            if row["file"] in files:  # the same piece read twice is one piece
                at = files[row["file"]]
                raise ValueError(f"file must stand once; {row['file']!r} is on line {at} too")
            files[row["file"]] = line.number
            used.append(line)
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    headed = [(name, symbol if name == "value" else "") for name in names]
    return headed, tuple(used), troubles


def _bare(cell: str) -> str:
    """Return a unit without what is put around it."""
    return cell.strip("[]() ").replace("μ", "µ")


def _units_in(row: Sequence[str], kinds: Sequence[str]) -> bool:
    """Tell whether the names of a row tell a unit for each kind."""
    return _some_unit([heading(cell)[1] for cell in row], kinds)


def _some_unit(row: Sequence[str], kinds: Sequence[str]) -> bool:
    """Tell whether a row below the names holds a unit for each kind."""
    symbols = {_bare(cell) for cell in row} - {""}
    return all(any(symbol in units_of(kind) for symbol in symbols) for kind in kinds)


def _place(kind: str, heads: Sequence[tuple[str, str]]) -> tuple[int, Unit]:
    """Return which column has a unit of this kind, and the unit."""
    fitting = units_of(kind)
    found = [(at, fitting[unit]) for at, (_, unit) in enumerate(heads) if unit in fitting]
    if len(found) == 1:
        return found[0]
    units, kind = ", ".join(filter(None, fitting)), kind.replace("_", " ")
    if not found:
        raise ValueError(f"header must have a column of {kind} with a unit among {units}")
    names = ", ".join(heads[at][0] for at, _ in found)
    raise ValueError(f"header must have one column of {kind}; got {names}: leave one")


def _number(name: str, cell: str) -> float:
    try:
        value = plain_number(cell)
    except ValueError:
        raise ValueError(f"{name} must be a number; got {cell!r}") from None
    if not np.isfinite(value):
        raise ValueError(f"{name} must be finite; got {cell}")
    return value
