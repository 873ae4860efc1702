# SPDX-License-Identifier: MIT
r"""Turn the clicks of a bouncing ball into flight times, restitution and height of fall.

Between two clicks the ball flies up and falls back. Without drag a flight of :math:`T` starts
and ends at :math:`gT/2` and rises to :math:`gT^2/8`, so the restitution of a bounce is the
ratio of the flights after and before it: no gravity, no scale, no distance enters. Drag that
goes with the square of the speed is put right exactly.
"""

import warnings
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from glasskit.impact import (
    Ball,
    Pane,
    ball_on_pane,
    drop_speed,
    inelasticity,
    terminal_speed,
    wide_plate_restitution,
)
from glasskit.measured.listening import Clicks
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    OutsideValidityWarning,
    finite,
    in_range,
    non_negative,
    of_type,
    positive,
    read_only,
    require,
)

SCATTER, WORTH = 0.02, 3.0
"""From bounce to bounce the restitution scatters by about this share [-] (a judgement), which
counts as much as so many bounces; those heard soon outweigh it."""

SHORTEST = 0.03
"""A flight shorter than this is left out: a click is placed to some 0.2 ms [s]."""

SPEEDS = np.geomspace(0.1, 4.0, 7)
"""Speeds at which the restitution is predicted [m/s]."""
SPEEDS.flags.writeable = False

_WAVES = (20.0, 10.0)  # quickest that are followed, over those of the knock
_STEEPER, _SLOPE = 0.2, 0.1  # Zener: an exponent of a fifth of ln e; by how much it may be off
_CLICK = 0.15e-3  # standard uncertainty of the time of one click [s]


@dataclass(frozen=True, eq=False, kw_only=True)
class Bounces:
    """What the clicks of one bouncing ball say.

    Attributes
    ----------
    clicks : ndarray, shape (n,)
        When the ball struck [s].
    flights : ndarray, shape (n - 1,)
        From click to click [s].
    heights : ndarray, shape (n - 1,)
        How high the ball rose between two clicks [m].
    speeds : ndarray, shape (k,)
        Speed at touch of each bounce that has a restitution [m/s].
    each : ndarray, shape (k,)
        Restitution of those bounces [-].
    restitution : float
        Their geometric mean [-].
    interval : ndarray, shape (2,)
        Where the restitution at these speeds lies, 95 times in 100 [-].
    slope : float
        Exponent of speed that restitution follows; after Zener where few bounces tell [-].
    fall : float
        Height of the first fall [m]: as measured if it was given, else from the restitution.
    fall_interval : ndarray, shape (2,)
        Where that height lies, 95 times in 100 [m].
    fall_given : bool
        Whether the height was measured and not found.

    """

    clicks: FloatArray
    flights: FloatArray
    heights: FloatArray
    speeds: FloatArray
    each: FloatArray
    restitution: float
    interval: FloatArray
    slope: float
    fall: float
    fall_interval: FloatArray
    fall_given: bool


def launch_speed(flight: ArrayLike, terminal_speed: float = np.inf) -> FloatArray:
    r"""Return the speed with which a ball must rise to be back after a time.

    .. math:: T = \frac{v_t}{g}\left(\arctan\frac{v}{v_t}
              + \operatorname{arsinh}\frac{v}{v_t}\right)

    Parameters
    ----------
    flight : array_like
        Time from rise to return [s].
    terminal_speed : float
        Speed at which drag would hold up the weight; infinite leaves drag out [m/s].

    Returns
    -------
    ndarray
        Speed upwards [m/s], broadcast.

    Raises
    ------
    ValueError
        If a number is not positive.

    Notes
    -----
    Drag that goes with the square of the speed, in still air; without drag half of g T.

    References
    ----------
    Definition: Newton's law, integrated over rise and fall.

    Examples
    --------
    Half a second, for a steel ball and for one that drag holds up at 9 m/s:

    >>> launch_speed(0.5).round(3).item(), launch_speed(0.5, 9.0).round(3).item()
    (2.452, 2.498)

    """
    time = positive("flight", flight, "s")
    limit = positive("terminal_speed", terminal_speed, "m/s", infinite=True).item()
    speed = np.asarray(0.5 * GRAVITY * time)
    if np.isinf(limit):
        return speed
    for _ in range(30):  # Newton's steps: the flight lengthens with the speed, ever slower
        share = speed / limit
        over = limit / GRAVITY * (np.arctan(share) + np.arcsinh(share)) - time
        steep = (1.0 / (1.0 + share**2) + 1.0 / np.sqrt(1.0 + share**2)) / GRAVITY
        speed = speed - over / steep
    return np.asarray(speed)


def bounces(
    clicks: ArrayLike,
    *,
    terminal_speed: float = np.inf,
    fall: float | None = None,
    fall_tolerance: float = 0.005,
) -> Bounces:
    r"""Return restitution and heights from the times at which a ball struck.

    Parameters
    ----------
    clicks : array_like, shape (n,)
        When it struck, one bounce after the other without a gap [s].
    terminal_speed : float
        Speed at which drag would hold up the ball; infinite leaves drag out [m/s].
    fall : float, optional
        Height that it fell through before the first click, if it was measured [m].
    fall_tolerance : float
        How far that height may be off either way [m].

    Returns
    -------
    Bounces
        Flights, restitution of each bounce, their mean and the height of the first fall.

    Raises
    ------
    ValueError
        If there are fewer than three clicks, or two where `fall` is given, if they are not in
        order, or if a flight is longer than the one before it by a tenth.

    Notes
    -----
    The interval is that of the geometric mean at the speeds of these bounces: Student's, from
    the scatter of the bounces and a scatter of `SCATTER` worth `WORTH` bounces, about a line
    in the logarithms that takes out what changes with speed. Where few bounces tell its slope
    it is a fifth of ln e, as on a wide plate, give or take 0.1. Flights below `SHORTEST` do
    not enter. A ball that spins or drifts loses speed that is not lost to the
    pane. The standard gravity stands for all places (0.3 % of a height); a hollow ball floats
    on the air a little, which is not put right.

    References
    ----------
    [GUM] for the intervals, [Zener1941] for the slope, [Goldsmith1960] for restitution.

    Examples
    --------
    Four clicks:

    >>> heard = bounces([0.0, 0.5, 0.85, 1.095])
    >>> round(heard.restitution, 3), heard.heights.round(3)
    (0.7, array([0.306, 0.15 , 0.074]))

    """
    times = np.sort(finite("clicks", np.atleast_1d(clicks), "s"))
    require(times.ndim == 1, "clicks", times.ndim, "be one row; its dimensions")
    limit = positive("terminal_speed", terminal_speed, "m/s", infinite=True).item()
    tolerance = non_negative("fall_tolerance", fall_tolerance, "m").item()
    least = 3 if fall is None else 2
    require(times.size >= least, "clicks", times.size, f"be {least} or more; their count")
    flights = np.diff(times)
    require(flights > 1e-4, "clicks", flights, "lie 0.1 ms or more apart; apart", "s")
    long = flights[1:] <= 1.1 * flights[:-1]
    rule = "lie closer and closer, for each flight is shorter than the one before; a flight"
    require(long, "clicks", flights[1:], rule, "s")
    up = launch_speed(flights, limit)
    landing = up / np.sqrt(1.0 + (up / limit) ** 2)
    kept = flights >= SHORTEST
    kept[: least - 1] = True
    speeds, each = landing[:-1], up[1:] / landing[:-1]
    speeds, each = speeds[kept[1:]], each[kept[1:]]
    doubt = 0.0
    if fall is not None:
        height = in_range("fall", fall, 1e-3, 20.0, "m").item()
        first = drop_speed(height, limit).item()
        speeds, each = np.r_[first, speeds], np.r_[up[0] / first, each]
        doubt = 0.5 * tolerance / np.sqrt(3.0) / height / each.size
    line = _line(np.log(speeds), np.log(each))
    heights = up**2 / (2.0 * GRAVITY)
    if np.isfinite(limit):
        heights = limit**2 / (2.0 * GRAVITY) * np.log1p((up / limit) ** 2)
    click = _CLICK * np.sqrt(2.0) / flights.min(initial=np.inf, where=kept) / each.size
    half = line.quantile * np.hypot(line.error, np.hypot(doubt, click))
    ends = np.exp(line.mean + half * np.array([-1.0, 1.0]))
    if fall is None:
        falls = _first_fall(line, up[0], limit)
    else:
        falls = height + tolerance * np.array([0.0, -1.0, 1.0])
    flights, heights, speeds, each, times, ends, falls = (
        read_only(item)[0] for item in (flights, heights, speeds, each, times, ends, falls)
    )
    return Bounces(
        clicks=times,
        flights=flights,
        heights=heights,
        speeds=speeds,
        each=each,
        restitution=float(np.exp(line.mean)),
        interval=ends,
        slope=line.slope,
        fall=float(falls[0]),
        fall_interval=falls[1:],
        fall_given=fall is not None,
    )


@dataclass(frozen=True, eq=False, kw_only=True)
class Bounced:
    """A ball that was heard to bounce on a pane, beside what is predicted for it.

    Attributes
    ----------
    clicks : Clicks
        What was heard.
    heard : Bounces
        What the clicks say.
    ball : Ball
        What bounced.
    pane : Pane
        On what.
    on_pane : ndarray
        Restitution predicted for this ball on this pane, at `SPEEDS` [-].
    on_wide : ndarray
        The same for a plate of this thickness without edges, at `SPEEDS` [-].
    pane_mean, wide_mean : float
        Geometric means of both at the speeds of the bounces heard [-].
    pull : float
        Tension of the far face that the first blow brings [Pa]: an ordinary pane may break.

    """

    clicks: Clicks
    heard: Bounces
    ball: Ball
    pane: Pane
    on_pane: FloatArray
    on_wide: FloatArray
    pane_mean: float
    wide_mean: float
    pull: float


def bounced(
    clicks: Clicks,
    ball: Ball,
    pane: Pane,
    *,
    fall: float | None = None,
) -> Bounced:
    """Return what a train of clicks says beside what is predicted for ball and pane.

    Parameters
    ----------
    clicks : Clicks
        What was heard, with the train of the ball.
    ball : Ball
        What bounced; its drag in air is put right.
    pane : Pane
        What it bounced on, near the middle.
    fall : float, optional
        Height of the first fall, if it was measured [m].

    Returns
    -------
    Bounced
        Heard and predicted.

    Raises
    ------
    ValueError
        If the clicks are no train, see `bounces`, or the ball so small against the pane that
        its waves cannot be followed.

    Notes
    -----
    Predicted with `glasskit.impact.ball_on_pane` and with Zener's plate without edges at seven
    speeds, between them along the logarithm of speed. Both are elastic: what a ball loses by
    dents, spin or its own ringing is not in them.

    References
    ----------
    [Zener1941]; [Goldsmith1960]

    Examples
    --------
    A steel ball of 10 mm on a pane of 300 by 300 by 4 mm on rubber strips:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.measured.invented_sounds import bouncing_sound
    >>> from glasskit.measured.listening import hear_clicks
    >>> sound = bouncing_sound([0.5, 0.7, 0.78], [1, 0.4, 0.2], np.random.default_rng(1))
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             support_stiffness=1.2e7, damping=0.05)
    >>> found = bounced(hear_clicks(sound), Ball(radius=5e-3, solid=solid("steel")), pane)
    >>> f"{found.heard.restitution:.2f} heard, {found.wide_mean:.2f} on a wide plate"
    '0.40 heard, 0.39 on a wide plate'

    """
    of_type("clicks", clicks, Clicks)
    of_type("ball", ball, Ball)
    of_type("pane", pane, Pane)
    limit = terminal_speed(ball.mass, np.pi * ball.radius**2).item()
    heard = bounces(clicks.train, terminal_speed=limit, fall=fall)
    stiff = ball.solid.plane_strain_modulus
    on_pane, pulls = _on_pane(ball.radius, ball.solid.density, stiff, pane.plain())
    number = inelasticity(ball, pane.glass, pane.thickness, SPEEDS)
    on_wide = read_only(wide_plate_restitution(number))[0]
    means = (
        float(np.exp(np.log(np.interp(np.log(heard.speeds), np.log(SPEEDS), curve)).mean()))
        for curve in (on_pane, np.maximum(on_wide, 1e-3))
    )
    return Bounced(
        clicks=clicks,
        heard=heard,
        ball=ball,
        pane=pane,
        on_pane=on_pane,
        on_wide=on_wide,
        pane_mean=next(means),
        wide_mean=next(means),
        pull=float(np.interp(drop_speed(heard.fall, limit), SPEEDS, pulls)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stuff:
    """Mass and stiffness alone, of whatever ball: numbers that can be told apart."""

    density: float
    plane_strain_modulus: float


@lru_cache(maxsize=64)
def _on_pane(
    radius: float, density: float, stiff: float, pane: Pane
) -> tuple[FloatArray, FloatArray]:
    """Return restitution and far-face tension at `SPEEDS`; a pane may swing away and up."""
    ball = Ball(radius=radius, solid=_Stuff(density=density, plane_strain_modulus=stiff))
    for highest in _WAVES:
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore", OutsideValidityWarning)
            with suppress(ValueError, np.linalg.LinAlgError):  # more waves than can be told
                blow = ball_on_pane(ball, pane, SPEEDS, steps=30, highest=highest)
                if np.isfinite([blow.restitution, blow.stress]).all():
                    kept = np.clip(blow.restitution, 1e-3, 1.0)
                    return read_only(kept)[0], blow.stress
    sizes = f"a ball of {2e3 * radius:g} mm, a pane of {1e3 * pane.length:g} mm"
    raise ValueError(f"ball must be larger, or the pane smaller or thicker; got {sizes}")


@dataclass(frozen=True, kw_only=True)
class _Line:
    """Logarithm of restitution over that of speed: mean, slope, scatter."""

    mean: float
    slope: float
    slope_error: float
    middle: float
    scatter: float
    count: int
    quantile: float

    @property
    def error(self) -> float:
        """Standard uncertainty of the mean."""
        return float(self.scatter / np.sqrt(self.count))

    def ahead(self, place: float) -> float:
        """Return the standard deviation of one more bounce at another speed."""
        one = self.scatter * np.sqrt(1.0 + 1.0 / self.count)
        return float(np.hypot(one, self.slope_error * (place - self.middle)))


def _line(speed: FloatArray, rebound: FloatArray) -> _Line:
    """Fit a line whose slope is known to `_SLOPE` before anything was heard."""
    count, mean, away = rebound.size, float(rebound.mean()), speed - speed.mean()
    told = np.square(away).sum() / SCATTER**2
    sure = told + _SLOPE**-2
    slope = (_STEEPER * mean / _SLOPE**2 + (away * rebound).sum() / SCATTER**2) / sure
    rest = rebound - mean - slope * away
    degrees = WORTH + count - 1.0 - told / sure
    scatter = np.sqrt((WORTH * SCATTER**2 + np.square(rest).sum()) / degrees)
    return _Line(
        mean=mean,
        slope=float(slope),
        slope_error=float(sure**-0.5),
        middle=float(speed.mean()),
        scatter=float(scatter),
        count=count,
        quantile=float(stdtrit(degrees, 0.975)),
    )


def _first_fall(line: _Line, up: float, limit: float) -> FloatArray:
    """Return the height of the first fall and the two ends of its interval [m]."""
    slope = max(line.slope, -0.5)
    first = (line.mean + slope * (np.log(up) - line.middle)) / (1.0 + slope)
    off = line.quantile * line.ahead(np.log(up) - first) / (1.0 + slope)
    speed = up / np.exp(first + off * np.array([0.0, 1.0, -1.0]))
    if np.isinf(limit):
        return np.asarray(speed**2 / (2.0 * GRAVITY))
    share = np.minimum(speed / limit, 0.999)
    return np.asarray(-(limit**2) / (2.0 * GRAVITY) * np.log1p(-(share**2)))
