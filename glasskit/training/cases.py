# SPDX-License-Identifier: MIT
"""Set cases with a planted mistake, and mark what a trainee makes of them.

Every case is invented: a seed draws the readings, the formulas of the package compute the
wrong result and the truth from the readings as they are printed. The words stand in
``glasskit/data/practice.csv``, a row for each kind of mistake.
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
"""Every kind of planted mistake, from plain slips to slips of judgement."""

_CLEAR = 5.0  # tolerances at least between truth and planted result
_NEAR = 4.0  # tolerances up to which an answer is near: rounded too early
_CHOICES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One reduced measurement with one mistake in it.

    Attributes
    ----------
    mistake : str
        Kind of the planted mistake, one of `KINDS`.
    seed : int
        Gives the same case again.
    title, story, working, question : str
        What was measured; how it was reduced, with the wrong result; what is asked.
    quantity : str
        Kind of the number asked for, a key of `quantities.UNITS`.
    truth, planted : float
        Right number and the one a repeat of the mistake gives [SI].
    tolerance : float
        Share of the truth within which an answer is right [-].
    choices : tuple of str
        Four kinds of mistake to choose from, the planted one among them.
    hints : tuple of str
        Step by step, the last one all but the number.
    lesson : str
        What to keep in mind, said with the right answer.

    """

    mistake: str
    seed: int
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


def case(mistake: str, seed: int) -> Case:
    """Return one case.

    Parameters
    ----------
    mistake : str
        One of `KINDS`.
    seed : int
        Zero or more; the same seed gives the same case.

    Returns
    -------
    Case
        Readings so drawn that the planted result is told apart from the truth.

    Raises
    ------
    ValueError
        If the kind is unknown or the seed negative.

    Examples
    --------
    >>> one = case("kilogram_force", 1)
    >>> one.mark(one.truth), one.mark(one.planted)
    ('right', 'planted')

    """
    one_of("mistake", mistake, KINDS)
    seed = whole("seed", seed)
    row = _rows()[mistake]
    rng = np.random.default_rng([KINDS.index(mistake), seed])
    tolerance = float(row["tolerance"])
    while True:
        draws = Draws(rng)
        planted, truth = MISTAKES[mistake](draws)
        if abs(planted / truth - 1) > _CLEAR * tolerance:
            break
    words = {**draws.shown, "planted": _printed(planted, row["quantity"])}
    said = {name: row[name].format_map(words) for name in _SAID}
    return Case(
        mistake=mistake,
        seed=seed,
        title=row["title"],
        story=said["story"],
        working=said["working"],
        question=row["question"],
        quantity=row["quantity"],
        truth=truth,
        planted=planted,
        tolerance=tolerance,
        choices=_choices(mistake, row["alike"].split(), rng),
        hints=(said["hint1"], said["hint2"], said["hint3"]),
        lesson=row["lesson"],
    )


def _printed(value: float, quantity: str) -> str:
    count = quantity == "number" and value.is_integer()
    return f"{value:.0f}" if count else show(value, quantity)


_SAID = ("story", "working", "hint1", "hint2", "hint3")


def _choices(mistake: str, alike: list[str], rng: np.random.Generator) -> tuple[str, ...]:
    """Return the planted kind among others that could not be meant as well."""
    others = [kind for kind in KINDS if kind != mistake and kind not in alike]
    offered = [mistake, *rng.choice(others, _CHOICES - 1, replace=False).tolist()]
    return tuple(offered[place] for place in rng.permutation(_CHOICES))


def practice_set(seed: int) -> tuple[Case, ...]:
    """Return one case of every kind, in an order that tells nothing.

    Parameters
    ----------
    seed : int
        Number of the set, zero or more.

    Returns
    -------
    tuple of Case
        As many as `KINDS`.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up.

    Examples
    --------
    As many cases as there are kinds of mistake:

    >>> len(practice_set(3)) == len(KINDS)
    True

    """
    seed = whole("seed", seed)
    cases = [case(kind, seed) for kind in KINDS]
    order = np.random.default_rng(seed).permutation(len(cases))
    return tuple(cases[place] for place in order)


@cache
def _rows() -> Mapping[str, dict[str, str]]:
    return {row["mistake"]: row for row in read("practice")}


def name_of(mistake: str) -> str:
    """Return a kind of mistake in words, as a choice."""
    one_of("mistake", mistake, KINDS)
    return _rows()[mistake]["name"]
