# SPDX-License-Identifier: MIT
"""Draw dents at several loads, a dilatometer's curve, a profile, and readings by light."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator

from glasskit.draw.look import GREY, INK, PALE, Look
from glasskit.draw.scene import FixedScene
from glasskit.draw.sure import draw_shares
from glasskit.lab import (
    DentSeries,
    Dilatometry,
    ProfileBalance,
    Reduction,
    vickers_hardness,
)
from glasskit.lab.formulas import BEYOND
from glasskit.quantities import System
from glasskit.words.bench import (
    balance_verdict,
    dents_verdict,
    expansion_verdict,
    light_verdict,
    other_readings,
    shares,
)


class DentsScene(FixedScene[DentSeries]):
    """Mean pressure of each dent over its load, the fitted law, and what it goes to."""

    sources = ("LiBradt1993", "C1327")

    def verdict(self, result: DentSeries, system: System) -> str:
        """Return what the picture says."""
        return dents_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: DentSeries) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        each = look.shown(vickers_hardness(result.load, result.diagonal), "stiffness")
        ax.plot(look.shown(result.load, "force"), each, "o", mfc="none", mec=INK, ms=8)
        low, high = look.shown(result.plateau_interval, "stiffness")
        ax.axhspan(low, high, color=GREY, alpha=0.15, lw=0)
        left = look.shown(result.plateau, "stiffness").item()
        ax.axhline(left, color=INK, lw=1.4, ls="--")
        one, two = result.coefficients
        size = np.geomspace(0.8 * result.diagonal.min(), 2 * result.diagonal.max(), 100)
        load = one * size + two * size**2
        law = look.shown(2 * load / size**2, "stiffness")
        ax.plot(look.shown(load, "force"), law, color=INK)
        for group in result.groups:
            ends = np.array(group.interval)
            if np.isfinite(ends).all():
                at = look.shown(group.load, "force").item()
                ax.plot([at, at], look.shown(ends, "stiffness"), color=INK, lw=5, alpha=0.5)
        reach = np.ptp(each)
        ax.set(
            xscale="log", ylim=(min(each.min(), low) - 0.3 * reach, each.max() + 0.3 * reach)
        )
        ax.set_xticks(look.shown([group.load for group in result.groups], "force"))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:.3g}"))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_xlabel(look.label("load", "force"))
        ax.set_ylabel(look.label("mean pressure", "stiffness"))
        ax.text(
            0.02,
            0.03,
            f"shaded: left at large loads, {result.level:.0%}",
            transform=ax.transAxes,
        )
        return []


class ExpansionScene(FixedScene[Dilatometry]):
    """Elongation over temperature, two tangents, and where they meet."""

    sources = ("ISO7991", "ISO7884")

    def verdict(self, result: Dilatometry, system: System) -> str:
        """Return what the picture says."""
        return expansion_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Dilatometry) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        curve, parts = figure.subplots(1, 2, width_ratios=[3, 2])
        warm = look.shown(result.temperature, "temperature")
        grown = look.shown(result.elongation, "depth")
        curve.plot(warm, grown, ".", color=GREY, ms=5)
        top = grown.max() + 0.25 * np.ptp(grown)
        for line in (result.hard, result.soft):
            reach = np.array(
                [min(line.low, result.transition), max(line.high, result.transition)]
            )
            drawn = look.shown(line.at(reach), "depth")
            curve.plot(look.shown(reach, "temperature"), drawn, color=INK)
            fitted = np.array([line.low, line.high])
            curve.plot(
                look.shown(fitted, "temperature"),
                look.shown(line.at(fitted), "depth"),
                "|",
                color=INK,
                ms=16,
                mew=2.4,
            )
        low, high = look.shown(result.interval, "temperature")
        curve.axvspan(low, high, color=GREY, alpha=0.3, lw=0)
        meet = look.shown(result.transition, "temperature").item()
        level = look.shown(result.hard.at(result.transition), "depth").item()
        curve.plot(meet, level, "o", color=INK, ms=9)
        curve.text(meet, level, "they meet here  ", ha="right", va="bottom")
        curve.set_ylim(grown.min() - 0.05 * np.ptp(grown), top)
        curve.xaxis.set_major_locator(MaxNLocator(6))
        curve.yaxis.set_major_locator(MaxNLocator(5))
        curve.set_xlabel(look.label("temperature", "temperature"))
        curve.set_ylabel(look.label("elongation", "depth"))
        draw_shares(parts, shares(result.mean))
        return []


class LightScene(FixedScene[Reduction]):
    """A stress read by light beside what a usual wrong reading gives, and its budget."""

    sources = ("C1279", "GUM")

    def verdict(self, result: Reduction, system: System) -> str:
        """Return what the picture says."""
        return light_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Reduction) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        values, parts = figure.subplots(1, 2)
        told = [("as read", result.value.item()), *other_readings(result)]
        height = -np.arange(float(len(told)))
        shown = look.shown([value for _, value in told], "stress")
        values.barh(height, shown, color=[PALE] + ["none"] * (len(told) - 1), edgecolor=INK)
        values.plot(look.shown(result.budget.interval(), "stress"), [0, 0], color=INK, lw=5)
        values.axvline(0, color=INK, lw=1.2)
        names = [
            words.replace(" is ", " is\n").replace(" was ", " was\n") for words, _ in told
        ]
        values.set_yticks(height, names)
        values.xaxis.set_major_locator(MaxNLocator(4))
        values.set_xlabel(look.label("stress", "stress"))
        draw_shares(parts, shares(result))
        return []


class GuidedScene(LightScene):
    """The lines of both polarisations, the surface beyond them, and the budget."""

    sources = ("Guided2015", "C1422")

    def build(self, figure: Figure, look: Look, result: Reduction) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        scale, parts = figure.subplots(1, 2, width_ratios=[3, 2])
        given = {name: item.value.item() for name, item in result.inputs.items()}
        for height, kind, words in ((1, "tm", "across the face"), (0, "te", "along the face")):
            first, second = given[f"{kind}_first"], given[f"{kind}_second"]
            surface = first - BEYOND * (second - first)
            at = look.shown([first, second], "thickness")
            scale.vlines(at, height - 0.25, height + 0.25, color=INK, lw=3)
            edge = look.shown(surface, "thickness").item()
            scale.vlines(edge, height - 0.25, height + 0.25, color=INK, lw=2, ls="--")
            across = scale.get_yaxis_transform()
            scale.text(0.02, height + 0.32, f"light {words}", transform=across)
            scale.plot([edge, at[0]], [height, height], color=GREY, lw=1.2)
        scale.text(0.02, 0.02, "dashed: where the surface lies", transform=scale.transAxes)
        scale.set(ylim=(-0.7, 1.7), yticks=[])
        scale.xaxis.set_major_locator(MaxNLocator(4))
        scale.set_xlabel(look.label("place on the scale", "thickness"))
        draw_shares(parts, shares(result))
        return []


class BalanceScene(FixedScene[ProfileBalance]):
    """A profile through the thickness, squeezed and pulled parts, and what is left over."""

    def verdict(self, result: ProfileBalance, system: System) -> str:
        """Return what the picture says."""
        return balance_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: ProfileBalance) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        z = look.shown(result.depth, "thickness")
        stress = look.shown(result.stress, "stress")
        fine = np.linspace(z[0], z[-1], 400)
        line = np.interp(fine, z, stress)
        squeezed, pulled = look.fill("squeeze"), look.fill("pull")
        ax.fill_between(fine, line, 0, where=line <= 0, **squeezed)
        ax.fill_between(fine, line, 0, where=line >= 0, **pulled)
        ax.plot(z, stress, "o", color=INK, ms=6)
        ax.axhline(0, color=INK, lw=1.2)
        mean = look.shown(result.mean, "stress").item()
        half = look.shown(result.expanded, "stress").item()
        ax.axhspan(mean - half, mean + half, color=GREY, alpha=0.3, lw=0)
        ax.axhline(mean, color=INK, lw=1.6, ls="--")
        thick = look.shown(result.thickness, "thickness").item()
        ax.set_xlim(0, thick)
        reach = np.ptp(stress)
        ax.set_ylim(stress.min() - 0.05 * reach, stress.max() + 0.35 * reach)
        ax.text(
            0.5,
            0.97,
            "dashed: mean stress; a pane must have zero",
            transform=ax.transAxes,
            ha="center",
            va="top",
        )
        ax.xaxis.set_major_locator(MaxNLocator(6))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_xlabel(look.label("depth", "thickness"))
        ax.set_ylabel(look.label("stress", "stress"))
        return []
