# SPDX-License-Identifier: MIT
"""Draw how viscosity climbs as glass cools, and how long that is in times people know."""

from collections.abc import Hashable, Iterable
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from glasskit.draw.look import GREY, INK, PALE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.materials import FlowState, flow, melts
from glasskit.quantities import System
from glasskit.words.flow import LANDMARKS, duration, flow_verdict

HEAT = (20 + 273.15, 1400 + 273.15)  # [K]
SHARES = (0.1, 0.7)  # of the activation energy, ends of the slider
# Where the name of each fixed point stands beside it: right, up [pt], alignment.
_POINTS = {
    "working": (-4, 8, "center", "bottom"),
    "softening": (8, 14, "left", "bottom"),
    "annealing": (6, 15, "left", "bottom"),
    "strain": (-8, -4, "right", "top"),
}
_DIAMONDS: Any = {
    "marker": "D",
    "linestyle": "none",
    "color": INK,
    "markersize": 9,
    "clip_on": False,
}
_KEY = (
    "dashed: liquid in equilibrium\n"
    "solid: frozen glass\n"
    "pale: energy kept 30 to 60%\n"
    "◆ published, at "
)
_MOST = 60.0  # decades of viscosity shown
_TIME_POWERS = (-10.0, 50.0)


class FlowScene(Scene[FlowState]):
    """Viscosity against temperature, and a ladder of times."""

    sources = ("Fluegel2007", "Zanotto1998", "Gulbiten2018")

    def verdict(self, result: FlowState, system: System) -> str:
        """Return what the picture says."""
        return flow_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: FlowState) -> Iterable[Artist]:
        """Draw the curves that do not move, and the ladder; see `Scene`."""
        curve, ladder = figure.subplots(1, 2, width_ratios=(3, 2))
        self.kelvin = np.linspace(*HEAT, 231)
        self._build_curve(curve, look, result)
        self._build_ladder(ladder)
        return [self.frozen, self.dot, self.hand, self.said]

    def _build_curve(self, ax: Axes, look: Look, result: FlowState) -> None:
        ax.set(
            xlim=look.shown(HEAT, "temperature"),
            ylim=(0, _MOST),
            xlabel=look.label("temperature", "temperature"),
            ylabel="viscosity / Pa·s, powers of ten",
        )
        degrees = look.shown(self.kelvin, "temperature")
        low, high = (
            np.log10(melts.viscosity(self.kelvin, result.glass, frozen_fraction=share))
            for share in (0.3, 0.6)
        )
        ax.fill_between(degrees, low, high, color=PALE, linewidth=0)
        with np.errstate(divide="ignore"):
            liquid = np.log10(melts.equilibrium_viscosity(self.kelvin, result.glass))
        ax.plot(degrees, np.minimum(liquid, 2 * _MOST), color=INK, linestyle="--")
        for name, (right, up, ha, va) in _POINTS.items():
            at = melts.fixed_point(name, result.glass)
            power = np.log10(melts.FIXED_POINTS[name])
            shown = look.shown(at, "temperature").item()
            ax.plot([shown], [power], "s", color=INK, markersize=6)
            ax.annotate(
                f"{name} point",
                (shown, power),
                xytext=(right * look.scale, up * look.scale),
                textcoords="offset points",
                ha=ha,
                va=va,
            )
        published = [np.log10(row.viscosity) for row in flow.flow_estimates() if row.flows]
        ax.plot([degrees[0]] * len(published), published, **_DIAMONDS)
        ax.text(
            0.99,
            0.98,
            _KEY + look.show(293.15, "temperature", 2),
            transform=ax.transAxes,
            ha="right",
            va="top",
        )
        (self.frozen,) = ax.plot([], [], color=INK)
        (self.dot,) = ax.plot([], [], "o", color=INK, markersize=13, markeredgecolor=WHITE)

    def _build_ladder(self, ax: Axes) -> None:
        ax.set(xlim=(0, 1), ylim=_TIME_POWERS, xticks=[])
        ax.set_title("a stress fades in")
        ax.set_yticks([])
        ax.spines[["left", "bottom"]].set_visible(False)
        ax.axvline(0.34, color=GREY, linewidth=6)
        for name, time in LANDMARKS.items():
            power = float(np.log10(time))
            ax.plot([0.30, 0.38], [power, power], color=INK)
            ax.text(0.42, power, name, va="center")
        (self.hand,) = ax.plot([], [], ">", color=INK, markersize=16)
        self.said = ax.text(0.2, 0, "", ha="right", va="center", weight="bold")

    def update(self, result: FlowState, look: Look) -> None:
        """Move the dot on the curve and the hand on the ladder; see `Scene`."""
        power = np.log10(
            melts.viscosity(self.kelvin, result.glass, frozen_fraction=result.frozen_fraction)
        )
        self.frozen.set_data(look.shown(self.kelvin, "temperature"), power)
        here = look.shown(result.temperature, "temperature").item()
        self.dot.set_data([here], [min(float(np.log10(result.viscosity)), _MOST)])
        low, high = _TIME_POWERS
        place = float(np.clip(np.log10(result.relaxation_time), low + 1, high - 1))
        self.hand.set_data([0.27], [place])
        self.said.set(y=place, text=duration(result.relaxation_time).replace(" ", "\n"))

    def frame(self, result: FlowState, look: Look) -> Hashable:
        """Return which glass stands in the background."""
        return result.glass
