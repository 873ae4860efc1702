# SPDX-License-Identifier: MIT
"""Build what a struck pane can do from simple shapes: waves, and movements of its edges.

The waves are those of a pane whose edges are held: cosines along both sides. Where the edges
may move, or may not turn, smooth shapes are added, and all are solved together by energy
(Rayleigh and Ritz). Everything is even about both middle lines, as a blow on the middle is.
Places are counted from the middle.
"""

from dataclasses import dataclass
from functools import cache, cached_property
from typing import Literal

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray

from glasskit.quantities import FloatArray

_DEGREES = 5  # even powers of each side that a smooth shape may hold: 0, 2, .. 8


@dataclass(frozen=True, kw_only=True, eq=False)
class Shapes:
    """Deflections that a pane is built from; b shapes.

    Attributes
    ----------
    length, width : float
        Sides between the supports [m].
    waves : tuple of ndarray
        Half waves along length and width, both odd, shape (w,) each.
    smooth : {"", "moving", "held"}
        What is added to the waves: nothing, edges that move, or edges that stay straight but
        turn otherwise than the waves'.
    heave : bool
        Whether the pane may move as a whole; edges that move let it anyway.

    """

    length: float
    width: float
    waves: tuple[FloatArray, FloatArray]
    smooth: Literal["", "moving", "held"] = ""
    heave: bool = False

    @cached_property
    def pairs(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Which function of either side each shape is made of, shapes (b,)."""
        powers = np.argwhere(np.add.outer(np.arange(_DEGREES), np.arange(_DEGREES)) < _DEGREES)
        added = {"": powers[:0], "moving": powers, "held": powers + 1}[self.smooth]
        if self.heave and self.smooth != "moving":
            added = np.vstack([powers[:1], added])
        first, second = (
            np.concatenate([side // 2, side.max() // 2 + 1 + more]).astype(np.intp)
            for side, more in zip(self.waves, added.T, strict=True)
        )
        return first, second

    def values(
        self, along: FloatArray, across: FloatArray, orders: tuple[int, int] = (0, 0)
    ) -> FloatArray:
        """Return a derivative of every shape at places [m^-order], shape (..., b)."""
        one = self._side(0, along, orders[0])[..., self.pairs[0]]
        other = self._side(1, across, orders[1])[..., self.pairs[1]]
        return np.asarray(one * other)

    def bending(
        self, along: FloatArray, across: FloatArray, poisson: float
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return the moments of every shape over the rigidity [1/m], shapes (..., b).

        Along length, along width, and the twist; positive where the far face is pulled.
        """
        first, second = (-self.values(along, across, two) for two in ((2, 0), (0, 2)))
        twist = -(1 - poisson) * self.values(along, across, (1, 1))
        return first + poisson * second, second + poisson * first, twist

    def mass(self) -> FloatArray:
        """Return shared areas of the shapes [m^2], shape (b, b)."""
        return self._shared(0, 0, 0) * self._shared(1, 0, 0)

    def stiffness(self, poisson: float) -> FloatArray:
        """Return shared bending over the rigidity [1/m^2], shape (b, b)."""
        crossed = self._shared(0, 2, 0) * self._shared(1, 0, 2)
        return np.asarray(
            self._shared(0, 2, 2) * self._shared(1, 0, 0)
            + self._shared(0, 0, 0) * self._shared(1, 2, 2)
            + poisson * (crossed + crossed.T)
            + 2 * (1 - poisson) * self._shared(0, 1, 1) * self._shared(1, 1, 1)
        )

    def edges(self, order: int) -> FloatArray:
        """Return what shapes share along the four edges, shape (b, b).

        Of order 0 their sinking [m], of order 1 their slope towards the edge [1/m].
        """
        ends = [
            self._side(side, np.array(half), order)[self.pairs[side]]
            for side, half in enumerate((self.length / 2, self.width / 2))
        ]
        both = [2 * np.multiply.outer(end, end) for end in ends]
        return both[0] * self._shared(1, 0, 0) + both[1] * self._shared(0, 0, 0)

    def _shared(self, side: int, first: int, second: int) -> FloatArray:
        """Integrate products of two derivatives over a side, shape (b, b)."""
        weight, *tables = self._at_nodes[side]
        table = tables[first].T @ (weight * tables[second])
        index = self.pairs[side]
        return np.asarray(table[np.ix_(index, index)])

    @cached_property
    def _at_nodes(self) -> list[list[FloatArray]]:
        """Weights (k, 1) and derivatives of order 0, 1, 2 (k, f) at nodes of both sides."""
        found = []
        for side, size in enumerate((self.length, self.width)):
            node, weight = _gauss(int(self.waves[side].max()) + 2 * _DEGREES + 8)
            derivatives = [self._side(side, node * size / 2, order) for order in range(3)]
            found.append([weight[:, None] * size / 2, *derivatives])
        return found

    def _side(self, side: int, place: FloatArray, order: int) -> FloatArray:
        """Return a derivative of the functions of one side at places, shape (..., f)."""
        size = (self.length, self.width)[side]
        number = np.pi * np.arange(1.0, self.waves[side].max() + 1, 2.0) / size
        turned = np.multiply.outer(place, number) + order * np.pi / 2
        waves = number**order * np.cos(turned)
        return np.concatenate([waves, self._smooth(2 * place / size, 2 / size, order)], -1)

    def _smooth(self, place: FloatArray, scale: float, order: int) -> FloatArray:
        """Return a derivative of one and the even polynomials, which end where edges stay."""
        if not self.smooth:
            return np.full((*place.shape, 1), float(order == 0))
        rows = _rows(self.smooth, order)
        found = np.moveaxis(legendre.legval(place, rows), 0, -1)
        return np.asarray(found * scale**order, dtype=np.float64)


@cache
def _gauss(count: int) -> tuple[FloatArray, FloatArray]:
    return legendre.leggauss(count)


@cache
def _rows(smooth: str, order: int) -> FloatArray:
    """Return derivatives of the smooth functions of a side in Legendre's, shape (l, f)."""
    rows = np.eye(2 * _DEGREES + 1)[:, : 2 * _DEGREES : 2]
    if smooth == "held":
        ending = [legendre.legmul(row, [2 / 3, 0.0, -2 / 3]) for row in rows.T]
        padded = [np.pad(row, (0, len(rows) - row.size)) for row in ending]
        rows = np.stack([rows[:, 0], *padded], axis=-1)
    return np.asarray(legendre.legder(rows, order))
