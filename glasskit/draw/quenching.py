# SPDX-License-Identifier: MIT
"""Draw a quenched pane: its section, its stress, and how the stress came; and its rival."""

from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREY, INK, WHITE, Look, StressArrows
from glasskit.draw.scene import Scene
from glasskit.draw.section import MIDDLES, shade
from glasskit.quantities import FloatArray, System
from glasskit.stress import StressProfile, tempered
from glasskit.toughening import Quench
from glasskit.words.quenching import CORE, SKIN, kinds_verdict, quench_verdict

_FULL = 150e6  # [Pa], darkest colour and longest arrow
_LOW, _HIGH = -250e6, 150e6  # [Pa], ends of the stress axes
_ROWS = 240
_ZOOM = 100e-6  # [m], depth of the close view


class QuenchScene(Scene[Quench]):
    """Section of the pane, stress beside it on the same depth, and stress through time."""

    sources = ("Narayanaswamy1971", "NarayanaswamyGardon1969")

    def verdict(self, result: Quench, system: System) -> str:
        """Return what the picture says."""
        return quench_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Quench) -> Iterable[Artist]:
        """Draw the axes; see `Scene`."""
        section, curve, story = figure.subplots(1, 3, width_ratios=(2, 3, 3.4))
        return [
            *self._build_section(section, look),
            *self._build_curve(curve, look),
            *self._build_story(story, look),
        ]

    def _build_section(self, ax: Axes, look: Look) -> list[Artist]:
        ax.set(xlim=(0, 1), ylim=(100, 0), ylabel="depth / % of the thickness", xticks=[])
        self.title = ax.set_title("")
        ax.spines["bottom"].set_visible(False)
        self.glass = shade(ax, look, 0, 1, 100)
        self.edges = [ax.axhline(0, color=INK, linewidth=1.6, linestyle=":") for _ in range(2)]
        self.pairs = [
            StressArrows(ax, look, 0.04, 0.96, y, 0.4) for y in (5.0, 36.0, 64.0, 95.0)
        ]
        middle: dict[str, Any] = {"ha": "center", "va": "center"}
        words = [
            ax.text(0.5, 13, SKIN, color=look.word_colour("squeeze"), **middle),
            ax.text(0.5, 50, CORE, color=look.word_colour("pull"), **middle),
            ax.text(0.5, 87, SKIN, color=look.word_colour("squeeze"), **middle),
        ]
        arrows = [artist for pair in self.pairs for artist in pair.artists]
        return [self.glass, *self.edges, *arrows, *words, self.title]

    def _build_curve(self, ax: Axes, look: Look) -> list[Artist]:
        ends = look.shown([_LOW, _HIGH], "stress")
        ax.set(xlim=ends, ylim=(100, 0), xlabel=look.label("stress", "stress"))
        ax.tick_params(labelleft=False)
        ax.xaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 5, 10]))
        ax.set_title("squeeze (−)   pull (+)")
        ax.axvline(0, color=INK, linewidth=1.2)
        self.squeezed = Polygon(np.zeros((3, 2)), **look.fill("squeeze"))
        self.pulled = Polygon(np.zeros((3, 2)), **look.fill("pull"))
        for area in (self.squeezed, self.pulled):
            ax.add_patch(area)
        (self.line,) = ax.plot([], [], color=INK)
        (self.parabola,) = ax.plot([], [], color=GREY, linestyle="--", linewidth=2)
        words = "dashed:\nparabola"
        ax.text(0.05, 0.5, words, va="center", color=GREY, transform=ax.transAxes)
        return [self.squeezed, self.pulled, self.parabola, self.line]

    def _build_story(self, ax: Axes, look: Look) -> list[Artist]:
        ends = look.shown([_LOW, _HIGH], "stress")
        ax.set(xscale="log", xlim=(0.1, 5000), ylim=ends, xticks=[0.1, 1, 10, 100, 1000])
        ax.xaxis.set_major_formatter("{x:g}")
        ax.yaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
        ax.set(xlabel=look.label("time in the blast", "time"))
        ax.set_ylabel(look.label("stress", "stress"))
        ax.set_title("how the stress built up")
        ax.axhline(0, color=INK, linewidth=1.2)
        (self.outer,) = ax.plot([], [], color=INK)
        (self.inner,) = ax.plot([], [], color=GREY, linestyle="--")
        (self.peak,) = ax.plot([], [], "o", color=look.colour("pull"), markersize=10)
        apart: dict[str, Any] = {"xytext": (0, 8), "textcoords": "offset points"}
        below: dict[str, Any] = {**apart, "xytext": (0, -8)}
        self.names = [
            ax.annotate("surface", (1, 0), ha="right", va="top", **below),
            ax.annotate("middle", (1, 0), ha="right", va="bottom", color=GREY, **apart),
        ]
        self.warning = ax.annotate(
            "", (0.12, 0), va="bottom", color=look.word_colour("pull"), **apart
        )
        return [self.outer, self.inner, self.peak, *self.names, self.warning]

    def update(self, result: Quench, look: Look) -> None:
        """Show this quench; see `Scene`."""
        left = result.profile
        self.title.set_text(f"{look.show(left.thickness, 'thickness', 2)} pane")
        self.glass.set_array(left(MIDDLES * left.thickness)[:, None] / _FULL)
        share = np.linspace(0, 1, _ROWS)
        stress = left(share * left.thickness)
        skin = 100 * left.case_depth / left.thickness
        for edge, y in zip(self.edges, (skin, 100 - skin), strict=True):
            edge.set_ydata([y, y])
        for pair in self.pairs:
            pair.set(left(pair.y / 100 * left.thickness).item() / _FULL)
        shown = look.shown(stress, "stress")
        self.line.set_data(shown, 100 * share)
        self.squeezed.set_xy(_area(np.minimum(shown, 0), 100 * share))
        self.pulled.set_xy(_area(np.maximum(shown, 0), 100 * share))
        mild = tempered(max(-left.surface, 1.0), left.thickness)(share * left.thickness)
        self.parabola.set_data(look.shown(mild, "stress"), 100 * share)
        self._update_story(result, look)

    def _update_story(self, result: Quench, look: Look) -> None:
        time = result.cooling.time[1:]
        history = look.shown(result.stress[1:], "stress")
        for line, name, column in zip(
            (self.outer, self.inner), self.names, (0, -1), strict=True
        ):
            line.set_data(time, history[:, column])
            name.xy = (time[-1], history[-1, column])
        worst = int(history[:, 0].argmax())
        self.peak.set_data([time[worst]], [history[worst, 0]])
        self.warning.xy = (0.12, history[worst, 0])
        self.warning.set_text(f"pull {look.show(result.surface_tension, 'stress', 2)}")


class KindsScene(Scene[tuple[StressProfile, StressProfile]]):
    """Two panes of one thickness, from the salt bath and from the quench, to one scale."""

    sources = ("Narayanaswamy1971", "Cooper1969")

    def verdict(self, result: tuple[StressProfile, StressProfile], system: System) -> str:
        """Return what the picture says."""
        return kinds_verdict(result, system)

    def build(
        self, figure: Figure, look: Look, result: tuple[StressProfile, StressProfile]
    ) -> Iterable[Artist]:
        """Draw the axes; see `Scene`."""
        section, whole, close = figure.subplots(1, 3, width_ratios=(3, 3, 3))
        size = result[0].thickness
        depth = look.shown(size, "thickness").item()
        section.set(xlim=(-0.05, 2.2), ylim=(depth, 0), xticks=[0.5, 1.65])
        section.set_xticklabels(["salt bath", "quench"])
        section.set_ylabel(look.label("depth", "thickness"))
        section.set_title("skins, true to scale")
        section.tick_params(bottom=False)
        skins: list[Rectangle] = []
        for x in (0.0, 1.15):
            section.add_patch(Rectangle((x, 0), 1, depth, **look.fill("pull")))
            for _ in range(2):
                skins.append(Rectangle((x, 0), 1, 0, **look.fill("squeeze")))
                section.add_patch(skins[-1])
            core = section.text(x + 0.5, depth / 2, CORE.replace(" ", "\n"), **_plain(look))
            core.set(ha="center", va="center", color=look.word_colour("pull"))
        self.skins = skins
        self.words = [
            section.text(
                x,
                0,
                SKIN.replace(" ", "\n"),
                color=look.word_colour("squeeze"),
                **_plain(look),
            )
            for x in (0.5, 1.65)
        ]
        for word, where in zip(self.words, ("top", "center"), strict=True):
            word.set(ha="center", va=where)
        for ax, bottom in ((whole, depth), (close, look.shown(_ZOOM, "depth").item())):
            ax.set(xlim=look.shown([-900e6, 120e6], "stress"), ylim=(bottom, 0))
            ax.set_xlabel(look.label("stress", "stress"))
            ax.xaxis.set_major_locator(MaxNLocator(5, steps=[1, 2, 5, 10]))
            ax.axvline(0, color=INK, linewidth=1.2)
        for ax in (section, whole, close):
            ax.yaxis.set_major_locator(MaxNLocator(5, steps=[1, 2, 5, 10]))
        whole.set_ylabel(look.label("depth", "thickness"))
        close.set_ylabel(look.label("depth", "depth"))
        whole.set_title("through the pane")
        close.set_title(f"its first {look.show(_ZOOM, 'depth', 2)}")
        self.axes_kinds = (("thickness", size), ("depth", _ZOOM))
        self.lines = [
            (
                ax.plot([], [], color=INK)[0],
                ax.plot([], [], color=INK, linestyle="--")[0],
            )
            for ax in (whole, close)
        ]
        close.text(0.04, 0.5, "salt bath (solid)", transform=close.transAxes)
        close.text(0.04, 0.38, "quench (dashed)", transform=close.transAxes)
        return [*skins, *self.words, *(line for pair in self.lines for line in pair)]

    def update(self, result: tuple[StressProfile, StressProfile], look: Look) -> None:
        """Show both profiles; see `Scene`."""
        size = look.shown(result[0].thickness, "thickness").item()
        for index, left in enumerate(result):
            skin = look.shown(left.case_depth, "thickness").item()
            top, bottom = self.skins[2 * index : 2 * index + 2]
            top.set_height(skin)
            bottom.set(y=size - skin, height=skin)
            # On a deep skin, below a thin one.
            self.words[index].set_y(skin / 2 if index else skin + 0.02 * size)
            for (kind, end), lines in zip(self.axes_kinds, self.lines, strict=True):
                # Close steps near both faces, where the salt bath's skin is.
                depth = end * (1 - np.cos(np.pi * np.linspace(0, 1, 400))) / 2
                lines[index].set_data(
                    look.shown(left(depth), "stress"), look.shown(depth, kind)
                )

    def frame(self, result: tuple[StressProfile, StressProfile], look: Look) -> Hashable:
        """Return the thickness, on which the depth axes depend."""
        return result[0].thickness


def _plain(look: Look) -> dict[str, Any]:
    """Return text settings that keep words readable on a hatch."""
    return {"bbox": {"facecolor": WHITE, "edgecolor": "none", "pad": 2}} if look.mono else {}


def _area(x: FloatArray, y: FloatArray) -> FloatArray:
    """Close a curve along the zero line."""
    return np.column_stack((np.concatenate(([0], x, [0])), np.concatenate((y[:1], y, y[-1:]))))
