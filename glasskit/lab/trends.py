# SPDX-License-Identifier: MIT
r"""Ask whether strength goes with span, thickness or rate, and how sure the answer is.

.. math:: \ln\sigma = b_0 + \sum_k b_k \ln x_k + \varepsilon

Each slope says by how many per cent the strength changes when its factor grows by one per
cent, the others held. A slope whose interval holds zero is no finding, and no proof of none.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from glasskit.quantities import FloatArray, positive, require, within


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trend:
    """How strength goes with each factor, by powers.

    Attributes
    ----------
    names : tuple of str
        Factors.
    slopes : ndarray, shape (..., factors)
        Power of each factor [-].
    intervals : ndarray, shape (..., factors, 2)
        Confidence intervals of the powers [-].
    level : float
        Their confidence, each by itself [-].

    """

    names: tuple[str, ...]
    slopes: FloatArray
    intervals: FloatArray
    level: float

    def __post_init__(self) -> None:
        self.slopes.flags.writeable = False
        self.intervals.flags.writeable = False


def trend(
    strengths: ArrayLike, factors: Mapping[str, ArrayLike], level: float = 0.95
) -> Trend:
    """Fit the powers by least squares.

    Parameters
    ----------
    strengths : array_like, shape (..., n)
        Strengths of n specimens; sets may be stacked [Pa].
    factors : mapping of str to array_like, shape (n,)
        What was varied, each positive, in any one unit.
    level : float
        Confidence [-].

    Returns
    -------
    Trend
        Powers with Student's intervals.

    Raises
    ------
    ValueError
        If a number is not positive, the lengths differ, factors move together, or there are
        not two specimens more than powers.

    Notes
    -----
    The scatter is taken as even and roughly normal in the logarithm. Weibull's is lopsided;
    from some 15 specimens on the intervals hold all the same (tests). Specimens of two
    populations of flaws must be fitted apart.

    References
    ----------
    Common practice: least squares on logarithms, Student's intervals.

    Examples
    --------
    Strength that falls as the tenth root of the length:

    >>> found = trend([100e6, 94e6, 93e6, 88e6, 86e6], {"length": [1, 2, 2, 4, 4]})
    >>> found.slopes.round(2), found.intervals.round(2)
    (array([-0.1]), array([[-0.13, -0.07]]))

    """
    within("level", level, 0, 1)
    values = np.log(np.atleast_1d(positive("strengths", strengths, "Pa")))
    require(len(factors) > 0, "factors", len(factors), "name one factor or more")
    count = values.shape[-1]
    columns = []
    for name, factor in factors.items():
        column = np.log(positive(name, factor))
        require(column.shape == (count,), name, column.size, f"hold {count} items")
        columns.append(column - column.mean())
    design = np.stack(columns, axis=-1)
    freedom = count - design.shape[1] - 1
    require(freedom >= 1, "strengths", count, "hold two specimens more than there are factors")
    rank = np.linalg.matrix_rank(design)
    require(rank == design.shape[1], "factors", rank, "each vary by itself")
    square = np.linalg.inv(design.T @ design)
    slopes = values @ design @ square
    left = values - values.mean(-1, keepdims=True) - slopes @ design.T
    error = np.sqrt((left**2).sum(-1, keepdims=True) / freedom * np.diag(square))
    half = stdtrit(freedom, (1 + level) / 2) * error
    return Trend(
        names=tuple(factors),
        slopes=slopes,
        intervals=np.stack([slopes - half, slopes + half], axis=-1),
        level=level,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PowerLine:
    """Strengths against one factor, and the power that fits them.

    Attributes
    ----------
    factor, strengths : ndarray, shape (n,)
        Factor, in any one unit, and strength [Pa].
    power : float
        Power of the factor [-].
    interval : tuple of float
        Its confidence interval [-].
    middle : tuple of float
        A point of the line: the means of the logarithms, as factor and strength [Pa].
    level : float
        Confidence [-].

    """

    factor: FloatArray
    strengths: FloatArray
    power: float
    interval: tuple[float, float]
    middle: tuple[float, float]
    level: float

    def __post_init__(self) -> None:
        self.factor.flags.writeable = False
        self.strengths.flags.writeable = False

    def at(self, factor: ArrayLike, power: float | None = None) -> FloatArray:
        """Return the strength on the line, or on one of another power [Pa]."""
        slope = self.power if power is None else power
        return np.asarray(self.middle[1] * (np.asarray(factor) / self.middle[0]) ** slope)


def power_line(strengths: ArrayLike, factor: ArrayLike, level: float = 0.95) -> PowerLine:
    """Fit the power of one factor, see `trend`.

    Parameters
    ----------
    strengths : array_like, shape (n,)
        Strength of each specimen [Pa].
    factor : array_like, shape (n,)
        What was varied, positive, in any one unit [-].
    level : float
        Confidence [-].

    Returns
    -------
    PowerLine
        Power, interval, and the line.

    Raises
    ------
    ValueError
        As for `trend`.

    Notes
    -----
    As for `trend`.

    References
    ----------
    Common practice: least squares on logarithms, Student's intervals.

    Examples
    --------
    >>> found = power_line([100e6, 94e6, 93e6, 88e6, 86e6], [1, 2, 2, 4, 4])
    >>> round(found.power, 3), (found.at(2.0) / 1e6).round().item()
    (-0.102, 93.0)

    """
    values = np.array(positive("strengths", strengths, "Pa"))
    column = np.array(positive("factor", factor))
    found = trend(values, {"factor": column}, level)
    low, high = found.intervals[0].tolist()
    middle = [float(np.exp(np.log(item).mean())) for item in (column, values)]
    return PowerLine(
        factor=column,
        strengths=values,
        power=found.slopes[0].item(),
        interval=(low, high),
        middle=(middle[0], middle[1]),
        level=level,
    )
