# SPDX-License-Identifier: MIT
"""Draw a pane in crumbs, to illustrate how many pieces a count stands for."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import Voronoi

from glasskit.quantities import FloatArray, positive, require

_MOST_CELLS = 20000  # a square metre of fine crumbs; more is slow to draw and looks no better


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BreakPattern:
    """Pieces of a broken pane, drawn to illustrate.

    Attributes
    ----------
    width, height : float
        Size of the pane [m].
    cells : tuple of ndarray, each of shape (n, 2)
        Corners of each piece in order [m], the origin in a corner of the pane.

    """

    width: float
    height: float
    cells: tuple[FloatArray, ...]


def break_pattern(
    width: float, height: float, density: float, rng: np.random.Generator
) -> BreakPattern:
    """Draw the pieces of a pane: cells round random points, once evened out.

    Parameters
    ----------
    width, height : float
        Size of the pane [m].
    density : float
        Pieces in each square metre, `crumb_count` over the area of the square [1/m^2].
    rng : numpy.random.Generator
        Where chance comes from; seed it to draw the same pane again.

    Returns
    -------
    BreakPattern
        Cells that fill the pane without gap or overlap.

    Raises
    ------
    ValueError
        If an argument is not positive, or the pane would have fewer than 4 or more than
        20000 pieces.

    Notes
    -----
    An illustration of density only. Real pieces are drawn out along the cracks that run from
    the origin, and are larger there.

    Examples
    --------
    >>> from glasskit.breakage import SQUARE
    >>> pane = break_pattern(0.1, 0.1, 40 / SQUARE**2, np.random.default_rng(1))
    >>> len(pane.cells)
    160

    """
    size = np.array([positive("width", width, "m"), positive("height", height, "m")])
    number = round(positive("density", density, "1/m²").item() * size.prod())
    rule = f"give 4 to {_MOST_CELLS} pieces"
    require(4 <= number <= _MOST_CELLS, "density", density, rule, "1/m²")
    points = rng.random((number, 2)) * size
    # Moving each point once to the middle of its cell takes away the slivers that pure chance
    # makes and breaking does not.
    middles = np.array([cell.mean(axis=0) for cell in _cells(points, size)])
    return BreakPattern(
        width=float(width), height=float(height), cells=tuple(_cells(middles, size))
    )


def _cells(points: FloatArray, size: FloatArray) -> list[FloatArray]:
    """Cells of the points within the pane: mirror images beyond the edges trim them."""
    mirrored = [points]
    for axis in (0, 1):
        for edge in (0.0, size[axis]):
            image = points.copy()
            image[:, axis] = 2 * edge - image[:, axis]
            mirrored.append(image)
    diagram = Voronoi(np.concatenate(mirrored))
    regions = (diagram.regions[place] for place in diagram.point_region[: len(points)])
    return [np.clip(diagram.vertices[region], 0.0, size) for region in regions]
