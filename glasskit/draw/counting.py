# SPDX-License-Identifier: MIT
"""Draw the pieces that were found in a photograph, their count, and what it suggests."""

from collections.abc import Iterable, Sequence
from io import BytesIO
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator, NullFormatter, NullLocator, ScalarFormatter
from PIL import Image, ImageDraw

from glasskit.breakage import SQUARE
from glasskit.draw.look import GREY, INK, PALE, WHITE, YELLOW, Look
from glasskit.draw.scene import FixedScene
from glasskit.measured import PieceCount, Pieces
from glasskit.quantities import System
from glasskit.words.counting import PLANNED, count_said, count_verdict

_TINT = {"whole": (0, 158, 115), "cut": (230, 159, 0)}  # green and orange of the palette
_SHARE = 0.3  # of the tint, over the photograph
_SHOWN = 720  # longest side of the picture to click on [pixels]
_STRESSES = (0.0, 250e6)  # ends of the axis of squeeze [Pa]

Colours = np.ndarray[Any, np.dtype[np.uint8]]


def outlined(pieces: Pieces) -> Colours:
    """Return the view with its pieces tinted and outlined, as red, green and blue.

    Green pieces lie wholly in the square, orange ones are cut by its border.
    """
    picture, labels = pieces.view.picture, pieces.labels
    low, high = np.percentile(picture, [1, 99])
    shades = np.clip((picture - low) / max(high - low, 1.0), 0, 1) * 255
    colours = np.repeat(shades[..., None], 3, axis=2)
    line = (np.arange(len(labels)) + 0.5) / pieces.view.resolution - pieces.view.side / 2
    within = np.maximum(np.abs(line)[:, None], np.abs(line)) < SQUARE / 2
    inside = np.bincount(labels[within], minlength=labels.max() + 1) > 0
    outside = np.bincount(labels[~within], minlength=labels.max() + 1) > 0
    inside[0] = outside[0] = False
    for kind, held in (("whole", inside & ~outside), ("cut", inside & outside)):
        at = held[labels]
        colours[at] += _SHARE * (np.array(_TINT[kind]) - colours[at])
    border = np.zeros(labels.shape, dtype=bool)
    border[:, 1:] |= labels[:, 1:] != labels[:, :-1]
    border[1:] |= labels[1:] != labels[:-1]
    colours[border] = [int(YELLOW[place : place + 2], 16) for place in (1, 3, 5)]
    rounded: Colours = np.rint(colours).astype(np.uint8)
    return rounded


def to_click(
    picture: Colours,
    marked: Sequence[tuple[float, float]],
    figure: Sequence[tuple[float, float]] = (),
    rings: Sequence[tuple[float, float]] = (),
) -> bytes:
    """Return a picture to click on, as WebP: places marked by crosses, a figure, rings.

    Parameters
    ----------
    picture : ndarray, shape (height, width, 3)
        Red, green and blue.
    marked, figure, rings : sequence of tuple of float
        Across and down, as shares of width and height [-].

    """
    image = Image.fromarray(picture)
    scale = _SHOWN / max(image.size)
    image = image.resize([round(side * scale) for side in image.size])
    pen = ImageDraw.Draw(image)

    def at(place: tuple[float, float]) -> tuple[float, float]:
        return place[0] * image.width, place[1] * image.height

    for colour, width in ((INK, 5), (WHITE, 2)):
        if figure:
            pen.line([at(place) for place in (*figure, figure[0])], fill=colour, width=width)
        for x, y in map(at, rings):
            pen.ellipse([x - 9, y - 9, x + 9, y + 9], outline=colour, width=width)
        for x, y in map(at, marked):
            pen.line([x - 9, y, x + 9, y], fill=colour, width=width)
            pen.line([x, y - 9, x, y + 9], fill=colour, width=width)
    kept = BytesIO()
    image.save(kept, "WEBP", quality=85, method=0)
    return kept.getvalue()


class CountScene(FixedScene[PieceCount]):
    """The square with its pieces, their count beside what rules ask, and the squeeze."""

    sources = ("Barsom1968",)

    def verdict(self, result: PieceCount, system: System) -> str:
        """Return what the picture says."""
        return count_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: PieceCount) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        view, count, squeeze = figure.subplots(1, 3, width_ratios=(1.7, 1.0, 1.0))
        self._draw_view(view, look, result)
        self._draw_count(count, result)
        self._draw_squeeze(squeeze, look, result)
        return []

    def _draw_view(self, ax: Axes, look: Look, result: PieceCount) -> None:
        half = look.shown(result.pieces.view.side / 2, "length").item()
        picture = outlined(result.pieces)
        if look.mono:
            picture = np.repeat(picture.mean(axis=2, keepdims=True), 3, axis=2).astype("uint8")
        ax.imshow(picture, extent=(-half, half, half, -half), interpolation="antialiased")
        side = look.shown(SQUARE, "length").item()
        for colour, width in ((INK, 4.5), (WHITE, 2.0)):
            frame = Rectangle((-side / 2, -side / 2), side, side, fill=False)
            frame.set(edgecolor=colour, linewidth=width)
            ax.add_patch(frame)
        for doubt in result.pieces.unclear:
            x, y = look.shown([doubt.x, doubt.y], "length")
            ax.plot(x, y, "o", mfc="none", mec=INK, ms=11, mew=3)
            ax.plot(x, y, "o", mfc="none", mec=WHITE, ms=11, mew=1.2)
        ax.xaxis.set_major_locator(MaxNLocator(5))
        ax.yaxis.set_major_locator(MaxNLocator(5))
        ax.set_xlabel(look.label("across", "length"))
        ax.set_ylabel(look.label("down", "length"))
        ax.set_title("green whole, orange cut")

    def _draw_count(self, ax: Axes, result: PieceCount) -> None:
        low, high = result.interval
        asked = sorted({row.count for row in result.minimum})
        ends = 0.6 * min(low, *asked, 15), 1.6 * max(high, *asked, 60)
        ax.set(xlim=(0, 1), ylim=ends, yscale="log", xticks=[])
        ax.yaxis.set_major_formatter(ScalarFormatter())
        ax.yaxis.set_minor_formatter(NullFormatter())
        ax.yaxis.set_minor_locator(NullLocator())
        ax.set_yticks([n for n in (5, 10, 20, 40, 80, 160, 320, 640) if ends[0] < n < ends[1]])
        ax.set_title("pieces in the square")
        ax.axhspan(low, high, xmin=0.12, xmax=0.42, color=PALE, lw=0)
        for end in (low, high):
            ax.plot([0.12, 0.42], [end, end], color=INK, lw=1.4)
        ax.plot([0.12, 0.42], [result.count] * 2, color=INK, lw=4)
        ax.text(0.45, result.count, count_said(result), va="center")
        for number in asked:
            ax.axhline(number, color=GREY, lw=1.6, ls="--")
            # Off its line, on the side away from the count.
            side, gap = ("top", -3) if result.count > number else ("bottom", 3)
            at: Any = {"xytext": (0, gap), "textcoords": "offset points"}
            ax.annotate(f"asked: {number}", (0.98, number), ha="right", va=side, **at)

    def _draw_squeeze(self, ax: Axes, look: Look, result: PieceCount) -> None:
        low, middle, high = look.shown(result.squeeze, "stress")
        ends = look.shown(_STRESSES, "stress")
        planned = look.shown(PLANNED, "stress").item()
        ax.set(xlim=(0, 1), ylim=(ends[0], max(ends[1], 1.1 * high)), xticks=[])
        ax.yaxis.set_major_locator(MaxNLocator(6))
        ax.set_ylabel(look.label("squeeze at the surface", "stress"))
        ax.set_title("what that suggests")
        band = Rectangle((0.12, low), 0.3, high - low, linewidth=1.4, **look.fill("squeeze"))
        ax.add_patch(band)
        ax.plot([0.12, 0.42], [middle, middle], color=look.colour("squeeze"), lw=4)
        ax.axhline(planned, color=INK, lw=1.6, ls="--")
        ax.text(0.98, planned, "planner", ha="right", va="bottom")
