# SPDX-License-Identifier: MIT
"""Draw what a salt bath does: ions in the skin, squeeze against depth, and the trade-off."""

from collections.abc import Hashable, Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREY, INK, PURPLE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import FloatArray, System
from glasskit.toughening import SaltBath, salt_bath
from glasskit.words.salt_bath import bath_verdict

DEEPEST = {"soda-lime": 50e-6, "aluminosilicate": 160e-6}  # [m], shown
HOURS = (1.0 * 3600, 48.0 * 3600)  # [s], ends of the map
HEAT = (380 + 273.15, 470 + 273.15)  # [K], ends of the map
_MOST = 1000e6  # [Pa], end of the stress axis
_ACROSS, _DOWN = 12, 24  # dots
_WHITE_EDGE = 0.9


class BathScene(Scene[SaltBath]):
    """Ions in the skin, the squeeze they leave, and where this bath lies among all baths."""

    sources = ("Cooper1969", "Sane1987")

    def verdict(self, result: SaltBath, system: System) -> str:
        """Return what the picture says."""
        return bath_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: SaltBath) -> Iterable[Artist]:
        """Draw the axes and the map of all baths; see `Scene`."""
        skin, curve, chart = figure.subplots(1, 3, width_ratios=(2, 3, 4))
        self.depth = np.linspace(0, DEEPEST[result.glass], 121)
        self._build_skin(skin, look)
        self._build_curve(curve, look)
        self._build_chart(chart, look, result)
        return [
            self.ions,
            self.squeezed,
            *self.ends,
            self.deep,
            self.line,
            self.case,
            self.case_in_glass,
            self.word,
            self.mark,
        ]

    def _build_skin(self, ax: Axes, look: Look) -> None:
        deepest = self.depth[-1]
        rng = np.random.default_rng(7)
        # Even scatter: one dot in each cell of a grid, shaken.
        x, y = np.meshgrid(np.arange(_ACROSS), np.arange(_DOWN))
        shaken = rng.uniform(0, 1, (2, x.size))
        self.places = (y.ravel() + shaken[1]) / _DOWN * deepest
        self.drawn = rng.permutation(x.size) / x.size
        ax.set(xlim=(0, 1), ylim=(look.shown(deepest, "depth"), 0), xticks=[])
        ax.set_ylabel(look.label("depth below the face", "depth"))
        ax.set_title("ions in the skin")
        ax.yaxis.set_major_locator(MaxNLocator(8))
        ax.set_xlabel("● potassium\n○ sodium")
        self.ions = ax.scatter(
            (x.ravel() + shaken[0]) / _ACROSS,
            look.shown(self.places, "depth"),
            s=20,
            edgecolors=INK,
            linewidths=_WHITE_EDGE,
        )
        self.case_in_glass = ax.axhline(0, color=INK, linestyle="--", linewidth=1.6)

    def _build_curve(self, ax: Axes, look: Look) -> None:
        ax.set(
            xlim=look.shown([-_MOST, 0.15 * _MOST], "stress"),
            ylim=(look.shown(self.depth[-1], "depth"), 0),
            xlabel=look.label("stress", "stress"),
        )
        ax.set_title("squeeze, and its range")
        ax.axvline(0, color=INK, linewidth=1.2)
        self.squeezed = Polygon([[0, 0]], linewidth=0)
        ax.add_patch(self.squeezed)
        (self.line,) = ax.plot([], [])
        self.case = ax.axhline(0, color=INK, linestyle="--", linewidth=1.6)
        self.ends = [ax.plot([], [], color=GREY, linewidth=1.2)[0] for _ in range(2)]
        # How far up or down the end of the skin may lie, beside the curve.
        at = look.shown([0.08 * _MOST] * 2, "stress")
        (self.deep,) = ax.plot(at, [0, 0], color=GREY, linewidth=4, marker="_", markersize=11)
        self.word = ax.text(
            look.shown(-0.97 * _MOST, "stress").item(), 0, "squeezed skin\nends here", va="top"
        )
        ax.xaxis.set_major_locator(MaxNLocator(3))
        ax.yaxis.set_major_locator(MaxNLocator(8))

    def _build_chart(self, ax: Axes, look: Look, result: SaltBath) -> None:
        time = np.geomspace(*HOURS, 80)
        heat = np.linspace(*HEAT, 60)[:, None]
        found = salt_bath.trade_off(time, heat, result.thickness, result.glass)
        hours, degrees = look.shown(time, "hours"), look.shown(heat[:, 0], "temperature")
        ticks = [1, 2, 4, 8, 16, 48]
        ax.set(
            xscale="log",
            xlabel=look.label("time in the bath", "hours"),
            ylabel=look.label("bath", "temperature"),
            xticks=ticks,
            xticklabels=map(str, ticks),
        )
        ax.yaxis.set_major_locator(MaxNLocator(4))
        ax.minorticks_off()
        squeeze = look.shown(found.surface_compression, "stress")
        depth = look.shown(found.case_depth, "depth")
        blue, most = look.colour("squeeze"), 4 if look.large else 7
        # Each line is named where it leaves the map: squeeze at the top, depth at the right.
        steps = _levels(squeeze[-1], most)
        ax.contour(hours, degrees, squeeze, steps, colors=blue, linestyles="solid")
        top = ax.secondary_xaxis("top")
        top.set_xticks(np.interp(-steps, -squeeze[-1], hours), [f"{v:g}" for v in steps])
        words = look.label("solid: squeeze at the face", "stress")
        top.set_xlabel(words, labelpad=10 * look.scale)
        top.minorticks_off()
        steps = _levels(depth[:, -1], most)
        ax.contour(hours, degrees, depth, steps, colors=INK, linestyles="dashed")
        right = ax.secondary_yaxis("right")
        right.set_yticks(np.interp(steps, depth[:, -1], degrees), [f"{v:g}" for v in steps])
        right.set_ylabel(look.label("dashed: depth of the skin", "depth"))
        (self.mark,) = ax.plot([], [], "o", color=INK, markersize=13, markeredgecolor=WHITE)

    def update(self, result: SaltBath, look: Look) -> None:
        """Show the ions, the squeeze and the place on the map; see `Scene`."""
        swapped = self.drawn < result.share(self.places)
        potassium = INK if look.mono else PURPLE
        self.ions.set_facecolor([potassium if one else WHITE for one in swapped])
        self.ions.set_sizes(np.where(swapped, 58.0, 22.0))
        down = look.shown(self.depth, "depth")
        stress = look.shown(-result.squeeze(self.depth), "stress")
        for line, end in zip(self.ends, result.squeeze_range(self.depth), strict=True):
            line.set_data(look.shown(-end, "stress"), down)
        self.squeezed.set_xy(_outline(np.zeros_like(down), np.minimum(stress, 0), down))
        self.squeezed.set(**look.fill("squeeze"))
        self.line.set_data(stress, down)
        self.line.set_color(look.colour("squeeze"))
        outcome = result.outcome
        case = look.shown(outcome.case_depth, "depth").item()
        for line in (self.case, self.case_in_glass):
            line.set_ydata([case, case])
        self.deep.set_ydata([look.shown(end, "depth").item() for end in result.depth_range])
        self.word.set_y(case)
        self.mark.set_data(
            [look.shown(result.time, "hours").item()],
            [look.shown(result.temperature, "temperature").item()],
        )

    def frame(self, result: SaltBath, look: Look) -> Hashable:
        """Return what the map depends on."""
        return result.glass, result.thickness


def _outline(left: FloatArray, right: FloatArray, down: FloatArray) -> FloatArray:
    """Return the corners of the area between two curves."""
    around = (np.append(left, right[::-1]), np.append(down, down[::-1]))
    return np.asarray(np.column_stack(around))


def _levels(values: FloatArray, most: int) -> FloatArray:
    """Return about so many round levels inside the values, or fewer."""
    low, high = float(values.min()), float(values.max())
    size = 10 ** np.floor(np.log10(high - low))
    step = size * next(n for n in (0.1, 0.2, 0.5, 1, 2, 5) if size * n >= (high - low) / most)
    return np.asarray(np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step)
