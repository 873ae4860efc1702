# SPDX-License-Identifier: MIT
"""Draw strengths: a series and two lots on Weibull paper, a reference lot over months."""

from collections.abc import Iterable
from textwrap import fill

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator
from numpy.typing import NDArray

from glasskit.draw.look import GREEN, GREY, INK, PALE, PURPLE, Look
from glasskit.draw.scene import FixedScene, Result
from glasskit.lab import Comparison, ControlChart, CurveResult, Outcome, Review
from glasskit.lab.comparing import origin_of
from glasskit.lab.curves import HIGH, LOW
from glasskit.quantities import FloatArray, System, show_number
from glasskit.strength import WeibullFit, paper_height
from glasskit.words.lab import (
    chart_verdict,
    comparison_verdict,
    curve_verdict,
    outcome_verdict,
    ratio_words,
    review_verdict,
)

_SHARES = np.array([0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.98])
_ENDS = (paper_height(0.008).item(), paper_height(0.993).item())
_COLOURS = (INK, GREEN, PURPLE, GREY)
_MARKS = "os^D"
_STYLES = ("-", "--", "-.", ":")
_USUAL = ("middle", "usual step")
_RATIOS = (0.1, 0.2, 0.5, 1, 2, 5, 10)


class _Paper(FixedScene[Result]):
    """What stands on Weibull paper."""

    sources = ("Weibull1951", "C1239")

    def _paper(self, ax: Axes, look: Look, strengths: FloatArray) -> None:
        """Rule the paper."""
        values = look.shown(strengths, "stress")
        low, high = values.min() / 1.25, values.max() * 1.25
        ax.set(xscale="log", xlim=(low, high), ylim=_ENDS)
        ax.xaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:g}"))
        ax.yaxis.set_major_locator(FixedLocator(paper_height(_SHARES).tolist()))
        ax.set_yticklabels([f"{100 * share:.0f}%" for share in _SHARES])
        ax.set_xlabel(look.label("stress at the break", "stress"))
        ax.set_ylabel("share broken")
        ax.grid(color=GREY, lw=0.4, alpha=0.6)

    def _population(
        self, ax: Axes, look: Look, place: int, name: str, fit: WeibullFit, outcome: Outcome
    ) -> None:
        """Draw one kind of origin: line, band, and each specimen as wide as it is unsure."""
        place %= len(_COLOURS)
        colour = INK if look.mono else _COLOURS[place]
        height = np.linspace(*_ENDS, 40)
        chance = -np.expm1(-np.exp(height))
        line = look.shown(fit.quantile(chance), "stress")
        band = look.shown(fit.quantile_interval(chance), "stress")
        ax.fill_betweenx(height, *band.T, color=colour, alpha=0.12, lw=0)
        for edge in band.T:
            ax.plot(edge, height, color=colour, lw=0.8, ls=_STYLES[place])
        ax.plot(line, height, color=colour, ls=_STYLES[place], label=name)
        strength, share = fit.rank_plot()
        strength, share = strength[np.isfinite(share)], share[np.isfinite(share)]
        ax.plot(
            look.shown(strength, "stress"),
            paper_height(share),
            _MARKS[place],
            color=colour,
            mfc="white" if look.mono else colour,
            ms=7,
        )
        order = np.argsort(outcome.reduction.value)
        its = order[np.searchsorted(outcome.reduction.value, strength, sorter=order)]
        half = outcome.reduction.budget.expanded()[its]
        ends = look.shown(strength + np.array([[-1], [1]]) * half, "stress")
        wide = half < strength
        ax.hlines(paper_height(share[wide]), *ends[:, wide], color=colour, lw=1.2)


class PaperScene(_Paper[Outcome]):
    """Weibull paper: points, fitted line and 95 % band of each kind of origin."""

    def verdict(self, result: Outcome, system: System) -> str:
        """Return what the picture says."""
        return outcome_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Outcome) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        self._paper(ax, look, result.reduction.value)
        for place, (name, fit) in enumerate(result.fits.items()):
            words = f"{name}: modulus {show_number(fit.modulus.item(), 2)}"
            self._population(ax, look, place, words, fit, result)
        if result.fits:
            ax.legend(loc="upper left", frameon=True, framealpha=1.0, edgecolor=GREY)
        return []


class LotsScene(_Paper[Comparison]):
    """Two lots on one paper, and how far apart their scales and moduli may be."""

    def verdict(self, result: Comparison, system: System) -> str:
        """Return what the picture says."""
        return comparison_verdict(result)

    def build(self, figure: Figure, look: Look, result: Comparison) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        paper, ratios = figure.subplots(1, 2, width_ratios=[3, 2])
        lots = list(zip(result.names, (result.first, result.second), strict=True))
        every = np.concatenate([lot.reduction.value for _, lot in lots])
        self._paper(paper, look, every)
        drawn = [
            (f"{name}, {key}", fit, lot)
            for origin in dict.fromkeys(map(origin_of, result.first.fits))
            if origin not in result.alone
            for name, lot in lots
            for key, fit in lot.fits.items()
            if origin_of(key) == origin
        ]
        for place, (words, fit, lot) in enumerate(drawn):
            self._population(paper, look, place, words, fit, lot)
        if result.ratios:
            figure.legend(loc="outside lower left", frameon=False, ncols=2)
        self._intervals(ratios, result)
        return []

    def _intervals(self, ax: Axes, result: Comparison) -> None:
        """Draw where the true ratios lie; 1 is no difference."""
        rows = [
            (f"{what}, {origin}", ratio_words(middle, ends, digits), middle, ends)
            for origin, ratio in result.ratios.items()
            for what, middle, ends, digits in (
                ("scale", ratio.scale, ratio.scale_interval, 3),
                ("modulus", ratio.modulus, ratio.modulus_interval, 2),
            )
        ]
        height = -np.arange(len(rows))
        for y, (*_, middle, ends) in zip(height, rows, strict=True):
            ax.plot(ends, [y, y], color=INK, lw=2.4, marker="|", ms=12)
            ax.plot(middle, y, "o", color=INK, ms=8)
        ax.axvline(1.0, color=GREY, lw=1.2, ls="--")
        # A long name takes both lines; the numbers stand below the picture too.
        told = [
            fill(name, 22) if len(name) > 22 else f"{name}\n{said}" for name, said, *_ in rows
        ]
        ax.set_yticks(height, told)
        ax.set(xscale="log", ylim=(-len(rows) + 0.4, 0.6))
        widest = max([1.5, *(np.exp(np.abs(np.log(ends)).max()) for *_, ends in rows)])
        ax.set_xlim(0.9 / widest, 1.1 * widest)
        ticks = [one for one in _RATIOS if 0.9 / widest <= one <= 1.1 * widest]
        ax.xaxis.set_major_locator(FixedLocator(ticks))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:g}"))
        ax.set_xlabel(fill(f"{result.names[1]} over {result.names[0]}", 22))
        ax.grid(axis="x", color=GREY, lw=0.4, alpha=0.6)


class ChartScene(FixedScene[ControlChart]):
    """A reference lot over months: each value, and its step from the one before."""

    sources = ("ISO7870", "Nelson1984")

    def verdict(self, result: ControlChart, system: System) -> str:
        """Return what the picture says."""
        return chart_verdict(result)

    def build(self, figure: Figure, look: Look, result: ControlChart) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        above, below = figure.subplots(2, 1, sharex=True, height_ratios=[3, 2])
        number = np.arange(1.0, result.values.size + 1.0)
        places = np.array(sorted({*result.outside, *result.drifts}), dtype=int)
        lines = [(result.low, "lower limit"), (result.middle, "middle")]
        lines += [(result.high, "upper limit")]
        shown = [(look.shown(at, "stress").item(), words) for at, words in lines]
        values = look.shown(result.values, "stress")
        self._points(above, look, number, values, places, shown)
        above.set_ylabel(look.label("value", "stress"))
        kind = "stress" if result.kind == "plain" else "percent"
        steps = look.shown(result.ranges, kind)
        limits = [(result.usual_range, "usual step"), (result.widest_range, "widest step")]
        told = [(look.shown(at, kind).item(), words) for at, words in limits]
        jumps = np.array(result.jumps, dtype=int) - 1
        self._points(below, look, number[1:], steps, jumps, told)
        below.set_ylabel(look.label("step", kind))
        below.set_ylim(0, 1.35 * max(steps.max(), told[1][0]))
        below.set_xlabel("number of the value, in order of time")
        below.xaxis.set_major_locator(MaxNLocator(10, integer=True))
        below.text(0.01, 0.96, "these set the limits", va="top", transform=below.transAxes)
        for ax in (above, below):
            ax.axvspan(0.4, result.baseline + 0.5, color=PALE, alpha=0.5, lw=0)
            ax.set_xlim(0.4, 1.2 * number[-1])
        return []

    def _points(
        self,
        ax: Axes,
        look: Look,
        number: FloatArray,
        values: FloatArray,
        marked: NDArray[np.int_],
        lines: Iterable[tuple[float, str]],
    ) -> None:
        """Draw values in order, those that tell of a change with a ring, and named lines."""
        for at, words in lines:
            ax.axhline(at, color=GREY, lw=1.2, ls=":" if words in _USUAL else "--")
            ax.text(
                1.0,
                at,
                f"{words} ",
                va="bottom",
                ha="right",
                transform=ax.get_yaxis_transform(),
            )
        ax.plot(number, values, "o-", color=INK, lw=1.0, ms=5)
        colour = INK if look.mono else PURPLE
        ax.plot(number[marked], values[marked], "o", mfc="none", mec=colour, ms=14, mew=2.4)


class CurveScene(FixedScene[CurveResult]):
    """A load over time: the readings, the line that gives the rate, and the peak."""

    sources = ("EN1288", "C158")

    def verdict(self, result: CurveResult, system: System) -> str:
        """Return what the picture says."""
        return curve_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: CurveResult) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax, curve = figure.subplots(), result.curve
        force = look.shown(curve.force, "force")
        peak = look.shown(curve.peak, "force").item()
        ax.plot(curve.time, force, ".-", color=INK, lw=1.0, ms=4, label="readings")
        ends = np.array([0.0, 1.0]) * curve.peak
        line = curve.start + ends / curve.rate
        colour = GREY if look.mono else GREEN
        words = f"straight line from {LOW:.0%} to {HIGH:.0%} of the peak"
        ax.plot(line, look.shown(ends, "force"), color=colour, ls="--", label=words)
        for share in (LOW, HIGH):
            ax.axhline(share * peak, color=GREY, lw=0.8, ls=":")
            ax.text(
                1.0,
                share * peak,
                f"{share:.0%} ",
                va="bottom",
                ha="right",
                transform=ax.get_yaxis_transform(),
            )
        colour = INK if look.mono else PURPLE
        at, words = curve.peak_time, "highest reading"
        ax.plot(at, peak, "o", ls="none", mfc="none", mec=colour, ms=14, mew=2.4, label=words)
        ax.set_xlabel(look.label("time", "time"))
        ax.set_ylabel(look.label("load", "force"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_ylim(min(0.0, 1.1 * force.min().item()), 1.12 * peak)
        figure.legend(loc="outside lower left", frameon=False, ncols=2)
        return []


class ReviewScene(FixedScene[Review]):
    """A table of two readers' origins; what lies on the diagonal they agree on."""

    sources = ("Cohen1960",)

    def verdict(self, result: Review, system: System) -> str:
        """Return what the picture says."""
        return review_verdict(result)

    def build(self, figure: Figure, look: Look, result: Review) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax, names = figure.subplots(), result.agreement.origins
        count = len(names)
        for row, column in np.ndindex(count, count):
            many = int(result.agreement.table[row, column])
            same = row == column
            colour = PALE if same else "none"
            box = Rectangle((column - 0.5, row - 0.5), 1, 1, fc=colour, ec=GREY, lw=1.2)
            ax.add_patch(box)
            weight = "bold" if many and not same else "normal"
            words = str(many) if many or same else ""
            ax.text(column, row, words, ha="center", va="center", weight=weight)
        first, second = result.readers
        ax.set(xlim=(-0.5, count - 0.5), ylim=(count - 0.5, -0.5))
        ax.set_xticks(range(count), names)
        ax.set_yticks(range(count), names)
        ax.set(xlabel=f"{second} (grey: both agree)", ylabel=first)
        return []
