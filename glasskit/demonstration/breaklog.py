# SPDX-License-Identifier: MIT
"""Keep a log of what really happened, so that it can correct the odds.

One line for each blow: date, pane, height, surface, broke or not, where the break began. The
log is a CSV file that any spreadsheet opens. A damaged line is reported and left as it is, and
spoils no other; a new line is added by writing the whole file anew beside the old one and
putting it in its place in one step, under a lock.

A pane that was struck more than once is named with a number, "ordinary #3". It counts once:
it withstood its highest blow, and broke between that and the blow that broke it. Blows it had
withstood tell nothing more, for they weaken it only through new flaws.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from glasskit.files import named, update
from glasskit.quantities import FloatArray, plain_number, positive
from glasskit.rows import Trouble, cells

COLUMNS = ("date", "pane", "height_m", "surface", "broke", "origin")
"""First line of the file."""

_YES = {"yes", "y", "true", "1", "broke"}
_NO = {"no", "n", "false", "0", "held"}


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
        if not self.kind:
            raise ValueError(f"pane must be named; got {self.pane!r}")

    @property
    def kind(self) -> str:
        """Name of the kind of pane, without the number."""
        return self.pane.partition("#")[0].strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """What a file holds.

    Attributes
    ----------
    entries : tuple of Entry
        Every line that could be read, in order.
    troubles : tuple of Trouble
        Every line that could not.

    """

    entries: tuple[Entry, ...]
    troubles: tuple[Trouble, ...]


def read_log(path: str | Path) -> Log:
    """Read a break log, line by line.

    Parameters
    ----------
    path : str or Path
        CSV file; commas or semicolons between the fields, decimal point or comma.

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
    entries, troubles = [], []
    for number, text in enumerate(_lines(_content(named(path))), start=1):
        if not text.strip() or (number == 1 and _is_header(text)):
            continue
        try:
            entries.append(_entry(text))
        except ValueError as error:
            troubles.append(Trouble(line=number, text=text, words=str(error)))
    return Log(entries=tuple(entries), troubles=tuple(troubles))


def add(path: str | Path, *entries: Entry) -> None:
    """Add blows to a log; makes the file if there is none.

    Parameters
    ----------
    path : str or Path
        CSV file.
    *entries : Entry
        Blows, in order.

    Raises
    ------
    OSError
        If the file cannot be written; it is then as it was.

    Notes
    -----
    Whatever the file holds is kept byte for byte, damaged lines too, and what two people add
    at the same moment; see `files.update`.

    """

    def grown(content: bytes | None) -> bytes:
        old = content or b""
        rows = io.StringIO(newline="")
        writer = csv.writer(rows, lineterminator="\n")
        if not old.strip():
            writer.writerow(COLUMNS)
        elif not old.endswith((b"\n", b"\r")):
            rows.write("\n")  # the last line was cut short: do not write on behind it
        writer.writerows(_row(entry) for entry in entries)
        return old + rows.getvalue().encode("utf-8", "surrogateescape")

    update(path, grown)


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""


def _lines(content: bytes) -> list[str]:
    # Broken bytes stay visible; only true line ends part lines, so no line swallows another.
    text = content.removeprefix(b"\xef\xbb\xbf").decode("utf-8", "surrogateescape")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _fields(text: str) -> Sequence[str]:
    """Return the fields of one line, parted by whatever parts it into the right number."""
    found = cells(text, ";")
    return found if len(found) == len(COLUMNS) else cells(text, ",")


def _is_header(text: str) -> bool:
    with suppress(ValueError):
        return _fields(text)[0].lower() == COLUMNS[0]
    return False


def _entry(text: str) -> Entry:
    fields = _fields(text)
    if len(fields) != len(COLUMNS):
        raise ValueError(f"line must have {len(COLUMNS)} fields; got {len(fields)}")
    day, pane, height, surface, broke, origin = fields
    said = broke.lower()
    if said not in _YES | _NO:
        raise ValueError(f"broke must be yes or no; got {broke!r}")
    try:
        fall = plain_number(height)
    except ValueError:
        raise ValueError(f"height_m must be a number in m; got {height!r}") from None
    return Entry(
        date=date.fromisoformat(day),
        pane=pane,
        height=fall,
        surface=surface,
        broke=said in _YES,
        origin=origin,
    )


def _row(entry: Entry) -> list[str]:
    """Return the fields of one entry, each on one line."""
    said = "yes" if entry.broke else "no"
    fields = (entry.pane, repr(float(entry.height)), entry.surface, said, entry.origin)
    return [entry.date.isoformat(), *(" ".join(field.split()) for field in fields)]


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
        counts. Blows on a pane already broken do not count.

    """
    found: dict[str, list[float]] = {}
    for number, entry in enumerate(entries):
        if entry.kind != kind:
            continue
        single = "#" in entry.pane
        pair = found.setdefault(entry.pane if single else f"#{number}", [0.0, np.inf, 0.0])
        if pair[2]:
            continue
        if not entry.broke:
            pair[0] = max(pair[0], entry.height)
            continue
        pair[2] = 1.0
        if entry.height > pair[0]:
            pair[1] = entry.height
    return np.array([pair[:2] for pair in found.values()]).reshape(-1, 2)
