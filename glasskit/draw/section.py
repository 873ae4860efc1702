# SPDX-License-Identifier: MIT
"""The glass, cut open: depth on the right, the surface on top, squeeze and pull as shade."""

from collections.abc import Sequence

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import QuadMesh

from glasskit.draw.look import INK, Look, StressArrows
from glasskit.quantities import FloatArray

_BANDS = 72  # of shade, each six pixels high on the screen
MIDDLES = (np.arange(_BANDS) + 0.5) / _BANDS
"""Where the bands of shade lie, share of the depth shown."""
MIDDLES.flags.writeable = False


def cut_open(
    ax: Axes, look: Look, depth: float, side: float, title: str, above: float = 0.06
) -> Artist:
    """Set axes up for a section down to a depth, both in display units; return its surface.

    Parameters
    ----------
    ax : Axes
        Where to draw.
    look : Look
        Units.
    depth, side : float
        Depth shown and half the width, in the unit of the axis.
    title : str
        Above it.
    above : float
        Room above the surface, as share of the depth.

    """
    ax.set(xlim=(-side, side), ylim=(depth, -above * depth), xticks=[], title=title)
    ax.yaxis.tick_right()
    ax.yaxis.set_label_position("right")
    ax.spines[["left", "bottom"]].set_visible(False)
    ax.spines["right"].set_visible(True)
    ax.set_ylabel(look.label("depth", "depth"))
    (surface,) = ax.plot([-side, side], [0, 0], color=INK, lw=3)
    return surface


def shade(ax: Axes, look: Look, left: float, right: float, depth: float) -> QuadMesh:
    """Return bands of shade down to a depth; give them stress by ``set_array``.

    Bands are drawn twenty times as fast as a smooth image. Their colours end at -1 and 1.
    """
    return ax.pcolormesh(
        [left, right],
        np.linspace(0, depth, _BANDS + 1),
        np.zeros((_BANDS, 1)),
        cmap=look.stress_map,
        vmin=-1,
        vmax=1,
    )


class CutGlass:
    """A section with shade and pairs of arrows that follow its stress.

    Parameters
    ----------
    ax : Axes
        Where to draw.
    look : Look
        Units, colours and size.
    depth, side : float
        Depth shown and half the width, in the unit of the axis.
    rows : sequence of float
        Where the arrows lie, share of the depth.
    reach : float
        Length of an arrow at full stress, share of `side`.
    title : str
        Above it.

    Notes
    -----
    ``depths`` are the depths that `show` wants stress at [m]; ``artists`` are what moves, but
    for ``surface``, which is to be listed after all that it shall cover.

    """

    def __init__(
        self,
        ax: Axes,
        look: Look,
        depth: float,
        side: float,
        rows: Sequence[float],
        reach: float,
        title: str,
    ) -> None:
        self.surface = cut_open(ax, look, depth, side, title)
        self.depths = np.linspace(0, depth / look.shown(1.0, "depth").item(), 2 * _BANDS + 1)
        self._rows = tuple(rows)
        self._shade = shade(ax, look, -side, side, depth)
        self._arrows = [
            StressArrows(ax, look, -0.97 * side, 0.97 * side, row * depth, reach * side)
            for row in rows
        ]
        moving = [artist for pair in self._arrows for artist in pair.artists]
        self.artists: list[Artist] = [self._shade, *moving]

    def show(self, stress: FloatArray) -> None:
        """Show stress at ``depths``, as share of the stress that is shown in full."""
        self._shade.set_array(stress[1::2, None])
        for row, pair in zip(self._rows, self._arrows, strict=True):
            pair.set(np.interp(row, np.linspace(0, 1, stress.size), stress).item())
