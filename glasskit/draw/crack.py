# SPDX-License-Identifier: MIT
"""Draw a crack that starts at the surface: the glass in section, its stress, the verdict."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from glasskit.crack import LoadedCrack
from glasskit.draw.look import INK, PALE, WHITE, Look, Sign, round_up
from glasskit.draw.scene import Scene
from glasskit.draw.section import CutGlass

__all__ = ["PressedCrackScene"]

_WIDENINGS = np.array([20.0, 100.0, 500.0, 2500.0])  # how much too wide an opening is drawn
_ROWS = (0.12, 0.3, 0.5, 0.7, 0.88)  # depths of the arrows, share of the depth shown
_SIDE = 0.62  # half the width of the section, share of the depth shown


class PressedCrackScene(Scene[LoadedCrack]):
    """Section of the glass with the crack, stress against depth, pull on the tip."""

    _widening: float
    _most: float  # end of the stress axis, as shown

    def frame(self, result: LoadedCrack, look: Look) -> tuple[float, float, float, float, str]:
        """Return the ends of all axes, in coarse steps, and the widening of the opening."""
        skin = min(result.profile.case_depth, 100e-6)
        depth = round_up(look.shown(1.25 * max(result.depth, skin), "depth").item())
        whole = look.shown(result.profile.thickness, "depth").item()
        depth = min(depth, whole)
        widest = look.shown(result.shape.opening.max(), "depth").item()
        fitting = int(np.searchsorted(_WIDENINGS, 0.5 * depth / max(widest, 1e-12)))
        stress = np.abs(result.net(np.linspace(0, 1, 60) * self._metres(depth, look))).max()
        pull = max(
            abs(result.overlapping_intensity), result.intensity, 1.2 * result.glass.toughness
        )
        return (
            depth,
            float(_WIDENINGS[max(fitting - 1, 0)]),
            round_up(look.shown(stress, "stress").item()),
            round_up(look.shown(pull, "toughness").item()),
            result.glass.name,
        )

    @staticmethod
    def _metres(depth: float, look: Look) -> float:
        return depth / look.shown(1.0, "depth").item()

    def build(self, figure: Figure, look: Look, result: LoadedCrack) -> Iterable[Artist]:
        """Draw axes and words; return what moves."""
        depth, self._widening, self._most, pull, _ = self.frame(result, look)
        glass, curve, verdict = figure.subplots(1, 3, width_ratios=(2.7, 1.15, 1.0))
        return [
            *self._build_glass(glass, look, depth),
            *self._build_curve(curve, look, depth),
            *self._build_verdict(verdict, look, pull, result),
        ]

    def _build_glass(self, ax: Axes, look: Look, depth: float) -> list[Artist]:
        side = _SIDE * depth
        self.cut = CutGlass(ax, look, depth, side, _ROWS, 0.42, "the glass, cut open")
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_xlabel(f"opening drawn {self._widening:g} times too wide")
        (self.hollow,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=WHITE, edgecolor=INK, lw=1.8)
        (self.closed,) = ax.plot([], [], color=INK, lw=5)
        self.pressed_word = ax.text(0.05 * side, 0, "faces pressed\ntogether", va="center")
        self.open_word = ax.text(0, 0, "open", va="center")
        self.skin_word = ax.text(
            -0.97 * side, 0.03 * depth, "squeezed", va="top", color=look.word_colour("squeeze")
        )
        self.core_word = ax.text(
            -0.97 * side, 0.97 * depth, "stretched", color=look.word_colour("pull")
        )
        words = [self.skin_word, self.core_word, self.pressed_word, self.open_word]
        return [*self.cut.artists, self.hollow, self.closed, self.cut.surface, *words]

    def _build_curve(self, ax: Axes, look: Look, depth: float) -> list[Artist]:
        most = self._most
        ax.set(xlim=(-1.08 * most, 1.08 * most), ylim=(depth, -0.06 * depth), yticks=[])
        ax.set_xticks([-most, 0, most])
        ax.set_xlabel(look.label("stress", "stress"))
        ax.spines["left"].set_visible(False)
        ax.axvline(0, color=INK, lw=1)
        signs: tuple[Sign, Sign] = ("squeeze", "pull")
        for place, sign in zip((-0.54 * most, 0.54 * most), signs, strict=True):
            colour = look.word_colour(sign)
            ax.text(place, -0.07 * depth, sign, ha="center", va="bottom", color=colour)
        (self.squeezed,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("squeeze"), lw=0)
        (self.pulled,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("pull"), lw=0)
        (self.curve,) = ax.plot([], [], color=INK)
        (self.tip,) = ax.plot([-1.08 * most, 1.08 * most], [0, 0], color=INK, lw=1.2, ls="--")
        self.tip_word = ax.text(-1.05 * most, 0, "crack tip", va="bottom")
        return [self.squeezed, self.pulled, self.curve, self.tip, self.tip_word]

    def _build_verdict(
        self, ax: Axes, look: Look, pull: float, result: LoadedCrack
    ) -> list[Artist]:
        ax.set(xlim=(-0.6, 1.6), ylim=(-pull, 1.06 * pull))
        ax.set_xticks([0, 1], ["just\nadding", "faces\ntouch"])
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("pull on the tip, K", "toughness"))
        ax.axhline(0, color=INK, lw=1)
        limit = result.glass.values.get("toughness")
        if limit is not None:
            ends = look.shown([limit.low, limit.high], "toughness")
            ax.axhspan(*ends, **look.fill("pull"), lw=0)
        ax.axhline(
            look.shown(result.glass.toughness, "toughness").item(), color=look.colour("pull")
        )
        ax.set_title("runs at the line", color=look.word_colour("pull"))
        adding, touching = ax.bar([0, 1], [0, 0], width=0.62)
        adding.set(facecolor=PALE, edgecolor=INK, hatch="//")
        touching.set(facecolor=INK, edgecolor=INK)
        self.bars = (adding, touching)
        return [adding, touching]

    def update(self, result: LoadedCrack, look: Look) -> None:
        """Move the crack, the curve and the bars."""
        net = result.net
        stress = look.shown(net(self.cut.depths), "stress")
        depth = look.shown(self.cut.depths, "depth")
        self.cut.show(stress / self._most)
        self.skin_word.set_visible(stress[0] < 0)
        self.core_word.set_visible(stress[-1] > 0)
        self._move_crack(result, look, depth[-1])
        self.curve.set_data(stress, depth)
        for area, part in ((self.squeezed, np.minimum), (self.pulled, np.maximum)):
            outline = np.concatenate(([0], part(stress, 0), [0]))
            area.set_xy(np.column_stack([outline, np.r_[0, depth, depth[-1]]]))
        level = look.shown(result.depth, "depth").item()
        self.tip.set_ydata([level, level])
        self.tip_word.set_y(level)
        heights = (result.overlapping_intensity, result.intensity)
        for bar, height in zip(self.bars, heights, strict=True):
            bar.set_height(look.shown(height, "toughness").item())

    def _move_crack(self, result: LoadedCrack, look: Look, window: float) -> None:
        position = look.shown(result.shape.position, "depth")
        half = look.shown(result.shape.opening, "depth") * self._widening / 2
        self.hollow.set_xy(
            np.column_stack([np.r_[half, -half[::-1]], np.r_[position, position[::-1]]])
        )
        edge = look.shown(result.contact_depth, "depth").item()
        self.closed.set_data([0, 0], [0, edge])
        self.pressed_word.set_visible(edge > 0.1 * window)
        self.pressed_word.set_y(edge / 2)
        parted = position[-1] - edge
        self.open_word.set_visible(parted > 0.05 * window)
        inside = half.max() > 0.2 * window
        self.open_word.set_horizontalalignment("center" if inside else "left")
        beside = 0.0 if inside else half.max() + 0.02 * window
        self.open_word.set_position((beside, edge + 0.6 * parted))
