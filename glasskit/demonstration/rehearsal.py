# SPDX-License-Identifier: MIT
"""Let the blows of a log weigh the worlds of a plan, doubt them together, and say what next.

One log speaks for the whole show: all kinds of pane share the glass of this world and the
blow of this rig, each has a lot of its own. So ten broken window panes tell much about the
toughened ones, and never everything.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import bdtr

from glasskit.demonstration.breaking import break_chance
from glasskit.demonstration.breaklog import Entry, bounds
from glasskit.demonstration.chances import Odds, factors_of, odds_in
from glasskit.demonstration.evidence import weigh
from glasskit.demonstration.rigs import Passed, Rig, Specimen
from glasskit.demonstration.worlds import Worlds, level_of
from glasskit.quantities import FloatArray, of_type, whole

_GRID = 12  # heights at which the worlds are asked; panes between them are interpolated
_LEAST = 6  # panes of a kind before it can look like two
_TWO = 3.0  # logarithm of the odds for two lots over one from which it is said
_FLAT = 0.65  # factor on the modulus below which no single lot is thought to lie
_NO_CHANCE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Told:
    """What a log leaves of the worlds.

    Attributes
    ----------
    worlds : Worlds
        All equally likely.
    panes : int
        Panes of the log that count [-].
    effective : float
        How many of the worlds would still have counted by weight alone [-].
    distinct : int
        How many different ones there are now [-].
    mixed : tuple of str
        Kinds whose outcomes look like two lots rather than one.

    """

    worlds: Worlds
    panes: int
    effective: float
    distinct: int
    mixed: tuple[str, ...] = ()


def told(
    before: Worlds, kinds: Sequence[Specimen], rig: Rig, log: Sequence[Entry], *, seed: int = 0
) -> Told:
    """Return the worlds after what the log tells of all kinds together.

    Parameters
    ----------
    before : Worlds
        Worlds of these kinds and this rig.
    kinds : sequence of Specimen
        Kinds of pane; blows of others do not count.
    rig : Rig
        What struck them.
    log : sequence of Entry
        Blows of this rig only.
    seed : int
        The same seed gives the same worlds.

    Returns
    -------
    Told
        `before` itself if the log tells nothing of these kinds and none passed a drop test.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up.
    TypeError
        If `before` or `rig` is none.

    Notes
    -----
    Each pane of `glasskit.demonstration.breaklog.bounds` counts once, with its chance of
    breaking between the two heights. Outcomes of a kind look like two lots if two, half and
    half, each with a strength and scatter of its own, explain them twenty times as well as
    one, or if the one lot that explains them scatters more than lots are thought to.

    Examples
    --------
    An empty log tells nothing:

    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> from glasskit.demonstration.chances import worlds_of
    >>> from glasskit.demonstration.worlds import Belief
    >>> worlds = worlds_of(["ordinary"], ball, Belief.before(), count=64)
    >>> told(worlds, [annealed("ordinary", window)], ball, []).worlds is worlds
    True

    """
    of_type("before", before, Worlds)
    of_type("rig", rig, Rig)
    seed = whole("seed", seed)
    seen = {kind.name: bounds(log, kind.name) for kind in kinds}
    panes = sum(map(len, seen.values()))
    if not panes and not any(kind.passed for kind in kinds):
        count = len(before.white)
        return Told(worlds=before, panes=0, effective=float(count), distinct=count)
    judge = _judge(kinds, rig, seen)
    after = weigh(before, judge, seed=seed)
    return Told(
        worlds=after.worlds,
        panes=panes,
        effective=after.effective,
        distinct=after.distinct,
        mixed=tuple(
            kind.name
            for kind in kinds
            if _flat(after.worlds, kind, seen[kind.name])
            or _two_lots(before, kind, rig, seen[kind.name], seed)
        ),
    )


def _judge(
    kinds: Sequence[Specimen], rig: Rig, seen: dict[str, FloatArray]
) -> Callable[[Worlds], FloatArray]:
    """Return what gives every world the logarithm of the chance of all outcomes."""

    def said(worlds: Worlds) -> FloatArray:
        total = np.zeros(len(worlds.white))
        for kind in kinds:
            if len(seen[kind.name]):
                total += _explained(worlds, kind, rig, seen[kind.name]).sum(axis=1)
            if kind.passed is not None:
                total += _passing(worlds, kind, kind.passed)
        return total

    return said


def _passing(worlds: Worlds, kind: Specimen, test: Passed) -> FloatArray:
    """Return the logarithm of the chance that panes of this kind pass a drop test, (n,)."""
    factors = factors_of(worlds, kind)
    known = {name: value for name, value in factors.items() if level_of(name) != "rig"}
    struck = replace(kind, pane=test.pane)
    chance = break_chance(struck, test.rig, np.array([test.rule.height]), known)[:, 0]
    passing = bdtr(test.rule.panes - test.rule.least, test.rule.panes, chance)
    return np.asarray(np.log(np.maximum(passing, _NO_CHANCE)))


def _explained(worlds: Worlds, kind: Specimen, rig: Rig, panes: FloatArray) -> FloatArray:
    """Return the logarithm of the chance of each pane's outcome, shape (n, panes)."""
    return np.log(np.maximum(_between(worlds, kind, rig, panes), _NO_CHANCE))


def _between(worlds: Worlds, kind: Specimen, rig: Rig, panes: FloatArray) -> FloatArray:
    """Return the chance of breaking between the two heights of each pane, shape (n, panes)."""
    struck = np.unique(panes[(panes > 0) & np.isfinite(panes)])
    heights = struck
    if struck.size > _GRID:
        heights = np.geomspace(struck[0], struck[-1], _GRID)
    chance = odds_in(worlds, kind, rig, heights).chances
    if heights is not struck:
        # The logarithm of the hazard is nearly straight in the logarithm of the height.
        hazard = np.log(np.maximum(-np.log1p(-np.minimum(chance, 1 - 1e-15)), 1e-30))
        place = np.interp(np.log(struck), np.log(heights), np.arange(_GRID))
        left = np.minimum(place.astype(int), _GRID - 2)
        part = place - left
        along = (1 - part) * hazard[:, left] + part * hazard[:, left + 1]
        chance = -np.expm1(-np.exp(along))
    nothing, all_of_it = np.zeros((len(chance), 1)), np.ones((len(chance), 1))
    known = np.concatenate([nothing, chance, all_of_it], axis=1)
    at = np.searchsorted(np.array([0.0, *struck, np.inf]), panes)
    return np.asarray(known[:, at[:, 1]] - known[:, at[:, 0]])


def _flat(after: Worlds, kind: Specimen, panes: FloatArray) -> bool:
    """Say whether the panes scatter more than those of one lot do."""
    scatter = after.factors(kind.name)["lot scatter"]
    return len(panes) >= _LEAST and bool(np.median(scatter) < _FLAT)


def _two_lots(before: Worlds, kind: Specimen, rig: Rig, panes: FloatArray, seed: int) -> bool:
    """Say whether two lots, half and half, explain the outcomes far better than one."""
    broke = np.isfinite(panes[:, 1])
    if len(panes) < _LEAST or broke.all() or not broke.any():
        return False
    twin = replace(kind, name=f"{kind.name}, other lot")
    own = [(twin.name, name) for whose, name in before.columns if whose == kind.name]
    rng = np.random.default_rng(seed)
    fresh = rng.standard_normal((len(before.white), len(own)))
    both = replace(
        before,
        columns=(*before.columns, *own),
        white=np.concatenate([before.white, fresh], axis=1),
    )

    def one(worlds: Worlds) -> FloatArray:
        return np.asarray(_explained(worlds, kind, rig, panes).sum(axis=1))

    def two(worlds: Worlds) -> FloatArray:
        first = _between(worlds, kind, rig, panes)
        second = _between(worlds, twin, rig, panes)
        mean = np.maximum((first + second) / 2, _NO_CHANCE)
        return np.asarray(np.log(mean).sum(axis=1))

    few = slice(None, None, 4)
    single = weigh(before.moved(before.white[few]), one, seed=seed)
    double = weigh(both.moved(both.white[few]), two, seed=seed)
    return double.evidence - single.evidence > _TWO


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBlow:
    """The rehearsal that would tell most.

    Attributes
    ----------
    kind : str
        Kind of pane.
    height : float
        Height [m].
    breaks : float
        Chance that it breaks [-].
    narrows : float
        Share of the variance of the chance that a show goes right which its outcome takes
        away, on average [-].

    """

    kind: str
    height: float
    breaks: float
    narrows: float


def next_blow(found: Sequence[Odds], names: Sequence[str], right: FloatArray) -> NextBlow:
    r"""Return the height and kind whose outcome would narrow a chance most.

    Parameters
    ----------
    found : sequence of Odds
        Odds of each kind in the same worlds.
    names : sequence of str
        What the kinds are called.
    right : ndarray, shape (worlds,)
        The chance to be narrowed, such as that of a show going right [-].

    Returns
    -------
    NextBlow
        Over all kinds and all heights of the odds.

    Notes
    -----
    Breaking or not splits the worlds in two, with chance p in each; the variance of r that
    the split takes away on average is :math:`\mathrm{Cov}(r, p)^2 / [\bar p (1 - \bar p)]`.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> from glasskit.demonstration.chances import odds_in, worlds_of
    >>> from glasskit.demonstration.worlds import learned
    >>> worlds = worlds_of(["ordinary"], ball, learned(), count=256)
    >>> found = odds_in(worlds, annealed("ordinary", window), ball, [0.2, 0.8, 3.0])
    >>> next_blow([found], ["ordinary"], found.at(0.8)).kind
    'ordinary'

    """
    best = None
    spread = max(float(right.var()), 1e-300)
    for name, odds in zip(names, found, strict=True):
        chance = odds.chance
        joint = ((right - right.mean())[:, None] * odds.chances).mean(axis=0)
        told_off = joint**2 / np.maximum(chance * (1 - chance), 1e-12) / spread
        at = int(np.argmax(told_off))
        if best is None or told_off[at] > best.narrows:
            best = NextBlow(
                kind=name,
                height=float(odds.heights[at]),
                breaks=float(chance[at]),
                narrows=float(told_off[at]),
            )
    assert best is not None
    return best
