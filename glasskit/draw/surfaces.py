# SPDX-License-Identifier: MIT
"""Draw a fracture surface with its origin, and the mark that somebody puts on it."""

from collections.abc import Iterable

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Ellipse, Polygon, Rectangle
from numpy.typing import NDArray

from glasskit.draw.look import GLASS, GREY, INK, PALE, WHITE, Look
from glasskit.draw.scene import FixedScene
from glasskit.quantities import System
from glasskit.training import Reading, Surface
from glasskit.training.surfaces import WIDTH
from glasskit.words.surfaces import reading_verdict

_LINES = 420
_DOTS = 900
_CURL = 0.12  # of the height, on the squeezed side, where lines die out


class ReadingScene(FixedScene[Reading]):
    """A section or a tile, its lines, and a cross with a circle where the reader marks."""

    sources = ("Quinn2016",)

    def verdict(self, result: Reading, system: System) -> str:
        """Return what the picture says."""
        return reading_verdict(result)

    def build(self, figure: Figure, look: Look, result: Reading) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        ax, piece = figure.subplots(), result.surface
        scale = look.shown(1.0, "length").item()
        rng = np.random.default_rng([piece.seed, 11])
        width, height = WIDTH * scale, piece.height * scale
        glass = Rectangle((0, 0), width, height, fc=GLASS, ec=INK, lw=1.6)
        ax.add_patch(glass)
        parts = (
            _tile(ax, piece, rng, scale)
            if piece.height == WIDTH
            else _section(ax, piece, rng, scale)
        )
        for part in parts:
            part.set_clip_path(glass)
        mark = (result.across * scale, result.up * scale)
        ax.plot(*mark, "+", color=INK, ms=18, mew=2.4)
        if result.radius:
            ring = Circle(mark, result.radius * scale, fill=False, ec=INK, lw=2.0, ls="--")
            ax.add_patch(ring)
        room = 0.06 * width
        ax.set(xlim=(-room, width + room), ylim=(-room, height + room), aspect="equal")
        ax.set_xlabel(look.label("across", "length"))
        ax.set_ylabel(look.label("up", "length"))
        return []


def _section(ax: Axes, piece: Surface, rng: np.random.Generator, scale: float) -> list[Artist]:
    """Draw mist and lines round the origin, and what else there is on a section."""
    origin = np.array([piece.across, piece.up]) * scale
    mirror, high = piece.radius * scale, piece.height * scale
    turn = rng.uniform(0, np.pi, _LINES)
    start = mirror * rng.uniform(1.3, 9.0, _LINES) ** rng.uniform(0.8, 1.4, _LINES)
    along = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    length = mirror * rng.uniform(0.5, 3.0, _LINES)
    ends = np.stack(
        [origin + start[:, None] * along, origin + (start + length)[:, None] * along], axis=1
    )
    ends = ends[ends[:, 1, 1] < (1 - _CURL) * high]
    parts: list[Artist] = [
        ax.add_collection(LineCollection(list(ends), colors=GREY, linewidths=0.9))
    ]
    away = mirror * np.sqrt(rng.uniform(1.0, 1.9, _DOTS))
    turn = rng.uniform(0, np.pi, _DOTS)
    dots = origin + away[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    parts += ax.plot(*dots.T, ".", color=GREY, ms=1.6)
    if piece.kind == "lost":
        parts.append(ax.add_patch(_missing(origin, mirror, rng)))
    if piece.kind == "chip":
        side = 0.9 if piece.across < 0.5 * WIDTH else 0.1
        parts += _shell(ax, side * WIDTH * scale, high, mirror)
    return parts


def _missing(origin: NDArray[np.float64], mirror: float, rng: np.random.Generator) -> Polygon:
    """Return the hole that a lost piece leaves over the origin."""
    turn = np.linspace(0, np.pi, 14)
    away = mirror * rng.uniform(2.2, 2.9, turn.size)
    rim = origin + away[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    return Polygon(rim, fc=WHITE, ec=INK, lw=1.4, zorder=3)


def _shell(ax: Axes, across: float, up: float, mirror: float) -> list[Artist]:
    """Draw a chip that came off afterwards: rings round a blow, no lines out of it."""
    return [
        ax.add_patch(
            Ellipse(
                (across, up),
                3.2 * share * mirror,
                2.4 * share * mirror,
                fc=PALE if share == 1.0 else "none",
                ec=INK if share == 1.0 else GREY,
                lw=1.2,
                zorder=3,
            )
        )
        for share in (1.0, 0.8, 0.55, 0.3)
    ]


def _tile(ax: Axes, piece: Surface, rng: np.random.Generator, scale: float) -> list[Artist]:
    """Draw a crack that forks again and again on its way up."""
    start = np.array([piece.across, piece.up]) * scale
    first = piece.radius * scale
    lines, tips = [], [(start, np.pi / 2, first, 0)]
    while tips:
        at, turn, length, forks = tips.pop()
        to = at + length * np.array([np.cos(turn), np.sin(turn)])
        lines.append([at, to])
        if forks < 7:
            tips += [
                (
                    to,
                    turn + side * np.radians(rng.uniform(9, 20)),
                    first * rng.uniform(1.2, 2.8),
                    forks + 1,
                )
                for side in (-1, 1)
            ]
    return [ax.add_collection(LineCollection(lines, colors=INK, linewidths=1.2))]
