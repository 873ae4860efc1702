# SPDX-License-Identifier: MIT
r"""Take a dilatometer's curve to a mean expansion and to a transition temperature.

Between two temperatures a rod of glass grows by its mean coefficient; where the tangent of the
hard glass meets that of the softened one lies the transition temperature. It goes with the
rate of heating and with how the piece was cooled before.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from glasskit.lab.budgets import from_tolerance
from glasskit.lab.reducing import Reduction, reduce
from glasskit.quantities import FloatArray, finite, non_negative, positive, require, within

_FEWEST = 4  # readings in the range of a tangent


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tangent:
    """A straight line through part of a curve.

    Attributes
    ----------
    low, high : float
        Where it was fitted [K].
    slope, level : float
        Of the elongation [m/K], and its value at zero kelvin [m].

    """

    low: float
    high: float
    slope: float
    level: float

    def at(self, temperature: ArrayLike) -> FloatArray:
        """Return the elongation on the line [m]."""
        return np.asarray(self.level + self.slope * finite("temperature", temperature, "K"))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Dilatometry:
    """What a dilatometer's curve gives.

    Attributes
    ----------
    temperature, elongation : ndarray, shape (n,)
        As read [K], [m].
    mean : Reduction
        Mean coefficient of expansion, with its budget.
    hard, soft : Tangent
        Of the hard glass and of the softened one.
    transition : float
        Where they meet [K].
    interval : tuple of float
        Its confidence interval, thermometer included [K].
    softening : float
        Where the piece is longest; infinite if it never shrinks [K].
    level : float
        Confidence [-].

    """

    temperature: FloatArray
    elongation: FloatArray
    mean: Reduction
    hard: Tangent
    soft: Tangent
    transition: float
    interval: tuple[float, float]
    softening: float
    level: float

    def __post_init__(self) -> None:
        self.temperature.flags.writeable = False
        self.elongation.flags.writeable = False


def dilatometry(
    temperature: ArrayLike,
    elongation: ArrayLike,
    length: float,
    hard: tuple[float, float],
    soft: tuple[float, float],
    *,
    ends: tuple[float, float] = (293.15, 573.15),
    sizes: float = 0.0,
    thermometer: float = 0.0,
    level: float = 0.95,
) -> Dilatometry:
    """Reduce a curve of one heating.

    Parameters
    ----------
    temperature, elongation : array_like, shape (n,)
        In order of time, as shown [K], [m].
    length : float
        Of the piece, cold [m].
    hard, soft : tuple of float
        Between which temperatures each tangent is laid [K].
    ends : tuple of float
        Between which the mean is taken [K].
    sizes, thermometer : float
        How far elongation [m] and temperature [K] may be off, plus or minus.
    level : float
        Confidence [-].

    Returns
    -------
    Dilatometry
        Mean expansion, tangents, transition and softening temperature.

    Raises
    ------
    ValueError
        If a number is out of its range, the curve does not reach, or a tangent has fewer than
        four readings or the soft one is not the steeper.

    Notes
    -----
    The interval is for scatter that each reading has by itself, and for the thermometer.
    Where one lays the tangents matters more: shift them and see. Rate of heating and thermal
    history shift it by some 5 to 20 K (from memory).

    References
    ----------
    [ISO7884], [ISO7991]

    Examples
    --------
    A made-up curve that turns steeper at 550 degrees, 50 mm long:

    >>> warm = np.arange(293.15, 893.15, 10.0)
    >>> grown = 0.42e-6 * (warm - 293.15) + 1e-6 * np.maximum(warm - 823.15, 0)
    >>> found = dilatometry(warm, grown, 50e-3, (473.15, 753.15), (833.15, 883.15))
    >>> round(found.transition - 273.15, 1), round(found.mean.value.item() * 1e6, 2)
    (550.0, 8.95)

    """
    within("level", level, 0, 1)
    warm = np.array(positive("temperature", temperature, "K"))
    grown = np.array(finite("elongation", elongation, "m"))
    require(grown.shape == warm.shape, "elongation", grown.size, f"hold {warm.size} items")
    piece = positive("length", length, "m").item()
    off = non_negative("thermometer", thermometer, "K").item()
    start, end = positive("ends", ends, "K").tolist()
    require(start < end, "ends", start, "be in order", "K")
    reach = 1.0 + off  # [K] how far a curve may begin or end from where it is asked for
    require(
        (warm.min() <= start + reach) & (warm.max() >= end - reach),
        "temperature",
        warm.max() if warm.max() < end - reach else warm.min(),
        f"reach from {start:g} to {end:g} K",
        "K",
    )
    longest = int(np.argmax(grown))
    rising = slice(0, longest + 1)
    order = np.argsort(warm[rising], kind="stable")
    first, last = np.interp([start, end], warm[rising][order], grown[rising][order])
    wide = non_negative("sizes", sizes, "m").item()
    given = {
        "cold_length": from_tolerance(piece, 0.05e-3),
        "elongation": from_tolerance(last - first, wide),
        "start_temperature": from_tolerance(start, off),
        "end_temperature": from_tolerance(end, off),
    }
    below, cov_below, free_below = _tangent("hard", warm[rising], grown[rising], hard)
    above, cov_above, free_above = _tangent("soft", warm[rising], grown[rising], soft)
    turn = above.slope - below.slope
    require(turn > 0, "soft", above.slope, "be steeper than the hard tangent", "m/K")
    meet = (below.level - above.level) / turn
    towards = np.array([1.0, meet]) / turn
    error = np.sqrt(towards @ (cov_below + cov_above) @ towards)
    error = np.hypot(error, off / np.sqrt(3))
    half = float(stdtrit(min(free_below, free_above), (1 + level) / 2) * error)
    return Dilatometry(
        temperature=warm,
        elongation=grown,
        mean=reduce("mean_expansion", given),
        hard=below,
        soft=above,
        transition=float(meet),
        interval=(float(meet) - half, float(meet) + half),
        softening=float(warm[longest]) if longest < warm.size - 1 else np.inf,
        level=level,
    )


def _tangent(
    name: str, warm: FloatArray, grown: FloatArray, ends: tuple[float, float]
) -> tuple[Tangent, FloatArray, int]:
    """Return a line through part of a curve, covariance of level and slope, and freedom."""
    low, high = positive(name, ends, "K").tolist()
    inside = (warm >= low) & (warm <= high)
    count = int(inside.sum())
    require(count >= _FEWEST, name, count, f"hold {_FEWEST} readings or more")
    design = np.stack([np.ones(count), warm[inside]], axis=-1)
    square = np.linalg.inv(design.T @ design)
    found = square @ design.T @ grown[inside]
    left = grown[inside] - design @ found
    spread = (left @ left) / (count - 2)
    line = Tangent(low=low, high=high, level=float(found[0]), slope=float(found[1]))
    return line, spread * square, count - 2
