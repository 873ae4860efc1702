# SPDX-License-Identifier: MIT
"""Take a load-time curve to the breaking load and the rate of loading, and name its doubts."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from glasskit.lab.bend_tests import BENCHES
from glasskit.lab.budgets import Input
from glasskit.lab.columns import Columns
from glasskit.lab.reducing import Reduction, reduce
from glasskit.quantities import FloatArray, of_type, one_of, positive, require
from glasskit.tables import read

LOW, HIGH = 0.1, 0.9
"""Shares of the breaking load between which the rate is taken; common practice [-]."""

RATES = MappingProxyType(
    {
        row["standard"]: (1e6 * float(row["low_mpa"]), 1e6 * float(row["high_mpa"]))
        for row in read("stress_rates")
    }
)
"""Ends of the stress rate that a standard asks for, by its name [Pa/s]."""

_FEWEST = 5  # readings from which a straight line tells a rate
_DROP = 0.1  # fall of the load before its peak that is named, as a share of the peak
_LEFT = 0.5  # share of the peak below which the load must fall for a break
_GAP = 5.0  # times the usual step between readings that counts as a gap
_BENT = 0.05  # departure from the straight line that is named, as a share of the peak
_MISSED = 0.01  # load that may lie above the highest reading, as a share, that is named
_START = 0.01  # first reading that is named, as a share of the peak


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadCurve:
    """A load over time until the specimen broke.

    Attributes
    ----------
    time, force : ndarray, shape (n,)
        As read [s], [N].
    peak, peak_time : float
        Highest load, taken as the breaking load, and when [N], [s].
    rate : float
        Slope of the straight line from `LOW` to `HIGH` of the peak [N/s].
    start : float
        Where that line meets no load [s].
    broke : bool
        Whether the load fell away after its peak.
    doubts : tuple of str
        What is odd about the curve, in sentences.
    source : Columns
        What it was read from: lines set aside, file and checksum.

    """

    time: FloatArray
    force: FloatArray
    peak: float
    peak_time: float
    rate: float
    start: float
    broke: bool
    doubts: tuple[str, ...]
    source: Columns

    def stress_rate(self, strength: float) -> float:
        """Return the rate of the stress that was `strength` at the peak [Pa/s].

        Bending stress goes with the load, so both rise alike. Own method.

        Parameters
        ----------
        strength : float
            Stress at the breaking load [Pa].

        Raises
        ------
        ValueError
            If `strength` is not positive.

        """
        return float(positive("strength", strength, "Pa")) * self.rate / self.peak


def load_curve(columns: Columns) -> LoadCurve:
    r"""Return breaking load and rate of a load-time curve.

    Parameters
    ----------
    columns : Columns
        From `parse_columns` with the kinds ``("time", "force")``.

    Returns
    -------
    LoadCurve
        With its doubts in words.

    Raises
    ------
    TypeError
        If `columns` are none.
    ValueError
        If a column is missing, time runs backwards or stands still, no load is positive, or
        fewer than five readings lie between a tenth and nine tenths of the peak.

    Notes
    -----
    Nothing is smoothed or mended. The highest reading is taken for the breaking load; the true
    one lies above it by up to a step between readings. Where the load falls and rises again,
    the first fall may be the break: look at the pieces.

    References
    ----------
    Common practice: the straight line between a tenth and nine tenths.

    Examples
    --------
    >>> from glasskit.lab import parse_columns
    >>> lines = [f"{second / 2}; {2.5 * second}" for second in range(41)]
    >>> text = "\n".join(["t [s]; F [N]", *lines, "20.5; 1"])
    >>> curve = load_curve(parse_columns(text, ("time", "force")))
    >>> curve.peak, round(curve.rate, 3), curve.broke
    (100.0, 5.0, True)

    """
    of_type("columns", columns, Columns)
    for kind in ("time", "force"):
        require(kind in columns.values, "columns", len(columns.values), f"hold a {kind}")
    time, force = columns.values["time"], columns.values["force"]
    require(time.size > 0, "columns", time.size, "hold readings")
    back = np.flatnonzero(np.diff(time) < 0)
    if back.size:
        raise ValueError(
            f"time must not run backwards; got {time[back[0] + 1]:g} s after "
            f"{time[back[0]]:g} s on line {columns.lines[back[0] + 1]}"
        )
    top = int(force.argmax())
    peak = float(force[top])
    if peak <= 0 or -force.min() > peak:
        raise ValueError(
            f"force must be positive while it loads; got {force.min():g} N: turn the sign in "
            "a copy if the rig counts a push as negative"
        )
    begin = _last(force[:top] < LOW * peak)
    end = begin + int(np.argmax(force[begin : top + 1] >= HIGH * peak))
    require(
        end - begin >= _FEWEST,
        "force",
        end - begin,
        "have 5 readings from 0.1 to 0.9 of its peak",
    )
    spent = float(time[end - 1] - time[begin])
    require(spent > 0, "time", spent, "go on while the load rises", "s")
    rate, offset = np.polyfit(time[begin:end], force[begin:end], 1).tolist()
    require(rate > 0, "force", rate, "rise with time", "N/s")
    away = force[begin:end] - (rate * time[begin:end] + offset)
    after = force[top + 1 :]
    broke = bool(after.size and after.min() < _LEFT * peak)
    return LoadCurve(
        time=time,
        force=force,
        peak=peak,
        peak_time=float(time[top]),
        rate=rate,
        start=-offset / rate,
        broke=broke,
        doubts=_doubts(time, force, top, begin, rate, np.abs(away).max(), broke),
        source=columns,
    )


def _last(where: NDArray[np.bool_]) -> int:
    """Return the place after the last that is true, 0 if none is."""
    found = np.flatnonzero(where)
    return int(found[-1]) + 1 if found.size else 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CurveResult:
    """A specimen reduced from its curve.

    Attributes
    ----------
    curve : LoadCurve
        With its doubts.
    reduction : Reduction
        Stress at the peak, with budget and broken limits.
    standard : str
        A key of `RATES`.

    """

    curve: LoadCurve
    reduction: Reduction
    standard: str

    @property
    def stress_rate(self) -> float:
        """Rate of the stress, of the part that the load makes [Pa/s]."""
        found, model = self.reduction, BENCHES[self.reduction.method].model
        read = {name: item.value for name, item in found.inputs.items()}
        half = model(**{**read, "force": np.asarray(self.curve.peak / 2)})
        return self.curve.stress_rate(2 * (float(found.value) - half.item()))

    @property
    def kept(self) -> bool:
        """Whether the rate lies within what the standard asks for."""
        low, high = RATES[self.standard]
        return low <= self.stress_rate <= high


def reduce_curve(
    curve: LoadCurve,
    method: str,
    readings: Mapping[str, Input | ArrayLike],
    standard: str = "EN 1288-3",
) -> CurveResult:
    r"""Return strength and stress rate of one specimen from its curve.

    Parameters
    ----------
    curve : LoadCurve
        From `load_curve`; its peak is the force.
    method : str
        A key of `BENCHES`.
    readings : mapping of str to Input or array_like
        All other readings of the method, one specimen [SI].
    standard : str
        Whose stress rate was aimed at, a key of `RATES`.

    Returns
    -------
    CurveResult
        Stress at the peak [Pa], its rate [Pa/s], and whether the standard's is kept.

    Raises
    ------
    TypeError
        If `curve` is no curve.
    ValueError
        If the method or the standard is unknown, or a reading is missing or refused.

    Notes
    -----
    Slow loading in moist air lowers the strength: some 6 % for a tenth of the rate, by a
    sixteenth power. A rate outside the window is a reason to say so, not to leave it out.

    References
    ----------
    [EN1288], [C158]: see ``glasskit/data/stress_rates.csv``.

    Examples
    --------
    >>> from glasskit.lab import parse_columns
    >>> lines = [f"{second / 2}; {2.5 * second}" for second in range(41)]
    >>> text = "\n".join(["t [s]; F [N]", *lines, "20.5; 1"])
    >>> curve = load_curve(parse_columns(text, ("time", "force")))
    >>> sizes = {"span": 0.06, "width": 0.02, "thickness": 0.003}
    >>> found = reduce_curve(curve, "three_point_bar", sizes)
    >>> round(found.stress_rate / 1e6, 2), found.kept
    (2.5, False)

    """
    of_type("curve", curve, LoadCurve)
    one_of("method", method, BENCHES)
    one_of("standard", standard, RATES)
    found = reduce(method, {**readings, "force": curve.peak})
    require(found.value.ndim == 0, "readings", found.value.size, "be of one specimen")
    return CurveResult(curve=curve, reduction=found, standard=standard)


def _doubts(
    time: FloatArray,
    force: FloatArray,
    top: int,
    begin: int,
    rate: float,
    away: float,
    broke: bool,
) -> tuple[str, ...]:
    """Say what is odd about a curve, a sentence each."""
    peak, said = force[top], []
    if not broke:
        said.append(
            "The load never falls away: the specimen did not break, or the record ends before "
            "it did. The highest load is no breaking load"
        )
    highest = np.maximum.accumulate(force[: top + 1])
    fall = highest - force[: top + 1]
    if fall.max() > _DROP * peak:
        worst = int(fall.argmax())
        said.append(
            f"The load falls by {fall.max():.3g} N at {time[worst]:.3g} s and then rises to "
            "its peak: something slipped, or that was the break"
        )
    steps = np.diff(time[begin : top + 2])
    usual = float(np.median(steps))
    if usual > 0 and steps.max() > _GAP * usual:
        longest = begin + int(steps.argmax())
        said.append(
            f"There is no reading for {steps.max():.3g} s after {time[longest]:.3g} s: what "
            "happened meanwhile is not known"
        )
    if rate * usual > _MISSED * peak:
        said.append(
            f"Readings stand {usual:.3g} s apart: the breaking load may lie up to "
            f"{rate * usual / peak:.1%} higher"
        )
    if away > _BENT * peak:
        said.append(
            f"The load leaves the straight line by up to {away / peak:.0%} of its peak: the "
            "rate is a mean only"
        )
    if abs(force[0]) > _START * peak:
        said.append(
            f"The first reading is {force[0]:.3g} N: a preload counts, a cell that was not "
            "set to zero does not"
        )
    return tuple(said)
