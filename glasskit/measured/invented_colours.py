# SPDX-License-Identifier: MIT
"""Invented photographs between crossed polarisers, whose truth is known.

Light of day, of a white diode, a screen or a bulb passes glass and films into a camera that
blurs, mixes its colours, balances them wrongly, bends its tones, adds noise and packs the
picture as a JPEG. The light is uneven, and the glass stands a little askew. All of it is
invented.
"""

from dataclasses import dataclass
from io import BytesIO
from typing import Literal, get_args

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

from glasskit.light import bent_bar, edge_view, share_passed
from glasskit.light.colour import coded, linear_rgb, observer
from glasskit.quantities import FloatArray, one_of, positive, whole
from glasskit.stress import tempered

__all__ = ["InventedColours", "invented_colours"]

InventedView = Literal["edge", "bar"]

DEEP = 3e-3
"""Thickness of the invented pane, depth of the invented bar [m]."""

_HIGH, _WIDE = 540, 720  # of the picture [px]
_LONG = 330  # of the glass from face to face [px]
_LAGS = 1e-9 * np.arange(0.0, 5001.0, 2.0)  # for the table of colours [m]
_SCREENS, _BULBS = 0.2, 0.15  # parts of the photographs that are lit by them
_LEAK = 0.003  # what crossed films let through, of the light that passes one
WHITE_AT, BLACK_AT = (0.88, 0.3), (0.88, 0.75)


@dataclass(frozen=True, eq=False, kw_only=True)
class InventedColours:
    """An invented photograph and what is true of it.

    Attributes
    ----------
    file : bytes
        The photograph, a JPEG.
    start, end, white, black : tuple of float
        Line from face to face and the two patches, as shares of width and height [-].
    lag : float
        Size of the retardation at the faces [m].

    """

    file: bytes
    start: tuple[float, float]
    end: tuple[float, float]
    white: tuple[float, float]
    black: tuple[float, float]
    lag: float


def _lamp(rng: np.random.Generator, wave: FloatArray, day: FloatArray) -> FloatArray:
    """Return the light of a lamp: between day and a white diode, a screen, or a bulb."""

    def peak(place: tuple[float, float], width: tuple[float, float]) -> FloatArray:
        at, wide = 1e-9 * rng.uniform(*place), 1e-9 * rng.uniform(*width)
        return np.asarray(np.exp(-0.5 * ((wave - at) / wide) ** 2))

    kind = rng.uniform()
    blue = peak((445, 460), (8, 12)) * rng.uniform(0.8, 1.5)
    if kind < _SCREENS:
        return blue + peak((528, 542), (12, 25)) + peak((608, 630), (7, 25))
    if kind < _SCREENS + _BULBS:
        heat = rng.uniform(2600.0, 3200.0)
        return np.asarray(wave**-5 / np.expm1(0.014388 / (wave * heat)))
    diode = blue + peak((545, 575), (45, 60))
    part = rng.uniform(0.0, 1.0)
    return np.asarray((1 - part) * day / day.mean() + part * diode / diode.mean())


def _table(rng: np.random.Generator) -> FloatArray:
    """Return linear colours at `_LAGS` under a lamp."""
    wave, day, matching = observer()
    weight = matching * _lamp(rng, wave, day)[:, None]
    share = share_passed(_LAGS[:, None], wave)
    return np.asarray(linear_rgb(share @ weight) / linear_rgb(weight.sum(axis=0)))


def invented_colours(
    view: InventedView,
    stress: float,
    path: float,
    stress_optic: float,
    seed: int,
) -> InventedColours:
    """Return an invented photograph of the edge of a tempered pane, or of a bent bar.

    Parameters
    ----------
    view : {"edge", "bar"}
        Through the edge of a tempered pane, or through the side of a bent bar, 3 mm deep.
    stress : float
        Compression at the faces of the pane, tension at the stretched face of the bar [Pa].
    path : float
        Way of the light through the glass [m].
    stress_optic : float
        Stress-optic coefficient of the glass [1/Pa].
    seed : int
        Camera, light, noise and stand of the glass are drawn from it.

    Returns
    -------
    InventedColours
        The photograph, its places and its truth.

    Raises
    ------
    ValueError
        If a number is not positive or the view unknown.

    Notes
    -----
    Invented: a fifth of the lamps are screens, a seventh bulbs, the others between day and a
    white diode; gains of red and blue off by a fifth, light that falls off by a sixth, blur of
    1 px, noise of 1 % and JPEG of quality 75 to 95.

    References
    ----------
    Invented; colours after [CIE15] and [IEC61966].

    Examples
    --------
    >>> made = invented_colours("edge", 90e6, 5e-3, 2.62e-12, seed=1)
    >>> round(made.lag * 1e9)
    1179

    """
    one_of("view", view, get_args(InventedView))
    positive("stress", stress, "Pa"), positive("path", path, "m")
    positive("stress_optic", stress_optic, "1/Pa")
    rng = np.random.default_rng(whole("seed", seed))
    tilt = np.radians(rng.uniform(-5, 5))
    middle = np.array([rng.uniform(0.36, 0.44) * _WIDE, rng.uniform(0.47, 0.53) * _HIGH])
    y, x = np.mgrid[:_HIGH, :_WIDE].astype(float)
    across = (x - middle[0]) * np.cos(tilt) + (y - middle[1]) * np.sin(tilt)
    along = (y - middle[1]) * np.cos(tilt) - (x - middle[0]) * np.sin(tilt)
    share = np.clip(along / _LONG + 0.5, 0.0, 1.0)
    if view == "edge":
        lags = edge_view(tempered(stress, DEEP), share * DEEP, path, stress_optic)
    else:
        lags = bent_bar(stress, share, path, stress_optic)
    glass = (np.abs(along) <= _LONG / 2) & (np.abs(across) <= 0.27 * _WIDE)
    linear = np.full((_HIGH, _WIDE, 3), _LEAK)
    table = _table(rng)
    linear[glass] += _of(table, np.abs(lags[glass]))
    linear[_patch(x, y, WHITE_AT)] = rng.uniform(0.8, 1.0)
    file = _photographed(linear, x, y, rng)
    step = 0.5 * _LONG * np.array([-np.sin(tilt), np.cos(tilt)])
    start, end = middle - 0.99 * step, middle + 0.99 * step
    size = np.array([_WIDE, _HIGH])
    return InventedColours(
        file=file,
        start=tuple(((start + 0.5) / size).tolist()),
        end=tuple(((end + 0.5) / size).tolist()),
        white=WHITE_AT,
        black=BLACK_AT,
        lag=float(np.abs(lags).max()),
    )


def _of(table: FloatArray, lags: FloatArray) -> FloatArray:
    return np.stack([np.interp(lags, _LAGS, channel) for channel in table.T], axis=-1)


def _patch(x: FloatArray, y: FloatArray, place: tuple[float, float]) -> FloatArray:
    half = 0.07 * _HIGH
    return np.asarray(
        (np.abs(x - place[0] * _WIDE) < half) & (np.abs(y - place[1] * _HIGH) < half)
    )


def _photographed(
    linear: FloatArray, x: FloatArray, y: FloatArray, rng: np.random.Generator
) -> bytes:
    """Take the picture of what is there: light, lens, sensor, tones, file."""
    slope = rng.uniform(-0.16, 0.16, 2)
    light = 1 + slope[0] * (x / _WIDE - 0.5) + slope[1] * (y / _HIGH - 0.5)
    seen = gaussian_filter(linear * light[..., None], (rng.uniform(0.5, 1.2),) * 2 + (0,))
    mixing = np.eye(3) + rng.normal(0, 0.03, (3, 3))
    seen = seen @ (mixing / mixing.sum(axis=1, keepdims=True)).T
    grey = seen.mean(axis=-1, keepdims=True)
    seen = np.clip(grey + rng.normal(1.0, 0.1) * (seen - grey), 0, None)
    gains = np.array([rng.uniform(0.8, 1.05), 1.0, rng.uniform(0.8, 1.05)])
    seen = seen * gains * rng.uniform(0.7, 0.85)
    noise = rng.uniform(0.004, 0.012) * np.sqrt(np.clip(seen, 0.003, None))
    seen = np.clip(seen + noise * rng.normal(size=seen.shape), 0, 1)
    picture = coded(seen) ** np.exp(rng.normal(0, 0.06))
    pixels = np.round(255 * picture).astype(np.uint8)
    file = BytesIO()
    Image.fromarray(pixels).save(file, "jpeg", quality=int(rng.integers(75, 96)))
    return file.getvalue()
