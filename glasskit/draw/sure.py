# SPDX-License-Identifier: MIT
"""Draw what makes a laboratory sure: drops in order, mirrors, a lot among classes, a trend."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator, PercentFormatter

from glasskit.draw.look import GREY, INK, PALE, PULL, SQUEEZE, Look
from glasskit.draw.scene import Result, Scene
from glasskit.lab import CLASSES, LotGrade, MirrorSet, PowerLine, UpAndDown
from glasskit.quantities import System
from glasskit.words.sure import (
    drops_verdict,
    lot_verdict,
    mirrors_verdict,
    trend_verdict,
)


class _Fixed(Scene[Result]):
    """A picture in which nothing moves: each result has axes of its own."""

    def frame(self, result: Result, look: Look) -> int:
        """Return a mark of the result."""
        return id(result)

    def update(self, result: Result, look: Look) -> None:
        """Leave all as it is: nothing moves."""


class DropsScene(_Fixed[UpAndDown]):
    """Drops in order, up after one that held, down after a break; and the chance."""

    sources = ("DixonMood1948",)

    def verdict(self, result: UpAndDown, system: System) -> str:
        """Return what the picture says."""
        return drops_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: UpAndDown) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        walk, chance = figure.subplots(1, 2, sharey=True, width_ratios=[3, 2])
        number = np.arange(1, result.broke.size + 1)
        height = look.shown(result.heights, "height")
        reach = np.ptp(height)
        ends = height.min() - 0.6 * reach, height.max() + 0.6 * reach
        low, high = np.clip(look.shown(result.interval, "height"), *ends)
        half = look.shown(result.half, "height").item()
        for ax in (walk, chance):
            ax.axhspan(low, high, color=PALE, lw=0)
            ax.axhline(half, color=INK, lw=1.4, ls="--")
        walk.plot(number, height, color=GREY, lw=0.8)
        broke = result.broke
        walk.plot(number[broke], height[broke], "X", color=INK, ms=9, label="broke")
        walk.plot(
            number[~broke], height[~broke], "o", mfc="white", mec=INK, ms=9, label="held"
        )
        walk.set_xlabel("number of the drop")
        walk.set_ylabel(look.label("height", "height"))
        walk.set_ylim(*ends)
        walk.xaxis.set_major_locator(MaxNLocator(8, integer=True))
        walk.yaxis.set_major_locator(MaxNLocator(5))
        places = np.linspace(*ends, 200)
        metres = places * (result.heights.max() / height.max())
        chance.plot(result.chance(np.maximum(metres, 1e-9)), places, color=INK)
        chance.plot(0.5, half, "o", color=INK, ms=9)
        chance.set_xlim(0, 1)
        chance.xaxis.set_major_formatter(PercentFormatter(1.0, decimals=0))
        chance.set_xlabel("chance of breaking")
        level = f"{result.found.level:.0%}"
        chance.text(0.98, high, f"half break here, {level} ", ha="right", va="bottom")
        figure.legend(loc="outside lower left", frameon=False, ncols=2)
        return []


class MirrorsScene(_Fixed[MirrorSet]):
    """Mirror radius against stress at the break, and the curve that squeezed glass follows."""

    sources = ("ConwayMecholsky1989",)

    def verdict(self, result: MirrorSet, system: System) -> str:
        """Return what the picture says."""
        return mirrors_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: MirrorSet) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        stress = look.shown(result.stress, "stress")
        ax.plot(stress, look.shown(result.radius, "thickness"), "o", color=INK, ms=9)
        ends = result.stress.min() * 0.97, result.stress.max() * 1.05
        fine = np.linspace(*ends, 200)
        squeeze = result.likely.compression.item()
        curve = (result.likely.constant.item() / (fine - squeeze)) ** 2
        top = 1.25 * look.shown(result.radius.max(), "thickness").item()
        ax.plot(look.shown(fine, "stress"), look.shown(curve, "thickness"), color=INK)
        bottom = min(0.0, look.shown(squeeze, "stress").item())
        ax.set_xlim(bottom, look.shown(ends[1], "stress").item() * 1.02)
        ax.set_ylim(0, top)
        low, high = result.likely.interval
        colour = GREY if look.mono else SQUEEZE
        band = look.shown(np.clip([low, high], bottom, None), "stress")
        left = look.shown(0.0, "stress").item() if not np.isfinite(low) else band[0]
        ax.axvspan(left, band[1], color=colour, alpha=0.25, lw=0)
        place = look.shown(squeeze, "stress").item()
        ax.axvline(place, color=colour if not look.mono else INK, lw=2.0, ls="--")
        ax.text(
            0.02,
            0.97,
            "here the squeeze wins:\nnothing pulls at a flaw",
            transform=ax.transAxes,
            va="top",
        )
        ax.set_xlabel(look.label("stress at the break", "stress"))
        ax.set_ylabel(look.label("mirror radius", "thickness"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        return []


class LotScene(_Fixed[LotGrade]):
    """Pieces of a lot among the classes of a standard, and the mean with its interval."""

    sources = ("GUM",)

    def verdict(self, result: LotGrade, system: System) -> str:
        """Return what the picture says."""
        return lot_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: LotGrade) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        readings = look.shown(result.readings, "stress")
        low, high = look.shown(result.interval, "stress")
        ends = min(readings.min(), low), max(readings.max(), high)
        reach = max(np.ptp(ends), 0.15 * ends[1])
        left, right = ends[0] - 0.7 * reach, ends[1] + 0.7 * reach
        ax.set(xlim=(max(left, 0), right), ylim=(0, 1))
        grades = [
            grade
            for grade in CLASSES
            if grade.standard == result.standard and grade.quantity == "surface_compression"
        ]
        borders = [look.shown(grade.above, "stress").item() for grade in grades]
        for place, (grade, border) in enumerate(zip(grades, borders, strict=True)):
            above = borders[place + 1] if place + 1 < len(borders) else np.inf
            start, end = max(border, left, 0), min(above, right)
            if end <= start:
                continue
            if place % 2 == 0:
                ax.axvspan(start, end, color=PALE, lw=0)
            if left < border:
                ax.axvline(border, color=GREY, lw=1.2)
            if end - start > 0.12 * (right - left):
                name = grade.name.replace(" (", "\n(")
                ax.text((start + end) / 2, 0.97, name, ha="center", va="top")
        ax.plot(readings, np.full(readings.size, 0.3), "o", mfc="none", mec=INK, ms=10)
        ax.plot([low, high], [0.55, 0.55], color=INK, lw=2.4, marker="|", ms=14)
        ax.plot(look.shown(result.mean, "stress"), 0.55, "D", color=INK, ms=9)
        ax.set_yticks([0.3, 0.55], ["each piece", f"mean, {result.level:.0%}"])
        ax.set_xlabel(look.label("surface compression", "stress"))
        return []


class TrendScene(_Fixed[PowerLine]):
    """Strength against size on logarithmic axes, the line and the steepest and flattest."""

    def verdict(self, result: PowerLine, system: System) -> str:
        """Return what the picture says."""
        return trend_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: PowerLine) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        size = look.shown(result.factor, "length")
        strength = look.shown(result.strengths, "stress")
        ax.plot(size, strength, "o", mfc="none", mec=INK, ms=9)
        fine = np.geomspace(result.factor.min() / 1.1, result.factor.max() * 1.1, 50)
        x = look.shown(fine, "length")
        flat, steep = (look.shown(result.at(fine, one), "stress") for one in result.interval)
        ax.fill_between(x, flat, steep, color=GREY if look.mono else PULL, alpha=0.15, lw=0)
        ax.plot(x, look.shown(result.at(fine), "stress"), color=INK)
        ax.set(xscale="log", yscale="log")
        ax.set_ylim(strength.min() / 1.2, strength.max() * 1.3)
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
            axis.set_minor_locator(NullLocator())
            axis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
        ax.text(
            0.02, 0.97, "shaded: slopes that chance allows", transform=ax.transAxes, va="top"
        )
        ax.set_xlabel(look.label("size", "length"))
        ax.set_ylabel(look.label("strength", "stress"))
        return []
