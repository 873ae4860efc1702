# SPDX-License-Identifier: MIT
r"""Read retardation off a photograph between crossed polarisers, and stress from it.

The colours along a line are compared with those that `glasskit.light` computes. The camera is
fitted with them, within what cameras do: brightness that changes along the line, balance, a
little mixing of the three colours, tones, blur. A black patch gives what crossed films let
through, a white one the balance of the light.

Colours come round again with every order. A line that crosses a dark place, where nothing
lags, is counted from there; without one every order that fits is listed. Colours never tell
squeeze from pull.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import BSpline
from scipy.ndimage import gaussian_filter1d, map_coordinates, minimum_filter1d
from scipy.optimize import least_squares
from scipy.special import ndtr

from glasskit.light import share_passed, stress_difference
from glasskit.light.colour import coded, decoded, linear_rgb, observer
from glasskit.materials import Glass
from glasskit.quantities import (
    FloatArray,
    having,
    in_range,
    non_negative,
    of_type,
    positive,
    read_only,
)
from glasskit.stress import StressProfile, tempered

__all__ = [
    "ColourLine",
    "ColourStress",
    "EdgeLine",
    "LagLine",
    "edge_line",
    "lags_along",
    "line_colours",
    "stress_interval",
]

Place = tuple[float, float]
"""Across and down, as shares of the width and height of the picture [-]."""

MOST = 2600e-9
"""Largest retardation that is looked for: above the fourth order colours are too pale [m]."""

PATCH = 0.02
"""Half the side of a patch, and half the width of the line, over the shorter side [-]."""

_SAMPLES = 300  # along a line
_SHORTEST = 40.0  # of a line [px]
_STEP = 2e-9  # of the table of colours [m]
_SMALL = 480  # most pixels along a side of the copy that is shown
_APART = 0.1  # by which white must be brighter than black, linear [-]
_GREY = 0.02  # span of red, green and blue below which a picture has no colours [-]


# --- what the camera saw --------------------------------------------------------------------


@dataclass(frozen=True, eq=False, kw_only=True)
class ColourLine:
    """What a photograph shows along a line, and on its two patches.

    Attributes
    ----------
    seen : ndarray, shape (n, 3)
        Red, green and blue along the line as the file holds them, 0 to 1 [-].
    white, black : ndarray, shape (3,)
        Light from the patches, linear [-].
    spread : float
        Spread of the colour balance within the white patch [-].
    pixels : float
        Length of the line [px].
    small : ndarray, shape (h, w, 3)
        The photograph, with fewer pixels.
    places : tuple
        Start and end of the line, white and black patch, as shares of width and height [-].

    """

    seen: FloatArray
    white: FloatArray
    black: FloatArray
    spread: float
    pixels: float
    small: NDArray[np.uint8]
    places: tuple[Place, Place, Place, Place]

    @property
    def balanced(self) -> FloatArray:
        """Colours once white is white and black is black, shape (n, 3), 0 to 1 [-]."""
        return coded(self.light)

    @property
    def light(self) -> FloatArray:
        """Light along the line over that of the white patch, linear, shape (n, 3) [-]."""
        return np.asarray((decoded(self.seen) - self.black) / (self.white - self.black))


def line_colours(
    picture: NDArray[Any], start: Place, end: Place, white: Place, black: Place
) -> ColourLine:
    """Return the colours of a photograph along a line, balanced by two patches.

    Parameters
    ----------
    picture : ndarray, shape (height, width, 3)
        Red, green and blue, 0 to 255, such as from `read_photo`.
    start, end : tuple of float
        Ends of the line, as shares of width and height from the upper left corner [-].
    white, black : tuple of float
        Middle of a patch lit through films that are not crossed, and of one that is dark
        between crossed films, as shares of width and height [-].

    Returns
    -------
    ColourLine
        Mean colours across a narrow band along the line, and the patches.

    Raises
    ------
    ValueError
        If a place lies outside the picture, the line is shorter than 40 px, the picture is
        grey, or the white patch is burnt out or no brighter than the black one.

    Notes
    -----
    The camera must have balanced and bent the tones of the whole picture alike.

    References
    ----------
    Own method; curve of a screen after [IEC61966].

    Examples
    --------
    >>> picture = np.full((200, 300, 3), 10, np.uint8)
    >>> picture[:, 200:] = 220
    >>> picture[:, 50:60, 0] = 90
    >>> line = line_colours(picture, (0.1, 0.5), (0.6, 0.5), (0.9, 0.5), (0.1, 0.2))
    >>> line.pixels
    150.0

    """
    if getattr(picture, "ndim", 0) != 3 or picture.shape[2] != 3 or picture.dtype != np.uint8:
        raise ValueError(
            "picture must be whole numbers from 0 to 255 of shape (height, width, 3); got "
            f"{type(picture).__name__} of shape {np.shape(picture)}"
        )
    size = np.array([picture.shape[1], picture.shape[0]], float)
    places = {"start": start, "end": end, "white": white, "black": black}
    at = {name: _pixel(name, place, size) for name, place in places.items()}
    length = float(np.hypot(*(at["end"] - at["start"])))
    if length < _SHORTEST:
        raise ValueError(
            f"end must lie {_SHORTEST:.0f} pixels or more from start; got {length:.0f}"
        )
    half = max(PATCH * size.min(), 2.0)
    light, dark = (_patch(picture, at[name], half) for name in ("white", "black"))
    bright, base = decoded(light).mean(axis=0), decoded(dark).mean(axis=0)
    if light.mean(axis=0).max() > 0.985:
        raise ValueError(
            "white must not be burnt out, so photograph it darker; got "
            f"{255 * light.mean(axis=0).max():.0f} of 255"
        )
    if (bright - base).min() < _APART:
        raise ValueError(
            "white must be much brighter than black in red, green and blue; got "
            f"{', '.join(f'{255 * part:.0f}' for part in light.mean(axis=0))} over "
            f"{', '.join(f'{255 * part:.0f}' for part in dark.mean(axis=0))} of 255"
        )
    if np.ptp(picture[::7, ::7].astype(float), axis=-1).max() < 255 * _GREY:
        raise ValueError("picture must have colours; got one in black, grey and white alone")
    seen = _band(picture, at["start"], at["end"], half / 2)
    tint = np.log(np.maximum(decoded(light), 1e-3)) @ [1.0, -1.0, 0.0]
    arrays = read_only(seen)[0], read_only(bright)[0], read_only(base)[0]
    return ColourLine(
        seen=arrays[0],
        white=arrays[1],
        black=arrays[2],
        spread=float(tint.std() / np.sqrt(25.0)),
        pixels=length,
        small=_small(picture),
        places=(start, end, white, black),
    )


def _small(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return every so many pixels of a photograph, enough to be shown beside others."""
    step = -(-max(picture.shape[:2]) // _SMALL)
    kept = picture[::step, ::step].copy()
    kept.flags.writeable = False
    return kept


def _pixel(name: str, place: Place, size: FloatArray) -> FloatArray:
    """Return a place in pixels; one outside the picture is refused by name."""
    share = in_range(name, np.asarray(place), 0.0, 1.0)
    if share.shape != (2,):
        raise ValueError(f"{name} must be two numbers, across and down; got {place!r}")
    return np.asarray(share * size - 0.5)


def _patch(picture: NDArray[Any], at: FloatArray, half: float) -> FloatArray:
    """Return the colours of a square patch, 0 to 1, shape (n, 3)."""
    (left, top), (right, low) = np.maximum(at - half, 0).astype(int), (at + half).astype(int)
    return np.asarray(picture[top : low + 1, left : right + 1].reshape(-1, 3) / 255)


def _band(
    picture: NDArray[Any], start: FloatArray, end: FloatArray, half: float
) -> FloatArray:
    """Return mean colours across a band from start to end, as the file holds them."""
    way = end - start
    length = np.hypot(*way)
    count = int(min(_SAMPLES, length))
    fine = count * int(np.ceil(length / count))
    along = (np.arange(fine) + 0.5) / fine
    side = np.array([-way[1], way[0]]) / length
    across = np.linspace(-half, half, int(min(2 * half + 1, 41)))
    x, y = (start[axis] + along[:, None] * way[axis] + across * side[axis] for axis in (0, 1))
    left, top = int(max(x.min() - 1, 0)), int(max(y.min() - 1, 0))
    part = picture[top : int(y.max()) + 3, left : int(x.max()) + 3]
    colours = [
        map_coordinates(part[..., channel], [y - top, x - left], float, 1, mode="nearest")
        for channel in range(3)
    ]
    light = decoded(np.stack(colours, axis=-1) / 255).mean(axis=1)
    return coded(light.reshape(count, -1, 3).mean(axis=1))


# --- what a camera makes of a retardation ---------------------------------------------------


_DIODE = ((452e-9, 10e-9, 1.1), (560e-9, 53e-9, 1.0))  # place, width, height of its light
_SCREEN = ((453e-9, 9e-9, 1.0), (535e-9, 17e-9, 0.8), (620e-9, 11e-9, 0.9))
_BULB = 2800.0  # its temperature [K]
_LIGHT = 0.014388  # second constant of radiation [m K]


@cache
def _table() -> FloatArray:
    """Return linear colours of retardations in steps of `_STEP`, shape (lamps, n, 3).

    By day, under a white diode, a screen, and a bulb.
    """
    wave, day, matching = observer()

    def peaks(parts: tuple[tuple[float, float, float], ...]) -> FloatArray:
        made = [high * np.exp(-0.5 * ((wave - at) / wide) ** 2) for at, wide, high in parts]
        return np.asarray(np.sum(made, axis=0))

    bulb = wave**-5 / np.expm1(_LIGHT / (wave * _BULB))
    share = share_passed(np.arange(0.0, 2 * MOST, _STEP)[:, None], wave)
    weights = [matching * lamp[:, None] for lamp in (day, peaks(_DIODE), peaks(_SCREEN), bulb)]
    return np.stack([linear_rgb(share @ one) / linear_rgb(one.sum(axis=0)) for one in weights])


def _ideal(lag: FloatArray, lamps: FloatArray) -> FloatArray:
    """Return linear colours of retardations under so much of each lamp, the rest by day."""
    table, parts = _table(), np.concatenate([1 - lamps.sum(-1, keepdims=True), lamps], -1)
    place = np.minimum(np.abs(lag) / _STEP, table.shape[1] - 1.001)
    low = place.astype(int)
    part = (place - low)[..., None]
    by_lamp = [one[low] * (1 - part) + one[low + 1] * part for one in table]
    share = np.moveaxis(parts, -1, 0)[..., None, None]
    return np.asarray(sum(map(np.multiply, share, by_lamp)))


# What a camera may do to a picture, each with its standard uncertainty: a judgement, wider
# than what the invented cameras do.
_BRIGHT = (0.3, 0.25, 0.15)  # logarithm of brightness: level, slope, bend
_BALANCE = 0.03  # red and blue over green
_BLACK = 0.004  # of the light of white
_MIX = 0.04  # of one colour that gets into another
_COLOURFUL = 0.12  # how strong colours are
_TONES = 0.08  # logarithm of the exponent of the tones
_BLUR = (1.5, 1.0)  # most likely, and its uncertainty [px]
_LAMPS = (0.5, 0.0, 0.0), (0.5, 0.5, 0.5)  # light of diode, screen, bulb, and its uncertainty
_OTHERS = ((0, 1), (0, 2), (1, 0), (1, 2), (2, 0), (2, 1))


class _Camera:
    """What was seen along a line, as a function of retardation and of what the camera did."""

    def __init__(self, line: ColourLine) -> None:
        self.line = line
        self.count = len(line.seen)
        self.along = np.linspace(-1.0, 1.0, self.count)
        self.pixel = self.count / line.pixels  # in samples
        balance = np.hypot(_BALANCE, line.spread)
        self.prior = np.r_[
            [*_BRIGHT, balance, balance],
            [_BLACK] * 3,
            [_MIX] * 6,
            [_COLOURFUL, _TONES, _BLUR[1], *_LAMPS[1]],
        ]
        self.start = np.zeros(len(self.prior))
        self.start[-4:] = _BLUR[0], *_LAMPS[0]

    def seen(self, lag: FloatArray, does: FloatArray) -> FloatArray:
        """Return what the file would hold, 0 to 1, shape (..., n, 3)."""
        blur = np.clip(np.abs(does[..., -4]), 0.05, 20.0) * self.pixel
        light = _ideal(lag, does[..., -3:])
        for one in np.unique(blur):
            rows = blur == one
            light[rows] = gaussian_filter1d(
                light[rows], one, axis=-2, mode="nearest", truncate=3.0
            )
        level, slope, bend = np.moveaxis(does[..., :3], -1, 0)[..., None]
        light = light * np.exp(level + slope * self.along + bend * self.along**2)[..., None]
        mixing = np.zeros((*does.shape[:-1], 3, 3)) + np.eye(3)
        for place, (row, column) in enumerate(_OTHERS, 8):
            mixing[..., row, column] += does[..., place]
            mixing[..., row, row] -= does[..., place]
        colourful, tones = (does[..., place, None, None] for place in (14, 15))
        mixing = (1 + colourful) * mixing - colourful / 3
        balance = np.ones((*does.shape[:-1], 1, 3))
        balance[..., 0, [0, 2]] = np.exp(does[..., 3:5])
        light = light @ mixing.swapaxes(-1, -2) * balance + does[..., None, 5:8]
        white, black = self.line.white, self.line.black
        return np.asarray(coded(black + (white - black) * light) ** np.exp(tones))


# --- fitting --------------------------------------------------------------------------------

_MICRO = 1e-6  # retardations are fitted in micrometres, where numbers are near one
_ALIKE = 120e-9  # retardations nearer than this show colours that err alike [m]
_NOISE = 0.004  # least spread of a colour along the line: rounding and packing of the file
_ODD = 6.0  # times the middle misfit: a speck or a scratch, left out
_STRANGE, _FREE = 0.0065, 0.0085
"""What lamps and cameras unlike the fitted ones add to a retardation, of a parabola and of a
curve that is free [-]: the standard deviation of its error on invented photographs under
daylight, diodes, screens and bulbs."""


@dataclass(frozen=True, eq=False, kw_only=True)
class _Fit:
    """What describes the retardation, its covariance, and how well the colours agree."""

    shape: FloatArray
    covariance: FloatArray
    fitted: FloatArray
    misfit: float


def _fitted(
    camera: _Camera,
    lag: Callable[[FloatArray], FloatArray],
    begin: FloatArray,
    stiff: FloatArray,
) -> _Fit:
    """Fit retardation and camera together; `stiff` times what describes the first is small.

    Errors of the colours are not independent: whatever lamp and camera do to one colour they
    do wherever it is seen. So the covariance counts places of like retardation as one.
    """
    seen, count = camera.line.seen, len(begin)
    weight = np.full((camera.count, 1), 100.0)

    def residuals(vector: FloatArray) -> FloatArray:
        shape, does = vector[..., :count], vector[..., count:]
        rest = (camera.seen(lag(shape), does) - seen) * weight
        off = (does - camera.start) / camera.prior
        flat = rest.reshape(*vector.shape[:-1], -1)
        return np.concatenate([flat, off, shape @ stiff.T], -1)

    def slopes_at(vector: FloatArray) -> FloatArray:
        steps = np.sqrt(np.finfo(float).eps) * np.maximum(1.0, np.abs(vector))
        tried = vector + np.concatenate([np.zeros((1, len(vector))), np.diag(steps)])
        here, *ahead = residuals(tried)
        return np.asarray((ahead - here).T / steps)

    vector = np.concatenate([begin, camera.start])
    scale = np.concatenate([np.full(count, 0.05), camera.prior])
    ends: dict[str, Any] = {"x_scale": scale, "xtol": 1e-5, "ftol": 1e-5, "max_nfev": 30}
    vector = least_squares(residuals, vector, slopes_at, **ends).x
    off = (residuals(vector)[: seen.size] / 100.0).reshape(seen.shape)
    size = np.sqrt((off**2).mean(axis=1))
    middle = max(float(np.median(size)), _NOISE)
    weight = np.where(size > _ODD * middle, 0.0, 1 / middle)[:, None]
    solved = least_squares(residuals, vector, slopes_at, **ends)
    slopes = solved.jac[: seen.size].reshape(*seen.shape, -1)
    each = np.einsum("ick,ic->ik", slopes, solved.fun[: seen.size].reshape(seen.shape))
    lags = np.abs(lag(solved.x[:count]))
    alike = np.maximum(1 - np.abs(lags[:, None] - lags) / _ALIKE, 0.0)
    meat = each.T @ alike @ each
    meat += np.diag(np.r_[np.zeros(count), camera.prior**-2.0])
    meat[:count, :count] += stiff.T @ stiff
    bread = np.linalg.pinv(solved.jac.T @ solved.jac)
    fitted = camera.seen(lag(solved.x[:count]), solved.x[count:])
    return _Fit(
        shape=solved.x[:count],
        covariance=(bread @ meat @ bread)[:count, :count],
        fitted=fitted,
        misfit=float(np.sqrt(((fitted - seen)[weight[:, 0] > 0] ** 2).mean())),
    )


def _standard(lag: FloatArray, fit: _Fit, slopes: FloatArray, strange: float) -> FloatArray:
    """Return the standard uncertainty of retardations that hang on a fit by their slopes."""
    variance = np.einsum("...i,ij,...j->...", slopes, fit.covariance, slopes)
    return np.asarray(np.hypot(np.sqrt(variance), strange * lag))


# --- any line -------------------------------------------------------------------------------

_COARSE = 10e-9  # between the retardations that are tried first [m]
_ROUGH = 0.08  # by which colours of a strange camera differ from the computed ones, 0 to 1
_LEAP = 12  # most steps of `_COARSE` from one place to the next
_STEADY = 4.0  # steps of `_COARSE` to the next place that cost as much as a rough colour
_LEVELS = (0.6, 0.8, 1.0, 1.25)  # brightness of the brightest glass over white that is tried
_DARK = 40e-9  # below which a place counts as dark [m]
_AS_WELL = 3.0  # mean cost of a place by which another order may fit worse and is still listed
_SAME = 80e-9  # retardations nearer than this are one reading [m]
_ASTRAY = 0.2  # of the line, by which a face may miss its end at most
_BASES = 16  # of the smooth curve
_BENDING = 0.02  # by which a curve of them may leave a parabola from one to the next [µm]


@dataclass(frozen=True, eq=False, kw_only=True)
class LagLine:
    """Size of the retardation along a line.

    Attributes
    ----------
    line : ColourLine
        What was seen.
    places : ndarray, shape (n,)
        Along the line, from 0 to 1 [-].
    lag, uncertainty : ndarray, shape (n,)
        Size of the retardation and its standard uncertainty [m].
    counted : bool
        Whether the line crosses a dark place from which the orders were counted.
    others : tuple of float
        Largest retardations along the line that would fit as well, from the least; empty if
        counted [m].
    misfit : float
        Root mean square by which colours differ from those fitted, 0 to 1 [-].

    """

    line: ColourLine
    places: FloatArray
    lag: FloatArray
    uncertainty: FloatArray
    counted: bool
    others: tuple[float, ...]
    misfit: float

    @property
    def peak(self) -> int:
        """Number of the place at which the retardation is largest."""
        return int(self.lag.argmax())


def lags_along(line: ColourLine) -> LagLine:
    """Return the size of the retardation along a line, counted from a dark place.

    Parameters
    ----------
    line : ColourLine
        From `line_colours`.

    Returns
    -------
    LagLine
        Retardation with its uncertainty, and the other orders that fit.

    Raises
    ------
    ValueError
        If nothing lags anywhere along the line.

    Notes
    -----
    The retardation must change smoothly and stay below 2600 nm. Below some 250 nm all is grey
    and brightness alone tells it, so the white patch must be lit like the glass.

    References
    ----------
    Own method: the smoothest path through the computed colours, refined by least squares.

    Examples
    --------
    >>> from glasskit.measured import invented_colours, read_photo
    >>> made = invented_colours("bar", 60e6, 6e-3, 2.62e-12, seed=1)
    >>> where = made.start, made.end, made.white, made.black
    >>> read = lags_along(line_colours(read_photo(made.file), *where))
    >>> read.counted, round(1e9 * read.lag.max() / 10) * 10
    (True, 930)

    """
    of_type("line", line, ColourLine)
    camera = _Camera(line)
    coarse, best = _coarse_path(line)
    counted = bool(coarse.min() < _DARK)
    if coarse.max() < _DARK:
        raise ValueError(
            "line must cross glass that shows colours; got one that is dark all along"
        )
    places = (np.arange(camera.count) + 0.5) / camera.count
    rough = np.interp(places, np.linspace(0, 1, len(coarse)), _signed(coarse))
    return _smooth(camera, rough, counted, () if counted else best)


def _smooth(
    camera: _Camera, rough: FloatArray, counted: bool, others: tuple[float, ...]
) -> LagLine:
    """Refine a signed retardation as a smooth curve."""
    places = (np.arange(camera.count) + 0.5) / camera.count
    inner = np.linspace(0, 1, _BASES - 2)
    knots = np.r_[[0.0] * 3, inner, [1.0] * 3]
    bases = BSpline.design_matrix(places, knots, 3).toarray()
    begin = np.linalg.lstsq(bases, rough / _MICRO, rcond=None)[0]
    stiff = np.diff(np.eye(bases.shape[1]), 3, axis=0) / _BENDING
    fit = _fitted(camera, lambda vector: vector @ bases.T * _MICRO, begin, stiff)
    lag = np.abs(bases @ fit.shape) * _MICRO
    arrays = read_only(places, lag, _standard(lag, fit, bases * _MICRO, _FREE))
    return LagLine(
        line=camera.line,
        places=arrays[0],
        lag=arrays[1],
        uncertainty=arrays[2],
        counted=counted,
        others=others,
        misfit=fit.misfit,
    )


def _costs(line: ColourLine, count: int, level: float, most: float) -> FloatArray:
    """Return how badly each coarse retardation fits at some places, shape (count, m)."""
    tried = np.arange(0.0, most, _COARSE)
    places = np.linspace(0, len(line.seen) - 1, count).round().astype(int)
    colours = np.stack([_felt(_ideal(tried, lamp) * level) for lamp in np.eye(4)[:, 1:]])
    away = _felt(line.light[places])[:, None, None] - colours
    return np.asarray(((away / _ROUGH) ** 2).sum(axis=-1).min(axis=1))


def _felt(light: FloatArray) -> FloatArray:
    """Return light as the eye compares it, with little weight on shades of black."""
    return np.asarray((np.clip(light, 0.0, 1.5) + 0.03) ** (1 / 2.4))


def _coarse_path(line: ColourLine) -> tuple[FloatArray, tuple[float, ...]]:
    """Return the smoothest path through coarse retardations, and the peaks of all that fit.

    The cost of every path that goes through a retardation in the middle of the line is known
    once the cheapest ways to it from both ends are.
    """
    count = min(len(line.seen), 150)
    tables = [_costs(line, count, level, MOST) for level in _LEVELS]
    ways = [_ways(table) for table in tables]
    middles = [
        (there + back - table)[count // 2]
        for table, (there, back) in zip(tables, ways, strict=True)
    ]
    most = min(middle.min() for middle in middles) + _AS_WELL * count
    fits = sorted(
        (float(middle[state]), level, state)
        for level, middle in enumerate(middles)
        for state in _lowest(middle)
        if middle[state] <= most
    )
    paths: list[FloatArray] = []
    for _, level, state in fits:
        path = _path(*ways[level], state) * _COARSE
        if all(abs(path.max() - one.max()) > _SAME for one in paths):
            paths.append(path)
    return paths[0], tuple(sorted(float(path.max()) for path in paths))


def _lowest(cost: FloatArray) -> list[int]:
    """Return where a cost is lowest within `_SAME` to both sides."""
    reach = round(_SAME / _COARSE)
    return np.flatnonzero(cost == minimum_filter1d(cost, 2 * reach + 1)).tolist()


def _ways(table: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the cost of the cheapest way to each retardation and place, from both ends."""
    there, back = table.copy(), table.copy()
    for place in range(1, len(table)):
        there[place] += _stepped(there[place - 1]).min(axis=0)
        back[-1 - place] += _stepped(back[-place]).min(axis=0)
    return there, back


def _stepped(cost: FloatArray) -> FloatArray:
    """Return the cost of coming to each retardation by each step, shape (steps, m)."""
    wide = np.pad(cost, _LEAP, constant_values=np.inf)
    moved = np.lib.stride_tricks.sliding_window_view(wide, len(cost))
    steps = np.arange(-_LEAP, _LEAP + 1)
    return np.asarray(moved + ((steps / _STEADY) ** 2)[:, None])


def _path(there: FloatArray, back: FloatArray, state: int) -> FloatArray:
    """Return the cheapest path through a retardation in the middle of the line, in steps."""
    middle = len(there) // 2
    path = np.empty(len(there))
    for ways, turn in ((there, -1), (back, 1)):
        now, place = state, middle
        path[place] = now
        while 0 <= place + turn < len(there):
            place += turn
            now += int(_stepped(ways[place])[:, now].argmin()) - _LEAP
            path[place] = now
    return path


def _signed(size: FloatArray) -> FloatArray:
    """Return sizes with a sign that changes at each dark place."""
    dark = size < _DARK
    starts = np.flatnonzero(dark & ~np.r_[False, dark[:-1]])
    ends = np.flatnonzero(dark & ~np.r_[dark[1:], False])
    sign = np.ones(len(size))
    for start, end in zip(starts, ends, strict=True):
        if start > 0 and end < len(size) - 1:
            sign[start + int(size[start : end + 1].argmin()) :] *= -1
    return sign * size


# --- the edge of a tempered pane ------------------------------------------------------------


@dataclass(frozen=True, eq=False, kw_only=True)
class EdgeLine:
    """Retardation of a tempered pane along a line from face to face, seen through its edge.

    Attributes
    ----------
    lags : LagLine
        Retardation along the line without any form imposed.
    parabola : ndarray, shape (n,)
        Retardation of the fitted parabola, negative where squeezed [m].
    core, uncertainty : float
        Retardation in the middle of the core, and its standard uncertainty [m].
    faces : tuple of float
        Where the parabola puts the two faces along the line, 0 and 1 being its ends [-].
    misfit : float
        Root mean square by which colours differ from those of the parabola, 0 to 1 [-].

    """

    lags: LagLine
    parabola: FloatArray
    core: float
    uncertainty: float
    faces: tuple[float, float]
    misfit: float


def edge_line(line: ColourLine) -> EdgeLine:
    r"""Return the parabola of retardation that the colours across an edge show.

    .. math:: \Gamma(x) = \Gamma_\text{core}\left[1 - 3\left(1 - \frac{2x}{t}\right)^2\right]

    Parameters
    ----------
    line : ColourLine
        From face to face, square to them.

    Returns
    -------
    EdgeLine
        The parabola, and the retardation along the line without it.

    Raises
    ------
    ValueError
        If no parabola with two dark lines fits between the ends of the line.

    Notes
    -----
    Colours do not tell squeeze from pull; that the skin is squeezed is taken for granted. A
    hard quench is steeper at the face than the parabola.

    References
    ----------
    Own method: least squares on all colours of the line, the camera fitted with them.

    Examples
    --------
    >>> from glasskit.measured import invented_colours, read_photo
    >>> made = invented_colours("edge", 75e6, 6e-3, 2.62e-12, seed=1)
    >>> where = made.start, made.end, made.white, made.black
    >>> read = edge_line(line_colours(read_photo(made.file), *where))
    >>> round(1e9 * read.core / 10) * 10
    590

    """
    of_type("line", line, ColourLine)
    camera = _Camera(line)
    places = (np.arange(camera.count) + 0.5) / camera.count

    def parabola(vector: FloatArray) -> FloatArray:
        core, shift, wider = np.moveaxis(vector, -1, 0)[..., None]
        inwards = (places - 0.5 - shift) / (0.5 + wider)
        return np.asarray(core * _MICRO * (1 - 3 * inwards**2))

    fit = _fitted(camera, parabola, _coarse_parabola(line), np.zeros((0, 3)))
    core, shift, wider = fit.shape
    if core * _MICRO < _DARK or abs(shift) > _ASTRAY or abs(wider) > _ASTRAY:
        raise ValueError(
            "line must run from face to face across two dark lines; got colours that fit no "
            "parabola between its ends"
        )
    size = np.asarray(core * _MICRO)
    return EdgeLine(
        lags=_smooth(camera, parabola(fit.shape), True, ()),
        parabola=read_only(parabola(fit.shape))[0],
        core=float(size),
        uncertainty=float(_standard(size, fit, np.array([_MICRO, 0.0, 0.0]), _STRANGE)),
        faces=(float(shift - wider), float(1 + shift + wider)),
        misfit=fit.misfit,
    )


def _coarse_parabola(line: ColourLine) -> FloatArray:
    """Return the retardation of the core and where the faces lie that fit best by far."""
    count = min(len(line.seen), 100)
    places = np.linspace(0, len(line.seen) - 1, count).round().astype(int)
    share = (places + 0.5) / len(line.seen) - 0.5
    cores = np.arange(0.05, 2.5, 0.01)
    shifts, widths = np.linspace(-0.05, 0.05, 5), np.linspace(-0.05, 0.05, 5)
    grid = np.stack(np.meshgrid(cores, shifts, widths, indexing="ij"), axis=-1).reshape(-1, 3)
    inwards = (share - grid[:, 1:2]) / (0.5 + grid[:, 2:3])
    lags = np.abs(grid[:, :1] * _MICRO * (1 - 3 * inwards**2))
    tables = [_costs(line, count, level, 2 * MOST) for level in _LEVELS]
    states = np.minimum((lags / _COARSE).round().astype(int), tables[0].shape[1] - 1)
    costs = np.min([table[np.arange(count), states].sum(axis=1) for table in tables], axis=0)
    return np.asarray(grid[costs.argmin()])


# --- stress --------------------------------------------------------------------------------

_FOURTH = 2200e-9  # four orders of green light [m]
_ENDS = 0.04  # of the line, by which the faces of the parabola may miss its ends
_BAD = 0.05  # root mean square of the misfit of colours


@dataclass(frozen=True, eq=False, kw_only=True)
class ColourStress:
    """Stress that the colours along a line stand for.

    Attributes
    ----------
    found : EdgeLine or LagLine
        The retardation that was read.
    path, spread : float
        Way of the light through the glass, and its standard uncertainty [m].
    thickness : float
        Length of the line in the glass: of an edge, the thickness of the pane [m].
    glass : Glass
        Its stress-optic coefficient, and the published ends of that.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> from glasskit.measured import invented_colours, read_photo
    >>> made = invented_colours("edge", 75e6, 10e-3, 2.62e-12, seed=1)
    >>> where = made.start, made.end, made.white, made.black
    >>> edge = edge_line(line_colours(read_photo(made.file), *where))
    >>> soda = glass("soda-lime")
    >>> read = ColourStress(found=edge, path=10e-3, spread=1e-4, thickness=3e-3, glass=soda)
    >>> round(read.stress / 1e6)
    75

    """

    found: EdgeLine | LagLine
    path: float
    spread: float
    thickness: float
    glass: Glass

    def __post_init__(self) -> None:
        of_type("found", self.found, EdgeLine | LagLine)
        positive("path", self.path, "m"), non_negative("spread", self.spread, "m")
        positive("thickness", self.thickness, "m")
        having("glass", self.glass, "values", "stress_optic")

    @property
    def lags(self) -> LagLine:
        """Retardation along the line, without any form imposed."""
        return self.found.lags if isinstance(self.found, EdgeLine) else self.found

    @property
    def lag(self) -> float:
        """Retardation that `stress` belongs to: at the faces, or where it is largest [m]."""
        if isinstance(self.found, EdgeLine):
            return 2 * self.found.core
        return float(self.found.lag[self.found.peak])

    @property
    def lag_uncertainty(self) -> float:
        """Standard uncertainty of `lag` [m]."""
        if isinstance(self.found, EdgeLine):
            return 2 * self.found.uncertainty
        return float(self.found.uncertainty[self.found.peak])

    @property
    def stress(self) -> float:
        """Squeeze at the faces, twice the pull of the core; or the largest difference [Pa]."""
        return float(stress_difference(self.lag, self.path, self.glass.stress_optic))

    @property
    def interval(self) -> tuple[float, float]:
        """Ends of the 95 % interval of `stress` [Pa]."""
        share = np.hypot(self.lag_uncertainty / self.lag, self.spread / self.path)
        return stress_interval(self.stress, float(share), self.glass)

    @property
    def others(self) -> tuple[float, ...]:
        """What `stress` may be in other orders, if no dark place was crossed [Pa]."""
        optic = self.glass.stress_optic
        return tuple(float(lag / (optic * self.path)) for lag in self.lags.others)

    @property
    def profile(self) -> StressProfile:
        """Stress through the thickness of a pane whose edge was read."""
        return tempered(self.stress, self.thickness)

    @property
    def doubts(self) -> tuple[str, ...]:
        """Where the reading leaves what it was checked for, one sentence each."""
        said = {
            "no place on the line is dark, so its order is not known": not self.lags.counted,
            "above the fourth order colours say little: take a shorter light path": self.lag
            > _FOURTH * (2 if isinstance(self.found, EdgeLine) else 1),
            "the colours fit badly: look for glare, or tones that the camera changed": (
                self.found.misfit > _BAD
            ),
        }
        if isinstance(self.found, EdgeLine):
            ends = np.subtract(self.found.faces, (0.0, 1.0))
            said |= {
                "the light path is shorter than three thicknesses: the stress fades near both "
                "edges, so the pane is squeezed more than is read": (
                    self.path < 2.99 * self.thickness
                ),
                "the parabola does not end where the line does: draw it from face to face, or "
                "this pane follows no parabola": bool(np.abs(ends).max() > _ENDS),
            }
        return tuple(text for text, holds in said.items() if holds)


def stress_interval(stress: float, share: float, glass: Glass) -> tuple[float, float]:
    """Return the 95 % interval of a stress read by light.

    Parameters
    ----------
    stress : float
        With the stress-optic coefficient in use, zero or more [Pa].
    share : float
        Standard uncertainty of retardation over path, as a part of it [-].
    glass : Glass
        Its coefficient lies anywhere between the published ends.

    Returns
    -------
    tuple of float
        Lower and upper end [Pa].

    Raises
    ------
    ValueError
        If a number is negative or not finite.

    Notes
    -----
    A normal error of the reading, and a flat one of the coefficient.

    References
    ----------
    [GUM1]

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> low, high = stress_interval(90e6, 0.01, glass("soda-lime"))
    >>> round(low / 1e6, 1), round(high / 1e6, 1)
    (84.6, 91.3)

    """
    non_negative("stress", stress, "Pa"), non_negative("share", share)
    having("glass", glass, "values")
    optic = glass.values["stress_optic"]
    ratios = optic.value / np.linspace(optic.low, optic.high, 401)
    tried = np.linspace(ratios.min() * (1 - 4 * share), ratios.max() * (1 + 4 * share), 801)
    below = ndtr((tried[:, None] / ratios - 1) / max(share, 1e-6)).mean(axis=1)
    low, high = np.interp([0.025, 0.975], below, tried)
    return float(max(low, 0.0) * stress), float(high * stress)
