# SPDX-License-Identifier: MIT
"""Draw a class's strengths: a dot for each stick, the Weibull line, the modulus."""

from collections.abc import Hashable, Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.ticker import FixedLocator, NullFormatter, NullLocator

from glasskit.classroom import ClassResult
from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, Look, round_up
from glasskit.draw.scene import Scene
from glasskit.quantities import FloatArray, System
from glasskit.strength import paper_height
from glasskit.words.results import class_verdict

_BINS = 40  # across the axis of strengths: dots nearer than that stand on each other
_SHARES = (0.01, 0.05, 0.1, 0.3, 0.5, 0.9, 0.99)  # labelled on Weibull paper
_LOWEST, _HIGHEST = (float(paper_height(share)) for share in (0.004, 0.998))
_LEVEL = 0.9  # confidence of band and bar
_MODULI = (1.0, 50.0)  # ends of the axis of the modulus


class ClassScene(Scene[ClassResult]):
    """Dots on a line, points on Weibull paper, and how well the modulus is known."""

    sources = ("Weibull1951", "Thoman1969")

    def verdict(self, result: ClassResult, system: System) -> str:
        """Return what the picture says."""
        return class_verdict(result, system)

    def frame(self, result: ClassResult, look: Look) -> Hashable:
        """Return the ends of the axes."""
        return self._top(result), self._paper(result), self._tallest(result)

    @staticmethod
    def _top(result: ClassResult) -> float:
        """Return the end of the axis of strengths [Pa]."""
        strengths = result.strengths
        return round_up(1.02 * strengths[-1]) if strengths.size else 50e6

    @staticmethod
    def _paper(result: ClassResult) -> tuple[float, float]:
        """Return the ends of the logarithmic axis [Pa], on steps of a quarter of a decade."""
        strengths = result.strengths
        ends = (strengths[0], strengths[-1]) if strengths.size else (20e6, 50e6)
        low, high = 4 * np.log10(ends[0] / 1.1), 4 * np.log10(1.1 * ends[1])
        return float(10 ** (np.floor(low) / 4)), float(10 ** (np.ceil(high) / 4))

    def _tallest(self, result: ClassResult) -> float:
        heights = self._stacked(result)
        return max(5.0, round_up(heights.max() + 1) if heights.size else 0.0)

    def _stacked(self, result: ClassResult) -> FloatArray:
        """Return how high each dot stands on those beside it."""
        place = np.floor(result.strengths / self._top(result) * _BINS)
        first = np.searchsorted(place, place)  # ascending, so equal places stand together
        return np.asarray(np.arange(place.size) - first + 1.0)

    def build(self, figure: Figure, look: Look, result: ClassResult) -> Iterable[Artist]:
        """Draw axes and words; return what moves."""
        dots, paper, sure = figure.subplots(1, 3, width_ratios=(1.35, 1.5, 0.75))
        return [
            *self._build_dots(dots, look, result),
            *self._build_paper(paper, look, result),
            *self._build_sure(sure),
        ]

    def _build_dots(self, ax: Axes, look: Look, result: ClassResult) -> list[Artist]:
        top = look.shown(self._top(result), "stress").item()
        ax.set(xlim=(0, top), ylim=(0, self._tallest(result) + 1))
        ax.set_title("each dot is a stick")
        ax.set_xlabel(look.label("strength", "stress"))
        ax.set_ylabel("sticks side by side")
        ax.locator_params(nbins=4)
        self.dots = _points(ax, look)
        self.cut = ax.plot([0, 0], [0, self._tallest(result)], color=INK, ls="--", lw=2)[0]
        self.kinds = ax.text(
            0.5, 1.0, "two kinds?", transform=ax.transAxes, ha="center", va="top"
        )
        return [self.cut, self.dots, self.kinds]

    def _build_paper(self, ax: Axes, look: Look, result: ClassResult) -> list[Artist]:
        ends = look.shown(self._paper(result), "stress")
        ax.set(xlim=ends, ylim=(_LOWEST, _HIGHEST), xscale="log")
        ticks = _plain_ticks(*ends)
        ax.xaxis.set_major_locator(FixedLocator(ticks))
        ax.xaxis.set_minor_locator(NullLocator())
        ax.xaxis.set_minor_formatter(NullFormatter())
        ax.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
        ax.set_yticks(paper_height(_SHARES), [f"{100 * share:g}%" for share in _SHARES])
        ax.set_title("broken below, Weibull paper")
        ax.set_xlabel(look.label("strength", "stress"))
        self.band = PolyCollection([], facecolor=PALE, lw=0)
        ax.add_collection(self.band, autolim=False)
        (self.line,) = ax.plot([], [], color=INK, lw=2.4)
        self.points = _points(ax, look)
        self.few = ax.text(
            0.5, 0.5, "too few sticks\nfor a line", transform=ax.transAxes, ha="center"
        )
        ax.text(0.99, 0.02, "band: 9 times in 10", transform=ax.transAxes, ha="right")
        return [self.band, self.line, self.points, self.few]

    def _build_sure(self, ax: Axes) -> list[Artist]:
        ax.set(xlim=(0, 1), ylim=_MODULI, yscale="log", xticks=[])
        ax.minorticks_off()
        ax.set_yticks([1, 2, 5, 10, 20, 50], ["1", "2", "5", "10", "20", "50"])
        ax.set_title("modulus")
        ax.set_ylabel("scatters   ←   →   all alike")
        self.wanted = Rectangle((0.0, 1), 1, 0, facecolor=PALE, edgecolor=GREY, hatch="//")
        ax.add_patch(self.wanted)
        self.known = Rectangle((0.06, 1), 0.3, 0, facecolor=WHITE, edgecolor=INK, lw=2.4)
        ax.add_patch(self.known)
        (self.modulus,) = ax.plot([], [], ls="", marker="_", ms=26, mew=4, color=INK)
        self.wanted_word = ax.text(0.98, 1, "wanted", ha="right", va="bottom")
        self.known_word = ax.text(0.98, 1, "known", ha="right", va="top")
        return [self.wanted, self.known, self.modulus, self.wanted_word, self.known_word]

    def update(self, result: ClassResult, look: Look) -> None:
        """Set dots, points, line and bars."""
        strengths = look.shown(result.strengths, "stress")
        self.dots.set_data(strengths, self._stacked(result))
        fit, cut = result.fit, result.cut
        self.few.set_visible(fit is None)
        for artist in (
            self.band,
            self.line,
            self.points,
            self.wanted,
            self.wanted_word,
            self.known,
            self.known_word,
            self.modulus,
        ):
            artist.set_visible(fit is not None)
        seen = cut is not None and cut.seen
        self.cut.set_visible(seen)
        self.kinds.set_visible(seen)
        if fit is None or cut is None:
            return
        self.cut.set_xdata([look.shown(cut.stress, "stress").item()] * 2)
        self.points.set_data(strengths, paper_height(fit.rank_plot()[1]))
        self._set_line(result, look)
        low, high = fit.interval(_LEVEL)
        middle = fit.modulus.item()
        self.modulus.set_data([0.21], [middle])
        self.known.set(y=low, height=high - low)
        bottom, top = middle / result.factor, middle * result.factor
        self.wanted.set(y=bottom, height=top - bottom)
        self.wanted_word.set_y(1.03 * max(top, high))
        self.known_word.set_y(min(bottom, low) / 1.03)

    def _set_line(self, result: ClassResult, look: Look) -> None:
        fit = result.fit
        assert fit is not None
        stress = np.geomspace(*self._paper(result), 25)
        chance = np.clip(fit.failure_chance(stress), 1e-12, 1 - 1e-12)
        low, high = np.clip(fit.failure_interval(stress, _LEVEL), 1e-9, 1 - 1e-12).T
        shown = look.shown(stress, "stress")
        self.line.set_data(shown, paper_height(chance))
        there, back = (np.stack([shown, paper_height(side)], -1) for side in (low, high))
        self.band.set_verts([np.concatenate([there, back[::-1]])])


def _points(ax: Axes, look: Look) -> Line2D:
    fill = WHITE if look.mono else ORANGE
    size = 7 * (1.2 if look.large else 1.0)
    (line,) = ax.plot([], [], ls="", marker="o", ms=size, mfc=fill, mec=INK, mew=1.0)
    return line


def _plain_ticks(low: float, high: float) -> list[float]:
    """Return the plain numbers between two ends, five at most."""
    powers = 10.0 ** np.arange(np.floor(np.log10(low)), np.ceil(np.log10(high)) + 1)
    for steps in ((1, 2, 3, 5, 7), (1, 2, 5), (1,)):
        ticks = [float(p * s) for p in powers for s in steps if low <= p * s <= high]
        if len(ticks) <= 5:
            return ticks
    return ticks[:: len(ticks) // 4]
