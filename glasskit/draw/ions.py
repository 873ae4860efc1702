# SPDX-License-Identifier: MIT
"""Draw ions to scale: one leaves its place, another comes in; radius against neighbours."""

from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from glasskit.draw.look import GREY, INK, PALE, Look, Sign, StressArrows
from glasskit.draw.scene import Scene
from glasskit.materials import Radius, Swap, ions
from glasskit.quantities import FloatArray, System
from glasskit.words.ions import NAMES, size, swap_verdict, symbol, verdict

_LEFT, _RIGHT = -260.0, 250.0  # [pm], middles of the two places


class SwapScene(Scene[Swap]):
    """Two places to scale, before and after; beside them, radius against neighbours."""

    sources = ("Shannon1976", "Pauling1960")

    def verdict(self, result: Swap, system: System) -> str:
        """Return what the picture says."""
        return swap_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Swap) -> Iterable[Artist]:
        """Draw the scale bar and the curves; see `Scene`."""
        places, curve = figure.subplots(1, 2, width_ratios=(3, 2))
        self._build_places(places, look)
        return [*self._places, *self.arrows.artists, *self._build_curve(curve, look, result)]

    def _build_places(self, ax: Axes, look: Look) -> None:
        ax.set_axis_off()
        ax.set(xlim=(-470, 560), ylim=(-410, 320), aspect="equal")
        ax.plot([-50, 50], [-400, -400], color=INK, linewidth=4)
        ax.text(0, -385, "100 pm, all to scale", ha="center", va="bottom")
        plain: Any = {"facecolor": PALE, "edgecolor": INK, "linewidth": 1.6}
        self.old = Circle((_LEFT, 0), 1, **plain)
        self.rim = Circle((_RIGHT, 0), 1, linewidth=1.6)
        self.core = Circle((_RIGHT, 0), 1, **plain)
        self.place = Circle((_RIGHT, 0), 1, fill=False, edgecolor=INK, linestyle="--")
        for circle in (self.old, self.rim, self.core, self.place):
            ax.add_patch(circle)
        centre: Any = {"ha": "center", "va": "center"}
        self.symbols = [ax.text(x, 0, "", **centre) for x in (_LEFT, _RIGHT)]
        self.titles = [ax.text(x, 285, "", weight="bold", **centre) for x in (_LEFT, _RIGHT)]
        self.sizes = [ax.text(x, -265, "", **centre) for x in (_LEFT, _RIGHT)]
        self.arrows = StressArrows(ax, look, _RIGHT - 290, _RIGHT + 290, 0, 80)
        circles = [self.old, self.rim, self.core, self.place]
        self._places: list[Artist] = [*circles, *self.symbols, *self.titles, *self.sizes]

    def _build_curve(self, ax: Axes, look: Look, result: Swap) -> list[Artist]:
        ax.set(
            xlabel="nearest neighbours",
            ylabel=look.label("radius", "atom"),
            xlim=(1.5, 19),
            ylim=(0, 240),
            xticks=range(2, 15, 2),
        )
        pair = sorted((result.outgoing, result.incoming), key=lambda row: row.value.value)
        for radius, below in zip(pair, (True, False), strict=True):
            if below and pair[0].ion == pair[1].ion:
                continue
            number, radii = _curve(radius).T
            ax.plot(number, look.shown(radii, "atom"), "o-", color=GREY, markersize=6)
            ax.annotate(
                NAMES[radius.ion],
                (number[-1], look.shown(radii[-1], "atom")),
                xytext=(8, -4 if below else 4),
                textcoords="offset points",
                va="top" if below else "bottom",
            )
        (self.gap,) = ax.plot([], [], color=INK, linewidth=6)
        (self.dots,) = ax.plot([], [], "o", color=INK, markersize=12)
        return [self.gap, self.dots]

    def update(self, result: Swap, look: Look) -> None:
        """Show both ions at their size, and where they stand on the curves; see `Scene`."""
        old, new = result.outgoing, result.incoming
        radii = look.shown([old.value.value, new.value.value], "atom")
        sign: Sign = "squeeze" if result.misfit > 0 else "pull"
        self.old.set_radius(radii[0])
        self.place.set_radius(radii[0])
        self.core.set_radius(radii.min())
        self.rim.set_radius(radii.max())
        self.rim.set(**look.fill(sign))
        self.arrows.set(-2 * result.misfit)
        titles = (f"{NAMES[old.ion]} leaves", f"{NAMES[new.ion]} comes in")
        for text, title in zip(self.titles, titles, strict=True):
            text.set_text(title)
        for text, row in zip(self.symbols, (old, new), strict=True):
            text.set_text(symbol(row.ion))
        self.sizes[0].set_text(size(old))
        self.sizes[1].set_text(f"{size(new)}: {verdict(result)}")
        self.sizes[1].set_color(look.word_colour(sign))
        self.gap.set_data([new.coordination] * 2, radii)
        self.gap.set_color(look.colour(sign))
        self.dots.set_data([new.coordination] * 2, radii)

    def frame(self, result: Swap, look: Look) -> Hashable:
        """Return which curves stand in the background."""
        return result.outgoing.ion, result.incoming.ion, result.incoming.scale


def _curve(radius: Radius) -> FloatArray:
    """Return neighbours and radius [m] of all published radii of an ion, one a row."""
    known = ions.coordinations(radius.ion, radius.scale)
    return np.array([(n, ions.ionic_radius(radius.ion, n, radius.scale)) for n in known])
