# SPDX-License-Identifier: MIT
"""Read specimens from a tidy CSV: units in the header, one line a specimen, nothing lost.

The header names each reading with its unit, such as ``thickness [mm]``. The columns
``specimen``, ``method`` and ``origin`` are words; the others are readings of
`glasskit.lab.METHODS`. A line that cannot be trusted is set aside with a sentence that says
why; its text is kept, so that everything in the file is either a record or on that list.
"""

import csv
import os
import re
import warnings
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher, get_close_matches
from hashlib import sha256
from io import StringIO
from itertools import zip_longest
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from glasskit.lab.origins import folded
from glasskit.lab.reducing import METHODS, reduce
from glasskit.lab.shown import headed, listed
from glasskit.quantities import (
    OutsideValidityWarning,
    Unit,
    having,
    one_of,
    plain_number,
    require,
    units_of,
)
from glasskit.rows import Line, Trouble, cells, heading, load, rows, under_titles

_WORDS = ("specimen", "method", "origin", "note")
_DOUBT = 3.0  # times the median of its like, from which a size is doubtful
_FORCE_DOUBT = 10.0  # the same for what scatters with the strength

_CALLED = {  # what rigs and people call a column, in the kit's own words
    **dict.fromkeys(
        (
            "specimen_no",
            "specimen_id",
            "specimen_name",
            "sample",
            "sample_no",
            "sample_id",
            "id",
            "no",
            "nr",
            "number",
        ),
        "specimen",
    ),
    "test_method": "method",
    **dict.fromkeys(("fracture_origin", "failure_origin", "origin_of_fracture"), "origin"),
    **dict.fromkeys(
        [
            f"{most}{of}"
            for most in ("max", "maximum", "peak", "breaking", "failure")
            for of in ("_force", "_load")
        ]
        + ["fmax", "f_max"],
        "force",
    ),
    **dict.fromkeys(
        ("support_span", "supporting_span", "lower_span", "support_distance"), "outer_span"
    ),
    **dict.fromkeys(("load_span", "loading_span", "upper_span"), "inner_span"),
    **dict.fromkeys(("load_ring", "loading_ring", "load_ring_diameter"), "load_diameter"),
    **dict.fromkeys(("support_ring", "support_ring_diameter"), "support_diameter"),
    "b": "width",
    **dict.fromkeys(("h", "t"), "thickness"),
    **dict.fromkeys(("disc", "disk", "disc_diameter", "disk_diameter"), "plate_diameter"),
}

_ALIKE = (  # two words for one thing, where a method reads the first and not the other
    ("force", "load"),
    ("span", "outer_span"),
    ("outer_span", "span"),
)

_FILLING = ("bend", "bending", "flexure", "test")  # what the kit leaves out of a method's name

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
        Its name, a key of `glasskit.lab.METHODS`, where it began to break in the words of
        `glasskit.lab.origins.folded` ("unknown" and "did not break" are two things), and what
        else was written.
    written : str
        Origin as it stands in the file.
    readings : mapping of str to float
        Readings by name, the mean where one was read several times [SI].
    repeats : mapping of str to tuple of float
        Single readings of what was read several times [SI].
    notes : mapping of str to str
        What stands in columns that the kit does not know, by their headings.

    """

    line: int
    specimen: str
    method: str
    origin: str
    note: str
    written: str
    readings: Mapping[str, float]
    repeats: Mapping[str, tuple[float, ...]]
    notes: Mapping[str, str]


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
        Lines that begin with ``#`` or stand above the first row: taken for remarks, in order.
    notes : tuple of str
        Headings of the columns that the kit does not know and keeps as notes.
    read_as : tuple of tuple of str
        Headings in other words than the kit's, each with the name it is read as.
    file : str
        Name of the file; empty for a text.
    checksum : str
        SHA-256 of its bytes, of a text as UTF-8: whoever has the file can tell that it is
        the same.

    """

    records: tuple[Record, ...]
    troubles: tuple[Trouble, ...]
    remarks: tuple[Line, ...] = ()
    notes: tuple[str, ...] = ()
    read_as: tuple[tuple[str, str], ...] = ()
    file: str = ""
    checksum: str = ""

    def _repr_html_(self) -> str:
        """Show how many lines are used, by method and origin, and those set aside."""
        found = Counter((one.method, one.origin) for one in self.records)
        counted = [(*named, str(many)) for named, many in found.items()]
        aside = [(str(one.line), one.text, one.words) for one in self.troubles]
        return headed(
            f"{len(self.records)} lines used, {len(self.troubles)} set aside",
            listed(["method", "origin", "lines"], counted),
            listed(["line", "text", "set aside, for"], aside),
        )

    def of(self, method: str) -> tuple[Record, ...]:
        """Return the records of one method."""
        return tuple(record for record in self.records if record.method == method)

    def troubles_of(self, method: str) -> tuple[Trouble, ...]:
        """Return the lines set aside that are of one method, or not to be told of which."""
        return tuple(
            one for one in self.troubles if _named_in(one.text, METHODS) in (method, None)
        )

    def parted(self, column: str) -> dict[str, "Series"]:
        """Return a series for each word that stands in a column of notes, such as ``lot``.

        Parameters
        ----------
        column : str
            One of `notes`, as it stands in the file.

        Returns
        -------
        dict of str to Series
            Each with its own records, and the lines set aside that name it or none.

        Raises
        ------
        ValueError
            If the file has no such column.

        """
        one_of("column", column, self.notes)
        words = dict.fromkeys(record.notes.get(column, "") for record in self.records)
        return {
            word: replace(
                self,
                records=tuple(
                    one for one in self.records if one.notes.get(column, "") == word
                ),
                troubles=tuple(
                    one for one in self.troubles if _named_in(one.text, words) in (word, None)
                ),
            )
            for word in words
        }

    def origins(self, method: str) -> dict[str, dict[str, int]]:
        """Return the origins of one method, each with the words for it and their number."""
        found: dict[str, dict[str, int]] = {}
        for record in self.of(method):
            words = found.setdefault(record.origin, {})
            words[record.written] = words.get(record.written, 0) + 1
        return found


def _named_in(text: str, names: Iterable[str]) -> str | None:
    """Return which name a line holds as a cell of its own, whatever is wrong with it."""
    parts = {part.strip(' "') for part in re.split(r"[\t;,]", text)}
    return next((name for name in names if name and name in parts), None)


class _Column(NamedTuple):
    """A column of the file: its name, its unit (None for words), and what it is for."""

    name: str
    unit: Unit | None
    note: bool = False  # unknown to the kit, kept as it stands
    repeated: bool = False  # one of several readings of the same thing
    written: str = ""  # the heading, where it calls the column by another name


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
        First line the header, a unit behind each reading: ``force [N]``, ``Force (N)`` or
        ``force / N``, or all units in the line below. What all lines share may be stated
        once in a remark above, ``# outer_span [mm]: 100``; a method stated so counts for all
        lines, and a column of that name is a note. Repeated readings are counted,
        ``thickness_1 [mm]``, ``thickness_2 [mm]``. Any further column is a note. Commas part
        the cells, or semicolons, or tabs; a comma inside a cell is a decimal comma.
        Empty lines are skipped; for remarks see `rows.Rows`.

    Returns
    -------
    Series
        Records and lines set aside.

    Raises
    ------
    ValueError
        If the header lacks a column, repeats one, or has a reading without a known unit.

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
    table = under_titles(rows(text), lambda row, _: _names_specimens(row))
    heads = list(cells(table.first.text, table.mark))
    below = [line.text.split(table.mark or "\t") for line in table.lines[:1]]
    units = below[0] if below and _is_units(below[0], len(heads)) else ()
    header = [
        _column(cell, symbol) for cell, symbol in zip_longest(heads, units, fillvalue="")
    ]
    own = {column.name for column in header if not column.written}
    header = [
        _Column(column.written, None, note=True)
        if column.written and column.name in own and not column.repeated
        else column
        for column in header
    ]
    stated = _stated(table.remarks)
    if "method" in {
        _called(_plain(head)) for head, _ in stated
    }:  # for every line, whatever it says
        header = [
            _Column(column.written or column.name, None, note=True)
            if column.name == "method"
            else column
            for column in header
        ]
    fixed = [_column(head, "") for head, _ in stated]
    _check(header + fixed)
    records: list[Record] = []
    troubles: list[Trouble] = []
    lines = table.lines[1:] if units else table.lines
    for line in lines:
        try:
            found = cells(line.text, table.mark)
            if len(found) != len(header):
                raise ValueError(f"line must have {len(header)} cells; got {len(found)}")
            every = [*found, *(cell for _, cell in stated)]
            records.append(_record(line.number, every, header + fixed))
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    doubts = _doubts(records)
    texts = dict(lines)
    troubles += [Trouble(line=at, text=texts[at], words=words) for at, words in doubts.items()]
    return Series(
        records=tuple(record for record in records if record.line not in doubts),
        troubles=tuple(sorted(troubles, key=lambda trouble: trouble.line)),
        remarks=table.remarks,
        notes=tuple(column.name for column in header if column.note and column.name),
        read_as=tuple((one.written, one.name) for one in header + fixed if one.written),
        checksum=sha256(text.encode()).hexdigest(),
    )


def records_from(
    columns: Mapping[str, Iterable[object]], units: Mapping[str, str] | None = None
) -> Series:
    """Read specimens from columns that are in memory: a dict of lists, or a data frame.

    Parameters
    ----------
    columns : mapping of str to iterable
        By heading, as `parse_records` reads them, all of one length; None and NaN are empty
        cells. A pandas ``DataFrame`` is one; pandas itself is not needed.
    units : mapping of str to str, optional
        Units of columns whose heading names none, such as ``{"force": "N"}``.

    Returns
    -------
    Series
        Records and lines set aside; the first entry stands on line 2.

    Raises
    ------
    TypeError
        If `columns` has no items.
    ValueError
        If the columns differ in length, `units` names one that is not there, or the headings
        are refused, see `parse_records`.

    Examples
    --------
    >>> series = records_from(
    ...     {"specimen": ["A1", "A2"], "method": ["vickers"] * 2, "load": [9.81, None],
    ...      "diagonal": [57.6, 58.1]},
    ...     units={"load": "N", "diagonal": "µm"},
    ... )
    >>> len(series.records), str(series.troubles[0])
    (1, 'line 3: load must be given for vickers; got an empty cell')

    """
    having("columns", columns, "items")
    named = {str(name): list(values) for name, values in columns.items()}
    given = units or {}
    for name in given:
        one_of("unit", name, named)
    heads = [f"{name} [{given[name]}]" if name in given else name for name in named]
    longest = max(map(len, named.values()), default=0)
    for name, values in named.items():
        require(len(values) == longest, name, len(values), f"hold {longest} entries")
    text = StringIO()
    writer = csv.writer(text, delimiter="\t", lineterminator="\n")
    for row in (heads, *zip(*named.values(), strict=True)):
        writer.writerow(
            ["" if _missing(cell) else " ".join(str(cell).split()) for cell in row]
        )
    return parse_records(text.getvalue())


def _missing(cell: object) -> bool:
    """Tell whether a cell is None, or one of those that equal nothing, not even themselves."""
    return cell is None or (not isinstance(cell, str) and str(cell) in ("nan", "NaT", "<NA>"))


def _plain(name: str) -> str:
    """Return a name as the kit writes it, whatever the case and the blanks."""
    return re.sub(r"[\s_.-]+", "_", name.casefold().strip(" ."))


def _called(name: str) -> str:
    """Return the kit's name for a column, whatever it is called and in whatever order."""
    if name in _FITTING or name in _WORDS:
        return name
    parts = sorted(name.split("_"))
    turned = next((one for one in _FITTING if sorted(one.split("_")) == parts), name)
    return _CALLED.get(name, turned)


def _names_specimens(row: Sequence[str]) -> bool:
    """Tell whether a line names the columns of a file of specimens."""
    return len(row) > 1 and "specimen" in {_called(_plain(heading(cell)[0])) for cell in row}


def _is_units(line: Sequence[str], count: int) -> bool:
    """Tell whether the row below the names holds their units and nothing else."""
    known = {
        symbol for kinds in _FITTING.values() for kind in kinds for symbol in units_of(kind)
    }
    said = [cell.strip("[]() ") for cell in line]
    units = [cell for cell in said if cell in known and cell]
    return (
        len(line) == count
        and len(units) > 0
        and all(
            cell in known or cell in ("-", "%", "MPa/s", "N/s", "mm/min", "°C")
            for cell in said
        )
    )


def _stated(remarks: Iterable[Line]) -> list[tuple[str, str]]:
    """Return what remarks state once for all lines: ``# outer_span [mm]: 100``.

    A rig's title may have the unit behind the number; one without any states nothing, nor does
    a load, which is that of the cell and not of the specimens.
    """
    found = []
    for remark in remarks:
        parts = re.fullmatch(r"\s*#?\s*([^:=;,\t]+?)\s*[:=;,\t]\s*(.+?)[\s;,]*", remark.text)
        name, symbol = heading(parts[1]) if parts else ("", "")
        called = _called(_plain(name))
        if parts and called == "method":
            found.append((parts[1], parts[2]))
        elif parts and called in _FITTING:
            meant = remark.text.lstrip().startswith("#")
            told = re.fullmatch(r"([-+.,\d]+(?:e[-+]?\d+)?)[\s;\t]*(.*)", parts[2])
            behind = told[2].strip("[]() ") if told else ""
            known = {one for kind in _FITTING[called] for one in units_of(kind)} - {""}
            usable = meant or called not in ("force", "load")
            if usable and told and behind in known and not symbol:
                found.append((f"{name} [{behind}]", told[1]))
            elif meant or (usable and symbol in known):
                found.append((parts[1], parts[2]))
    return found


def _check(columns: list[_Column]) -> None:
    """Refuse a file that lacks what every line needs, or says something twice."""
    names = Counter(
        column.name for column in columns if not column.note and not column.repeated
    )
    for name in ("specimen", "method"):
        if name not in names:
            once = ", or above it a line # method: four_point_bar" if name == "method" else ""
            got = ", ".join(column.name for column in columns if column.name)
            raise ValueError(f"header must have a column {name}{once}; got {got}")
    if names.most_common(1)[0][1] > 1:
        raise ValueError(f"column {names.most_common(1)[0][0]} must stand once; got it twice")


def _column(cell: str, below: str) -> _Column:
    """Return a column by its heading and what stands below it in a line of units."""
    told, symbol = heading(cell)
    symbol = symbol or below.strip("[]() ").replace("μ", "µ")
    plain = _plain(told)
    name = _called(plain)
    written = "" if name == plain else cell
    if name in _WORDS:
        return _Column(name, None, written=written)
    counted = re.fullmatch(r"(.+?)_?\d+", name)
    repeated = counted is not None and name not in _FITTING and _called(counted[1]) in _FITTING
    if counted and repeated:
        name = _called(counted[1])
        written = "" if name == counted[1] else cell
    if name not in _FITTING:
        return _Column(cell, None, note=True)
    fitting: dict[str, Unit] = {}
    for kind in sorted(_FITTING[name]):
        fitting |= units_of(kind)
    if symbol not in fitting and len(plain) == 1:  # a letter may stand for much else
        return _Column(cell, None, note=True)
    if symbol not in fitting:
        fit = ", ".join(filter(None, fitting))
        raise ValueError(f"column {name} must have a unit among {fit}; got {symbol!r}")
    return _Column(name, fitting[symbol], repeated=repeated, written=written)


def _method_of(word: str) -> str:
    """Return the method that a word means, or ask which was meant."""
    name = _plain(word).replace("4_", "four_").replace("3_", "three_")
    short = "_".join(part for part in name.split("_") if part not in _FILLING)
    if name in METHODS or short in METHODS:
        return name if name in METHODS else short
    if not name:
        raise ValueError("method must be given; got an empty cell")
    near = [one for one in METHODS if name == "".join(part[0] for part in one.split("_"))]
    near += get_close_matches(name, METHODS, 3, 0.6)
    if not near:
        one_of("method", word, METHODS)
    order = list(METHODS)  # of those as near, the more usual one first
    near = sorted(
        set(near),
        key=lambda one: (
            -round(SequenceMatcher(None, name, one).ratio(), 1),
            order.index(one),
        ),
    )
    asked = " or ".join(near)
    raise ValueError(
        f"method must be one the kit knows: was {asked} meant? got {word!r}; for all lines at"
        f" once, write above them: # method: {near[0]}"
    )


def _record(number: int, line: Sequence[str], header: list[_Column]) -> Record:
    """Return one line as a record, or raise with what is wrong."""
    words = dict.fromkeys(_WORDS, "")
    read: dict[str, list[float]] = {}
    notes = {}
    for column, cell in zip(header, line, strict=True):
        if column.note:
            notes[column.name] = cell
        elif column.unit is None:
            words[column.name] = cell
        elif cell:
            shown = _number(column.name, cell)
            value = shown * column.unit.scale + column.unit.offset
            read.setdefault(column.name, []).append(value)
    readings = {name: float(np.mean(values)) for name, values in read.items()}
    if not words["specimen"]:
        raise ValueError("specimen must have a name; got none")
    words["method"] = _method_of(words["method"])
    wanted = METHODS[words["method"]].readings
    for one, other in _ALIKE:
        if one in wanted and other not in wanted and other in read and one not in read:
            read[one], readings[one] = read.pop(other), readings.pop(other)
    _fit_method(words["method"], readings, header)
    written = words["origin"]
    words["origin"] = folded(written)
    return Record(
        line=number,
        readings=MappingProxyType(readings),
        repeats=MappingProxyType({k: tuple(v) for k, v in read.items() if len(v) > 1}),
        notes=MappingProxyType({name: cell for name, cell in notes.items() if cell}),
        written=written,
        **words,
    )


def _fit_method(method: str, readings: Mapping[str, float], header: list[_Column]) -> None:
    """Refuse readings that the method lacks, does not know, or cannot reduce."""
    wanted = METHODS[method].readings
    needed = [name for name, reading in wanted.items() if reading.usual is None]
    there = {column.name for column in header if not column.note} | set(readings)
    lacking = [one for one in needed if one not in there]
    if lacking:
        kept = ", ".join(column.name for column in header if column.note) or "no other"
        raise ValueError(f"{method} must have columns {', '.join(lacking)}; got {kept}")
    for name, reading in wanted.items():
        if reading.usual is None and name not in readings:
            raise ValueError(f"{name} must be given for {method}; got an empty cell")
    for column in header:
        if column.name not in readings or column.note:
            continue
        if column.name not in wanted:
            raise ValueError(f"{column.name} must be empty for {method}; got a number")
        kind = wanted[column.name].kind
        if column.unit not in units_of(kind).values():
            raise ValueError(
                f"{column.name} must be a {kind} for {method}; "
                f"got a number in {column.unit.symbol if column.unit else ''}"
            )
    with warnings.catch_warnings():  # a size in metres that looks like one in millimetres
        warnings.simplefilter("error", OutsideValidityWarning)
        try:
            reduce(method, readings)  # refuses what the formula refuses: swapped rings
        except OutsideValidityWarning as doubt:
            raise ValueError(str(doubt)) from None


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
