# SPDX-License-Identifier: MIT
"""Let outcomes weigh worlds, however far they lie from all expectation.

Bayes' rule by a sequence of small steps: the outcomes are let in a little at a time, worlds
that explain them badly are dropped and those that explain them well doubled, and every world
is then moved a little, so that no two stay alike (sequential Monte Carlo). So a log of
hundreds of panes leaves as many different worlds as there were before it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from glasskit.demonstration.worlds import Worlds
from glasskit.quantities import FloatArray, of_type, whole

_KEEP = 0.6  # share of the worlds that still counts after a step
_MOVES = 6  # moves of every world after a step
_ACCEPTED = 0.35  # share of moves that is aimed at

Likelihood = Callable[[Worlds], FloatArray]
"""Worlds to the logarithm of the chance of all outcomes in each, shape (n,)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weighed:
    """Worlds after the outcomes.

    Attributes
    ----------
    worlds : Worlds
        As many as before, all equally likely now.
    evidence : float
        Logarithm of the chance of the outcomes before they were known.
    effective : float
        How many of the worlds would have counted, had they only been weighted [-].
    distinct : int
        How many of the worlds differ [-].

    """

    worlds: Worlds
    evidence: float
    effective: float
    distinct: int


def effective(weight: FloatArray) -> float:
    """Return how many equal draws weights are worth [-]: squared sum over sum of squares."""
    return float(weight.sum() ** 2 / (weight**2).sum())


def weigh(before: Worlds, likelihood: Likelihood, *, seed: int = 0) -> Weighed:
    """Return worlds drawn by how well they explain what happened.

    Parameters
    ----------
    before : Worlds
        Worlds before the outcomes.
    likelihood : callable
        Logarithm of the chance of all outcomes, for each world.
    seed : int
        The same seed gives the same worlds.

    Returns
    -------
    Weighed
        Worlds, and how well they had expected the outcomes.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up.
    TypeError
        If `before` is none.

    Notes
    -----
    Steps keep three worlds in five, and one is enough for weak evidence; moves are those of a
    preconditioned Crank-Nicolson walk, which leaves what was held before any outcome as it is.

    Examples
    --------
    An outcome that every world explains alike:

    >>> from glasskit.demonstration.worlds import Belief, draw_worlds
    >>> worlds = draw_worlds(["ordinary"], ["lot strength"], Belief.before(), 64, 0)
    >>> weigh(worlds, lambda tried: np.zeros(len(tried.white))).evidence
    0.0

    """
    of_type("before", before, Worlds)
    rng = np.random.default_rng(whole("seed", seed))
    worlds, said = before, likelihood(before)
    count = len(said)
    told, evidence, step = 0.0, 0.0, 0.6
    counted = effective(np.exp(said - said.max()))
    while told < 1.0:
        more = _portion(said, told, _KEEP * count)
        weight = np.exp((more - told) * (said - said.max()))
        evidence += float((more - told) * said.max() + np.log(weight.mean()))
        told = more
        drawn = _systematic(weight, rng)
        white, said = worlds.white[drawn], said[drawn]
        if counted >= _KEEP * count:
            # Weak evidence: worlds drawn evenly stay so, and nothing jumps with a first entry.
            worlds = before.moved(white)
            break
        for _ in range(_MOVES):
            stir = np.sqrt(1 - step**2) * white + step * rng.standard_normal(white.shape)
            then = likelihood(before.moved(stir))
            better = np.log(rng.random(count)) < told * (then - said)
            white = np.where(better[:, None], stir, white)
            said = np.where(better, then, said)
            step = float(np.clip(step * np.exp(better.mean() - _ACCEPTED), 0.05, 0.95))
        worlds = before.moved(white)
    return Weighed(
        worlds=worlds,
        evidence=evidence,
        effective=counted,
        distinct=len(np.unique(worlds.white[:, 0])),
    )


def _portion(said: FloatArray, told: float, keep: float) -> float:
    """Return how much of the outcomes to let in next so that enough worlds count."""

    def spare(more: float) -> float:
        return effective(np.exp((more - told) * (said - said.max()))) - keep

    if spare(1.0) >= 0:
        return 1.0
    return float(brentq(spare, told, 1.0, xtol=1e-6))


def _systematic(weight: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Return indices drawn by weight, evenly."""
    steps = np.cumsum(weight) / weight.sum()
    wanted = (np.arange(len(weight)) + rng.random()) / len(weight)
    return np.minimum(np.searchsorted(steps, wanted), len(weight) - 1)
