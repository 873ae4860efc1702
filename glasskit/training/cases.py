# SPDX-License-Identifier: MIT
"""Set cases with a planted mistake, and mark what a trainee makes of them.

Every case is invented: a seed draws the readings, the formulas of the package compute the
wrong result and the truth from the readings as they are printed. Some cases hold no mistake,
some two. The words stand in ``glasskit/data/practice.csv``, a row for each kind; what else is
offered as a mistake, all of the same method, in ``practice_decoys.csv``.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np

from glasskit.quantities import finite, one_of, show, unit, whole
from glasskit.tables import read
from glasskit.training.mistakes import MISTAKES, Draws

Verdict = Literal["right", "near", "planted", "power of ten", "low", "high"]

KINDS = tuple(MISTAKES)
"""Every kind of case, from plain slips to slips of judgement; a few hold none, or two."""

HOLDS = ("holds_bar", "holds_mirror")
"""Kinds of `KINDS` that hold no mistake."""

LEVELS = {1: "working in words", 2: "numbers only"}
"""What the working of a case shows."""

_CLEAR = 5.0  # tolerances at least between truth and planted result
_NEAR = 4.0  # tolerances up to which an answer is near: rounded too early
_CHOICES = 5  # the right one, "no mistake", and others of the same method


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One reduced measurement with a mistake in it, or two, or none.

    Attributes
    ----------
    mistake : str
        Kind of the planted mistake, one of `KINDS`.
    seed : int
        Gives the same case again.
    level : int
        A key of `LEVELS`.
    title, story, working, question : str
        What was measured; how it was reduced, with the wrong result; what is asked.
    quantity : str
        Kind of the number asked for, a key of `quantities.UNITS`.
    truth, planted : float
        Right number and the one a repeat of the mistake gives [SI]; equal if there is none.
    tolerance : float
        Share of the truth within which an answer is right [-].
    choices : tuple of str
        Five answers to choose from, the right one and "no mistake" among them.
    hints : tuple of str
        Step by step, the last one all but the number.
    lesson : str
        What to keep in mind, said with the right answer.

    """

    mistake: str
    seed: int
    level: int
    title: str
    story: str
    working: str
    question: str
    quantity: str
    truth: float
    planted: float
    tolerance: float
    choices: tuple[str, ...]
    hints: tuple[str, ...]
    lesson: str

    @property
    def unit(self) -> str:
        """Unit in which the answer is typed; empty for a plain number."""
        return unit(self.quantity).symbol

    def mark(self, answer: float) -> Verdict:
        """Return how an answer stands.

        Parameters
        ----------
        answer : float
            Number found [SI].

        Returns
        -------
        str
            "right" within the tolerance; "near" within four of them; "planted" if it repeats
            the mistake; "power of ten" if only the decimal point is wrong; else "low" or
            "high".

        Raises
        ------
        ValueError
            If `answer` is not finite.

        """
        finite("answer", answer)
        off = abs(answer / self.truth - 1)
        if off <= self.tolerance:
            return "right"
        if abs(answer / self.planted - 1) <= self.tolerance:
            return "planted"
        if off <= _NEAR * self.tolerance:
            return "near"
        if answer > 0:
            tens = np.log10(answer / self.truth)
            if abs(10 ** (tens - np.round(tens)) - 1) <= self.tolerance:
                return "power of ten"
        return "low" if answer < self.truth else "high"


def case(mistake: str, seed: int, level: int = 1) -> Case:
    """Return one case.

    Parameters
    ----------
    mistake : str
        One of `KINDS`.
    seed : int
        Zero or more; the same seed gives the same case.
    level : {1, 2}
        Whether the working is told in words, or shows numbers only.

    Returns
    -------
    Case
        Readings so drawn that the planted result is told apart from the truth.

    Raises
    ------
    ValueError
        If kind or level is unknown, or the seed negative.

    Examples
    --------
    >>> one = case("kilogram_force", 1)
    >>> one.mark(one.truth), one.mark(one.planted)
    ('right', 'planted')

    """
    one_of("mistake", mistake, KINDS)
    seed, level = whole("seed", seed), whole("level", level, 1, len(LEVELS))
    row = _rows()[mistake]
    rng = np.random.default_rng([KINDS.index(mistake), seed])
    tolerance = float(row["tolerance"])
    while True:
        draws = Draws(rng)
        planted, truth = MISTAKES[mistake](draws)
        if mistake in HOLDS or abs(planted / truth - 1) > _CLEAR * tolerance:
            break
    bare = {name: text.split(" ")[0] for name, text in draws.shown.items()}
    words = {**draws.shown, "n": bare, "planted": _printed(planted, row["quantity"])}
    said = {name: row[name].format_map(words) for name in _SAID}
    return Case(
        mistake=mistake,
        seed=seed,
        level=level,
        title=row["title"],
        story=said["story"],
        working=said["working" if level == 1 else "numbers"],
        question=row["question"],
        quantity=row["quantity"],
        truth=truth,
        planted=planted,
        tolerance=tolerance,
        choices=_choices(mistake, row["beside"].split(), rng),
        hints=(said["hint1"], said["hint2"], said["hint3"]),
        lesson=row["lesson"],
    )


def _printed(value: float, quantity: str) -> str:
    count = quantity == "number" and value.is_integer()
    return f"{value:.0f}" if count else show(value, quantity)


_SAID = ("story", "working", "numbers", "hint1", "hint2", "hint3")


def _choices(mistake: str, beside: list[str], rng: np.random.Generator) -> tuple[str, ...]:
    """Return the right answer among others of the same method that readings rule out."""
    decoys = [key for key, row in _decoys().items() if mistake in row["kinds"].split()]
    sure = [mistake] if mistake in HOLDS else [mistake, HOLDS[0]]
    others = [*beside, *decoys]
    offered = [*sure, *rng.choice(others, _CHOICES - len(sure), replace=False).tolist()]
    return tuple(offered[place] for place in rng.permutation(_CHOICES))


def practice_set(seed: int, level: int = 1) -> tuple[Case, ...]:
    """Return one case of every kind, in an order that tells nothing.

    Parameters
    ----------
    seed : int
        Number of the set, zero or more.
    level : {1, 2}
        As for `case`.

    Returns
    -------
    tuple of Case
        As many as `KINDS`.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up, or the level unknown.

    Examples
    --------
    As many cases as there are kinds of mistake:

    >>> len(practice_set(3)) == len(KINDS)
    True

    """
    seed = whole("seed", seed)
    cases = [case(kind, seed, level) for kind in KINDS]
    order = np.random.default_rng(seed).permutation(len(cases))
    return tuple(cases[place] for place in order)


@cache
def _rows() -> Mapping[str, dict[str, str]]:
    return {row["mistake"]: row for row in read("practice")}


@cache
def _decoys() -> Mapping[str, dict[str, str]]:
    return {row["key"]: row for row in read("practice_decoys")}


def name_of(mistake: str) -> str:
    """Return a kind of mistake, or what else is offered as one, in words."""
    known = {**_rows(), **_decoys()}
    one_of("mistake", mistake, known)
    return known[mistake]["name"]
