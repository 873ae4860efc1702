# SPDX-License-Identifier: MIT
"""Draw what a flaw costs: the flaw at a familiar scale, and strength against flaw depth."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import FuncFormatter

from glasskit.crack import Flaw, griffith_strength
from glasskit.draw.look import GLASS, GREY, INK, PALE, WHITE, Look, round_up
from glasskit.draw.scene import Scene
from glasskit.draw.section import cut_open
from glasskit.quantities import System, show_number
from glasskit.words.crack import flaw_verdict, likeness

_ABOVE = 0.12  # room over the surface, share of the depth shown
_LONGEST = 5e-4  # depth shown whose ticks are longest: the layout keeps room for them
_DEPTHS = np.geomspace(1e-8, 2e-3, 60)  # [m]
_EVERYDAY = (
    20e6,
    100e6,
)  # [Pa]: design stress to mean strength of used panes, common practice


class FlawScene(Scene[Flaw]):
    """The flaw in the glass beside a scale, and the strength it leaves."""

    sources = ("Irwin1957", "Griffith1921")

    def verdict(self, result: Flaw, system: System) -> str:
        """Return what the picture says."""
        return flaw_verdict(result, system)

    def frame(self, result: Flaw, look: Look) -> tuple[str, float]:
        """Return the glass and the shape of the flaw."""
        return result.glass.name, result.geometry_factor

    def build(self, figure: Figure, look: Look, result: Flaw) -> Iterable[Artist]:
        """Draw glass, scale, axes and the line; return what moves."""
        section, curve = figure.subplots(1, 2, width_ratios=(1.0, 1.9))
        return [
            *self._build_section(section, look),
            *self._build_curve(curve, look, result),
        ]

    def _build_section(self, ax: Axes, look: Look) -> list[Artist]:
        self.section = ax
        cut_open(ax, look, 0.5, "the flaw, cut open", _ABOVE)
        self._reach(_LONGEST)
        below = Rectangle((0, 0), 1, 1 / (1 + _ABOVE), facecolor=GLASS, transform=ax.transAxes)
        ax.add_patch(below)
        ax.yaxis.set_major_formatter(FuncFormatter(lambda y, _: show_number(y, 2)))
        (self.notch,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=WHITE, edgecolor=INK, lw=1.8)
        self.like = ax.text(0.5, 0.06, "", ha="center", transform=ax.transAxes)
        return [ax.yaxis, self.notch, self.like]

    def _reach(self, window: float) -> None:
        """Show the glass down to a depth."""
        self.section.set(ylim=(window, -_ABOVE * window), yticks=[0, window / 2, window])

    def _build_curve(self, ax: Axes, look: Look, result: Flaw) -> list[Artist]:
        depth = look.shown(_DEPTHS, "depth")
        ax.set(xscale="log", yscale="log", xlim=(depth[0], depth[-1]))
        ax.set_ylim(*look.shown([5e6, 30e9], "stress"))
        ax.set_xlabel(look.label("depth of the flaw", "depth"))
        ax.set_ylabel(look.label("breaks at a stress of", "stress"))
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_major_formatter(FuncFormatter(lambda at, _: show_number(at, 1)))
        bonds = look.shown(result.bond_strength, "stress").item()
        ax.axhline(bonds, color=INK, ls="--", lw=1.6)
        ax.text(depth[-1], 1.1 * bonds, "bonds alone would bear", ha="right", va="bottom")
        ax.axhspan(*look.shown(_EVERYDAY, "stress"), facecolor=PALE)
        ax.text(1.3 * depth[0], look.shown(45e6, "stress").item(), "panes in use", va="center")
        toughness = result.glass.values["toughness"]
        ends = [
            griffith_strength(_DEPTHS, limit, result.geometry_factor)
            for limit in (toughness.low, toughness.high)
        ]
        low, high = (np.minimum(look.shown(end, "stress"), bonds) for end in ends)
        ax.fill_between(depth, low, high, facecolor=GREY, alpha=0.4, lw=0)
        middle = griffith_strength(_DEPTHS, toughness.value, result.geometry_factor)
        ax.plot(depth, np.minimum(look.shown(middle, "stress"), bonds), color=INK)
        (self.guide,) = ax.plot([], [], color=INK, lw=1.2, ls=":")
        (self.dot,) = ax.plot([], [], "o", color=INK, markersize=11)
        return [self.guide, self.dot]

    def update(self, result: Flaw, look: Look) -> None:
        """Move the flaw and the dot."""
        depth = look.shown(result.depth, "depth").item()
        self._reach(round_up(1.6 * depth))
        self.notch.set_xy([(-0.04, 0), (0, depth), (0.04, 0)])
        self.like.set_text(likeness(result.depth))
        strength = min(result.strength, result.bond_strength)
        level = look.shown(strength, "stress").item()
        self.guide.set_data([depth, depth, 1e-12], [1e-12, level, level])
        self.dot.set_data([depth], [level])
