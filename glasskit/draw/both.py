# SPDX-License-Identifier: MIT
"""Draw the same fall on two panes: the fall to scale, both panes from the side and above."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle

from glasskit.breaking import blow_at, break_pane
from glasskit.demonstration import BothPanes
from glasskit.draw.look import GLASS, INK, ORANGE, PALE, Look
from glasskit.draw.scene import Scene
from glasskit.materials import Glass
from glasskit.quantities import GRAVITY, FloatArray, System
from glasskit.stress import annealed, tempered
from glasskit.words.both import both_verdict, phase_words

_KINDS = ("ordinary", "toughened")
_FALL, _BLOW, _LATER = 14, 26, 16  # frames
RATE = 12
"""Frames a second at which the film is to be shown."""

_ROOM = 0.75  # height and width of a view of a pane, over its length
_DEEPER = np.array([1.0, 2.0, 5.0, 10.0, 20.0, 50.0])
_DEEPEST = 0.12  # largest sag drawn, over the length
_GAP = 0.01  # between the halves of a broken pane, over its length
_BEND = 1.5e-3  # how far a drawn crack may lie off the grown one, over the length
_SEED = 7


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moment:
    """A moment of the fall on both panes.

    Attributes
    ----------
    both : BothPanes
        The story.
    time : float
        Since the release [s].
    slower : float
        How many times slower than in truth it is shown [-].

    """

    both: BothPanes
    time: float
    slower: float


def moments(both: BothPanes) -> list[Moment]:
    """Return the frames of the film: fall, blow and what comes of it, each at its own pace."""
    parts = (
        (0.0, both.touch, _FALL),
        (both.touch, both.parted, _BLOW),
        (both.parted, both.end, _LATER),
    )
    found = []
    for start, end, count in parts:
        slower = count / RATE / (end - start)
        times = np.linspace(start, end, count, endpoint=False)
        found += [Moment(both=both, time=float(time), slower=slower) for time in times]
    return found


def _cracks(both: BothPanes, kind: int) -> list[FloatArray]:
    """Return the cracks of a pane that this blow breaks, from its middle; none if it holds."""
    struck = both.struck
    if not np.isfinite(both.breaks[kind]):
        return []
    squeeze = struck.compression if kind else 0.0
    thick, length = struck.pane.thickness, struck.pane.length
    profile = tempered(squeeze, thick) if squeeze else annealed(thick)
    blow = blow_at(both.impact, both.tension(both.breaks[kind]))
    made_of = struck.pane.glass
    assert isinstance(made_of, Glass)  # as `drop_both` asks for
    pane = break_pane(profile, made_of, length, length, blow=blow, seed=_SEED)
    # Bends that nobody can see would make the show's file three times as large.
    seen = shapely.simplify([shapely.LineString(line) for line in pane.lines], _BEND * length)
    return [shapely.get_coordinates(line) - 0.5 * length for line in seen]


class BothScene(Scene[Moment]):
    """The fall to scale, and each pane from the side and from above."""

    sources = ("Zener1941", "Goldsmith1960")

    def verdict(self, result: Moment, system: System) -> str:
        """Return what the picture says."""
        if result.time < max(result.both.touch, min(result.both.breaks)):
            return "Two panes that look alike, one ball each"
        return both_verdict(result.both)

    def frame(self, result: Moment, look: Look) -> tuple[float, float, float]:
        """Return length of the pane and height of the fall [m], and the exaggeration."""
        struck = result.both.struck
        deepest = result.both.impact.deflection.item()
        fitting = int(
            np.searchsorted(_DEEPER, _DEEPEST * struck.pane.length / deepest, "right")
        )
        return struck.pane.length, struck.height, float(_DEEPER[max(fitting - 1, 0)])

    def build(self, figure: Figure, look: Look, result: Moment) -> Iterable[Artist]:
        """Draw panes and supports; return what moves."""
        _, height, deeper = self.frame(result, look)
        grid = figure.add_gridspec(3, 3, width_ratios=(0.4, 1, 1), height_ratios=(0.1, 1.2, 1))
        line = figure.add_subplot(grid[0, :])
        line.axis("off")
        line.set(xlim=(-1, 1), ylim=(-1, 1))
        self.phase = line.text(0, 0, "", ha="center", va="center")
        moving = [self.phase, *self._build_fall(figure.add_subplot(grid[1:, 0]), look, height)]
        self.views = [
            _View(
                figure.add_subplot(grid[1, 1 + kind]),
                figure.add_subplot(grid[2, 1 + kind]),
                result.both,
                kind,
            )
            for kind in range(2)
        ]
        for view in self.views:
            moving += view.artists
        self.views[0].above.set_xlabel("where cracks run is chance")
        scale = "to scale" if deeper == 1 else f"{deeper:g} times too deep"
        self.views[1].above.set_xlabel(f"bending drawn {scale}")
        return moving

    def _build_fall(self, ax: Axes, look: Look, height: float) -> list[Artist]:
        shown = look.shown(height, "height").item()
        ax.set(xlim=(-1, 1), ylim=(-0.06 * shown, 1.12 * shown), xticks=[])
        ax.spines["bottom"].set_visible(False)
        ax.set_title(look.label("fall", "height"))
        ax.axhline(0, color=INK, lw=5)
        (self.dot,) = ax.plot([0], [shown], "o", color=ORANGE, mec=INK, ms=16 * look.scale)
        return [self.dot]

    def update(self, result: Moment, look: Look) -> None:
        """Move balls and panes to this moment."""
        both, time = result.both, result.time
        *_, deeper = self.frame(result, look)
        high = look.shown(max(both.ball(min(time, both.touch), 0), 0.0), "height").item()
        after = look.shown(max(both.ball(time, 1), 0.0), "height").item()
        self.dot.set_ydata([high if time < both.touch else after])
        self.phase.set_text(phase_words(both, time, result.slower))
        for view in self.views:
            view.update(both, time, deeper)


class _View:
    """One pane from the side and from above."""

    def __init__(self, side: Axes, above: Axes, both: BothPanes, kind: int) -> None:
        struck = both.struck
        self.kind, self.above, length = kind, above, struck.pane.length
        self.length, self.thick = length, struck.pane.thickness
        room = _ROOM * length
        for ax in (side, above):
            ax.set(xlim=(-room, room), xticks=[], yticks=[], aspect="equal")
            ax.spines[["left", "bottom"]].set_visible(False)
        side.set(ylim=(-0.55 * length, 0.5 * length))
        above.set(ylim=(-0.55 * length, 0.55 * length))
        side.set_title(_KINDS[kind])
        rest = 0.08 * length
        for way in (-1, 1):
            foot = (way * 0.5 * length - 0.5 * rest, -0.55 * length)
            tall = 0.55 * length - self.thick
            side.add_patch(Rectangle(foot, rest, tall, facecolor=PALE, edgecolor=INK))
        corner = (-0.5 * length, -0.5 * length)
        above.add_patch(Rectangle(corner, length, length, facecolor=GLASS, edgecolor=INK))
        self.glass = PolyCollection([], facecolor=GLASS, edgecolor=INK, lw=1.2)
        side.add_collection(self.glass)
        radius = struck.ball.radius
        self.balls = [
            Circle((0, 0), radius, facecolor=ORANGE, edgecolor=INK) for _ in range(2)
        ]
        side.add_patch(self.balls[0])
        above.add_patch(self.balls[1])
        self.balls[1].set_zorder(2.5)  # upon the cracks
        self.radius = radius
        cracks = _cracks(both, kind)
        self.cracks = LineCollection(cracks, color=INK, lw=1.2 if kind == 0 else 0.5)
        above.add_collection(self.cracks)
        box = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}
        self.word = above.text(0, -0.36 * length, "", ha="center", va="center", weight="bold")
        self.word.set_bbox(box)
        self.artists = [self.glass, *self.balls, self.cracks, self.word]

    def update(self, both: BothPanes, time: float, deeper: float) -> None:
        since = time - both.breaks[self.kind]
        broken = since >= 0
        high = both.ball(time, self.kind)
        if broken:
            self.glass.set_verts(self._halves(since))
        else:
            top = -deeper * both.sag(time)
            places = both.struck.places
            under = np.r_[top, top[::-1] - self.thick]
            self.glass.set_verts([np.column_stack([np.r_[places, places[::-1]], under])])
            if both.touch <= time <= both.parted:  # on the pane as it is drawn
                high = deeper * high if high < 0 else high
        self.balls[0].set_center((0, high + self.radius))
        self.balls[1].set_visible(high > -2 * self.radius)
        self.cracks.set_visible(broken)
        self.word.set_text("broken" if broken else "whole")

    def _halves(self, since: float) -> list[FloatArray]:
        """Return two halves that swing down about what they lay on, as rods do."""
        half = 0.5 * self.length
        angle = min(0.75 * GRAVITY / half * since**2, np.radians(75))
        end = half - _GAP * self.length
        corners = np.array([(0, 0), (end, 0), (end, -self.thick), (0, -self.thick)])
        cos, sin = np.cos(angle), np.sin(angle)
        left = corners @ np.array([[cos, -sin], [sin, cos]]) - (half, 0)
        return [left, left * (-1, 1)]
