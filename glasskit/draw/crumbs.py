# SPDX-License-Identifier: MIT
"""Draw how a toughened pane breaks: its pieces, what its core pays for, and the count."""

from collections.abc import Iterable
from functools import cache

import numpy as np
import shapely
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from glasskit.breakage import SQUARE, Breakage
from glasskit.breaking import break_pane, usual_place
from glasskit.draw.look import GLASS, INK, PALE, PURPLE, WHITE, YELLOW, Look
from glasskit.draw.scene import Scene
from glasskit.materials import glass
from glasskit.quantities import FloatArray, System
from glasskit.stress import tempered
from glasskit.words.crumbs import breakage_verdict, pieces_verdict

_MOST = 2500  # pieces that the square can hold at the finest drawn
_SEED = 4
_GROWN, _THICK, _FINE = 0.2, 6e-3, 130e6  # pane whose crumbs are drawn: side, [m], [Pa]
_PLAIN = 3e-5  # bends of a crack that are smaller are not drawn [m]
_DARKER = "#CCCCCC"  # than the zone below, and ink still reads on it
_PAID = (0.03, 200.0)  # ends of the axis of cracks paid for
_COUNTS = (0.5, 20000.0)  # ends of the axis of pieces
_ORIGIN = np.array([0.34, 0.62])  # where a pane without crumbs was hit, share of the square


@cache
def tiles() -> FloatArray:
    """Return the corners of crumbs of area one round the origin, shape (pieces, corners, 2).

    Those of a pane that `glasskit.breaking` has broken from a corner, in its middle. Short
    pieces repeat their last corner. Broken once: a finer break is the same pattern seen from
    further off, so that nothing jumps while a slider moves.
    """
    place = usual_place("corner", _GROWN, _GROWN)
    profile, made_of = tempered(_FINE, _THICK), glass("soda-lime")
    pane = break_pane(profile, made_of, _GROWN, _GROWN, place=place, seed=_SEED)
    cells = [
        shapely.get_coordinates(piece)[:-1] - _GROWN / 2
        for piece in shapely.simplify(np.array(pane.pieces), _PLAIN)
    ]
    middles = shapely.get_coordinates(shapely.centroid(np.array(pane.pieces))) - _GROWN / 2
    inner = _GROWN / 2  # side of the part that is looked at most
    count = np.count_nonzero((np.abs(middles) < inner / 2).all(axis=1))
    most = max(map(len, cells))
    corners = np.array(
        [np.concatenate([cell, np.repeat(cell[-1:], most - len(cell), 0)]) for cell in cells]
    )
    return np.asarray(corners * np.sqrt(count) / inner)


@cache
def _blades() -> list[FloatArray]:
    """Return cracks from the origin of the break to beyond the square, of side one."""
    rng = np.random.default_rng(_SEED)
    angles = 2 * np.pi * (np.arange(7) + 0.5 * rng.random(7)) / 7
    way = np.linspace(0, 1.5, 9)
    bend = np.cumsum(0.06 * rng.standard_normal((7, 9)), axis=1)
    turned = angles[:, None] + bend
    paths = np.stack([way * np.cos(turned), way * np.sin(turned)], axis=-1)
    return list(_ORIGIN + paths)


def _square(ax: Axes, look: Look) -> tuple[PolyCollection, LineCollection, Rectangle]:
    """Set up the square in which pieces are counted; return crumbs, blades and its edge."""
    side = look.shown(SQUARE, "length").item()
    ax.set(xlim=(0, side), ylim=(0, side), aspect="equal", xticks=[], yticks=[])
    ax.set_xlabel(f"{look.show(SQUARE, 'length', 2)} of the pane")
    ax.spines[["top", "right"]].set_visible(True)
    fill = WHITE if look.mono else GLASS
    ax.set_facecolor(fill)
    crumbs = PolyCollection([], facecolor=fill, edgecolor=INK, linewidth=0.9)
    blades = LineCollection([side * path for path in _blades()], color=INK, linewidth=2.0)
    for artist in (crumbs, blades):
        ax.add_collection(artist, autolim=False)
    frame = Rectangle((0, 0), side, side, fill=False, edgecolor=INK, lw=2.4)
    ax.add_patch(frame)
    return crumbs, blades, frame


def _crumbs(result: Breakage, side: float) -> list[FloatArray]:
    """Return the crumbs within a square of that side."""
    corners = tiles() * side / np.sqrt(min(result.count, _MOST))
    near = (np.abs(corners) <= side / 2).all(axis=-1).any(axis=-1)
    return list(corners[near] + side / 2)


class PiecesScene(Scene[Breakage]):
    """The square of an ordinary and of a toughened pane, both broken."""

    sources = ("Gulati1997", "Barsom1968")

    def verdict(self, result: Breakage, system: System) -> str:
        """Return what the picture says."""
        return pieces_verdict(result)

    def build(self, figure: Figure, look: Look, result: Breakage) -> Iterable[Artist]:
        """Draw both squares; return what moves."""
        moving: list[Artist] = []
        for ax, name in zip(figure.subplots(1, 2), ("ordinary", "toughened"), strict=True):
            crumbs, blades, frame = _square(ax, look)
            ax.set_title(f"{name}: an illustration")
            blades.set_visible(name == "ordinary")
            moving += [blades, crumbs, frame]
        self.crumbs = crumbs
        return moving

    def update(self, result: Breakage, look: Look) -> None:
        """Set the pieces."""
        self.crumbs.set_verts(_crumbs(result, look.shown(SQUARE, "length").item()))


class CrumbScene(Scene[Breakage]):
    """Fifty millimetres of the broken pane, cracks that the core pays for, pieces."""

    sources = ("HutchinsonSuo1992", "Gulati1997", "Barsom1968")

    def verdict(self, result: Breakage, system: System) -> str:
        """Return what the picture says."""
        return breakage_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: Breakage) -> Iterable[Artist]:
        """Draw axes and words; return what moves."""
        pane, paid, count = figure.subplots(1, 3, width_ratios=(1.5, 1.0, 1.25))
        return [
            *self._build_pane(pane, look),
            *self._build_paid(paid),
            *self._build_count(count, look),
        ]

    def _build_pane(self, ax: Axes, look: Look) -> list[Artist]:
        ax.set_title("broken: an illustration")
        self.crumbs, self.blades, frame = _square(ax, look)
        return [self.crumbs, self.blades, frame]

    def _build_paid(self, ax: Axes) -> list[Artist]:
        low, high = _PAID
        ax.set(xlim=(0, 1), ylim=_PAID, yscale="log", xticks=[])
        ax.minorticks_off()
        ax.set_yticks([0.1, 1, 2, 10, 100], ["0.1", "1", "2", "10", "100"])
        ax.set_title("the core can drive …")
        ax.set_ylabel("cracks at once")
        zones = [
            (low, 1.0, WHITE, "cracks\nstop"),
            (1.0, 2.0, PALE, "run on"),
            (2.0, high, _DARKER, "run and\nsplit"),
        ]
        for start, end, colour, words in zones:
            ax.axhspan(start, end, facecolor=colour, lw=0)
            ax.text(0.97, np.sqrt(start * end), words, ha="right", va="center")
        for level in (1.0, 2.0):
            ax.axhline(level, color=INK, lw=1.4)
        (self.level,) = ax.plot([0, 0.4], [low, low], color=INK, lw=3)
        (self.dot,) = ax.plot([], [], "o", ms=15, color=INK)  # no bar: the axis has no zero
        return [self.level, self.dot]

    def _build_count(self, ax: Axes, look: Look) -> list[Artist]:
        ax.set(xlim=(0, 3.4), ylim=_COUNTS, yscale="log")
        ax.minorticks_off()
        ax.set_xticks([0.6, 1.6], ["by\nenergy", "by\nmass"])
        ax.set_xlabel("thick line: our number")
        ax.set_yticks([1, 10, 100, 1000, 10000], ["1", "10", "100", "1000", "10 000"])
        ax.set_title("pieces in the square")
        self.bands = [
            Rectangle((x, 1), 0.6, 0.0, edgecolor=INK, lw=1.6, facecolor=fill, hatch=hatch)
            for x, fill, hatch in (
                (0.3, PALE if look.mono else YELLOW, "//"),
                (1.3, PALE if look.mono else PURPLE, "\\\\"),
            )
        ]
        (self.middles,) = ax.plot([], [], ls="", marker="_", ms=30, mew=4, color=INK)
        self.asked = Rectangle((2.15, 1), 1.25, 0.0, facecolor=PALE, edgecolor=INK, lw=2)
        for patch in (*self.bands, self.asked):
            ax.add_patch(patch)
        self.levels = [ax.plot([0, 3.4], [1, 1], color=INK, ls="--", lw=1.4)[0] for _ in "ab"]
        self.asked_word = ax.text(3.4, 1, "", ha="right", va="bottom")
        self.no_count = ax.text(0.15, 300, "no published\ncount for\nthis pane", va="center")
        marks = [*self.levels, self.middles, self.asked_word, self.no_count]
        return [self.asked, *self.bands, *marks]

    def update(self, result: Breakage, look: Look) -> None:
        """Set pieces, dot and bands."""
        side = look.shown(SQUARE, "length").item()
        self.crumbs.set_visible(result.crumbles)
        self.blades.set_visible(not result.crumbles)
        if result.crumbles:
            self.crumbs.set_verts(_crumbs(result, side))
        paid = np.clip(result.cracks_paid, *_PAID)
        self.level.set_ydata([paid, paid])
        self.dot.set_data([0.2], [paid])
        self._set_count(result)

    def _set_count(self, result: Breakage) -> None:
        known = result.way == "quench"
        self.no_count.set_visible(not known)
        low, high = _COUNTS
        for band, (least, _, most) in zip(self.bands, result.relations, strict=True):
            band.set_visible(known)
            bottom, top = np.clip([least, most], low, high)
            band.set(y=bottom, height=top - bottom)
        self.middles.set_visible(known)
        self.middles.set_data([0.6, 1.6], [result.count if result.count > low else np.nan] * 2)
        self._set_asked([row.count for row in result.minimum])

    def _set_asked(self, counts: list[int]) -> None:
        for artist in (self.asked, self.asked_word, *self.levels):
            artist.set_visible(bool(counts))
        if not counts:
            return
        least, most = min(counts), max(counts)
        self.asked.set(y=least, height=most - least)
        for line, level in zip(self.levels, (least, most), strict=True):
            line.set_ydata([level, level])
        span = f"{most}" if least == most else f"{least} or {most}"
        self.asked_word.set(text=f"asked:\n{span}", y=1.1 * most)
