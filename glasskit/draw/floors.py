# SPDX-License-Identifier: MIT
"""Draw a device over a floor with its grit, cracks beside the skin, how often it breaks."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import EllipseCollection
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREY, INK, ORANGE, PALE, SKY, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.impact import FloorDrop
from glasskit.impact.device import inputs
from glasskit.words.floors import FLOOR_WORDS

__all__ = ["FloorScene"]

_WIDTH, _UP, _DOWN = 200.0, 200.0, 35.0  # picture of the drop [mm]
_LARGER = 12.0  # grains are drawn so many times too large
_THICK = 8.0  # of the device drawn [mm]
_TILT = {"flat": 0.0, "edge": 30.0, "corner": 62.0, "tumble": 62.0}  # [degrees]
_DEEPEST = 200e-6  # depth of glass shown [m]
_HATCH = {"hardwood": "--", "steel": "", "tile": "++", "concrete": "..."}


class FloorScene(Scene[FloorDrop]):
    """Device over floor, three cracks against the skin, shares as bands."""

    def frame(self, result: FloorDrop, look: Look) -> tuple[str, str]:
        """Return the floor and the way of the fall."""
        return result.floor, result.fall

    def build(self, figure: Figure, look: Look, result: FloorDrop) -> Iterable[Artist]:
        """Draw device, floor and axes; return what moves."""
        thing, cracks, shares = figure.subplots(1, 3, width_ratios=(1.35, 1.35, 1.0))
        return [
            *self._build_thing(thing, look, result),
            *self._build_cracks(cracks, look),
            *self._build_shares(shares, look),
        ]

    def _build_thing(self, ax: Axes, look: Look, result: FloorDrop) -> list[Artist]:
        ax.set(xlim=(-_WIDTH / 2, _WIDTH / 2), ylim=(-_DOWN, _UP), xticks=[], yticks=[])
        ax.set_aspect("equal")
        ax.spines[["left", "bottom"]].set_visible(False)
        ground = Rectangle((-_WIDTH / 2, -_DOWN), _WIDTH, _DOWN, facecolor=PALE)
        ground.set(edgecolor=GREY, hatch=_HATCH[result.floor], lw=0)
        ax.add_patch(ground)
        ax.plot([-_WIDTH / 2, _WIDTH / 2], [0, 0], color=INK, lw=2)
        word = ax.text(0, -0.55 * _DOWN, FLOOR_WORDS[result.floor], ha="center", va="center")
        word.set_bbox({"facecolor": WHITE, "edgecolor": "none", "pad": 1.5})
        ax.set_title("the drop")
        gap = "\n" if look.large else " "
        ax.set_xlabel(f"grains drawn{gap}{_LARGER:g} times too large")
        self._draw_grains(ax, result.floor)
        self._draw_device(ax, result)
        self.from_word = ax.text(0, 0.97 * _UP, "", ha="center", va="top")
        return [self.from_word]

    @staticmethod
    def _draw_grains(ax: Axes, floor: str) -> None:
        """Draw the middle number of grains, in sizes over their range, at chance places."""
        size, count = inputs()[floor, "grain_radius"], inputs()[floor, "grains"]
        rng = np.random.default_rng(1)
        number = round(count.value)
        radii = size.value * np.exp(rng.uniform(-0.5, 0.5, number)) * 1e3 * _LARGER
        x = rng.uniform(-70, 70, number)
        # Loose grains lie on the floor, those of concrete stand out of it.
        y = radii * (0.3 if floor == "concrete" else 1.0)
        ax.add_collection(
            EllipseCollection(
                2 * radii,
                2 * radii,
                np.zeros(number),
                units="xy",
                offsets=np.column_stack([x, y]),
                offset_transform=ax.transData,
                facecolor=ORANGE,
                edgecolor=INK,
                zorder=1,
            )
        )

    @staticmethod
    def _draw_device(ax: Axes, result: FloorDrop) -> None:
        angle = np.deg2rad(_TILT[result.fall])
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        length = min(1e3 * result.device.length, 150.0)
        body = np.array([[-1, 0], [1, 0], [1, 1], [-1, 1]]) * [length / 2, _THICK]
        screen = np.array([[-1, 0], [1, 0], [1, 0.25], [-1, 0.25]]) * [length / 2, _THICK]
        lowest = (body @ turn.T)[:, 1].min()
        lift = [0, 22.0 - lowest]
        ax.add_patch(Polygon(body @ turn.T + lift, facecolor=GREY, edgecolor=INK, lw=1.2))
        ax.add_patch(Polygon(screen @ turn.T + lift, facecolor=SKY, edgecolor=INK, lw=1.2))
        for x in (-0.42, 0.42):
            ax.annotate(
                "",
                (x * _WIDTH, 8),
                (x * _WIDTH, 45),
                arrowprops={"arrowstyle": "-|>", "lw": 2},
            )

    def _build_cracks(self, ax: Axes, look: Look) -> list[Artist]:
        deepest = look.shown(_DEEPEST, "depth").item()
        ax.set(xlim=(0, 3), ylim=(deepest, -0.02 * deepest))
        ax.set_xticks([0.5, 1.5, 2.5], ["mild", "middle", "harsh"])
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("depth in the screen", "depth"))
        ax.set_title("crack under one grain")
        ax.set_xlabel("1 case in 10 is milder,\n1 in 10 harsher")
        self.skin = Rectangle((0, 0), 3, 0, lw=0, **look.fill("squeeze"))
        ax.add_patch(self.skin)
        ax.plot([0, 3], [0, 0], color=INK, lw=3)
        self.cracks = [
            Polygon(np.zeros((3, 2)), facecolor=INK, edgecolor=WHITE, lw=1) for _ in range(3)
        ]
        for crack in self.cracks:
            ax.add_patch(crack)
        box = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.5, "alpha": 0.85}
        word = "skin" if look.large else "squeezed skin"  # no room for more beside the cracks
        self.skin_word = ax.text(0.05, 0, word, va="top", bbox=box)
        self.skin_word.set_color(look.word_colour("squeeze"))
        self.deep_words = [
            ax.text(x, 0.97 * deepest, "", ha="center", va="bottom", bbox=box)
            for x in (0.5, 1.5, 2.5)
        ]
        return [self.skin, *self.cracks, self.skin_word, *self.deep_words]

    def _build_shares(self, ax: Axes, look: Look) -> list[Artist]:
        ax.set(xlim=(-0.6, 1.6), ylim=(0, 100))
        ax.set_xticks([0, 1], ["skin\npierced", "screen\nbroken"])
        ax.set_ylabel("share of the cases / %")
        ax.set_title("band: what is\nnot known")
        self.bands = [Rectangle((0, 0), 0, 0, lw=1.4, **look.fill("pull")) for _ in range(2)]
        for band in self.bands:
            ax.add_patch(band)
        self.means = [ax.plot([], [], color=INK, lw=3.5)[0] for _ in range(2)]
        return [*self.bands, *self.means]

    def update(self, result: FloorDrop, look: Look) -> None:
        """Move cracks, skin and shares."""
        self.from_word.set_text(f"from {look.show(result.height, 'height')}")
        deepest = look.shown(_DEEPEST, "depth").item()
        skin = look.shown(result.device.screen.case_depth, "depth").item()
        self.skin.set_height(skin)
        self.skin_word.set_visible(skin > 0)
        self.skin_word.set_y(skin + 0.025 * deepest)
        for place, (crack, word, depth) in enumerate(
            zip(self.cracks, self.deep_words, result.cracks(), strict=True)
        ):
            shown = look.shown(depth, "depth").item()
            beyond = shown > deepest
            half = 0.11
            end = 1.05 * deepest if beyond else shown
            tip = half * (1 - deepest / shown) if beyond else 0.0  # still open at the edge
            middle = place + 0.5
            crack.set_xy(
                [
                    (middle - half, 0),
                    (middle - tip, end),
                    (middle + tip, end),
                    (middle + half, 0),
                ]
            )
            crack.set_visible(depth > 0)
            word.set_text("through" if np.isinf(depth) else "deeper")
            word.set_visible(beyond)
        shares = (result.pierced, result.piercing), (result.broken, result.breaking)
        for place, (mean, share) in enumerate(shares):
            span = result.spread(share)
            low, high = 100 * span.low.item(), 100 * span.high.item()
            self.bands[place].set_bounds(place - 0.34, low, 0.68, high - low)
            self.means[place].set_data([place - 0.34, place + 0.34], [100 * mean] * 2)
