# SPDX-License-Identifier: MIT
"""One scene as a live picture on the screen, or as a still for a slide, a page, a vector file.

The live picture keeps its figure: what stands still is drawn once and kept as a background,
each new result costs only the moving artists and a PNG.
"""

import copy
import io
import os
import struct
import zlib
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic

import matplotlib as mpl
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axis import Axis
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine
from matplotlib.text import Text
from numpy.typing import NDArray

from glasskit.draw.lettering import LetteringCanvas
from glasskit.draw.look import GREY, Look
from glasskit.draw.scene import Result, Scene
from glasskit.files import replace_file
from glasskit.quantities import FloatArray


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height [inch], and dots per inch."""

    width: float
    height: float
    dpi: int

    @property
    def pixels(self) -> tuple[int, int]:
        """Width and height [px]."""
        return round(self.width * self.dpi), round(self.height * self.dpi)


SCREEN = Size(12.8, 5.4, 100)
SLIDE = Size(12.8, 7.2, 150)
PAGE = Size(9.5, 6.3, 200)  # fits a landscape A4 or Letter page with margins

_HEADLINE, _FOOT = 14.0, 10.0  # type of the verdict on top and the source below [pt]
_KEPT = 6  # frames of a live picture: a slider that goes to and fro finds them again
# Lifts over axes, spines and ticks, on screen and in stills: ground and free axes, and over
# these all else that moves.
_BETWEEN, _ABOVE = 5.0, 10.0


class _Built(Generic[Result]):
    """A scene built on a figure of its own."""

    def __init__(self, scene: Scene[Result], result: Result, look: Look, size: Size) -> None:
        self.scene = copy.copy(scene)
        self.result = result  # while a frame names it by its id, no other may get that id
        self.figure = Figure((size.width, size.height), size.dpi, layout="constrained")
        self.canvas = LetteringCanvas(self.figure)
        moving = list(self.scene.build(self.figure, look, result))
        moving += self._framed(look, result, size)
        self.under = self.scene.under
        self.ground: Hashable = object()  # none yet
        moving.sort(key=Artist.get_zorder)
        self.free = [artist for artist in moving if isinstance(artist, Axis)]
        self.moving = [artist for artist in moving if not isinstance(artist, Axis)]
        layers = (_BETWEEN, (*self.under, *self.free)), (_ABOVE, self.moving)
        for height, artists in layers:  # a still is painted in the order of the screen
            for index, artist in enumerate(artists):
                artist.set_in_layout(isinstance(artist, Axis))  # a free axis keeps its room
                artist.set_zorder(height + index / len(artists))
        if (engine := self.figure.get_layout_engine()) is not None:
            engine.execute(self.figure)
            if any(ax.get_aspect() != "auto" for ax in self.figure.axes):
                engine.execute(self.figure)  # axes of equal scale settle at the second layout
            self.figure.set_layout_engine("none")  # each takes as long as drawing all

    def _framed(self, look: Look, result: Result, size: Size) -> list[Artist]:
        """Keep room for the verdict on top, and on slides write the source at the foot."""
        self._verdict = None
        room = {"top": 0.0, "foot": 0.0}  # shares of the height
        line = 1.5 * look.scale / 72 / size.height  # of one point of type
        artists: list[Artist] = []
        if self.scene.verdict(result, look.system):
            room["top"] = line * _HEADLINE
            self._verdict = self.figure.text(0.5, 1 - 0.15 * room["top"], "", ha="center")
            self._verdict.set(va="top", weight="bold", fontsize=_HEADLINE * look.scale)
            artists.append(self._verdict)
        if size == SLIDE:
            room["foot"] = line * _FOOT
            foot = self.figure.text(0.01, 0.2 * room["foot"], self.scene.source_line)
            foot.set(color=GREY, fontsize=_FOOT * look.scale, in_layout=False)
        self._shrink(room["foot"], 1 - room["foot"] - room["top"])
        return artists

    def _shrink(self, bottom: float, height: float) -> None:
        """Lay all axes out between verdict and source."""
        engine = self.figure.get_layout_engine()
        if isinstance(engine, ConstrainedLayoutEngine):
            engine.set(rect=(0, bottom, 1, height))
            return
        for ax in self.figure.axes:  # a scene that places its own axes
            x, y, wide, high = ax.get_position(original=True).bounds
            ax.set_position((x, bottom + height * y, wide, height * high))

    def update(self, result: Result, look: Look) -> None:
        """Set what moves, and the verdict, to a result."""
        ground = self.scene.ground(result, look)
        if ground != self.ground:
            self.scene.lay(result, look)
            self.ground = ground
        self.scene.update(result, look)
        if self._verdict is not None:
            self._verdict.set_text(self.scene.verdict(result, look.system))


class _Frame(Generic[Result]):
    """What stands still, drawn once: a background for results of one frame."""

    def __init__(self, built: _Built[Result]) -> None:
        self.built = built
        moves = [*built.under, *built.free, *built.moving]
        shown = [artist.get_visible() for artist in moves]
        for artist in moves:
            artist.set_visible(False)
        built.canvas.draw()
        for artist, visible in zip(moves, shown, strict=True):
            artist.set_visible(visible)
        self._still = self._background = self._copied()
        self._below: Hashable = None

    def _copied(self) -> Any:
        return self.built.canvas.copy_from_bbox(self.built.figure.bbox)

    def draw(self, result: Result, look: Look) -> None:
        """Draw a result; ground and free axes only if they have changed."""
        built, renderer = self.built, self.built.canvas.get_renderer()
        built.update(result, look)
        below = built.ground, *(tuple(axis.get_view_interval()) for axis in built.free)
        if below != self._below:
            built.canvas.restore_region(self._still)
            for artist in (*built.under, *built.free):
                artist.draw(renderer)
            self._background, self._below = self._copied(), below
        built.canvas.restore_region(self._background)
        for artist in built.moving:
            artist.draw(renderer)


class LivePicture(Generic[Result]):
    """A scene on the screen: draws result after result on one figure.

    Parameters
    ----------
    scene : Scene
        What to draw.
    size : Size
        Size of the picture.

    """

    def __init__(self, scene: Scene[Result], size: Size = SCREEN) -> None:
        self.scene = scene
        self.size = size
        self._frames: dict[Hashable, _Frame[Result]] = {}  # the last used is last

    def draw(self, result: Result, look: Look) -> bytes:
        """Return the picture of `result` as a PNG file.

        Everything is drawn anew only when `look` or the scene's frame changes.
        """
        key = (look, self.scene.frame(result, look))
        frame = self._frames.pop(key, None) or self._rebuild(result, look)
        frame.draw(result, look)
        self._frames[key] = frame
        if len(self._frames) > _KEPT:
            del self._frames[next(iter(self._frames))]
        return self._encoded(np.asarray(frame.built.canvas.buffer_rgba()))

    def _rebuild(self, result: Result, look: Look) -> "_Frame[Result]":
        with look.drawing():
            return _Frame(_Built(scene=self.scene, result=result, look=look, size=self.size))

    @staticmethod
    def _encoded(pixels: NDArray[np.uint8]) -> bytes:
        """Return pixels of shape (rows, columns, 4) as a PNG file.

        Pillow tries filters on every row, in twice to three times the time, for what is mostly
        flat colour; its quickest lossless WebP takes twice the time to write and to read.
        """
        high, wide, _ = pixels.shape
        rows = np.zeros((high, 1 + 4 * wide), dtype=np.uint8)
        rows[:, 1:] = pixels.reshape(high, -1)  # after a zero, which says: no filter
        head = struct.pack(">IIBBBBB", wide, high, 8, 6, 0, 0, 0)  # of 8 bits, with alpha
        body = zlib.compress(rows.data, 1)
        parts = [b"\x89PNG\r\n\x1a\n"]
        for kind, data in ((b"IHDR", head), (b"IDAT", body), (b"IEND", b"")):
            check = zlib.crc32(kind + data)
            parts += [struct.pack(">I", len(data)), kind, data, struct.pack(">I", check)]
        return b"".join(parts)


def still(
    scene: Scene[Result], result: Result, look: Look | None = None, size: Size = SLIDE
) -> Figure:
    """Return a figure of one result, drawn as on the screen.

    Parameters
    ----------
    scene : Scene
        What to draw; it may be on the screen at the same time.
    result : Result
        What to show.
    look : Look
        Units, type size, colour or hatch; the ordinary look by default.
    size : Size
        `SLIDE` (1920 x 1080 px), `PAGE`, `SCREEN` or another.

    Returns
    -------
    Figure
        Laid out and complete; see `save`.

    """
    look = look or Look()
    with look.drawing():
        built = _Built(scene=scene, result=result, look=look, size=size)
        built.update(result, look)
        built.figure.draw_without_rendering()  # ticks and words settle; `save` paints
    return built.figure


def moving(
    scene: Scene[Result], results: Sequence[Result], look: Look, size: Size = SCREEN
) -> Iterator[Figure]:
    """Yield one figure, moved to each result in turn: the frames of a film.

    Parameters
    ----------
    scene : Scene
        What to draw.
    results : sequence
        What to show, all with the frame of the first: see `Scene.frame`.
    look : Look
        Units, type size, colour or hatch.
    size : Size
        Size of every frame.

    Raises
    ------
    ValueError
        If the still part would change on the way.

    """
    frame = scene.frame(results[0], look)
    if any(scene.frame(result, look) != frame for result in results):
        raise ValueError("results must share one frame; got results that change the axes")
    with look.drawing():
        built = _Built(scene=scene, result=results[0], look=look, size=size)
    for result in results:
        built.update(result, look)
        yield built.figure


def save(
    figure: Figure, path: str | os.PathLike[str], title: str = "", text: str = ""
) -> Path:
    """Write a figure to a PNG or SVG file, whole or not at all.

    Parameters
    ----------
    figure : Figure
        From `still`.
    path : path
        Where to, ending in .png or .svg; an old file of that name is replaced.
    title, text : str
        Stored in the file: what it is, and the sentence that says what is seen.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    path = Path(path)
    kind = path.suffix.removeprefix(".")
    metadata: dict[str, str | None] = {"Title": title, "Description": text}
    if kind == "svg":
        metadata["Date"] = None  # the same picture gives the same file
    file = io.BytesIO()
    salt: Any = {"svg.hashsalt": "glasskit"}
    with mpl.rc_context(salt):
        figure.savefig(file, format=kind, dpi=figure.dpi, metadata=metadata)
    return replace_file(path, file.getvalue())


def layout_faults(figure: Figure) -> list[str]:
    """Return what is wrong with the text of a figure: cut off, overlapping, in another panel.

    Notes
    -----
    Compares boxes around visible text, turned as the text is and a little longer than it, so
    that two labels do not read as one; lines and patches are not looked at.

    """
    texts = list(_visible_text(figure))
    boxes = [_corners(text, figure.dpi / 72) for text in texts]
    faults = []
    for index, (text, box) in enumerate(zip(texts, boxes, strict=True)):
        words, (left, low, right, high) = text.get_text(), text.get_window_extent().extents
        if min(left, low) < 0 or right > figure.bbox.width or high > figure.bbox.height:
            faults.append(f"cut off: {words!r}")
        if any(_overlap(box, _frame(ax)) for ax in _neighbours(text, figure)):
            faults.append(f"in another panel: {words!r}")
        faults += [
            f"overlap: {words!r} and {other.get_text()!r}"
            for other, place in zip(texts[index + 1 :], boxes[index + 1 :], strict=True)
            if _overlap(box, place)
        ]
    return faults


def _neighbours(text: Text, figure: Figure) -> list[Any]:
    """Return the panels that a label of a curve has no business in; its insets are none."""
    own = text.axes
    if own is None or text not in own.texts:
        return []
    others = [ax for ax in figure.axes if ax.axison and ax is not own]
    return [ax for ax in others if not _overlap(_frame(own), _frame(ax))]


def _frame(ax: Any) -> FloatArray:
    return np.asarray(ax.bbox.corners()[_AROUND])


_SIGNS = ((-1, -1), (1, -1), (1, 1), (-1, 1))  # of the corners, going around
_AROUND = [0, 1, 3, 2]  # from the order of a matplotlib box to one that goes around
_GAP = 0.1  # of the size of type, kept free before and after a text
_SLACK = 1.0  # [px], so much may overlap


def _corners(text: Text, dot: float) -> FloatArray:
    """Return the corners of a text's box [px], turned as it is, longer at both ends."""
    turn = text.get_rotation()
    middle = text.get_window_extent().corners().mean(axis=0)
    text.set_rotation(0)
    flat = text.get_window_extent()
    text.set_rotation(turn)
    angle, gap = np.radians(turn), _GAP * dot * float(text.get_fontsize())
    along = np.array([np.cos(angle), np.sin(angle)]) * (flat.width / 2 + gap)
    across = np.array([-np.sin(angle), np.cos(angle)]) * flat.height / 2
    return np.array([middle + a * along + b * across for a, b in _SIGNS])


def _overlap(one: FloatArray, other: FloatArray) -> bool:
    """Return whether two rectangles, each turned in its own way, overlap."""
    # They do unless the side of one of them parts the two.
    for sides in (one, other):
        for edge in np.diff(sides[:3], axis=0):
            way = edge / np.hypot(*edge)
            first, second = one @ way, other @ way
            if min(first.max(), second.max()) - max(first.min(), second.min()) <= _SLACK:
                return False
    return True


def _visible_text(figure: Figure) -> Iterator[Text]:
    labels: set[Text] = set()
    for ax in figure.axes:
        for axis in (ax.xaxis, ax.yaxis):
            low, high = sorted(axis.get_view_interval())
            slack = 1e-9 * (high - low)
            for tick in axis.get_major_ticks() + axis.get_minor_ticks():
                labels |= {tick.label1, tick.label2}
                if ax.axison and low - slack <= tick.get_loc() <= high + slack:
                    yield from (
                        label
                        for label in (tick.label1, tick.label2)
                        if label.get_visible() and label.get_text()
                    )
    for text in figure.findobj(Text):
        if text not in labels and text.get_visible() and text.get_text().strip():
            yield text
