# SPDX-License-Identifier: MIT
"""Draw ions to scale: a cage of oxygens with the old ion and the new one, ten in a row."""

from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import EllipseCollection
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from glasskit.draw.look import GREY, INK, PALE, WHITE, Look, Sign
from glasskit.draw.scene import Scene
from glasskit.materials import Swap
from glasskit.quantities import FloatArray, System
from glasskit.words.ions import (
    NAMES,
    fits,
    longer,
    network_gives_way,
    size,
    swap_verdict,
    symbol,
    verdict,
)

_CAGES = 0.64  # share of the height
_HALF = 375.0  # half the height of the cages' panel [pm]
_OLD, _NEW = -0.68, 0.15  # middles of the cages, in halves of the panel's width
_MOST, _CLOSED = 100.0, 0.92  # oxygens are drawn so small that the cage just closes [pm], [-]
_CLEAR = 40.0  # between a cage and its label [pm]
_TEN, _LONG, _HIGH = 10, 6900.0, 1000.0  # ions in a row, width and height of their panel [pm]
_START, _UPPER, _LOWER = 1150.0, 780.0, 390.0  # where rows begin, and their heights [pm]
_PUSH = 2.0  # arrows on the oxygens are so much longer than the way they go


class SwapScene(Scene[Swap]):
    """The cage of an ion twice, with the old and the new one; ten of each in a row."""

    sources = ("Shannon1976", "Pauling1960")

    def verdict(self, result: Swap, system: System) -> str:
        """Return what the picture says."""
        return swap_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Swap) -> Iterable[Artist]:
        """Draw what does not depend on the ions; see `Scene`."""
        figure.set_layout_engine("none")  # axes of equal scale, placed by hand, settle at once
        cages = figure.add_axes((0, 1 - _CAGES, 1, _CAGES))
        rows = figure.add_axes((0, 0, 1, 1 - _CAGES))
        width, height = figure.get_size_inches()
        half = _HALF * width / height / _CAGES
        cages.set(xlim=(-half, half), ylim=(-_HALF, _HALF))
        rows.set(xlim=(0, _LONG), ylim=(0, _HIGH))
        for ax in (cages, rows):
            ax.set_axis_off()
            ax.set_aspect("equal")
        return [*self._build_cages(cages, half), *self._build_rows(rows, result)]

    def _build_cages(self, ax: Axes, half: float) -> list[Artist]:
        self.centres = np.array([_OLD, _NEW]) * half
        self.oxygens = [_discs(ax, WHITE) for _ in self.centres]
        plain: Any = {"facecolor": PALE, "edgecolor": INK, "linewidth": 1.6}
        old, new = ((centre, 0) for centre in self.centres)
        self.old = Circle(old, 1, **plain)
        self.rim = Circle(new, 1, linewidth=1.6)
        self.core = Circle(new, 1, **plain)
        self.place = Circle(new, 1, fill=False, edgecolor=INK, linestyle="--", linewidth=1.6)
        circles = [self.old, self.rim, self.core, self.place]
        for circle in circles:
            ax.add_patch(circle)
        middle: Any = {"ha": "center", "va": "center"}
        self.symbols = [ax.text(centre, 0, "", **middle) for centre in self.centres]
        self.sizes = [ax.text(0, 0, "", va="center") for _ in self.centres]
        ax.text(
            self.centres[1] + _HALF + _CLEAR,
            -_HALF + _CLEAR,
            "ions to scale; oxygens\n(white) drawn smaller,\ncage laid flat",
            color=GREY,
            va="bottom",
        )
        self.ways = ax.quiver(
            *np.zeros((4, 12)),
            angles="xy",
            scale_units="xy",
            scale=1,
            units="dots",
            width=3,
            minlength=0,
        )
        words = [*self.symbols, *self.sizes]
        return [*self.oxygens, *circles, self.ways, *words]

    def _build_rows(self, ax: Axes, result: Swap) -> list[Artist]:
        self.rows = [_discs(ax, PALE) for _ in range(2)]
        heights = (_UPPER, _LOWER)
        before: Any = {"ha": "right", "va": "center"}
        for row, y in zip((result.outgoing, result.incoming), heights, strict=True):
            ax.text(_START - _CLEAR, y, f"ten {NAMES[row.ion]}", **before)
        self.longer = ax.text(0, _LOWER, "", va="center")
        self.truth = ax.text(_START, 0.03 * _HIGH, "", va="bottom")
        return [*self.rows, self.longer, self.truth]

    def frame(self, result: Swap, look: Look) -> Hashable:
        """Return which ions have their names beside the rows."""
        return result.outgoing.ion, result.incoming.ion

    def update(self, result: Swap, look: Look) -> None:
        """Show both ions in the cage of the old one, and rows of them; see `Scene`."""
        old, new = result.outgoing, result.incoming
        radii = look.shown([old.value.value, new.value.value], "atom")
        sign: Sign = "squeeze" if result.misfit > 0 else "pull"
        self.old.set_radius(radii[0])
        self.place.set_radius(radii[0])
        self.core.set_radius(radii[1])
        self.core.set_visible(result.misfit <= 0 or fits(result))  # a larger one fills the rim
        self.rim.set_radius(radii.max())
        self.rim.set(**look.fill(sign))
        self.rim.set_visible(not fits(result))
        for text, row in zip(self.symbols, (old, new), strict=True):
            text.set_text(symbol(row.ion))
        self._show_cages(radii, round(new.coordination))
        self.sizes[0].set_text(f"{NAMES[old.ion]}\nfits:\n{size(old)}")
        self.sizes[1].set_text(f"{NAMES[new.ion]}, {size(new)}:\n{verdict(result)}")
        self.sizes[1].set_color(INK)
        if not fits(result):
            felt = "it is squeezed" if result.misfit > 0 else "the cage is pulled"
            self.sizes[1].set_text(f"{self.sizes[1].get_text()},\n{felt}")
            self.sizes[1].set_color(look.word_colour(sign))
        self._show_rows(result, radii)

    def _show_cages(self, radii: FloatArray, neighbours: int) -> None:
        # The oxygens close around the old ion; a wider one pushes them apart.
        part = np.sin(np.pi / neighbours)
        oxygen = min(_MOST, _CLOSED * radii[0] * part / (1 - part))
        angles = 2 * np.pi * (np.arange(neighbours) / neighbours + 0.25)
        outwards = np.column_stack([np.cos(angles), np.sin(angles)])
        holes = (radii[0], radii.max())
        for discs, centre, hole, label in zip(
            self.oxygens, self.centres, holes, self.sizes, strict=True
        ):
            places = np.array([centre, 0.0]) + (hole + oxygen) * outwards
            discs.set_offsets(places)
            _resize(discs, oxygen, neighbours)
            label.set_x(centre + hole + 2 * oxygen + _CLEAR)
        self.sizes[1].set_y(0.3 * _HALF)
        tails, ways = np.zeros((2, 12, 2))
        ways[:neighbours] = _PUSH * (radii[1] - radii[0]) * outwards
        tails[:neighbours] = places - ways[:neighbours] / 2
        self.ways.set_offsets(tails)
        self.ways.set_UVC(*ways.T)

    def _show_rows(self, result: Swap, radii: FloatArray) -> None:
        for discs, radius, height in zip(self.rows, radii, (_UPPER, _LOWER), strict=True):
            across = _START + radius * (2 * np.arange(_TEN) + 1)
            discs.set_offsets(np.column_stack([across, np.full(_TEN, height)]))
            _resize(discs, radius, _TEN)
        self.longer.set_x(_START + 2 * _TEN * radii[1] + _CLEAR)
        self.longer.set_text(longer(result))
        self.truth.set_text(network_gives_way(result))


def _discs(ax: Axes, colour: str) -> EllipseCollection:
    """Return discs whose size is counted as on the axes; none yet."""
    discs = EllipseCollection(
        [],
        [],
        [],
        units="xy",
        offsets=np.zeros((0, 2)),
        offset_transform=ax.transData,
        facecolor=colour,
        edgecolor=INK,
        linewidth=1.2,
    )
    ax.add_collection(discs, autolim=False)
    return discs


def _resize(discs: EllipseCollection, radius: float, count: int) -> None:
    widths = np.full(count, 2 * radius)
    discs.set(widths=widths, heights=widths, angles=np.zeros(count))
