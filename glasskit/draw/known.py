# SPDX-License-Identifier: MIT
"""Draw one known drop on the odds of its panes, and where all known drops fell."""

from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FixedLocator, NullLocator

from glasskit.demonstration import Knowledge, Reckoning
from glasskit.draw.look import GREY, INK, PALE, PURPLE, WHITE, YELLOW, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.words.known import known_verdict

_TICKS = (0.1, 0.2, 0.5, 1, 2, 5)


class KnownScene(Scene[Knowledge]):
    """Odds before and after all known drops, and every drop among what was expected."""

    sources = ("Barff1876", "ASTMC1048")

    def verdict(self, result: Knowledge, system: System) -> str:
        """Return what the picture says."""
        return known_verdict(result, system)

    def frame(self, result: Knowledge, look: Look) -> Hashable:
        """Return the record: everything stands still while it is shown."""
        return result.reckoning.case.name

    def build(self, figure: Figure, look: Look, result: Knowledge) -> Iterable[Artist]:
        """Draw the curves of one record, and the row of all."""
        curves, row = figure.subplots(1, 2, width_ratios=(1.5, 1.0))
        self._curves(curves, look, result)
        self._all(row, look, result)
        return []

    def update(self, result: Knowledge, look: Look) -> None:
        """Do nothing: a record is drawn at once."""

    @staticmethod
    def _curves(ax: Axes, look: Look, result: Knowledge) -> None:
        case = result.reckoning.case
        heights = look.shown(result.after.heights, "height")
        ax.set(xscale="log", xlim=(heights[0], heights[-1]), ylim=(-4, 104))
        ticks = [tick for tick in _TICKS if heights[0] <= tick <= heights[-1]]
        ax.xaxis.set_major_locator(FixedLocator(ticks[:: 2 if look.large else 1]))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.set_xticks(ticks[:: 2 if look.large else 1])
        ax.set_xticklabels([f"{tick:g}" for tick in ticks[:: 2 if look.large else 1]])
        ax.set_yticks([0, 25, 50, 75, 100])
        ax.set_xlabel(look.label("height of fall", "height"))
        ax.set_ylabel("chance of breaking / %")
        ax.set_title("before and after all drops")
        colour = YELLOW if case.specimen.kind == "annealed" else PURPLE
        before, after = result.before, result.after
        grey: dict[str, Any] = {"fc": PALE, "ec": GREY, "lw": 0.8, "hatch": "//"}
        ax.fill_between(heights, 100 * before.low, 100 * before.high, **grey, label="before")
        fill: dict[str, Any] = {"fc": WHITE if look.mono else colour, "ec": INK, "lw": 1.0}
        fill["alpha"] = 0.8
        ax.fill_between(heights, 100 * after.low, 100 * after.high, **fill, label="after")
        ax.plot(heights, 100 * before.chance, color=GREY, ls="--", lw=2.0)
        ax.plot(heights, 100 * after.chance, color=INK, lw=2.4)
        last = case.hits[-1].rig
        for broke in (False, True):
            falls = [hit.height for hit in case.hits if hit.rig == last and hit.broke is broke]
            at = look.shown(falls, "height")
            chance = 100 * np.interp(at, heights, after.chance)
            mark = INK if broke else WHITE
            ax.plot(at, chance, ls="", marker="X" if broke else "o", ms=12, mfc=mark, mec=INK)
        ax.legend(loc="upper left", frameon=False)

    @staticmethod
    def _all(ax: Axes, look: Look, result: Knowledge) -> None:
        rows = result.all_of_them
        ax.set(xlim=(-3, 103), ylim=(len(rows) - 0.4, -0.6), yticks=[], xticks=[0, 50, 100])
        ax.spines["left"].set_visible(False)
        ax.set_xlabel(
            "chance said\nbeforehand / %" if look.large else "chance of breaking by then / %"
        )
        ax.set_title("all, each left out once" if not look.large else "each left out once")
        for at, one in enumerate(rows):
            _row(ax, at, one, look, chosen=one.case.name == result.reckoning.case.name)


def _row(ax: Axes, at: int, one: Reckoning, look: Look, *, chosen: bool) -> None:
    """Draw one record from the chance at the fall it held to that at the one that broke it."""
    view = one.left_out
    colour = YELLOW if one.case.specimen.kind == "annealed" else PURPLE
    fill = (PALE if one.case.specimen.kind == "annealed" else WHITE) if look.mono else colour
    ax.barh(
        at, 100 * (view.broke - view.held), left=100 * view.held, height=0.62,
        color=fill, ec=INK, lw=2.6 if chosen else 0.8,
    )  # fmt: skip
    broke = one.case.hits[-1].broke
    size = 11 if chosen else 7
    if view.held > 0:
        ax.plot([100 * view.held], [at], marker="o", ms=size, mfc=WHITE, mec=INK)
    if broke:
        ax.plot([100 * view.broke], [at], marker="X", ms=size, mfc=INK, mec=INK)
