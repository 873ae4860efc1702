# SPDX-License-Identifier: MIT
"""Set broken panes to read from above, and ask where the break began.

Every pattern is grown by `glasskit.breaking`, so the answer is computed and not drawn. Three
levels: few cracks that meet; crumbs, long ones pointing back to the origin and forks opening
away from it; and crumbs with the middle lost, as often when pieces are swept up.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from glasskit.breaking import SIDE, BrokenPane, struck_pane
from glasskit.quantities import FloatArray, finite, one_of, read_only, whole

LEVELS = ("few cracks", "crumbs", "the middle is lost")
"""Levels, the easiest first."""

NEAR = 20e-3
"""How far from the origin a mark may lie and be right [m]: a judgement."""

_HEIGHT, _SQUEEZE, _THICKNESS = 0.8, 100e6, 4e-3
_EDGE = 0.15  # part of the side that an origin keeps off the edges [-]
_LOST = 22e-3  # radius of what is missing [m]
_HOLES = 5  # places where pieces are missing; at one of them it began
_APART = 55e-3  # between the middles of two of them, so that they do not run together [m]


@dataclass(frozen=True, kw_only=True, eq=False)
class Pattern:
    """A broken pane to read.

    Attributes
    ----------
    level : str
        One of `LEVELS`.
    seed : int
        Gives the same pane again.
    pane : BrokenPane
        With every crack and the origin.
    lost : ndarray
        Middles of the places where pieces are missing [m], shape (n, 2).

    """

    level: str
    seed: int
    pane: BrokenPane
    lost: FloatArray

    @property
    def radius(self) -> float:
        """Radius of the places where pieces are missing [m]."""
        return _LOST

    @cached_property
    def forks(self) -> tuple[int, float]:
        """How many branches there are, and which share of them sets out from the origin."""
        pane = self.pane
        first = np.unique(pane.cracks, return_index=True)[1]
        branches = first[pane.parents[pane.cracks[first]] >= 0]
        if not branches.size:
            return 0, 0.0
        way = pane.ends[branches] - pane.starts[branches]
        out = pane.starts[branches] - pane.origin
        return len(branches), float(np.mean((way * out).sum(axis=1) > 0))


def pattern(level: str, seed: int) -> Pattern:
    """Return a broken pane to read.

    Parameters
    ----------
    level : str
        One of `LEVELS`.
    seed : int
        The same seed gives the same pane.

    Returns
    -------
    Pattern
        A pane broken by a steel ball that fell somewhere on it.

    Raises
    ------
    ValueError
        If the level is unknown or the seed negative.

    Examples
    --------
    >>> one = pattern("few cracks", 1)
    >>> len(one.pane.pieces) < 100, one.lost.shape
    (True, (0, 2))

    """
    one_of("level", level, LEVELS)
    return _broken(level, whole("seed", seed))


@lru_cache(maxsize=6)
def _broken(level: str, seed: int) -> Pattern:
    rng = np.random.default_rng([seed, LEVELS.index(level)])
    along, across = rng.uniform(_EDGE, 1 - _EDGE, 2) * SIDE
    squeeze = 0.0 if level == LEVELS[0] else _SQUEEZE
    pane = struck_pane(_HEIGHT, squeeze, _THICKNESS, along, across, seed)
    lost = [(along, across)] if level == LEVELS[2] else []
    while lost and len(lost) < _HOLES:
        other = rng.uniform(_EDGE, 1 - _EDGE, 2) * SIDE
        if all(np.hypot(*(other - np.array(one))) > _APART for one in lost):
            lost.append((float(other[0]), float(other[1])))
    (holes,) = read_only(np.array(lost).reshape(-1, 2))
    return Pattern(level=level, seed=seed, pane=pane, lost=holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """Where somebody says that a pane began to break.

    Attributes
    ----------
    pattern : Pattern
        The pane.
    along, across : float
        The mark, from a corner [m].
    told : bool
        Whether the answer is shown.

    Examples
    --------
    >>> one = pattern("few cracks", 1)
    >>> Mark(pattern=one, along=one.pane.origin[0], across=one.pane.origin[1]).right
    True

    """

    pattern: Pattern
    along: float
    across: float
    told: bool = False

    def __post_init__(self) -> None:
        finite("along", self.along, "m")
        finite("across", self.across, "m")

    @property
    def away(self) -> float:
        """How far from the origin the mark lies [m]."""
        return float(np.hypot(*(self.pattern.pane.origin - (self.along, self.across))))

    @property
    def right(self) -> bool:
        """Whether it lies within `NEAR` of the origin."""
        return self.away <= NEAR
