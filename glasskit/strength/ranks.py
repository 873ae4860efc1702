# SPDX-License-Identifier: MIT
"""Rank strengths and draw the straight line of Weibull paper through them.

The weakest of n specimens stands for some share of all that might have been tested. Which
share is a matter of choice; `POSITIONS` names the usual ones. On Weibull paper, the logarithm
of ``ln(1/(1 - share))`` against that of the strength, one population of flaws is a straight
line.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, in_range, one_of, positive, require, within

POSITIONS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "hazen": (0.5, 0.0),
        "median rank": (0.3, 0.4),
        "mean rank": (0.0, 1.0),
        "blom": (0.375, 0.25),
    }
)
"""Plotting positions by name: a and b of ``(i - a)/(n + b)``. "hazen" ``(i - 0.5)/n`` of
[C1239]; "median rank" of [Benard1953]; "mean rank" ``i/(n + 1)`` of [Weibull1951]; "blom" of
[Blom1958]."""


def plotting_positions(
    censored: ArrayLike, positions: str = "median rank", share: ArrayLike | None = None
) -> FloatArray:
    """Return the share broken that each specimen of a ranked set stands for.

    Parameters
    ----------
    censored : array_like of bool, shape (..., n)
        Where a specimen broke from another population, strengths ascending [-].
    positions : str
        A key of `POSITIONS`.
    share : array_like, shape (..., n), optional
        Chance that each broke from this population, which counts as so much of a break; 1
        where not censored and 0 where it is by default [-].

    Returns
    -------
    ndarray, shape (..., n)
        Share; NaN where censored [-].

    Raises
    ------
    ValueError
        If `positions` is unknown or a share does not lie in 0 to 1.

    Notes
    -----
    A censored specimen shares its place among those that outlast it: the ranks after it
    rise by more than one.

    References
    ----------
    [Johnson1964] for censored ranks; [WuZhou2006] recommends the median rank.

    Examples
    --------
    >>> plotting_positions([False, True, False]).round(3)
    array([0.206,   nan, 0.647])

    """
    one_of("positions", positions, POSITIONS)
    hidden = np.asarray(censored, dtype=bool)
    count = hidden.shape[-1]
    left = np.arange(count, 0, -1)
    broken = ~hidden if share is None else in_range("share", share, 0.0, 1.0)
    kept = (left / (left + 1)) ** broken
    rank = (count + 1) * (1 - np.cumprod(kept, axis=-1))
    less, more = POSITIONS[positions]
    return np.asarray(np.where(hidden, np.nan, (rank - less) / (count + more)))


def paper_height(chance: ArrayLike) -> FloatArray:
    """Return the height of a share on Weibull paper, ``ln ln(1/(1 - chance))``.

    Parameters
    ----------
    chance : array_like
        Share broken, between 0 and 1 [-].

    Returns
    -------
    ndarray of float
        Height [-], of the same shape.

    Raises
    ------
    ValueError
        If a share does not lie between 0 and 1.

    Notes
    -----
    Shares near 0 and 1 lie far apart: the lowest point of a set scatters most.

    References
    ----------
    [Weibull1951]

    Examples
    --------
    The share that marks the scale lies at zero:

    >>> round(paper_height(0.632).item(), 2)
    -0.0

    """
    share = within("chance", chance, 0, 1)
    return np.asarray(np.log(-np.log1p(-share)))


def fit_line(
    strengths: ArrayLike, positions: str = "median rank"
) -> tuple[FloatArray, FloatArray]:
    """Fit the straight line of Weibull paper by least squares, heights on strengths.

    Parameters
    ----------
    strengths : array_like, shape (..., n)
        Complete sets of specimens [Pa].
    positions : str
        A key of `POSITIONS`.

    Returns
    -------
    modulus : ndarray, shape (...)
        Slope of the line [-].
    scale : ndarray, shape (...)
        Where it passes the height zero [Pa].

    Raises
    ------
    ValueError
        If a strength is not positive, a set holds fewer than two or they are all equal, or
        `positions` is unknown.

    Notes
    -----
    What a class does by hand. The scatter of the slope is larger than with maximum
    likelihood, and the usual standard errors of a regression are wrong, since ranked points
    are not independent.

    References
    ----------
    [WuZhou2006]

    Examples
    --------
    >>> modulus, scale = fit_line([52e6, 61e6, 70e6, 74e6, 83e6, 90e6])
    >>> round(modulus.item(), 2), round(scale.item() / 1e6, 1)
    (5.26, 77.5)

    """
    values = np.sort(np.atleast_1d(positive("strengths", strengths, "Pa")), axis=-1)
    count = values.shape[-1]
    require(count >= 2, "strengths", count, "hold two specimens or more")
    require(values[..., 0] < values[..., -1], "strengths", values[..., 0], "not all be equal")
    height = paper_height(plotting_positions(np.zeros(count, bool), positions))
    across = np.log(values)
    centre = across.mean(-1)
    away = across - centre[..., None]
    modulus = (away * height).sum(-1) / (away**2).sum(-1)
    return np.asarray(modulus), np.asarray(np.exp(centre - height.mean() / modulus))
