# SPDX-License-Identifier: MIT
r"""Fit several kinds of flaw at once where it is not always known which one broke the glass.

A specimen that broke from an unknown origin is no survivor: one of its flaws did break it. Of
the kinds :math:`k` it may have broken from, each with hazard :math:`h_k = m_k x^{m_k-1} /
\sigma_k^{m_k}` and survival :math:`S_k`, it says

.. math:: \sum_k h_k(x) \prod_j S_j(x)

while one that did not break says only the product [Flehinger1998]_. Taken for a survivor, it
makes every kind too strong: with 20 % unknown among 30, intervals of 95 % then hold the scale
in some 80 % of sets only, with 40 % unknown in half of them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import logsumexp, stdtrit

from glasskit.quantities import FloatArray, positive, require
from glasskit.strength.weibull import WeibullFit, solve_modulus

_DRAWS = 4096  # points at which the confidence is weighed, a power of two
_DEGREES = 5.0  # of Student's distribution that proposes them: tails heavier than any gamma
_ROUNDS = (512, 512, _DRAWS)  # points of each round; the next is proposed from it
_PLENTY = 300.0  # independent points that the weights must be worth


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnConfidence:
    """Confidence in one kind's modulus and scale, as weighted points.

    Does what `confidence.Confidence` does where no formula is at hand.

    Attributes
    ----------
    modulus : ndarray, shape (points,)
        Modulus at each point [-].
    log_scale : ndarray, shape (points,)
        Logarithm of the scale over the fitted one [-].
    weight : ndarray, shape (points,)
        Share of the confidence at each point [-].

    """

    modulus: FloatArray
    log_scale: FloatArray
    weight: FloatArray

    def modulus_at(self, level: FloatArray) -> FloatArray:
        """Return the moduli below which the confidence is `level`, shape (levels,) [-]."""
        return np.exp(self._at(np.log(self.modulus), level))

    def height_at(self, hazard: FloatArray, level: FloatArray) -> FloatArray:
        """Return the strengths over the fitted scale at a hazard, shape (..., levels) [-]."""
        place = self.log_scale + np.log(hazard)[..., None] / self.modulus
        return np.exp(self._at(place, level))

    def hazard_at(self, height: FloatArray, level: FloatArray) -> FloatArray:
        """Return the hazards at a strength over the fitted scale, shape (..., levels) [-]."""
        place = self.modulus * (np.log(height)[..., None] - self.log_scale)
        return np.exp(self._at(place, level))

    def _at(self, values: FloatArray, level: FloatArray) -> FloatArray:
        """Return the values below which the confidence is `level`."""
        order = np.argsort(values, axis=-1)
        ranked = np.take_along_axis(values, order, -1).reshape(-1, values.shape[-1])
        weight = self.weight[order].reshape(ranked.shape)
        below = np.cumsum(weight, axis=-1) - weight / 2
        found = [np.interp(level, *pair) for pair in zip(below, ranked, strict=True)]
        return np.reshape(found, (*values.shape[:-1], level.size))


def fit_masked(strengths: ArrayLike, possible: ArrayLike) -> tuple[WeibullFit, ...]:
    r"""Fit each kind of flaw where some specimens broke from one of several.

    Parameters
    ----------
    strengths : array_like, shape (n,)
        One set of specimens [Pa].
    possible : array_like of bool, shape (kinds, n)
        Where a specimen may have broken from that kind: one True in a column if the origin
        is known, several if it is one of these, none if it did not break or broke from a
        kind that is not fitted [-].

    Returns
    -------
    tuple of WeibullFit
        One for each kind. Modulus and scale by maximum likelihood; `share` is the chance that
        each specimen broke from this kind.

    Raises
    ------
    ValueError
        If a strength is not positive, the shapes do not fit, or a kind has fewer than two
        specimens known to be its own, or these all equal the strongest.

    Notes
    -----
    Whether an origin was found must not depend on the kind: where edge origins are lost more
    often than those of the face, the edge comes out too strong. Intervals are those of
    `glasskit.strength.confidence`, averaged over where the unknown may have come from; how
    often they hold the truth counts ``tests/speed/coverage.py``.

    References
    ----------
    [Flehinger1998] for the likelihood; the points by importance sampling.

    Examples
    --------
    Eight bars: three broke from the edge, three from the face, two not known; scales in MPa:

    >>> strengths = np.array([52, 61, 70, 74, 83, 90, 66, 79]) * 1e6
    >>> edge, face = [1, 1, 0, 1, 0, 0, 1, 1], [0, 0, 1, 0, 1, 1, 1, 1]
    >>> fits = fit_masked(strengths, [edge, face])
    >>> [round(fit.scale.item() / 1e6) for fit in fits]
    [87, 84]

    """
    values = np.atleast_1d(positive("strengths", strengths, "Pa"))
    may = np.atleast_2d(np.asarray(possible, dtype=bool))
    require(
        may.shape[-1] == values.size, "possible", may.shape[-1], f"have {values.size} items"
    )
    order = np.argsort(values, kind="stable")
    values, may = values[order], may[:, order]
    known = may & (may.sum(0) == 1)
    require(known.sum(-1) >= 2, "possible", known.sum(-1), "know two breaks of each kind")
    height = np.log(values / values[-1])
    own = np.where(known, height, 0.0).sum(-1)
    require(own < 0, "strengths", values[-1], "not all be equal within a kind", "Pa")
    modulus, log_rate, share = _likeliest(height, may)
    log_scale = -log_rate / modulus
    points = _confidence(height, may, known.sum(-1), modulus, share.sum(-1))
    return tuple(
        WeibullFit(
            strengths=values.copy(),
            censored=~known[kind],
            modulus=np.asarray(modulus[kind]),
            scale=np.asarray(values[-1] * np.exp(log_scale[kind])),
            share=share[kind],
            drawn=DrawnConfidence(
                modulus=points[0][kind],
                log_scale=points[1][kind] - log_scale[kind],
                weight=points[2],
            ),
        )
        for kind in range(len(may))
    )


def _shares(
    height: FloatArray, may: NDArray[np.bool_], modulus: FloatArray, log_rate: FloatArray
) -> FloatArray:
    """Return how likely each specimen broke from each kind, shape (kinds, n) [-]."""
    log_hazard = np.log(modulus) + log_rate + modulus * height[:, None]
    hazard = np.where(may, np.exp(log_hazard.T - log_hazard.max(-1)), 0.0)
    total = hazard.sum(0)
    return np.asarray(hazard / np.where(total > 0, total, 1.0))


def _likeliest(
    height: FloatArray, may: NDArray[np.bool_]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return modulus and log rate of each kind, and shares: whose, then fitted, and again."""
    share = may / np.maximum(may.sum(0), 1)
    before = np.zeros(len(may))
    while True:
        count = share.sum(-1)
        modulus = solve_modulus(
            np.broadcast_to(height, may.shape), (share * height).sum(-1) / count
        )
        log_rate = np.log(count) - logsumexp(modulus[:, None] * height, axis=-1)
        if np.all(np.abs(modulus - before) <= 1e-9 * modulus):
            return modulus, log_rate, share
        before, share = modulus, _shares(height, may, modulus, log_rate)


def _confidence(
    height: FloatArray,
    may: NDArray[np.bool_],
    known: NDArray[np.int_],
    modulus: FloatArray,
    count: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return moduli and log scales, shape (kinds, points), and the weights of the points.

    In the logarithms of the moduli and of each kind's expected number of breaks these are
    nearly independent; points are proposed, weighed, and proposed anew where the weight lies.
    """
    kinds = len(may)
    centre = np.concatenate([np.log(modulus), np.log(count)])
    root = np.diag(np.concatenate([0.8 / np.sqrt(known), 1 / np.sqrt(known)]))
    from scipy.stats import qmc  # loading it takes longer than a page that never fits

    even = qmc.Sobol(2 * kinds, seed=1).random(_DRAWS)  # the same points every time
    deviate = stdtrit(_DEGREES, even)
    # Student's density, but for a factor: only ratios of weights count.
    proposed = -(_DEGREES + 1) / 2 * np.log1p(deviate**2 / _DEGREES).sum(-1)
    for points in _ROUNDS:
        place = centre + deviate[:points] @ root.T
        trial, log_count = np.exp(place[:, :kinds]), place[:, kinds:]
        log_sum = np.log(sum(np.exp(trial * place) for place in height))
        log_rate = log_count - log_sum
        weight = _log_likelihood(height, may, trial, log_rate)
        weight = weight - np.exp(log_count).sum(-1) - np.log(trial).sum(-1) - proposed[:points]
        weight = np.exp(weight - weight.max())
        weight /= weight.sum()
        centre = weight @ place
        away = place - centre
        root = np.linalg.cholesky((away * weight[:, None]).T @ away)
    if 1 / (weight**2).sum() < _PLENTY:
        raise ArithmeticError("intervals of the kinds of flaw did not converge")
    return trial.T, (-log_rate / trial).T, weight


def _log_likelihood(
    height: FloatArray, may: NDArray[np.bool_], modulus: FloatArray, log_rate: FloatArray
) -> FloatArray:
    """Return the logarithm of what all that broke say, but for the survivals, by point."""
    total = np.zeros(len(modulus))
    for place, mask in zip(height, may.T, strict=True):
        each = (np.log(modulus) + log_rate + modulus * place)[:, mask]
        if mask.any():
            total += np.logaddexp.reduce(each, axis=-1)
    return total
