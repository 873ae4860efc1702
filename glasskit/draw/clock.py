# SPDX-License-Identifier: MIT
"""Draw a flaw under a steady pull: the glass cut open, and the pull it bears over time."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator, NullLocator
from scipy.constants import Julian_year, day, hour

from glasskit.crack import Clock
from glasskit.draw.look import GREY, INK, PALE, WHITE, YELLOW, Look, freed, round_up
from glasskit.draw.scene import Scene
from glasskit.draw.section import CutGlass
from glasskit.quantities import System
from glasskit.words.clock import MARKS, clock_verdict, speed_words, time_words

PULL = 200e6
"""Highest pull from outside [Pa]."""

_FULL = 100e6  # stress that the section shows in full [Pa]
_START, _LATE, _END = 0.1, 1e12, 4e12  # ends of the clock, and where "never" is shown [s]
_SCATTER = 10.0  # of lives between speed laws: Haldimann 2006
_RULE = np.array([30, 600, 1800, 11 * hour, 30 * day, Julian_year / 2, 50 * Julian_year])
# Load durations that EN 16612 names [s], from memory.
_ROWS = (0.06, 0.35, 0.65, 0.94)


class ClockScene(Scene[Clock]):
    """Section of the pane with its flaw, and the pull it bears against time."""

    sources = ("Haldimann2006", "Tada2000")

    def verdict(self, result: Clock, system: System) -> str:
        """Return what the picture says."""
        return clock_verdict(result, system)

    _top: float  # of the axis of pull
    _window: float

    def ground(self, result: Clock, look: Look) -> float:
        """Return the depth of glass shown."""
        return round_up(look.shown(1.6 * result.bearing.depth, "depth").item())

    def lay(self, result: Clock, look: Look) -> None:
        """Show the glass down to the depth of `ground`."""
        self._window = self.ground(result, look)
        self.cut.reach(self._window)

    def build(self, figure: Figure, look: Look, result: Clock) -> Iterable[Artist]:
        """Draw glass and axes; return what moves."""
        section, curve = figure.subplots(1, 2, width_ratios=(0.9, 2.1))
        return [
            *self._build_glass(section, look),
            *self._build_curve(curve, look),
        ]

    def _build_glass(self, ax: Axes, look: Look) -> list[Artist]:
        self.cut = CutGlass(ax, look, 0.6, _ROWS, 0.7, "the flaw, cut open")
        (self.notch,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=WHITE, edgecolor=INK, lw=1.8)
        self.creep = ax.text(0, 0, "", ha="center", va="center")
        return [*self.cut.artists, self.cut.surface, self.notch, self.creep]

    def _build_curve(self, ax: Axes, look: Look) -> list[Artist]:
        self.pulls = ax
        ax.set(xscale="log", xlim=(_START, _END))
        marks = MARKS[::2] if look.large else MARKS
        ax.set_xticks([time for time, _ in marks], [name for _, name in marks])
        if not look.large:
            for label in ax.get_xticklabels():
                label.set(rotation=30, ha="right", rotation_mode="anchor")
        ax.xaxis.set_minor_locator(NullLocator())
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("steady pull", "stress"))
        ax.set_title("how long the pane bears a pull")
        (self.squeezed,) = ax.fill([0, 0, 0], [0, 0, 0], **look.fill("squeeze"), lw=0)
        (self.calm,) = ax.fill([0, 0, 0], [0, 0, 0], facecolor=PALE, lw=0)
        (self.scatter,) = ax.fill([0, 0, 0], [0, 0, 0], color=INK, alpha=0.18, lw=0)
        (self.floor,) = ax.plot([], [], color=INK, lw=1.6, ls=":")
        (self.rule,) = ax.plot([], [], "--D", color=GREY, lw=1.6, markersize=8)
        (self.curve,) = ax.plot([], [], color=INK)
        (self.guide,) = ax.plot([], [], color=INK, lw=1.2)
        (self.dot,) = ax.plot(
            [],
            [],
            "o",
            color=INK,
            markerfacecolor=YELLOW,
            markersize=14,
            markeredgewidth=2,
            clip_on=False,
        )
        self.squeezed_word = ax.text(0.2, 0, "surface still squeezed: no clock", va="center")
        self.squeezed_word.set_color(look.word_colour("squeeze"))
        self.calm_word = ax.text(0.2, 0, "too little to creep", va="center")
        self.rule_word = ax.text(_LATE / 20, 0, "rule of the standards", ha="right", va="top")
        if look.mono:
            for word in (self.squeezed_word, self.rule_word):
                word.set_bbox({"facecolor": WHITE, "edgecolor": "none", "pad": 2})
        self.outcome = ax.text(0.98, 0.97, "", transform=ax.transAxes, ha="right", va="top")
        self.outcome.set_fontweight("bold")
        lines = [self.floor, self.rule, self.curve, self.guide, self.dot]
        words = [self.squeezed_word, self.calm_word, self.rule_word, self.outcome]
        return [freed(ax.yaxis), self.squeezed, self.calm, self.scatter, *lines, *words]

    def update(self, result: Clock, look: Look) -> None:
        """Move flaw, curves and dot."""
        self._move_flaw(result, look)
        most = max(result.bearing.instant, result.tension)
        self._top = round_up(look.shown(most, "stress").item())
        self.pulls.set_ylim(0, self._top)
        self._move_curves(result, look)
        pull = look.shown(result.tension, "stress").item()
        ends = np.clip(
            np.array([1 / _SCATTER, 1.0, _SCATTER]) * min(result.life, 1e300), _START, _LATE
        )
        self.guide.set_data([ends[0], ends[2]], [pull, pull])
        self.guide.set_visible(0 < result.life < np.inf)
        self.dot.set_data([ends[1]], [pull])
        words = f"breaks after\n{time_words(result.life)}"
        if result.life == 0:
            words = "breaks\nat once"
        elif not np.isfinite(result.life):
            words = "does not creep:\nno clock runs"
        self.outcome.set_text(words)

    def _move_flaw(self, result: Clock, look: Look) -> None:
        bears = result.bearing
        self.cut.show((bears.profile(self.cut.depths) + result.tension) / _FULL)
        tip = look.shown(bears.depth, "depth").item() / self._window
        self.notch.set_xy([(-0.03, 0), (0, tip), (0.03, 0)])
        still = "stands still" if result.life > 0 else "runs"
        creeps = f"creeps\n{speed_words(result.speed, look.system)}"
        self.creep.set_text(creeps if 0 < result.life < np.inf else still)
        self.creep.set_y(0.5 * (tip + 1))

    def _move_curves(self, result: Clock, look: Look) -> None:
        bears = result.bearing
        pull = look.shown(bears.pull, "stress")
        time = np.clip(bears.time, 1e-3, None)
        self.curve.set_data(time, pull)
        self.scatter.set_xy(
            np.column_stack(
                [
                    np.r_[time / _SCATTER, _SCATTER * time[::-1]],
                    np.r_[pull, pull[::-1]],
                ]
            )
        )
        floor = pull[0]
        self.floor.set_data([_START, _END], [floor, floor])
        held = min(max(look.shown(-bears.profile.surface, "stress").item(), 0.0), floor)
        zones = (
            (self.squeezed, self.squeezed_word, 0.0, held),
            (self.calm, self.calm_word, held, floor),
        )
        for zone, word, low, high in zones:
            zone.set_xy([(_START, low), (_END, low), (_END, high), (_START, high)])
            word.set_y((low + high) / 2)
            word.set_visible(bool(high - low > 0.14 * self._top))
        rule = look.shown(bears.by_rule(_RULE), "stress")
        self.rule.set_data(_RULE, rule)
        below = rule[-1] - 0.03 * self._top
        room = 0.05 * look.scale * self._top
        self.rule_word.set_y(below if below > room else 0.17 * self._top)
