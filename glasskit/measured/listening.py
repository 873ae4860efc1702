# SPDX-License-Identifier: MIT
"""Hear the clicks of a bouncing ball and the ringing of what was tapped in a recording.

A click is where the sound rises by much within a fraction of a millisecond. Those of one ball
form a train: each pause is the one before it, shortened by about the same share. What rings
shows as narrow peaks in the spectrum of the time after a tap; each is then followed alone, its
frequency by its phase and its damping by how it fades.
"""

from dataclasses import dataclass, replace
from importlib import import_module
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from glasskit.measured.media import Sound
from glasskit.quantities import (
    FloatArray,
    in_range,
    of_type,
    read_only,
    require,
    whole,
)
from glasskit.steps import Steps, in_steps

SILENT = 1e-3
"""Loudest sample of a recording in which nothing was recorded, of full scale [-]."""

_HOP = 2.5e-4  # between two values of the envelope [s]
_LISTEN_FROM = 1500.0  # lower frequencies say less about when a click begins [Hz]
_NEAREST = 0.012  # two onsets nearer than this are one knock and its echo [s]
_LOUDEST = 60  # clicks of which a train is made up
_UNEVEN = 0.3  # of the logarithm of the ratio of pauses, from one to the next
_RISE = 2.5  # of an onset over what was heard just before it
_LOWEST, _HIGHEST = 40.0, 12_000.0  # of what a telephone hears well [Hz]
_TAP, _LONGEST_RING = 0.025, 1.2  # left out after a tap, and listened to [s]
_BLOCK = 0.005  # in which loudness is taken [s]
_ECHO = 0.05  # by which echo and compression bend a decay (from invented recordings)
_FADING = 0.1  # [s] of the window of the spectrum
_PEAKS = 12  # shown at most


@dataclass(frozen=True, eq=False, kw_only=True)
class Clicks:
    """Clicks that were heard in a recording.

    Attributes
    ----------
    sound : Sound
        The recording.
    onsets : ndarray, shape (m,)
        All clicks that were heard [s].
    strengths : ndarray, shape (m,)
        How loud each is against the loudest [-].
    train : ndarray, shape (n,)
        Those of one ball that bounces [s].

    """

    sound: Sound
    onsets: FloatArray
    strengths: FloatArray
    train: FloatArray

    def nearest(self, time: float) -> float:
        """Return the click nearest to a time, or that time if none is within 20 ms [s].

        Parameters
        ----------
        time : float
            Where somebody hears or sees one [s].

        Raises
        ------
        ValueError
            If `time` lies outside the recording.

        """
        wanted = in_range("time", time, 0.0, self.sound.duration, "s").item()
        if self.onsets.size:
            found = float(self.onsets[np.argmin(np.abs(self.onsets - wanted))])
            if abs(found - wanted) <= 0.02:
                return found
        return wanted

    def corrected(self, train: ArrayLike) -> "Clicks":
        """Return the same recording with another train of clicks.

        Parameters
        ----------
        train : array_like
            Times of the clicks of the ball [s].

        Raises
        ------
        ValueError
            If a time lies outside the recording.

        """
        times = in_range("train", train, 0.0, self.sound.duration, "s")
        return replace(self, train=read_only(np.unique(times))[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """One frequency at which something rings.

    Attributes
    ----------
    frequency : float
        Frequency [Hz].
    error : float
        Its standard uncertainty [Hz].
    decay : float
        Amplitude fades with exp(-decay t) [1/s].
    decay_error : float
        Standard uncertainty of that [1/s].
    level : float
        Loudness over the noise beside it [dB].

    """

    frequency: float
    error: float
    decay: float
    decay_error: float
    level: float

    @property
    def friction(self) -> float:
        """Share of the energy lost in a radian, the internal friction 1/Q [-]."""
        return self.decay / (np.pi * self.frequency)


@dataclass(frozen=True, eq=False, kw_only=True)
class Ring:
    """What rang in a recording.

    Attributes
    ----------
    sound : Sound
        The recording.
    taps : ndarray, shape (n,)
        When it was tapped [s].
    frequency : ndarray, shape (k,)
        Frequencies of the spectrum [Hz].
    level : ndarray, shape (k,)
        Its level, 0 at the loudest [dB].
    peaks : tuple of Peak
        The clearest, in order of frequency.

    """

    sound: Sound
    taps: FloatArray
    frequency: FloatArray
    level: FloatArray
    peaks: tuple[Peak, ...]


def check_heard(sound: Sound) -> None:
    """Refuse a recording in which nothing can be heard.

    Parameters
    ----------
    sound : Sound
        The recording.

    Raises
    ------
    ValueError
        If it is silent, shorter than 0.3 s, or a tenth of it and more is clipped.

    """
    of_type("sound", sound, Sound)
    loudest = float(np.max(np.abs(sound.samples - sound.samples.mean())))
    rule = f"not be silent: its loudest must reach {SILENT:g} of full scale"
    require(loudest >= SILENT, "sound", loudest, rule)
    require(sound.duration >= 0.3, "sound", sound.duration, "last 0.3 s or longer", "s")
    rule = "be clipped for less than a tenth of its length: record it from farther off"
    require(sound.clipped < 0.1, "sound", sound.clipped, rule)


@in_steps
def hear_clicks(sound: Sound) -> Steps[Clicks]:
    """Find the clicks in a recording and the train of one bouncing ball among them.

    Parameters
    ----------
    sound : Sound
        The recording.

    Returns
    -------
    Clicks
        All clicks, and those of the longest train.

    Raises
    ------
    ValueError
        If the recording is silent, too short or clipped for a tenth of its length, or no
        click is heard in it.

    Notes
    -----
    The longest train among the sixty loudest clicks. Knocks and voices beside it are left out
    as long as they do not fit; what is wrong can be put right with `Clicks.corrected`.

    References
    ----------
    Own method.

    Examples
    --------
    >>> from glasskit.measured.invented_sounds import bouncing_sound
    >>> sound = bouncing_sound([0.5, 0.9, 1.2], [1.0, 0.7, 0.5], np.random.default_rng(1))
    >>> hear_clicks(sound).train.round(3)
    array([0.5, 0.9, 1.2])

    """
    check_heard(sound)
    yield 0.1, "listening for clicks"
    signal = import_module("scipy.signal")
    lowest = min(_LISTEN_FROM, 0.2 * sound.rate)
    filtered = signal.sosfilt(
        signal.butter(2, lowest, "highpass", fs=sound.rate, output="sos"), sound.samples
    )
    yield 0.4, "listening for clicks"
    onsets, strengths = _onsets(filtered, sound.rate)
    if not onsets.size:
        raise ValueError("sound must hold clicks, got none that rises above the noise")
    yield 0.8, "looking for the train of one ball"
    train = _train(onsets, strengths)
    parts = read_only(onsets)[0], read_only(strengths)[0], read_only(train)[0]
    return Clicks(sound=sound, onsets=parts[0], strengths=parts[1], train=parts[2])


@in_steps
def hear_ring(sound: Sound) -> Steps[Ring]:
    """Find the frequencies at which something tapped rings, and how fast each fades.

    Parameters
    ----------
    sound : Sound
        The recording: one tap or several, a second apart or more.

    Returns
    -------
    Ring
        Spectrum and peaks.

    Raises
    ------
    ValueError
        If the recording is silent, too short or clipped for a tenth of its length, or
        nothing rings in it.

    Notes
    -----
    Of 40 Hz to 12 kHz, what stands 15 dB and more over the noise beside it, at most twelve.

    References
    ----------
    Own method; damping by the fading of the amplitude, as in [ASTME1876].

    Examples
    --------
    >>> from glasskit.measured.invented_sounds import ringing_sound
    >>> sound = ringing_sound([440.0], [6.0], [1.0], np.random.default_rng(1))
    >>> [f"{peak.frequency:.1f} Hz, {peak.decay:.0f}/s" for peak in hear_ring(sound).peaks]
    ['440.0 Hz, 6/s']

    """
    check_heard(sound)
    yield 0.05, "listening for taps"
    taps = _taps(sound)
    pieces = _pieces(sound, taps)
    yield 0.2, "making the spectrum"
    frequency, level = _spectrum(pieces, sound.rate)
    found = _peaks(frequency, level)
    if not found:
        raise ValueError("sound must hold something that rings, got no clear pitch in it")
    before = sound.samples[: int(max(taps[0] - 0.02, 0.0) * sound.rate)]
    peaks = []
    for number, (pitch, height) in enumerate(found):
        yield 0.3 + 0.7 * number / len(found), f"following the pitch at {pitch:.0f} Hz"
        others = [other for other, _ in found if other != pitch]
        peak = _followed(pieces, before, sound.rate, pitch, others, height)
        if peak is not None:
            peaks.append(peak)
    if not peaks:
        raise ValueError("sound must hold something that rings, got no clear pitch in it")
    loud = frequency <= _HIGHEST
    return Ring(
        sound=sound,
        taps=read_only(taps)[0],
        frequency=read_only(frequency[loud])[0],
        level=read_only(level[loud] - level[loud].max())[0],
        peaks=tuple(peaks),
    )


def waveform(sound: Sound, count: int = 1200) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return a recording as it is drawn: the least and largest sample of each stretch.

    Parameters
    ----------
    sound : Sound
        The recording.
    count : int
        Stretches.

    Returns
    -------
    time, low, high : ndarray, shape (count,)
        Middle of each stretch [s], least and largest sample in it [-].

    Raises
    ------
    ValueError
        If `count` is not whole and positive.

    Examples
    --------
    >>> time, low, high = waveform(Sound(samples=np.tile([0.0, 1.0], 600), rate=100.0), 4)
    >>> time.tolist(), high.tolist()
    ([1.5, 4.5, 7.5, 10.5], [1.0, 1.0, 1.0, 1.0])

    """
    of_type("sound", sound, Sound)
    parts = min(whole("count", count, 1, 100_000), sound.samples.size)
    starts = np.linspace(0, sound.samples.size, parts, endpoint=False).astype(int)
    low = np.minimum.reduceat(sound.samples, starts)
    high = np.maximum.reduceat(sound.samples, starts)
    ends = np.r_[starts[1:], sound.samples.size]
    return (starts + ends) / (2.0 * sound.rate), low, high


def loud_time(sound: Sound) -> float:
    """Return how long a recording stays within 20 decibels of its loudest 5 ms.

    Parameters
    ----------
    sound : Sound
        The recording, such as of a pane that breaks.

    Returns
    -------
    float
        From the first such moment to the last [s].

    Raises
    ------
    ValueError
        If the recording is silent, too short or clipped for a tenth of its length.

    Notes
    -----
    Of a break this is the room's echo and the pieces falling: the cracks themselves cross a
    pane in a fraction of a millisecond, see `glasskit.breakage`.

    References
    ----------
    Own definition.

    Examples
    --------
    >>> tone = np.r_[np.zeros(4800), np.sin(np.arange(4800)), np.zeros(4800)]
    >>> round(loud_time(Sound(samples=tone, rate=9600.0)), 2)
    0.5

    """
    check_heard(sound)
    size = max(int(0.005 * sound.rate), 1)
    blocks = sound.samples[: sound.samples.size // size * size].reshape(-1, size)
    power = np.square(blocks).mean(1)
    loud = np.flatnonzero(power >= power.max() / 100)
    return float((loud[-1] - loud[0] + 1) * size / sound.rate)


# --- clicks ---------------------------------------------------------------------------------


def _envelope(filtered: FloatArray, rate: float) -> tuple[FloatArray, int]:
    """Return the largest sample of each hop, and the samples in a hop."""
    hop = max(int(_HOP * rate), 1)
    blocks = np.abs(filtered[: filtered.size // hop * hop]).reshape(-1, hop)
    return blocks.max(1), hop


def _onsets(filtered: FloatArray, rate: float) -> tuple[FloatArray, FloatArray]:
    """Return when the sound rises steeply [s], and how loud it gets there, of the loudest."""
    ndimage = import_module("scipy.ndimage")
    loud, hop = _envelope(filtered, rate)
    floor = np.median(loud) + 1e-9
    # What was heard in the 6 ms that end 1 ms before, for a codec smears a click forwards.
    span, gap = int(0.006 / _HOP), int(0.001 / _HOP)
    whole_ = np.cumsum(np.r_[np.full(span + gap + 1, floor), loud])
    before = (whole_[span : -gap - 1] - whole_[: -span - gap - 1]) / span
    peak = ndimage.maximum_filter1d(loud, 2 * int(_NEAREST / _HOP) + 1)
    # A click may be loudest some milliseconds after it began: what was before that counts.
    before = ndimage.minimum_filter1d(before, 2 * span + 1, origin=span)
    rise = loud / np.maximum(before, floor)
    places = np.flatnonzero((loud == peak) & (loud >= 6.0 * floor) & (rise >= _RISE))
    if not places.size:
        return np.empty(0), np.empty(0)
    times = np.array([_begins(filtered, int(place), hop, rate) for place in places])
    strengths = loud[places] / loud[places].max()
    audible = strengths >= 3e-3
    return times[audible], strengths[audible]


def _begins(filtered: FloatArray, place: int, hop: int, rate: float) -> float:
    """Return when the click that is loudest in a hop begins [s].

    From its loudest sample back to the last half millisecond without a third of that.
    """
    first = max(place * hop - int(0.011 * rate), 0)
    piece = np.abs(filtered[first : (place + 1) * hop])
    over = np.flatnonzero(piece >= 0.35 * piece[-hop:].max())
    gaps = np.flatnonzero(np.diff(over) > 0.5e-3 * rate)
    return float((first + over[gaps[-1] + 1 if gaps.size else 0]) / rate)


def _train(onsets: FloatArray, strengths: FloatArray) -> FloatArray:
    """Return the clicks of one ball: pauses that shorten by about the same share."""
    loudest = np.sort(np.argsort(strengths)[-_LOUDEST:])
    times, loud = onsets[loudest], strengths[loudest]
    best: list[int] = [int(np.argmax(loud))]
    score = 0.0
    count = times.size
    for first in range(count):
        for second in range(first + 1, count):
            pause = times[second] - times[first]
            if not 0.02 <= pause <= 2.0 or loud[second] > 2.5 * loud[first]:
                continue
            chain = _chain(times, loud, first, second)
            pauses = np.diff(times[chain])
            uneven = np.diff(np.log(pauses[1:] / pauses[:-1])) / _UNEVEN
            worth = len(chain) - 2 - np.square(uneven).sum()
            worth += float(np.sqrt(loud[chain]).mean())
            if worth > score:
                best, score = chain, worth
    return times[best]


def _chain(times: FloatArray, loud: FloatArray, first: int, second: int) -> list[int]:
    """Follow a ball on from two clicks as long as the next is where it should be."""
    chain, share = [first, second], np.nan
    while True:
        last = times[chain[-1]]
        pause = last - times[chain[-2]]
        after = np.arange(chain[-1] + 1, times.size)
        ratio = (times[after] - last) / pause
        fits = loud[after] < 2.5 * loud[chain[-1]]
        if np.isnan(share):
            fits &= (ratio > 0.12) & (ratio < 1.0)
        else:
            fits &= (np.abs(np.log(ratio / share)) < _UNEVEN) & (ratio < 1.05)
        if pause < 0.015 or not fits.any():
            return chain
        able, off = after[fits], 0.0
        if not np.isnan(share):
            off = np.abs(np.log(ratio[fits] / share))
        chosen = int(able[np.argmin(off - 0.1 * np.log(loud[able]))])
        share = float((times[chosen] - last) / pause)
        chain.append(chosen)


# --- ringing --------------------------------------------------------------------------------


def _taps(sound: Sound) -> FloatArray:
    """Return when it was tapped: rises of the loudness, low or high, 0.4 s apart [s]."""
    signal = import_module("scipy.signal")
    size = max(int(_BLOCK * sound.rate), 1)
    rises = []
    for lowest in (200.0, min(3000.0, 0.3 * sound.rate)):
        filtered = signal.sosfilt(
            signal.butter(2, lowest, "highpass", fs=sound.rate, output="sos"), sound.samples
        )
        blocks = filtered[: filtered.size // size * size].reshape(-1, size)
        loud = np.sqrt(np.square(blocks).mean(1))
        summed = np.cumsum(np.r_[np.full(8, np.median(loud)), loud])
        before = (summed[6:-2] - summed[:-8]) / 6.0  # of the 30 ms that end 5 ms before
        loud[loud < 0.1 * loud.max()] = 0.0
        rises.append(loud / np.maximum(before, 1e-9))
    rise = np.maximum(*rises)
    taps: list[float] = []
    for place in np.argsort(rise)[::-1]:
        time = place * size / sound.rate
        far = all(abs(time - tap) > 0.4 for tap in taps)
        if rise[place] >= 2.0 and far and time < sound.duration - 0.2:
            taps.append(float(time))
    return np.sort(taps[:8] or [0.0])


def _pieces(sound: Sound, taps: FloatArray) -> list[FloatArray]:
    """Return what was heard after each tap."""
    ends = np.minimum(np.r_[taps[1:] - 0.03, np.inf], taps + _LONGEST_RING)
    pieces = []
    for start, end in zip(taps + _TAP, ends, strict=True):
        piece = sound.samples[int(start * sound.rate) : int(min(end, 1e9) * sound.rate)]
        if piece.size > 0.1 * sound.rate:
            pieces.append(piece - piece.mean())
    return pieces


def _spectrum(pieces: list[FloatArray], rate: float) -> tuple[FloatArray, FloatArray]:
    """Return frequencies [Hz] and the mean level of the pieces [dB]."""
    size = 1 << int(_LONGEST_RING * rate).bit_length()
    power = np.zeros(size // 2 + 1)
    for piece in pieces:
        # What fades within a tenth of a second stands out too, over the noise after it.
        fading = np.hanning(2 * piece.size)[piece.size :]
        fading *= np.exp(-np.arange(piece.size) / (_FADING * rate))
        power += np.square(np.abs(np.fft.rfft(piece * fading, size)))
    level = 10 * np.log10(power / len(pieces) + 1e-12)
    return np.asarray(np.fft.rfftfreq(size, 1 / rate), float), np.asarray(level, float)


def _peaks(frequency: FloatArray, level: FloatArray) -> list[tuple[float, float]]:
    """Return frequency and height over the noise beside it of the clearest peaks."""
    signal, ndimage = import_module("scipy.signal"), import_module("scipy.ndimage")
    step = frequency[1]
    near = int(200.0 / step)
    floor = ndimage.percentile_filter(level[:: max(near // 50, 1)], 40, size=100)
    floor = np.interp(frequency, frequency[:: max(near // 50, 1)], floor)
    places, _ = signal.find_peaks(level, prominence=10.0, distance=max(int(4.0 / step), 1))
    height = (level - floor)[places]
    able = (frequency[places] >= _LOWEST) & (frequency[places] <= _HIGHEST) & (height >= 15.0)
    able &= level[places] >= level.max() - 55.0
    places, height = places[able], height[able]
    clearest = np.sort(np.argsort(level[places])[-_PEAKS:])
    return [(float(frequency[places[n]]), float(height[n])) for n in clearest]


def _followed(
    pieces: list[FloatArray],
    before: FloatArray,
    rate: float,
    pitch: float,
    others: list[float],
    height: float,
) -> Peak | None:
    """Follow one pitch through every piece; None where it cannot be followed."""
    apart = min((abs(pitch - other) for other in others), default=np.inf)
    width = float(np.clip(0.3 * apart, 4.0, 25.0))
    noise = _baseband(before, rate, pitch, width) if before.size > 0.2 * rate else None
    floor = float(np.sqrt(np.square(np.abs(noise[0])).mean())) if noise is not None else 0.0
    fits = [
        fit
        for piece in pieces
        if (fit := _fit(*_baseband(piece, rate, pitch, width), floor, width)) is not None
    ]
    if not fits:
        return None
    offsets, decays, errors, fades = map(np.array, zip(*fits, strict=True))
    weights = 1.0 / np.square(errors)
    offset = float((weights * offsets).sum() / weights.sum())
    decay = float(np.average(decays, weights=1.0 / np.square(fades)))
    one = float(weights.sum() ** -0.5)
    fade = float(np.square(1.0 / fades).sum() ** -0.5)
    if len(fits) > 1:
        one = max(one, float(np.std(offsets, ddof=1) / np.sqrt(len(fits))))
        fade = max(fade, float(np.std(decays, ddof=1) / np.sqrt(len(fits))))
    fade = float(np.hypot(fade, _ECHO * decay))
    return Peak(
        frequency=pitch + offset,
        error=max(one, 1e-5 * pitch),
        decay=max(decay, 1e-3),
        decay_error=fade,
        level=height,
    )


def _baseband(piece: FloatArray, rate: float, pitch: float, width: float) -> tuple[Any, float]:
    """Return what lies within a width about a pitch, turned down to zero, and its rate."""
    time = np.arange(piece.size) / rate
    turned = piece * np.exp(-2j * np.pi * pitch * time)
    step = max(int(rate / (16.0 * width)), 1)
    length = int(rate / width)
    window = np.hanning(length + 2)[1:-1]
    size = 1 << int(piece.size + length).bit_length()
    narrow = np.fft.ifft(np.fft.fft(turned, size) * np.fft.fft(window / window.sum(), size))
    whole_ = narrow[length - 1 : piece.size]  # no part of the window beyond the piece
    return 2.0 * whole_[::step], rate / step


def _fit(
    turned: Any, rate: float, floor: float, width: float
) -> tuple[float, float, float, float] | None:
    """Return offset [Hz], decay [1/s] and the standard uncertainty of each."""
    if turned.size < 8:
        return None
    loud = np.abs(turned)
    limit = max(min(4.0 * floor, 0.5 * loud.max()), 0.03 * loud.max())
    quiet = np.flatnonzero(loud < limit)
    end = int(quiet[0]) if quiet.size else turned.size
    if end < 8:
        return None
    time = np.arange(end) / rate
    phase = np.unwrap(np.angle(turned[:end])) / (2 * np.pi)
    steep, error = _line(time, phase, loud[:end], rate / width)
    fade, fade_error = _line(time, np.log(loud[:end]), loud[:end], rate / width)
    return steep, -fade, max(error, 1e-4), max(fade_error, 1e-3)


def _line(
    time: FloatArray, value: FloatArray, weight: FloatArray, together: float
) -> tuple[float, float]:
    """Return slope and its standard uncertainty; so many neighbours are one reading."""
    share = np.square(weight) / np.square(weight).sum()
    middle = (share * time).sum()
    away = time - middle
    spread = (share * away**2).sum()
    slope = float((share * away * value).sum() / spread)
    rest = value - (share * value).sum() - slope * away
    scatter = np.sqrt((share * rest**2).sum())
    count = max(1.0 / np.square(share).sum() / together, 3.0)
    return slope, float(scatter / np.sqrt(spread) / np.sqrt(count - 2.0))
