# SPDX-License-Identifier: MIT
"""Read what a telephone recorded: sound, a photograph, the frames of a film.

Files stay on the machine. A film is read a frame at a time and made smaller on the way, so
that its length costs no memory. What cannot be read is refused in one sentence.
"""

import os
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageOps

from glasskit.quantities import FloatArray, in_range, positive, read_only
from glasskit.steps import Steps, in_steps

__all__ = ["Frame", "Media", "Sound", "film_frames", "read_photo", "read_sound"]

Media = str | os.PathLike[str] | bytes
"""A file, by its path or by what it holds."""

_MOST_PIXELS = 120_000_000  # of a photograph; a telephone has 12 to 108 million
_SHORTEST = 0.02  # of a sound [s]
_TOLD = 2.0  # of a sound, read between two reports [s]


@dataclass(frozen=True, eq=False, kw_only=True)
class Sound:
    """A recording, all channels as one.

    Attributes
    ----------
    samples : ndarray, shape (n,)
        Pressure in parts of the largest that the file can hold, -1 to 1 [-].
    rate : float
        Samples a second [Hz].

    Raises
    ------
    ValueError
        If `samples` holds fewer than two numbers, a number that is not finite, or `rate` is
        not positive.

    Examples
    --------
    >>> Sound(samples=np.zeros(4800), rate=48000.0).duration
    0.1

    """

    samples: FloatArray
    rate: float

    def __post_init__(self) -> None:
        """Check the samples and make them read-only."""
        (samples,) = read_only(self.samples)
        if samples.ndim != 1 or samples.size < 2 or not np.all(np.isfinite(samples)):
            raise ValueError(
                "samples must be two or more finite numbers in a row, got shape "
                f"{samples.shape}"
            )
        positive("rate", self.rate, "Hz")
        object.__setattr__(self, "samples", samples)

    @property
    def duration(self) -> float:
        """How long it is [s]."""
        return float(self.samples.size / self.rate)

    @property
    def clipped(self) -> float:
        """Share of the samples at the limit of what the file can hold [-]."""
        return float(np.mean(np.abs(self.samples) >= 0.999))


@dataclass(frozen=True, eq=False, kw_only=True)
class Frame:
    """One frame of a film, upright.

    Attributes
    ----------
    time : float
        When it was taken, by the clock of the file, not by a nominal rate [s].
    share : float
        How far into the film it is; 0 where the file does not say how long it lasts [-].
    scale : float
        Sides of `pixels` over those of the frame in the file [-].
    decoded : object
        The frame as the decoder gave it.

    """

    time: float
    share: float
    scale: float
    decoded: Any

    @cached_property
    def pixels(self) -> np.ndarray[Any, np.dtype[np.uint8]]:
        """Red, green and blue, 0 to 255, shape (height, width, 3); made when asked for."""
        sides = {
            name: round(getattr(self.decoded, name) * self.scale)
            for name in ("width", "height")
        }
        made = self.decoded.reformat(format="rgb24", **sides).to_ndarray()
        return np.rot90(made, round(self.decoded.rotation / 90) % 4)


@in_steps
def read_sound(media: Media, *, longest: float = 120.0) -> Steps[Sound]:
    """Read the sound of a recording or of a film (wav, m4a, mp3, ogg, mp4, mov, ...).

    Parameters
    ----------
    media : path or bytes
        The file.
    longest : float
        What lies beyond is left out [s].

    Returns
    -------
    Sound
        All channels as one, at the rate of the file.

    Raises
    ------
    ValueError
        If there is no such file, it holds no sound, cannot be decoded or is shorter than
        0.02 s.

    Notes
    -----
    The rate is the file's: no telephone's clock is so far off (common practice: below
    100 parts in a million) that a pitch or a time would show it.

    Examples
    --------
    >>> from scipy.io import wavfile
    >>> file = BytesIO()
    >>> wavfile.write(file, 48000, np.zeros(24000, np.int16))
    >>> read_sound(file.getvalue(), longest=10.0).duration
    0.5

    """
    in_range("longest", longest, 1.0, 3600.0, "s")
    parts: list[FloatArray] = []
    with _opened(media) as file:
        if not file.streams.audio:
            raise ValueError(f"media must hold sound, got {_named(media)} without any")
        stream = file.streams.audio[0]
        rate = float(stream.rate)
        resampler = import_module("av").AudioResampler(format="flt", layout="mono")
        whole = min(
            float(stream.duration * stream.time_base) if stream.duration else longest, longest
        )
        count = told = 0
        for frame in file.decode(stream):
            for part in resampler.resample(frame):
                parts.append(part.to_ndarray()[0].astype(float))
                count += parts[-1].size
            if count >= longest * rate:
                break
            if count >= told + _TOLD * rate:  # each step costs the page some time
                told = count
                yield min(count / rate / max(whole, 1e-3), 1.0), "reading the sound"
    if count < _SHORTEST * rate:
        raise ValueError(f"media must last {_SHORTEST:g} s or longer, got {count / rate:g} s")
    return Sound(samples=np.concatenate(parts)[: round(longest * rate)], rate=rate)


def read_photo(
    media: Media, *, longest_side: int = 4000
) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """Read a photograph, turned upright as the camera noted.

    Parameters
    ----------
    media : path or bytes
        The file (jpg, png, tif, webp, ...).
    longest_side : int
        A larger photograph is made smaller, to this many pixels.

    Returns
    -------
    ndarray, shape (height, width, 3)
        Red, green and blue, 0 to 255.

    Raises
    ------
    ValueError
        If there is no such file, it is no picture, or it has more than 120 million pixels.

    Examples
    --------
    >>> file = BytesIO()
    >>> Image.new("RGB", (40, 20)).save(file, "png")
    >>> read_photo(file.getvalue(), longest_side=20).shape
    (10, 20, 3)

    """
    in_range("longest_side", longest_side, 16, 20_000)
    most = f"media must have at most {_MOST_PIXELS // 10**6} million pixels, got"
    try:
        with _open_photo(media) as file:
            if file.width * file.height > _MOST_PIXELS:
                raise ValueError(f"{most} {file.width} x {file.height}")
            file.draft("RGB", (longest_side, longest_side))  # a JPEG decodes smaller at once
            upright = ImageOps.exif_transpose(file).convert("RGB")
    except Image.DecompressionBombError as error:
        raise ValueError(f"{most} many more in {_named(media)}") from error
    except (OSError, SyntaxError) as error:
        raise ValueError(
            _unread(media, "a photograph (jpg, png, tif, webp; save heic as jpg first)")
        ) from error
    upright.thumbnail((longest_side, longest_side), Image.Resampling.LANCZOS)
    return np.array(upright)


def film_frames(media: Media, *, longest_side: int = 1280) -> Iterator[Frame]:
    """Give the frames of a film one after the other, upright, with the times of the file.

    Parameters
    ----------
    media : path or bytes
        The file (mp4, mov, webm, ...).
    longest_side : int
        Larger frames are made smaller, to this many pixels.

    Returns
    -------
    iterator of Frame
        The frames, read when they are asked for.

    Raises
    ------
    ValueError
        Once frames are asked for: if there is no such file, or it holds no film that can be
        decoded.

    Examples
    --------
    >>> file = BytesIO()
    >>> first, second = Image.new("L", (40, 20)), Image.new("L", (40, 20), 255)
    >>> first.save(file, "gif", save_all=True, append_images=[second], duration=100)
    >>> frames = film_frames(file.getvalue(), longest_side=40)
    >>> [(round(frame.time, 3), int(frame.pixels[0, 0, 0])) for frame in frames]
    [(0.0, 0), (0.1, 255)]

    """
    in_range("longest_side", longest_side, 16, 8000)
    return _frames(media, longest_side)


def _frames(media: Media, longest_side: int) -> Iterator[Frame]:
    with _opened(media) as file:
        if not file.streams.video:
            raise ValueError(f"media must hold a film, got {_named(media)} without pictures")
        stream = file.streams.video[0]
        stream.thread_type = "AUTO"
        whole = float(stream.duration * stream.time_base) if stream.duration else np.inf
        for frame in file.decode(stream):
            if frame.time is None:
                continue
            yield Frame(
                time=float(frame.time),
                share=float(np.clip(frame.time / whole, 0.0, 1.0)),
                scale=min(longest_side / max(frame.width, frame.height), 1.0),
                decoded=frame,
            )


def _open_photo(media: Media) -> Any:
    """Open a photograph; one that is large is no reason to warn, there is a limit here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)
        return Image.open(_source(media))


def _source(media: Media) -> Path | BytesIO:
    return BytesIO(media) if isinstance(media, bytes) else Path(media)


def _named(media: Media) -> str:
    return "a file" if isinstance(media, bytes) else repr(Path(media).name)


def _unread(media: Media, wanted: str) -> str:
    if not isinstance(media, bytes) and not Path(media).is_file():
        return f"media must be a file that exists, got {os.fspath(media)!r}"
    return f"media must be {wanted}, got {_named(media)}, which cannot be read as one"


@contextmanager
def _opened(media: Media) -> Iterator[Any]:
    """Open a sound or film; a trouble while it is read is told in one sentence."""
    av = import_module("av")
    source = _source(media)
    try:
        with av.open(source if isinstance(source, BytesIO) else str(source)) as file:
            yield file
    except (av.FFmpegError, OSError) as error:
        wanted = "a sound or a film (wav, m4a, mp3, mp4, mov, ...)"
        raise ValueError(_unread(media, wanted)) from error
