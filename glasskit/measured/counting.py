# SPDX-License-Identifier: MIT
r"""Count the crumbs in a square of 50 mm as the standards do, and say what that tells.

Whole pieces count one, pieces that the border of the square cuts a half. From the count
follows the tension in the core of a quenched pane, and from it the squeeze at its surface:

.. math:: \sigma_s = 2\,\sigma_d(t)\,(N/40)^{1/4}
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.ndimage import find_objects
from scipy.spatial import ConvexHull
from scipy.spatial.distance import pdist

from glasskit.breakage import (
    DICING_SPREAD,
    NOMINAL,
    SQUARE,
    MinimumCount,
    counted_tension,
    minimum_counts,
)
from glasskit.materials import Glass
from glasskit.measured.outlines import Labels, Pieces
from glasskit.quantities import FloatArray, in_range, of_type, positive, read_only

__all__ = ["VIEW", "PieceCount", "count_square"]

VIEW = 58e-3
"""Side of the view in which pieces are looked for: the square and a margin round it [m]."""

_EDGE = 0.1e-3  # how well the border of the square is known beside an outline [m]
_UNSEEN = 0.003  # variance for each piece, of pieces missed without any trace [-]
_NORMAL = 1.96  # standard deviations to either end of a 95 % interval [-]
_HEAVIEST = 10


@dataclass(frozen=True, kw_only=True, eq=False)
class PieceCount:
    """What a square of a broken pane holds.

    Attributes
    ----------
    pieces : Pieces
        All that were found.
    thickness : float
        Of the pane [m].
    glass : Glass
        What it is made of.
    whole_pieces, cut_pieces : int
        Within the square, and across its border [-].
    interval : tuple of float
        Holds the number of pieces, a cut one as a half, 95 times in 100 [-].
    bare : float
        Share of the square without any piece [-].
    areas, lengths : ndarray
        Of the pieces that lie wholly in the view: area [m^2] and greatest length [m].
    labels : ndarray of int
        Which pieces these are, in the same order.

    Examples
    --------
    See `count_square`, which makes it.

    """

    pieces: Pieces
    thickness: float
    glass: Glass
    whole_pieces: int
    cut_pieces: int
    interval: tuple[float, float]
    bare: float
    areas: FloatArray
    lengths: FloatArray
    labels: Labels

    @property
    def count(self) -> float:
        """Pieces in the square; one that its border cuts is a half [-]."""
        return self.whole_pieces + self.cut_pieces / 2

    @property
    def masses(self) -> FloatArray:
        """Masses of the pieces that lie wholly in the view [kg]."""
        return np.asarray(self.areas * self.thickness * self.glass.density)

    @property
    def heaviest(self) -> float:
        """Mass of the ten heaviest of them together, or of all if there are fewer [kg]."""
        return float(np.sort(self.masses)[-_HEAVIEST:].sum())

    @property
    def longest(self) -> float:
        """Greatest length of one of them [m]; none, if no piece lies wholly in the view."""
        return float(self.lengths.max(initial=0.0))

    @property
    def nominal(self) -> float:
        """The thickness sold that is nearest [m]."""
        return float(NOMINAL[np.abs(NOMINAL - self.thickness).argmin()])

    @property
    def minimum(self) -> tuple[MinimumCount, ...]:
        """What the rules known here ask of a toughened pane of that thickness, by source."""
        return minimum_counts(self.nominal)

    @property
    def squeeze(self) -> tuple[float, float, float]:
        """Squeeze at the surface that the count suggests: least, middle and most [Pa].

        Half of it is the tension in the core, of a parabola.
        """
        ends = counted_tension(
            [self.interval[0], self.count, self.interval[1]], self.thickness
        )
        off = 1 + DICING_SPREAD * np.array([-1, 0, 1])
        low, middle, high = (2 * ends * off).tolist()
        return low, middle, high


def count_square(
    pieces: Pieces,
    *,
    thickness: float,
    glass: Glass,
    scale_error: float = 0.0025,
    checked: bool = False,
) -> PieceCount:
    """Count the pieces in the square of 50 mm in the middle of the view.

    Parameters
    ----------
    pieces : Pieces
        As found, or corrected by hand.
    thickness : float
        Of the pane [m].
    glass : Glass
        What it is made of.
    scale_error : float
        Standard uncertainty of the figure whose corners were given, over its sides [-].
    checked : bool
        Whether somebody has looked at every outline, so that no doubt of them is left.

    Returns
    -------
    PieceCount
        Its interval is about this square, of this pane: another square holds another number.

    Raises
    ------
    ValueError
        If `thickness` is not positive, `scale_error` not 0 to 0.2, or the view is smaller than
        the square.

    Notes
    -----
    The interval is that of unclear borders, of pieces that the border of the square just
    touches, and of the scale. It was set on invented photographs; real ones have dirt,
    reflections and pieces that moved, so look at the outlines. Editions of the standards lay
    down where on the pane the square lies and how long after the break.

    Examples
    --------
    A view of 60 mm in tiles of 10 mm: the square holds 16 whole ones and cuts 20.

    >>> from glasskit.materials import glass
    >>> from glasskit.measured import Levelled
    >>> tile = np.arange(240) // 40
    >>> view = Levelled(picture=np.zeros((240, 240)), resolution=4e3)
    >>> pieces = Pieces(view=view, labels=6 * tile[:, None] + tile + 1, clearness=20.0)
    >>> count_square(pieces, thickness=6e-3, glass=glass("soda-lime")).count
    26.0

    """
    of_type("pieces", pieces, Pieces)
    of_type("glass", glass, Glass)
    of_type("checked", checked, bool)
    size = positive("thickness", thickness, "m").item()
    scale = in_range("scale_error", scale_error, 0.0, 0.2).item()
    if pieces.view.side < SQUARE:
        raise ValueError(
            f"pieces must be of a view of 50 mm or more, got {1e3 * pieces.view.side:.3g} mm"
        )
    line = (np.arange(len(pieces.labels)) + 0.5) / pieces.view.resolution
    off = np.abs(line - pieces.view.side / 2)
    out = np.maximum(off[:, None], off)
    inside, cut = _held(pieces.labels, out < SQUARE / 2)
    states = [_held(pieces.labels, out < SQUARE / 2 + edge) for edge in (-_EDGE, _EDGE)]
    (fewer, less), (more, further) = states
    touched = np.union1d(np.setxor1d(fewer, more), np.setxor1d(less, further)).size
    count = inside.size - cut.size / 2
    chances = (
        []
        if checked
        else [
            (doubt.chance, doubt.drawn)
            for doubt in pieces.doubts
            if max(abs(doubt.x), abs(doubt.y)) < SQUARE / 2
        ]
    )
    shift = sum(-chance if drawn else chance for chance, drawn in chances)
    variance = sum(chance * (1 - chance) for chance, _ in chances)
    variance += touched / 16 + (2 * scale * count) ** 2
    variance += 0.0 if checked else _UNSEEN * count
    spread = _NORMAL * float(np.sqrt(variance))
    middle = count + shift
    kept = np.setdiff1d(pieces.labels, np.concatenate([[0], *_rim(pieces.labels)]))
    areas = np.bincount(pieces.labels.ravel())[kept] / pieces.view.resolution**2
    lengths = _lengths(pieces.labels, kept) / pieces.view.resolution
    areas, lengths = read_only(areas, lengths)
    return PieceCount(
        pieces=pieces,
        thickness=size,
        glass=glass,
        whole_pieces=inside.size - cut.size,
        cut_pieces=cut.size,
        interval=(max(middle - spread, 0.5), middle + spread),
        bare=float(np.mean(pieces.labels[out < SQUARE / 2] == 0)),
        areas=areas,
        lengths=lengths,
        labels=kept,
    )


def _held(
    labels: Labels, within: np.ndarray[Any, np.dtype[np.bool_]]
) -> tuple[Labels, Labels]:
    """Return the pieces in a part of the view, and those of them that reach beyond."""
    inside = np.setdiff1d(labels[within], [0])
    return inside, np.intersect1d(inside, labels[~within])


def _rim(labels: Labels) -> list[Labels]:
    return [labels[0], labels[-1], labels[:, 0], labels[:, -1]]


def _lengths(labels: Labels, kept: Labels) -> FloatArray:
    """Return the greatest length of each piece [pixels]."""
    found = find_objects(labels)
    lengths = []
    for label in kept:
        part = np.argwhere(labels[found[label - 1]] == label)
        ends = (
            part
            if len(part) < 4 or np.ptp(part, axis=0).min() < 1
            else part[ConvexHull(part).vertices]
        )
        lengths.append(pdist(ends).max(initial=0.0) + 1)
    return np.array(lengths)
