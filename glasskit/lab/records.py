# SPDX-License-Identifier: MIT
"""Read specimens from a tidy CSV: units in the header, one line a specimen, nothing lost.

The header names each reading with its unit, such as ``thickness [mm]``. The columns
``specimen``, ``method`` and ``origin`` are words; the others are readings of
`laboratory.METHODS`. A line that cannot be trusted is set aside with a sentence that says why;
its text is kept, so that everything in the file is either a record or on that list.
"""

import os
import re
import warnings
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from glasskit.lab.origins import folded
from glasskit.lab.reducing import METHODS, reduce
from glasskit.quantities import OutsideValidityWarning, Unit, one_of, plain_number, units_of
from glasskit.rows import Line, Trouble, cells, heading, load, rows

_WORDS = ("specimen", "method", "origin", "note")
_DOUBT = 3.0  # times the median of its like, from which a size is doubtful
_FORCE_DOUBT = 10.0  # the same for what scatters with the strength

_SIGNED: set[str] = set()  # readings that may be zero or negative
_FITTING: dict[str, set[str]] = {}  # kinds of a reading: a constant's differs by method
for _method in METHODS.values():
    for _name, _reading in _method.readings.items():
        _FITTING.setdefault(_name, set()).add(_reading.kind)
        if _reading.signed:
            _SIGNED.add(_name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One specimen as read.

    Attributes
    ----------
    line : int
        Line of the file, the header being 1.
    specimen, method, origin, note : str
        Its name, a key of `laboratory.METHODS`, where it began to break in the words of
        `origins.folded` ("unknown" and "did not break" are two things), and what else was
        written.
    written : str
        Origin as it stands in the file.
    readings : mapping of str to float
        Readings by name [SI].

    """

    line: int
    specimen: str
    method: str
    origin: str
    note: str
    written: str
    readings: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """All that a file holds.

    Attributes
    ----------
    records : tuple of Record
        Lines that can be reduced.
    troubles : tuple of Trouble
        Lines set aside, in order.
    remarks : tuple of Line
        Lines that begin with ``#`` and were taken for remarks, in order.
    file : str
        Name of the file; empty for a text.
    checksum : str
        SHA-256 of its bytes, of a text as UTF-8: whoever has the file can tell that it is
        the same.

    """

    records: tuple[Record, ...]
    troubles: tuple[Trouble, ...]
    remarks: tuple[Line, ...] = ()
    file: str = ""
    checksum: str = ""

    def of(self, method: str) -> tuple[Record, ...]:
        """Return the records of one method."""
        return tuple(record for record in self.records if record.method == method)

    def troubles_of(self, method: str) -> tuple[Trouble, ...]:
        """Return the lines set aside that are of one method, or not to be told of which."""
        return tuple(one for one in self.troubles if _method_in(one.text) in (method, None))

    def origins(self, method: str) -> dict[str, dict[str, int]]:
        """Return the origins of one method, each with the words for it and their number."""
        found: dict[str, dict[str, int]] = {}
        for record in self.of(method):
            words = found.setdefault(record.origin, {})
            words[record.written] = words.get(record.written, 0) + 1
        return found


def _method_in(text: str) -> str | None:
    """Return the method that a line names as a cell of its own, whatever is wrong with it."""
    parts = {part.strip(' "') for part in re.split(r"[\t;,]", text)}
    return next((method for method in METHODS if method in parts), None)


class _Column(NamedTuple):
    """A column of the file: its name, and its unit; None for words."""

    name: str
    unit: Unit | None


def read_records(path: str | os.PathLike[str]) -> Series:
    r"""Read a file of specimens, see `parse_records`.

    Parameters
    ----------
    path : path
        As spreadsheets write it, see `rows.decode`.

    Returns
    -------
    Series
        Records and lines set aside.

    Raises
    ------
    OSError
        If the file cannot be read.
    ValueError
        If it is no text or too large, or the header cannot be understood.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder) / "dents.csv"
    ...     _ = path.write_text("specimen,method,load [N],diagonal [mm]\n1,vickers,9.81,0.058")
    ...     series = read_records(path)
    >>> len(series.records), len(series.troubles)
    (1, 0)

    """
    series = parse_records(load(path))
    content = Path(path).read_bytes()
    return replace(series, file=Path(path).name, checksum=sha256(content).hexdigest())


def parse_records(text: str) -> Series:
    """Read specimens from the text of a CSV file.

    Parameters
    ----------
    text : str
        First line the header, a unit behind each reading: ``force [N]`` or ``force / N``.
        Commas part the cells, or semicolons, or tabs; a comma inside a cell is a decimal
        comma. Empty lines are skipped; for remarks see `rows.Rows`.

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
    table = rows(text)
    header = _header(cells(table.first.text, table.mark))
    records: list[Record] = []
    troubles: list[Trouble] = []
    for line in table.lines:
        try:
            records.append(_record(line.number, cells(line.text, table.mark), header))
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    doubts = _doubts(records)
    texts = dict(table.lines)
    troubles += [Trouble(line=at, text=texts[at], words=words) for at, words in doubts.items()]
    return Series(
        records=tuple(record for record in records if record.line not in doubts),
        troubles=tuple(sorted(troubles, key=lambda trouble: trouble.line)),
        remarks=table.remarks,
        checksum=sha256(text.encode()).hexdigest(),
    )


def _header(headings: Sequence[str]) -> list[_Column]:
    """Return the columns of a file."""
    columns = [_column(cell) for cell in headings]
    names = Counter(column.name for column in columns)
    for name in ("specimen", "method"):
        if name not in names:
            raise ValueError(f"header must have a column {name}; got {', '.join(names)}")
    if names.most_common(1)[0][1] > 1:
        raise ValueError(f"column {names.most_common(1)[0][0]} must stand once; got it twice")
    return columns


def _column(cell: str) -> _Column:
    name, symbol = heading(cell)
    if name in _WORDS:
        return _Column(name, None)
    if name not in _FITTING:
        known = ", ".join([*_WORDS, *sorted(_FITTING)])
        raise ValueError(f"column must be one of {known}; got {name!r}")
    fitting: dict[str, Unit] = {}
    for kind in sorted(_FITTING[name]):
        fitting |= units_of(kind)
    if symbol not in fitting:
        fit = ", ".join(filter(None, fitting))
        raise ValueError(f"column {name} must have a unit among {fit}; got {symbol!r}")
    return _Column(name, fitting[symbol])


def _record(number: int, line: Sequence[str], header: list[_Column]) -> Record:
    """Return one line as a record, or raise with what is wrong."""
    if len(line) != len(header):
        raise ValueError(f"line must have {len(header)} cells; got {len(line)}")
    words = dict.fromkeys(_WORDS, "")
    readings = {}
    for column, cell in zip(header, line, strict=True):
        if column.unit is None:
            words[column.name] = cell
        elif cell:
            shown = _number(column.name, cell)
            readings[column.name] = shown * column.unit.scale + column.unit.offset
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
        kind = wanted[column.name].kind
        if column.unit not in units_of(kind).values():
            raise ValueError(
                f"{column.name} must be a {kind} for {words['method']}; "
                f"got a number in {column.unit.symbol if column.unit else ''}"
            )
    with warnings.catch_warnings():  # a size in metres that looks like one in millimetres
        warnings.simplefilter("error", OutsideValidityWarning)
        try:
            reduce(
                words["method"], readings
            )  # refuses what the formula refuses: swapped rings
        except OutsideValidityWarning as doubt:
            raise ValueError(str(doubt)) from None
    written = words["origin"]
    words["origin"] = folded(written)
    return Record(line=number, readings=MappingProxyType(readings), written=written, **words)


def _number(name: str, cell: str) -> float:
    try:
        value = plain_number(cell)
    except ValueError:
        raise ValueError(f"{name} must be a number; got {cell!r}") from None
    if not np.isfinite(value) or (value <= 0 and name not in _SIGNED):
        raise ValueError(f"{name} must be finite and positive; got {cell}")
    return value


def _doubts(records: Sequence[Record]) -> dict[int, str]:
    """Return the lines of repeated names and of sizes far off their like, with words."""
    doubts: dict[int, str] = {}
    lines: dict[str, list[int]] = {}
    groups: dict[tuple[str, str], list[Record]] = {}
    for record in records:
        lines.setdefault(record.specimen, []).append(record.line)
    for record in records:
        twice = lines[record.specimen]
        if len(twice) > 1:
            where = " and ".join(map(str, twice))
            doubts[record.line] = (
                f"specimen {record.specimen} stands on lines {where}, one must be wrong"
            )
            continue
        for name in record.readings:
            groups.setdefault((record.method, name), []).append(record)
    for (_, name), group in groups.items():
        values = np.abs([record.readings[name] for record in group])
        ratio = values / (np.median(values) or np.inf)
        length = any("mm" in units_of(kind) for kind in _FITTING[name])
        most = _DOUBT if length else _FORCE_DOUBT
        for record, times in zip(group, ratio, strict=True):
            if times and not 1 / most <= times <= most:
                doubts.setdefault(
                    record.line,
                    f"{name} is {times:.3g} times the median of its like: see unit and point",
                )
    return doubts
