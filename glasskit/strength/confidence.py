# SPDX-License-Identifier: MIT
r"""Tell how sure a Weibull fit is, by the conditional method.

Given the shape of the sample, the confidence in a modulus :math:`m`, and in a scale once the
modulus is given, are

.. math:: p(m) \propto m^{r-2} \prod_{broken} x_i^m \Big/ \Big(\sum x_i^m\Big)^r, \qquad
    \sigma_0^{-m} \sum x_i^m \sim \mathrm{Gamma}(r)

with :math:`r` the number of uncensored [Lawless1982]_. Exact for complete samples and for
tests stopped at a set number of failures, with neither simulation nor large-sample rule. With
competing populations it is close: in 12,000 simulated sets the intervals of 95 % held the true
modulus in 95.0 % (10 specimens), 93.7 % (half of 10 censored), 95.3 % (30) and 95.0 % (half of
30 censored); their true scale in 93.9 % at worst (half of 10 censored). The likelihood ratio
with chi-square limits holds the modulus in 92.4 % with 10 and 94.2 % with 30 complete ones.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_simpson
from scipy.special import gammaincc, gammainccinv, gammaincinv, gammaln, ndtri

from glasskit.quantities import FloatArray, within

_NODES = 161  # logarithms of the modulus at which its confidence density is taken
_TAIL = 1e-10  # confidence left out at either end


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Confidence:
    """Confidence in the modulus, and in the scale given the modulus, of many fits at once.

    Attributes
    ----------
    log_modulus : ndarray, shape (..., nodes)
        Evenly spaced natural logarithms of the modulus [-].
    density : ndarray, shape (..., nodes)
        Confidence density over `log_modulus`, up to a constant factor [-].
    log_sum : ndarray, shape (..., nodes)
        Logarithm of the sum of ``(strength/scale)**modulus``, with the fitted scale [-].
    modulus : ndarray, shape (...)
        Fitted modulus [-].
    failures : ndarray, shape (...)
        Number of uncensored [-].

    """

    log_modulus: FloatArray
    density: FloatArray
    log_sum: FloatArray
    modulus: FloatArray
    failures: FloatArray

    def modulus_at(self, level: FloatArray) -> FloatArray:
        """Return the moduli below which the confidence is `level`, shape (..., levels) [-]."""
        below = cumulative_simpson(self.density, x=self.log_modulus, axis=-1, initial=0)
        whole = below[..., -1:]
        found = _invert(self.log_modulus, below / whole, self.density / whole, level)
        return np.asarray(np.exp(found))

    def height_at(self, hazard: FloatArray, level: FloatArray) -> FloatArray:
        """Return the strengths over the fitted scale at a hazard, shape (..., levels) [-]."""
        base = np.log(hazard)[..., None, None] + self.log_sum[..., None, :]
        rate = -np.exp(self.log_modulus)[..., None, :]
        return np.exp(self._solve(np.log(hazard) / self.modulus, base, rate, level))

    def hazard_at(self, height: FloatArray, level: FloatArray) -> FloatArray:
        """Return the hazards at a strength over the fitted scale, shape (..., levels) [-]."""
        place = np.log(height)
        modulus = np.exp(self.log_modulus)[..., None, :]
        base = self.log_sum[..., None, :] - modulus * place[..., None, None]
        rate = np.ones_like(modulus)
        return np.exp(self._solve(self.modulus * place, base, rate, 1 - level))

    def _solve(
        self, start: FloatArray, base: FloatArray, rate: FloatArray, level: FloatArray
    ) -> FloatArray:
        """Find where the confidence, a mixture of gamma tails, takes the values wanted.

        The mixture is ``sum(weight * gammaincc(failures, exp(base + rate * t)))``. Newton's
        steps in t on its normal deviate, which is nearly a straight line; a step that is too
        bold, or leaves the bracket found so far, is replaced.
        """
        weight = (self.density / self.density.sum(-1, keepdims=True))[..., None, :]
        count = self.failures[..., None, None]
        first = np.broadcast_to(start[..., None], (*start.shape, level.size))
        t, low, high = first, np.full(first.shape, -np.inf), np.full(first.shape, np.inf)
        for _ in range(100):
            exponent = np.minimum(base + rate * t[..., None], 700.0)
            tail = np.exp(exponent)
            reached = ndtri((weight * gammaincc(count, tail)).sum(-1))
            steep = np.exp(count * exponent - tail - gammaln(count))
            slope = -(weight * rate * steep).sum(-1)
            short = np.clip(ndtri(level) - reached, -1.0, 1.0)
            step = short * np.exp(-(reached**2) / 2) / np.sqrt(2 * np.pi)
            most = 1 / np.abs(rate).mean(-1) + np.abs(t - first)
            step = np.clip(step / np.where(slope == 0, np.inf, slope), -most, most)
            forward = short * -rate[..., 0] > 0
            low, high = np.where(forward, t, low), np.where(forward, high, t)
            outside = (t + step <= low) | (t + step >= high)
            halfway = np.clip((low + high) / 2, t - most, t + most) - t
            step = np.where(outside & (np.abs(short) > 1e-9), halfway, step)
            t = t + step
            if np.all(np.abs(step) <= 1e-7 * (1 + np.abs(t))):
                return np.asarray(t)
        raise ArithmeticError("interval did not converge")


def from_heights(
    height: FloatArray, censored: NDArray[np.bool_], modulus: FloatArray
) -> Confidence:
    """Return the confidence in fits.

    Parameters
    ----------
    height : ndarray, shape (..., n)
        Natural logarithm of the strengths over the fitted scale, ascending [-].
    censored : ndarray of bool, shape (..., n)
        Where the specimen is censored.
    modulus : ndarray, shape (...)
        Fitted modulus [-].

    Returns
    -------
    Confidence
        Over a range of the modulus that leaves out one in ten thousand million.

    """
    failures = np.asarray((~censored).sum(-1, dtype=np.float64))
    low = np.log(modulus * gammaincinv(failures - 1, _TAIL) / failures) - 0.5
    high = np.log(modulus * gammainccinv(failures, _TAIL) / failures) + 0.5
    log_modulus = np.linspace(low, high, _NODES, axis=-1)
    trial, top = np.exp(log_modulus), height[..., -1:]
    summed = np.zeros_like(trial)
    for place in range(height.shape[-1]):  # one specimen at a time: memory stays small
        summed += np.exp(trial * (height[..., place, None] - top))
    log_sum = np.log(summed) + trial * top
    broken = np.where(censored, 0.0, height).sum(-1)[..., None]
    count = failures[..., None]
    exponent = (count - 1) * log_modulus + trial * broken - count * log_sum
    return Confidence(
        log_modulus=log_modulus,
        density=np.exp(exponent - exponent.max(-1, keepdims=True)),
        log_sum=log_sum,
        modulus=modulus,
        failures=failures,
    )


def tails(level: float) -> FloatArray:
    """Return the confidence below the two ends of an interval with equal tails [-]."""
    within("level", level, 0, 1)
    return np.array([(1 - level) / 2, (1 + level) / 2])


def _invert(
    place: FloatArray, below: FloatArray, density: FloatArray, wanted: FloatArray
) -> FloatArray:
    """Find the places at which a cumulative curve takes the values wanted, by cubic pieces."""
    right = (below[..., None, :] < wanted[:, None]).sum(-1)
    right = np.clip(right, 1, below.shape[-1] - 1)
    x0, x1 = (np.take_along_axis(place, right - k, -1) for k in (1, 0))
    f0, f1 = (np.take_along_axis(below, right - k, -1) for k in (1, 0))
    d0, d1 = (np.take_along_axis(density, right - k, -1) for k in (1, 0))
    part, rise = (wanted - f0) / (f1 - f0), f1 - f0
    inward = x0 * (1 + 2 * part) + rise / d0 * part
    outward = x1 * (3 - 2 * part) - rise / d1 * (1 - part)
    return np.asarray(inward * (1 - part) ** 2 + outward * part**2)
