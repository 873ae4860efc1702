# SPDX-License-Identifier: MIT
"""Empty graph papers for pencil and ruler, black on white."""

from typing import Any

from matplotlib.figure import Figure

from glasskit.draw.look import GREY, INK, WHITE, Look
from glasskit.strength import paper_height

_SHARES = (0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 0.98)
_FINE: Any = {"color": GREY, "linewidth": 0.4}


def _figure(height: float, large: bool) -> Figure:
    """Return a figure for the width of the paper; in large print type has 18 points there."""
    size = (6.6, 2 * height) if large else (7.0, height)
    return Figure(size, layout="constrained")


def weibull_paper(large: bool = False) -> Figure:
    """Return Weibull paper from 5 to 100 MPa, with the line of 63.2 % marked.

    Shares stand at ln ln(1/(1 − share)), stresses at their logarithm, so that a Weibull
    population is a straight line.
    """
    with Look(mono=True, large=large).drawing():
        figure = _figure(2.7, large)
        ax = figure.subplots()
        heights = paper_height(_SHARES)
        ax.set(xscale="log", xlim=(5, 100), ylim=(heights[0], heights[-1]))
        ax.set(xlabel="stress / MPa", ylabel="broken / %")
        ticks = [5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100]
        if large:
            ticks = [5, 6, 8, 10, 15, 20, 30, 40, 60, 100]
        ax.set_xticks(ticks, [str(tick) for tick in ticks])
        ax.set_xticks([7, 9, *range(11, 31), *range(32, 100, 2)], minor=True, labels=[])
        ax.set_yticks(heights, [f"{100 * share:.0f}" for share in _SHARES])
        ax.grid(which="both", **_FINE)
        ax.axhline(0.0, color=INK, linewidth=1.0, linestyle="--")
        for label in (*ax.get_xticklabels(), *ax.get_yticklabels()):
            label.set_fontsize(18 if large else 9)
    return figure


def dot_paper(large: bool = False) -> Figure:
    """Return a line from 0 to 140 g with squares to stack dots in."""
    with Look(mono=True, large=large).drawing():
        figure = _figure(1.5, large)
        ax = figure.subplots()
        ax.set(xlim=(0, 140), ylim=(0, 4), xlabel="load when it broke / g", yticks=range(5))
        ax.set_xticks(range(0, 141, 10))
        ax.set_xticks(range(0, 141, 5), minor=True)
        ax.tick_params(axis="y", labelleft=False, length=0)
        ax.grid(which="both", **_FINE)
    return figure


def balance_paper(up: str = "pull", down: str = "squeeze", *, large: bool = False) -> Figure:
    """Return squared paper with depth across, and stress `up` and `down` by these names."""
    with Look(mono=True, large=large).drawing():
        figure = _figure(2.1, large)
        ax = figure.subplots()
        ax.set(xlim=(0, 24), ylim=(-8, 3), xlabel="from face to face through the plate / mm")
        ax.set_ylabel("stress / MPa")
        ax.set_xticks(range(25), [])
        ax.set_yticks(range(-8, 4), [])
        ax.grid(**_FINE)
        ax.axhline(0, color=INK, linewidth=1.2)
        style: Any = {"ha": "center", "va": "center", "bbox": {"fc": WHITE, "ec": "none"}}
        ax.text(12, 2.0, up, **style)
        ax.text(12, -7.0, down, **style)
    return figure


def slope_paper(large: bool = False) -> Figure:
    """Return squared paper for the logarithms of two quantities."""
    with Look(mono=True, large=large).drawing():
        figure = _figure(2.7, large)
        ax = figure.subplots()
        ax.set(xlim=(0, 28), ylim=(0, 12), xlabel="logarithm of …", ylabel="logarithm of …")
        ax.set_xticks(range(29), [])
        ax.set_yticks(range(13), [])
        ax.grid(**_FINE)
    return figure
