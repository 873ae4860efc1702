# SPDX-License-Identifier: MIT
"""Draw what may be true of glass, panes and rig: worlds, each with a value of every input.

What is not known stands on three levels. **World**: the same for all glass and every blow,
such as how much flaws heal in the furnace; drops that others made teach it. **Lot**: of one
kind of pane, such as how those very panes were handled. **Rig**: of one set-up, such as how
soft the edges lie. Every input is a factor on a chosen value, with a range that holds nine in
ten, its source and status in ``data/planner.csv``.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType

import numpy as np
from scipy.special import ndtr, ndtri, stdtrit

from glasskit.quantities import FloatArray, of_type, read_only, require, whole
from glasskit.tables import Value, read, sourced_value

LEVELS = ("world", "lot", "rig")
"""Levels, as column ``subject`` of the table calls them."""

NINE_IN_TEN = float(ndtri(0.95))  # standard deviations from the middle to the end of a range
_WIDE = ("lot strength",)  # inputs with thick tails: panes far from all expectation do turn up
_WIDE_END = float(stdtrit(3, 0.95))
_FARTHEST = 15.0  # ranges from the middle, beyond which no lot is thought of


@cache
def inputs() -> Mapping[str, Value]:
    """Return the range of every uncertain input, as a factor, with source and status."""
    rows = [row for row in read("planner") if row["subject"] in LEVELS]
    return MappingProxyType({row["property"]: sourced_value(row) for row in rows})


@cache
def _levels() -> Mapping[str, str]:
    rows = [row for row in read("planner") if row["subject"] in LEVELS]
    return MappingProxyType({row["property"]: row["subject"] for row in rows})


def level_of(name: str) -> str:
    """Return the level of an input, one of `LEVELS`; a judged case is of the rig."""
    return _levels().get(name, "rig")


WORLD = tuple(name for name, level in _levels().items() if level == "world")
"""Inputs that are the same for all glass and every blow."""

LOT = ("lot strength", "lot scatter", "compression", "compressed depth")
"""Inputs of a lot on which the strength of its panes hangs."""


def factor(name: str, normal: FloatArray) -> FloatArray:
    """Return the factor on an input at a place told in standard deviations.

    Parameters
    ----------
    name : str
        Key of `inputs`.
    normal : ndarray
        Zero for the chosen value; normally distributed over the worlds [-].

    Returns
    -------
    ndarray
        Factor [-]. The ends of the range hold nine in ten; the lot's strength has thicker
        tails (Student's t, 3 degrees of freedom).

    """
    span = inputs()[name]
    place = np.asarray(normal) / NINE_IN_TEN
    if name in _WIDE:
        # The normal's own tail, so that no world is lost to rounding.
        beyond = -stdtrit(3, ndtr(-np.abs(normal))) / _WIDE_END
        place = np.sign(normal) * np.minimum(beyond, _FARTHEST)
    end = np.where(place < 0, span.low, span.high) / span.value
    return np.asarray(span.value * end ** np.abs(place))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Belief:
    """What is held of the inputs of the world: a normal distribution of their places.

    Attributes
    ----------
    mean : ndarray
        Mean place of each input of `WORLD` [standard deviations of its range], shape (w,).
    root : ndarray
        Lower triangle whose square is the covariance, shape (w, w).

    """

    mean: FloatArray
    root: FloatArray

    @classmethod
    def before(cls) -> "Belief":
        """Return the belief that the ranges alone give."""
        return cls(mean=np.zeros(len(WORLD)), root=np.eye(len(WORLD)))

    @property
    def spread(self) -> FloatArray:
        """Standard deviation of each place over that of the range alone [-], shape (w,)."""
        return np.asarray(np.sqrt((self.root**2).sum(axis=1)))

    def range_of(self, name: str) -> FloatArray:
        """Return low end, middle and high end of the factor on an input of the world [-].

        The ends hold nine in ten.
        """
        at = WORLD.index(name)
        places = self.mean[at] + self.spread[at] * NINE_IN_TEN * np.array([-1.0, 0.0, 1.0])
        return factor(name, places)


@cache
def learned() -> Belief:
    """Return what is held of the world after all known drops.

    Returns
    -------
    Belief
        From ``data/learned.csv``, which `glasskit.demonstration.posterior` works out.

    """
    rows = read("learned")
    assert tuple(row["input"] for row in rows) == WORLD
    return Belief(
        mean=np.array([float(row["mean"]) for row in rows]),
        root=np.array([[float(row[name]) for name in WORLD] for row in rows]),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Worlds:
    """Worlds drawn; n worlds, d inputs.

    Attributes
    ----------
    columns : tuple of (str, str)
        Owner and name of each input; the owner is a kind of pane for inputs of its lot, and
        empty for the others.
    white : ndarray
        Places drawn, standard normal and independent before any log, shape (n, d).
    belief : Belief
        What turns the places of the world's inputs into what is held of them.

    """

    columns: tuple[tuple[str, str], ...]
    white: FloatArray
    belief: Belief

    @property
    def places(self) -> FloatArray:
        """Place of every input [standard deviations of its range], shape (n, d)."""
        count = len(WORLD)
        found = self.white.copy()
        found[:, :count] = self.belief.mean + self.white[:, :count] @ self.belief.root.T
        return found

    def factors(self, owner: str) -> dict[str, FloatArray]:
        """Return the factor on every input that concerns a kind of pane, shape (n,) each."""
        places = self.places
        return {
            name: factor(name, places[:, at])
            for at, (whose, name) in enumerate(self.columns)
            if whose in ("", owner) and name in inputs()
        }

    def moved(self, white: FloatArray) -> "Worlds":
        """Return worlds of the same inputs at other places, shape (n, d)."""
        (fixed,) = read_only(white)
        return replace(self, white=fixed)


def draw_worlds(
    owners: Sequence[str], names: Sequence[str], belief: Belief, count: int, seed: int
) -> Worlds:
    """Draw worlds, evenly spread over all that may be true.

    Parameters
    ----------
    owners : sequence of str
        Kinds of pane; each has inputs of a lot of its own.
    names : sequence of str
        Inputs besides those of the world.
    belief : Belief
        What is held of the world.
    count : int
        Worlds, a power of two [-].
    seed : int
        The same seed gives the same worlds.

    Returns
    -------
    Worlds
        Every kind of pane shares world and rig.

    Raises
    ------
    ValueError
        If `count` is not a power of two.

    Examples
    --------
    >>> worlds = draw_worlds(["ordinary"], ["lot strength"], Belief.before(), 8, 0)
    >>> worlds.white.shape[0]
    8

    """
    from scipy.stats import qmc  # slow to load, and most pages have no worlds

    of_type("belief", belief, Belief)
    count, seed = whole("count", count), whole("seed", seed)
    require(count > 0 and count & (count - 1) == 0, "count", count, "be a power of two")
    columns = [("", name) for name in WORLD]
    columns += [("", name) for name in names if level_of(name) == "rig"]
    columns += [(owner, name) for owner in owners for name in names if level_of(name) == "lot"]
    rng = np.random.default_rng(seed)
    even = qmc.Sobol(len(columns), rng=rng).random(count)
    # Sobol's points lie on a grid that holds zero: half a step keeps them inside.
    (white,) = read_only(ndtri(even + 2.0**-33))
    return Worlds(columns=tuple(columns), white=white, belief=belief)
