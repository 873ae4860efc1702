# SPDX-License-Identifier: MIT
"""Outlines to touch: bold lines and two textures, for paper that swells where it is black.

Nothing is told by colour or by a thin line. What the numbers stand for is printed small at the
foot, for whoever hands out the page.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Ellipse, Polygon, Rectangle

from glasskit.draw.crumbs import tiles
from glasskit.draw.look import INK, WHITE
from glasskit.draw.printables import PAPERS
from glasskit.materials import ionic_radius
from glasskit.quantities import one_of

_INCH = 25.4  # [mm]
_BOLD = 3.5  # [pt]: swell paper loses what is thinner than a millimetre
_APART = 8.0  # between stripes, and between dots [mm]
_SIDE = 105.0  # of each of the two pictures [mm]
_CRUMBS = 30  # in the square: more could not be told apart by a finger
_EDGE: Any = {"facecolor": WHITE, "edgecolor": INK, "linewidth": _BOLD}


def _line(ax: Axes, *points: tuple[float, float]) -> None:
    ax.plot(*zip(*points, strict=True), color=INK, lw=_BOLD, solid_capstyle="round")


def _striped(ax: Axes, corner: tuple[float, float], size: tuple[float, float]) -> None:
    ax.add_patch(Rectangle(corner, *size, **_EDGE))
    (left, low), (wide, high) = corner, size
    for x in np.arange(left + _APART, left + wide, _APART):
        _line(ax, (x, low), (x, low + high))


def _dotted(ax: Axes, corner: tuple[float, float], size: tuple[float, float]) -> None:
    ax.add_patch(Rectangle(corner, *size, **_EDGE))
    (left, low), (wide, high) = corner, size
    for x in np.arange(left + _APART, left + wide - 2, _APART):
        for y in np.arange(low + _APART, low + high - 2, _APART):
            ax.add_patch(Circle((x, y), 1.6, fc=INK, ec=INK))


def _strip(ax: Axes) -> None:
    ax.add_patch(Rectangle((5, 35), 95, 35, **_EDGE))


def _slit(ax: Axes) -> None:
    _strip(ax)
    _line(ax, (52, 70), (52, 52))


def _crack(ax: Axes, squeezed: bool) -> None:
    """Draw a crack from the face down: open like a wedge, or shut at its mouth."""
    _line(ax, (0, 90), (105, 90))
    if squeezed:
        _striped(ax, (0, 60), (38, 30))
        _striped(ax, (67, 60), (38, 30))
        _line(ax, (52, 90), (52, 50))
        ax.add_patch(Ellipse((52, 32), 10, 36, **_EDGE))
    else:
        ax.add_patch(Polygon([(40, 90), (52, 14), (64, 90)], **_EDGE))


def _row(ax: Axes, ion: str) -> None:
    """Draw four ions in a row, to one scale, between two bars."""
    radius = ionic_radius(ion, 6) * 9e10  # [mm]
    ends = 8 * radius
    for place in range(4):
        ax.add_patch(Circle(((2 * place + 1) * radius, 50), radius, **_EDGE))
    for x in (0.0, ends):
        _line(ax, (x, 20), (x, 80))


def _profile(ax: Axes, balanced: bool) -> None:
    """Draw stress through a plate: squeeze striped to the left, pull dotted to the right."""
    _line(ax, (52, 0), (52, 105))
    if balanced:
        _striped(ax, (12, 85), (40, 20))
        _striped(ax, (12, 0), (40, 20))
        _dotted(ax, (52, 20), (26, 65))


def _stop(ax: Axes, way: float) -> None:
    """Draw a ball before and after it has been stopped, and the way between."""
    ax.add_patch(Circle((25, 85), 14, **_EDGE))
    _line(ax, (60, 85), (60, 85 - way))
    for y in (85.0, 85.0 - way):
        _line(ax, (50, y), (70, y))
    _line(ax, (0, 85 - way - 14), (105, 85 - way - 14))


def _dots(ax: Axes, ordered: bool) -> None:
    grid = np.stack(np.meshgrid(*[np.linspace(12, 93, 5)] * 2), -1).reshape(-1, 2)
    stray = 0.0 if ordered else 5.5
    for x, y in grid + np.random.default_rng(3).uniform(-stray, stray, grid.shape):
        ax.add_patch(Circle((x, y), 4, fc=INK, ec=INK))


def _square(ax: Axes, crumbs: bool) -> None:
    ax.add_patch(Rectangle((0, 0), _SIDE, _SIDE, **_EDGE))
    if crumbs:
        cells = tiles() * _SIDE / np.sqrt(_CRUMBS) + _SIDE / 2
        for cell in cells[((cells > 0) & (cells < _SIDE)).all(axis=-1).any(axis=-1)]:
            shown = Polygon(cell, closed=True, **_EDGE)
            ax.add_patch(shown)
            shown.set_clip_path(ax.patches[0])
        ax.add_patch(Rectangle((0, 0), _SIDE, _SIDE, **{**_EDGE, "facecolor": "none"}))
    else:
        for angle in np.radians([20, 95, 160, 230, 310]):
            _line(ax, (52, 52), (52 + 50 * np.cos(angle), 52 + 50 * np.sin(angle)))


_Drawn = tuple[Callable[[Axes], None], str]
_PICTURES: Mapping[str, tuple[_Drawn, _Drawn]] = MappingProxyType(
    {
        "breaks": ((_strip, "a whole strip"), (_slit, "a strip with a slit from its edge")),
        "shut": (
            (lambda ax: _crack(ax, False), "a crack that is pulled open from face to tip"),
            (
                lambda ax: _crack(ax, True),
                "a crack whose mouth a squeezed skin (stripes) shuts; its tip stands open",
            ),
        ),
        "ions": (
            (lambda ax: _row(ax, "Na"), "four sodium ions between two bars"),
            (lambda ax: _row(ax, "K"), "four potassium ions, to the same scale"),
        ),
        "bath": (
            (lambda ax: _row(ax, "Na"), "four sodium ions between two bars"),
            (lambda ax: _row(ax, "K"), "four potassium ions that took their places"),
        ),
        "quench": (
            (lambda ax: _profile(ax, False), "the thickness of a plate without stress"),
            (
                lambda ax: _profile(ax, True),
                "the same plate, quenched: skins squeezed (stripes), core pulled (dots)",
            ),
        ),
        "energy": (
            (lambda ax: _stop(ax, 8.0), "a ball that is stopped within a short way"),
            (lambda ax: _stop(ax, 45.0), "the same ball, stopped within a long way"),
        ),
        "flow": (
            (lambda ax: _dots(ax, True), "atoms in a pattern that repeats: a crystal"),
            (lambda ax: _dots(ax, False), "atoms without a pattern: a glass"),
        ),
        "crumbs": (
            (lambda ax: _square(ax, False), "a broken window pane: few cracks, blades"),
            (lambda ax: _square(ax, True), "a broken toughened pane: crumbs"),
        ),
    }
)


def touch_page(topic: str, paper: str = "A4") -> Figure:
    """Return a page with two outlines of a lesson's topic, for paper that swells.

    Parameters
    ----------
    topic : str
        A key of ``lesson_topics.csv``.
    paper : {"A4", "Letter"}
        Size of the page.

    Returns
    -------
    Figure
        Black lines and textures on white; what they show is printed at the foot.

    Raises
    ------
    ValueError
        If topic or paper is unknown.

    """
    one_of("topic", topic, _PICTURES)
    one_of("paper", paper, PAPERS)
    width, height = PAPERS[paper]
    figure = Figure((width / _INCH, height / _INCH))
    for place, (draw, _) in enumerate(_PICTURES[topic]):
        low = height / 2 + 12 if place == 0 else height / 2 - _SIDE - 8
        box = ((width - _SIDE) / 2 / width, low / height, _SIDE / width, _SIDE / height)
        ax = figure.add_axes(box)
        ax.set(xlim=(-2, _SIDE + 2), ylim=(-2, _SIDE + 2), aspect="equal")
        ax.set_axis_off()
        draw(ax)
        figure.text(0.1, (low + _SIDE / 2) / height, f"{place + 1}", size=40, va="center")
    said = [f"{n} {words}" for n, (_, words) in enumerate(_PICTURES[topic], 1)]
    foot = "\n".join(["For paper that swells where it is black.", *said])
    figure.text(0.1, 0.05, foot, size=9)
    return figure
