# SPDX-License-Identifier: MIT
"""Draw a filmed fall: the ball in all frames at once, the fall in time, speed and g."""

from collections.abc import Iterable
from io import BytesIO

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import EllipseCollection
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from glasskit.draw.look import GREEN, GREY, INK, PALE, WHITE, Look
from glasskit.draw.scene import FixedScene
from glasskit.measured import FilmedFall
from glasskit.quantities import GRAVITY, System
from glasskit.words.filming import fall_verdict

_APART = 0.085  # of the height of the picture: numbers of frames stand no closer


_RINGS = 8  # [px] rings stand no closer; a dot stands in each place
_SHOWN = 760  # [px] longest side of the picture that is clicked on


def found_places(result: FilmedFall, without: Iterable[int] = ()) -> bytes:
    """Return the film in one picture, with what was found drawn on it, as WebP.

    Parameters
    ----------
    result : FilmedFall
        What was found.
    without : iterable of int
        Frames that were left out by hand: a cross stands there.

    """
    seen, path = result.path.seen, result.path
    scale = _SHOWN / max(seen.picture.shape[:2])
    high, wide = (round(scale * side) for side in seen.picture.shape[:2])
    image = Image.fromarray(seen.picture).resize((wide, high))
    pen = ImageDraw.Draw(image)
    at = scale * (np.stack([seen.x, seen.y], 1) + 0.5)
    half = scale * seen.width / 2
    out = np.flatnonzero(np.isin(seen.frame, list(without)))
    for colour, width in ((INK, 5), (WHITE, 2)):
        for places in (path.fall, path.rise):
            ringed = _spread(seen.y, places, _RINGS / scale)
            for (x, y), r in zip(at[ringed], half[ringed], strict=True):
                pen.ellipse((x - r, y - r, x + r, y + r), outline=colour, width=width)
            for x, y in at[places]:
                pen.ellipse((x - width, y - 1, x + width, y + 1), fill=colour)
        for (x, y), r in zip(at[out], half[out], strict=True):
            pen.line((x - r, y - r, x + r, y + r), fill=colour, width=width)
            pen.line((x - r, y + r, x + r, y - r), fill=colour, width=width)
        for mark in _marks(result):
            pen.line((0, mark * high, wide, mark * high), fill=colour, width=width)
    for places, way in ((path.fall, 1), (path.rise, -1)):
        for place in _spread(seen.y, places, 20 / scale):
            pen.text(
                (at[place][0] + way * (half[place] + 8), at[place][1]),
                f"{seen.frame[place]}",
                fill=WHITE,
                stroke_width=2,
                stroke_fill=INK,
                anchor="lm" if way > 0 else "rm",
                font_size=15,
            )
    kept = BytesIO()
    image.save(kept, "webp", quality=80)
    return kept.getvalue()


def _marks(result: FilmedFall) -> list[float]:
    """Return what is marked in the picture, in parts of its height from the top."""
    marks = [] if result.ruler is None else [result.ruler.upper, result.ruler.lower]
    return marks if result.pane is None else [*marks, result.pane]


class FilmScene(FixedScene[FilmedFall]):
    """The film in one picture, how deep the ball was when, and what that says."""

    sources = ("GUM",)

    def verdict(self, result: FilmedFall, system: System) -> str:
        """Return what the film shows."""
        return fall_verdict(result, system)

    def build(self, figure: Figure, look: Look, result: FilmedFall) -> Iterable[Artist]:
        """Draw all; nothing moves."""
        high, wide = result.path.seen.picture.shape[:2]
        shares = np.clip(1.9 * wide / high, 0.9, 2.2), 1.5, 1.2
        picture, course, answers = figure.subplots(1, 3, width_ratios=shares)
        _picture(picture, look, result)
        _course(course, look, result)
        _answers(answers, look, result)
        return ()


def _picture(ax: Axes, look: Look, result: FilmedFall) -> None:
    """Show the film with what was found in it."""
    seen, path = result.path.seen, result.path
    shown = seen.picture
    if look.mono:
        shown = np.repeat(shown.mean(axis=2, keepdims=True).astype(np.uint8), 3, 2)
    high, wide = shown.shape[:2]
    ax.imshow(shown, interpolation="bilinear")
    ax.set(xticks=[], yticks=[], xlim=(-0.5, wide - 0.5), ylim=(high - 0.5, -0.5))
    ax.set_title("all frames in one")
    ax.set_xlabel("number: frame")
    for places, style in ((path.fall, "-"), (path.rise, ":")):
        if places.size == 0:
            continue
        ringed = _spread(seen.y, places, 0.012 * high)
        across = seen.width[ringed]
        for colour, width in ((INK, 3.4), (WHITE, 1.6)):
            ax.add_collection(
                EllipseCollection(
                    across,
                    across,
                    0.0,
                    units="xy",
                    offsets=np.stack([seen.x[ringed], seen.y[ringed]], 1),
                    offset_transform=ax.transData,
                    facecolor="none",
                    edgecolor=colour,
                    linewidth=width,
                    linestyle=style if colour == WHITE else "-",
                )
            )
        side = 1 if style == "-" else -1
        for place in _spread(seen.y, places, _APART * high * look.scale):
            ax.text(
                seen.x[place] + side * (0.7 * seen.width[place] + 0.01 * wide),
                seen.y[place],
                f"{seen.frame[place]}",
                ha="left" if side > 0 else "right",
                va="center",
                color=WHITE,
                path_effects=[withStroke(linewidth=3, foreground=INK)],
            )
    for mark in _marks(result):
        ax.axhline(mark * high, color=INK, lw=3.4)
        ax.axhline(mark * high, color=WHITE, lw=1.6)


def _spread(y: NDArray[np.float64], places: NDArray[np.intp], apart: float) -> list[int]:
    """Return some of the places, none nearer to another than that."""
    kept: list[int] = []
    for place in places[::-1]:
        if min((abs(y[place] - y[other]) for other in kept), default=apart) >= apart:
            kept.append(int(place))
    return kept


def _course(ax: Axes, look: Look, result: FilmedFall) -> None:
    """Draw how far the ball was below its release, against time."""
    seen, path = result.path.seen, result.path
    t, _, y = result.curve
    start, top = t[0], y[0]
    metre = result.height.value / max(_end(result) - top, 1e-9)
    ax.plot((t - start) / result.slowed, look.shown((y - top) * metre, "height"), color=INK)
    for places, fill, name in ((path.fall, GREEN, "falls"), (path.rise, WHITE, "rises")):
        if places.size == 0:
            continue
        x = (seen.times[seen.frame[places]] - start) / result.slowed
        deep = look.shown((seen.y[places] - top) * metre, "height")
        ax.plot(
            x, deep, "o", ms=7, mfc=PALE if look.mono else fill, mec=INK, mew=1.2, label=name
        )
    ax.invert_yaxis()
    ax.set_xlabel("time since release / s")
    ax.set_ylabel(look.label("below the release", "height"))
    ax.set_title("where it was")
    if path.rise.size:
        ax.legend(frameon=False, loc="lower left")


def _end(result: FilmedFall) -> float:
    """Return where the curve is deepest [px]."""
    return float(result.curve[2].max())


def _answers(ax: Axes, look: Look, result: FilmedFall) -> None:
    """Draw speed and g with their intervals, over what was foretold."""
    rows = [
        (result.speed, result.predicted.value, "speed at the end", "speed"),
        (result.free_fall, GRAVITY, "g", "acceleration"),
    ]
    ax.set(xlim=(0.78, 1.22), ylim=(-0.6, 1.75), yticks=[], xticks=[0.8, 0.9, 1.0, 1.1, 1.2])
    ax.spines["left"].set_visible(False)
    ax.axvline(1.0, color=GREY, lw=2, ls="--")
    ax.set_xlabel("film over foretold")
    ax.set_title("what it says")
    for height, (measure, foretold, name, kind) in zip((1.0, 0.0), rows, strict=True):
        low, middle, high = np.clip(
            np.array([measure.low, measure.value, measure.high]) / max(foretold, 1e-9),
            0.785,
            1.215,
        )
        ax.plot([low, high], [height, height], color=INK, lw=4)
        ax.plot([middle], [height], "o", ms=13, mfc=GREEN, mec=INK, mew=1.4)
        clear = {"facecolor": WHITE, "edgecolor": "none", "pad": 1.0}
        said = look.show(measure.value, kind)
        ax.text(0.79, height + 0.2, f"{name}: {said}", bbox=clear)
        said = look.show(foretold, kind)
        ax.text(0.79, height - 0.38, f"foretold: {said}", color=GREY, bbox=clear)
