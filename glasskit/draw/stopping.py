# SPDX-License-Identifier: MIT
"""Draw a fall to scale, the energy it brings, and the force of the stop in time."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, FancyArrowPatch, Rectangle
from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator

from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, Look, freed, round_up
from glasskit.draw.scene import Scene
from glasskit.impact import Stop, drop_energy
from glasskit.quantities import System, show_number
from glasskit.words.stopping import EVERYDAY, force_kind, plain_name, stop_verdict, time_kind

_ENERGIES = (3e-3, 3e3)  # ends of the energy axis [J]
_ASPECT = 0.42  # width over height of the picture of the fall
_LEFT = 0.36  # share of its width left of the fall; words need the rest
_GROUND = 0.14  # depth of the ground over the height shown
_KNOWN = ((0.75, "table"), (2.0, "door"))  # heights to compare with [m]


class StopScene(Scene[Stop]):
    """Fall to scale, energy beside everyday falls, force against time."""

    sources = ("Johnson1985",)

    def verdict(self, result: Stop, system: System) -> str:
        """Return what the picture says."""
        return stop_verdict(result, system)

    def frame(self, result: Stop, look: Look) -> str:
        """Return what stops the fall."""
        return "stop" if result.block is None else plain_name(result.block)

    def ground(self, result: Stop, look: Look) -> tuple[str, str]:
        """Return the kinds of force and time."""
        return force_kind(result.peak_force), time_kind(result.duration)

    def lay(self, result: Stop, look: Look) -> None:
        """Write the units of force and time beside their axes."""
        force, time = self.ground(result, look)
        self.stop.set_xlabel(look.label("time since the touch", time))
        self.stop.set_ylabel(look.label("force", force))

    def build(self, figure: Figure, look: Look, result: Stop) -> Iterable[Artist]:
        """Draw axes, ground and everyday falls; return what moves."""
        widths = (1.0, 1.45, 1.75) if look.large else (1.0, 1.15, 1.9)
        fall, energy, pulse = figure.subplots(1, 3, width_ratios=widths)
        return [
            *self._build_fall(fall, look, self.frame(result, look)),
            *self._build_energy(energy, look),
            *self._build_pulse(pulse, look),
        ]

    def _build_fall(self, ax: Axes, look: Look, ground: str) -> list[Artist]:
        self.fall = ax
        ax.set(xticks=[], aspect="equal")
        self._reach(1.0)
        ax.spines["bottom"].set_visible(False)
        ax.yaxis.set_major_locator(MaxNLocator(5, steps=[1, 2, 5, 10]))
        ax.yaxis.set_major_formatter("{x:g}")
        ax.set_ylabel(look.label("height", "height"))
        ax.set_title("the fall, to scale", pad=10 * look.scale)
        # The ground stays where it is: the ends keep their ratio.
        deep, there = _GROUND / (1 + _GROUND), ax.transAxes
        below: dict[str, Any] = {"facecolor": PALE, "edgecolor": GREY, "hatch": "//", "lw": 0}
        ax.add_patch(Rectangle((0, 0), 1, deep, transform=there, **below))
        ax.axhline(0, color=INK, lw=2)
        word = ax.text(0.5, 0.45 * deep, ground, ha="center", va="center", transform=there)
        word.set_bbox({"facecolor": WHITE, "edgecolor": "none", "pad": 1.5})
        self.known = [
            (
                ax.plot([], [], color=GREY, lw=1.2, ls=":")[0],
                ax.text(0, 0, name, ha="right", va="bottom", color=GREY),
            )
            for _, name in _KNOWN
        ]
        self.ball = Circle((0, 0), 0.0, facecolor=ORANGE, edgecolor=INK, lw=1.2)
        self.path = FancyArrowPatch(
            (0, 0), (0, 0), arrowstyle="-|>", mutation_scale=18, lw=2, color=INK, shrinkA=0
        )
        for patch in (self.ball, self.path):
            ax.add_patch(patch)
        (self.ring,) = ax.plot([], [], "o", ms=20, mfc="none", mec=GREY, mew=1.4)
        known = [artist for pair in self.known for artist in pair]
        return [freed(ax.yaxis), *known, self.path, self.ring, self.ball]

    def _reach(self, height: float) -> None:
        """Show the fall up to a height."""
        wide = _ASPECT * height
        self.fall.set(
            xlim=(-_LEFT * wide, (1 - _LEFT) * wide), ylim=(-_GROUND * height, height)
        )

    def _build_energy(self, ax: Axes, look: Look) -> list[Artist]:
        low, high = look.shown(_ENERGIES, "energy")
        ax.set(xlim=(0, 1), xticks=[], yscale="log", ylim=(low, high))
        ax.spines["bottom"].set_visible(False)
        ax.yaxis.set_major_formatter(FuncFormatter(lambda y, _: show_number(y, 1)))
        ax.yaxis.set_minor_locator(NullLocator())
        ax.set_ylabel(look.label("energy it brings", "energy"))
        ax.set_title("as much as …")
        for mass, height, name in EVERYDAY:
            at = look.shown(drop_energy(mass, height), "energy").item()
            ax.plot([0, 0.3], [at, at], color=GREY, lw=1.2, ls=":")
            split = name.replace(" off ", "\noff ").replace(" from ", "\nfrom ")
            ax.text(0.33, at, split, va="center", color=GREY, linespacing=1.0)
        (self.level,) = ax.plot([0, 0.3], [low, low], color=INK, lw=3)
        (self.dot,) = ax.plot([], [], "o", ms=15, color=INK)  # no bar: the axis has no zero
        return [self.level, self.dot]

    def _build_pulse(self, ax: Axes, look: Look) -> list[Artist]:
        self.stop = ax
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_major_locator(MaxNLocator(5))
        ax.set_xlabel(look.label("time since the touch", "time"))
        ax.set_ylabel(look.label("force", "force"))
        ax.set_title("the stop")
        (self.area,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=PALE, lw=0)
        (self.curve,) = ax.plot([], [], color=INK)
        (self.softer,) = ax.plot([], [], color=GREY, ls="--", lw=2)
        self.peak_word = ax.text(0, 0, "", va="center")
        # The softer stop reaches half the height at most, and starts twice as far right.
        self.softer_word = ax.text(
            1.0,
            0,
            "dashed: twice\nthe distance,\nhalf the force",
            ha="right",
            transform=ax.transAxes,
        )
        self.softer_word.set(color=GREY, linespacing=1.05)
        axes = [freed(ax.xaxis), freed(ax.yaxis, 6 if look.system == "us" else 4)]  # of lbf
        return [*axes, self.area, self.softer, self.curve, self.peak_word, self.softer_word]

    def update(self, result: Stop, look: Look) -> None:
        """Move ball, dot and curves."""
        height = look.shown(result.height, "height").item()
        radius = look.shown(result.radius, "height").item()
        self.ball.set(center=(0, height + radius), radius=radius)
        self.ring.set_data([0], [height + radius])
        top = 1.1 * result.height + 2 * result.radius
        whole = round_up(look.shown(top, "height").item())
        self._reach(whole)
        self._move_known(whole, look)
        self.ring.set_visible(radius < 0.03 * whole)  # a ring shows where to look
        self.path.set_positions((0, max(height - 0.03 * whole, 0)), (0, 0))
        energy = look.shown(result.energy, "energy").item()
        self.level.set_ydata([energy, energy])
        self.dot.set_data([0.15], [energy])
        self._move_pulse(result, look)

    def _move_known(self, whole: float, look: Look) -> None:
        side = (1 - _LEFT) * _ASPECT * whole
        for (line, word), (level, _) in zip(self.known, _KNOWN, strict=True):
            at = look.shown(level, "height").item()
            line.set_data([0.15 * side, side], [at, at])
            word.set_position((side, at))
            for artist in (line, word):
                artist.set_visible(0.12 * whole < at < 0.95 * whole)

    def _move_pulse(self, result: Stop, look: Look) -> None:
        force, time = self.ground(result, look)
        highest = round_up(look.shown(1.1 * result.peak_force, force).item())
        longest = round_up(look.shown(2.1 * result.duration, time).item())
        self.stop.set(xlim=(0, longest), ylim=(0, highest))
        moments = np.linspace(0, result.duration, 101)
        at = look.shown(moments, time)
        push = look.shown(result.force(moments), force)
        peak = push.max()
        at, push = np.r_[0, at, at[-1]], np.r_[0, push, 0]
        self.curve.set_data(at, push)
        self.area.set_xy(np.column_stack([at, push]))
        self.softer.set_data(2 * at, push / 2)
        self.peak_word.set_text(look.show(result.peak_force, force))
        self.peak_word.set_position((at[-1] * (1.04 if result.knock is None else 0.62), peak))
        high = peak / highest
        # Under the words at a high peak, over the dashed curve.
        self.softer_word.set_y(0.5 * high + 0.03 if high > 0.7 else 0.77)
