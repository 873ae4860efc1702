# SPDX-License-Identifier: MIT
"""Draw a broken pane from above, with the mark that somebody puts on it."""

from collections.abc import Iterable

from matplotlib.artist import Artist
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from glasskit.breaking import SIDE
from glasskit.draw.look import GLASS, GREEN, INK, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.training.patterns import NEAR, Mark
from glasskit.words.patterns import mark_verdict


class PatternScene(Scene[Mark]):
    """Cracks, what is missing, a cross that moves; once told, the origin in a ring."""

    sources = ("ConwayMecholsky1989", "Quinn2016")

    def verdict(self, result: Mark, system: System) -> str:
        """Return what the picture says."""
        return mark_verdict(result)

    def frame(self, result: Mark, look: Look) -> tuple[str, int]:
        """Return which pane it is: its cracks stay while the mark moves."""
        return result.pattern.level, result.pattern.seed

    def build(self, figure: Figure, look: Look, result: Mark) -> Iterable[Artist]:
        """Draw the pane; return mark and answer."""
        ax, pane = figure.subplots(), result.pattern.pane
        side = float(look.shown(SIDE, "length"))
        ax.set_facecolor(WHITE if look.mono else GLASS)
        lines = [look.shown(line, "length") for line in pane.lines]
        thin = 1.6 if len(pane.pieces) < 100 else 0.7
        ax.add_collection(LineCollection(lines, colors=INK, linewidths=thin))
        radius = float(look.shown(result.pattern.radius, "length"))
        for middle in look.shown(result.pattern.lost, "length"):
            ax.add_patch(
                Circle(tuple(middle), radius, fc=WHITE, ec=INK, lw=1.4, ls="--", zorder=3)
            )
        ax.set(xlim=(0, side), ylim=(0, side), aspect="equal")
        ax.set_xlabel(look.label("from the left", "length"))
        ax.set_ylabel(look.label("up", "length"))
        ax.spines[["top", "right"]].set_visible(True)
        origin = look.shown(pane.origin, "length")
        near = float(look.shown(NEAR, "length"))
        self.ring = Circle(
            (float(origin[0]), float(origin[1])), near, fill=False, ec=GREEN, lw=4.0
        )
        ax.add_patch(self.ring)
        # White around black stands out from cracks as well as from glass.
        self.crosses = [
            ax.plot([], [], "+", color=color, ms=size, mew=width)[0]
            for color, size, width in ((WHITE, 34, 12.0), (INK, 28, 5.0))
        ]
        return [self.ring, *self.crosses]

    def update(self, result: Mark, look: Look) -> None:
        """Move the mark; show the answer once it is told."""
        along, across = (float(look.shown(x, "length")) for x in (result.along, result.across))
        for cross in self.crosses:
            cross.set_data([along], [across])
        self.ring.set_visible(result.told)
