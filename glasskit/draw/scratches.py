# SPDX-License-Identifier: MIT
"""Draw a scratch: the pane cut across it, to scale, and what the pane then bears."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from glasskit.damage import PANES, Pane, Score, scored_strength
from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, Look, round_up
from glasskit.draw.scene import Scene
from glasskit.draw.section import MIDDLES, cut_open, shade, write_depths
from glasskit.materials import glass
from glasskit.quantities import FloatArray, System, show_number
from glasskit.words.scratches import (
    called,
    depth_range,
    scratch_verdict,
    skin_words,
    verdict_words,
)

LOADS = (0.1, 100.0)
"""Ends of the load on the point [N]."""

_CURVE = np.geomspace(*LOADS, 80)
_SIDE, _ABOVE = 0.8, 0.34  # half width of the section and height above it, share of its depth
_SLOPE = 3.5  # half width over depth of a Vickers dent, along its diagonal: tan 74°
_THIN, _LITTLE = 100e-6, 15e-6  # skins shown whole, and the least depth shown [m]
_LEAST, _MOST = 3e6, 2.2e9  # ends of the axis of strength [Pa]
_LETTERS = 0.08  # height of a word and the air about it, share of the depth shown
_SOFT = np.array([(-0.5, -1), (-0.5, -0.35), (-0.3, 0), (0.3, 0), (0.5, -0.35), (0.5, -1)])


class ScratchScene(Scene[Score]):
    """Section across the scratch, and strength against the load on the point."""

    sources = ("MarshallLawn1977", "Anstis1981", "ChaiLawn2007")

    def verdict(self, result: Score, system: System) -> str:
        """Return what the picture says."""
        return scratch_verdict(result, system)

    _window: float  # depth of glass shown; lengths in its axes are shares of it
    _skin: float  # where the squeezed skin ends, such a share

    def frame(self, result: Score, look: Look) -> Pane:
        """Return the pane."""
        return result.pane

    def ground(self, result: Score, look: Look) -> float:
        """Return the depth of glass shown."""
        profile = result.pane.profile
        skin = profile.case_depth if profile.case_depth < _THIN else _LITTLE
        held = np.minimum(result.depth, profile.thickness)
        shown = max(1.2 * held[2], 2.6 * result.dent, 1.2 * skin, _LITTLE)
        whole = look.shown(profile.thickness, "depth").item()
        return min(round_up(look.shown(shown, "depth").item()), whole)

    def lay(self, result: Score, look: Look) -> None:
        """Show the glass of this pane down to the depth of `ground`."""
        window = self._window = self.ground(result, look)
        write_depths(self.axis, window)
        profile = result.pane.profile
        depth = MIDDLES * window / look.shown(1.0, "depth").item()
        stress = profile(np.minimum(depth, profile.thickness))
        self.bands.set_array(stress[:, None] / max(np.abs(stress).max(), 1.0))
        self._name_skin(profile.case_depth, look)

    def _name_skin(self, case_depth: float, look: Look) -> None:
        skin = self._skin = look.shown(case_depth, "depth").item() / self._window
        inside = 0 < skin <= 1
        self.ends.set_data([-1, 1], [skin, skin])
        self.ends.set_visible(inside)
        room = skin > 0.16
        self.skin_word.set_text("squeezed skin" if room else "skin ends")
        self.skin_word.set_verticalalignment("bottom" if room else "top")
        self.skin_word.set_y(skin if room else skin + 0.02)
        self.skin_word.set_visible(inside)
        word, colour = "stretched core", look.word_colour("pull")
        if not skin:
            word, colour = "plain glass:\nno squeeze", INK
        elif skin > 1:
            word = f"squeezed down\nto {skin_words(case_depth, look.system)}"
            colour = look.word_colour("squeeze")
        self.deep_word.set(text=word, color=colour)

    def build(self, figure: Figure, look: Look, result: Score) -> Iterable[Artist]:
        """Draw glass, axes and curves; return what moves."""
        section, curve = figure.subplots(1, 2, width_ratios=(1.25, 1.0))
        names = self._build_glass(section, look)
        self._build_curves(curve, look, result.pane)
        # The names lie over the flake.
        return [*self._build_scratch(section, look), *names, *self._build_dot(curve)]

    def _build_glass(self, ax: Axes, look: Look) -> list[Artist]:
        surface = cut_open(ax, look, _SIDE, "cut across the scratch, to scale", _ABOVE)
        ax.set_aspect("equal")
        self.axis = ax.yaxis
        self.bands = shade(ax, look, -_SIDE, _SIDE, 1.0)
        (self.ends,) = ax.plot([], [], color=INK, lw=1.4, ls="--")
        self.under = (self.bands, self.ends, surface)
        squeeze, left = look.word_colour("squeeze"), -0.97 * _SIDE
        self.skin_word = ax.text(left, 0, "", color=squeeze)
        self.deep_word = ax.text(left, 0.97, "")
        return [self.axis, self.skin_word, self.deep_word]

    def _build_scratch(self, ax: Axes, look: Look) -> list[Artist]:
        corner = [[0, 0]] * 3
        tool = WHITE if look.mono else ORANGE
        (self.flake,) = ax.fill(*zip(*corner, strict=True), facecolor=PALE, edgecolor=GREY)
        (self.streak,) = ax.plot([], [], color=GREY, lw=8)
        (self.dent,) = ax.fill(*zip(*corner, strict=True), facecolor=WHITE, edgecolor=INK)
        (self.tool,) = ax.fill(*zip(*corner, strict=True), facecolor=tool, edgecolor=INK)
        (self.crack,) = ax.plot([], [], color=INK, lw=4)
        (self.reach,) = ax.plot([], [], color=INK, lw=1.6, ls=":", marker="_", markersize=12)
        self.lift = ax.text(0.97 * _SIDE, 0, "a flake may lift", ha="right", va="top")
        self.name = ax.text(0, -0.95 * _ABOVE, "", ha="center", va="top")
        self.deep = ax.text(0, 0, "", va="center")
        moving = [self.flake, self.streak, self.dent, self.tool, self.crack, self.reach]
        return [*moving, self.lift, self.name, self.deep]

    def _build_curves(self, ax: Axes, look: Look, pane: Pane) -> None:
        ax.set(xscale="log", yscale="log", xlim=look.shown(LOADS, "force"))
        ax.set_ylim(*look.shown([_LEAST, _MOST], "stress"))
        ax.set_xlabel(look.label("push on the point", "force"))
        ax.set_ylabel(look.label("then breaks at a stress of", "stress"))
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_major_formatter(FuncFormatter(lambda at, _: show_number(at, 1)))
        ax.minorticks_off()
        ax.set_title("what a scratched pane bears")
        used = glass("soda-lime").values["practical_strength"]
        ax.axhspan(*look.shown([used.low, used.high], "stress"), facecolor=PALE)
        ax.text(
            1.15 * look.shown(LOADS[0], "force").item(),
            1.02 * look.shown(used.low, "stress").item(),
            "plain panes in use",
            va="bottom",
        )
        for (name, other), style in zip(PANES.items(), ("-", "--", "-."), strict=True):
            chosen = other is pane
            strength = look.shown(np.maximum(scored_strength(other, _CURVE), 1.0), "stress")
            load = look.shown(_CURVE, "force")
            ax.plot(
                load, strength, style, color=INK if chosen else GREY, lw=3 if chosen else 2
            )
            self._name_curve(ax, name, load, strength)
        lower, upper = (
            np.maximum(look.shown(scored_strength(pane, _CURVE * share), "stress"), 1e-9)
            for share in (0.75, 1.25)
        )
        ax.fill_between(load, lower, upper, color=INK, alpha=0.18, lw=0)

    @staticmethod
    def _name_curve(ax: Axes, name: str, load: FloatArray, strength: FloatArray) -> None:
        if name == "plain":  # below its line, for the next line is close above
            ax.text(1.15 * load[0], 0.97 * strength[13], name, va="top")
        else:
            ax.text(1.15 * load[0], 1.12 * strength[0], name, va="bottom")

    def _build_dot(self, ax: Axes) -> list[Artist]:
        (self.dot,) = ax.plot([], [], "o", color=INK, markersize=12)
        self.outcome = ax.text(0.04, 0.05, "", transform=ax.transAxes, weight="bold")
        return [self.dot, self.outcome]

    def update(self, result: Score, look: Look) -> None:
        """Move point, dent, crack, flake and dot."""
        dent = look.shown(result.dent, "depth").item() / self._window
        tip = dent / _SLOPE
        half = 0.5
        self.dent.set_xy([(-dent, 0), (0, tip), (dent, 0)])
        top, shoulder = -_ABOVE, tip - half / _SLOPE
        if result.bites:
            body = [(-half, top), (-half, shoulder), (0, tip), (half, shoulder), (half, top)]
        else:
            body = [(x, -top * y) for x, y in _SOFT]
        self.tool.set_xy(body)
        smeared = result.verdict == "leaves metal"
        self.streak.set_data([-0.9 * _SIDE, 0.3], [0, 0])
        self.streak.set_visible(smeared)
        self.name.set_text(f"{called(result.thing)}\n{look.show(result.load, 'force', 2)}")
        self._move_crack(result, look, tip)
        self._move_flake(result, look, dent)
        self.dot.set_visible(result.bites and not result.breaks)
        level = min(max(result.strength[1], _LEAST), _MOST)
        self.dot.set_data(
            [look.shown(result.load, "force").item()], [look.shown(level, "stress").item()]
        )
        self.outcome.set_text(verdict_words(result, look.system))

    def _move_crack(self, result: Score, look: Look, tip: float) -> None:
        low, depth, high = np.minimum(look.shown(result.depth, "depth") / self._window, 1)
        shown = result.bites and result.cracks
        self.crack.set_data([0, 0], [tip, depth])
        self.crack.set_linestyle("-" if result.verdict == "cuts" else "--")
        self.reach.set_data([0, 0], [low, high])
        for artist in (self.crack, self.reach):
            artist.set_visible(shown)
        words = {
            "leaves metal": "a streak of metal, no scratch",
            "leaves nothing": "nothing",
        }.get(result.verdict, "no crack beyond the dent")
        if shown:
            words = f"crack\n{depth_range(result, look.system)}"
            if result.verdict == "may cut":
                words = "if it bites:\n" + words
        self.deep.set_text(words)
        self.deep.set_horizontalalignment("left" if shown else "center")
        place = (0.05, np.clip(depth, 0.66, 0.8))
        self.deep.set_position(place if shown else (0.0, 0.55))

    def _move_flake(self, result: Score, look: Look, dent: float) -> None:
        across = np.linspace(-1, 1, 41)
        rim = dent * (1 - across**2)
        low, high = (
            look.shown(end, "depth").item() / self._window
            for end in (result.flake.low, result.flake.high)
        )
        inner, outer = low * across, high * across
        self.flake.set_xy(np.column_stack([np.r_[outer, inner[::-1]], np.r_[rim, rim[::-1]]]))
        top = dent + 0.02
        if top < self._skin < top + _LETTERS * look.scale:  # the line would run through it
            top = self._skin + 0.02
        self.lift.set_y(top)
        for artist in (self.flake, self.lift):
            artist.set_visible(result.bites and result.cracks)
