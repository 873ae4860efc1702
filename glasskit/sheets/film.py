# SPDX-License-Identifier: MIT
"""Short films for slides: a GIF, a player in one HTML file with pause and steps, or a video.

The first two come from matplotlib's own writers, the video from PyAV where that is installed.
The GIF plays once and rests on its last frame, since nobody can stop it; the player waits to
be started. Nothing flashes: what moves, glides.
"""

import html
import os
import re
from collections.abc import Sequence
from importlib import import_module
from importlib.util import find_spec
from itertools import chain
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import matplotlib as mpl
import numpy as np
from matplotlib.animation import AbstractMovieWriter, HTMLWriter, PillowWriter
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image

from glasskit.breaking import slow_motion
from glasskit.crack import LoadedCrack, load_crack
from glasskit.demonstration import BothPanes
from glasskit.draw.both import RATE, BothScene, moments
from glasskit.draw.breaking import BreakingScene
from glasskit.draw.crack import PressedCrackScene
from glasskit.draw.falling import FallScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, SLIDE, Size, moving
from glasskit.draw.scene import Result, Scene
from glasskit.files import replace_file
from glasskit.impact import Falling, fall_time
from glasskit.plates import plate
from glasskit.quantities import in_range, one_of, show, whole
from glasskit.steps import Steps, in_steps
from glasskit.words.both import both_sentence
from glasskit.words.breaking import moment_sentence

_SLOW = 10  # frames a second: a microsecond each is a hundred thousand times slower
_REST = 1.0  # [s], how long the first and the last frame stand
_SIGNS = {
    "fa-minus": "−",
    "fa-plus": "+",
    "fa-fast-backward": "«",
    "fa-step-backward": "‹",
    "fa-step-forward": "›",
    "fa-fast-forward": "»",
    "fa-pause": "II",
    "fa-play": "▶",
    "fa-flip-horizontal": "◀",
}
_STYLE = """body { font: 16px/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; margin: 1em; }
.animation, .animation img { max-width: 100%; }
.anim-buttons button { min-width: 44px; min-height: 44px; font-size: 18px; }
input[type=range].anim-slider { width: 90%; }
.fa { font-style: normal; }
"""


class _OnceWriter(PillowWriter):
    """A GIF that plays once and rests at both ends."""

    def grab_frame(self, **settings: Any) -> None:
        """Add what the figure shows, in the colours of the file: none is left for the end."""
        super().grab_frame(**settings)
        frames = vars(self)["_frames"]  # where matplotlib keeps them
        frames[-1] = frames[-1].convert("P", palette=Image.Palette.ADAPTIVE)

    def finish(self) -> None:
        """Write the file."""
        first, *others = vars(self)["_frames"]
        step = round(1000 / self.fps)
        rest = round(1000 * _REST)
        times = [rest, *[step] * (len(others) - 1), rest][: 1 + len(others)]
        first.save(self.outfile, save_all=True, append_images=others, duration=times)


class _VideoWriter(AbstractMovieWriter):
    """An MP4 that rests at both ends; needs PyAV, ``python -m pip install av``."""

    def setup(self, fig: Figure, outfile: Any, dpi: float | None = None) -> None:
        """Open the file."""
        super().setup(fig, outfile, dpi)
        self._file = import_module("av").open(str(outfile), "w")
        self._stream = self._file.add_stream("h264", rate=int(self.fps))
        # The halves of the colour planes want even sides.
        sides = (2 * (round(side * fig.dpi) // 2) for side in fig.get_size_inches())
        self._stream.width, self._stream.height = sides
        self._stream.pix_fmt = "yuv420p"
        self._last: Any = None

    def grab_frame(self, **settings: Any) -> None:
        """Add what the figure shows."""
        canvas = FigureCanvasAgg(self.fig)
        canvas.draw()
        picture = np.asarray(canvas.buffer_rgba())[..., :3]
        times = 1 if self._last is not None else self._rest
        self._last = picture[: self._stream.height, : self._stream.width]
        self._write(times)

    def finish(self) -> None:
        """Let the last frame rest, and close the file."""
        self._write(self._rest)
        self._file.mux(self._stream.encode())
        self._file.close()

    @property
    def _rest(self) -> int:
        return max(round(_REST * self.fps), 1)

    def _write(self, times: int) -> None:
        frame = import_module("av").VideoFrame.from_ndarray(
            np.ascontiguousarray(self._last), format="rgb24"
        )
        for _ in range(times):
            frame.pts = None
            self._file.mux(self._stream.encode(frame))


@in_steps
def film(
    scene: Scene[Result],
    results: Sequence[Result],
    path: str | os.PathLike[str],
    *,
    title: str,
    text: str,
    look: Look | None = None,
    size: Size = SCREEN,
    rate: int = 15,
) -> Steps[Path]:
    """Write results one after the other as a film, whole or not at all.

    Parameters
    ----------
    scene : Scene
        What to draw.
    results : sequence
        One result for each frame, two or more; their axes must not change.
    path : path
        Where to: .gif plays once, .html is a player that stands alone, .mp4 is a video.
    title, text : str
        What it is, and the words for those who do not see it. Only the player holds them:
        put `text` beside it, or into the slide's own alternative text.
    look : Look, optional
        Units, type size, colour or hatch.
    size : Size
        Size of every frame.
    rate : int
        Frames a second, 1 to 30.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    ValueError
        If `path` ends otherwise, `rate` is out of range, there are fewer than two results, the
        axes change on the way, or a video is asked for and PyAV is not installed.
    OSError
        If the folder cannot be written to.

    """
    path = Path(path)
    one_of("ending of path", path.suffix, (".gif", ".html", ".mp4"))
    if path.suffix == ".mp4" and find_spec("av") is None:
        raise ValueError("path may end in .mp4 after: python -m pip install av; got no PyAV")
    in_range("rate", rate, 1.0, 30.0, "1/s")
    in_range("number of results", len(results), 2, 600)
    writer: AbstractMovieWriter
    if path.suffix == ".html":
        writer = HTMLWriter(fps=rate, embed_frames=True, default_mode="once", embed_limit=100)
    else:
        writer = (_OnceWriter if path.suffix == ".gif" else _VideoWriter)(fps=rate)
    frames = moving(scene, results, look or Look(), size)
    figure = next(frames)
    with TemporaryDirectory() as folder:
        made = Path(folder, f"film{path.suffix}")
        writer.setup(figure, str(made), size.dpi)
        for number, _ in enumerate(chain([figure], frames), 1):
            with mpl.rc_context({"savefig.bbox": None}):  # or frames might differ in size
                writer.grab_frame()
            yield number / len(results), f"frame {number} of {len(results)}"
        writer.finish()
        written = made.read_bytes()
    if path.suffix == ".html":
        written = _player(written.decode(), title, text).encode()
    return replace_file(path, written)


def _player(written: str, title: str, text: str) -> str:
    """Make what the writer wrote stand alone: no network, words for picture and buttons."""
    title, text = html.escape(title), html.escape(text)
    body = re.sub(r"<link[^>]*>", "", written)
    body = re.sub(r"(?<=[A-Za-z_])[0-9a-f]{32}", "film", body)
    body = body.replace("<img id=", f'<img alt="{text}" id=')
    body = body.replace('type="range"', 'type="range" aria-label="frame"')
    signs = "".join(
        f'.{name}::before {{ content: "{sign}"; }}\n' for name, sign in _SIGNS.items()
    )
    inline = "style-src 'unsafe-inline'; script-src 'unsafe-inline'"
    policy = f"default-src 'none'; {inline}; img-src data:"
    return (
        '<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        f"<title>{title}</title></head>\n<body>\n<h1>{title}</h1>\n{body}\n"
        f"<style>{_STYLE}{signs}</style>\n<p>{text}</p>\n</body>\n</html>\n"
    )


class SteadyCrack(PressedCrackScene):
    """The pressed crack with axes that hold a whole film."""

    def __init__(self, results: Sequence[LoadedCrack]) -> None:
        self._results = results

    def ends(self, result: LoadedCrack, look: Look) -> tuple[float, float, float]:
        """Return axes that hold every result, whichever is shown."""
        ends = [PressedCrackScene.ends(self, item, look) for item in self._results]
        depth, stress, widening = zip(*ends, strict=True)
        return max(depth), max(stress), min(widening)


@in_steps
def closing_crack_film(
    path: str | os.PathLike[str],
    *,
    depth: float = 20e-6,
    tension: float = 100e6,
    squeeze: float = 400e6,
    look: Look | None = None,
    frames: int = 48,
) -> Steps[Path]:
    """Write the film of a crack that closes while the squeeze of a cover glass grows.

    Parameters
    ----------
    path : path
        Ending in .gif or .html.
    depth : float
        Depth of the crack [m].
    tension : float
        Pull from outside, the same all the time [Pa].
    squeeze : float
        Surface compression at the end, 40 µm deep in a 0.7 mm plate, positive [Pa].
    look : Look, optional
        Units, type size, colour or hatch.
    frames : int
        Number of frames.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    ValueError
        If an argument is impossible; see `film`.

    """
    look = look or Look()
    cover = plate("cover glass, salt bath")
    steps = np.linspace(0.0, squeeze, frames)
    results = [load_crack(cover.squeezed(step), tension, depth, cover.glass) for step in steps]
    first, last = results[0], results[-1]
    text = (
        f"A crack {look.show(depth, 'depth', 2)} deep under a pull of "
        f"{look.show(tension, 'stress', 2)}. The squeeze at the surface grows from zero to "
        f"{look.show(squeeze, 'stress', 2)}. At first the crack "
        f"{'would run' if first.runs else 'stays'}; as the squeeze grows its faces are "
        "pressed together, and the pull on its tip falls from "
        f"{look.show(first.intensity, 'toughness')} to "
        f"{look.show(last.intensity, 'toughness')}."
    )
    title = "A squeeze presses a crack shut"
    return (
        yield from film.steps(
            SteadyCrack(results), results, path, title=title, text=text, look=look
        )
    )


@in_steps
def fall_film(
    path: str | os.PathLike[str],
    *,
    mass: float = 0.227,
    height: float = 1.0,
    slower: float = 8.0,
    look: Look | None = None,
) -> Steps[Path]:
    """Write the film of a ball or a device that falls, slowed down, up to the hit.

    Parameters
    ----------
    path : path
        Ending in .gif or .html.
    mass : float
        Mass [kg].
    height : float
        Height [m].
    slower : float
        How many times slower than the true fall, 1 to 50.
    look : Look, optional
        Units, type size, colour or hatch.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    ValueError
        If an argument is impossible; see `film`.

    """
    look = look or Look()
    rate = 15
    in_range("slower", slower, 1.0, 50.0)
    last = fall_time(height)
    times = np.linspace(0.0, last, max(round(rate * slower * last), 2))
    results = [Falling(mass=mass, height=height, time=float(time)) for time in times]
    text = (
        f"{look.show(mass, 'small_mass')} fall {look.show(height, 'height', 2)} in "
        f"{show(last, 'time', digits=2)}, shown {slower:g} times slower. The marks at equal "
        "times lie ever farther apart. It arrives with "
        f"{look.show(results[-1].speed, 'speed')} and "
        f"{look.show(results[-1].energy, 'energy')}: all that the height gave."
    )
    title = "A fall turns height into motion"
    return (
        yield from film.steps(
            FallScene(), results, path, title=title, text=text, look=look, rate=rate
        )
    )


@in_steps
def both_film(
    path: str | os.PathLike[str], both: BothPanes, *, look: Look | None = None
) -> Steps[Path]:
    """Write the film of a ball on an ordinary and on a toughened pane, 1920 by 1080 pixels.

    Parameters
    ----------
    path : path
        Ending in .gif, .html or .mp4.
    both : BothPanes
        The fall.
    look : Look, optional
        Units, type size, colour or hatch.

    Returns
    -------
    Path
        The file written; it rests on its last frame.

    Raises
    ------
    ValueError
        If the ending is another, or PyAV is missing for a video; see `film`.

    """
    look = look or Look(large=True)
    frames, text = moments(both), both_sentence(both, look.system)
    title = "The same ball on two panes"
    said = {"title": title, "text": text}
    return (
        yield from film.steps(
            BothScene(), frames, path, **said, look=look, size=SLIDE, rate=RATE
        )
    )


@in_steps
def slow_motion_film(
    path: str | os.PathLike[str],
    *,
    height: float = 0.8,
    squeeze: float = 100e6,
    thickness: float = 4e-3,
    look: Look | None = None,
    frames: int = 200,
) -> Steps[Path]:
    """Write the film of an ordinary and a toughened pane that break, 100,000 times slower.

    Parameters
    ----------
    path : path
        Ending in .gif, .html or .mp4.
    height : float
        Height of fall of the ball [m].
    squeeze : float
        Compression at the faces of the toughened pane [Pa].
    thickness : float
        Thickness of both panes [m].
    look : Look, optional
        Units, type size, colour or hatch.
    frames : int
        Number of frames, a microsecond each.

    Returns
    -------
    Path
        The file written; it rests on its last frame.

    Raises
    ------
    ValueError
        If an argument is impossible; see `film`.

    """
    look = look or Look(large=True)
    count = whole("frames", frames, 2, 600)
    results = [slow_motion(1e-6 * n, height, squeeze, thickness) for n in range(count)]
    said = {
        "title": "A break in slow motion",
        "text": moment_sentence(results[-1], look.system),
    }
    return (
        yield from film.steps(
            BreakingScene(), results, path, **said, look=look, size=SLIDE, rate=_SLOW
        )
    )
