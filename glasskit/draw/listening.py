# SPDX-License-Identifier: MIT
"""Draw what was heard: clicks on the recording, flights above it; peaks on the spectrum."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator

from glasskit.draw.look import GREEN, GREY, INK, PALE, PURPLE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.materials import glass, glass_names
from glasskit.measured import SPEEDS, Bounced, Rung, expected_pitches, waveform
from glasskit.quantities import FloatArray, System, show_number
from glasskit.words.listening import (
    bounce_verdict,
    expected_words,
    glass_words,
    ring_verdict,
)

_LOWEST, _HIGHEST = 40.0, 12_000.0  # ends of the spectrum [Hz]
_QUIETEST = -70.0  # [dB]
_SOFTEST, _STIFFEST = 40e9, 100e9  # ends of the axis of stiffness [Pa]
_ARC = np.linspace(0.0, 1.0, 25)


def _recording(ax: Axes, times: tuple[FloatArray, FloatArray, FloatArray]) -> None:
    """Draw a recording as wide as it is loud."""
    time, low, high = times
    most = float(np.max(np.abs([low, high]))) or 1.0
    ax.fill_between(time, low / most, high / most, color=GREY, lw=0.4, step="mid")
    ax.set(xlim=(0, time[-1]), ylim=(-1.15, 1.4), yticks=[])
    ax.xaxis.set_major_locator(MaxNLocator(7))
    ax.set_xlabel("time / s")


def _marks(ax: Axes, times: FloatArray, look: Look, span: float) -> None:
    """Mark moments within a span of time and number them where there is room."""
    last = -np.inf
    for number, time in enumerate(times, 1):
        ax.axvline(time, color=INK, lw=1.2, ymax=0.87)
        if time - last > 0.03 * look.scale * span:
            ax.text(time, 1.16, str(number), ha="center", fontsize=10 * look.scale)
            last = time


class BounceScene(Scene[Bounced]):
    """Flights over the recording; share of speed kept, heard and predicted."""

    sources = ("Zener1941", "Goldsmith1960")

    def verdict(self, result: Bounced, system: System) -> str:
        """Return what the picture says."""
        return bounce_verdict(result, system)

    def frame(self, result: Bounced, look: Look) -> tuple[int, bool]:
        """Return what the still part depends on: the clicks."""
        return id(result.clicks), result.heard.fall_given

    def build(self, figure: Figure, look: Look, result: Bounced) -> Iterable[Artist]:
        """Draw flights and recording; return what moves."""
        grid = figure.add_gridspec(2, 2, width_ratios=(1.5, 1.0), height_ratios=(1.0, 1.0))
        recording = figure.add_subplot(grid[1, 0])
        flights = figure.add_subplot(grid[0, 0], sharex=recording)
        kept = figure.add_subplot(grid[:, 1])
        self._build_recording(recording, look, result)
        self._build_flights(flights, look, result)
        return self._build_kept(kept, look)

    def _build_recording(self, ax: Axes, look: Look, result: Bounced) -> None:
        heard = result.heard
        _recording(ax, waveform(result.clicks.sound))
        end = heard.clicks[-1]
        start = max(heard.clicks[0] - 0.25 * (end - heard.clicks[0]) - 0.1, 0.0)
        end = min(end + 0.12 * (end - start), result.clicks.sound.duration)
        _marks(ax, heard.clicks, look, end - start)
        away = np.abs(result.clicks.onsets[:, None] - heard.clicks).min(1)
        others = result.clicks.onsets[away > 1e-3]
        ax.plot(others, np.full(others.size, -1.08), "x", color=GREY, ms=6)
        ax.set_xlim(start, end)
        ax.set_ylabel("sound")
        if others.size:
            ax.set_xlabel("time / s   (× heard, but not of this ball)")

    def _build_flights(self, ax: Axes, look: Look, result: Bounced) -> None:
        heard = result.heard
        heights = look.shown(heard.heights, "height")
        for start, flight, height in zip(
            heard.clicks[:-1], heard.flights, heights, strict=True
        ):
            ax.plot(start + flight * _ARC, 4 * height * _ARC * (1 - _ARC), color=INK, lw=1.8)
        fall = look.shown(heard.fall, "height").item()
        time = np.sqrt(2 * heard.fall / 9.80665)
        ax.plot(
            heard.clicks[0] - time * (1 - _ARC),
            fall * (1 - _ARC**2),
            color=INK if heard.fall_given else GREY,
            lw=1.8,
            ls="-" if heard.fall_given else "--",
        )
        ax.axhline(0, color=INK, lw=1.5)
        ax.set_ylim(0, 1.25 * max(fall, heights.max()))
        ax.yaxis.set_major_locator(MaxNLocator(4))
        ax.set_ylabel(look.label("height", "height"))
        ax.tick_params(labelbottom=False)
        ax.set_title("the ball, by its clicks")

    def _build_kept(self, ax: Axes, look: Look) -> list[Artist]:
        low, high = look.shown([SPEEDS[0], SPEEDS[-1]], "speed")
        ax.set(xscale="log", xlim=(low, high), ylim=(0, 1.4))
        ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: show_number(x, 1)))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.set_xticks([tick for tick in (0.1, 0.2, 0.5, 1, 2, 5, 10) if low <= tick <= high])
        ax.set_yticks([0.2, 0.4, 0.6, 0.8, 1.0])
        ax.set_xlabel(look.label("speed at touch", "speed"))
        ax.set_ylabel("share of speed kept")
        ax.set_title("heard and predicted")
        (self.wide,) = ax.plot([], [], color=PURPLE, ls="--", lw=2)
        (self.pane,) = ax.plot([], [], color=GREEN, lw=3)
        (self.heard,) = ax.plot([], [], "o", color=INK, mfc=WHITE, ms=8, mew=1.8)
        (self.mean,) = ax.plot([], [], color=INK, lw=2)
        self.ends = LineCollection([], colors=INK, linewidths=5, alpha=0.35)
        ax.add_collection(self.ends)
        self.words = [
            ax.text(0.03, y, text, transform=ax.transAxes, color=colour, weight="bold")
            for y, text, colour in (
                (0.94, "○ each bounce heard", INK),
                (0.86, "— predicted, this pane", "#00563F"),
                (0.78, "- - predicted, no edges", "#8A3B66"),
            )
        ]
        return [self.wide, self.pane, self.ends, self.mean, self.heard, *self.words]

    def update(self, result: Bounced, look: Look) -> None:
        """Move predictions, points and mean."""
        heard = result.heard
        fine = np.geomspace(SPEEDS[0], SPEEDS[-1], 80)
        speeds = look.shown(fine, "speed")
        place = np.log(SPEEDS)
        self.pane.set_data(speeds, np.interp(np.log(fine), place, result.on_pane))
        self.wide.set_data(speeds, np.interp(np.log(fine), place, result.on_wide))
        at = look.shown(heard.speeds, "speed")
        self.heard.set_data(at, heard.each)
        ends = [at.min() / 1.15, at.max() * 1.15]
        self.mean.set_data(ends, [heard.restitution] * 2)
        middle = float(np.sqrt(ends[0] * ends[1]))
        self.ends.set_segments([[(middle, end) for end in heard.interval]])


class RingScene(Scene[Rung]):
    """Recording with its taps, spectrum with its peaks, stiffness beside that of glasses."""

    sources = ("ASTME1876", "Leissa1973")

    def verdict(self, result: Rung, system: System) -> str:
        """Return what the picture says."""
        return ring_verdict(result, system)

    def frame(self, result: Rung, look: Look) -> int:
        """Return what the still part depends on: the recording."""
        return id(result.ring)

    def build(self, figure: Figure, look: Look, result: Rung) -> Iterable[Artist]:
        """Draw recording and spectrum; return what moves."""
        grid = figure.add_gridspec(2, 2, width_ratios=(1.6, 1.0), height_ratios=(1.0, 2.2))
        recording = figure.add_subplot(grid[0, 0])
        spectrum = figure.add_subplot(grid[1, 0])
        stiff = figure.add_subplot(grid[:, 1])
        _recording(recording, waveform(result.ring.sound))
        _marks(recording, result.ring.taps, look, result.ring.sound.duration)
        recording.set_ylabel("taps")
        return [
            *self._build_spectrum(spectrum, look, result),
            *self._build_stiffness(stiff, look),
        ]

    def _build_spectrum(self, ax: Axes, look: Look, result: Rung) -> list[Artist]:
        ring = result.ring
        shown = (ring.frequency >= _LOWEST) & (ring.frequency <= _HIGHEST)
        edges = np.geomspace(_LOWEST, _HIGHEST, 1100)
        cells = np.searchsorted(ring.frequency[shown], edges[:-1])
        level = np.maximum.reduceat(ring.level[shown], np.minimum(cells, shown.sum() - 1))
        ax.fill_between(edges[:-1], level, _QUIETEST, color=PALE, lw=0)
        ax.plot(edges[:-1], level, color=GREY, lw=1.2)
        ax.set(xscale="log", xlim=(_LOWEST, _HIGHEST), ylim=(_QUIETEST, 36))
        ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:g}"))
        ax.set_xticks([50, 100, 200, 500, 1000, 2000, 5000, 10000])
        ax.xaxis.set_minor_locator(NullLocator())
        ax.set_yticks([-60, -40, -20, 0])
        ax.set_xlabel("pitch / Hz")
        ax.set_ylabel("loudness / dB")
        heights = [self._height(result, peak.frequency) for peak in ring.peaks]
        for number, (peak, height) in enumerate(zip(ring.peaks, heights, strict=True), 1):
            ax.text(
                peak.frequency, height + 3.5, str(number), ha="center", va="bottom",
                fontsize=10 * look.scale,
            )  # fmt: skip
        places = [peak.frequency for peak in ring.peaks]
        ax.plot(places, heights, "v", color=INK, mfc=WHITE, ms=7)
        (self.used,) = ax.plot([], [], "v", color=INK, ms=10)
        self.expected = LineCollection([], colors=PURPLE, linewidths=1.6, linestyles="--")
        ax.add_collection(self.expected)
        self.note = ax.text(
            0.99, 0.97, "", transform=ax.transAxes, ha="right", va="top", color="#8A3B66"
        )
        self._levels = dict(zip(places, heights, strict=True))
        return [self.expected, self.used, self.note]

    @staticmethod
    def _height(result: Rung, pitch: float) -> float:
        near = np.abs(result.ring.frequency - pitch) <= 3.0
        return float(result.ring.level[near].max(initial=_QUIETEST))

    def _build_stiffness(self, ax: Axes, look: Look) -> list[Artist]:
        low, high = look.shown([_SOFTEST, _STIFFEST], "stiffness")
        names = glass_names()
        ax.set(xlim=(low, high), ylim=(-len(names) - 0.6, 0.8), yticks=[])
        ax.spines["left"].set_visible(False)
        ax.xaxis.set_major_locator(MaxNLocator(6))
        ax.set_xlabel(look.label("stiffness", "stiffness"))
        ax.set_title("this piece, and glasses")
        for place, name in enumerate(names, 1):
            known = glass(name).values["modulus"]
            ends = look.shown([known.low, known.high], "stiffness")
            ax.plot(ends, [-place, -place], color=GREY, lw=9)
            ax.text(low, -place, glass_words(name), va="center")
        (self.bar,) = ax.plot([], [], color=GREEN, lw=5)
        (self.middle,) = ax.plot([], [], "o", color=INK, ms=10)
        word = ax.text(low, 0, "this piece", va="center", weight="bold")
        return [self.bar, self.middle, word]

    def update(self, result: Rung, look: Look) -> None:
        """Move the chosen peaks, the expected pitches and the stiffness."""
        chosen = [result.ring.peaks[number - 1].frequency for number in result.peaks]
        self.used.set_data(chosen, [self._levels[pitch] for pitch in chosen])
        pitches = expected_pitches(result.tapped)
        self.expected.set_segments([[(f, _QUIETEST), (f, -2.0)] for f in pitches])
        self.note.set_text(expected_words(result.tapped))
        ends = look.shown(result.modulus.interval(), "stiffness")
        middle = look.shown(result.modulus.value, "stiffness").item()
        low, high = look.shown([_SOFTEST, _STIFFEST], "stiffness")
        self.bar.set_data(np.clip(ends, low, high), [0, 0])
        self.middle.set_data([min(max(middle, low), high)], [0])
