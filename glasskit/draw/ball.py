# SPDX-License-Identifier: MIT
"""Draw a ball on a pane: the pane cut open, force and pull in time, what glass bears."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle
from matplotlib.ticker import MaxNLocator

from glasskit.damage import Range
from glasskit.demonstration import Struck
from glasskit.draw.look import (
    GLASS,
    GREEN,
    GREY,
    INK,
    ORANGE,
    PALE,
    WHITE,
    Look,
    StressArrows,
    freed,
    round_up,
)
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.words.ball import struck_verdict
from glasskit.words.stopping import force_kind, time_kind

_DEEPER = np.array([1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0])
_DEEPEST = 0.09  # largest sag drawn, over the width of the picture
_KEEPS = {"pinned": (0.25, 0.5), "laid": (0, 0), "strip": (0, 0), "clamped": (1, 0.6)}
_GRID = 0.1  # widths of the picture go in such steps [m]


class StruckScene(Scene[Struck]):
    """Section at the moment of the largest pull, force and pull in time, two strengths."""

    sources = ("Zener1941", "Goldsmith1960", "Johnson1985")

    def verdict(self, result: Struck, system: System) -> str:
        """Return what the picture says."""
        return struck_verdict(result, system)

    def ground(self, result: Struck, look: Look) -> tuple[str, str]:
        """Return the kinds of force and time."""
        return force_kind(result.impact.peak_force.item()), self._seen(result)[1]

    def lay(self, result: Struck, look: Look) -> None:
        """Write the units of force and time beside their axes."""
        force, time = self.ground(result, look)
        self.above.set_ylabel(look.label("force", force))
        self.below.set_xlabel(look.label("time", time))

    @staticmethod
    def _drawn(result: Struck) -> tuple[float, float]:
        """Return width of the section [m], and how many times too deep the sag is drawn."""
        width = _GRID * np.ceil(1.15 * result.pane.length / _GRID)
        fitting = np.searchsorted(_DEEPER, _DEEPEST * width / result.sag.max(), "right")
        return float(width), float(_DEEPER[max(fitting - 1, 0)])

    @staticmethod
    def _seen(result: Struck) -> tuple[float, str]:
        """Return how long is shown [s], and the kind of such a time."""
        felt = result.impact.time[np.flatnonzero(result.impact.force)[-1]]
        time = float(1.05 * max(felt, 1.3 * result.worst))
        return time, time_kind(time)

    def build(self, figure: Figure, look: Look, result: Struck) -> Iterable[Artist]:
        """Draw axes and words; return what moves."""
        widths = (1.75, 1.3, 1.25) if look.large else (2.1, 1.3, 1.15)
        grid = figure.add_gridspec(2, 3, width_ratios=widths)
        section = figure.add_subplot(grid[:, 0])
        above, below = figure.add_subplot(grid[0, 1]), figure.add_subplot(grid[1, 1])
        bears = figure.add_subplot(grid[:, 2])
        return [
            *self._build_section(section, look),
            *self._build_force(above, look),
            *self._build_pull(below, look),
            *self._build_verdict(bears, look),
        ]

    def _build_section(self, ax: Axes, look: Look) -> list[Artist]:
        """Draw the section; one in its axes is the width shown, so that none moves with it."""
        ax.set(xlim=(-0.5, 0.5), ylim=(-0.42, 0.42))
        ax.set(xticks=[], yticks=[], aspect="equal")
        ax.spines[["left", "bottom"]].set_visible(False)
        ax.set_title("the pane, cut open")
        self.gap = "\n" if look.large else " "
        ax.set_xlabel(f" {self.gap} ")  # keeps room for the words on the scale
        below: Any = {"xycoords": "axes fraction", "textcoords": "offset points"}
        self.scale = ax.annotate("", (0.5, 0), (0, -4), ha="center", va="top", **below)
        self.ball = Circle((0, 0), 0, facecolor=ORANGE, edgecolor=INK, lw=1.4)
        ax.add_patch(self.ball)
        self.rests = [
            Rectangle((0, 0), 0, 0, facecolor=PALE, edgecolor=INK, hatch="xx")
            for _ in range(2)
        ]
        # What keeps the edges down: a point that lets them turn, or a jaw.
        self.keeps = [Rectangle((0, 0), 0, 0, facecolor=GREY, edgecolor=INK) for _ in range(2)]
        for patch in (*self.rests, *self.keeps):
            ax.add_patch(patch)
        (self.glass,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=GLASS, edgecolor=INK, lw=1.2)
        (self.pulled,) = ax.plot([], [], color=look.colour("pull"), lw=4)
        self.arrows = StressArrows(ax, look, -0.2, 0.2, 0, 0.13)
        self.far_word = ax.text(
            0, 0, "far face pulled", ha="center", va="top", color=look.word_colour("pull")
        )
        self.size_word = ax.text(0, -0.36, "", ha="center", va="center")
        # A light line where the pane lay.
        (self.before,) = ax.plot([], [], color=GREY, lw=1.2, ls=":")
        words = [self.far_word, self.size_word, self.scale]
        patches = [self.ball, *self.rests, *self.keeps, self.glass, self.pulled]
        return [self.before, *patches, *self.arrows.artists, *words]

    def _build_force(self, ax: Axes, look: Look) -> list[Artist]:
        self.above = ax
        ax.tick_params(labelbottom=False)
        ax.xaxis.set_major_locator(MaxNLocator(4))
        ax.yaxis.set_major_locator(MaxNLocator(3))
        ax.set_ylabel(look.label("force", "force"))
        ax.set_title("moment by moment")
        (self.force,) = ax.plot([], [], color=INK, lw=2)
        (self.now_force,) = ax.plot([], [], color=GREY, lw=1.2, ls="--")
        return [freed(ax.xaxis), freed(ax.yaxis), self.now_force, self.force]

    def _build_pull(self, ax: Axes, look: Look) -> list[Artist]:
        self.below = ax
        ax.xaxis.set_major_locator(MaxNLocator(4))
        ax.yaxis.set_major_locator(MaxNLocator(4))
        ax.set_xlabel(look.label("time", "time"))
        ax.set_ylabel(look.label("pull", "stress"))
        ax.set_ylim(-0.3, 1)
        ax.axhline(0, color=INK, lw=1)  # stays where it is: the ends keep this ratio
        (self.pull,) = ax.plot([], [], color=look.colour("pull"), lw=2)
        (self.now_pull,) = ax.plot([], [], color=GREY, lw=1.2, ls="--")
        return [freed(ax.xaxis), freed(ax.yaxis), self.now_pull, self.pull]

    def _build_verdict(self, ax: Axes, look: Look) -> list[Artist]:
        self.bears = ax
        ax.set_xlim(-0.6, 1.6)
        ax.set_xticks([0, 1], ["ordinary", "tough-\nened" if look.large else "toughened"])
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("pull on the far face", "stress"))
        ax.set_title("breaks somewhere\nin the band")
        ax.set_xlabel("holds below it")
        safe: dict[str, Any] = {
            "facecolor": WHITE if look.mono else GREEN,
            "edgecolor": INK,
            "alpha": 0.45,
        }
        unsure: Any = {"facecolor": PALE, "edgecolor": INK, "hatch": "//"}
        self.holds = [Rectangle((0, 0), 0, 0, lw=1.2, **safe) for _ in range(2)]
        self.bands = [Rectangle((0, 0), 0, 0, lw=1.4, **unsure) for _ in range(2)]
        for patch in (*self.holds, *self.bands):
            ax.add_patch(patch)
        (self.level,) = ax.plot([], [], color=INK, lw=3.5)
        self.level_word = ax.text(0.5, 0, "this blow", ha="center", va="bottom")
        box = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.5, "alpha": 0.85}
        self.level_word.set_bbox(box)
        bars = [*self.holds, *self.bands]
        return [freed(ax.yaxis), *bars, self.level, self.level_word]

    def update(self, result: Struck, look: Look) -> None:
        """Move ball, pane, curves and the level of the blow."""
        self._move_section(result, look)
        impact, (force, unit) = result.impact, self.ground(result, look)
        most = self._move_axes(result, look, force, unit)
        time = look.shown(impact.time, unit)
        self.force.set_data(time, look.shown(impact.force, force))
        self.pull.set_data(time, look.shown(impact.tension, "stress"))
        now = look.shown(result.worst, unit).item()
        for line in (self.now_force, self.now_pull):
            line.set_data([now, now], [-1e9, 1e9])
        level = look.shown(result.stress, "stress").item()
        self.level.set_data([-0.6, 1.6], [level, level])
        self.level_word.set_y(level)
        self.level_word.set_verticalalignment("top" if level > 0.9 * most else "bottom")
        for place, strength in enumerate((result.ordinary, result.toughened)):
            self._move_band(place, strength, look)

    def _move_axes(self, result: Struck, look: Look, force: str, unit: str) -> float:
        """Set the ends of the axes, of these kinds; return that of the strengths, as shown."""
        most = max(result.stress, result.toughened.high.item())
        time, push, pull, strength = (
            round_up(look.shown(end, kind).item())
            for end, kind in (
                (self._seen(result)[0], unit),
                (1.05 * result.impact.peak_force, force),
                (1.05 * result.stress, "stress"),
                (1.05 * most, "stress"),
            )
        )
        self.above.set(xlim=(0, time), ylim=(0, push))
        self.below.set(xlim=(0, time), ylim=(-0.3 * pull, pull))
        self.bears.set_ylim(0, strength)
        return strength

    def _move_band(self, place: int, strength: Range, look: Look) -> None:
        low, high = look.shown([strength.low, strength.high], "stress")
        left = place - 0.36
        self.holds[place].set_bounds(left, 0, 0.72, low)
        self.bands[place].set_bounds(left, low, 0.72, high - low)

    def _move_section(self, result: Struck, look: Look) -> None:
        width, deeper = self._drawn(result)
        sag = f"sag drawn{self.gap}{deeper:g} times too deep"
        self.scale.set_text("drawn to scale" if deeper == 1 else sag)
        places, thick = result.places / width, result.pane.thickness / width
        top = -deeper * result.sag / width
        outline = np.column_stack([np.r_[places, places[::-1]], np.r_[top, top[::-1] - thick]])
        self.glass.set_xy(outline)
        half = 0.5 * result.pane.length / width
        self.before.set_data([-half, half], [0, 0])
        # The ball rests on the drawn pane, which is more curved than the true one.
        radius = result.ball.radius / width
        near = np.abs(places) < radius
        centre = (top[near] + np.sqrt(radius**2 - places[near] ** 2)).max()
        self.ball.set(center=(0, centre), radius=radius)
        under = np.abs(places) <= max(0.25 * result.reach / width, places[1] - places[0])
        self.pulled.set_data(places[under], top[under] - thick)
        lowest = top.min() - thick
        self.arrows.set(1.0, lowest - 0.05)
        self.far_word.set_y(lowest - 0.085)
        rest = 0.045
        for side, patch in zip((-1, 1), self.rests, strict=True):
            patch.set_bounds(side * half - rest / 2, -thick - rest, rest, rest)
        broad, high = (share * rest for share in _KEEPS[result.pane.edges])
        for side, patch in zip((-1, 1), self.keeps, strict=True):
            patch.set_bounds(side * half - broad / 2, 0, broad, high)
        sides = " × ".join(
            look.show(size, "length") for size in (result.pane.length, result.pane.width)
        )
        self.size_word.set_text(sides)
