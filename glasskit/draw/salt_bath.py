# SPDX-License-Identifier: MIT
"""Draw what a salt bath does: ions in the skin, squeeze against depth, and a map of baths."""

from collections.abc import Hashable, Iterable
from itertools import pairwise, zip_longest
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.colors import to_rgba_array
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.ticker import MaxNLocator

from glasskit.draw.look import GREEN, GREY, INK, PURPLE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.quantities import FloatArray, System, unit
from glasskit.toughening import SaltBath, salt_bath
from glasskit.words.salt_bath import bath_verdict, wanted

HOURS = (1.0 * 3600, 48.0 * 3600)  # [s], ends of the map
HEAT = (380 + 273.15, 470 + 273.15)  # [K], ends of the map
_DEPTHS = (40e-6, 100e-6, 250e-6)  # [m], ends of the axis: it seldom moves
_MOST = 1000e6  # [Pa], end of the stress axis
_STEPS = np.array([1.0, 2.0, 4.0, 8.0, 16.0, 48.0])  # [h], marked on the map
_TIMES, _HEATS = 48, 31  # points of the map
_INNER = slice(1, -1)  # of its temperatures: one more at each end, to draw up to the frame
_LINES = 8  # of one depth, at most
_NAMED = slice(7, -4)  # points of the diagonal where a line is named
_ACROSS, _DOWN = 12, 24  # dots
_WHITE_EDGE = 0.9


def deepest(bath: SaltBath) -> float:
    """Return the depth at which the glass shown ends: more than twice the skin [m]."""
    twice = 2 * bath.outcome.case_depth.item()
    return next((end for end in _DEPTHS if end >= twice), _DEPTHS[-1])


class BathScene(Scene[SaltBath]):
    """Ions in the skin, the squeeze they leave, and where this bath lies among all baths."""

    sources = ("Cooper1969", "Sane1987")

    def verdict(self, result: SaltBath, system: System) -> str:
        """Return what the picture says."""
        return bath_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: SaltBath) -> Iterable[Artist]:
        """Draw the axes and the map of all baths; see `Scene`."""
        skin, curve, chart = figure.subplots(1, 3, width_ratios=(3, 4, 8))
        self.depth = np.linspace(0, deepest(result), 121)
        self._build_skin(skin, look)
        self._build_curve(curve, look)
        self._build_chart(chart, look)
        return [
            self.top.xaxis,
            self.ions,
            self.squeezed,
            *self.ends,
            self.deep,
            self.line,
            self.case,
            self.case_in_glass,
            self.word,
            self.patch,
            *self.names,
            self.wanted,
            self.way,
            self.mark,
        ]

    def _build_skin(self, ax: Axes, look: Look) -> None:
        end = self.depth[-1]
        rng = np.random.default_rng(7)
        # Even scatter: one dot in each cell of a grid, shaken.
        x, y = np.meshgrid(np.arange(_ACROSS), np.arange(_DOWN))
        shaken = rng.uniform(0, 1, (2, x.size))
        self.places = (y.ravel() + shaken[1]) / _DOWN * end
        self.drawn = rng.permutation(x.size) / x.size
        ax.set(xlim=(0, 1), ylim=(look.shown(end, "depth"), 0), xticks=[])
        ax.set_ylabel(look.label("depth below the face", "depth"))
        ax.set_title("ions")
        ax.yaxis.set_major_locator(MaxNLocator(5))
        self.ions = ax.scatter(
            (x.ravel() + shaken[0]) / _ACROSS,
            look.shown(self.places, "depth"),
            s=20,
            edgecolors=INK,
            linewidths=_WHITE_EDGE,
        )
        sodium, potassium = WHITE, INK if look.mono else PURPLE
        self.fills = to_rgba_array([sodium, potassium])
        for row, (name, fill, size) in enumerate(
            (("potassium", potassium, 58), ("sodium", sodium, 22))
        ):
            below: Any = {"transform": ax.transAxes, "clip_on": False}
            height = -0.05 - 0.055 * look.scale * row
            ax.scatter(0.08, height, s=size, c=fill, edgecolors=INK, lw=_WHITE_EDGE, **below)
            ax.text(0.18, height, name, va="center", **below)
        self.case_in_glass = ax.axhline(0, color=INK, linestyle="--", linewidth=1.6)

    def _build_curve(self, ax: Axes, look: Look) -> None:
        ax.set(
            xlim=look.shown([-_MOST, 0.15 * _MOST], "stress"),
            ylim=(look.shown(self.depth[-1], "depth"), 0),
            xlabel=look.label("stress", "stress"),
        )
        ax.set_title("squeeze, and its range")
        ax.axvline(0, color=INK, linewidth=1.2)
        ax.spines["left"].set_visible(False)
        self.squeezed = Polygon([[0, 0]], linewidth=0)
        ax.add_patch(self.squeezed)
        (self.line,) = ax.plot([], [], color=INK)
        self.case = ax.axhline(0, color=INK, linestyle="--", linewidth=1.6)
        self.ends = [ax.plot([], [], color=GREY, linewidth=1.2)[0] for _ in range(2)]
        # How far up or down the end of the skin may lie, beside the curve.
        at = look.shown([0.08 * _MOST] * 2, "stress")
        (self.deep,) = ax.plot(at, [0, 0], color=GREY, linewidth=4, marker="_", markersize=11)
        self.word = ax.text(
            look.shown(-0.97 * _MOST, "stress").item(), 0, "squeezed skin\nends here", va="top"
        )
        ax.xaxis.set_major_locator(MaxNLocator(3))
        ax.set_yticks([])

    def _build_chart(self, ax: Axes, look: Look) -> None:
        """Prepare squeeze as shade and depth as lines, for all times and temperatures."""
        self.chart = ax
        self.time, self.heat = np.geomspace(*HOURS, _TIMES), np.linspace(*HEAT, _HEATS)
        step = self.heat[1] - self.heat[0]
        self.heat = np.concatenate(([HEAT[0] - step], self.heat, [HEAT[1] + step]))
        self.hours = look.shown(self.time, "hours")
        ax.set(
            xscale="log",
            xlabel=look.label("time in the bath", "hours"),
            ylabel=look.label("bath", "temperature"),
            xticks=_STEPS,
            xticklabels=[f"{step:g}" for step in _STEPS],
            xlim=(self.hours[0], self.hours[-1]),
            ylim=look.shown(HEAT, "temperature"),
        )
        ax.yaxis.set_major_locator(MaxNLocator(4))
        ax.minorticks_off()
        self.shades = PolyCollection([], linewidths=0, antialiased=False)
        self.lines = LineCollection([], colors=INK, linewidths=1.6)
        for collection in (self.shades, self.lines):
            ax.add_collection(collection, autolim=False)
        self.under = (self.shades, self.lines, *ax.spines.values())
        plate: dict[str, Any] = {"facecolor": WHITE, "linewidth": 0, "pad": 1}
        middle: dict[str, Any] = {"ha": "center", "va": "center", "rotation_mode": "anchor"}
        self.names = [ax.text(1, 0, "", bbox=plate, **middle) for _ in range(_LINES)]
        self.top = ax.secondary_xaxis("top")
        self.top.set_xticks(self.hours[:1], ["0"])  # keeps the room of those to come
        words = look.label("shade: squeeze at the face", "stress")
        self.top.set_xlabel(words, labelpad=10 * look.scale)
        self.top.minorticks_off()
        chosen: dict[str, Any] = {"facecolor": "none", "hatch": "\\", "linewidth": 3.0}
        self.patch = Polygon([[0, 0]], edgecolor=INK if look.mono else GREEN, **chosen)
        ax.add_patch(self.patch)
        self.wanted = ax.text(
            0.02, 0.03, "", transform=ax.transAxes, va="bottom", backgroundcolor=WHITE
        )
        (self.way,) = ax.plot([], [], "o-", color=INK, markersize=5, linewidth=1.6)
        (self.mark,) = ax.plot([], [], "o", color=INK, markersize=13, markeredgecolor=WHITE)

    def ground(self, result: SaltBath, look: Look) -> Hashable:
        """Return what the map depends on."""
        return result.glass, result.thickness

    def lay(self, result: SaltBath, look: Look) -> None:
        """Draw the map of all baths for this pane."""
        self.found = salt_bath.trade_off(
            self.time, self.heat[:, None], result.thickness, result.glass
        )
        self._lay_shades(look)
        self._lay_lines(look)

    def _lay_shades(self, look: Look) -> None:
        """Shade between levels of squeeze, each named where it leaves the hottest bath."""
        squeeze = look.shown(self.found.surface_compression, "stress")
        levels = _levels(squeeze[_INNER], 7)
        edges = np.append(levels, squeeze.max())
        # Hotter is weaker: a shade lies between the temperatures of its two levels.
        hottest, coolest = (np.full(_TIMES, end) for end in (self.heat[-1], self.heat[0]))
        between = [self._heats(-squeeze, -level) for level in levels[1:]]
        bounds = look.shown(
            np.clip([hottest, *between, coolest], coolest, hottest), "temperature"
        )
        self.shades.set_verts(
            [_outline(*pair, self.hours)[:, ::-1] for pair in pairwise(bounds)]
        )
        middles = (edges[:-1] + edges[1:]) / 2
        shade = look.stress_map.reversed()
        self.shades.set_facecolor(shade((1 + middles / squeeze.max()) / 2))
        edge = squeeze[-2]
        named = levels[(levels >= edge.min()) & (levels <= edge.max())]
        places = np.interp(-named, -edge, self.hours)
        self.top.set_xticks(places, [f"{value:g}" for value in named])

    def _lay_lines(self, look: Look) -> None:
        """Draw lines of one depth, each named where it crosses the map's diagonal."""
        depth = look.shown(self.found.case_depth, "depth")
        levels = _levels(depth[_INNER], 5 if look.large else 6)
        lines = [self._heats(depth, level) for level in levels]
        down = [look.shown(line, "temperature") for line in lines]
        on = [np.isfinite(line) for line in lines]
        self.lines.set_segments(
            [
                np.column_stack((self.hours[some], line[some]))
                for line, some in zip(down, on, strict=True)
            ]
        )
        slant = np.linspace(*HEAT, _TIMES)
        along = [
            np.interp(heat, self.heat, column)
            for heat, column in zip(slant, depth.T, strict=True)
        ]
        symbol = unit("depth", look.system).symbol
        for name, level, line in zip_longest(self.names, levels, down):
            name.set_text("")
            if level is None or not along[_NAMED][0] < level < along[_NAMED][-1]:
                continue
            at = int(np.searchsorted(along, level))
            near = slice(at - 1, at + 1)
            ends = np.column_stack((self.hours, line))[near]
            across, up = np.diff(self.chart.transData.transform(ends), axis=0)[0]
            name.set(text=f"{level:g} {symbol}", position=ends.mean(axis=0))
            name.set_rotation(np.degrees(np.arctan2(up, across)))

    def _heats(self, field: FloatArray, level: float) -> FloatArray:
        """Return where a field that grows with heat has a level, at each time, or infinity."""
        ends: dict[str, float] = {"left": -np.inf, "right": np.inf}
        columns = [np.interp(level, column, self.heat, **ends) for column in field.T]
        return np.array(columns)

    def update(self, result: SaltBath, look: Look) -> None:
        """Show the ions, the squeeze, what is wanted and the place on the map; see `Scene`."""
        swapped = self.drawn < result.share(self.places)
        self.ions.set_facecolor(self.fills[swapped.astype(int)])
        self.ions.set_sizes(np.where(swapped, 58.0, 22.0))
        down = look.shown(self.depth, "depth")
        stress = look.shown(-result.squeeze(self.depth), "stress")
        for line, end in zip(self.ends, result.squeeze_range(self.depth), strict=True):
            line.set_data(look.shown(-end, "stress"), down)
        self.squeezed.set_xy(_outline(np.zeros_like(down), np.minimum(stress, 0), down))
        self.squeezed.set(**look.fill("squeeze"))
        self.line.set_data(stress, down)
        outcome = result.outcome
        case = look.shown(outcome.case_depth, "depth").item()
        for line in (self.case, self.case_in_glass):
            line.set_ydata([case, case])
        self.deep.set_ydata([look.shown(end, "depth").item() for end in result.depth_range])
        self.word.set_y(case)
        self.patch.set_xy(self._wanted(result, look))
        self.wanted.set_text(f"striped: {wanted(result, look.system)}")
        hour = look.shown(result.time, "hours").item()
        heat = look.shown(result.temperature, "temperature").item()
        passed = np.append(_STEPS[hour > _STEPS], hour)
        self.way.set_data(passed, np.full_like(passed, heat))
        self.mark.set_data([hour], [heat])

    def _wanted(self, result: SaltBath, look: Look) -> FloatArray:
        """Return the outline of all baths that are as wanted."""
        # Hotter is deeper and weaker, so for each time they lie between two temperatures.
        low = self._heats(self.found.case_depth, result.wanted_depth)
        high = self._heats(-self.found.surface_compression, -result.wanted_squeeze)
        low, high = np.clip((low, high), *HEAT)
        some = high > low
        if not some.any():
            return np.array([[np.nan, np.nan]])
        low, high, hours = low[some], high[some], self.hours[some]
        coolest, hottest = look.shown([low, high], "temperature")
        return _outline(coolest, hottest, hours)[:, ::-1]

    def frame(self, result: SaltBath, look: Look) -> Hashable:
        """Return where the glass shown ends."""
        return deepest(result)


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
