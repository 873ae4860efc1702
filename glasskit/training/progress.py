# SPDX-License-Identifier: MIT
"""Keep a trainee's progress in a small file of their own that a crash cannot spoil.

JSON with a version. It is written whole or not at all; a file that cannot be understood is
never overwritten but kept aside under another name.
"""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from glasskit.files import next_free, replace_file
from glasskit.quantities import of_type, one_of, whole
from glasskit.training.cases import KINDS

VERSION = 1
"""Version of the file; a file of a later one is kept aside, not guessed at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """What a trainee has made of one case.

    Attributes
    ----------
    mistake : str
        Kind of the planted mistake, one of `practice.KINDS`.
    seed : int
        Number of the set.
    day : date
        Day of the last try.
    guesses, tries, hints : int
        How many mistakes were named, numbers typed, hints asked for.
    named, solved : bool
        Whether the mistake was named, and the right number found.

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

    def __post_init__(self) -> None:
        one_of("mistake", self.mistake, KINDS)
        for name in ("seed", "guesses", "tries", "hints"):
            whole(name, getattr(self, name))
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

    def of(self, mistake: str, seed: int, day: date) -> Attempt:
        """Return the attempt at one case, a new one dated `day` if there is none."""
        for attempt in self.attempts:
            if (attempt.mistake, attempt.seed) == (mistake, seed):
                return attempt
        return Attempt(mistake=mistake, seed=seed, day=day)

    def with_attempt(self, attempt: Attempt) -> "Progress":
        """Return the progress with one attempt put in or brought up to date."""
        found = {(one.mistake, one.seed): one for one in self.attempts}
        found[attempt.mistake, attempt.seed] = attempt
        return replace(self, attempts=tuple(found.values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """What a file held.

    Attributes
    ----------
    progress : Progress
        Empty if there was no file, or none that could be understood.
    trouble : str
        What was wrong, and where the damaged file is kept; empty if all is well.

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
        If the file is there but cannot be read, or a damaged one cannot be renamed.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     fresh = open_progress(f"{folder}/mine.json")
    >>> fresh.progress == Progress()
    True

    """
    place = Path(path)
    try:
        content = place.read_bytes()
    except FileNotFoundError:
        return Opened(progress=Progress())
    try:
        return Opened(progress=_understood(json.loads(content)))
    except (ValueError, TypeError, KeyError, RecursionError) as fault:
        [free] = next_free(place.parent, f"{place.stem}-damaged")
        aside = free.with_name(free.name + place.suffix)
        place.rename(aside)
        said = f"{place.name} could not be understood ({fault}); it is kept as {aside.name}"
        return Opened(progress=Progress(), trouble=said)


def _understood(held: Any) -> Progress:
    if not isinstance(held, Mapping):
        raise ValueError("it holds no progress")
    if held["version"] != VERSION:
        raise ValueError(f"it is of version {held['version']!r}, this kit writes {VERSION}")
    if not isinstance(held["trainee"], str):
        raise ValueError("the name is no text")
    attempts = [
        Attempt(**{**one, "day": date.fromisoformat(one["day"])}) for one in held["attempts"]
    ]
    return Progress(trainee=held["trainee"], attempts=tuple(attempts))


def save_progress(progress: Progress, path: str | os.PathLike[str]) -> None:
    """Write a trainee's file whole or not at all.

    Parameters
    ----------
    progress : Progress
        What to keep.
    path : path
        JSON file; its folder is made.

    Raises
    ------
    OSError
        If it cannot be written; the file is then as it was.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     save_progress(Progress(), f"{folder}/mine.json")
    ...     kept = open_progress(f"{folder}/mine.json")
    >>> kept.progress == Progress()
    True

    """
    of_type("progress", progress, Progress)
    place = Path(path).resolve()
    place.parent.mkdir(parents=True, exist_ok=True)
    rows = [{**asdict(one), "day": one.day.isoformat()} for one in progress.attempts]
    held = {"version": VERSION, "trainee": progress.trainee, "attempts": rows}
    text = json.dumps(held, indent=1, ensure_ascii=False) + "\n"
    replace_file(place, text.encode("utf-8", "replace"))
