# SPDX-License-Identifier: MIT
"""The glass, cut open: depth on the right, the surface on top, squeeze and pull as shade."""

from collections.abc import Sequence

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.axis import Axis
from matplotlib.collections import QuadMesh
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import INK, Look, StressArrows
from glasskit.quantities import FloatArray

_BANDS = 72  # of shade, each six pixels high on the screen
MIDDLES = (np.arange(_BANDS) + 0.5) / _BANDS
"""Where the bands of shade lie, share of the depth shown."""
MIDDLES.flags.writeable = False


def cut_open(ax: Axes, look: Look, side: float, title: str, above: float = 0.06) -> Artist:
    """Set axes up for a section, in shares of the depth shown; return its surface.

    Parameters
    ----------
    ax : Axes
        Where to draw.
    look : Look
        Units.
    side : float
        Half the width.
    title : str
        Above it.
    above : float
        Room above the surface.

    """
    ax.set(xlim=(-side, side), ylim=(1, -above), xticks=[], title=title)
    ax.yaxis.tick_right()
    ax.spines[["left", "bottom"]].set_visible(False)
    ax.spines["right"].set_visible(True)
    ax.set_yticks([0], ["0000"])  # the frame leaves room for the widest depths
    # Below, lest it be read with the next axes.
    ax.set_xlabel(look.label("depth", "depth"), loc="right")
    (surface,) = ax.plot([-side, side], [0, 0], color=INK, lw=3)
    return surface


def write_depths(axis: Axis, depth: float) -> None:
    """Write round depths, in display units, beside a section that is shown so deep."""
    ticks = np.asarray(MaxNLocator(5).tick_values(0, depth))
    ticks = ticks[(ticks >= 0) & (ticks <= depth)]
    axis.set_ticks(ticks / depth, labels=[f"{at:g}" for at in ticks])


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
    side : float
        Half the width, share of the depth shown.
    rows : sequence of float
        Where the arrows lie, share of the depth shown.
    reach : float
        Length of an arrow at full stress, share of `side`.
    title : str
        Above it.

    Notes
    -----
    Lengths in its axes are shares of the depth shown, which `reach` sets. ``depths`` are the
    depths that `show` wants stress at [m]; ``artists`` are what moves, but for ``surface``,
    which is to be listed after all that it shall cover.

    """

    depths: FloatArray

    def __init__(
        self,
        ax: Axes,
        look: Look,
        side: float,
        rows: Sequence[float],
        reach: float,
        title: str,
    ) -> None:
        self.surface = cut_open(ax, look, side, title)
        self._axis, self._look, self._rows = ax.yaxis, look, tuple(rows)
        self._shade = shade(ax, look, -side, side, 1.0)
        self._arrows = [
            StressArrows(ax, look, -0.97 * side, 0.97 * side, row, reach * side)
            for row in rows
        ]
        moving = [artist for pair in self._arrows for artist in pair.artists]
        self.artists: list[Artist] = [self._axis, self._shade, *moving]

    def reach(self, depth: float) -> None:
        """Show the glass down to a depth in display units."""
        self.depths = np.linspace(
            0, depth / self._look.shown(1.0, "depth").item(), 2 * _BANDS + 1
        )
        places = [0, 0.5, 1]
        self._axis.set_ticks(places, labels=[f"{at * depth:g}" for at in places])

    def show(self, stress: FloatArray) -> None:
        """Show stress at ``depths``, as share of the stress that is shown in full."""
        self._shade.set_array(stress[1::2, None])
        for row, pair in zip(self._rows, self._arrows, strict=True):
            pair.set(np.interp(row, np.linspace(0, 1, stress.size), stress).item())
