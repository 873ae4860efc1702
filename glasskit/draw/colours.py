# SPDX-License-Identifier: MIT
"""Draw a photograph between polarisers, the colours along its line, lag and stress."""

from collections.abc import Hashable, Iterable, Sequence
from io import BytesIO
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator
from PIL import Image, ImageDraw

from glasskit.draw.look import GREY, INK, PALE, WHITE, YELLOW, Look, round_up
from glasskit.draw.scene import Scene
from glasskit.light import interference_colour
from glasskit.light.polariscope import WAVE
from glasskit.measured import ColourStress, EdgeLine
from glasskit.quantities import System
from glasskit.words.colours import TOUGHENED, read_verdict

POINTS = ("start of the line", "end of the line", "white patch", "black patch")
"""What is set on the photograph, in the order of `glasskit.measured.ColourLine.places`."""

_MARKS = ("1", "2", "W", "B")
_SHOWN = 640  # longest side of the picture to click on [pixels]
_PATCH = 0.02  # half the side of a patch, of the shorter side of the picture

Place = tuple[float, float]


def marked(picture: np.ndarray[Any, Any], places: Sequence[Place]) -> bytes:
    """Return a photograph with its line and patches drawn on, as WebP.

    Parameters
    ----------
    picture : ndarray, shape (height, width, 3)
        Red, green and blue.
    places : sequence of tuple of float
        Start and end of the line, white and black patch, as shares of width and height [-].

    """
    image = Image.fromarray(picture)
    scale = _SHOWN / max(image.size)
    wide, high = (round(side * scale) for side in image.size)
    image = image.resize((wide, high))
    pen = ImageDraw.Draw(image)
    at = [(across * wide, down * high) for across, down in places]
    half = max(_PATCH * min(wide, high), 4)
    for colour, width in ((INK, 6), (WHITE, 2)):
        pen.line(at[:2], fill=colour, width=width)
        for x, y in at[2:]:
            pen.rectangle(
                (x - half, y - half, x + half, y + half), outline=colour, width=width
            )
    for (x, y), mark in zip(at, _MARKS, strict=True):
        pen.ellipse((x + 8, y - 24, x + 28, y - 4), fill=WHITE, outline=INK, width=2)
        pen.text((x + 18, y - 14), mark, fill=INK, anchor="mm", font_size=15)
    kept = BytesIO()
    image.save(kept, "webp", quality=85)
    return kept.getvalue()


class ReadColoursScene(Scene[ColourStress]):
    """The photograph with its line, the colours along it, the lag, the stress."""

    sources = ("BornWolf1999", "CIE15")

    def verdict(self, result: ColourStress, system: System) -> str:
        """Return what the picture says."""
        return read_verdict(result, system)

    def frame(self, result: ColourStress, look: Look) -> Hashable:
        """Return what was read, and the end of the axis of stress."""
        return id(result.found), result.thickness, self._most(result)

    def _most(self, result: ColourStress) -> float:
        shown = max(result.interval[1], *result.others, TOUGHENED, 0.0)
        return round_up(1.02 * shown)

    def build(self, figure: Figure, look: Look, result: ColourStress) -> Iterable[Artist]:
        """Draw photograph, colours and lag; return what moves with the stress."""
        self._found = result.found  # kept while `frame` names it by its id
        photo, strips, curve, stress = figure.subplots(1, 4, width_ratios=(1.5, 0.8, 1.5, 0.6))
        self._draw_photo(photo, result)
        self._draw_strips(strips, look, result)
        self._draw_curve(curve, look, result)
        return self._build_stress(stress, look, result)

    def _draw_photo(self, ax: Axes, result: ColourStress) -> None:
        line = result.lags.line
        ax.set_axis_off()
        ax.set_title("the photograph")
        high, wide = line.small.shape[:2]
        ax.imshow(line.small, extent=(0, wide, high, 0))
        at = np.array(line.places) * (wide, high)
        half = _PATCH * min(wide, high)
        for colour, width in ((INK, 4.5), (WHITE, 2.0)):
            ax.plot(*at[:2].T, color=colour, lw=width)
            for x, y in at[2:]:
                box = Rectangle((x - half, y - half), 2 * half, 2 * half, fill=False)
                box.set(edgecolor=colour, linewidth=width)
                ax.add_patch(box)
        for (x, y), word in zip(at, ("start", "end", "white", "black"), strict=True):
            ax.annotate(
                word,
                (x, y),
                (0, 9 if word != "end" else -9),
                textcoords="offset points",
                ha="center",
                va="bottom" if word != "end" else "top",
                color=INK,
                bbox={"boxstyle": "round,pad=0.15", "fc": WHITE, "ec": INK, "lw": 0.8},
            )

    def _draw_strips(self, ax: Axes, look: Look, result: ColourStress) -> None:
        deep = look.shown(result.thickness, "thickness").item()
        ax.set(xlim=(0, 2.1), ylim=(deep, 0))
        ax.set_xticks([0.5, 1.6], ["seen", "read"])
        ax.set_title("its colours")
        ax.tick_params(axis="x", length=0)
        ax.spines["bottom"].set_visible(False)
        ax.set_ylabel(look.label("along the line", "thickness"))
        ax.yaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 5, 10]))
        colours = result.lags.line.balanced, interference_colour(result.lags.lag)
        for left, strip in zip((0.0, 1.1), colours, strict=True):
            ax.imshow(
                np.clip(strip, 0, 1)[:, None],
                extent=(left, left + 1.0, deep, 0),
                aspect="auto",
                interpolation="nearest",
            )
            ax.plot(
                [left, left + 1, left + 1, left, left],
                [0, 0, deep, deep, 0],
                color=INK,
                lw=1.2,
            )

    def _draw_curve(self, ax: Axes, look: Look, result: ColourStress) -> None:
        lags, found = result.lags, result.found
        edge = isinstance(found, EdgeLine)
        depth = look.shown(lags.places * result.thickness, "thickness")
        deep = look.shown(result.thickness, "thickness").item()
        sign = np.sign(found.parabola) if isinstance(found, EdgeLine) else 1.0
        lag = look.shown(sign * lags.lag, "nanometre")
        half = look.shown(1.96 * lags.uncertainty, "nanometre")
        order = look.shown(WAVE, "nanometre").item()
        most = order * np.ceil(1.02 * np.abs(lag).max() / order)
        ax.set(xlim=(-most if edge else 0, most), ylim=(deep, 0), yticks=[])
        ax.xaxis.set_major_locator(MaxNLocator(2 if look.large else 4))
        ax.spines["left"].set_visible(False)
        ax.set_xlabel(
            look.label("lag", "nanometre")
            + (", dotted: orders,\ndashed: the parabola" if edge else ", dotted: orders")
        )
        ax.axvline(0, color=INK, lw=1)
        for level in np.arange(order, most + 1e-9, order):
            for side in (-level, level) if edge else (level,):
                ax.axvline(side, color=GREY, lw=0.8, ls=":")
        if isinstance(found, EdgeLine):
            for at, part in (("squeeze", np.minimum), ("pull", np.maximum)):
                curve = part(look.shown(found.parabola, "nanometre"), 0.0)
                ax.fill_betweenx(depth, 0, curve, **look.fill(at), lw=0)  # type: ignore[arg-type]
                ax.text(
                    (-0.5 if at == "squeeze" else 0.5) * most,
                    -0.012 * deep,
                    at,
                    ha="center",
                    va="bottom",
                    color=look.word_colour(at),  # type: ignore[arg-type]
                )
            ax.plot(look.shown(found.parabola, "nanometre"), depth, color=INK, lw=1.4, ls="--")
        ax.fill_betweenx(depth, lag - half, lag + half, color=GREY, alpha=0.45, lw=0)
        ax.plot(lag, depth, color=INK, lw=2.0)

    def _build_stress(self, ax: Axes, look: Look, result: ColourStress) -> list[Artist]:
        most = look.shown(self._most(result), "stress").item()
        ax.set(xlim=(0, 1), ylim=(0, most), xticks=[])
        ax.spines["bottom"].set_visible(False)
        ax.yaxis.set_major_locator(MaxNLocator(4))
        edge = isinstance(result.found, EdgeLine)
        ax.set_ylabel(look.label("squeeze" if edge else "stress difference", "stress"))
        ax.set_title("the skin" if edge else "at most")
        if edge:
            limit = look.shown(TOUGHENED, "stress").item()
            ax.axhspan(limit, most, color=PALE, lw=0)
            ax.axhline(limit, color=GREY, lw=1.2, ls="--")
            ax.text(0.06, most * 0.985, "fully\ntempered", va="top")
        (self.span,) = ax.plot([], [], color=INK, lw=20, solid_capstyle="butt")
        (self.mark,) = ax.plot([], [], ls="", marker="o", ms=9, mfc=YELLOW, mec=INK, mew=1.4)
        return [self.span, self.mark]

    def update(self, result: ColourStress, look: Look) -> None:
        """Set interval and stress, or every stress that fits."""
        others = result.others if len(result.others) > 1 else (result.stress,)
        ends = result.interval if len(result.others) < 2 else (np.nan, np.nan)
        self.span.set_data([0.5, 0.5], look.shown(ends, "stress"))
        self.mark.set_data([0.5] * len(others), look.shown(others, "stress"))
