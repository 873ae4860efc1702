# SPDX-License-Identifier: MIT
"""Say with which chance panes break, height by height, and how well that is known.

The scatter of flaws is the chance itself. What is not known of the panes, the rig and the
theory is something else: it makes the band. Many worlds are drawn, each with a value of every
input (`glasskit.demonstration.worlds`), after what drops that others made have taught
(`glasskit.demonstration.posterior`); in each the chance follows in closed form
(`glasskit.demonstration.breaking`). The chance told is the mean over the worlds, the band
holds nine worlds in ten.

A planning aid. Origins at edges and blows on a spot already damaged are left out. Rehearse
with the very panes of the day.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtr

from glasskit.demonstration.breaking import Striking, break_chance, ring_chance
from glasskit.demonstration.drop_records import known_drops
from glasskit.demonstration.rigs import FallingPane, GuidedDrop, Rig, Specimen, SwungHammer
from glasskit.demonstration.worlds import LOT, Belief, Worlds, draw_worlds, inputs
from glasskit.impact import Pane
from glasskit.quantities import FloatArray, of_type, positive, read_only

_BLOW = ("thickness", "damping", "support", "mass", "aim")

COUNT = 4096
"""Worlds drawn."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Odds:
    """Chance that a pane breaks, height by height.

    Attributes
    ----------
    heights : ndarray
        Heights fallen through, ascending [m], shape (h,).
    chances : ndarray
        Chance in each world that it breaks from the far face [-], shape (worlds, h).
    rings : ndarray
        Chance over all worlds that its struck face cracks in a ring [-], shape (h,).

    """

    heights: FloatArray
    chances: FloatArray
    rings: FloatArray

    @property
    def chance(self) -> FloatArray:
        """Chance over all worlds [-], shape (h,)."""
        return np.asarray(self.chances.mean(axis=0))

    @property
    def low(self) -> FloatArray:
        """Lower end of the band that holds nine worlds in ten [-], shape (h,)."""
        return np.asarray(np.quantile(self.chances, 0.05, axis=0))

    @property
    def high(self) -> FloatArray:
        """Upper end of that band [-], shape (h,)."""
        return np.asarray(np.quantile(self.chances, 0.95, axis=0))

    def at(self, height: float) -> FloatArray:
        """Return the chance in each world at a height within the grid [m], shape (worlds,)."""
        fallen = positive("height", height, "m").item()
        place = np.interp(np.log(fallen), np.log(self.heights), np.arange(self.heights.size))
        lower = min(int(place), self.heights.size - 2)
        share = place - lower
        return (1 - share) * self.chances[:, lower] + share * self.chances[:, lower + 1]

    def after(self, held: float, height: float) -> float:
        """Return the chance that a pane breaks that withstood an earlier blow.

        Parameters
        ----------
        held, height : float
            Fall that it withstood, and the next one [m].

        Returns
        -------
        float
            Chance [-]: none from the same height or less, for its worst flaw is the same in
            every blow. New flaws from the first blow are left out.

        """
        before, now = self.at(held), self.at(height)
        sound = (1.0 - before).sum()
        return float(np.maximum(now - before, 0.0).sum() / sound) if sound > 0 else 1.0

    def height(self, chance: float) -> float:
        """Return the height at which the mean chance is reached [m]; infinite beyond."""
        mean = np.maximum.accumulate(self.chance)
        if mean[-1] < chance:
            return np.inf
        above = int(np.argmax(mean >= chance))
        if above == 0:
            return float(self.heights[0])
        pair = slice(above - 1, above + 1)
        return float(np.exp(np.interp(chance, mean[pair], np.log(self.heights[pair]))))


def inputs_of(rig: Rig) -> tuple[str, ...]:
    """Return the inputs of lot and rig on which the odds of a rig hang.

    Parameters
    ----------
    rig : Rig
        What strikes.

    Returns
    -------
    tuple of str
        Names of inputs, those of the lot of panes first.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall
    >>> from glasskit.materials import solid
    >>> "slap" in inputs_of(DroppedBall(mass=0.227, solid=solid("steel")))
    False

    """
    of_type("rig", rig, Rig)
    if isinstance(rig, GuidedDrop):
        return ("lot strength", "lot scatter", "case")
    if isinstance(rig, FallingPane):
        return (*LOT, "slap")
    return (*LOT, *_BLOW, *(["face radius"] if isinstance(rig, SwungHammer) else []))


def worlds_of(
    kinds: Sequence[str],
    rig: Rig,
    belief: Belief,
    *,
    seed: int = 0,
    count: int = COUNT,
) -> Worlds:
    """Return worlds for some kinds of pane under one rig: same glass, same blow, own lots.

    Parameters
    ----------
    kinds : sequence of str
        What the kinds of pane are called.
    rig : Rig
        What strikes.
    belief : Belief
        What is held of the world.
    seed : int
        The same seed gives the same worlds [-].
    count : int
        Worlds, a power of two [-].

    Returns
    -------
    Worlds
        The same glass and blow for all kinds, a lot of its own for each.

    Raises
    ------
    ValueError
        If `count` is no power of two or `seed` no whole number from zero up.
    TypeError
        If `rig` or `belief` is none.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> worlds_of(["ordinary"], ball, Belief.before(), count=64).white.shape[0]
    64

    """
    return draw_worlds(kinds, inputs_of(rig), belief, count, seed)


def factors_of(worlds: Worlds, specimen: Specimen) -> dict[str, FloatArray]:
    """Return the factor on every input of a kind of pane, shape (n,) each.

    What its description leaves open counts in place of what a lot does; for glass thinner than
    all that known drops have struck, the blow is taken to be known half as well.
    """
    factors = worlds.factors(specimen.name)
    for name, wide in specimen.unsure.items():
        span = inputs()[name]
        if name in factors:
            factors[name] = factors[name] ** (np.log(wide) / np.log(span.high / span.low))
    untried = specimen.pane.thickness < thinnest_known() and "aim" not in specimen.unsure
    if untried and "aim" in factors:
        factors["aim"] = factors["aim"] ** 2.0
    return factors


@cache
def thinnest_known() -> float:
    """Return the least thickness of glass that known drops have struck [m]."""
    return min(drop.thickness for drop in known_drops() if drop.complete)


def odds_in(
    worlds: Worlds,
    specimen: Specimen,
    rig: Rig,
    heights: ArrayLike,
    like: tuple[Pane, Striking] | None = None,
) -> Odds:
    """Return the chance of breaking in worlds already drawn.

    Parameters
    ----------
    worlds : Worlds
        From `worlds_of`, the specimen's name among its kinds.
    specimen : Specimen
        Kind of pane.
    rig : Rig
        What strikes it.
    heights : array_like
        Ascending heights [m].
    like : tuple, optional
        As for `break_chance`.

    Returns
    -------
    Odds
        World by world.

    Raises
    ------
    ValueError
        If a height is not positive.
    TypeError
        If `worlds`, `specimen` or `rig` is none.

    Notes
    -----
    Odds of a model whose inputs are known within ranges, not of your panes: rehearse, and log
    what happens.

    References
    ----------
    Own method; ranges of the inputs with their sources in ``data/planner.csv``.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> worlds = worlds_of(["ordinary"], ball, Belief.before(), count=64)
    >>> found = odds_in(worlds, annealed("ordinary", window), ball, [0.2, 5.0])
    >>> found.chances.shape
    (64, 2)

    """
    of_type("worlds", worlds, Worlds)
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Rig)
    fall = positive("heights", heights, "m")
    if isinstance(rig, GuidedDrop):
        return _of(fall, _guided(worlds, specimen, rig, fall), np.zeros(fall.shape))
    factors = factors_of(worlds, specimen)
    far = break_chance(specimen, rig, fall, factors, like)
    ring = ring_chance(specimen, rig, fall, factors)
    # What breaks from lower down breaks from higher up; tables of areas waver by 1e-4.
    return _of(fall, np.maximum.accumulate(far, axis=1), ring.mean(axis=0))


def _of(heights: FloatArray, found: FloatArray, rings: FloatArray) -> Odds:
    fall, share, ring = (read_only(value)[0] for value in (heights, found, rings))
    return Odds(heights=fall, chances=share, rings=ring)


def _guided(
    worlds: Worlds, specimen: Specimen, rig: GuidedDrop, heights: FloatArray
) -> FloatArray:
    """Return the chance of each judged case, moved by what is not known of the lot."""
    along = np.geomspace(min(heights[0], 0.01), max(heights[-1], 20.0), 40)
    cases = rig.landing(specimen, along).chance
    worst = -np.log1p(-np.minimum(cases, 1.0 - 1e-12))
    own = {
        name: at
        for at, (whose, name) in enumerate(worlds.columns)
        if whose in ("", specimen.name)
    }
    case = np.minimum(
        (ndtr(worlds.white[:, own["case"]]) * cases.shape[1]).astype(int),
        cases.shape[1] - 1,
    )
    factors = factors_of(worlds, specimen)
    # A lot f times as strong stands f squared the height; one of wide scatter, flatter curves.
    place = np.log(heights)[None] - 2 * np.log(factors["lot strength"])[:, None]
    step = (place - np.log(along[0])) / np.log(along[1] / along[0])
    row = np.clip(step.astype(int), 0, along.size - 2)
    share = np.clip(step - row, 0.0, 1.0)
    hazard = (1 - share) * worst[row, case[:, None]] + share * worst[row + 1, case[:, None]]
    return np.asarray(-np.expm1(-(hazard ** factors["lot scatter"][:, None])))
