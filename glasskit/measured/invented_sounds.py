# SPDX-License-Identifier: MIT
"""Invented recordings with known truth: a bouncing ball, a bar or a pane that was tapped.

Rendered as a telephone on the table hears them: knocks and ringing, echo of the room, hum and
noise, a microphone that overloads, and the compression of the file. What is true in them is
known, so whatever reads recordings can be held against it. All is invented.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from io import BytesIO

import numpy as np
from numpy.typing import ArrayLike

from glasskit.impact import Ball, drop_speed, inelasticity, wide_plate_restitution
from glasskit.materials import glass, solid
from glasskit.measured.media import Sound
from glasskit.measured.ringing import Tapped, expected_pitches
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    in_range,
    of_type,
    one_of,
    positive,
    require,
)

CODECS = {"wav": "pcm_s16le", "m4a": "aac", "mp3": "mp3"}
"""Kinds of file a recording can be stored as, and what encodes each."""

_BEFORE, _AFTER = 0.4, 0.6  # of silence around what is recorded [s]
_RATE = 48_000.0  # samples a second [Hz]
_QUIET = 1e-4  # the noise of a silent room, of full scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How a recording was made.

    Attributes
    ----------
    echo : float
        Time in which the echo falls by 60 dB [s].
    wet : float
        Echo beside what comes straight [-].
    noise : float
        Noise of room and telephone, of full scale [-].
    hum : float
        Hum of the mains, of full scale [-].
    gain : float
        Loudest sample before the microphone clips, of full scale [-]: above 1 it clips.

    """

    echo: float = 0.4
    wet: float = 0.1
    noise: float = 1e-3
    hum: float = 1e-3
    gain: float = 0.7

    def __post_init__(self) -> None:
        positive("echo", self.echo, "s")
        for name in ("wet", "noise", "hum"):
            in_range(name, getattr(self, name), 0.0, 10.0)
        in_range("gain", self.gain, 1e-6, 100.0)


def bouncing_sound(
    clicks: ArrayLike,
    loudness: ArrayLike,
    rng: np.random.Generator,
    *,
    room: Room | None = None,
    ringing: Sequence[float] = (900.0, 2300.0, 4100.0, 6700.0),
    lasting: float = 0.03,
) -> Sound:
    """Return an invented recording of a ball that bounces on a pane.

    Parameters
    ----------
    clicks : array_like, shape (n,)
        When it strikes [s]; the recording starts a little earlier, see Notes.
    loudness : array_like
        Of each knock against the others [-].
    rng : numpy.random.Generator
        Source of phases and noise.
    room : Room, optional
        How it was recorded.
    ringing : sequence of float
        Frequencies at which the pane rings after a knock [Hz].
    lasting : float
        Time in which that ringing falls to 1/e [s].

    Returns
    -------
    Sound
        The recording, clipped where the room's gain says so.

    Raises
    ------
    ValueError
        If a number is out of its range.

    Notes
    -----
    A knock is a pulse of 0.1 ms and then damped swings with phases of their own. The file
    begins at time 0: clicks must be positive.

    References
    ----------
    Invented.

    Examples
    --------
    >>> heard = bouncing_sound([0.5, 0.9], [1.0, 0.5], np.random.default_rng(1))
    >>> round(heard.duration, 1)
    1.5

    """
    times = np.atleast_1d(positive("clicks", clicks, "s"))
    loud = np.broadcast_to(positive("loudness", loudness), times.shape)
    pitches = positive("ringing", ringing, "Hz")
    of_type("rng", rng, np.random.Generator)
    decay = positive("lasting", lasting, "s").item()
    count = int((times.max() + _AFTER) * _RATE)
    dry = np.zeros(count)
    for start, strength in zip(times, loud, strict=True):
        first = int(np.ceil(start * _RATE))
        after = np.arange(first, min(first + int(8 * decay * _RATE), count)) / _RATE - start
        pulse = np.where(after < 1e-4, np.sin(np.pi * after / 1e-4), 0.0)
        swings = np.sin(
            2 * np.pi * pitches[:, None] * after + rng.uniform(0, 2 * np.pi, (pitches.size, 1))
        )
        weights = rng.uniform(0.2, 1.0, (pitches.size, 1)) / pitches.size
        rung = (weights * swings).sum(0) * np.exp(-after / decay)
        dry[first : first + after.size] += strength * (pulse + 0.7 * rung)
    return _recorded(dry, rng, Room() if room is None else room)


def ringing_sound(
    frequencies: ArrayLike,
    decays: ArrayLike,
    loudness: ArrayLike,
    rng: np.random.Generator,
    *,
    taps: ArrayLike = (0.4, 1.6, 2.8),
    room: Room | None = None,
) -> Sound:
    """Return an invented recording of something tapped that rings.

    Parameters
    ----------
    frequencies : array_like, shape (n,)
        At which it rings [Hz].
    decays : array_like
        How fast each dies away: amplitude with exp(-decay t) [1/s].
    loudness : array_like
        Of each against the others [-].
    rng : numpy.random.Generator
        Source of phases and noise.
    taps : array_like
        When it is tapped [s].
    room : Room, optional
        How it was recorded.

    Returns
    -------
    Sound
        The recording, clipped where the room's gain says so.

    Raises
    ------
    ValueError
        If a number is out of its range.

    Notes
    -----
    Each tap sets every mode swinging anew with a phase of its own and stops what still rang,
    as a finger or a mallet does.

    References
    ----------
    Invented.

    Examples
    --------
    >>> heard = ringing_sound([362.0], [8.0], [1.0], np.random.default_rng(1), taps=[0.4])
    >>> round(heard.duration, 1)
    1.6

    """
    pitch = np.atleast_1d(positive("frequencies", frequencies, "Hz"))
    fading = np.broadcast_to(positive("decays", decays, "1/s"), pitch.shape)
    loud = np.broadcast_to(positive("loudness", loudness), pitch.shape)
    of_type("rng", rng, np.random.Generator)
    starts = np.sort(np.atleast_1d(positive("taps", taps, "s")))
    ends = np.r_[starts[1:], starts[-1] + _AFTER + 0.6]
    dry = np.zeros(int(ends[-1] * _RATE))
    for start, end in zip(starts, ends, strict=True):
        places = np.arange(int(np.ceil(start * _RATE)), min(int(end * _RATE), dry.size))
        after = places / _RATE - start
        phases = rng.uniform(0, 2 * np.pi, (pitch.size, 1))
        swings = np.sin(2 * np.pi * pitch[:, None] * after + phases)
        swings *= np.exp(-fading[:, None] * after)
        weights = loud * rng.uniform(0.7, 1.3, pitch.size)
        knock = np.exp(-after / 5e-4) * rng.standard_normal(after.size)
        dry[places] += rng.uniform(0.6, 1.0) * (weights @ swings + 0.5 * loud.max() * knock)
    return _recorded(dry, rng, Room() if room is None else room)


def stored(sound: Sound, kind: str = "m4a", *, bit_rate: int = 96_000) -> bytes:
    """Return a recording as a file that telephones and computers read.

    Parameters
    ----------
    sound : Sound
        The recording.
    kind : {"wav", "m4a", "mp3"}
        A key of `CODECS`; all but wav lose something.
    bit_rate : int
        Bits a second of those that do.

    Returns
    -------
    bytes
        The file.

    Raises
    ------
    ValueError
        If the kind is unknown or the bit rate out of range.

    Notes
    -----
    An m4a or mp3 starts some thousand samples late or early: all times of it move together.

    References
    ----------
    FFmpeg's own encoders, through PyAV.

    Examples
    --------
    >>> file = stored(Sound(samples=np.zeros(4800), rate=48000.0), "wav")
    >>> file[:4]
    b'RIFF'

    """
    of_type("sound", sound, Sound)
    one_of("kind", kind, CODECS)
    bits = int(in_range("bit_rate", bit_rate, 8000, 512_000, "1/s"))
    require(sound.rate == round(sound.rate), "sound", sound.rate, "have a whole rate", "Hz")
    av, rate = import_module("av"), int(sound.rate)
    file = BytesIO()
    with av.open(file, "w", format={"m4a": "ipod"}.get(kind, kind)) as out:
        stream = out.add_stream(CODECS[kind], rate=rate, layout="mono")
        if kind != "wav":
            stream.bit_rate = bits
        step = stream.codec_context.frame_size or 1024
        for start in range(0, sound.samples.size, step):
            part = sound.samples[None, start : start + step].astype(np.float32)
            frame = av.AudioFrame.from_ndarray(part, format="fltp", layout="mono")
            frame.sample_rate, frame.pts = rate, start
            out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    return file.getvalue()


def bouncing_example(rng: np.random.Generator) -> bytes:
    """Return an invented file: a steel ball of 10 mm falls 0.3 m on a pane of 10 mm."""
    ball = Ball(radius=5e-3, solid=solid("steel"))
    speeds, times = [float(drop_speed(0.3))], [0.55]
    while True:
        number = inelasticity(ball, glass("soda-lime"), 10e-3, speeds[-1])
        kept = wide_plate_restitution(number).item() * np.exp(0.015 * rng.standard_normal())
        flight = 2.0 * kept * speeds[-1] / GRAVITY
        if flight < 0.06:
            break
        speeds.append(kept * speeds[-1])
        times.append(times[-1] + flight)
    return stored(bouncing_sound(times, np.array(speeds) ** 1.2, rng))


EXAMPLES = {
    "bar": Tapped(shape="bar", length=0.3, width=0.03, thickness=6e-3, mass=0.135),
    "rod": Tapped(shape="rod", length=0.25, width=8e-3, thickness=8e-3, mass=0.0314),
    "disc": Tapped(shape="disc", length=0.15, width=0.15, thickness=6e-3, mass=0.265),
    "pane": Tapped(shape="pane", length=0.2, width=0.2, thickness=4e-3, mass=0.4),
}
"""Invented things that are tapped, by their shape; the nominal sizes are the true ones."""


def ringing_example(shape: str, rng: np.random.Generator) -> bytes:
    """Return an invented file: something of window glass, of 71.5 GPa, is tapped."""
    one_of("shape", shape, EXAMPLES)
    pitches = expected_pitches(EXAMPLES[shape], 71.5e9)[:4]
    if shape in ("bar", "rod"):
        pitches = pitches[0] * np.array([1.0, 2.74, 5.33])
    friction = 1.5e-3 * rng.uniform(0.7, 1.5, pitches.size)
    loudness = rng.uniform(0.3, 1.0, pitches.size)
    return stored(ringing_sound(pitches, np.pi * pitches * friction, loudness, rng))


def _recorded(dry: FloatArray, rng: np.random.Generator, room: Room) -> Sound:
    """Put a dry sound into a room and before a microphone that clips."""
    of_type("room", room, Room)
    wet = _echoed(dry, rng, room)
    heard = room.gain * wet / np.abs(wet).max()
    time = np.arange(dry.size) / _RATE
    hum = room.hum * np.sin(2 * np.pi * 50.0 * time + rng.uniform(0, 2 * np.pi))
    noise = room.noise * rng.standard_normal(dry.size)
    return Sound(samples=np.clip(heard + hum + noise, -1.0, 1.0), rate=_RATE)


def _echoed(dry: FloatArray, rng: np.random.Generator, room: Room) -> FloatArray:
    length = int(min(room.echo, 1.0) * _RATE)
    after = np.arange(length) / _RATE
    tail = rng.standard_normal(length) * np.exp(-6.9 * after / room.echo)
    tail[: int(0.004 * _RATE)] = 0.0  # no wall is nearer than this
    tail *= room.wet / np.sqrt(np.square(tail).sum())
    tail[0] = 1.0
    size = 1 << int(dry.size + length - 1).bit_length()
    both = np.fft.irfft(np.fft.rfft(dry, size) * np.fft.rfft(tail, size), size)
    return np.asarray(both[: dry.size])
