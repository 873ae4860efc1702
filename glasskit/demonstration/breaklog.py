# SPDX-License-Identifier: MIT
"""Keep a log of what really happened, so that it can correct the odds.

One line for each blow: date, pane, height, surface, broke or not, where the break began. The
log is a CSV file that any spreadsheet opens and may write again: its first line names the
columns, in any order, and the unit of the height. A damaged line is reported and left as it
is, and spoils no other; a new line is added by writing the whole file anew beside the old one
and putting it in its place in one step, under a lock.

Nothing is ever struck out. A line that says the same as another, with "taken back (yes)" or
"taken back (no)" for what the pane did, takes it back; so does one with "corrected (yes)" or
"corrected (no)", and the line behind it says what is right.

A pane that was struck more than once is named with a number, "ordinary #3". It counts once:
it withstood its highest blow, and broke between that and the blow that broke it. Blows it had
withstood tell nothing more, for they weaken it only through new flaws.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import NamedTuple

import numpy as np

from glasskit.files import content, update
from glasskit.quantities import (
    FloatArray,
    System,
    plain_number,
    positive,
    require,
    typed,
    units_of,
)
from glasskit.rows import BROKE, HELD, Line, Trouble, bare_cell, cells, heading, safe_cell

COLUMNS = ("date", "pane", "height_m", "surface", "broke", "origin")
"""First line of a new file."""

_NAMES = tuple(name.partition("_")[0] for name in COLUMNS)
_GONE = re.compile(r"(taken back|corrected)\W+(\w+)\W*")
_MARKS = (",", ";", "\t")
_HIGHEST = 10.0  # [m]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One blow as it happened.

    Attributes
    ----------
    date : datetime.date
        Day.
    pane : str
        Name of the kind of pane as in the plan; with " #" and a number if the same pane is
        struck more than once.
    height : float
        Height fallen through [m].
    surface : str
        What it lay on or fell on.
    broke : bool
        Whether it broke.
    origin : str
        Where the break began, as far as it could be seen.

    Examples
    --------
    The third pane, struck from half a metre:

    >>> Entry(date=date(2030, 5, 31), pane="ordinary #3", height=0.5, broke=False).kind
    'ordinary'

    """

    date: date
    pane: str
    height: float
    surface: str = ""
    broke: bool
    origin: str = ""

    def __post_init__(self) -> None:
        positive("height", self.height, "m")
        require(
            self.height <= _HIGHEST,
            "height",
            self.height,
            f"be at most {_HIGHEST:g} m, no rig is higher (was another unit meant?)",
            "m",
        )
        if not self.kind:
            raise ValueError(f"pane must be named; got {self.pane!r}")

    @property
    def kind(self) -> str:
        """Name of the kind of pane, without the number."""
        return self.pane.partition("#")[0].strip()


def entry_as_typed(
    *,
    day: str,
    pane: str,
    number: str,
    height: str,
    broke: bool | None,
    surface: str = "",
    origin: str = "",
    system: System = "metric",
) -> Entry:
    """Return a blow as somebody fills in a form.

    Parameters
    ----------
    day : str
        Such as "2030-05-31".
    pane, surface, origin : str
        As in `Entry`; the pane without a number.
    number : str
        Number of a pane that is struck more than once, or nothing.
    height : str
        Such as "1,2" or "80 cm"; without a unit it is in that of `system`.
    broke : bool or None
        What the pane did; None if it was not said.
    system : {"metric", "us"}, optional
        What the form shows.

    Returns
    -------
    Entry
        The blow.

    Raises
    ------
    ValueError
        If date or height is none, the pane has no name, or it was not said what it did.

    Examples
    --------
    >>> said = {"day": "2030-05-31", "pane": "ordinary", "number": "3", "broke": False}
    >>> entry = entry_as_typed(height="1,2", **said)
    >>> entry.pane, entry.height
    ('ordinary #3', 1.2)

    """
    try:
        on = date.fromisoformat(day.strip())
    except ValueError:
        raise ValueError(f"date must be written 2030-05-31; got “{day.strip()}”") from None
    if not height.strip():
        raise ValueError("say the height it fell from")
    if broke is None:
        raise ValueError("say whether it broke or held")
    single = number.strip().lstrip("#").strip()
    return Entry(
        date=on,
        pane=f"{pane} #{single}" if single else pane,
        height=typed(height, "height", system),
        surface=surface,
        broke=broke,
        origin=origin,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """What a file holds.

    Attributes
    ----------
    entries : tuple of Entry
        Every blow that could be read and still counts, in order.
    troubles : tuple of Trouble
        Every line that could not be read, or takes back what is not there.
    taken_back, corrected : tuple of Entry
        Blows that do not count, in the order in which they were taken back, and as they were
        typed before they were corrected.

    """

    entries: tuple[Entry, ...]
    troubles: tuple[Trouble, ...]
    taken_back: tuple[Entry, ...] = ()
    corrected: tuple[Entry, ...] = ()


def read_log(path: str | Path) -> Log:
    """Read a break log, line by line.

    Parameters
    ----------
    path : str or Path
        CSV file; commas, semicolons or tabs between the fields, decimal point or comma.

    Returns
    -------
    Log
        Empty if there is no such file.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     empty = read_log(Path(folder) / "log.csv")
    >>> empty.entries
    ()

    """
    return _read(content(path) or b"")


def _read(held: bytes) -> Log:
    lines = [
        Line(number, text)
        for number, text in enumerate(_lines(_text(held)), start=1)
        if text.strip() and not text.startswith("sep=")
    ]
    entries: list[Entry] = []
    taken: list[tuple[Line, Entry, str]] = []
    troubles: list[Trouble] = []
    try:
        form, lines = _form(lines)
    except ValueError as fault:
        words = [str(fault)] + ["the first line must be mended first"] * len(lines[1:])
        troubles = [
            Trouble(line=line.number, text=line.text, words=what)
            for line, what in zip(lines, words, strict=True)
        ]
        return Log(entries=(), troubles=tuple(troubles))
    order = {found for line in lines if (found := _order(line.text))}
    for line in lines:
        try:
            entry, gone = _entry(line.text, form, order)
        except ValueError as error:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(error)))
            continue
        if gone:
            taken.append((line, entry, gone))
        else:
            entries.append(entry)
    # After all are read: a spreadsheet may have sorted the lines.
    places: dict[tuple[object, ...], list[int]] = {}
    for place, entry in enumerate(entries):
        places.setdefault(_same(entry), []).append(place)
    struck: dict[str, list[Entry]] = {"taken back": [], "corrected": []}
    without = set()
    for line, entry, gone in taken:
        if here := places.get(_same(entry)):
            without.add(here.pop())
            struck[gone].append(entry)
            continue
        what = "it takes back a blow that is not in this log"
        troubles.append(Trouble(line=line.number, text=line.text, words=what))
    return Log(
        entries=tuple(one for place, one in enumerate(entries) if place not in without),
        troubles=tuple(sorted(troubles, key=lambda trouble: trouble.line)),
        taken_back=tuple(struck["taken back"]),
        corrected=tuple(struck["corrected"]),
    )


def add(path: str | Path, *entries: Entry, instead_of: Sequence[Entry] = ()) -> None:
    """Add blows to a log; makes the file if there is none.

    Parameters
    ----------
    path : str or Path
        CSV file.
    *entries : Entry
        Blows, in order.
    instead_of : sequence of Entry
        Blows in the log that are taken back at the same moment: with nothing added they were
        a mistake, with others added those correct them.

    Raises
    ------
    OSError
        If the file cannot be written; it is then as it was.
    ValueError
        If its first line names columns or a unit that are not understood, or a blow to be
        taken back is not there; so too.

    Notes
    -----
    Whatever the file holds is kept byte for byte, damaged lines too, and what two people add
    at the same moment; see `files.update`.

    """

    def grown(held: bytes | None) -> bytes:
        old = held or b""
        if _codec(old) != "utf-8" and len(old) % 2:
            raise ValueError("the file must be whole; got a text that ends in mid-letter")
        text, rows = _text(old), io.StringIO(newline="")
        lines = [Line(1, one) for one in _lines(text) if one.strip() and one[:4] != "sep="]
        form, _ = _form(lines)
        writer = csv.writer(rows, lineterminator="\n", delimiter=form.mark)
        if not text.strip():
            writer.writerow(COLUMNS)
        elif not text.endswith(("\n", "\r")):
            rows.write("\n")  # the last line was cut short: do not write on behind it
        here = Counter(map(_same, _read(old).entries))
        if not Counter(map(_same, instead_of)) <= here:
            raise ValueError("a blow to be taken back must be in the log; this one is not")
        gone = "corrected" if entries else "taken back"
        writer.writerows(_row(entry, form, gone) for entry in instead_of)
        writer.writerows(_row(entry, form) for entry in entries)
        return old + rows.getvalue().encode(_codec(old), "replace")

    update(path, grown)


class _Form(NamedTuple):
    """How a file is written: the name of each column, the height's unit [m], the separator."""

    names: tuple[str, ...] = _NAMES
    scale: float = 1.0
    mark: str = ","


def _codec(content: bytes) -> str:
    """Return UTF-16, as some spreadsheets write, only where it is surely one of our logs."""
    codec = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}.get(content[:2], "utf-8")
    with suppress(UnicodeDecodeError):
        if codec != "utf-8" and "height" in content[: len(content) // 2 * 2].decode(codec):
            return codec
    return "utf-8"


def _text(content: bytes) -> str:
    # Broken bytes stay visible.
    codec = _codec(content)
    if codec == "utf-8":
        return content.decode(codec, "surrogateescape").removeprefix("\ufeff")
    return content.decode(codec, "replace").removeprefix("\ufeff")


def _lines(text: str) -> list[str]:
    # Only true line ends part lines, so no line swallows another.
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _form(lines: list[Line]) -> tuple[_Form, list[Line]]:
    """Return how a file is written, and its lines without the one that says so."""
    first = lines[0].text if lines else ""
    parted = []
    for mark in _MARKS:
        with suppress(ValueError):
            parted.append((len(found := cells(first, mark)), mark, found))
    if not parted:
        return _Form(), lines
    _, mark, found = max(parted)
    headings = [_heading(cell) for cell in found]
    names = tuple(name for name, _ in headings)
    if not {"date", "height"} & set(names):
        return _Form(), lines  # a file without a first line, or a damaged one
    if ",".join(COLUMNS).startswith(first.strip()):
        return _Form(), lines[1:]  # ours, maybe cut short
    for name in _NAMES:
        if names.count(name) != 1:
            many = names.count(name)
            raise ValueError(
                f"the first line must name the column {name} once; got it {many} times"
            )
    unit, known = dict(headings)["height"], units_of("height")
    if unit not in known:
        listed = ", ".join(known)
        raise ValueError(f"height must have a unit among {listed}; got {unit or 'none'}")
    return _Form(names, known[unit].scale, mark), lines[1:]


def _heading(cell: str) -> tuple[str, str]:
    name, unit = heading(cell.lower())
    bare, _, behind = name.partition("_")
    return bare, unit or behind


def _fields(text: str, form: _Form) -> Sequence[str]:
    """Return the fields of one line, parted by whatever parts it into the right number."""
    for mark in (form.mark, *_MARKS):
        with suppress(ValueError):
            found = cells(text, mark)
            if len(found) == len(form.names):
                return found
    found = cells(text, form.mark)
    raise ValueError(f"line must have {len(form.names)} fields; got {len(found)}")


def _entry(text: str, form: _Form, order: set[str]) -> tuple[Entry, str]:
    """Return the blow of a line, and what the line says has become of it, if anything."""
    fields = dict(zip(form.names, map(bare_cell, _fields(text, form)), strict=True))
    said = fields["broke"].lower()
    gone = ""
    if found := _GONE.fullmatch(said):
        gone, said = found.groups()
    if said not in BROKE | HELD:
        raise ValueError(f"broke must be yes or no; got {fields['broke']!r}")
    try:
        fall = plain_number(fields["height"]) * form.scale
    except ValueError:
        raise ValueError(f"height must be a number; got {fields['height']!r}") from None
    entry = Entry(
        date=_day(fields["date"], order),
        pane=fields["pane"],
        height=fall,
        surface=fields["surface"],
        broke=said in BROKE,
        origin=fields["origin"],
    )
    return entry, gone


def _same(entry: Entry) -> tuple[object, ...]:
    """Return what two lines share that tell of the same blow, however they are written."""
    texts = (
        " ".join(text.split()).encode("utf-8", "replace")
        for text in (entry.pane, entry.surface, entry.origin)
    )
    return entry.date, entry.broke, f"{entry.height:.9g}", *texts


def _order(line: str) -> str:
    """Return which comes first in a date with strokes, if the line shows it."""
    found = re.search(r"\b(\d{1,2})/(\d{1,2})/\d{4}\b", line)
    if found and int(found[1]) > 12:
        return "day"
    return "month" if found and int(found[2]) > 12 else ""


def _day(cell: str, order: set[str]) -> date:
    """Return a date as spreadsheets write it; ask where day and month may change places."""
    plain = re.sub(r"[T ]+\d{1,2}:\d\d(:\d\d)?(\.\d+)?$", "", cell)
    if found := re.fullmatch(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", plain):
        year, month, day = map(int, found.groups())
    elif found := re.fullmatch(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})", plain):
        day, month, year = map(int, found.groups())
    elif found := re.fullmatch(r"(\d{1,2})/(\d{1,2})/(\d{4})", plain):
        day, month, year = map(int, found.groups())
        if len(order) != 1 and day != month and not _order(plain):
            raise ValueError(f"date {cell} may be two days: write 2030-05-31 for 31 May")
        if (_order(plain) or next(iter(order), "")) == "month":
            day, month = month, day
    else:
        raise ValueError(f"date must be written 2030-05-31; got {cell!r}")
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"date must be a day of the calendar; got {cell!r}") from None


def _row(entry: Entry, form: _Form, gone: str = "") -> list[str]:
    """Return the fields of one entry, each on one line, as the file is written."""
    texts = {name: getattr(entry, name) for name in ("pane", "surface", "origin")}
    fields = {name: safe_cell(" ".join(text.split())) for name, text in texts.items()}
    fields["date"], broke = entry.date.isoformat(), "yes" if entry.broke else "no"
    fields["broke"] = f"{gone} ({broke})" if gone else broke
    fall = float(entry.height) / form.scale
    fields["height"] = repr(fall) if form.scale == 1 else f"{fall:.12g}"
    return [fields.get(name, "") for name in form.names]


def bounds(entries: Iterable[Entry], kind: str) -> FloatArray:
    """Return for each pane of a kind the highest fall withstood and the one that broke it.

    Parameters
    ----------
    entries : iterable of Entry
        In the order of the blows.
    kind : str
        Name of the kind of pane.

    Returns
    -------
    ndarray, shape (n, 2)
        Heights [m]: zero where none was withstood, infinite where none broke it. A pane that
        broke at or below a height it had withstood had a new flaw: only what it withstood
        counts. Blows on a pane already broken do not count; those of the day on which it
        broke came before, wherever they stand, for a correction stands at the end.

    """
    struck: dict[str, list[Entry]] = {}
    for number, entry in enumerate(entries):
        if entry.kind == kind:
            single = "#" in entry.pane
            struck.setdefault(entry.pane if single else f"#{number}", []).append(entry)
    return np.array([_bounds(blows) for blows in struck.values()]).reshape(-1, 2)


def _bounds(blows: Sequence[Entry]) -> tuple[float, float]:
    """Return the highest fall that one pane withstood, and the one that broke it."""
    end = next((place for place, one in enumerate(blows) if one.broke), len(blows))
    withstood = [one.height for one in blows[:end]]
    if end == len(blows):
        return max(withstood), np.inf
    last = blows[end]
    withstood += [one.height for one in blows[end:] if not one.broke and one.date <= last.date]
    most = max(withstood, default=0.0)
    return most, last.height if last.height > most else np.inf
