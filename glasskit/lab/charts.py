# SPDX-License-Identifier: MIT
r"""Watch a reference lot over months: individuals and moving ranges, with limits that fit.

.. math:: \overline{x} \pm 2.66\,\overline{R}, \qquad R \le 3.267\,\overline{R}

with the mean :math:`\overline{R}` of the differences of neighbours [ISO7870]_. For strengths
:math:`x` is the logarithm: a rig that is off by a part is off by that part at any strength.
The strength of a *single* specimen is lopsided even so, as Weibull's distribution is: at 2.66
it falls below in one of seventy and never lies above. Its limits are those of that
distribution with the same chance of a false alarm, 0.135 % to either side.

Limits tell whether something changed. They are no tolerance and promise no strength.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtr

from glasskit.quantities import FloatArray, one_of, positive, require, whole

RUN = 9
"""Values in a row on one side of the middle that mean a drift, after [Nelson1984] [-]."""

_D2, _D4 = 1.128, 3.267  # of two normal values: mean range over spread; upper limit
_TAIL = float(ndtr(-3.0))  # chance beyond three spreads, to one side
_RANGE_TAIL = float(2 * ndtr(-_D4 * _D2 / np.sqrt(2)))  # chance of a range beyond its limit
_PER_MODULUS = 2 * np.log(2)  # mean range of Weibull's logarithm, times the modulus


class _Limits(NamedTuple):
    """Distances from the mean, and the limit of ranges, in mean ranges."""

    low: float
    middle: float
    high: float
    widest: float


def _weibull(chance: float) -> float:
    """Return how far a share of Weibull's logarithm reaches from its mean, in mean ranges."""
    return float((np.log(-np.log1p(-chance)) + np.euler_gamma) / _PER_MODULUS)


_NORMAL = _Limits(-3 / _D2, 0.0, 3 / _D2, _D4)
KINDS = {
    "means": _NORMAL,
    "single": _Limits(
        _weibull(_TAIL),
        _weibull(0.5),
        _weibull(1 - _TAIL),
        float(np.log(2 / _RANGE_TAIL - 1) / _PER_MODULUS),
    ),
    "plain": _NORMAL,
}
"""What a value may be: the mean strength of several specimens, the strength of a single one,
or another quantity, taken as it stands and not by its logarithm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ControlChart:
    """A series of values in order of time, with its limits.

    Attributes
    ----------
    kind : str
        A key of `KINDS`.
    baseline : int
        Number of first values that set the limits [-].
    values : ndarray, shape (n,)
        In order of time [SI].
    labels : tuple of str
        What each value is called, such as its month.
    low, middle, high : float
        Limits and middle line, the median of what is expected [SI].
    ranges : ndarray, shape (n - 1,)
        Moving ranges: by how much each value differs from that before; for strengths as a
        share of the smaller one [SI or -].
    usual_range, widest_range : float
        Their middle line and limit [as `ranges`].

    """

    kind: str
    baseline: int
    values: FloatArray
    labels: tuple[str, ...]
    low: float
    middle: float
    high: float
    ranges: FloatArray
    usual_range: float
    widest_range: float

    def __post_init__(self) -> None:
        self.values.flags.writeable = self.ranges.flags.writeable = False

    @property
    def outside(self) -> tuple[int, ...]:
        """Places of the values beyond a limit, from 0."""
        beyond = (self.values < self.low) | (self.values > self.high)
        return tuple(np.flatnonzero(beyond).tolist())

    @property
    def jumps(self) -> tuple[int, ...]:
        """Places of the values that differ too much from the one before, from 0."""
        return tuple((np.flatnonzero(self.ranges > self.widest_range) + 1).tolist())

    @property
    def drifts(self) -> tuple[int, ...]:
        """Places at which `RUN` values or more in a row lie on one side, from 0."""
        side = np.sign(self.values - self.middle)
        found, run = [], 0
        for place, now in enumerate(side):
            run = run + 1 if place and now == side[place - 1] and now else int(now != 0)
            if run >= RUN:
                found.append(place)
        return tuple(found)


def control_chart(
    values: ArrayLike,
    kind: str = "means",
    baseline: int | None = None,
    labels: Sequence[str] | None = None,
) -> ControlChart:
    """Return the chart of individuals and moving ranges.

    Parameters
    ----------
    values : array_like, shape (n,)
        One quantity in order of time, such as the mean strength of ten reference bars each
        month [SI].
    kind : {"means", "single", "plain"}
        See `KINDS`.
    baseline : int, optional
        Number of first values that set the limits, all by default [-].
    labels : sequence of str, optional
        What each value is called; by default its number, from 1.

    Returns
    -------
    ControlChart
        Values, limits, and what lies outside.

    Raises
    ------
    ValueError
        If a value is not positive, there are fewer than three, `kind` is unknown, `baseline`
        is not from 3 to n, all its values are equal, or `labels` are not n.

    Notes
    -----
    Limits from few values are rough: use twenty or more, all from a time when nothing was
    changed, and then keep them. In an even process about one value in 370 lies outside, one
    range in 110, and one value in 240 at the end of such a run. Two kinds of flaw in a lot
    make a chart of neither.

    References
    ----------
    [ISO7870]; [Nelson1984]; worked example [SematechHandbook]. Limits of single strengths are
    own method.

    Examples
    --------
    Means of ten bars each month, in MPa; in the eighth the rollers were changed:

    >>> means = np.array([61.2, 59.8, 63.0, 60.4, 62.2, 58.9, 61.5, 48.0]) * 1e6
    >>> chart = control_chart(means, baseline=7)
    >>> round(chart.low / 1e6, 1), round(chart.high / 1e6, 1), chart.outside
    (54.7, 68.0, (7,))

    """
    every = np.atleast_1d(positive("values", values))
    require(every.ndim == 1, "values", every.ndim, "be one row")
    require(every.size >= 3, "values", every.size, "be three or more")
    names = [str(at + 1) for at in range(every.size)] if labels is None else labels
    require(len(names) == every.size, "labels", len(names), f"be {every.size}")
    one_of("kind", kind, KINDS)
    first = whole("baseline", every.size if baseline is None else baseline, 3, every.size)
    logarithm = kind != "plain"
    level = np.log(every) if logarithm else every.copy()
    ranges = np.abs(np.diff(level))
    mean, usual = level[:first].mean(), ranges[: first - 1].mean()
    require(usual > 0, "values", every[0], "not all be equal")
    limits = KINDS[kind]
    ends = mean + usual * np.array([limits.low, limits.middle, limits.high])
    spans = [ranges, usual, usual * limits.widest]
    low, middle, high = (np.exp(ends) if logarithm else ends).tolist()
    moved, typical, widest = (np.expm1(span) if logarithm else span for span in spans)
    return ControlChart(
        kind=kind,
        baseline=first,
        values=every.copy(),
        labels=tuple(names),
        low=low,
        middle=middle,
        high=high,
        ranges=np.asarray(moved),
        usual_range=float(typical),
        widest_range=float(widest),
    )
