# SPDX-License-Identifier: MIT
"""Draw the strengths of a series on Weibull paper, each kind of origin by itself."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator

from glasskit.draw.look import GREEN, GREY, INK, PURPLE, Look
from glasskit.draw.scene import Scene
from glasskit.lab import Outcome
from glasskit.quantities import System, show_number
from glasskit.strength import WeibullFit, paper_height
from glasskit.words.lab import outcome_verdict

_SHARES = np.array([0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.98])
_ENDS = (paper_height(0.008).item(), paper_height(0.993).item())
_COLOURS = (INK, GREEN, PURPLE, GREY)
_MARKS = "os^D"
_STYLES = ("-", "--", "-.", ":")


class PaperScene(Scene[Outcome]):
    """Weibull paper: points, fitted line and 95 % band of each kind of origin."""

    sources = ("Weibull1951", "C1239")

    def verdict(self, result: Outcome, system: System) -> str:
        """Return what the picture says."""
        return outcome_verdict(result, system)

    def frame(self, result: Outcome, look: Look) -> int:
        """Return a mark of the result: every series has axes of its own."""
        return id(result)

    def build(self, figure: Figure, look: Look, result: Outcome) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax = figure.subplots()
        values = look.shown(result.reduction.value, "stress")
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
        for place, (name, fit) in enumerate(result.fits.items()):
            self._population(ax, look, place % 4, name, fit)
            self._widths(ax, look, place % 4, fit, result)
        if result.fits:
            ax.legend(loc="upper left", frameon=True, framealpha=1.0, edgecolor=GREY)
        return []

    def _population(
        self, ax: Axes, look: Look, place: int, name: str, fit: WeibullFit
    ) -> None:
        colour = INK if look.mono else _COLOURS[place]
        height = np.linspace(*_ENDS, 40)
        chance = -np.expm1(-np.exp(height))
        line = look.shown(fit.quantile(chance), "stress")
        band = look.shown(fit.quantile_interval(chance), "stress")
        ax.fill_betweenx(height, *band.T, color=colour, alpha=0.12, lw=0)
        for edge in band.T:
            ax.plot(edge, height, color=colour, lw=0.8, ls=_STYLES[place])
        words = f"{name}: modulus {show_number(fit.modulus.item(), 2)}"
        ax.plot(line, height, color=colour, ls=_STYLES[place], label=words)
        strength, share = fit.rank_plot()
        seen = np.isfinite(share)
        ax.plot(
            look.shown(strength[seen], "stress"),
            paper_height(share[seen]),
            _MARKS[place],
            color=colour,
            mfc="white" if look.mono else colour,
            ms=7,
        )

    def _widths(
        self, ax: Axes, look: Look, place: int, fit: WeibullFit, result: Outcome
    ) -> None:
        """Draw through each mark how sure its specimen is, 95 %."""
        half = result.reduction.budget.expanded()[np.argsort(result.reduction.value)]
        strength, share = fit.rank_plot()
        seen = np.isfinite(share) & (half < strength)
        ends = look.shown((strength + np.array([[-1], [1]]) * half)[:, seen], "stress")
        colour = INK if look.mono else _COLOURS[place]
        ax.hlines(paper_height(share[seen]), *ends, color=colour, lw=1.2)

    def update(self, result: Outcome, look: Look) -> None:
        """Leave all as it is: nothing moves."""
