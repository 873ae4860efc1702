# SPDX-License-Identifier: MIT
"""Keep the record of a first week: what was done on which day, what shows it, who saw it.

A table as text that only grows: each line a day, a task of ``glasskit/data/week.csv``, the
evidence and who saw it. Spreadsheets read it; a line that cannot be understood stays in it.
"""

import csv
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from io import StringIO

from glasskit.files import content, named, update
from glasskit.quantities import of_type, one_of
from glasskit.rows import Trouble, bare_cell, cells, decode, safe_cell
from glasskit.rows import rows as parted
from glasskit.tables import read

_HEADER = ("day", "task", "evidence", "seen by")
_MARK = ";"


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Something to do in the first week.

    Attributes
    ----------
    day : str
        "0" to "5", or "any".
    words, evidence : str
        What to do, and what shows that it was done.

    """

    day: str
    words: str
    evidence: str


@cache
def tasks() -> Mapping[str, Task]:
    """Return every task of the week by its key, in order.

    Returns
    -------
    mapping of str to Task
        From the induction to the last day.

    """
    return {
        row["key"]: Task(day=row["day"], words=row["task"], evidence=row["evidence"])
        for row in read("week")
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the record.

    Attributes
    ----------
    day : date
        When it was done.
    task : str
        A key of `tasks`.
    evidence : str
        What shows it: a file, a number, a place.
    seen_by : str
        Whoever saw it; empty if nobody did.

    """

    day: date
    task: str
    evidence: str
    seen_by: str = ""

    def __post_init__(self) -> None:
        of_type("day", self.day, date)
        one_of("task", self.task, tasks())
        if not self.evidence.strip():
            raise ValueError("evidence must say what shows that it was done; got nothing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """What a record holds.

    Attributes
    ----------
    entries : tuple of Entry
        In the order of the file.
    troubles : tuple of Trouble
        Lines that cannot be understood; they stay in the file.

    """

    entries: tuple[Entry, ...] = ()
    troubles: tuple[Trouble, ...] = ()

    @property
    def done(self) -> frozenset[str]:
        """Tasks with an entry."""
        return frozenset(entry.task for entry in self.entries)

    @property
    def days(self) -> int:
        """On how many days something was done [-]."""
        return len({entry.day for entry in self.entries})


def open_week(path: str | os.PathLike[str]) -> Week:
    """Read a record.

    Parameters
    ----------
    path : path
        File of `add_entry`.

    Returns
    -------
    Week
        Empty if there is no file.

    Raises
    ------
    OSError
        If the file is there but cannot be read.
    ValueError
        If it is no text.

    Examples
    --------
    >>> open_week("folder/that/is/not/there.csv").entries
    ()

    """
    held = content(path)
    return Week() if not held else _told(held)


def _told(held: bytes) -> Week:
    entries, troubles = [], []
    for line in parted(decode(held)).lines:
        try:
            found = [bare_cell(cell) for cell in cells(line.text, _MARK)]
            if len(found) != len(_HEADER):
                raise ValueError(f"line must have {len(_HEADER)} cells; got {len(found)}")
            day, task, evidence, seen_by = found
            entries.append(
                Entry(
                    day=date.fromisoformat(day), task=task, evidence=evidence, seen_by=seen_by
                )
            )
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    return Week(entries=tuple(entries), troubles=tuple(troubles))


def add_entry(path: str | os.PathLike[str], entry: Entry) -> Week:
    """Add a line to a record; nothing that is in it is touched.

    Parameters
    ----------
    path : path
        The file; made with its first entry, and so is its folder.
    entry : Entry
        What was done.

    Returns
    -------
    Week
        What the file holds now.

    Raises
    ------
    OSError
        If it cannot be read or written; it is then as it was.
    ValueError
        If what is there is no text.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> first = Entry(day=date(2030, 1, 7), task="induction", evidence="page, signed")
    >>> with TemporaryDirectory() as folder:
    ...     week = add_entry(f"{folder}/my_week.csv", first)
    >>> week.done
    frozenset({'induction'})

    """
    of_type("entry", entry, Entry)
    place = named(path)

    def longer(held: bytes | None) -> bytes:
        before = decode(held).rstrip("\r\n") if held else _MARK.join(_HEADER)
        return f"{before}\n{_line(entry)}\n".encode()

    place.parent.mkdir(parents=True, exist_ok=True)
    return _told(update(place, longer).read_bytes())


def _line(entry: Entry) -> str:
    told = (entry.day.isoformat(), entry.task, entry.evidence, entry.seen_by)
    row = StringIO()
    plain = [safe_cell(" ".join(cell.split())) for cell in told]
    csv.writer(row, delimiter=_MARK, lineterminator="").writerow(plain)
    return row.getvalue()
