# SPDX-License-Identifier: MIT
"""Draw what makes a laboratory sure: drops in order, mirrors, a lot among classes, a trend."""

from collections.abc import Hashable, Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator, PercentFormatter

from glasskit.draw.look import GREY, INK, PALE, SQUEEZE, Look
from glasskit.draw.scene import FixedScene, Scene
from glasskit.lab import (
    CLASSES,
    Gauge,
    Lasting,
    LotGrade,
    MirrorSet,
    PowerLine,
    Reduction,
    UpAndDown,
)
from glasskit.quantities import System
from glasskit.strength import ProofPlan, proof_survival
from glasskit.words.sure import (
    density_shares,
    density_verdict,
    drops_verdict,
    fatigue_verdict,
    gauge_shares,
    gauge_verdict,
    lot_verdict,
    mirrors_verdict,
    proof_verdict,
    trend_verdict,
)


class DropsScene(Scene[UpAndDown]):
    """Drops in order, up after one that held, down after a break; and the chance.

    Only the interval goes with the confidence: it moves over what stands still.
    """

    sources = ("DixonMood1948",)

    def frame(self, result: UpAndDown, look: Look) -> Hashable:
        """Return what is drawn once: the drops and their fit."""
        return result.heights.tobytes(), result.broke.tobytes(), result.by_factor

    def verdict(self, result: UpAndDown, system: System) -> str:
        """Return what the picture says."""
        return drops_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: UpAndDown) -> Iterable[Artist]:
        """Draw the drops and the chance; return the interval."""
        walk, chance = figure.subplots(1, 2, sharey=True, width_ratios=[3, 2])
        number = np.arange(1, result.broke.size + 1)
        height = look.shown(result.heights, "height")
        reach = np.ptp(height)
        self._ends = height.min() - 0.6 * reach, height.max() + 0.6 * reach
        half = look.shown(result.half, "height").item()
        for ax in (walk, chance):
            ax.axhline(half, color=INK, lw=1.4, ls="--")
        walk.plot(number, height, color=GREY, lw=0.8)
        broke = result.broke
        walk.plot(number[broke], height[broke], "X", color=INK, ms=9, label="broke")
        walk.plot(
            number[~broke], height[~broke], "o", mfc="white", mec=INK, ms=9, label="held"
        )
        walk.set_xlabel("number of the drop")
        walk.set_ylabel(look.label("height", "height"))
        walk.set_ylim(*self._ends)
        walk.xaxis.set_major_locator(MaxNLocator(8, integer=True))
        walk.yaxis.set_major_locator(MaxNLocator(5))
        places = np.linspace(*self._ends, 200)
        metres = places * (result.heights.max() / height.max())
        chance.plot(result.chance(np.maximum(metres, 1e-9)), places, color=INK)
        chance.plot(0.5, half, "o", color=INK, ms=9)
        chance.set_xlim(0, 1)
        chance.xaxis.set_major_formatter(PercentFormatter(1.0, decimals=0))
        chance.set_xlabel("chance of breaking")
        figure.legend(loc="outside lower left", frameon=False, ncols=2)
        self._bands = [
            ax.axhspan(0, 1, facecolor=GREY, alpha=0.15, lw=0) for ax in (walk, chance)
        ]
        self._words = chance.text(0.98, 0, "", ha="right", va="top")
        return [*self._bands, self._words]

    def update(self, result: UpAndDown, look: Look) -> None:
        """Set the interval."""
        low, high = np.clip(look.shown(result.interval, "height"), *self._ends)
        for band in self._bands:
            band.set_bounds(0, low, 1, high - low)
        self._words.set_y(low)
        self._words.set_text(f"half break here, {result.found.level:.0%} ")


class MirrorsScene(FixedScene[MirrorSet]):
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
            "squeeze wins here:\nno pull at a flaw",
            transform=ax.transAxes,
            va="top",
        )
        ax.set_xlabel(look.label("stress at the break", "stress"))
        ax.set_ylabel(look.label("mirror radius", "thickness"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        return []


class LotScene(FixedScene[LotGrade]):
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


def _power(
    ax: Axes, look: Look, line: PowerLine, kind: str, ends: tuple[float, float]
) -> None:
    """Draw strengths against a factor on logarithmic axes, the line, and its slopes."""
    x = look.shown(line.factor, kind)
    strength = look.shown(line.strengths, "stress")
    ax.plot(x, strength, "o", mfc="none", mec=INK, ms=9)
    fine = np.geomspace(*ends, 50)
    places = look.shown(fine, kind)
    flat, steep = (look.shown(line.at(fine, one), "stress") for one in line.interval)
    ax.fill_between(places, flat, steep, color=GREY, alpha=0.15, lw=0)
    ax.plot(places, look.shown(line.at(fine), "stress"), color=INK)
    ax.set(xscale="log", yscale="log")
    ax.set_ylim(strength.min() / 1.2, strength.max() * 1.3)
    ax.yaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
    for axis in (ax.xaxis, ax.yaxis):
        axis.set_minor_locator(NullLocator())
        axis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
    ax.text(0.02, 0.97, "shaded: slopes that chance allows", transform=ax.transAxes, va="top")
    ax.set_ylabel(look.label("strength", "stress"))


class TrendScene(FixedScene[PowerLine]):
    """Strength against size on logarithmic axes, the line and the steepest and flattest."""

    def verdict(self, result: PowerLine, system: System) -> str:
        """Return what the picture says."""
        return trend_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: PowerLine) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        ends = result.factor.min() / 1.1, result.factor.max() * 1.1
        _power(ax, look, result, "length", ends)
        ax.xaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
        ax.set_xlabel(look.label("size", "length"))
        return []


class FatigueScene(FixedScene[Lasting]):
    """Strength against stress rate; and how long which steady stress is borne."""

    sources = ("C1368",)

    def verdict(self, result: Lasting, system: System) -> str:
        """Return what the picture says."""
        return fatigue_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Lasting) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        rates, lives = figure.subplots(1, 2)
        line = result.found.line
        _power(
            rates, look, line, "stress_rate", (line.factor.min() / 2, line.factor.max() * 2)
        )
        rates.set_xlabel(look.label("stress rate", "stress_rate"))
        lives.set_xlabel("half last under a steady stress")
        lives.set_ylabel(look.label("steady stress", "stress"))
        times = {1.0: "1 s", 3600.0: "1 h", 3.15e7: "1 year"}
        lives.set(xscale="log", xlim=(0.3, 5e9), xticks=list(times))
        lives.set_xticklabels(list(times.values()))
        lives.xaxis.set_minor_locator(NullLocator())
        if not np.isfinite(result.found.exponent):
            return []
        stress = np.linspace(0.25, 1.0, 40) * np.median(line.strengths)
        middle, early, late = result.found.life(stress).T
        shown = look.shown(stress, "stress")
        lives.fill_betweenx(shown, early, late, color=GREY, alpha=0.15, lw=0)
        lives.plot(middle, shown, color=INK)
        steady = look.shown(result.steady, "stress").item()
        lives.axhline(steady, color=GREY, lw=1.2, ls="--")
        lives.plot(result.found.life(result.steady)[0], steady, "o", color=INK, ms=9)
        lives.set_ylim(0, shown.max() * 1.05)
        return []


class ProofScene(FixedScene[ProofPlan]):
    """Who breaks below which stress, before the proof test and after it."""

    sources = ("Evans1974",)

    def verdict(self, result: ProofPlan, system: System) -> str:
        """Return what the picture says."""
        return proof_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: ProofPlan) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        top = max(1.4 * result.scale, 1.1 * result.proof_stress, 1.1 * result.stress)
        stress = np.linspace(0, top, 300)
        x = look.shown(stress, "stress")
        pairs = (("untested", 0.0, ":"), ("passed the proof", result.proof_stress, "-"))
        for label, proof, style in pairs:
            broken = 1 - proof_survival(stress, proof, result.modulus, result.scale)
            ax.plot(x, broken, color=INK, ls=style, label=label)
        for place, words, height in (
            (result.stress, "service", 2e-3),
            (result.proof_stress, "proof", 2e-4),
        ):
            at = look.shown(place, "stress").item()
            ax.axvline(at, color=GREY, lw=1.4, ls="--")
            ax.text(at, height, f" {words}")
        ax.set(xlim=(0, x[-1]), yscale="log", ylim=(1e-5, 1.5))
        ax.yaxis.set_minor_locator(NullLocator())
        ax.yaxis.set_major_formatter(FuncFormatter(lambda share, _: f"{100 * share:g}%"))
        ax.set_ylabel("broken up to this stress")
        ax.set_xlabel(look.label("stress", "stress"))
        figure.legend(loc="outside lower left", frameon=False, ncols=2)
        return []


def draw_shares(ax: Axes, parts: list[tuple[str, float]]) -> None:
    """Draw what makes up a variance, a bar each."""
    height = -np.arange(float(len(parts)))
    ax.barh(height, [share for _, share in parts], color=PALE, edgecolor=INK)
    for y, (_, share) in zip(height, parts, strict=True):
        inside = share > 0.8
        at = share - 0.02 if inside else share + 0.02
        side = "right" if inside else "left"
        ax.text(at, y, f"{share:.0%}", va="center", ha=side)
    ax.set_yticks(height, [name for name, _ in parts])
    ax.set(xlim=(0, 1), xticks=[0, 0.5, 1])
    ax.xaxis.set_major_formatter(PercentFormatter(1.0, decimals=0))
    ax.set_xlabel("share of the variance")


class GaugeScene(FixedScene[Gauge]):
    """What each hand read on each piece, less the piece's mean; and the shares of scatter."""

    sources = ("Burdick2003",)

    def verdict(self, result: Gauge, system: System) -> str:
        """Return what the picture says."""
        return gauge_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Gauge) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        off, shares = figure.subplots(1, 2, width_ratios=[3, 2])
        left = result.readings - result.readings.mean((0, 2), keepdims=True)
        hands, pieces, _ = left.shape
        for place in range(hands):
            at = np.arange(pieces) / (pieces + 2) + place + 1 / (pieces + 2)
            shown = look.shown(left[place], "thickness")
            off.plot(at, shown, "o", mfc="none", mec=INK, ms=7)
            level = look.shown(left[place].mean(), "thickness")
            off.plot([place + 0.02, place + 0.88], [level, level], color=INK, lw=3)
        off.axhline(0, color=GREY, lw=1.2, ls="--")
        names = result.hands or [str(place + 1) for place in range(hands)]
        off.set_xticks(np.arange(hands) + 0.45, names)
        off.set_ylabel(look.label("off the mean of the piece", "thickness"))
        off.yaxis.set_major_locator(MaxNLocator(6))
        draw_shares(shares, gauge_shares(result))
        return []


class DensityScene(FixedScene[Reduction]):
    """What makes a density unsure, a bar for each reading."""

    sources = ("C693", "GUM")

    def verdict(self, result: Reduction, system: System) -> str:
        """Return what the picture says."""
        return density_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Reduction) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        draw_shares(figure.subplots(), density_shares(result))
        return []
