# SPDX-License-Identifier: MIT
r"""Film a fall: tell height, speed and g from where a ball was in each frame.

Three sightings that fall one after the other propose a fall, and the fall that most others lie
on is the ball's. A fall from rest with drag,

.. math:: z = \frac{v_t^2}{g} \ln\cosh\frac{g\,(t - t_0)}{v_t},

seen by a camera that may lean a little, is then fitted to all of them at once [GUM]. Lengths
come from the ball's diameter or from two marks on a ruler, times from the file. The method is
our own.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares
from scipy.special import stdtrit

from glasskit.impact import drop_speed, terminal_speed
from glasskit.measured.sightings import FOCAL, LEAST_FRAMES, Sightings
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    in_range,
    of_type,
    positive,
    read_only,
    require,
    whole,
)

_TRIES = 6000  # of three sightings
_AT_ONCE = 200  # of those tries that may be falls
_GROWING = 20  # rounds in which a fall takes in what lies on its curve
_LATER = 160  # sightings after the fall that are looked at
_LEAST_RISE = 4  # frames
_STRAY = 5.0  # deviations

# Standard uncertainties, judgements that `tests/speed/filmed_falls.py` checks:
_MORE = 2.5  # times as far off as they scatter are places: frames are compressed [-]
_EDGE, _SOFT = 0.1, 0.4  # of the width of a ball, in all frames: [px], times its scatter
_BALL = 0.003  # of the diameter as given [-]
_RULER = 0.01  # of a ruler: it hangs in front of the fall or behind it [-]
_MARK = 1.0  # of a mark [px]
_DWELL = 3e-4, 3e-4  # how long the ball stays on the pane, and how sure that is [s]
_LENS = 0.1, 0.0005  # of how it bends a straight way [px], and of its length [-]
_LEAN = np.tan(np.radians(4.0))  # of the camera
_ROWS = 1 / 40  # longest time in which a telephone reads the rows of a frame [s]

_PLAIN = (0.75, 1.35)  # how many times too slow an ordinary film may seem
_CAMERAS = (60.0, 100.0, 120.0, 200.0, 240.0, 480.0, 960.0)  # usual slow motion [1/s]


@dataclass(frozen=True, eq=False, kw_only=True)
class Track:
    """Where the ball was: on its fall, and on its way up again.

    Attributes
    ----------
    seen : Sightings
        Of which the path was made.
    fall, rise : ndarray
        Places in `seen` of the ball as it fell, and after it touched; `rise` may be empty.

    """

    seen: Sightings
    fall: NDArray[np.intp]
    rise: NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A number and the interval that holds it 95 times in 100 [SI]."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruler:
    """Two marks in the picture, one below the other.

    Attributes
    ----------
    upper, lower : float
        How far below the top of the picture they are, in parts of its height [-].
    distance : float
        From one mark to the other [m].

    Examples
    --------
    >>> Ruler(upper=0.1, lower=0.9, distance=1.0).distance
    1.0

    """

    upper: float
    lower: float
    distance: float

    def __post_init__(self) -> None:
        """Check that the lower mark is below the upper one."""
        in_range("upper", self.upper, 0.0, 1.0)
        in_range("lower", self.lower, 0.0, 1.0)
        rule = f"be at least 0.05 more than upper, {self.upper:g}"
        require(self.lower - self.upper >= 0.05, "lower", self.lower, rule)
        positive("distance", self.distance, "m")


@dataclass(frozen=True, eq=False, kw_only=True)
class FilmedFall:
    """What a film tells of a fall.

    Attributes
    ----------
    path : Track
        Where the ball was.
    diameter, mass : float
        Of the ball, as given [m], [kg].
    ruler : Ruler or None
        The marks that give the lengths; None if the ball does.
    pane : float or None
        Face of the pane, as marked [-].
    slowed : float
        How many times slower the film shows it than it was; 1 for an ordinary film [-].
    told : bool
        Whether `slowed` was given and not read from the fall.
    free_fall : Measure
        Acceleration of free fall that fits, by the clock of the file times `slowed` [m/s^2].
    apparent : Measure
        The same by the clock of the file alone [m/s^2].
    scale : Measure
        Pixels to a metre, at the middle of the fall [1/m].
    touch : {"rebound", "pane", "last"}
        Where the fall ends: where the ball turned, at the pane as marked, or where it was seen
        last, still falling.
    height, speed : Measure
        Height fallen from rest to the end, and speed there [m], [m/s].
    rebound, restitution : Measure or None
        Height of the rebound, and speed after over speed before; None if not seen [m], [-].
    predicted : Measure
        Speed after a fall from that height, by `glasskit.impact.drop_speed` [m/s].
    drag : Measure
        Drag coefficient that fits, if g is taken for known [-].
    scatter : float
        How far found places lie off the fitted fall, root mean square [px].
    curve : ndarray, shape (3, n)
        Time by the clock of the file [s], and place from left and top [px] of the fitted fall.

    """

    path: Track
    diameter: float
    mass: float
    ruler: Ruler | None
    pane: float | None
    slowed: float
    told: bool
    free_fall: Measure
    apparent: Measure
    scale: Measure
    touch: str
    height: Measure
    speed: Measure
    rebound: Measure | None
    restitution: Measure | None
    predicted: Measure
    drag: Measure
    scatter: float
    curve: FloatArray


# --- which of what was seen is the ball -----------------------------------------------------


def track_ball(
    seen: Sightings, *, first: int = 0, last: int = 10**6, without: Iterable[int] = ()
) -> Track:
    """Tell which of what was seen is the ball: what falls, and what rises after it touched.

    Parameters
    ----------
    seen : Sightings
        From `find_ball`.
    first, last : int
        Frames that count, both included, counted from 0.
    without : iterable of int
        Frames that do not count, because what was found in them is not the ball.

    Returns
    -------
    Track
        The fall, and the rise where it was seen.

    Raises
    ------
    TypeError
        If `seen` is none.
    ValueError
        If `first` or `last` is no frame, or no ball falls in five frames or more.

    Notes
    -----
    The longest run of places on one parabola that bends downwards is taken for the fall.

    References
    ----------
    Own method.

    Examples
    --------
    >>> from glasskit.measured import film_fall, find_ball
    >>> seen = find_ball(film_fall(np.random.default_rng(1)).file)
    >>> track = track_ball(seen)
    >>> track.fall.size > 10, track.rise.size > 5
    (True, True)

    """
    of_type("seen", seen, Sightings)
    start, end = whole("first", first), whole("last", last)
    out = np.isin(seen.frame, [whole("without", one) for one in without])
    use = np.flatnonzero((seen.frame >= start) & (seen.frame <= end) & ~out)
    if use.size == 0:
        raise ValueError(
            "the film must show a ball that moves before a background at rest; nothing round "
            "moves in it, or it differs too little from the background"
        )
    fall = _fall(seen, use)
    rise, touch = _rise(seen, use, fall)
    times, step = seen.times[seen.frame], float(np.median(np.diff(seen.times)))
    # Near the touch a frame shows both ways at once, near the release the hand as well.
    near, hand = (
        np.abs(times - touch) < 0.6 * step,
        seen.y[fall[0]] + 0.7 * seen.width[fall[0]],
    )
    for doubtful in (near, seen.y < hand):
        if np.count_nonzero(~doubtful[fall]) > LEAST_FRAMES:
            fall = fall[~doubtful[fall]]
    return Track(seen=seen, fall=fall, rise=rise[~near[rise]])


def _few(found: int) -> ValueError:
    return ValueError(
        f"the film must show a ball in {LEAST_FRAMES} frames or more as it falls; got "
        f"{found}: film more frames a second, or stand further off"
    )


def _proposed(seen: Sightings, use: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
    """Propose falls, each from three patches: where they start, and what they are like.

    Returns time, x, y and width of the first patch, shape (4, n), and the slopes: of x, of y,
    and the acceleration, shape (3, n).
    """
    rng = np.random.default_rng(0)
    frame = seen.frame[use]
    span = max(frame[-1] - frame[0], 2)
    one = rng.integers(use.size, size=_TRIES)
    gaps = np.exp(rng.uniform(0, np.log(span), (2, _TRIES)) - 0.01)
    picks = [one]
    for gap in gaps:
        place = np.searchsorted(frame, frame[picks[-1]] + np.ceil(gap))
        picks.append(np.minimum(place + rng.integers(0, 2, _TRIES), use.size - 1))
    t, x, y, wide = (
        np.stack([values[use[pick]] for pick in picks])
        for values in (seen.times[seen.frame], seen.x, seen.y, seen.width)
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        u, v = t[1] - t[0], t[2] - t[0]
        first, whole_way = (y[1] - y[0]) / u, (y[2] - y[0]) / v
        bend = 2 * (whole_way - first) / (v - u)
        speed = first - bend * u / 2
        aside = (x[2] - x[0]) / v
        good = (
            (u > 0)
            & (v > u)
            & (bend > 0)
            & (speed >= -bend * u / 2)
            & (y[2] - y[0] > wide[0])
            & (wide.max(0) < 1.4 * wide.min(0))
            & (np.abs(x[0] + aside * u - x[1]) < 2 + 0.2 * wide[0])
            & (np.abs(aside) < whole_way)
        )
    return (
        np.stack([t[0], x[0], y[0], wide[0]])[:, good],
        np.stack([aside, speed, bend])[:, good],
    )


def _fall(seen: Sightings, use: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return the places that lie on the fall on which most of them lie."""
    starts, slopes = _proposed(seen, use)
    t = seen.times[seen.frame[use]]
    most, best = 0.0, np.zeros(use.size, bool)
    for begin in range(0, starts.shape[1], _AT_ONCE):
        t0, x0, y0, wide = starts[:, begin : begin + _AT_ONCE, None]
        aside, speed, bend = slopes[:, begin : begin + _AT_ONCE, None]
        after = t - t0
        near = (
            (np.abs(y0 + after * (speed + bend * after / 2) - seen.y[use]) < 1.5 + 0.1 * wide)
            & (np.abs(x0 + aside * after - seen.x[use]) < 2 + 0.2 * wide)
            & (np.abs(seen.width[use] / wide - 1) < 0.35)
            & (speed + bend * after > 0)
        )
        near = near[near.sum(1) > LEAST_FRAMES - 2]
        low = np.where(near, seen.y[use], -np.inf).max(1)
        way = low - np.where(near, seen.y[use], np.inf).min(1)
        score = near.sum(1) * way**2  # the first fall is the longest of them
        if score.max(initial=0.0) > most:
            most, best = score.max(), near[score.argmax()]
    if best.sum() < LEAST_FRAMES:
        raise _few(int(best.sum()))
    on = use[best]
    for round_ in range(_GROWING):  # until it grows no more
        before, degree = on, min(2 if round_ < 2 else 3, max(on.size // 3, 2))
        on = _near_curve(seen, use, on, degree)
        if on.size < LEAST_FRAMES:
            raise _few(on.size)
        if round_ > 2 and np.array_equal(on, before):
            break
    return _up_to_the_touch(seen, use, _without_strays(seen, on))


def _up_to_the_touch(
    seen: Sightings, use: NDArray[np.intp], on: NDArray[np.intp]
) -> NDArray[np.intp]:
    """Leave out what comes after the ball left its path: its mirror image falls on."""
    frames, wide = seen.frame[on], np.median(seen.width[on])
    off_path = np.hypot(
        np.interp(seen.frame[use], frames, seen.x[on]) - seen.x[use],
        np.interp(seen.frame[use], frames, seen.y[on]) - seen.y[use],
    )
    aside = (off_path > 0.3 * wide) & (off_path < 2 * wide)
    beside = use[(np.abs(seen.width[use] / wide - 1) < 0.15) & aside]
    late = np.setdiff1d(seen.frame[beside], frames)
    late = late[(late > np.median(frames)) & (late < frames[-1])]
    first = int(late.min(initial=frames[-1] + 1))
    return np.asarray(on[frames < first])


def _without_strays(seen: Sightings, on: NDArray[np.intp]) -> NDArray[np.intp]:
    """Leave out places that a smooth curve through all the others foretells badly."""
    wide = seen.width[on]
    off = np.abs(wide - np.median(wide))
    on = on[off <= np.maximum(0.05 * np.median(wide), _STRAY * np.median(off))]
    while on.size > 2 * LEAST_FRAMES:
        t = seen.times[seen.frame[on]]
        known = np.vander((t - t.mean()) / np.ptp(t), 4)
        hat = known @ np.linalg.pinv(known)
        rest = seen.y[on] - hat @ seen.y[on]
        own = rest**2 / (1 - np.diag(hat))
        others = (rest @ rest - own) / (on.size - 5)
        if own.max() <= (_STRAY**2) * max(others[own.argmax()], 0.05**2):
            break
        on = np.delete(on, own.argmax())
    return on


def _near_curve(
    seen: Sightings, use: NDArray[np.intp], on: NDArray[np.intp], degree: int
) -> NDArray[np.intp]:
    """Return the places near a curve through some, one a frame, in one run downwards."""
    times = seen.times[seen.frame]
    middle, reach = times[on].mean(), np.ptp(times[on])
    wide = float(np.median(seen.width[on]))
    down = np.polynomial.Polynomial.fit(times[on] - middle, seen.y[on], degree)
    aside = np.polynomial.Polynomial.fit(times[on] - middle, seen.x[on], 2)
    after = times[use] - middle
    off = np.abs(down(after) - seen.y[use])
    near = (
        (off < 1.0 + 0.06 * wide)
        & (np.abs(aside(after) - seen.x[use]) < 1.5 + 0.1 * wide)
        & (np.abs(seen.width[use] / wide - 1) < 0.3)
        & (np.abs(after) < reach)
        & (down.deriv()(after) > -0.02 * wide / max(reach / on.size, 1e-9))
    )
    return _one_run(seen, use[near], off[near])


def _one_run(seen: Sightings, found: NDArray[np.intp], off: FloatArray) -> NDArray[np.intp]:
    """Return the longest run without a wide gap, in each frame what is off by least."""
    order = np.lexsort((off, seen.frame[found]))
    frames, places = np.unique(seen.frame[found[order]], return_index=True)
    kept = found[order][places]
    if kept.size == 0:
        return kept
    parted = np.flatnonzero(np.diff(frames) > max(4, kept.size // 3)) + 1
    longest: NDArray[np.intp] = max(np.split(kept, parted), key=len)
    return longest


def _rise(
    seen: Sightings, use: NDArray[np.intp], fall: NDArray[np.intp]
) -> tuple[NDArray[np.intp], float]:
    """Return the places of the ball after it touched, up to its next touch, and when that was.

    No places, and never, if it was not seen to rise.
    """
    none = np.zeros(0, np.intp), np.inf
    times = seen.times[seen.frame]
    end, step = times[fall[-1]], float(np.median(np.diff(seen.times)))
    reach = end - times[fall[0]]
    half, speed, low = (
        np.polynomial.Polynomial.fit(times[fall] - end, seen.y[fall], 2).convert().coef[::-1]
    )
    wide = float(np.median(seen.width[fall]))
    later = use[
        (times[use] > end)
        & (times[use] < end + 2.2 * reach + 4 * step)
        & (np.abs(seen.width[use] / wide - 1) < 0.3)
        & (np.abs(seen.x[use] - seen.x[fall[-1]]) < 0.5 * np.ptp(seen.y[fall]) + 2 * wide)
    ][:_LATER]
    if later.size < _LEAST_RISE:
        return none
    t, x, y = times[later] - end, seen.x[later], seen.y[later]
    best, touched, touch_soon = none[0], np.inf, 4 * step
    one, other = np.triu_indices(later.size, 1)
    one, other = one[t[other] > t[one]], other[t[other] > t[one]]
    # Same acceleration as the fall, so the two curves differ by a straight line.
    apart = t[other] - t[one]
    steep = (y[other] - y[one]) / apart - half * (t[other] + t[one])
    one, other, steep = (values[steep < speed] for values in (one, other, steep))
    begin = y[one] - t[one] * (steep + half * t[one])
    touch = (begin - low) / (speed - steep)
    up = -(steep + 2 * half * touch)
    may = (
        (-step < touch)
        & (touch < touch_soon)
        & (up > 0)
        & (up < 1.03 * (speed + 2 * half * touch))
    )
    one, other, steep, begin, touch, up = (
        values[may, None] for values in (one, other, steep, begin, touch, up)
    )
    aside = (x[other] - x[one]) / (t[other] - t[one])
    off = np.abs(begin + t * (steep + half * t) - y)
    near = (
        (off < 1.5 + 0.08 * wide)
        & (np.abs(x[one] + aside * (t - t[one]) - x) < 2 + 0.15 * wide)
        & (t > touch)
        & (t < touch + up / half - 0.6 * step)
    )
    for place, count in enumerate(near.sum(1)):
        if count > best.size:
            best = _one_run(seen, later[near[place]], off[place, near[place]])
            touched = end + touch[place, 0]
    return (_without_strays(seen, best), touched) if best.size >= _LEAST_RISE else none


# --- from places to height, speed and g -----------------------------------------------------


def fit_fall(
    track: Track,
    *,
    diameter: float,
    mass: float,
    ruler: Ruler | None = None,
    pane: float | None = None,
    slowed: float | None = None,
) -> FilmedFall:
    """Fit a fall from rest to where the ball was.

    Parameters
    ----------
    track : Track
        From `track_ball`.
    diameter : float
        Diameter of the ball; without a ruler all lengths hang on it [m].
    mass : float
        Mass of the ball, for the drag of the air [kg].
    ruler : Ruler, optional
        Two marks at a known distance, in the plane of the fall; the diameter is then not used
        for lengths.
    pane : float, optional
        How far below the top of the picture the face of the pane is, in parts of its height;
        where the ball was not seen to turn [-].
    slowed : float, optional
        How many times slower the film shows the fall than it was [-]; read from the fall if
        left out.

    Returns
    -------
    FilmedFall
        Every number with its 95 % interval.

    Raises
    ------
    TypeError
        If `track` or `ruler` is none.
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The intervals hold: the scatter of found places and widths; for where the edge of a ball
    is, 0.4 of the scatter of its width and 0.1 pixels (standard uncertainty), and as much for
    how that changes on the way; 0.3% of the diameter; 1% for a ruler in front of or behind the
    fall, 1 pixel a mark; a camera that leans by 4°; rows of a frame that are read one after
    the other, in at most a fortieth of a second, from top to bottom of a wide film and across
    a tall one. These are judgements, checked on films that the kit draws. There the edge is
    off by half of what widths scatter by. The tenth of a pixel is for cameras that sharpen:
    it moves the edge in all frames alike, and nothing in the film tells. No real camera was
    measured for it; a ruler does without. A lens that bends straight lines, and drag as the
    ball rises, are left out.

    References
    ----------
    [GUM], own method.

    Examples
    --------
    >>> from glasskit.measured import film_fall, find_ball
    >>> film = film_fall(np.random.default_rng(1))
    >>> track = track_ball(find_ball(film.file))
    >>> fall = fit_fall(track, diameter=film.diameter, mass=film.mass)
    >>> fall.height.low < film.height < fall.height.high
    True

    """
    of_type("track", track, Track)
    if ruler is not None:
        of_type("ruler", ruler, Ruler)
    if pane is not None:
        in_range("pane", pane, 0.0, 1.0)
    if slowed is not None:
        in_range("slowed", slowed, 0.01, 1000.0)
    in_range("diameter", diameter, 1e-3, 1.0, "m")
    in_range("mass", mass, 1e-5, 100.0, "kg")
    model = _Model(track, float(diameter), float(mass), ruler, pane)
    times = slowed or model.slowed(model.fit(1.0))
    return model.result(times, told=slowed is not None)


class _Model:
    """The path of the ball in the picture, as a function of what is not known.

    Parameters by name: `start` time of release, `top` where the ball then is [px], `fast` the
    logarithm of g by the clock of the file, `size` that of the pixels to a metre at the middle
    of the fall, `lean` how the distance from the camera grows downwards [1/m], `read` the time
    in which all rows are read, `edge` and `edge_way` how much too wide balls are found, at the
    middle and more at the end [px], `ball` the logarithm of the diameter, `drag` g over
    the terminal speed squared [1/m], `touch` time, `dwell` on the pane, `back` speed of
    the rebound, `bow` and `ess` how a lens bends the way [px].
    """

    names = (
        *("start", "top", "fast", "size", "lean", "read"),
        *("edge", "edge_way", "ball", "drag", "touch", "dwell", "back", "bow", "ess"),
    )

    def __init__(
        self,
        track: Track,
        diameter: float,
        mass: float,
        ruler: Ruler | None,
        pane: float | None,
    ) -> None:
        seen = track.seen
        self.track, self.diameter, self.mass, self.ruler = track, diameter, mass, ruler
        self.high, self.wide = seen.picture.shape[:2]
        self.focal = FOCAL * max(self.high, self.wide)
        self.places = np.concatenate([track.fall, track.rise])
        self.falls = track.fall.size
        self.t = seen.times[seen.frame[self.places]]
        self.x, self.y = seen.x[self.places], seen.y[self.places]
        self.d = seen.width[self.places]
        self.step = float(np.median(np.diff(seen.times)))
        self.roll = self._roll()
        self.middle = float(np.mean(self.y[[0, self.falls - 1]]))
        self.length = float(np.ptp(self.y[: self.falls]))
        self.scatter, self.soft = 0.3, self._soft()
        area = np.pi / 4 * diameter**2
        self.limit = terminal_speed(mass, area).item()
        self.marked = pane
        self.pane = None if pane is None else pane * self.high
        self.touch = "rebound" if track.rise.size else "last" if pane is None else "pane"
        tall = self.high > self.wide
        self.slow_rows = 0.0 if tall else 1.0

    def _soft(self) -> float:
        """Return how widths scatter about a straight line downwards [px]."""
        known = np.stack([np.ones_like(self.y), self.y], 1)
        rest = self.d - known @ np.linalg.lstsq(known, self.d, rcond=None)[0]
        return float(np.sqrt(rest @ rest / max(self.d.size - 2, 1)))

    def _roll(self) -> float:
        """Return how many times longer the way is than its height in the picture."""
        falling = slice(self.falls)
        t = self.t[falling] - self.t[0]
        known = np.stack([np.ones_like(t), t, self.y[falling]], 1)
        slope = np.linalg.lstsq(known, self.x[falling], rcond=None)[0][2]
        return float(np.hypot(1.0, np.clip(slope, -0.2, 0.2)))

    # What is known before the film is looked at: middle and standard uncertainty.

    def known(self, slowed: float, start: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return what each parameter is held to, and how tightly; infinite if not at all."""
        rows = self.slow_rows * min(self.step, _ROWS * slowed)
        across, edge = np.exp(start[3]), np.hypot(_EDGE, _SOFT * self.soft)
        wide = {
            "lean": (0.0, _LEAN * across / self.focal),
            "read": (rows / 2, max(rows / np.sqrt(12), 1e-7)),
            "edge": (0.0, edge),
            "edge_way": (0.0, edge),
            "dwell": (_DWELL[0] * slowed, _DWELL[1] * slowed),
            "bow": (0.0, _LENS[0] + _LENS[1] * self.length),
            "ess": (0.0, _LENS[0] + _LENS[1] * self.length),
            "drag": (GRAVITY / self.limit**2, 0.15 * GRAVITY / self.limit**2),
            "ball": (np.log(self.diameter), _BALL if self.ruler is None else 1.0),
        }
        middle, sure = start.copy(), np.full(start.size, np.inf)
        for name, (value, width) in wide.items():
            place = self.names.index(name)
            middle[place], sure[place] = value, width
        return middle, sure

    def fallen(self, of: dict[str, Any], t: Any) -> Any:
        """Return how far the ball is below its release [m]."""
        g, drag = np.exp(of["fast"]), of["drag"]
        down = np.clip(t - of["start"], 0.0, None)
        free = 0.5 * g * down**2
        return free * _slowing(2 * drag * free)

    def depth(self, of: dict[str, Any], t: Any) -> Any:
        """Return how far the ball is below its release, also after it touched [m]."""
        after = np.clip(t - of["touch"] - of["dwell"], 0.0, None)
        first = self.fallen(of, np.minimum(t, of["touch"]))
        return first - of["back"] * after + 0.5 * np.exp(of["fast"]) * after**2

    def place(self, of: dict[str, Any], deep: Any) -> Any:
        """Return where something that deep is in the picture, from the top [px]."""
        across = np.exp(of["size"])
        off, lean = deep - self._half(of), of["lean"]
        tilt = np.clip(lean * self.focal / across, -0.5, 0.5)
        along = across * np.sqrt(1 - tilt**2) / self.roll - lean * (
            self.middle - self.high / 2
        )
        straight = along * off / (1 + lean * off)
        part = np.clip(2 * straight / self.length, -1.3, 1.3)
        bent = of["bow"] * (3 * part**2 - 1) / 2 + of["ess"] * (5 * part**3 - 3 * part) / 2
        return self.middle + straight + bent

    def _half(self, of: dict[str, Any]) -> Any:
        """Return how deep the middle of the picture's fall is [m]."""
        return (self.middle - of["top"]) * self.roll / np.exp(of["size"])

    def off(self, values: FloatArray, middle: FloatArray, sure: FloatArray) -> FloatArray:
        """Return all misfits of one or more rows of values, each in its uncertainty."""
        of = dict(zip(self.names, values.T[..., None], strict=True))
        t = self.t + of["read"] * (self.y / self.high - 0.5)
        deep = self.depth(of, t)
        down = (self.place(of, deep) - self.y) / self.scatter
        away = deep - self._half(of)
        across = np.exp(of["size"] + of["ball"]) / (1 + of["lean"] * away)
        most = np.maximum(np.abs(away).max(-1, keepdims=True), 1e-9)
        edge = of["edge"] + of["edge_way"] * away / most
        width = (across + edge - self.d) / self.blur
        parts = [down, width, ((values - middle) / sure)[..., np.isfinite(sure)]]
        if self.ruler is not None:
            marks = self.high * np.array([self.ruler.upper, self.ruler.lower])
            along = np.exp(of["size"]) / self.roll * self.ruler.distance
            blur = np.hypot(_RULER * along, _MARK * np.sqrt(2))
            parts.append((along - np.ptp(marks)) / blur)
        if self.touch == "pane" and self.pane is not None:
            radius = np.exp(of["size"]) * self.diameter / 2
            at = self.place(of, self.fallen(of, of["touch"])) + radius
            parts.append((at - self.pane) / _MARK)
        return np.concatenate(parts, -1)

    def start(self) -> FloatArray:
        """Return where the fit begins: a plain parabola, and widths as found."""
        fall, rise = slice(self.falls), slice(self.falls, None)
        end = self.t[self.falls - 1]
        half, speed, low = (
            np.polynomial.Polynomial.fit(self.t[fall] - end, self.y[fall], 2).convert().coef
        )[::-1]
        half = max(half, 1e-6)
        across = float(np.median(self.d)) / self.diameter
        if self.ruler is not None:
            ends = self.ruler.lower - self.ruler.upper
            across = self.high * ends / self.ruler.distance
        touch, back = end, 0.0
        if self.touch == "rebound":
            t, y = self.t[rise] - end, self.y[rise]
            steep, begin = (
                np.polynomial.Polynomial.fit(t, y - half * t**2, 1).convert().coef[::-1]
            )
            after = (begin - low) / (speed - steep)
            touch, back = end + after, -(steep + 2 * half * after) / across
        elif self.pane is not None:
            root = np.sqrt(
                max(speed**2 - 4 * half * (low + self.d.mean() / 2 - self.pane), 0.0)
            )
            touch = end + (root - speed) / (2 * half)
        release = -speed / (2 * half)
        values = {
            "start": end + release,
            "top": low + release * speed / 2,
            "fast": np.log(2 * half / across),
            "size": np.log(across),
            "ball": np.log(self.diameter),
            "drag": GRAVITY / self.limit**2,
            "touch": touch,
            "back": back,
        }
        return np.array([values.get(name, 0.0) for name in self.names])

    def fit(
        self, slowed: float, *, g_known: bool = False
    ) -> tuple[FloatArray, FloatArray, float]:
        """Return the parameters, their covariance, and the degrees of freedom behind it."""
        values = self.start()
        self.blur = max(1.5 * self.soft, 0.05)
        middle, sure = self.known(slowed, values)
        if g_known:
            fast, drag = self.names.index("fast"), self.names.index("drag")
            middle[fast], sure[fast] = np.log(GRAVITY / slowed**2), 1e-3
            sure[drag] = np.inf
        fixed = {"touch", "dwell", "back"} if self.touch == "last" else set()
        if self.touch == "pane":
            fixed = {"dwell", "back"}
        free = np.array([name not in fixed for name in self.names])
        values[np.isfinite(sure)] = middle[np.isfinite(sure)]
        measured = np.count_nonzero(free[[0, 1, 2]]) + 2 * (self.touch == "rebound")
        degrees = float(max(self.places.size - int(measured), 1))
        scale = np.where(np.isfinite(sure), sure, 1e-2)
        for _ in range(3):
            found = self._fitted(values, free, scale, middle, sure)
            values = values + _placed(free, found.x * scale[free])
            rest = found.fun[: self.places.size] * self.scatter
            spread = rest @ rest
            # Neighbours that err alike tell less than as many that do not.
            alike = np.clip(rest[1:] @ rest[:-1] / max(spread, 1e-12), 0.0, 0.7)
            self.rough = max(float(np.sqrt(spread / degrees)), 0.02)
            alike = max(float(np.sqrt((1 + alike) / (1 - alike))), _MORE)
            self.scatter = self.rough * alike
        square = found.jac.T @ found.jac
        spread = np.linalg.pinv(square, rcond=1e-12) * np.outer(scale[free], scale[free])
        covariance = np.zeros((values.size, values.size))
        covariance[np.ix_(free, free)] = spread
        return values, covariance, degrees

    def _fitted(self, at: FloatArray, free: Any, scale: Any, middle: Any, sure: Any) -> Any:
        """Return the shift of the free parameters that fits, each in its `scale`."""

        def off(shift: FloatArray) -> FloatArray:
            return self.off(at + _placed(free, shift * scale[free]), middle, sure)

        def slopes(shift: FloatArray) -> FloatArray:
            steps = np.diag(np.cbrt(np.finfo(float).eps) * np.maximum(1.0, np.abs(shift)))
            ahead, behind = np.split(off(shift + np.concatenate([steps, -steps])), 2)
            return np.asarray((ahead - behind).T / (2 * np.diag(steps)))

        # Some parameters are hardly told apart: with slopes from one side only the fit stops
        # where roundings put it, 1e-4 of a height apart from one machine to the next.
        return least_squares(off, np.zeros(int(free.sum())), jac=slopes)

    def slowed(self, fitted: tuple[FloatArray, FloatArray, float]) -> float:
        """Return how many times too slow the film falls; 1 unless it is far from that."""
        values, covariance, degrees = fitted
        fast = self.names.index("fast")
        middle = float(np.exp((np.log(GRAVITY) - float(values[fast])) / 2))
        if _PLAIN[0] < middle < _PLAIN[1]:
            return 1.0
        wide = float(np.sqrt(covariance[fast, fast]) / 2 * stdtrit(degrees, 0.975))
        usual = np.array(_CAMERAS) * self.step
        off = np.abs(np.log(usual / middle))
        return float(usual[off.argmin()]) if off.min() < max(wide, 0.02) else middle

    def result(self, slowed: float, *, told: bool) -> FilmedFall:
        """Fit once more with the film's own clock put right, and derive what is wanted."""
        fitted = self.fit(slowed)
        values, scatter = fitted[0], self.rough
        height = self._measure(fitted, self._height)
        predicted = drop_speed(
            np.maximum([height.value, height.low, height.high], 0.0), self.limit
        )
        bounced = self.touch == "rebound"
        apparent = self._measure(fitted, lambda of: np.exp(of["fast"]))
        low, high = slowed**2 * apparent.low, slowed**2 * apparent.high
        shown = Measure(value=slowed**2 * apparent.value, low=low, high=high)
        drag = self._measure(self.fit(slowed, g_known=True), self._coefficient)
        return FilmedFall(
            path=self.track,
            diameter=self.diameter,
            mass=self.mass,
            ruler=self.ruler,
            pane=self.marked,
            slowed=slowed,
            told=told,
            free_fall=shown,
            apparent=apparent,
            scale=self._measure(fitted, lambda of: np.exp(of["size"])),
            touch=self.touch,
            height=height,
            speed=self._measure(fitted, lambda of: slowed * self._speed(of)),
            rebound=self._measure(fitted, _rebound) if bounced else None,
            restitution=self._measure(fitted, lambda of: of["back"] / self._speed(of))
            if bounced
            else None,
            predicted=Measure(value=predicted[0], low=predicted[1], high=predicted[2]),
            drag=drag,
            scatter=scatter,
            curve=self._curve(values),
        )

    def _height(self, of: dict[str, float]) -> float:
        return float(self.fallen(of, of["touch"]))

    def _speed(self, of: dict[str, float]) -> float:
        g, twice = np.exp(of["fast"]), 2 * of["drag"] * self._height(of)
        return float(np.sqrt(2 * g * self._height(of) * _worn(twice)))

    def _coefficient(self, of: dict[str, float]) -> float:
        return float(of["drag"] * 0.47 / (GRAVITY / self.limit**2))

    def _measure(self, fitted: tuple[FloatArray, FloatArray, float], what: Any) -> Measure:
        """Return a quantity and its interval, to first order."""
        values, covariance, degrees = fitted

        def at(shifted: FloatArray) -> float:
            return float(what(dict(zip(self.names, shifted, strict=True))))

        # What the fit hardly tells apart may leave a variance a rounding below zero.
        scales, ways = np.linalg.eigh(covariance)
        covariance = (ways * np.maximum(scales, 0.0)) @ ways.T
        middle, steps = at(values), np.sqrt(np.diag(covariance))
        slope = np.zeros(values.size)
        for place in np.flatnonzero(steps):
            way = np.zeros(values.size)
            way[place] = 0.3 * steps[place]
            slope[place] = (at(values + way) - at(values - way)) / (2 * way[place])
        half = float(np.sqrt(slope @ covariance @ slope) * stdtrit(degrees, 0.975))
        return Measure(value=middle, low=middle - half, high=middle + half)

    def _curve(self, values: FloatArray) -> FloatArray:
        of = dict(zip(self.names, values, strict=True))
        end = max(self.t[-1], of["touch"])
        t = np.linspace(of["start"], end, 200)
        x = np.interp(t, self.t, self.x)
        (curve,) = read_only(np.stack([t, x, self.place(of, self.depth(of, t))]))
        return curve


def _placed(free: NDArray[np.bool_], values: FloatArray) -> FloatArray:
    placed = np.zeros((*values.shape[:-1], free.size))
    placed[..., free] = values
    return placed


def _slowing(x: Any) -> Any:
    """Return 2 ln cosh(√x)/x, also for small and for negative x."""
    root = np.sqrt(np.maximum(x, 1e-3))
    series = 1 - x / 6 + 2 * x**2 / 45
    return np.where(x > 1e-3, 2 * np.log(np.cosh(root)) / root**2, series)


def _worn(x: float) -> float:
    """Return (1 - exp(-x))/x, also for small and for negative x."""
    return float(-np.expm1(-x) / x) if abs(x) > 1e-9 else 1.0


def _rebound(of: dict[str, float]) -> float:
    return float(of["back"] ** 2 / (2 * np.exp(of["fast"])))
