# SPDX-License-Identifier: MIT
"""Draw the odds of a demonstration: the fall, the chance against height, as wished or not."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import FixedLocator, MaxNLocator, NullLocator

from glasskit.demonstration import DroppedBall, Entry, FallingPane, Plan, Prospect, approvals
from glasskit.draw.look import GREEN, GREY, INK, ORANGE, PALE, SKY, WHITE, YELLOW, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.words.demonstration import odds_verdict

__all__ = ["OddsScene", "Outlook"]

_STYLES = (("-", "o", ORANGE, "//"), ("--", "s", SKY, "\\\\"), ("-.", "^", YELLOW, ".."))
_TOPS = (2.5, 3.5, 5.0, 12.0)  # ends of the axis of the fall [m]
_PERSON = 1.7  # [m]
_HELD, _BROKE = -8.0, 108.0  # where the marks of the log stand [%]
_TICK = -16.0  # where those of approval stand [%]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """A plan at one height, with what has happened so far.

    Attributes
    ----------
    plan : Plan
        At the height shown.
    seen : tuple of Entry
        Blows of the log.
    even : bool
        Whether equal ways on the axis are equal heights; equal factors otherwise.

    """

    plan: Plan
    seen: tuple[Entry, ...] = ()
    even: bool = False

    @property
    def asked(self) -> tuple[float, ...]:
        """Heights at which approval asks that such panes hold [m]."""
        plan = self.plan
        rules = approvals([item.specimen for item in plan.prospects], plan.rig, plan.heights)
        return tuple(one.height for one in rules)


class OddsScene(Scene[Outlook]):
    """The fall to scale, a curve with its band for each kind, and the wish."""

    sources = ("Zener1941", "Weibull1951", "Barff1876")

    def verdict(self, result: Outlook, system: System) -> str:
        """Return what the picture says."""
        return odds_verdict(result.plan, system)

    def frame(self, result: Outlook, look: Look) -> Hashable:
        """Return the ends of the axes, and all that the curves are drawn from."""
        curves = tuple(
            (item.specimen.name, hash(item.odds.chances.tobytes()))
            for item in result.plan.prospects
        )
        plan = result.plan
        fixed = (plan.window, plan.wish.break_share, plan.wish.survive_share)
        rig = type(plan.rig).__name__
        return (
            self._top(plan),
            self._ends(result),
            result.even,
            result.seen,
            plan.place,
            fixed,
            rig,
            curves,
        )

    @staticmethod
    def _top(plan: Plan) -> float:
        """Return the end of the axis of the fall [m]."""
        highest = plan.place.release(plan.rig, max(plan.height, plan.best))
        return next(top for top in _TOPS if top >= 1.05 * highest)

    @staticmethod
    def _ends(result: Outlook) -> tuple[float, float]:
        """Return the ends of the axis of heights [m]."""
        plan = result.plan
        if not result.even:
            return float(plan.heights[0]), float(plan.heights[-1])
        wanted = 1.2 * max(plan.height, plan.best, *(plan.window or ()))
        return 0.0, next(
            top
            for top in (*_TOPS[:2], float(plan.heights[-1]))
            if top >= wanted or top == plan.heights[-1]
        )

    def build(self, figure: Figure, look: Look, result: Outlook) -> Iterable[Artist]:
        """Draw axes, curves and log; return what moves."""
        widths = (0.75, 2.0, 2.0) if look.large else (0.6, 2.4, 1.35)
        fall, curves, wish = figure.subplots(1, 3, width_ratios=widths)
        return [
            *self._build_fall(fall, look, result.plan),
            *self._build_curves(curves, look, result),
            *self._build_wish(wish, look, result.plan),
        ]

    def _build_fall(self, ax: Axes, look: Look, plan: Plan) -> list[Artist]:
        top = self._top(plan)
        ax.set(xlim=(0, 1), ylim=look.shown([-0.04 * top, top], "height"), xticks=[])
        ax.set_title("to scale")
        ax.set_ylabel(look.label("above the floor", "height"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        tall = look.shown(_PERSON, "height").item()
        body: dict[str, Any] = {"color": GREY, "solid_capstyle": "round"}
        ax.plot([0.2, 0.2], [0, 0.8 * tall], lw=9, **body)
        ax.plot([0.2], [0.92 * tall], marker="o", ms=11, color=GREY)
        ax.set_xlabel("a grown-up\nbeside it" if look.large else "a grown-up beside it")
        flat = isinstance(plan.rig, FallingPane)
        lies = look.shown(plan.place.release(plan.rig, 0.0), "height").item()
        ax.axhline(0.0, color=INK, lw=1.0)
        if not flat:
            stand = Rectangle((0.5, 0.0), 0.45, lies, fc=PALE, ec=GREY, lw=1.0)
            ax.add_patch(stand)
            ax.plot([0.45, 1.0], [lies, lies], color=SKY, lw=7)
            ax.plot([0.45, 1.0], [lies, lies], color=INK, lw=1.4)
        round_one = isinstance(plan.rig, DroppedBall)
        shape: dict[str, Any] = {"marker": "o" if round_one else "s", "ms": 15}
        if flat:
            shape = {"marker": "_", "ms": 40, "mew": 6}
        self.lies = lies
        (self.way,) = ax.plot([0.72, 0.72], [lies, lies], color=INK, lw=1.4, ls=":")
        (self.falling,) = ax.plot([], [], ls="", mfc=ORANGE, mec=INK, **shape)
        return [self.way, self.falling]

    def _build_curves(self, ax: Axes, look: Look, result: Outlook) -> list[Artist]:
        plan = result.plan
        ends = look.shown(self._ends(result), "height")
        ax.set(xlim=ends, ylim=(-16, 116), xscale="linear" if result.even else "log")
        if result.even:
            ax.xaxis.set_major_locator(MaxNLocator(5))
        else:
            plain = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50]
            ticks = [tick for tick in plain if ends[0] <= tick <= ends[1]]
            ticks = ticks[::2] if look.large else ticks
            ax.xaxis.set_major_locator(FixedLocator(ticks))
            ax.xaxis.set_minor_locator(NullLocator())
            ax.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
        ax.set_yticks([0, 25, 50, 75, 100])
        ax.set_xlabel(look.label("height of fall", "height"))
        ax.set_ylabel("chance of breaking / %")
        ax.set_title("the odds" if look.large else "the odds, and what is not known")
        if plan.window is not None:
            sides = look.shown(plan.window, "height")
            low, high = sides.tolist()
            ax.add_patch(Rectangle((low, 0), high - low, 100, **_wished(look)))
        heights = look.shown(plan.heights, "height")
        for item, style in zip(plan.prospects, _styles(plan), strict=True):
            self._build_kind(ax, look, item, style, heights)
            self._build_log(ax, look, result, item, style)
        if result.seen:
            place: dict[str, Any] = {"transform": ax.get_yaxis_transform(), "va": "center"}
            ax.text(0.01, _BROKE, "broke", **place)
            ax.text(0.01, _HELD, "held", **place)
        asked = look.shown(result.asked, "height")
        ax.plot(
            asked,
            np.full(len(asked), _TICK),
            ls="",
            marker="^",
            ms=10,
            color=INK,
            clip_on=False,
        )
        if len(asked):
            words = "▲ approval" if look.large else "▲ approval tests ask that such panes hold"
            ax.text(0.97, 0.035, words, transform=ax.transAxes, va="bottom", ha="right")
        (self.now,) = ax.plot([0, 0], [-3, 103], color=INK, lw=1.6)
        self.dots = [_dot(ax, look, style) for style in _styles(plan)]
        return [self.now, *self.dots]

    @staticmethod
    def _build_kind(
        ax: Axes, look: Look, item: Prospect, style: tuple[str, ...], heights: Any
    ) -> None:
        line, _, colour, hatch = style
        fill: dict[str, Any] = {"facecolor": colour, "alpha": 0.45, "edgecolor": "none"}
        if look.mono:
            fill = {"facecolor": "none", "edgecolor": GREY, "hatch": hatch, "lw": 0.6}
        ax.fill_between(heights, 100 * item.odds.low, 100 * item.odds.high, **fill)
        ax.plot(heights, 100 * item.odds.chance, color=INK, ls=line, lw=2.2)

    @staticmethod
    def _build_log(
        ax: Axes, look: Look, result: Outlook, item: Prospect, style: tuple[str, ...]
    ) -> None:
        for broke, level in ((True, _BROKE), (False, _HELD)):
            falls = [
                entry.height
                for entry in result.seen
                if entry.kind == item.specimen.name and entry.broke is broke
            ]
            ax.plot(
                look.shown(falls, "height"),
                np.full(len(falls), level),
                ls="",
                marker=style[1],
                ms=8,
                mfc=(INK if look.mono else style[2]) if broke else WHITE,
                mec=INK,
            )

    def _build_wish(self, ax: Axes, look: Look, plan: Plan) -> list[Artist]:
        count = len(plan.prospects)
        ax.set(xlim=(-3, 103), ylim=(count - 0.35, -0.75), yticks=[], xticks=[0, 50, 100])
        ax.spines["left"].set_visible(False)
        ax.set_xlabel(
            "breaking / %\nshaded: as wished"
            if look.large
            else "chance of breaking / %\n(shaded: as wished)"
        )
        self.bands, self.points, self.words = [], [], []
        for row, (item, style) in enumerate(zip(plan.prospects, _styles(plan), strict=True)):
            share = plan.wish.break_share if item.shall_break else plan.wish.survive_share
            left = 100 * share if item.shall_break else 0.0
            ax.add_patch(
                Rectangle((left, row - 0.25), 100 - 100 * share, 0.5, **_wished(look))
            )
            ax.plot([0, 100], [row, row], color=GREY, lw=1)
            fill = PALE if look.mono else style[2]
            band = Rectangle((0, row - 0.13), 0, 0.26, fc=fill, ec=INK, lw=1.2, alpha=0.8)
            self.bands.append(ax.add_patch(band))
            self.points.append(_dot(ax, look, style))
            self.words.append(ax.text(0, row - 0.32, "", ha="left", va="bottom"))
        self.verdict = ax.text(
            0.5, 1.0, "", transform=ax.transAxes, ha="center", va="bottom", weight="bold"
        )
        ax.set_title(" ")  # keeps the room for the verdict
        return [*self.bands, *self.points, *self.words, self.verdict]

    def update(self, result: Outlook, look: Look) -> None:
        """Move the fall, the line, the dots and the bars to the height."""
        plan = result.plan
        height = look.shown(plan.height, "height").item()
        self.falling.set_data([0.72], [self.lies + height])
        self.way.set_ydata([self.lies, self.lies + height])
        self.now.set_xdata([height, height])
        longest = 11 if look.large else 15
        for row, item in enumerate(plan.prospects):
            chance, low, high = (100 * end for end in (item.chance, item.low, item.high))
            self.dots[row].set_data([height], [chance])
            self.points[row].set_data([chance], [row])
            self.bands[row].set(x=low, width=high - low)
            name = item.specimen.name
            short = name if len(name) <= longest else f"{name[: longest - 1]}…"
            self.words[row].set_text(f"{short}: {chance:.0f}% break")
        self.verdict.set_text("as wished" if plan.fits else "not as wished")


def _styles(plan: Plan) -> list[tuple[str, ...]]:
    """Return line, mark, colour and hatch of each kind."""
    return [_STYLES[row % len(_STYLES)] for row in range(len(plan.prospects))]


def _dot(ax: Axes, look: Look, style: tuple[str, ...]) -> Any:
    fill = WHITE if look.mono else style[2]
    return ax.plot([], [], ls="", marker=style[1], ms=12, mfc=fill, mec=INK, mew=1.6)[0]


def _wished(look: Look) -> dict[str, Any]:
    """Return patch settings for what is as wished."""
    if look.mono:
        return {"facecolor": "#F2F2F2", "edgecolor": GREY, "lw": 1.0, "ls": "--"}
    return {"facecolor": GREEN, "edgecolor": GREEN, "alpha": 0.3, "lw": 1.0}
