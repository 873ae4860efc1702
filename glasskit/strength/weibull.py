# SPDX-License-Identifier: MIT
r"""Fit Weibull's distribution to measured strengths, and say how sure the fit is.

.. math:: F(\sigma) = 1 - \exp\left[-(\sigma/\sigma_0)^m\right]

The modulus :math:`m` tells the scatter (large: little), the scale :math:`\sigma_0` is the
strength that 63.2 % of the specimens do not reach. Glass breaks at its worst flaw, and a
population of one kind of flaw gives such a distribution. A specimen that broke from another
kind of flaw (at an edge, not the surface) is *censored*: this kind would have held at least as
long.

Every function takes many sets of specimens at once, the specimens along the last axis.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from glasskit.quantities import FloatArray, finite, positive, require, within
from glasskit.strength import confidence, ranks


def unbiasing_factor(failures: ArrayLike) -> FloatArray:
    """Return the factor that takes the bias off a modulus found by maximum likelihood.

    Parameters
    ----------
    failures : array_like
        Number of specimens that broke from the population in question, above two [-].

    Returns
    -------
    ndarray of float
        ``(n - 2)/(n - 0.68)`` [-].

    Raises
    ------
    ValueError
        If there are two or fewer: the estimate then has no mean.

    Notes
    -----
    Within 0.006 of simulated factors for complete samples of five or more (tests). With
    competing populations, where `failures` counts the uncensored, it takes off too much: the
    modulus ends some 2 % low for 16 broken of 30, 9 % low for 5 of 10.

    References
    ----------
    [Ross1996]; tabulated in [C1239], after [Thoman1969].

    Examples
    --------
    >>> unbiasing_factor([5, 10, 30]).round(3)
    array([0.694, 0.858, 0.955])

    """
    count = finite("failures", failures)
    require(count > 2, "failures", count, "be above 2")
    return np.asarray((count - 2) / (count - 0.68))


class Intervals(Protocol):
    """Confidence in a fit, see `confidence.Confidence`."""

    def modulus_at(self, level: FloatArray) -> FloatArray:
        """Return the moduli below which the confidence is `level` [-]."""

    def height_at(self, hazard: FloatArray, level: FloatArray) -> FloatArray:
        """Return the strengths over the fitted scale at a hazard [-]."""

    def hazard_at(self, height: FloatArray, level: FloatArray) -> FloatArray:
        """Return the hazards at a strength over the fitted scale [-]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WeibullFit:
    r"""Weibull's distribution fitted to one or many sets of strengths.

    The intervals are exact for complete samples and for tests stopped at a set number of
    failures, close to it with competing populations: see `glasskit.strength.confidence`.

    Attributes
    ----------
    strengths : ndarray, shape (..., n)
        In ascending order [Pa].
    censored : ndarray of bool, shape (..., n)
        Where the specimen broke from another population, or did not break.
    modulus : ndarray, shape (...)
        Weibull modulus by maximum likelihood, biased upwards in small samples [-].
    scale : ndarray, shape (...)
        Strength that 63.2 % do not reach [Pa].
    share : ndarray, shape (..., n), optional
        Chance that each broke from this population, where some may or may not have: see
        `fit_masked` [-].
    drawn : Intervals, optional
        What is known of both where some may or may not have; else by formula.

    References
    ----------
    [C1239]

    """

    strengths: FloatArray
    censored: NDArray[np.bool_]
    modulus: FloatArray
    scale: FloatArray
    share: FloatArray | None = None
    drawn: Intervals | None = None

    def __post_init__(self) -> None:
        for array in (self.strengths, self.censored, self.modulus, self.scale, self.share):
            if array is not None:
                array.flags.writeable = False

    @property
    def failures(self) -> FloatArray:
        """Number of uncensored specimens, shape (...) [-]."""
        return np.asarray((~self.censored).sum(-1, dtype=np.float64))

    @property
    def unbiased_modulus(self) -> FloatArray:
        """Modulus with its bias taken off, shape (...): see `unbiasing_factor` [-]."""
        return np.asarray(self.modulus * unbiasing_factor(self.failures))

    def failure_chance(self, stress: ArrayLike) -> FloatArray:
        """Return the chance that a specimen breaks at or below a stress [Pa]."""
        load = positive("stress", stress, "Pa")
        return np.asarray(-np.expm1(-((load / self.scale) ** self.modulus)))

    def quantile(self, chance: ArrayLike) -> FloatArray:
        """Return the strength that a share `chance` of specimens does not reach [Pa]."""
        return np.asarray(self.scale * np.exp(np.log(_hazard(chance)) / self.modulus))

    def interval(self, level: float = 0.95) -> FloatArray:
        """Return the confidence interval of the modulus.

        Parameters
        ----------
        level : float
            Chance that such an interval holds the true value, equal tails [-].

        Returns
        -------
        ndarray, shape (..., 2)
            Lower and upper end [-].

        Raises
        ------
        ValueError
            If `level` does not lie between 0 and 1.

        Examples
        --------
        >>> fit = fit_weibull([52e6, 61e6, 70e6, 74e6, 83e6, 90e6])
        >>> round(fit.modulus.item(), 2), fit.interval().round(1)
        (6.52, array([ 2.3, 10.2]))

        """
        return self._confidence.modulus_at(confidence.tails(level))

    def quantile_interval(self, chance: ArrayLike, level: float = 0.95) -> FloatArray:
        """Return the confidence interval of the strength that a share does not reach.

        Parameters
        ----------
        chance : array_like
            The share, such as 0.01; broadcasts against the fits [-].
        level : float
            Chance that such an interval holds the true value [-].

        Returns
        -------
        ndarray, shape (..., 2)
            Lower and upper end [Pa].

        Raises
        ------
        ValueError
            If `chance` or `level` does not lie between 0 and 1.

        """
        hazard = _hazard(chance)
        return self.scale[..., None] * self._confidence.height_at(
            hazard, confidence.tails(level)
        )

    def scale_interval(self, level: float = 0.95) -> FloatArray:
        """Return the confidence interval of the scale, shape (..., 2) [Pa]."""
        return self.quantile_interval(-np.expm1(-1.0), level)

    def modulus_at(self, confidence_below: FloatArray) -> FloatArray:
        """Return the moduli below which the confidence is so much, shape (..., levels) [-]."""
        return self._confidence.modulus_at(confidence_below)

    def scale_at(self, confidence_below: FloatArray) -> FloatArray:
        """Return the scales below which the confidence is so much, (..., levels) [Pa]."""
        height = self._confidence.height_at(np.asarray(1.0), confidence_below)
        return np.asarray(self.scale[..., None] * height)

    def failure_interval(self, stress: ArrayLike, level: float = 0.95) -> FloatArray:
        """Return the confidence interval of the chance to break at or below a stress.

        Parameters
        ----------
        stress : array_like
            Stress; broadcasts against the fits [Pa].
        level : float
            Chance that such an interval holds the true value [-].

        Returns
        -------
        ndarray, shape (..., 2)
            Lower and upper end [-].

        Raises
        ------
        ValueError
            If `stress` is not positive or `level` does not lie between 0 and 1.

        """
        height = positive("stress", stress, "Pa") / self.scale
        return -np.expm1(-self._confidence.hazard_at(height, confidence.tails(level)))

    @property
    def _confidence(self) -> Intervals:
        if self.drawn is not None:
            return self.drawn
        height = np.log(self.strengths / self.scale[..., None])
        return confidence.from_heights(height, self.censored, self.modulus)

    def rank_plot(self) -> tuple[FloatArray, FloatArray]:
        """Return the points of a rank plot: strengths, and the median rank of each.

        Returns
        -------
        strength : ndarray, shape (..., n)
            Ascending [Pa].
        chance : ndarray, shape (..., n)
            Plotting position; NaN where the specimen is censored, for it has no point [-].

        """
        return self.strengths, ranks.plotting_positions(self.censored, share=self.share)

    def goodness(self) -> FloatArray:
        """Return how often a true Weibull sample looks worse than this one.

        Returns
        -------
        ndarray, shape (...)
            Significance of the Anderson-Darling statistic; below 0.05 a single Weibull line
            is doubtful, above it nothing is proved [-].

        Raises
        ------
        ValueError
            If a specimen is censored: the tabulated statistic needs complete samples.

        Notes
        -----
        Small samples hardly ever fail: two kinds of flaw in ten specimens pass mostly. Look
        at the origins first.

        References
        ----------
        [Stephens1977]; significance by the formula of [MIL17], right within an eighth of
        itself between 0.01 and 0.25 (tests).

        """
        require(~self.censored, "censored", self.censored, "be false for every specimen")
        count = self.strengths.shape[-1]
        hazard = (self.strengths / self.scale[..., None]) ** self.modulus[..., None]
        odd = 2 * np.arange(1, count + 1) - 1
        terms = odd * (np.log(-np.expm1(-hazard)) - hazard[..., ::-1])
        distance = (-count - terms.sum(-1) / count) * (1 + 0.2 / np.sqrt(count))
        return np.asarray(1 / (1 + np.exp(-0.10 + 1.24 * np.log(distance) + 4.48 * distance)))


def _hazard(chance: ArrayLike) -> FloatArray:
    """Check a share; return minus the logarithm of what is left."""
    share = within("chance", chance, 0, 1)
    return np.asarray(-np.log1p(-share))


def fit_weibull(strengths: ArrayLike, censored: ArrayLike | None = None) -> WeibullFit:
    r"""Fit Weibull's distribution to strengths by maximum likelihood.

    .. math:: \frac{\sum x_i^m \ln x_i}{\sum x_i^m} - \frac1m
        - \frac1r \sum_{broken} \ln x_i = 0, \qquad
        \sigma_0^m = \frac1r \sum x_i^m

    Parameters
    ----------
    strengths : array_like, shape (..., n)
        One set of specimens, or many at once [Pa].
    censored : array_like of bool, shape (..., n), optional
        True where a specimen broke from another population of flaws or did not break: this
        population bore at least that stress [-].

    Returns
    -------
    WeibullFit
        Modulus, scale and their intervals, of shape (...).

    Raises
    ------
    ValueError
        If a strength is not finite and positive, fewer than two specimens of a set are
        uncensored, or these all equal the strongest.

    Notes
    -----
    Two parameters: the distribution starts at zero stress. One population: strengths pooled
    over edge and surface origins, spans or suppliers give a modulus that belongs to none.

    References
    ----------
    [C1239]; [Lawless1982].

    Examples
    --------
    Six bars in MPa, the fourth of which broke from its edge:

    >>> strengths = np.array([52, 61, 70, 74, 83, 90]) * 1e6
    >>> fit = fit_weibull(strengths, [False, False, False, True, False, False])
    >>> round(fit.modulus.item(), 2), round(fit.scale.item() / 1e6, 1)
    (6.27, 79.1)

    """
    values = np.atleast_1d(positive("strengths", strengths, "Pa"))
    hidden = np.zeros(values.shape, bool) if censored is None else np.asarray(censored, bool)
    require(hidden.shape == values.shape, "censored", hidden.size, f"have {values.size} items")
    order = np.argsort(values, axis=-1, kind="stable")
    values, hidden = (np.take_along_axis(item, order, -1) for item in (values, hidden))
    count = (~hidden).sum(-1)
    require(count >= 2, "strengths", count, "hold two uncensored specimens or more")
    height = np.log(values / values[..., -1:])
    mean = np.where(hidden, 0.0, height).sum(-1) / count
    require(mean < 0, "strengths", values[..., -1], "not all be equal", "Pa")
    modulus = solve_modulus(height, mean)
    summed = np.exp(modulus[..., None] * height).sum(-1) / count
    scale = np.asarray(values[..., -1] * summed ** (1 / modulus))
    return WeibullFit(strengths=values, censored=hidden, modulus=modulus, scale=scale)


def solve_modulus(height: FloatArray, mean: FloatArray) -> FloatArray:
    """Solve the likelihood equation by Newton's steps, none of more than a factor of two.

    Parameters
    ----------
    height : ndarray, shape (..., n)
        Logarithm of the strengths over the strongest [-].
    mean : ndarray, shape (...)
        Its mean over the broken [-].

    Returns
    -------
    ndarray, shape (...)
        Modulus [-].

    """
    modulus = np.asarray(-1 / mean)
    for _ in range(100):
        powers = np.exp(modulus[..., None] * height)
        whole = powers.sum(-1)
        first = (powers * height).sum(-1) / whole
        second = (powers * height**2).sum(-1) / whole
        off = first - 1 / modulus - mean
        step = off / (second - first**2 + modulus**-2)
        following = np.clip(modulus - step, modulus / 2, 2 * modulus)
        settled = np.all(np.abs(following - modulus) <= 1e-12 * modulus)
        modulus = following
        if settled:
            break
    return np.asarray(modulus)
