# SPDX-License-Identifier: MIT
"""Invented photographs of broken toughened glass, whose pieces are known.

A pane lies as it broke, behind the window of a paper frame with a black line round it. The
camera looks at it aslant; its picture is unevenly lit, noisy and a little blurred.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree

from glasskit.breakage import SQUARE
from glasskit.measured.counting import VIEW
from glasskit.measured.levelled import FRAME, WINDOW
from glasskit.quantities import FloatArray, in_range, of_type, read_only, whole

__all__ = ["InventedPhoto", "invented_photo"]

_SHEET = 100e-3  # side of the paper of the frame [m]
_FOCAL = 1.2  # of the camera, in widths of the photograph [-]
_FILLS = 0.72  # side of the frame over the height of the photograph [-]
_GRID = 1e-4  # where the truth is read [m]
_FAINT = (0.35, 1.0)  # contrast of a crack over that of the clearest [-]
_WIDTHS = (0.05e-3, 0.12e-3)  # of a crack, standard deviations [m]
_SCRATCHES = 12  # on the pane, that are no cracks
_BAND = 100  # rows that are computed at once
_TABLE = 4099  # kinds of crack: each border of two pieces is of one


@dataclass(frozen=True, eq=False, kw_only=True)
class InventedPhoto:
    """A photograph that was computed, and the truth about it.

    Attributes
    ----------
    pixels : ndarray, shape (height, width, 3)
        Red, green and blue, 0 to 255.
    corners : ndarray, shape (4, 2)
        Where the outer corners of the black line are, clockwise from the upper left [pixels].
    whole_pieces, cut_pieces : int
        Within the square in the middle of the frame, and across its border [-].
    areas : ndarray
        Areas of the pieces that lie wholly within the view [m^2].

    """

    pixels: np.ndarray[Any, np.dtype[np.uint8]]
    corners: FloatArray
    whole_pieces: int
    cut_pieces: int
    areas: FloatArray

    @property
    def count(self) -> float:
        """Pieces in the square; one that its border cuts is a half [-]."""
        return self.whole_pieces + self.cut_pieces / 2


def invented_photo(
    rng: np.random.Generator,
    *,
    count: float = 80.0,
    width: int = 800,
    contrast: float = 0.35,
    noise: float = 4.0,
    blur: float = 1.0,
    unevenness: float = 0.3,
    tilt: float = 0.3,
    bright: bool = False,
) -> InventedPhoto:
    """Compute a photograph of a broken pane behind a paper frame.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where chance comes from; seed it to get the same photograph again.
    count : float
        Pieces in the square of 50 mm, on average [-].
    width : int
        Width of the photograph; its height is three quarters of that [pixels].
    contrast : float
        How much darker than glass the clearest cracks are [-].
    noise : float
        Standard deviation, of 255 [-].
    blur : float
        Standard deviation of the smear [pixels].
    unevenness : float
        How much brighter one side is than the other [-].
    tilt : float
        Angle between the camera's axis and the normal of the pane [rad].
    bright : bool
        Whether cracks are lighter than the glass, as on a dark ground.

    Returns
    -------
    InventedPhoto
        With the truth about it.

    Raises
    ------
    ValueError
        If `count` is not 4 to 2000, `width` not 200 to 8000, or another number beyond what a
        camera sees.

    Notes
    -----
    Invented: cells round random points only look like crumbs. Real ones have chips, dust,
    reflections, and cracks below the surface.

    References
    ----------
    Own method; cells of random points after [Okabe2000].

    Examples
    --------
    >>> photo = invented_photo(np.random.default_rng(1), width=400)
    >>> photo.pixels.shape, 60 < photo.count < 100
    ((300, 400, 3), True)

    """
    of_type("rng", rng, np.random.Generator)
    of_type("bright", bright, bool)
    number = in_range("count", count, 4.0, 2000.0).item()
    wide = whole("width", width, 200, 8000)
    high = 3 * wide // 4
    deep = in_range("contrast", contrast, 0.0, 0.9).item()
    grain = in_range("noise", noise, 0.0, 100.0).item()
    smear = in_range("blur", blur, 0.0, 100.0, "pixels").item()
    uneven = in_range("unevenness", unevenness, 0.0, 0.9).item()
    to_photo = _camera(wide, high, in_range("tilt", tilt, 0.0, 1.0, "rad").item(), rng)
    cells = _Cells.broken(number, rng)
    sight = _Sight(
        cells=cells,
        to_plane=np.asarray(np.linalg.inv(to_photo)),
        pixel=FRAME / (_FILLS * high),
        glass=0.35 if bright else 0.65,
        contrast=-deep if bright else deep,
        unevenness=uneven,
        lamp=rng.uniform(0, 2 * np.pi),
        scratches=_scratches(rng),
    )
    bands = [slice(top, min(top + _BAND, high)) for top in range(0, high, _BAND)]
    light = np.concatenate([sight.light(band, wide, high) for band in bands])
    picture = 225.0 * gaussian_filter(light, smear)[..., None]
    shown = np.empty((high, wide, 3), dtype=np.uint8)
    for band in bands:
        noisy = picture[band] + rng.normal(0, grain, shown[band].shape)
        shown[band] = np.clip(np.rint(noisy), 0, 255)
    shown.flags.writeable = False
    outer = FRAME / 2 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    (corners,) = read_only(_through(to_photo, outer))
    return InventedPhoto(pixels=shown, corners=corners, **cells.truth())


def _camera(wide: int, high: int, tilt: float, rng: np.random.Generator) -> FloatArray:
    """Return the matrix that takes points of the pane [m] to the photograph [pixels]."""
    way, roll = rng.uniform(0, 2 * np.pi), rng.uniform(-0.15, 0.15)

    def turn(angle: float, axes: tuple[int, int]) -> FloatArray:
        matrix = np.eye(3)
        matrix[np.ix_(axes, axes)] = [
            [np.cos(angle), -np.sin(angle)],
            [np.sin(angle), np.cos(angle)],
        ]
        return matrix

    turned = turn(roll, (0, 1)) @ turn(way, (0, 1)) @ turn(tilt, (1, 2)) @ turn(-way, (0, 1))
    distance = _FOCAL * wide * FRAME / (_FILLS * high)
    off = rng.uniform(-0.02, 0.02, 2) * FRAME
    seen = np.column_stack([turned[:, 0], turned[:, 1], [*off, distance]])
    length = _FOCAL * wide
    lens = np.array([[length, 0, wide / 2], [0, length, high / 2], [0, 0, 1]])
    return np.asarray(lens @ seen)


def _through(matrix: FloatArray, points: FloatArray) -> FloatArray:
    """Take points of one plane to the other."""
    taken = points @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(taken[:, :2] / taken[:, 2:])


def _paper(plane: FloatArray, pixel: float) -> FloatArray:
    """Return how bright table, paper and black line are."""
    out = np.abs(plane).max(axis=1)

    def beyond(side: float) -> FloatArray:
        return np.asarray(np.clip((out - side / 2) / pixel + 0.5, 0, 1))

    return np.asarray(0.07 + 0.85 * beyond(FRAME) - 0.55 * beyond(_SHEET))


@dataclass(frozen=True, eq=False, kw_only=True)
class _Cells:
    """Pieces: the cells round random points, their borders a little bent."""

    tree: cKDTree
    bend: FloatArray  # for x and y, waves of (amplitude, numbers across and down, phase)
    kinds: FloatArray  # width and faintness of each kind of crack
    lit: FloatArray  # brightness of each piece

    @classmethod
    def broken(cls, count: float, rng: np.random.Generator) -> "_Cells":
        side, pitch = VIEW + 0.02, SQUARE / np.sqrt(count)
        number = round((side / pitch) ** 2)
        waves = 2 * np.pi / (pitch * rng.uniform(1.5, 4.0, (2, 4, 2)))
        bend = np.concatenate(
            [
                np.full((2, 4, 1), 0.05 * pitch),
                waves * rng.choice([-1, 1], (2, 4, 2)),
                rng.uniform(0, 2 * np.pi, (2, 4, 1)),
            ],
            axis=-1,
        )
        points = rng.uniform(-side / 2, side / 2, (number, 2))
        # Once evened out: pure chance makes slivers that breaking does not.
        line = np.linspace(-side / 2, side / 2, int(6 * side / pitch))
        grid = np.stack(np.meshgrid(line, line), axis=-1).reshape(-1, 2)
        owner = cKDTree(points).query(grid)[1]
        held = np.bincount(owner, minlength=number)
        sums = [np.bincount(owner, weights=axis, minlength=number) for axis in grid.T]
        middles = np.column_stack(sums) / np.maximum(held, 1)[:, None]
        return cls(
            tree=cKDTree(np.where(held[:, None] > 0, middles, points)),
            bend=bend,
            kinds=np.array([rng.uniform(*ends, _TABLE) for ends in (_WIDTHS, _FAINT)]),
            lit=1 + rng.normal(0, 0.05, number),
        )

    def _bent(self, plane: FloatArray) -> FloatArray:
        amplitude, across, down, phase = np.moveaxis(self.bend, -1, 0)[..., None]
        x, y = plane.T
        moved = (amplitude * np.sin(across * x + down * y + phase)).sum(axis=1)
        return np.asarray(plane + moved.T)

    def brightness(self, plane: FloatArray, pixel: float, contrast: float) -> FloatArray:
        """Return how bright glass and cracks are, the glass being one."""
        near, of = self.tree.query(self._bent(plane), k=2)
        apart = np.linalg.norm(np.diff(self.tree.data[of], axis=1)[:, 0], axis=1)
        off = (near[:, 1] ** 2 - near[:, 0] ** 2) / (2 * apart)  # from the crack [m]
        kind = (of.min(axis=1) * 7919 + of.max(axis=1) * 104729) % _TABLE
        width, faint = self.kinds[:, kind]
        return np.asarray(self.lit[of[:, 0]] - contrast * faint * _line(off, width, pixel))

    def truth(self) -> dict[str, Any]:
        """Return what is to be found: pieces of the square, and areas."""
        line = np.arange(-VIEW / 2 + _GRID / 2, VIEW / 2, _GRID)
        grid = np.stack(np.meshgrid(line, line), axis=-1)
        of = self.tree.query(self._bent(grid.reshape(-1, 2)))[1].reshape(grid.shape[:2])
        within = np.abs(grid).max(axis=-1) < SQUARE / 2
        inside, outside = np.unique(of[within]), np.unique(of[~within])
        edge = np.concatenate([of[0], of[-1], of[:, 0], of[:, -1]])
        whole_ones = np.setdiff1d(of, edge)
        (areas,) = read_only(np.bincount(of.ravel())[whole_ones] * _GRID**2)
        cut = np.intersect1d(inside, outside).size
        return {"whole_pieces": inside.size - cut, "cut_pieces": cut, "areas": areas}


def _line(off: FloatArray, width: FloatArray | float, pixel: float) -> FloatArray:
    """Return the profile of a line of that width, gathered by pixels."""
    soft = np.hypot(width, 0.4 * pixel)
    return np.asarray(width / soft * np.exp(-0.5 * (off / soft) ** 2))


def _scratches(rng: np.random.Generator) -> FloatArray:
    """Return marks on the pane that are no cracks: start, direction, length, contrast."""
    half = WINDOW / 2
    low, high = [-half, -half, 0, 2e-3, 0.1], [half, half, 2 * np.pi, 6e-3, 0.3]
    return rng.uniform(low, high, (_SCRATCHES, 5))


@dataclass(frozen=True, eq=False, kw_only=True)
class _Sight:
    """What the camera sees, before its lens and noise."""

    cells: _Cells
    to_plane: FloatArray
    pixel: float
    glass: float
    contrast: float
    unevenness: float
    lamp: float
    scratches: FloatArray

    def light(self, band: slice, wide: int, high: int) -> FloatArray:
        """Return how bright a band of rows is."""
        columns, rows = np.meshgrid(np.arange(wide), np.arange(high)[band])
        pixels = np.stack([columns, rows], axis=-1).reshape(-1, 2).astype(float)
        plane = _through(self.to_plane, pixels)
        light = _paper(plane, self.pixel)
        inside = np.abs(plane).max(axis=1) < WINDOW / 2
        if inside.any():
            seen = self.cells.brightness(plane[inside], self.pixel, self.contrast)
            light[inside] = self.glass * (seen - self.contrast * self._marks(plane[inside]))
        across, down = columns / wide - 0.5, rows / high - 0.5
        slope = across * np.cos(self.lamp) + down * np.sin(self.lamp)
        dim = 0.8 * (slope + 0.5) + 0.3 * (across**2 + down**2)  # of the lens as well
        return np.asarray(light.reshape(columns.shape) * (1 - self.unevenness * dim))

    def _marks(self, plane: FloatArray) -> FloatArray:
        marked = np.zeros(len(plane))
        for x, y, way, length, deep in self.scratches:
            rest = plane - [x, y]
            along = rest @ [np.cos(way), np.sin(way)]
            beside = rest @ [np.sin(way), -np.cos(way)]
            on = (along > 0) & (along < length)
            marked += np.where(on, deep * _line(beside, _WIDTHS[0], self.pixel), 0.0)
        return marked
