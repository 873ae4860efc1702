# SPDX-License-Identifier: MIT
"""Draw the odds of a demonstration: the fall, a hundred panes of each kind, the target."""

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
from glasskit.draw.hundred import KEY, Hundred
from glasskit.draw.look import GREEN, GREY, INK, PALE, PURPLE, WHITE, YELLOW, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import System
from glasskit.words.demonstration import odds_verdict

# Line, mark and colour of a kind, and how the first two look in text.
_STYLES = (
    ("-", "o", YELLOW, "━●━"),
    ("--", "s", PURPLE, "╍■╍"),
    ("-.", "^", GREEN, "╌▲╌"),
)
_TOPS = (2.5, 3.5, 5.0, 12.0)  # ends of the axis of the fall [m]
_PERSON = 1.7  # [m]
_HELD, _BROKE = -10.0, 113.0  # where the marks of the log stand [%]
_AT = 0.77  # where it falls, share of the width
_TICK = -26.0  # where those of approval stand, at the lower end [%]


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
    """The fall to scale, a hundred panes of each kind, the heights on target."""

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
        fixed = (plan.window, plan.target.break_share, plan.target.survive_share)
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
        plan = result.plan
        heights = (1.0, 1.3 if look.large else 1.9, 0.01)
        grid = figure.add_gridspec(3, 2, width_ratios=(1.0, 2.9), height_ratios=heights)
        foot = figure.add_subplot(grid[2, :])
        foot.axis("off")
        foot.text(0.5, 0.5, KEY, transform=foot.transAxes, ha="center", va="center")
        row = grid[0, 1].subgridspec(1, len(plan.prospects))
        fall, curves = figure.add_subplot(grid[:2, 0]), figure.add_subplot(grid[1, 1])
        kinds = [figure.add_subplot(row[0, place]) for place in range(len(plan.prospects))]
        return [
            *self._build_fall(fall, look, plan),
            *self._build_kinds(kinds, look, plan),
            *self._build_curves(curves, look, result),
        ]

    def _build_fall(self, ax: Axes, look: Look, plan: Plan) -> list[Artist]:
        top = self._top(plan)
        ax.set(xlim=(0, 1), ylim=look.shown([-0.04 * top, top], "height"), xticks=[])
        ax.set_title("to scale")
        ax.set_ylabel(look.label("above the floor", "height"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.axhline(0.0, color=INK, lw=1.4)
        _person(ax, 0.16, look.shown(_PERSON, "height").item())
        flat = isinstance(plan.rig, FallingPane)
        lies = look.shown(plan.place.release(plan.rig, 0.0), "height").item()
        self.shield = Rectangle((0.36, 0.0), 0.03, 0.0, fc=WHITE, ec=INK, hatch="||", lw=1.2)
        ax.add_patch(self.shield)
        ax.text(0.35, 0.0, " screen", ha="right", va="bottom", rotation=90)
        if not flat:
            ax.plot([0.55, 1.0], [lies, lies], color=INK, lw=5)
            for leg in (0.6, 0.95):
                ax.plot([leg, leg], [0, lies], color=GREY, lw=5)
        round_one = isinstance(plan.rig, DroppedBall)
        shape: dict[str, Any] = {"marker": "o" if round_one else "s", "ms": 15}
        if flat:
            shape = {"marker": "_", "ms": 40, "mew": 6}
        self.lies = lies
        (self.way,) = ax.plot([_AT, _AT], [lies, lies], color=INK, lw=1.4, ls=":")
        (self.falling,) = ax.plot([], [], ls="", mfc=PALE, mec=INK, **shape)
        return [self.shield, self.way, self.falling]

    def _build_kinds(self, axes: list[Axes], look: Look, plan: Plan) -> list[Artist]:
        """Draw a hundred panes of each kind, its count above and its target below."""
        self.hundreds, self.counts = [], []
        room = (11 if look.large else 24) if len(axes) > 2 else 20
        for ax, item, style in zip(axes, plan.prospects, _styles(plan), strict=True):
            name = item.specimen.name
            short = name if len(name) <= room else f"{name[: room - 1]}…"
            ax.set_title(f"{style[3]} {short}", pad=24 * look.scale)
            count = ax.text(0.5, 1.02, "", transform=ax.transAxes, ha="center", va="bottom")
            self.counts.append(count)
            share = 100 * plan.target.share(item.specimen)
            least = f"{share:.0f} or more"
            most = f"{100 - share:.0f} or fewer"
            ax.set_xlabel(f"target: {least if item.shall_break else most}")
            self.hundreds.append(Hundred(ax, "s", 6.5 if look.large else 8.0))
        marks = [artist for hundred in self.hundreds for artist in hundred.artists]
        return [*marks, *self.counts]

    def _build_curves(self, ax: Axes, look: Look, result: Outlook) -> list[Artist]:
        plan = result.plan
        ends = look.shown(self._ends(result), "height")
        ax.set(xlim=ends, ylim=(_TICK, 122), xscale="linear" if result.even else "log")
        if result.even:
            ax.xaxis.set_major_locator(MaxNLocator(5))
        else:
            plain = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50]
            ticks = [tick for tick in plain if ends[0] <= tick <= ends[1]]
            ticks = ticks[::2] if look.large else ticks
            ax.xaxis.set_major_locator(FixedLocator(ticks))
            ax.xaxis.set_minor_locator(NullLocator())
            ax.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
        ax.set_yticks([0, 50, 100])
        ax.set_xlabel(look.label("height of fall", "height"))
        ax.set_ylabel("breaking / %")
        if plan.window is not None:
            self._build_target(ax, look.shown(plan.window, "height").tolist())
        heights = look.shown(plan.heights, "height")
        for item, style in zip(plan.prospects, _styles(plan), strict=True):
            self._build_kind(ax, item, style, heights)
            self._build_log(ax, look, result, item, style)
        if result.seen:
            place: dict[str, Any] = {"transform": ax.get_yaxis_transform(), "va": "center"}
            ax.text(0.01, _BROKE, "broke", **place)
            ax.text(0.01, _HELD, "held", **place)
        asked = look.shown(result.asked, "height")
        if len(asked):  # an empty mark that is not clipped lies in the corner of the figure
            marks: dict[str, Any] = {"ls": "", "marker": "^", "ms": 10, "clip_on": False}
            ax.plot(asked, np.full(len(asked), _TICK), color=INK, **marks)
            words = "▲ approval" if look.large else "▲ approval tests ask that such panes hold"
            ax.text(0.12, 0.02, words, transform=ax.transAxes, va="bottom")
        (self.now,) = ax.plot([0, 0], [-3, 103], color=INK, lw=1.6)
        self.dots = [_dot(ax, look, style) for style in _styles(plan)]
        return [self.now, *self.dots]

    @staticmethod
    def _build_target(ax: Axes, ends: list[float]) -> None:
        """Draw the bracket over the heights that are on target, on average over all worlds."""
        low, high = ends
        ax.plot([low, low, high, high], [98, 106, 106, 98], color=INK, lw=3)
        side = "center" if ax.get_xlim()[0] < low and high < ax.get_xlim()[1] else "left"
        middle = np.sqrt(low * high) if ax.get_xscale() == "log" else (low + high) / 2
        ax.text(middle, 108, "on target, on average", ha=side, va="bottom")

    @staticmethod
    def _build_kind(ax: Axes, item: Prospect, style: tuple[str, ...], heights: Any) -> None:
        """Draw one kind: its curve, thin lines where it may lie, its name on the curve."""
        for edge in (item.odds.low, item.odds.high):
            ax.plot(heights, 100 * edge, color=GREY, ls=style[0], lw=0.9)
        ax.plot(heights, 100 * item.odds.chance, color=INK, ls=style[0], lw=2.6)

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

    def update(self, result: Outlook, look: Look) -> None:
        """Move the fall, the line, the dots and the panes to the height."""
        plan = result.plan
        height = look.shown(plan.height, "height").item()
        self.falling.set_data([_AT], [self.lies + height])
        self.way.set_ydata([self.lies, self.lies + height])
        self.shield.set_height(self.lies + 1.05 * height)
        self.now.set_xdata([height, height])
        for row, item in enumerate(plan.prospects):
            self.dots[row].set_data([height], [100 * item.chance])
            self.hundreds[row].set(item.low, item.chance, item.high)
            chance, low, high = (
                f"{100 * share:.0f}" for share in (item.chance, item.low, item.high)
            )
            self.counts[row].set_text(f"{chance} ({low} to {high}) break")


def _styles(plan: Plan) -> list[tuple[str, ...]]:
    """Return line, mark, colour and hatch of each kind."""
    return [_STYLES[row % len(_STYLES)] for row in range(len(plan.prospects))]


def _dot(ax: Axes, look: Look, style: tuple[str, ...]) -> Any:
    fill = WHITE if look.mono else style[2]
    return ax.plot([], [], ls="", marker=style[1], ms=12, mfc=fill, mec=INK, mew=1.6)[0]


def _person(ax: Axes, x: float, tall: float) -> None:
    """Draw a person of this height who stands on the floor."""
    body: dict[str, Any] = {"color": GREY, "solid_capstyle": "round"}
    for foot in (-0.05, 0.05):
        ax.plot([x, x + foot], [0.48 * tall, 0.02 * tall], lw=5, **body)
    ax.plot([x, x], [0.5 * tall, 0.78 * tall], lw=11, **body)
    ax.plot([x, x + 0.11], [0.76 * tall, 0.55 * tall], lw=4, **body)
    ax.plot([x], [0.93 * tall], marker="o", ms=13, color=GREY)
