# SPDX-License-Identifier: MIT
"""Draw a flat glass: corner-sharing triangles closed into rings of mixed size.

Every cell of a Delaunay triangulation becomes one network former, every edge one oxygen that
two formers share, every corner point of the triangulation one ring. The result is what a
network glass is in the plane: each former has three oxygens, each oxygen two formers, and the
rings have five, six, seven, now and then four or eight members [Zachariasen1932]_.

The sheet closes on itself sideways. Below and above it is cut open along a seam: oxygens on
the seam are doubled, one stays with the former above it, one with the former below. Lengths
here are in units of one former-oxygen bond; x runs sideways, y upwards from the seam.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay

from glasskit.quantities import FloatArray, in_range, whole

IntArray = NDArray[np.intp]

_ROW = np.sqrt(3) / 2  # distance of the rows of a triangular lattice of spacing 1
_SPACING = 2 * np.sqrt(3)  # between neighbouring ring centres of a honeycomb, in bonds


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """Who is joined to whom in the flat glass, and roughly where.

    Formers are numbered from 0, oxygens after them; pairs are rows of two numbers.

    Attributes
    ----------
    positions : ndarray, shape (n, 2)
        Where formers and oxygens start, before any relaxation, in bonds [-].
    formers : int
        How many formers there are.
    width : float
        Sideways period, in bonds [-].
    bonds, sides : ndarray, shape (3 formers, 2)
        Former with oxygen, and oxygen with oxygen of the same triangle.
    hinges : ndarray, shape (m, 2)
        Oxygens of one ring that are next but one to each other.
    hinge_sizes : ndarray, shape (m,)
        Ring size at each hinge.
    rings : tuple of ndarray
        Oxygens of each closed ring, in order round it.
    base, top : ndarray
        Oxygens on the seam below and above.

    """

    positions: FloatArray
    formers: int
    width: float
    bonds: IntArray
    sides: IntArray
    hinges: IntArray
    hinge_sizes: IntArray
    rings: tuple[IntArray, ...]
    base: IntArray
    top: IntArray


def draw_sheet(sites: int, disorder: float, rng: np.random.Generator) -> Sheet:
    """Draw a sheet of at least so many formers.

    Parameters
    ----------
    sites : int
        Formers wanted, at least 60 [-].
    disorder : float
        Scatter of the ring centres about a triangular lattice, 0 to 0.4 of their spacing
        [-]; 0 gives a honeycomb crystal.
    rng : numpy.random.Generator
        Source of the scatter.

    Returns
    -------
    Sheet
        About square.

    Raises
    ------
    ValueError
        If `sites` is below 60 or `disorder` out of range.

    Notes
    -----
    A drawing in two dimensions, not a model of a glass's structure.

    Examples
    --------
    >>> sheet = draw_sheet(100, 0.2, np.random.default_rng(1))
    >>> sheet.formers >= 100
    True

    """
    sites = whole("sites", sites, 60, 100_000)
    in_range("disorder", disorder, 0.0, 0.4)
    rows = 2 * round(np.sqrt(sites / 2 / _ROW) / 2)
    columns = -(-sites // (2 * rows))
    row, column = np.divmod(np.arange(rows * columns), columns)
    points = np.stack([column + 0.5 * (row % 2), _ROW * row], axis=-1)
    points += disorder * rng.standard_normal(points.shape)
    return _sheet_from_points(_SPACING * points, _SPACING * np.array([columns, _ROW * rows]))


def _sheet_from_points(points: FloatArray, box: FloatArray) -> Sheet:
    corners, shifts = _triangles(points % box, box)
    centres = (points % box)[corners] + shifts * box
    formers = centres.mean(axis=1) % box
    count = len(formers)
    # The edge facing corner k of a triangle is an oxygen, shared with the triangle behind it.
    first, second = np.array([1, 0, 0]), np.array([2, 2, 1])
    step = shifts[:, second] - shifts[:, first]
    keys = np.concatenate([corners[:, first, None], corners[:, second, None], step], axis=-1)
    _, oxygen = np.unique(keys.reshape(-1, 4), axis=0, return_inverse=True)
    oxygen = oxygen.reshape(count, 3)
    reach = (centres[:, first] + centres[:, second]) / 2 - centres.mean(axis=1)[:, None]
    oxygen, base, top = _cut(oxygen, formers[:, 1], box[1])
    places = np.empty((oxygen.max() + 1, 2))
    places[oxygen] = formers[:, None] + reach  # the two triangles agree up to a period
    oxygen += count
    bonds = np.stack([np.repeat(np.arange(count), 3), oxygen.ravel()], axis=-1)
    sides = np.stack([oxygen[:, first], oxygen[:, second]], axis=-1)
    members = np.bincount(corners.ravel(), minlength=len(points))
    hinges, sizes, rings = _rings(corners.ravel(), sides.reshape(-1, 2), members)
    return Sheet(
        positions=np.concatenate([formers, places]),
        formers=count,
        width=float(box[0]),
        bonds=bonds,
        sides=sides.reshape(-1, 2),
        hinges=hinges,
        hinge_sizes=sizes,
        rings=rings,
        base=base + count,
        top=top + count,
    )


def _triangles(points: FloatArray, box: FloatArray) -> tuple[IntArray, IntArray]:
    """Triangulate points on a torus: corner numbers, and the period each corner lies in."""
    tiles = np.stack(np.meshgrid([0, -1, 1], [0, -1, 1]), axis=-1).reshape(-1, 2)
    tiled = (points + tiles[:, None] * box).reshape(-1, 2)
    tile, corner = np.divmod(Delaunay(tiled).simplices.astype(np.intp), len(points))
    order = np.argsort(corner, axis=1)
    corner = np.take_along_axis(corner, order, axis=1)
    tile = np.take_along_axis(tile, order, axis=1)
    once = tile[:, 0] == 0  # of all copies of a triangle, the one with its first corner home
    return corner[once], tiles[tile[once]]


def _cut(
    oxygen: IntArray, height: FloatArray, period: float
) -> tuple[IntArray, IntArray, IntArray]:
    """Give each triangle above the seam its own copy of the oxygens on the seam."""
    low = np.full(oxygen.max() + 1, period)
    high = np.zeros(oxygen.max() + 1)
    heights = np.repeat(height, 3)
    np.minimum.at(low, oxygen.ravel(), heights)
    np.maximum.at(high, oxygen.ravel(), heights)
    base = np.flatnonzero(high - low > period / 2)
    copy = np.arange(len(low))
    copy[base] = len(low) + np.arange(len(base))
    upper = (height > period / 2)[:, None]
    return np.where(upper, copy[oxygen], oxygen), base, copy[base]


def _rings(
    ring: IntArray, sides: IntArray, members: IntArray
) -> tuple[IntArray, IntArray, tuple[IntArray, ...]]:
    """Pair the next-but-one oxygens round each ring, and list the closed rings in order."""
    half = np.concatenate(
        [np.column_stack([ring, sides]), np.column_stack([ring, sides[:, ::-1]])]
    )
    half = half[np.lexsort((half[:, 1], half[:, 0]))]
    met = np.flatnonzero((half[1:, :2] == half[:-1, :2]).all(axis=1))
    owner, middle = half[met, 0], half[met, 1]
    hinges = np.stack([half[met, 2], half[met + 1, 2]], axis=-1)
    closed = np.flatnonzero(np.bincount(owner, minlength=len(members)) == members)
    after = {
        (int(r), int(m)): (int(a), int(b))
        for r, m, (a, b) in zip(owner, middle, hinges, strict=True)
    }
    start = dict(zip(owner.tolist(), middle.tolist(), strict=True))
    return hinges, members[owner], tuple(_walk(int(r), start[int(r)], after) for r in closed)


def _walk(ring: int, start: int, after: dict[tuple[int, int], tuple[int, int]]) -> IntArray:
    walk = [start, after[ring, start][0]]
    while walk[-1] != start:
        a, b = after[ring, walk[-1]]
        walk.append(b if a == walk[-2] else a)
    return np.array(walk[:-1])
