# SPDX-License-Identifier: MIT
"""Keep a trainee's progress in a small file of their own that a crash cannot spoil.

JSON with a version. It is read again before each writing, so that two open pages keep both
their tries, and written whole or not at all. A file that cannot be understood is never
overwritten but kept aside under another name; an entry that cannot stays in it as it is.
"""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from datetime import date
from pathlib import Path
from typing import Any

from glasskit.files import content, locked, named, next_free, update
from glasskit.quantities import of_type, one_of, whole
from glasskit.training.cases import KINDS, LEVELS

VERSION = 1
"""Version of the file; a file of a later one is kept aside, not guessed at."""

_NOT_OURS = (ValueError, RecursionError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """What a trainee has made of one case.

    Attributes
    ----------
    mistake : str
        Kind of the planted mistake, one of `glasskit.training.cases.KINDS`.
    seed : int
        Number of the set.
    day : date
        Day of the last try.
    guesses, tries, hints : int
        How many mistakes were named, numbers typed, hints asked for.
    named, solved : bool
        Whether the mistake was named, and the right number found.
    level : int
        What the working showed, a key of `cases.LEVELS`.

    Examples
    --------
    >>> first = Attempt(mistake="psi", seed=1, day=date(2030, 1, 2), guesses=1)
    >>> first.solved
    False

    """

    mistake: str
    seed: int
    day: date
    guesses: int = 0
    tries: int = 0
    hints: int = 0
    named: bool = False
    solved: bool = False
    level: int = 1

    def __post_init__(self) -> None:
        one_of("mistake", self.mistake, KINDS)
        for name in ("seed", "guesses", "tries", "hints"):
            whole(name, getattr(self, name))
        whole("level", self.level, 1, len(LEVELS))
        for name in ("named", "solved"):
            if not isinstance(getattr(self, name), bool):
                raise ValueError(f"{name} must be true or false; got {getattr(self, name)!r}")

    @property
    def done(self) -> bool:
        """Whether the mistake was named and the right number found."""
        return self.named and self.solved


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """All attempts of one trainee.

    Attributes
    ----------
    trainee : str
        Name as they wrote it.
    attempts : tuple of Attempt
        One for each case begun, in order.

    """

    trainee: str = ""
    attempts: tuple[Attempt, ...] = ()

    @property
    def learned(self) -> tuple[str, ...]:
        """Kinds of mistake found and put right at least once."""
        done = {attempt.mistake for attempt in self.attempts if attempt.done}
        return tuple(kind for kind in KINDS if kind in done)

    def of(self, mistake: str, seed: int, day: date, level: int = 1) -> Attempt:
        """Return the attempt at one case, a new one dated `day` if there is none."""
        for attempt in self.attempts:
            if (attempt.mistake, attempt.seed, attempt.level) == (mistake, seed, level):
                return attempt
        return Attempt(mistake=mistake, seed=seed, day=day, level=level)

    def with_attempt(self, attempt: Attempt) -> "Progress":
        """Return the progress with one attempt put in or brought up to date."""
        found = {(one.mistake, one.seed, one.level): one for one in self.attempts}
        found[attempt.mistake, attempt.seed, attempt.level] = attempt
        return replace(self, attempts=tuple(found.values()))

    def with_all(self, other: "Progress") -> "Progress":
        """Return what both hold, the most of each case; the name is that of `other`."""
        merged = replace(self, trainee=other.trainee or self.trainee)
        for attempt in other.attempts:
            here = merged.of(attempt.mistake, attempt.seed, attempt.day, attempt.level)
            merged = merged.with_attempt(
                Attempt(
                    **{
                        name: max(value, getattr(here, name))
                        for name, value in asdict(attempt).items()
                    }
                )
            )
        return merged


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """What a file held.

    Attributes
    ----------
    progress : Progress
        Empty if there was no file, or none that could be understood.
    trouble : str
        What could not be understood, and where it is kept; empty if all is well.

    """

    progress: Progress
    trouble: str = ""


def open_progress(path: str | os.PathLike[str]) -> Opened:
    """Read a trainee's file; keep it aside if it is damaged.

    Parameters
    ----------
    path : path
        JSON file of `save_progress`.

    Returns
    -------
    Opened
        Progress, and what is to be told to the trainee.

    Raises
    ------
    OSError
        If the file is there but cannot be read or has more than a million bytes, or a damaged
        one cannot be renamed.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     fresh = open_progress(f"{folder}/mine.json")
    >>> fresh.progress == Progress()
    True

    """
    place = named(path)
    held = content(place)
    if held is None:
        return Opened(progress=Progress())
    try:
        return _told(_held(held), place)[0]
    except _NOT_OURS:
        with locked(place):  # another page may be putting a sound file in its place
            held = content(place)
            return Opened(progress=Progress()) if held is None else _opened(held, place)[0]


def _opened(held: bytes, place: Path) -> tuple[Opened, dict[str, Any]]:
    """Return what a file holds that is locked, or keep it aside."""
    try:
        return _told(_held(held), place)
    except _NOT_OURS as fault:
        with next_free(place.parent, f"{place.stem}-damaged") as [free]:
            aside = free.with_name(free.name + place.suffix)
            place.rename(aside)
        said = f"{place.name} could not be understood ({fault}); it is kept as {aside.name}"
        return Opened(progress=Progress(), trouble=said), {"attempts": []}


def _told(held: dict[str, Any], place: Path) -> tuple[Opened, dict[str, Any]]:
    """Return what a file holds, and what of it is not understood but stays there."""
    progress, strange, why = Progress(trainee=held["trainee"]), [], ""
    for row in held["attempts"]:
        try:
            progress = progress.with_all(Progress(attempts=(_attempt(row),)))
        except ValueError as fault:
            strange.append(row)
            why = why or str(fault)
    said = f"{len(strange)} of {len(held['attempts'])} entries in {place.name} "
    said += f"cannot be understood ({why}); they stay there as they are"
    kept = {**held, "attempts": strange}
    return Opened(progress=progress, trouble=said if strange else ""), kept


def _held(written: bytes) -> dict[str, Any]:
    try:
        held = json.loads(written)
    except UnicodeDecodeError:
        raise ValueError("it is no text in UTF-8") from None
    if not isinstance(held, dict):
        raise ValueError("it holds no progress")
    if held.get("version") != VERSION:
        raise ValueError(
            f"it is of version {held.get('version')!r}, this kit writes {VERSION}"
        )
    if not isinstance(held.get("trainee"), str):
        raise ValueError("the name is no text")
    if not isinstance(held.get("attempts"), list):
        raise ValueError("it holds no list of attempts")
    return held


def _attempt(row: Any) -> Attempt:
    if not isinstance(row, Mapping):
        raise ValueError(f"an entry must have names for its values; got {row!r:.40}")
    known = {one.name for one in fields(Attempt)}
    for name in (
        *sorted(row.keys() - known),
        *sorted({"mistake", "seed", "day"} - row.keys()),
    ):
        raise ValueError(f"an entry must hold mistake, seed and day; see {name!r:.40}")
    return Attempt(**{**row, "day": date.fromisoformat(str(row["day"]))})


def save_progress(progress: Progress, path: str | os.PathLike[str]) -> Opened:
    """Add a trainee's progress to their file, which is written whole or not at all.

    Parameters
    ----------
    progress : Progress
        What to keep.
    path : path
        JSON file; its folder is made.

    Returns
    -------
    Opened
        What the file holds now: also what another page has written since it was opened.

    Raises
    ------
    OSError
        If it cannot be read or written; the file is then as it was.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     _ = save_progress(Progress(), f"{folder}/mine.json")
    ...     kept = open_progress(f"{folder}/mine.json")
    >>> kept.progress == Progress()
    True

    """
    of_type("progress", progress, Progress)
    place, now = named(path), Opened(progress=progress)

    def merged(held: bytes | None) -> bytes:
        nonlocal now
        there = Opened(progress=Progress())
        kept: dict[str, Any] = {"attempts": []}
        if held is not None:
            there, kept = _opened(held, place)
        now = replace(there, progress=there.progress.with_all(progress))
        rows = [{**asdict(one), "day": one.day.isoformat()} for one in now.progress.attempts]
        rows += kept["attempts"]
        own = {"version": VERSION, "trainee": now.progress.trainee, "attempts": rows}
        text = json.dumps({**kept, **own}, indent=1, ensure_ascii=False) + "\n"
        return text.encode("utf-8", "replace")

    place.parent.mkdir(parents=True, exist_ok=True)
    update(place, merged)
    return now
