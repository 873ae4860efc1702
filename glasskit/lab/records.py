# SPDX-License-Identifier: MIT
"""Read specimens from a tidy CSV: units in the header, one line a specimen, nothing lost.

The header names each reading with its unit, such as ``thickness [mm]``. The columns
``specimen``, ``method`` and ``origin`` are words; the others are readings of
`laboratory.METHODS`. A line that cannot be trusted is set aside with a sentence that says why;
its text is kept, so that everything in the file is either a record or on that list.
"""

import csv
import os
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from glasskit.lab.reducing import METHODS, reduce
from glasskit.quantities import one_of

__all__ = ["Record", "Series", "Trouble", "parse_records", "read_records"]

_WORDS = ("specimen", "method", "origin", "note")
_DOUBT = 3.0  # times the median of its like, from which a size is doubtful
_ANY_SIGN = ("retardation", "surface_compression", "tilt")
_FORCE_DOUBT = 10.0  # the same for what scatters with the strength

_UNITS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "m": ("length", 1.0),
        "cm": ("length", 1e-2),
        "mm": ("length", 1e-3),
        "µm": ("length", 1e-6),
        "um": ("length", 1e-6),
        "nm": ("length", 1e-9),
        "in": ("length", 0.0254),
        "mil": ("length", 25.4e-6),
        "N": ("force", 1.0),
        "kN": ("force", 1e3),
        "gf": ("force", 9.80665e-3),
        "kgf": ("force", 9.80665),
        "lbf": ("force", 4.4482216152605),
        "Pa": ("stress", 1.0),
        "MPa": ("stress", 1e6),
        "GPa": ("stress", 1e9),
        "psi": ("stress", 6894.757293168),
        "ksi": ("stress", 6894757.293168),
        "MPa√m": ("toughness", 1e6),
        "MPa m^0.5": ("toughness", 1e6),
        "°": ("angle", np.pi / 180),
        "deg": ("angle", np.pi / 180),
        "rad": ("angle", 1.0),
        "1/TPa": ("stress_optic", 1e-12),
        "-": ("number", 1.0),
        "1": ("number", 1.0),
    }
)
_DIMENSIONS = {
    "thickness": "length",
    "depth": "length",
    "nanometre": "length",
    "stiffness": "stress",
}


def _dimension(kind: str) -> str:
    return _DIMENSIONS.get(kind, kind)


_FITTING: dict[str, set[str]] = {}  # a constant is of another kind from method to method
for _method in METHODS.values():
    for _name, _reading in _method.readings.items():
        _FITTING.setdefault(_name, set()).add(_dimension(_reading.kind))


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One specimen as read.

    Attributes
    ----------
    line : int
        Line of the file, the header being 1.
    specimen, method, origin, note : str
        Its name, a key of `laboratory.METHODS`, where it began to break (empty if unknown),
        and what else was written.
    readings : mapping of str to float
        Readings by name [SI].

    """

    line: int
    specimen: str
    method: str
    origin: str
    note: str
    readings: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """A line that was set aside.

    Attributes
    ----------
    line : int
        Line of the file.
    text : str
        The line as it stands there.
    words : str
        What is wrong with it, in a sentence without full stop.

    """

    line: int
    text: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """All that a file holds.

    Attributes
    ----------
    records : tuple of Record
        Lines that can be reduced.
    troubles : tuple of Trouble
        Lines set aside, in order.

    """

    records: tuple[Record, ...]
    troubles: tuple[Trouble, ...]

    def of(self, method: str) -> tuple[Record, ...]:
        """Return the records of one method."""
        return tuple(record for record in self.records if record.method == method)


class _Column(NamedTuple):
    """A column of the file: name, dimension (empty for words), SI over its unit."""

    name: str
    dimension: str
    scale: float


def read_records(path: str | os.PathLike[str]) -> Series:
    """Read a file of specimens, see `parse_records`.

    Parameters
    ----------
    path : path
        CSV in UTF-8, with or without the mark that spreadsheets put first. A letter that is
        not UTF-8 is shown as a replacement mark.

    Returns
    -------
    Series
        Records and lines set aside.

    Raises
    ------
    OSError
        If the file cannot be read.
    ValueError
        If the header cannot be understood.

    """
    return parse_records(Path(path).read_bytes().decode("utf-8-sig", errors="replace"))


def parse_records(text: str) -> Series:
    """Read specimens from the text of a CSV file.

    Parameters
    ----------
    text : str
        First line the header. Commas part the cells, or semicolons, or tabs; with semicolons
        or tabs a comma in a number is a decimal comma. Empty lines and lines that start with
        ``#`` are skipped.

    Returns
    -------
    Series
        Records and lines set aside.

    Raises
    ------
    ValueError
        If the header lacks a column, repeats one, has one without a unit, or names a unit or
        reading that is not known.

    Notes
    -----
    Each line is read by itself, so an unclosed quotation mark spoils its own line only. A
    line is also set aside if a size is more than three times larger or smaller than the
    median of its method (a force, ten times): mostly a slip of unit or decimal point.

    Examples
    --------
    >>> series = parse_records('''specimen,method,origin,load [gf],diagonal [µm]
    ... A1,vickers,,1000,58.1
    ... A2,vickers,,1000,blurred''')
    >>> series.records[0].readings["load"], series.troubles[0].words
    (9.80665, "diagonal must be a number; got 'blurred'")

    """
    lines = [
        (number, line)
        for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), start=1)
        if line.strip(" ,;\t") and not line.startswith("#")
    ]
    if not lines:
        raise ValueError("the file must hold a header; got nothing")
    mark = next((mark for mark in "\t;" if mark in lines[0][1]), ",")
    header = _header(_cells(lines[0][1], mark))
    records: list[Record] = []
    troubles: list[Trouble] = []
    for number, line in lines[1:]:
        try:
            records.append(_record(number, _cells(line, mark), header, mark != ","))
        except ValueError as fault:
            troubles.append(Trouble(line=number, text=line, words=str(fault)))
    doubts = _doubts(records)
    texts = dict(lines)
    troubles += [Trouble(line=at, text=texts[at], words=words) for at, words in doubts.items()]
    return Series(
        records=tuple(record for record in records if record.line not in doubts),
        troubles=tuple(sorted(troubles, key=lambda trouble: trouble.line)),
    )


def _cells(line: str, mark: str) -> list[str]:
    try:
        cells = next(csv.reader([line], delimiter=mark, strict=True))
    except csv.Error as fault:
        raise ValueError(f"quotation marks must be closed; got {fault}") from None
    return [cell.strip() for cell in cells]


def _header(cells: list[str]) -> list[_Column]:
    """Return the columns of a file."""
    columns = [_column(cell) for cell in cells]
    names = Counter(column.name for column in columns)
    for name in ("specimen", "method"):
        if name not in names:
            raise ValueError(f"header must have a column {name}; got {', '.join(names)}")
    if names.most_common(1)[0][1] > 1:
        raise ValueError(f"column {names.most_common(1)[0][0]} must stand once; got it twice")
    return columns


def _column(cell: str) -> _Column:
    name, _, rest = (part.strip() for part in cell.partition("["))
    unit = rest.rstrip("]").strip().replace("μ", "µ")  # the Greek letter and the sign
    if name in _WORDS:
        return _Column(name, "", 0.0)
    if name not in _FITTING:
        known = ", ".join([*_WORDS, *sorted(_FITTING)])
        raise ValueError(f"column must be one of {known}; got {name!r}")
    dimension, scale = _UNITS.get(unit, ("", 0.0))
    if dimension not in _FITTING[name]:
        fit = ", ".join(key for key, pair in _UNITS.items() if pair[0] in _FITTING[name])
        raise ValueError(f"column {name} must have a unit among {fit}; got {unit!r}")
    return _Column(name, dimension, scale)


def _record(number: int, cells: list[str], header: list[_Column], comma: bool) -> Record:
    """Return one line as a record, or raise with what is wrong."""
    if len(cells) != len(header):
        raise ValueError(f"line must have {len(header)} cells; got {len(cells)}")
    words = dict.fromkeys(_WORDS, "")
    readings = {}
    for column, cell in zip(header, cells, strict=True):
        if not column.dimension:
            words[column.name] = cell
        elif cell:
            point = cell.replace(",", ".") if comma else cell
            readings[column.name] = column.scale * _number(column.name, point)
    if not words["specimen"]:
        raise ValueError("specimen must have a name; got none")
    one_of("method", words["method"], METHODS)
    wanted = METHODS[words["method"]].readings
    for name, reading in wanted.items():
        if reading.usual is None and name not in readings:
            raise ValueError(f"{name} must be given for {words['method']}; got an empty cell")
    for column in header:
        if column.name not in readings:
            continue
        if column.name not in wanted:
            raise ValueError(
                f"{column.name} must be empty for {words['method']}; got a number"
            )
        if _dimension(wanted[column.name].kind) != column.dimension:
            raise ValueError(
                f"{column.name} must be a {wanted[column.name].kind} for {words['method']}; "
                f"got a {column.dimension}"
            )
    reduce(
        words["method"], readings
    )  # refuses what the formula refuses, such as swapped rings
    return Record(line=number, readings=MappingProxyType(readings), **words)


def _number(name: str, cell: str) -> float:
    try:
        value = float(cell)
    except ValueError:
        raise ValueError(f"{name} must be a number; got {cell!r}") from None
    if not np.isfinite(value) or (value <= 0 and name not in _ANY_SIGN):
        raise ValueError(f"{name} must be finite and positive; got {cell}")
    return value


def _doubts(records: Iterable[Record]) -> dict[int, str]:
    """Return the lines of repeated names and of sizes far off their like, with words."""
    doubts: dict[int, str] = {}
    first: dict[str, int] = {}
    groups: dict[tuple[str, str], list[Record]] = {}
    for record in records:
        if record.specimen in first:
            where = first[record.specimen]
            doubts[record.line] = f"specimen {record.specimen} stands on line {where} already"
            continue
        first[record.specimen] = record.line
        for name in record.readings:
            groups.setdefault((record.method, name), []).append(record)
    for (_, name), group in groups.items():
        values = np.abs([record.readings[name] for record in group])
        ratio = values / (np.median(values) or np.inf)
        most = _DOUBT if "length" in _FITTING[name] else _FORCE_DOUBT
        for record, times in zip(group, ratio, strict=True):
            if times and not 1 / most <= times <= most:
                doubts.setdefault(
                    record.line,
                    f"{name} is {times:.3g} times the median of its like: see unit and point",
                )
    return doubts
