# SPDX-License-Identifier: MIT
"""Draw a fall as it happens: the ball beside a ruler, and height turning into motion."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, YELLOW, Look
from glasskit.draw.scene import Scene
from glasskit.impact import Falling, fall_time
from glasskit.quantities import System, show

_TRACES = 10  # equal times into which the fall is divided
_BESIDE = 0.35  # where the words stand, share of the half width


class FallScene(Scene[Falling]):
    """Ball, traces at equal times, and two bars that always add up to the same."""

    def verdict(self, result: Falling, system: System) -> str:
        """Return what the picture says."""
        speed, left = (
            show(result.speed, "speed", system, 2),
            show(result.left, "height", system, 2),
        )
        return f"It falls at {speed}, with {left} left"

    def frame(self, result: Falling, look: Look) -> tuple[float, float]:
        """Return what falls and from where."""
        return result.mass, result.height

    def build(self, figure: Figure, look: Look, result: Falling) -> Iterable[Artist]:
        """Draw ruler and axes; return what moves."""
        fall, bars = figure.subplots(1, 2, width_ratios=(1.0, 1.2))
        return [*self._build_fall(fall, look, result), *self._build_bars(bars, look, result)]

    def _build_fall(self, ax: Axes, look: Look, result: Falling) -> list[Artist]:
        top = look.shown(result.height, "height").item()
        ax.set(xlim=(-1, 1), ylim=(-0.1 * top, 1.12 * top), xticks=[])
        ax.spines["bottom"].set_visible(False)
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("height", "height"))
        ax.set_title("the fall: a mark at equal times")
        ax.axhspan(-0.1 * top, 0, facecolor=PALE, edgecolor=GREY, hatch="//", lw=0)
        ax.axhline(0, color=INK, lw=2)
        times = np.linspace(0, fall_time(result.height), _TRACES + 1)
        self._marks = [
            (time, look.shown(Falling(**self._body(result), time=time).left, "height").item())
            for time in times
        ]
        (self.trace,) = ax.plot([], [], "o", ms=9, mfc=WHITE, mec=GREY, mew=1.2)
        (self.ball,) = ax.plot([], [], "o", ms=22, mfc=ORANGE, mec=INK, mew=1.2)
        self.word = ax.text(_BESIDE, 0, "", va="bottom")
        return [self.trace, self.ball, self.word]

    @staticmethod
    def _body(result: Falling) -> dict[str, float]:
        return {"mass": result.mass, "height": result.height}

    def _build_bars(self, ax: Axes, look: Look, result: Falling) -> list[Artist]:
        whole = look.shown(result.energy + result.energy_left, "energy").item()
        ax.set(xlim=(-0.6, 1.6), ylim=(0, 1.2 * whole))
        ax.set_xticks([0, 1], ["of height", "of motion"])
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylabel(look.label("energy", "energy"))
        ax.set_title("height turns into motion")
        ax.axhline(whole, color=GREY, lw=1.2, ls=":")
        self.bars = ax.bar([0, 1], [0, 0], width=0.6, edgecolor=INK)
        self.bars[0].set(facecolor=WHITE, hatch="//")
        self.bars[1].set(facecolor=INK if look.mono else YELLOW)
        return list(self.bars)

    def update(self, result: Falling, look: Look) -> None:
        """Move ball and bars."""
        height = look.shown(result.left, "height").item()
        self.ball.set_data([0], [height])
        behind = [mark for time, mark in self._marks if time <= result.time]
        self.trace.set_data([0] * len(behind), behind)
        self.word.set_y(height)
        self.word.set_text(look.show(result.speed, "speed", 2))
        for bar, energy in zip(self.bars, (result.energy_left, result.energy), strict=True):
            bar.set_height(look.shown(energy, "energy").item())
