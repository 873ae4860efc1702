# SPDX-License-Identifier: MIT
"""Draw a crack that starts at the surface: the glass in section, its stress, its tip."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Wedge

from glasskit.crack import LoadedCrack
from glasskit.draw.look import (
    GREY,
    INK,
    PALE,
    WHITE,
    Look,
    Sign,
    StressArrows,
    round_up,
)
from glasskit.draw.scene import Scene
from glasskit.draw.section import MIDDLES, cut_open, shade, write_depths
from glasskit.quantities import FloatArray, System
from glasskit.words.crack import crack_verdict

_WIDENINGS = np.array([20.0, 100.0, 500.0, 2500.0])  # how much too wide an opening is drawn
_ROWS = (0.11, 0.18, 0.32, 0.5, 0.7, 0.88)  # depths of the arrows, share of the depth shown
_BETWEEN = (0.25, 0.41, 0.6, 0.79)  # depths of the words between them
_LEFT, _RIGHT = 0.42, 0.82  # ends of the section on both sides of the crack, share of depth
_GAP, _REACH = 0.02, 0.38  # of the arrows, from the crack and at full stress, share of depth
_SEEN = 0.2  # depth seen through the magnifier, share of the depth shown
_TIP = -0.3  # place of the tip in the magnifier, whose radius is 1
_NARROW = 0.3  # widest opening drawn in it
_WIDE = 1000.0  # end of the axis of stress for which there is room
_DIAL = 2.0  # ends of the dial: pull on the tip over what it bears


class PressedCrackScene(Scene[LoadedCrack]):
    """Section of the glass with the crack and its tip, stress against depth, a gauge."""

    sources = ("GlinkaShen1991", "Tada2000", "Petroski1978")
    _widening: float
    _most: float  # end of the stress axis, as shown
    _window: float  # depth shown; lengths in the axes are shares of it

    def verdict(self, result: LoadedCrack, system: System) -> str:
        """Return what the picture says."""
        return crack_verdict(result, system)

    def frame(self, result: LoadedCrack, look: Look) -> str:
        """Return the glass."""
        return result.glass.name

    def ground(self, result: LoadedCrack, look: Look) -> float:
        """Return the depth shown, in coarse steps."""
        return self.ends(result, look)[0]

    def lay(self, result: LoadedCrack, look: Look) -> None:
        """Show the glass down to the depth of `ground`."""
        self._window = self.ground(result, look)
        write_depths(self.axis, self._window)

    def ends(self, result: LoadedCrack, look: Look) -> tuple[float, float, float]:
        """Return depth and stress at the ends of the axes, and the widening of the opening."""
        skin = min(result.profile.case_depth, 100e-6)
        depth = round_up(look.shown(1.25 * max(result.depth, skin), "depth").item())
        whole = look.shown(result.profile.thickness, "depth").item()
        depth = min(depth, whole)
        widest = look.shown(result.shape.opening.max(), "depth").item() / (_SEEN * depth)
        fitting = int(np.searchsorted(_WIDENINGS, 2 * _NARROW / max(widest, 1e-12)))
        stress = np.abs(result.net(self._metres(np.linspace(0, depth, 60), look))).max()
        most = round_up(look.shown(stress, "stress").item())
        return depth, most, float(_WIDENINGS[max(fitting - 1, 0)])

    @staticmethod
    def _metres(depth: FloatArray, look: Look) -> FloatArray:
        return depth / look.shown(1.0, "depth")

    def build(self, figure: Figure, look: Look, result: LoadedCrack) -> Iterable[Artist]:
        """Draw axes and words; return what moves."""
        widths = (2.5, 0.95, 1.35) if look.large else (2.6, 1.0, 1.4)
        glass, curve, gauge = figure.subplots(1, 3, width_ratios=widths)
        return [
            *self._build_glass(glass, look),
            *self._build_magnifier(glass, look),
            *self._build_curve(curve, look),
            *self._build_gauge(gauge),
        ]

    def _build_glass(self, ax: Axes, look: Look) -> list[Artist]:
        surface = cut_open(ax, look, _RIGHT, "the glass, cut open")
        ax.set_xlim(-_LEFT, _RIGHT)
        self.axis = ax.yaxis
        self.shade = shade(ax, look, -_LEFT, _RIGHT, 1.0)
        self.arrows = [StressArrows(ax, look, 0, 0, row, _REACH) for row in _ROWS]
        (self.open,) = ax.plot([], [], color=INK, lw=2)
        (self.closed,) = ax.plot([], [], color=INK, lw=4)
        self.pressed_word = ax.text(0.025, 0, "pressed shut", va="center")
        self.open_word = ax.text(0.025, 0, "open", va="center")
        between = "\n" if look.large else " "  # beside the arrows, over the magnifier
        self.skin_word = ax.text(0.98 * _RIGHT, 0.025, f"squeezed{between}(compression)")
        self.skin_word.set(ha="right", va="top")
        self.core_word = ax.text(-0.96 * _LEFT, 0.98, "stretched (tension)")
        self.skin_word.set_color(look.word_colour("squeeze"))
        self.core_word.set_color(look.word_colour("pull"))
        arrows = [artist for pair in self.arrows for artist in pair.artists]
        words = [self.skin_word, self.core_word, self.pressed_word, self.open_word]
        return [self.axis, self.shade, *arrows, self.open, self.closed, surface, *words]

    def _build_magnifier(self, ax: Axes, look: Look) -> list[Artist]:
        inset = ax.inset_axes((0.68, 0.29, 0.31, 0.48))
        inset.set(xlim=(-1.04, 1.04), ylim=(-1.04, 1.04), xticks=[], yticks=[])
        inset.set_aspect("equal")
        inset.set_zorder(40)  # the glass moves, and so is drawn over what stands still
        inset.axis("off")
        rim = Circle((0, 0), 1, facecolor=WHITE, edgecolor=INK, lw=3)
        inset.add_patch(rim)
        self.wide_word = ax.text(0.835, 0.285, "", transform=ax.transAxes)
        self.wide_word.set(ha="center", va="top")
        (self.hollow,) = inset.fill([0, 0, 0], [0, 0, 0], facecolor=PALE, edgecolor=INK, lw=2)
        (self.shut,) = inset.plot([], [], color=INK, lw=3)
        for artist in (self.hollow, self.shut):
            artist.set_clip_path(rim)
        self.parting = StressArrows(inset, look, -0.85, 0.85, _TIP, 0.7)
        self.tip_word = inset.text(0, -0.62, "tip", ha="center", va="center")
        ring: Any = {"marker": "o", "ms": 13, "mfc": "none", "mec": INK, "mew": 2, "ls": ""}
        (self.ring,) = ax.plot([0], [0], **ring)
        (self.handle,) = ax.plot([], [], color=INK, lw=1.4)
        parts = [self.handle, self.ring, rim, self.hollow, self.shut]
        return [*parts, *self.parting.artists, self.tip_word, self.wide_word]

    def _build_curve(self, ax: Axes, look: Look) -> list[Artist]:
        self.pulls, across = ax, ax.get_yaxis_transform()
        self._reach_to(_WIDE)  # whose digits need room
        ax.set(ylim=(1, -0.06), yticks=[])
        ax.set_xlabel(look.label("stress", "stress"))
        ax.spines["left"].set_visible(False)
        ax.axvline(0, color=INK, lw=1)
        signs: tuple[Sign, Sign] = ("squeeze", "pull")
        for place, sign in zip((0.25, 0.75), signs, strict=True):
            word = ax.text(place, -0.07, sign, transform=across)
            word.set(ha="center", va="bottom", color=look.word_colour(sign))
        (self.squeezed,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("squeeze"), lw=0)
        (self.pulled,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("pull"), lw=0)
        (self.curve,) = ax.plot([], [], color=INK)
        (self.level,) = ax.plot([0, 1], [0, 0], color=INK, lw=1.2, ls="--", transform=across)
        said = "tip" if look.large else "crack tip"
        self.level_word = ax.text(0.014, 0, said, va="bottom", transform=across)
        curves = [self.squeezed, self.pulled, self.curve]
        return [ax.xaxis, *curves, self.level, self.level_word]

    def _reach_to(self, most: float) -> None:
        """Let the axis of stress reach so far to both sides."""
        self._most = most
        self.pulls.set_xlim(-1.08 * most, 1.08 * most)
        self.pulls.set_xticks([-most, 0, most])

    def _build_gauge(self, ax: Axes) -> list[Artist]:
        ax.set(xlim=(-1.3, 1.3), ylim=(-1.5, 1.42))
        ax.set_aspect("equal")
        ax.axis("off")
        ax.set_title("pull on the tip")
        ax.add_patch(Wedge((0, 0), 1, 0, 180, facecolor=WHITE, edgecolor=INK, lw=2))
        runs = Wedge((0, 0), 1, 0, np.rad2deg(_angle(1.0)), width=0.3, lw=1.2)
        runs.set(facecolor=PALE, edgecolor=INK, hatch="xx")
        ax.add_patch(runs)
        for share, word in ((0.0, "none"), (1.0, "it runs")):
            x, y = np.cos(_angle(share)), np.sin(_angle(share))
            ax.plot([0.88 * x, x], [0.88 * y, y], color=INK, lw=3)
            side = "center" if share == 0 else "left"
            ax.text(1.08 * x - 0.1 * share, 1.08 * y, word, ha=side, va="bottom")
        (self.ghost,) = ax.plot([], [], color=GREY, lw=3.4, ls=(0, (1.2, 0.8)))
        (self.needle,) = ax.plot([], [], color=INK, lw=5)
        (hub,) = ax.plot([0], [0], "o", color=INK, ms=15)
        self.share_word = ax.text(0, -0.22, "", ha="center", va="top", weight="bold")
        said = "dashed: if its faces\ncould pass through\neach other"
        self.ghost_word = ax.text(0, -0.95, said, ha="center", va="top", color=GREY)
        return [self.ghost, self.needle, hub, self.share_word, self.ghost_word]

    def update(self, result: LoadedCrack, look: Look) -> None:
        """Move the crack, the curve and the needles."""
        _, most, self._widening = self.ends(result, look)
        if most != self._most:
            self._reach_to(most)
        self.wide_word.set_text(f"opening\n{self._widening:g} times\ntoo wide")
        net = result.net
        depth = np.linspace(0, 1, 2 * len(MIDDLES) + 1)
        stress = look.shown(net(self._metres(depth * self._window, look)), "stress")
        self.shade.set_array(stress[1::2, None] / self._most)
        for row, pair in zip(_ROWS, self.arrows, strict=True):
            share = np.interp(row, depth, stress).item() / self._most
            end = _GAP + _REACH * min(abs(share), 1.0)
            pair.left, pair.right = -end, end  # hands that press at the crack, or part from it
            pair.set(share)
        self.skin_word.set_visible(stress[0] < 0)
        self.core_word.set_visible(stress[-1] > 0)
        self._move_crack(result, look)
        self.curve.set_data(stress, depth)
        for area, part in ((self.squeezed, np.minimum), (self.pulled, np.maximum)):
            outline = np.concatenate(([0], part(stress, 0), [0]))
            area.set_xy(np.column_stack([outline, np.r_[0, depth, 1]]))
        level = look.shown(result.depth, "depth").item() / self._window
        self.level.set_ydata([level, level])
        self.level_word.set_y(level)
        self._move_needles(result, look)

    def _move_crack(self, result: LoadedCrack, look: Look) -> None:
        position = look.shown(result.shape.position, "depth") / self._window
        edge = look.shown(result.contact_depth, "depth").item() / self._window
        tip = position[-1]
        self.open.set_data([0, 0], [edge, tip])
        self.closed.set_data([0, 0], [0, edge])
        for word, high, low in ((self.pressed_word, 0, edge), (self.open_word, edge, tip)):
            places = [row for row in _BETWEEN if high + 0.05 < row < low]
            word.set_visible(bool(places))
            word.set_y((places or _BETWEEN)[0])
        self.ring.set_data([0], [tip])
        self.handle.set_data([0.02, 0.43], [tip, 0.5])
        opening = look.shown(result.shape.opening, "depth") / self._window
        half = opening * self._widening / 2 / _SEEN
        up = _TIP + (tip - position) / _SEEN
        self.hollow.set_xy(np.column_stack([np.r_[half, -half[::-1]], np.r_[up, up[::-1]]]))
        self.shut.set_data([0, 0], [_TIP + (tip - edge) / _SEEN, up[0]])
        self.parting.set(0.9 * min(result.intensity / result.glass.toughness, 1.0))

    def _move_needles(self, result: LoadedCrack, look: Look) -> None:
        limit = result.glass.toughness
        share, overlapping = result.intensity / limit, result.overlapping_intensity / limit
        for needle, value in ((self.needle, share), (self.ghost, overlapping)):
            angle = _angle(value)
            needle.set_data([0, 0.84 * np.cos(angle)], [0, 0.84 * np.sin(angle)])
        apart = abs(share - overlapping) > 0.02 and not look.large  # not for the back row
        self.ghost.set_visible(apart)
        self.ghost_word.set_visible(apart)
        self.share_word.set_text(_in_words(share))


def _angle(share: float) -> float:
    """Return where a needle points on the dial, beyond its ends pinned to them [rad]."""
    return float(np.pi / 2 * (1 - np.clip(share / _DIAL, -0.96, 0.96)))


def _in_words(share: float) -> str:
    """Say how the pull on the tip compares with what the glass can bear."""
    if share < 0.005:  # which would be written 0%
        return "no pull:\nit stays"
    if share >= 1:
        return "more than\nit can bear"
    return f"{100 * share:.0f}% of what\nit can bear"
