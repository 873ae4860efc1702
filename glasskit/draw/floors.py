# SPDX-License-Identifier: MIT
"""Draw one drop on four floors: the grain, the crack beside the skin, a hundred trials."""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle

from glasskit.draw.hundred import KEY, Hundred
from glasskit.draw.look import GLASS, GREY, INK, ORANGE, PALE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.impact import FloorDrop
from glasskit.impact.device import inputs
from glasskit.quantities import System
from glasskit.words.floors import FLOOR_WORDS, crack_words, floors_verdict

_WIDE, _UP, _DOWN = 560.0, 200.0, 230.0  # what is seen of screen and floor [µm]
_MOUTH = 9.0  # half the mouth of a crack as drawn [µm]
_BAR = 100.0  # bar that gives the scale [µm]
_LOAD = 0.1  # load below which no dent is drawn [N]
_HATCH = {"hardwood": "--", "steel": "", "tile": "++", "concrete": "..."}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floors:
    """The same drop on every floor, one of them asked for.

    Attributes
    ----------
    chosen : str
        The floor of the sentence and the numbers.
    drops : mapping of str to FloorDrop
        By the name of the floor.

    """

    chosen: str
    drops: Mapping[str, FloorDrop]

    @property
    def drop(self) -> FloorDrop:
        """The drop on the floor asked for."""
        return self.drops[self.chosen]


class FloorScene(Scene[Floors]):
    """Four floors in a row, each with its grain beneath the same screen, and 100 trials."""

    sources = ("Johnson1985", "ChaiLawn2007")

    def verdict(self, result: Floors, system: System) -> str:
        """Return what the picture says."""
        return floors_verdict(result.drops, result.chosen, system)

    def frame(self, result: Floors, look: Look) -> Hashable:
        """Return the floor asked for."""
        return result.chosen

    def build(self, figure: Figure, look: Look, result: Floors) -> Iterable[Artist]:
        """Draw floors and words; return what moves."""
        axes = figure.subplots(2, len(result.drops), height_ratios=(2.6, 1.0))
        axes[1, 0].set_xlabel(" \n ")  # keeps room for the key, which spans all
        key = f"crack: under the worst grain of ten, all to one scale\n{KEY}"
        words = axes[1, 1].text(1.03, -0.06, key, transform=axes[1, 1].transAxes)
        words.set(ha="center", va="top", in_layout=False)
        self.grounds: dict[str, _Ground] = {}
        self.hundreds: dict[str, Hundred] = {}
        moving: list[Artist] = []
        for place, floor in enumerate(result.drops):
            ground = _Ground(axes[0, place], look, floor)
            if place == 0:
                bar = _scale_bar(axes[0, place], look)
            axes[0, place].set_title(
                FLOOR_WORDS[floor], weight="bold" if floor == result.chosen else "normal"
            )
            trials = axes[1, place]
            trials.set_title(" ", pad=12 * look.scale)  # keeps the room for the count
            count = trials.text(0.5, 1.01, "", transform=trials.transAxes)
            count.set(ha="center", va="bottom")
            self.grounds[floor], ground.count = ground, count
            self.hundreds[floor] = Hundred(trials, "o")
            moving += [*ground.artists, count, *self.hundreds[floor].artists]
        return [*moving, *bar]  # which stands still, but over the floor

    def update(self, result: Floors, look: Look) -> None:
        """Move grains, cracks, skin and trials."""
        for floor, drop in result.drops.items():
            self.grounds[floor].set(drop, look)
            span = drop.spread(drop.breaking)
            low, high = float(span.low), float(span.high)
            self.hundreds[floor].set(low, drop.broken, high)
            counts = [f"{100 * share:.0f}" for share in (drop.broken, low, high)]
            band = f" ({counts[1]} to {counts[2]})" if counts[1] != counts[2] else ""
            self.grounds[floor].count.set_text(f"{counts[0]}{band} break")


class _Ground:
    """The screen from below, a grain of its usual size, and the floor that holds it."""

    def __init__(self, ax: Axes, look: Look, floor: str) -> None:
        self.floor = floor
        self.radius = 1e6 * inputs()[floor, "grain_radius"].value
        self.proud = inputs()[floor, "proud"].value * self.radius
        self.hold = inputs()[floor, "hold"].value
        ax.set(xlim=(-_WIDE / 2, _WIDE / 2), ylim=(-_DOWN, _UP), xticks=[], yticks=[])
        ax.set_aspect("equal")
        ax.spines[["left", "bottom"]].set_visible(False)
        ax.set_xlabel(" ")  # keeps the room for the depth of the crack
        whole = Rectangle((-_WIDE / 2, 0), _WIDE, _UP, facecolor=GLASS, lw=0)
        ax.add_patch(whole)
        self.skin = Rectangle((-_WIDE / 2, 0), _WIDE, 0, lw=0, **look.fill("squeeze"))
        self.ground = Rectangle((-_WIDE / 2, -_DOWN), _WIDE, 0, facecolor=PALE, lw=0)
        self.ground.set(edgecolor=GREY, hatch=_HATCH.get(floor, ""))
        self.grain = Circle((0, 0), self.radius, facecolor=ORANGE, edgecolor=INK, lw=1.2)
        self.crack = Polygon(np.zeros((3, 2)), facecolor=INK, edgecolor=INK, lw=0.8)
        for patch in (self.skin, self.grain, self.ground, self.crack):
            ax.add_patch(patch)
        (self.face,) = ax.plot([-_WIDE / 2, _WIDE / 2], [0, 0], color=INK, lw=2)
        (self.top,) = ax.plot([-_WIDE / 2, _WIDE / 2], [0, 0], color=INK, lw=2)
        self.skin_word = ax.text(
            -0.48 * _WIDE, 0, "squeezed skin", color=look.word_colour("squeeze")
        )
        kind = "sand" if floor == "concrete" else "grit"
        self.kind_word = ax.text(0, -12, kind, ha="center", va="top")
        self.deep_word = ax.text(0.5, -0.03, "", transform=ax.transAxes, ha="center", va="top")
        self.count = self.deep_word  # until there is one

    @property
    def artists(self) -> list[Artist]:
        """What moves, from the back to the front."""
        parts = [self.skin, self.grain, self.ground, self.top, self.face, self.crack]
        return [*parts, self.skin_word, self.kind_word, self.deep_word]

    def set(self, drop: FloorDrop, look: Look) -> None:
        """Move everything to a drop on this floor."""
        skin = 1e6 * drop.device.screen.case_depth
        self.skin.set_height(skin)
        self.skin_word.set_y(skin + 8)
        self.skin_word.set_visible(skin > 0 and self.floor == "steel")
        stands = self._stands(float(drop.loads()[1]))
        self.grain.center = (0, -self.radius)
        self.ground.set_height(_DOWN - stands)
        self.top.set_ydata([-stands, -stands])
        depth = 1e6 * drop.cracks()[-1]
        end = min(depth, 1.02 * _UP)
        tip = _MOUTH * (1 - end / depth) if np.isfinite(depth) and depth else _MOUTH / 2
        self.crack.set_xy([(-_MOUTH, 0), (-tip, end), (tip, end), (_MOUTH, 0)])
        self.crack.set_visible(depth > 0)
        self.deep_word.set_text(crack_words(drop, look.system))

    def _stands(self, load: float) -> float:
        """Return how far the grain stands out of the floor once it carries a load [N] [µm].

        The floor yields until the grain's section at the surface times its hold carries it.
        """
        dent = 1e6 * np.sqrt(load / (np.pi * self.hold)) if load > _LOAD else 0.0
        sunk = self.radius - np.sqrt(max(self.radius**2 - dent**2, 0.0))
        return float(max(min(self.proud, 2 * self.radius - sunk), 0.3 * self.radius))


def _scale_bar(ax: Axes, look: Look) -> list[Artist]:
    """Draw a bar of a tenth of a millimetre in the floor."""
    left, low = -0.46 * _WIDE, -0.94 * _DOWN
    (line,) = ax.plot([left, left + _BAR], [low, low], color=INK, lw=4)
    word = ax.text(left, low + 20, look.show(_BAR * 1e-6, "depth", 2))
    word.set_bbox({"facecolor": WHITE, "edgecolor": "none", "pad": 1.0})
    return [line, word]
