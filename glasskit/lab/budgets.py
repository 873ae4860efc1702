# SPDX-License-Identifier: MIT
r"""Say how sure a measured result is: the uncertainty budget, and a simulation beside it.

One model function serves both ways. To first order [GUM]_,

.. math:: u^2(y) = \sum_i c_i^2 u^2(x_i), \qquad c_i = \partial f/\partial x_i

and by drawing every input from its own distribution [GUM1]_. Where the two part, the model
bends too much within the uncertainties, or one flat distribution rules: trust the simulation.

Values may be arrays, one entry a specimen; the draws lie along a new last axis.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from glasskit.quantities import (
    FloatArray,
    finite,
    non_negative,
    one_of,
    positive,
    read_only,
    require,
    whole,
    within,
)

Model = Callable[..., FloatArray]
"""A function of arrays given by keyword, such as a formula of `glasskit.lab.formulas`."""

SHAPES = ("normal", "rectangular", "triangular")
_HALF_WIDTH = {"rectangular": np.sqrt(3.0), "triangular": np.sqrt(6.0)}  # in standard units
_STEP = 1e-3  # of a standard uncertainty, for the slopes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Input:
    """One quantity that enters a model, and how sure it is.

    Attributes
    ----------
    value : ndarray
        Best estimate, SI.
    uncertainty : ndarray
        Standard uncertainty, of the unit of `value`.
    shape : {"normal", "rectangular", "triangular"}
        Distribution of what the quantity may be.
    degrees : float
        Degrees of freedom behind `uncertainty`; finite only for "normal", which is then
        Student's distribution, and infinite if well known [-].

    """

    value: FloatArray
    uncertainty: FloatArray
    shape: str = "normal"
    degrees: float = np.inf

    def __post_init__(self) -> None:
        one_of("shape", self.shape, SHAPES)
        degrees = positive("degrees", self.degrees, infinite=True)
        rule = f"be infinite for a {self.shape} shape"
        require(self.shape == "normal" or np.isinf(degrees), "degrees", degrees, rule)
        pair = finite("value", self.value), non_negative("uncertainty", self.uncertainty)
        for name, array in zip(("value", "uncertainty"), read_only(*pair), strict=True):
            object.__setattr__(self, name, array)

    def draw(self, trials: int, rng: np.random.Generator) -> FloatArray:
        """Return draws of the quantity, shape (..., trials)."""
        size = (*self.value.shape, trials)
        if self.shape == "rectangular":
            deviate = rng.uniform(-1, 1, size) * _HALF_WIDTH["rectangular"]
        elif self.shape == "triangular":
            deviate = rng.triangular(-1, 0, 1, size) * _HALF_WIDTH["triangular"]
        elif np.isinf(self.degrees):
            deviate = rng.standard_normal(size)
        else:
            deviate = rng.standard_t(self.degrees, size)
        return np.asarray(self.value[..., None] + self.uncertainty[..., None] * deviate)


def from_tolerance(
    value: ArrayLike, half_width: ArrayLike, shape: str = "rectangular"
) -> Input:
    """Return a quantity known to lie within plus or minus a tolerance.

    Parameters
    ----------
    value, half_width : array_like
        Middle and half width, of the same unit [SI].
    shape : {"rectangular", "triangular"}
        Triangular where the middle is more likely than the ends.

    Returns
    -------
    Input
        Standard uncertainty: the half width over the root of 3, or of 6.

    Raises
    ------
    ValueError
        If `half_width` is negative or `shape` has no ends.

    Notes
    -----
    The ends are taken as sure: a maker's tolerance is one, a guess is not.

    References
    ----------
    [GUM]

    Examples
    --------
    Four millimetres, give or take a tenth; standard uncertainty in mm:

    >>> from_tolerance(4e-3, 0.1e-3).uncertainty.item() * 1e3
    0.05774

    """
    one_of("shape", shape, _HALF_WIDTH)
    width = non_negative("half_width", half_width)
    return Input(
        value=finite("value", value), uncertainty=width / _HALF_WIDTH[shape], shape=shape
    )


def from_readings(readings: ArrayLike) -> Input:
    """Return the mean of repeated readings, with Student's distribution about it.

    Parameters
    ----------
    readings : array_like, shape (..., n)
        Two or more readings of the same thing [SI].

    Returns
    -------
    Input
        Mean, standard deviation over the root of n, n - 1 degrees of freedom.

    Raises
    ------
    ValueError
        If there are fewer than two readings.

    Notes
    -----
    Independent readings that scatter normally; what is wrong with all of them alike does not
    show.

    References
    ----------
    [GUM]

    Examples
    --------
    Three readings of a thickness, in mm:

    >>> mean = from_readings([3.98, 4.00, 4.02])
    >>> mean.value.item(), mean.uncertainty.item(), mean.degrees
    (4.0, 0.01155, 2.0)

    """
    values = np.atleast_1d(finite("readings", readings))
    count = values.shape[-1]
    require(count >= 2, "readings", count, "hold two or more")
    error = values.std(-1, ddof=1) / np.sqrt(count)
    return Input(value=values.mean(-1), uncertainty=error, degrees=count - 1.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Budget:
    """The first-order budget of a result.

    Attributes
    ----------
    value : ndarray, shape (...)
        Result at the best estimates.
    names : tuple of str
        Inputs, in the order of the next two.
    sensitivities : ndarray, shape (..., inputs)
        Slope of the result with each input.
    contributions : ndarray, shape (..., inputs)
        Slope times standard uncertainty, with its sign, in the unit of the result.
    degrees : ndarray, shape (...)
        Effective degrees of freedom, after Welch and Satterthwaite [-].

    """

    value: FloatArray
    names: tuple[str, ...]
    sensitivities: FloatArray
    contributions: FloatArray
    degrees: FloatArray

    def __post_init__(self) -> None:
        for array in (self.value, self.sensitivities, self.contributions, self.degrees):
            array.flags.writeable = False

    @property
    def standard(self) -> FloatArray:
        """Combined standard uncertainty, shape (...)."""
        return np.asarray(np.sqrt((self.contributions**2).sum(-1)))

    @property
    def shares(self) -> FloatArray:
        """Share of each input in the variance, shape (..., inputs); zero if all are exact."""
        total = self.standard[..., None] ** 2
        square = self.contributions**2
        return np.divide(square, total, out=np.zeros_like(square), where=total > 0)

    def expanded(self, level: float = 0.95) -> FloatArray:
        """Return the half width of the interval that holds the true value so often."""
        within("level", level, 0, 1)
        return np.asarray(stdtrit(self.degrees, (1 + level) / 2) * self.standard)

    def interval(self, level: float = 0.95) -> FloatArray:
        """Return the two ends of that interval, shape (..., 2)."""
        half = self.expanded(level)
        return np.stack([self.value - half, self.value + half], axis=-1)


def budget(model: Model, inputs: Mapping[str, Input]) -> Budget:
    """Carry the uncertainties of independent inputs through a model, to first order.

    Parameters
    ----------
    model : callable
        Takes every input by keyword, as arrays, and returns their broadcast.
    inputs : mapping of str to Input
        Quantities by the name that `model` has for them; values broadcast.

    Returns
    -------
    Budget
        Result, slopes, contributions and degrees of freedom.

    Raises
    ------
    ValueError
        If there are no inputs, or whatever `model` raises.

    Notes
    -----
    Slopes are symmetric differences over a thousandth of each standard uncertainty. Inputs
    are taken as independent: a length read once must enter once. With five readings or more
    95 % intervals of the bench methods hold the truth in 94 to 100 % of cases (a flat
    tolerance that rules makes them wide); with three in 92 %, with two in 87 % (simulated).

    References
    ----------
    [GUM]

    Examples
    --------
    A force on a square of 10 mm known to 0.1 mm either way: the pressure in pascals.

    >>> found = budget(
    ...     lambda force, side: force / side**2,
    ...     {"force": from_tolerance(100.0, 0.5), "side": from_tolerance(10e-3, 0.1e-3)},
    ... )
    >>> found.value.item(), round(found.standard.item()), found.shares.round(3)
    (1000000.0, 11902, array([0.059, 0.941]))

    """
    require(len(inputs) > 0, "inputs", len(inputs), "hold one quantity or more")
    centre = {name: item.value for name, item in inputs.items()}
    value = np.asarray(model(**centre), dtype=np.float64)
    slopes = []
    for name, item in inputs.items():
        step = np.where(item.uncertainty > 0, _STEP * item.uncertainty, 1.0)
        known = item.uncertainty == 0
        ends = [item.value + sign * np.where(known, 0.0, step) for sign in (1, -1)]
        above, below = (model(**{**centre, name: end}) for end in ends)
        slopes.append(np.broadcast_to((above - below) / (2 * step), value.shape))
    spread = [np.broadcast_to(item.uncertainty, value.shape) for item in inputs.values()]
    sensitivities = np.stack(slopes, axis=-1)
    contributions = sensitivities * np.stack(spread, axis=-1)
    degrees = np.array([item.degrees for item in inputs.values()])
    loss = (contributions**4 / degrees).sum(-1)
    total = (contributions**2).sum(-1) ** 2
    effective = np.divide(total, loss, out=np.full(value.shape, np.inf), where=loss > 0)
    return Budget(
        value=value,
        names=tuple(inputs),
        sensitivities=sensitivities,
        contributions=contributions,
        degrees=np.asarray(effective),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Simulation:
    """A result drawn many times over.

    Attributes
    ----------
    draws : ndarray, shape (..., trials)
        In ascending order.
    impossible : float
        Largest share, among the inputs that must be positive, of draws that came out zero or
        less and were drawn anew: above some percent, that input's law is doubtful [-].

    """

    draws: FloatArray
    impossible: float = 0.0

    def __post_init__(self) -> None:
        self.draws.flags.writeable = False

    @property
    def value(self) -> FloatArray:
        """Mean of the draws, shape (...)."""
        return np.asarray(self.draws.mean(-1))

    @property
    def standard(self) -> FloatArray:
        """Standard deviation of the draws, shape (...)."""
        return np.asarray(self.draws.std(-1, ddof=1))

    def interval(self, level: float = 0.95) -> FloatArray:
        """Return the interval with equal tails, shape (..., 2)."""
        within("level", level, 0, 1)
        ends = np.quantile(self.draws, [(1 - level) / 2, (1 + level) / 2], axis=-1)
        return np.moveaxis(ends, 0, -1)


def simulate(
    model: Model,
    inputs: Mapping[str, Input],
    rng: np.random.Generator,
    trials: int = 100_000,
    above_zero: Collection[str] = (),
) -> Simulation:
    """Draw the inputs from their distributions and put each draw through the model.

    Parameters
    ----------
    model, inputs
        As for `budget`.
    rng : numpy.random.Generator
        Source of the draws.
    trials : int
        Draws, a thousand or more [-].
    above_zero : collection of str
        Inputs that cannot be zero or less, such as a length: their law is cut off there.

    Returns
    -------
    Simulation
        The results, sorted, and how many draws were impossible.

    Raises
    ------
    ValueError
        If `trials` is too small, an input of `above_zero` is not, or whatever `model` raises
        for an impossible draw.

    Notes
    -----
    With a hundred thousand draws an end of a 95 % interval is good to about one part in a
    hundred of the standard uncertainty.

    References
    ----------
    [GUM1]

    Examples
    --------
    A length known to lie within 0.1 of 1, in square:

    >>> from glasskit.lab import from_tolerance
    >>> length = {"side": from_tolerance(1.0, 0.1)}
    >>> drawn = simulate(lambda side: side**2, length, np.random.default_rng(1))
    >>> drawn.standard.round(2).item()
    0.12

    """
    trials = whole("trials", trials, 1000, 10_000_000)
    require(len(inputs) > 0, "inputs", len(inputs), "hold one quantity or more")
    drawn = {name: item.draw(trials, rng) for name, item in inputs.items()}
    impossible = 0.0
    for name in above_zero:
        one_of("above_zero", name, inputs)
        require(inputs[name].value > 0, name, inputs[name].value, "be positive")
        impossible = max(impossible, float((drawn[name] <= 0).mean()))
        while (bad := drawn[name] <= 0).any():
            drawn[name] = np.where(bad, inputs[name].draw(trials, rng), drawn[name])
    draws = np.sort(model(**drawn), axis=-1)
    return Simulation(draws=draws, impossible=impossible)
