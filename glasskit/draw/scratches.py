# SPDX-License-Identifier: MIT
"""Draw a scratch: the pane cut across it, to scale, and what the pane then bears."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator

from glasskit.damage import PANES, Pane, Score, scored_strength
from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, Look, round_up
from glasskit.draw.scene import Scene
from glasskit.draw.section import MIDDLES, cut_open, shade
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
_SOFT = np.array([(-0.5, -1), (-0.5, -0.35), (-0.3, 0), (0.3, 0), (0.5, -0.35), (0.5, -1)])


class ScratchScene(Scene[Score]):
    """Section across the scratch, and strength against the load on the point."""

    sources = ("MarshallLawn1977", "Anstis1981", "ChaiLawn2007")

    def verdict(self, result: Score, system: System) -> str:
        """Return what the picture says."""
        return scratch_verdict(result, system)

    _window: float

    def frame(self, result: Score, look: Look) -> tuple[float, Pane]:
        """Return the depth of glass shown, and the pane."""
        profile = result.pane.profile
        skin = profile.case_depth if profile.case_depth < _THIN else _LITTLE
        held = np.minimum(result.depth, profile.thickness)
        shown = max(1.2 * held[2], 2.6 * result.dent, 1.2 * skin, _LITTLE)
        whole = look.shown(profile.thickness, "depth").item()
        return min(round_up(look.shown(shown, "depth").item()), whole), result.pane

    def build(self, figure: Figure, look: Look, result: Score) -> Iterable[Artist]:
        """Draw glass, axes and curves; return what moves."""
        self._window, pane = self.frame(result, look)
        section, curve = figure.subplots(1, 2, width_ratios=(1.25, 1.0))
        names = self._build_glass(section, look, pane)
        self._build_curves(curve, look, pane)
        # The names stand still but lie over the flake.
        return [*self._build_scratch(section, look), *names, *self._build_dot(curve)]

    def _build_glass(self, ax: Axes, look: Look, pane: Pane) -> list[Artist]:
        window, profile = self._window, pane.profile
        side = _SIDE * window
        cut_open(ax, look, window, side, "cut across the scratch, to scale", _ABOVE)
        ax.set_aspect("equal")
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_yticks([tick for tick in ax.get_yticks() if 0 <= tick <= window])
        ax.yaxis.set_major_formatter(FuncFormatter(lambda y, _: show_number(y, 2)))
        bands = shade(ax, look, -side, side, window)
        depth = MIDDLES * window / look.shown(1.0, "depth").item()
        stress = profile(np.minimum(depth, profile.thickness))
        bands.set_array(stress[:, None] / max(np.abs(stress).max(), 1.0))
        return self._name_skin(ax, look, pane)

    def _name_skin(self, ax: Axes, look: Look, pane: Pane) -> list[Artist]:
        window, left = self._window, -0.97 * _SIDE * self._window
        skin = look.shown(pane.profile.case_depth, "depth").item()
        squeeze, pull = look.word_colour("squeeze"), look.word_colour("pull")
        if not skin:
            return [ax.text(left, 0.97 * window, "plain glass:\nno squeeze")]
        if skin > window:
            deep = skin_words(pane.profile.case_depth, look.system)
            return [ax.text(left, 0.97 * window, f"squeezed down\nto {deep}", color=squeeze)]
        ax.plot([-window, window], [skin, skin], color=INK, lw=1.4, ls="--")
        room = skin > 0.16 * window
        return [
            ax.text(
                left,
                skin if room else skin + 0.02 * window,
                "squeezed skin" if room else "skin ends",
                va="bottom" if room else "top",
                color=squeeze,
            ),
            ax.text(left, 0.97 * window, "stretched core", color=pull),
        ]

    def _build_scratch(self, ax: Axes, look: Look) -> list[Artist]:
        corner = [[0, 0]] * 3
        tool = WHITE if look.mono else ORANGE
        (self.flake,) = ax.fill(*zip(*corner, strict=True), facecolor=PALE, edgecolor=GREY)
        (self.streak,) = ax.plot([], [], color=GREY, lw=8)
        (self.dent,) = ax.fill(*zip(*corner, strict=True), facecolor=WHITE, edgecolor=INK)
        (self.tool,) = ax.fill(*zip(*corner, strict=True), facecolor=tool, edgecolor=INK)
        (self.crack,) = ax.plot([], [], color=INK, lw=4)
        (self.reach,) = ax.plot([], [], color=INK, lw=1.6, ls=":", marker="_", markersize=12)
        right = 0.97 * _SIDE * self._window
        self.lift = ax.text(right, 0, "a flake may lift", ha="right", va="top")
        self.name = ax.text(0, -0.95 * _ABOVE * self._window, "", ha="center", va="top")
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
        window = self._window
        dent = look.shown(result.dent, "depth").item()
        tip = dent / _SLOPE
        half = 0.5 * window
        self.dent.set_xy([(-dent, 0), (0, tip), (dent, 0)])
        top, shoulder = -_ABOVE * window, tip - half / _SLOPE
        if result.bites:
            body = [(-half, top), (-half, shoulder), (0, tip), (half, shoulder), (half, top)]
        else:
            body = [(window * x, -top * y) for x, y in _SOFT]
        self.tool.set_xy(body)
        smeared = result.verdict == "leaves metal"
        self.streak.set_data([-0.9 * _SIDE * window, 0.3 * window], [0, 0])
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
        window = self._window
        low, depth, high = np.minimum(look.shown(result.depth, "depth"), window)
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
        place = (0.05 * window, np.clip(depth, 0.66 * window, 0.8 * window))
        self.deep.set_position(place if shown else (0.0, 0.55 * window))

    def _move_flake(self, result: Score, look: Look, dent: float) -> None:
        across = np.linspace(-1, 1, 41)
        rim = dent * (1 - across**2)
        low, high = (
            look.shown(end, "depth").item() for end in (result.flake.low, result.flake.high)
        )
        inner, outer = low * across, high * across
        self.flake.set_xy(np.column_stack([np.r_[outer, inner[::-1]], np.r_[rim, rim[::-1]]]))
        self.lift.set_y(dent + 0.02 * self._window)
        for artist in (self.flake, self.lift):
            artist.set_visible(result.bites and result.cracks)
