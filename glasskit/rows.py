# SPDX-License-Identifier: MIT
"""Read tables that people and spreadsheets write: any encoding, any separator, line by line.

What every reader of the kit shares: bytes to text, the separator, the first row with units in
its headings, remarks, and lines that are set aside with a sentence and their text, so that
nothing in a file is lost without a word. What the columns mean is the reader's own business.
"""

import csv
import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile

from glasskit.quantities import of_type

__all__ = [
    "BROKE",
    "HELD",
    "LARGEST",
    "Line",
    "Rows",
    "Trouble",
    "bare_cell",
    "cells",
    "decode",
    "heading",
    "load",
    "rows",
    "safe_cell",
    "under_titles",
]

LARGEST = 5_000_000
"""Bytes that a table may have; some hundred thousand lines."""

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


class Line(NamedTuple):
    """A line of a file: its number, from 1, and its text."""

    number: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """A line that was set aside.

    Attributes
    ----------
    line : int
        Line of the file, from 1.
    text : str
        The line as it stands there.
    words : str
        What is wrong with it, in a sentence without full stop.

    """

    line: int
    text: str
    words: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """The lines of a table, told apart but not yet read.

    Attributes
    ----------
    mark : str
        What parts the cells: a tab, a semicolon or a comma; empty if the first row has none.
    first : Line
        The first row, which names the columns.
    lines : tuple of Line
        All that follow and hold something, in order.
    remarks : tuple of Line
        Lines that were taken for remarks: they begin with ``#`` before the first row, or with
        ``#`` and a blank and have no separator. "#3; 12" is a row: many count with that sign.
    blanks : tuple of Line
        Lines that hold nothing but blanks and separators, and a spreadsheet's ``sep=;``.

    """

    mark: str
    first: Line
    lines: tuple[Line, ...]
    remarks: tuple[Line, ...]
    blanks: tuple[Line, ...]


def load(path: str | os.PathLike[str]) -> str:
    """Return the text of a file, see `decode`.

    Raises
    ------
    OSError
        If the file cannot be read.
    ValueError
        If it is no text, or too large.

    """
    place = Path(path)
    if place.stat().st_size > LARGEST:  # refused before it fills the memory
        raise ValueError(_too_large(place.stat().st_size))
    return decode(place.read_bytes())


def decode(content: bytes) -> str:
    r"""Return the text of a table as spreadsheets write it: UTF-8, UTF-16, Windows' own, XLSX.

    Parameters
    ----------
    content : bytes
        All that the file holds.

    Returns
    -------
    str
        Text without the mark of its encoding; of a workbook its first sheet that holds
        anything, a line for each row, and a remark at the end that names the other sheets.

    Raises
    ------
    ValueError
        If it holds what no text has, more than `LARGEST` bytes, or a workbook that cannot be
        read: openpyxl must be installed.

    Examples
    --------
    >>> decode("diagonal [µm]".encode("cp1252")), decode("diagonal [µm]".encode("utf-16"))
    ('diagonal [µm]', 'diagonal [µm]')

    """
    if len(content) > LARGEST:
        raise ValueError(_too_large(len(content)))
    if content.startswith(b"PK\x03\x04"):
        return _workbook(content)
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        if len(content) % 2:
            raise ValueError(
                "the file must be whole; got a UTF-16 text that ends in mid-letter"
            )
        return content.decode("utf-16", errors="replace")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    if "\0" in text:
        raise ValueError("the file must be a table as text, such as CSV; got other bytes")
    return text


def _workbook(content: bytes) -> str:
    """Return the first sheet that holds anything as text, cells parted by semicolons."""
    try:
        import openpyxl  # slow to load, and seldom wanted
    except ImportError:
        raise ValueError(
            "the file must be a table as text; to open a workbook: pip install openpyxl"
        ) from None
    try:
        book = openpyxl.load_workbook(BytesIO(content), read_only=True, data_only=True)
        told = {sheet.title: _sheet(sheet) for sheet in book.worksheets}
    except _NO_WORKBOOK as fault:
        said = "the file must be a table as text, such as CSV; got other bytes, no workbook"
        raise ValueError(f"{said} either: {fault}") from None
    held = {title: lines for title, lines in told.items() if any(line for line in lines)}
    if not held:
        return ""
    first, *others = held
    remark = [f"# sheets that are not read: {', '.join(others)}"] if others else []
    return "\n".join([*held[first], *remark, ""])


_NO_WORKBOOK = (BadZipFile, KeyError, ValueError, TypeError, OSError, EOFError, ParseError)


def _sheet(sheet: Any) -> list[str]:
    """Return the rows of a sheet as lines, an empty one for an empty row."""
    lines, size = [], 0
    for row in sheet.iter_rows(values_only=True):
        cells = [_cell(value) for value in row]
        size += sum(len(cell) + 1 for cell in cells)
        if size > LARGEST:  # a small file may hold a great deal
            raise ValueError(_too_large(size))
        line = StringIO()
        csv.writer(line, delimiter=";", lineterminator="").writerow(cells)
        lines.append(line.getvalue() if any(cells) else "")
    return lines


def _cell(value: object) -> str:
    """Write what stands in a cell of a workbook."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    return f"{value:.12g}" if isinstance(value, float) else " ".join(str(value).split())


def _too_large(size: int) -> str:
    return f"the file must be no larger than {LARGEST / 1e6:g} MB; got {size / 1e6:.1f} MB"


def rows(text: str) -> Rows:
    r"""Tell first row, lines and remarks of a table apart.

    Parameters
    ----------
    text : str
        Lines end in any way; a spreadsheet's own first line ``sep=;`` is passed over.

    Returns
    -------
    Rows
        Every line that holds something.

    Raises
    ------
    ValueError
        If there is no first row.

    Examples
    --------
    >>> found = rows("# bent on Monday\nspecimen; force [N]\n#1; 3,5\n# a pause\n#2; 4")
    >>> found.mark, [line.number for line in found.lines], len(found.remarks)
    (';', [3, 5], 2)

    """
    # Only true line ends part lines, so that no stray control character splits a row.
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    told: list[Line] = []
    remarks: list[Line] = []
    blanks: list[Line] = []
    mark = ""
    for line in (
        Line(n, one) for n, one in enumerate(plain.removesuffix("\n").split("\n"), start=1)
    ):
        if not line.text.strip(" \t;,") or (not told and line.text.startswith("sep=")):
            blanks.append(line)
            continue
        if line.text.lstrip().startswith("#") and _is_remark(line.text, bool(told)):
            remarks.append(line)
            continue
        if not told:
            mark = _mark(line.text)
        told.append(line)
    if not told:
        raise ValueError("the first row must name the columns; got no row at all")
    return Rows(
        mark=mark,
        first=told[0],
        lines=tuple(told[1:]),
        remarks=tuple(remarks),
        blanks=tuple(blanks),
    )


def under_titles(table: Rows, names: Callable[[Sequence[str], Sequence[str]], bool]) -> Rows:
    r"""Find the row that names the columns below the titles that a rig writes above it.

    Parameters
    ----------
    table : Rows
        From `rows`, which takes the first line for that row.
    names : callable
        Tells from the cells of a line, and from those of the line below, whether it names
        the columns.

    Returns
    -------
    Rows
        The titles among its remarks; the same table if none of the first lines fits.

    Raises
    ------
    TypeError
        If `table` is none.

    Examples
    --------
    >>> found = under_titles(rows("Bending, lot 3\nspecimen;force [N]\n1;3,5"),
    ...                      lambda row, below: "specimen" in row)
    >>> found.first.text, [line.text for line in found.remarks]
    ('specimen;force [N]', ['Bending, lot 3'])

    """
    of_type("table", table, Rows)
    every = [table.first, *table.lines]
    for at, line in enumerate(every[:_TITLES]):
        mark = _mark(line.text)
        under = every[min(at + 1, len(every) - 1)]
        try:
            row, below = cells(line.text, mark), cells(under.text, mark)
        except ValueError:
            continue
        if names(row, below):
            titles = sorted([*every[:at], *table.remarks])
            rest = tuple(every[at + 1 :])
            return replace(table, mark=mark, first=line, lines=rest, remarks=tuple(titles))
    return table


_TITLES = 40  # lines among which the row that names the columns is looked for


def _mark(text: str) -> str:
    """Return what parts the cells of a line."""
    return next((one for one in "\t;," if one in text), "")


def _is_remark(text: str, after_first: bool) -> bool:
    bare = text.lstrip()
    return not after_first or (bare[1:2] in ("", " ") and not re.search(r"[\t;,]", bare))


def cells(text: str, mark: str) -> Sequence[str]:
    """Return the cells of one line, without blanks around them.

    Each line is read by itself, so that a quotation mark left open spoils its own line only.

    Parameters
    ----------
    text : str
        The line.
    mark : str
        What parts the cells; empty for two blanks or more, as pasted from a text.

    Returns
    -------
    sequence of str
        The cells.

    Raises
    ------
    ValueError
        If a quotation mark stays open, or a cell is endless.

    Examples
    --------
    >>> cells('A1, "3, in a row",4', ",")
    ['A1', '3, in a row', '4']

    """
    if not mark:
        return re.split(r"\s{2,}", text.strip())
    try:
        found = next(csv.reader([text], delimiter=mark, strict=True, skipinitialspace=True))
    except csv.Error as fault:
        if "limit" in str(fault):
            raise ValueError("a cell must be shorter than 100,000 letters; got more") from None
        raise ValueError(f"quotation marks must be closed; got {fault}") from None
    return [cell.strip() for cell in found]


def heading(cell: str) -> tuple[str, str]:
    """Return the name and the unit of a column, as people write them.

    Parameters
    ----------
    cell : str
        ``force [N]``, ``force (N)``, ``force / N``, ``force, N``, ``force in N``, or a name
        alone.

    Returns
    -------
    tuple of str
        Name and unit, the unit empty where none is given; the Greek letter and the sign for
        micro are one.

    Examples
    --------
    >>> heading("diagonal [μm]"), heading("force / N"), heading("thickness in mm")
    (('diagonal', 'µm'), ('force', 'N'), ('thickness', 'mm'))

    """
    plain = " ".join(cell.replace("μ", "µ").split())
    for pattern in (
        r"(.*?)\s*\[(.*)\]?",
        r"(.*?)\s*\((.*)\)",
        r"(.*?)\s+/\s*(.*)",
        r"(.*?)/\s+(.*)",
        r"(.+?)(?:,\s*| in )(\S+)",
    ):
        found = re.fullmatch(pattern, plain)
        if found:
            return found[1].strip(), found[2].rstrip("]").strip()
    return plain, ""


BROKE = frozenset(
    {
        "broke",
        "broken",
        "yes",
        "y",
        "true",
        "1",
        "x",
        "ja",
        "wahr",
        "oui",
        "vrai",
        "sí",
        "vero",
    }
)
"""What people write for a piece that broke, in small letters, and what spreadsheets of some
languages make of it."""

HELD = frozenset(
    {
        "held",
        "survived",
        "no",
        "n",
        "false",
        "0",
        "o",
        "nein",
        "falsch",
        "non",
        "faux",
        "falso",
    }
)
"""What they write for one that did not."""


def safe_cell(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula.

    Examples
    --------
    >>> safe_cell("=1+1"), safe_cell("-5"), safe_cell("edge")
    ("'=1+1", '-5', 'edge')

    """
    if text.startswith(_FORMULA) and not re.fullmatch(r"[-+]?[\d.,]+([eE][-+]?\d+)?", text):
        return f"'{text}"
    return text


def bare_cell(text: str) -> str:
    """Return a cell as it was before `safe_cell`.

    Examples
    --------
    >>> bare_cell("'=1+1"), bare_cell("'tis")
    ('=1+1', "'tis")

    """
    return text[1:] if text.startswith("'") and safe_cell(text[1:]) == text else text
