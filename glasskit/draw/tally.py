# SPDX-License-Identifier: MIT
"""Draw a show of hands: two bars for each answer, before and after."""

import textwrap
from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from glasskit.classroom import Tally
from glasskit.draw.look import GREY, INK, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.words.tally import letters, tally_verdict

_HALF = 0.36  # width of one bar, in rows


class TallyScene(Scene[Tally]):
    """Answers down the side, hands to the right; a tick once the room has been told."""

    def verdict(self, result: Tally, system: System) -> str:
        """Return what the picture says."""
        return tally_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Tally) -> Iterable[Artist]:
        """Draw answers, axis and key; see `Scene`."""
        ax = figure.subplots()
        options = result.question.options
        rows = range(len(options))
        width = 38 if look.large else 48
        names = [
            textwrap.fill(f"{name}: {option.text}", width)
            for name, option in zip(letters(len(options)), options, strict=True)
        ]
        ax.set(xlim=(0, _limit(result, look)), ylim=(len(options) - 0.4, -0.6), xlabel="hands")
        ax.set_yticks(list(rows), names, ha="left")
        ax.tick_params(axis="y", length=0, pad=330 * (1.35 if look.large else 1.0))
        # The axis ends at the class; beside it is room for the words.
        hands = _class(result)
        round_steps = MaxNLocator(5, integer=True, steps=[1, 2, 5, 10])
        ticks = np.asarray(round_steps.tick_values(0, hands))
        ax.set_xticks(ticks[ticks <= hands])
        ax.spines["bottom"].set_bounds(0, hands)
        self.before = ax.barh(
            [row - _HALF / 2 for row in rows],
            0,
            _HALF,
            color=WHITE,
            edgecolor=GREY,
            hatch="///",
            linewidth=1.6,
            label="before",
        )
        self.after = ax.barh(
            [row + _HALF / 2 for row in rows], 0, _HALF, color=INK, label="after"
        )
        figure.legend(loc="outside lower right", ncols=2, frameon=False)
        style: Any = {"va": "center", "ha": "left"}
        self.counts = [
            ax.text(0, row + place, "", **style) for row in rows for place in (-0.18, 0.2)
        ]
        self.tick = ax.text(
            _limit(result, look),
            result.question.correct,
            "✓ what happens",
            ha="right",
            va="center",
            weight="bold",
        )
        return [*self.before.patches, *self.after.patches, *self.counts, self.tick]

    def update(self, result: Tally, look: Look) -> None:
        """Set bars and counts; see `Scene`."""
        gap = 0.008 * _limit(result, look)
        pairs = zip(result.before, result.after, strict=True)
        bars = zip(self.before.patches, self.after.patches, strict=True)
        for row, (hands, both) in enumerate(zip(pairs, bars, strict=True)):
            for place, (count, bar) in enumerate(zip(hands, both, strict=True)):
                bar.set_width(count)
                text = self.counts[2 * row + place]
                text.set_text(str(count) if count else "")
                text.set_x(count + gap)
        self.tick.set_visible(result.revealed)

    def frame(self, result: Tally, look: Look) -> Hashable:
        """Return question and axis; see `Scene`."""
        return result.question.key, _limit(result, look)


def _class(result: Tally) -> float:
    """Return the size of the class in whole tens, of a hall in whole hundreds."""
    hands = max(sum(result.before), sum(result.after), result.size, 1)
    step = 10 if hands <= 100 else 100
    return float(step * np.ceil(hands / step))


def _limit(result: Tally, look: Look) -> float:
    """Return the end of the panel: room for the words beside the longest bar."""
    return (1.8 if look.large else 1.25) * _class(result)
