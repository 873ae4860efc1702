# SPDX-License-Identifier: MIT
"""Look straight down on a photographed plane: four known corners undo the camera's slant.

Places on the plane are in metres from the middle of the four corners, x to the right and y
down, as in the photograph.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike
from scipy import ndimage
from scipy.spatial import ConvexHull

from glasskit.quantities import FloatArray, finite, in_range, positive, read_only

__all__ = ["FRAME", "WINDOW", "Levelled", "find_square", "level"]

FRAME = 70e-3
"""Outer side of the black line that the kit prints round its window [m]."""

WINDOW = 60e-3
"""Side of the window that is cut out of the printed frame [m]."""

_SEARCHED = 600  # longest side of the photograph in which the frame is looked for [pixels]
_DARK = 0.5  # of the brightest nearby: what may be the black line [-]
_FINEST = 10e3  # pixels to the metre of the levelled picture
_COARSEST = 4e3  # below it crumbs cannot be told apart
_LINE = 60  # places along a side of the frame where its edge is read

Photo = np.ndarray[Any, np.dtype[np.uint8]]


@dataclass(frozen=True, kw_only=True, eq=False)
class Levelled:
    """A square part of a plane, seen from straight above.

    Attributes
    ----------
    picture : ndarray, shape (n, n)
        How bright it is, 0 to 255.
    resolution : float
        Pixels to the metre [1/m].

    Raises
    ------
    ValueError
        If the picture is not square or `resolution` not positive.

    Examples
    --------
    >>> Levelled(picture=np.zeros((580, 580)), resolution=10e3).side
    0.058

    """

    picture: FloatArray
    resolution: float

    def __post_init__(self) -> None:
        """Make the picture read-only."""
        (picture,) = read_only(self.picture)
        if picture.ndim != 2 or picture.shape[0] != picture.shape[1]:
            raise ValueError(f"picture must be square, got shape {picture.shape}")
        positive("resolution", self.resolution, "1/m")
        object.__setattr__(self, "picture", picture)

    @property
    def side(self) -> float:
        """Side of what is seen [m]."""
        return float(len(self.picture) / self.resolution)


def grey(photo: Photo) -> np.ndarray[Any, np.dtype[np.float32]]:
    """Return how bright a photograph is; refuse what is none."""
    seen = np.asarray(photo)
    if seen.ndim != 3 or seen.shape[2] != 3 or seen.dtype != np.uint8 or min(seen.shape) == 0:
        raise ValueError(
            "photo must be red, green and blue from 0 to 255, as read_photo gives them; got "
            f"shape {seen.shape} of {seen.dtype}"
        )
    return np.asarray(seen.mean(axis=2, dtype=np.float32))


def find_square(photo: Photo) -> FloatArray:
    """Find the black square line on white paper that the kit prints as a frame.

    Parameters
    ----------
    photo : ndarray, shape (height, width, 3)
        Red, green and blue, 0 to 255, as `read_photo` gives them.

    Returns
    -------
    ndarray, shape (4, 2)
        Its outer corners, across and down, clockwise from the upper left [pixels].

    Raises
    ------
    ValueError
        If there is none: give its corners by hand, or another figure of known size.

    Notes
    -----
    Dark parts that nothing touches but paper; of those with four straight sides the largest.
    Each side is then fitted to the steepest step of brightness along it.

    Examples
    --------
    >>> from glasskit.measured import invented_photo
    >>> photo = invented_photo(np.random.default_rng(1), width=400)
    >>> bool(np.abs(find_square(photo.pixels) - photo.corners).max() < 0.5)
    True

    """
    seen = grey(photo)
    step = max(int(np.ceil(max(seen.shape) / _SEARCHED)), 1)
    rows, columns = (length // step * step for length in seen.shape)
    blocks = seen[:rows, :columns].reshape(rows // step, step, columns // step, step)
    small = blocks.mean(axis=(1, 3))
    reach = max(small.shape) // 8
    near = ndimage.uniform_filter(ndimage.maximum_filter(small, reach), reach)
    parts, _ = ndimage.label(small < _DARK * near)
    best: FloatArray | None = None
    most = small.size / 100
    for number, place in enumerate(ndimage.find_objects(parts), 1):
        y, x = place
        if not (y.start and x.start and y.stop < len(small) and x.stop < small.shape[1]):
            continue  # cut off by the border of the photograph
        if (y.stop - y.start) * (x.stop - x.start) <= most:
            continue
        corners = _four_sided(parts[place] == number)
        if corners is not None and _area(corners) > most:
            best, most = corners + np.array([x.start, y.start]), _area(corners)
    if best is None:
        raise ValueError(
            "photo must show the whole black frame on white paper; none was found, so set its "
            "four corners by hand"
        )
    return _fitted(seen, (best + 0.5) * step - 0.5, step)


def _four_sided(part: np.ndarray[Any, np.dtype[np.bool_]]) -> FloatArray | None:
    """Return the corners of a part that is a hollow figure with four sides, or nothing."""
    points = np.argwhere(part)[:, ::-1].astype(float)
    try:
        hull = points[ConvexHull(points).vertices]
    except ValueError:  # all of it on one line
        return None
    apart = ((hull[:, None] - hull) ** 2).sum(axis=-1)
    first, third = np.unravel_index(apart.argmax(), apart.shape)
    line = hull[third] - hull[first]
    off = line[0] * (hull[:, 1] - hull[first, 1]) - line[1] * (hull[:, 0] - hull[first, 0])
    corners = hull[[first, off.argmin(), third, off.argmax()]]
    full, held = _area(hull), len(points)
    if _area(corners) < 0.93 * full or not 0.05 < held / full < 0.8:
        return None
    return _ordered(corners)


def _area(corners: FloatArray) -> float:
    after = np.roll(corners, -1, axis=0)
    return float(abs(np.sum(corners[:, 0] * after[:, 1] - corners[:, 1] * after[:, 0])) / 2)


def _ordered(corners: FloatArray) -> FloatArray:
    """Return corners clockwise, as seen, from the upper left."""
    off = corners - corners.mean(axis=0)
    turned = corners[np.argsort(np.arctan2(off[:, 1], off[:, 0]))]
    return np.asarray(np.roll(turned, -turned.sum(axis=1).argmin(), axis=0))


def _fitted(seen: np.ndarray[Any, Any], corners: FloatArray, step: int) -> FloatArray:
    """Move each side to the steepest step from paper to line; return where they cross."""
    reach = 2.5 * step + 2
    off = np.arange(-reach, reach + 0.25, 0.5)
    share = np.linspace(0.06, 0.94, _LINE)[:, None]
    lines = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        along = (end - start) / np.linalg.norm(end - start)
        inward = np.array([-along[1], along[0]])
        places = start + share * (end - start)
        read = places[:, None] + off[:, None] * inward
        bright = ndimage.map_coordinates(
            seen, [read[..., 1], read[..., 0]], order=1, mode="nearest"
        )
        fall = -np.diff(ndimage.gaussian_filter1d(bright, 2.0, axis=1), axis=1)
        fall[fall < 0.5 * fall.max(axis=1, keepdims=True)] = 0
        weight = np.maximum(fall.sum(axis=1), 1e-9)
        edge = (fall * (off[:-1] + 0.25)).sum(axis=1) / weight
        slope, height = np.polyfit(share[:, 0], edge, 1)
        for _ in range(3):  # leave out what something lies upon
            apart = np.abs(edge - slope * share[:, 0] - height)
            kept = apart <= max(2.5 * np.median(apart), 0.2)
            slope, height = np.polyfit(share[kept, 0], edge[kept], 1)
        lines.append(
            (start + height * inward, end - start + slope * inward)  # a point and its way
        )
    crossed = []
    for (point, way), (other, along) in zip([lines[-1], *lines[:-1]], lines, strict=True):
        run = np.linalg.solve(np.column_stack([way, -along]), other - point)
        crossed.append(point + run[0] * way)
    return np.array(crossed)


def level(
    photo: Photo,
    corners: ArrayLike,
    *,
    width: float = FRAME,
    height: float = FRAME,
    side: float = FRAME,
) -> Levelled:
    """Look straight down on the middle of a figure whose four corners are known.

    Parameters
    ----------
    photo : ndarray, shape (height, width, 3)
        Red, green and blue, 0 to 255.
    corners : array_like, shape (4, 2)
        Corners of a square, a card or a ruler that lies on the plane, across and down,
        clockwise from the upper left [pixels].
    width, height : float
        Its true sides [m].
    side : float
        Side of the square of the plane that is wanted [m].

    Returns
    -------
    Levelled
        About as fine as the photograph, 10 pixels to the millimetre at most.

    Raises
    ------
    ValueError
        If the corners are not those of a convex figure, one after the other, lie outside the
        photograph or so close that crumbs cannot be told apart.

    Notes
    -----
    Exact for a camera without distortion and a figure in the plane. A frame on top of glass of
    thickness t, seen from a distance d, makes what is below it look smaller by t/d or less.

    References
    ----------
    [HartleyZisserman2004]

    Examples
    --------
    >>> photo = np.full((300, 400, 3), 128, dtype=np.uint8)
    >>> level(photo, [[20, 10], [380, 10], [380, 290], [20, 290]], side=50e-3).side
    0.05

    """
    seen = grey(photo)
    places = finite("corners", corners, "pixels")
    if places.shape != (4, 2):
        raise ValueError(f"corners must be four pairs of numbers, got shape {places.shape}")
    sides = np.roll(places, -1, axis=0) - places
    after = np.roll(sides, -1, axis=0)
    turns = sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]
    if not np.all(turns > 1.0):
        raise ValueError(
            "corners must go clockwise round a figure without a dent, from the upper left; "
            "got " + ", ".join(f"({x:.0f}, {y:.0f})" for x, y in places)
        )
    in_range("corners", places[:, 0], -0.5, seen.shape[1] - 0.5, "pixels across")
    in_range("corners", places[:, 1], -0.5, seen.shape[0] - 0.5, "pixels down")
    true = np.array([positive("width", width, "m"), positive("height", height, "m")])
    wanted = in_range("side", side, 5e-3, 0.5, "m").item()
    lengths = np.linalg.norm(sides, axis=1)
    has = float(np.mean(lengths / np.tile(true, 2)))
    if has < _COARSEST:
        raise ValueError(
            f"corners must be at least {_COARSEST / 1e3:g} pixels apart for each mm between "
            f"them, got {has / 1e3:.2g}: photograph from nearer"
        )
    fine = min(has, _FINEST)
    number = round(wanted * fine)
    line = (np.arange(number) + 0.5) / fine - wanted / 2
    plane = np.stack(np.meshgrid(line, line), axis=-1).reshape(-1, 2)
    signs = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    read = _projected(signs * true / 2, places, plane)
    low = np.clip(np.floor(read.min(axis=0)).astype(int) - 8, 0, None)
    high = np.ceil(read.max(axis=0)).astype(int) + 9
    part = seen[low[1] : high[1], low[0] : high[0]]
    if part.size == 0:
        raise ValueError("side must leave some of the square within the photograph")
    if has > 1.2 * fine:
        part = ndimage.gaussian_filter(part, 0.5 * has / fine)
    across, down = (read - low).T
    picture = ndimage.map_coordinates(part, [down, across], order=1, mode="nearest")
    return Levelled(picture=picture.reshape(number, number), resolution=fine)


def _projected(corners: FloatArray, onto: FloatArray, points: FloatArray) -> FloatArray:
    """Take points of the plane into the photograph, as the four corners say."""
    rows, right = [], []
    for (x, y), (across, down) in zip(corners, onto, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -across * x, -across * y])
        rows.append([0, 0, 0, x, y, 1, -down * x, -down * y])
        right += [across, down]
    matrix = np.append(np.linalg.solve(rows, right), 1.0).reshape(3, 3)
    taken = points @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(taken[:, :2] / taken[:, 2:])
