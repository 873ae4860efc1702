# SPDX-License-Identifier: MIT
"""Draw release, screen and room from the side, to scale, with how far the ball can go."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle
from matplotlib.ticker import MaxNLocator

from glasskit.demonstration import FOUND_AT, Screening
from glasskit.draw.look import GREY, INK, ORANGE, PALE, WHITE, Look
from glasskit.draw.scene import Scene
from glasskit.impact import drop_speed, throw_height, throw_range
from glasskit.quantities import System
from glasskit.words.screening import screening_verdict

_TALL, _SEATED = 1.75, 1.25  # standing and seated grown-up [m], to scale by
_PRESENTER = -0.9  # where the presenter stands, on the side of the blow [m]
_HALF_TABLE, _STEPS = 0.4, 80
_WIDE = 3.2  # of the picture over its height
_LEFT = FOUND_AT + 0.4  # what is shown on the presenter's side [m]


def _person(ax: Axes) -> list[Artist]:
    head = Circle((0, 0), 0.11, facecolor=PALE, edgecolor=INK, lw=1.2)
    body = Polygon([(0, 0)], facecolor=PALE, edgecolor=INK, lw=1.2)
    for patch in (body, head):
        ax.add_patch(patch)
    return [body, head]


def _place(figure: list[Artist], x: float, height: float, scale: float) -> None:
    body, head = figure
    assert isinstance(body, Polygon)
    assert isinstance(head, Circle)
    neck = height - 0.24
    shape = np.array([(-0.2, 0), (-0.22, neck), (0.22, neck), (0.2, 0)])
    body.set_xy((shape + np.array([x, 0])) * scale)
    head.set(center=(x * scale, (height - 0.12) * scale), radius=0.11 * scale)


class ScreeningScene(Scene[Screening]):
    """Presenter, table, pane, ball, screen and front row, with the reach of the ball."""

    sources = ("Pounds1978", "Luce1991")

    def verdict(self, result: Screening, system: System) -> str:
        """Return what the picture says."""
        return screening_verdict(result)

    def frame(self, result: Screening, look: Look) -> tuple[float, float]:
        """Return the ends of the room that is shown [m], in whole metres."""
        far = max(result.front_row + 0.8, FOUND_AT + 0.6)
        high = max(result.release, result.screen_top, _TALL) + 1.2
        high = float(np.ceil(2 * high) / 2)
        return float(max(np.ceil(far), _WIDE * high - _LEFT)), high

    def build(self, figure: Figure, look: Look, result: Screening) -> Iterable[Artist]:
        """Draw the floor; return what moves."""
        far, high = self.frame(result, look)
        scale = look.shown(1.0, "height").item()
        ax = figure.subplots()
        ax.set(xlim=(-_LEFT * scale, far * scale), ylim=(-0.12 * scale, high * scale))
        ax.set_aspect("equal", adjustable="box")
        for axis in (ax.xaxis, ax.yaxis):  # not as many as fit: that changes while laid out
            axis.set_major_locator(MaxNLocator(5, steps=[1, 2, 5, 10]))
        ax.set_xlabel(look.label("from the pane, to scale", "height"))
        ax.set_ylabel(look.label("above the floor", "height"))
        ax.axhspan(-0.12 * scale, 0, facecolor=PALE, edgecolor=GREY, hatch="//", lw=0)
        ax.axhline(0, color=INK, lw=1.6)
        return self._things(ax)

    def _things(self, ax: Axes) -> list[Artist]:
        self.table, self.pane = (
            Rectangle((0, 0), 0, 0, facecolor=colour, edgecolor=INK, lw=1.2)
            for colour in (WHITE, GREY)
        )
        self.screen = Rectangle(
            (0, 0), 0, 0, facecolor=WHITE, edgecolor=INK, hatch="||", lw=1.6
        )
        self.ball = Circle((0, 0), 0, facecolor=ORANGE, edgecolor=INK, lw=1.2)
        for patch in (self.table, self.pane, self.screen, self.ball):
            ax.add_patch(patch)
        self.presenter, self.audience = _person(ax), _person(ax)
        (self.reach,) = ax.plot([], [], color=INK, ls="--", lw=1.6)
        (self.roof,) = ax.plot([], [], color=GREY, lw=2)
        self.found = [ax.plot([], [], color=GREY, ls=":", lw=2)[0] for _ in range(2)]
        sides = ("center", "right", "right")
        self.words = [ax.text(0, 0, "", ha=side, va="bottom") for side in sides]
        for word in self.words:
            word.set_bbox({"facecolor": WHITE, "edgecolor": "none", "pad": 1.0, "alpha": 0.85})
        return [
            *(self.table, self.pane, *self.presenter, *self.audience, self.screen),
            *(self.reach, self.roof, *self.found, self.ball, *self.words),
        ]

    def update(self, result: Screening, look: Look) -> None:
        """Move everything to this release, screen and row."""
        scale = look.shown(1.0, "height").item()
        far, high = self.frame(result, look)
        self.table.set_bounds(
            *(scale * np.array([-_HALF_TABLE, 0, 2 * _HALF_TABLE, result.table - 0.02]))
        )
        self.pane.set_bounds(*(scale * np.array([-0.15, result.table - 0.02, 0.3, 0.02])))
        self.screen.set_bounds(
            *(scale * np.array([result.screen_distance, 0, 0.04, result.screen_top]))
        )
        self.ball.set(center=(0, result.release * scale), radius=0.05 * scale)
        _place(self.presenter, _PRESENTER, _TALL, scale)
        _place(self.audience, result.front_row, _SEATED, scale)
        self._lines(result, look, (far, high), scale)

    def _lines(
        self, result: Screening, look: Look, room: tuple[float, float], scale: float
    ) -> None:
        far, high = room
        speed = drop_speed(result.drop)
        ends = throw_range(speed, result.table).item()
        away = np.linspace(-min(ends, _LEFT), min(ends, far), _STEPS)
        rise = throw_height(speed, np.abs(away), result.table)
        self.reach.set_data(away * scale, np.maximum(rise, 0) * scale)
        self.roof.set_data([-9 * scale, 19 * scale], [result.ceiling * scale] * 2)
        self.roof.set_visible(result.ceiling < high)
        for line, side in zip(self.found, (-1, 1), strict=True):
            line.set_data([side * FOUND_AT * scale] * 2, [0, 0.42 * high * scale])
        texts = (
            (0.0, result.release + 0.1, f"release {look.show(result.release, 'height', 2)}"),
            (far - 0.1, 0.64 * high, "dashed: highest that\nthe ball can fly"),
            (far - 0.1, 0.44 * high, "dotted: pieces of plain\nwindows found to here"),
        )
        for word, (x, y, text) in zip(self.words, texts, strict=True):
            word.set_position((x * scale, y * scale))
            word.set_text(text)
