# SPDX-License-Identifier: MIT
"""Look through a film for whatever may be a ball.

What differs from the still background is looked at, and a disc swept by its own motion is
fitted to each likely patch, to a part of a pixel. The film is read a frame at a time. The
method is our own.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from glasskit.measured.media import Frame, Media, film_frames
from glasskit.quantities import FloatArray, in_range, read_only, whole
from glasskit.steps import Steps, in_steps

Pixels = NDArray[np.uint8]
Box = tuple[slice, slice]

LEAST_FRAMES = 5
"""Fewest frames in which a fall is understood."""
FOCAL = 0.8
"""Focal length of a telephone over the longer side of its picture, roughly [-]."""

_KEPT = 24  # frames of which the middle value is the still background
_A_STEP = 12  # frames
_STRIP = 64  # [px] rows at a time
_COARSE = 480  # [px] longest side of the grid on which patches are looked for
_MOST_A_FRAME = 3  # patches of a frame that are kept, the fullest
_STILL = 1.0  # change of a patch since the frame before, of 255
_FILLED = 0.55  # of the box around a patch; a disc fills 0.79
_FLATTEST, _LONGEST = 0.6, 9.0  # height over width of a patch
_MARGIN = 6  # [px] around a patch
_BRIGHTEST = 1.4  # of the middle contrast of a ball: what shines counts no more than that
_GREY = np.array([0.299, 0.587, 0.114]) / np.linalg.norm([0.299, 0.587, 0.114])
_GREY_WILL_DO = 0.35  # of the contrast
_SOFT = 0.7  # [px] blur of lens and pixels, to begin with
_ROUNDS = 12  # of a fit
_ENDS = ([1.0, 0.0, 0.4, 0.5, -0.7], [np.inf, np.inf, 3.0, 1.5, 0.7])  # of a fit
_WORST = 0.3  # residual of a disc that is one [-]
_SMALLEST = 2.0  # radius [px]


@dataclass(frozen=True, eq=False, kw_only=True)
class Sightings:
    """Whatever may be a ball in a film, frame by frame.

    Attributes
    ----------
    times : ndarray, shape (frames,)
        When each frame was taken, by the clock of the file [s].
    frame : ndarray, shape (n,)
        In which frame each patch was seen, counted from 0.
    x, y : ndarray, shape (n,)
        Its middle, from the left and from the top [px].
    width, streak : ndarray, shape (n,)
        Its diameter, and how far it moved while the frame was exposed [px].
    picture : ndarray, shape (height, width, 3)
        The background with all that moved in front of it.

    """

    times: FloatArray
    frame: NDArray[np.intp]
    x: FloatArray
    y: FloatArray
    width: FloatArray
    streak: FloatArray
    picture: Pixels

    @property
    def rate(self) -> float:
        """Frames a second by the clock of the file, without those that were dropped [1/s]."""
        return float(1 / np.median(np.diff(self.times)))


@in_steps
def find_ball(
    media: Media, *, threshold: float = 0.1, longest_side: int = 960
) -> Steps[Sightings]:
    """Look through a film for whatever may be a ball.

    Parameters
    ----------
    media : path or bytes
        The film; the camera stood still.
    threshold : float
        How far a pixel must differ from the background to count, in parts of full scale [-].
    longest_side : int
        Larger frames are made smaller, to this many pixels.

    Returns
    -------
    Sightings
        Patches about as round as a ball, with the streak of a ball that moves.

    Raises
    ------
    ValueError
        If the film cannot be read, has fewer than five frames, or an argument is out of range.

    Notes
    -----
    The film is read twice, a frame at a time: once for the background, once for what differs
    from it. A ball must be some 8 pixels wide or more, and the fall must not fill the film so
    that the ball covers a place half of the time.

    References
    ----------
    Own method.

    Examples
    --------
    >>> from glasskit.measured import find_ball, film_fall
    >>> film = film_fall(np.random.default_rng(1))
    >>> seen = find_ball(film.file)
    >>> seen.times.size > 30, seen.x.size > 20
    (True, True)

    """
    in_range("threshold", threshold, 0.01, 0.9)
    side = whole("longest_side", longest_side, 64, 4000)
    back = yield from _background(media, side)
    looking = _Looking(back, float(threshold))
    for frame in film_frames(media, longest_side=side):
        looking.look(frame)
        if len(looking.times) % _A_STEP == 0:
            yield 0.4 + 0.6 * frame.share, f"looking for the ball, frame {len(looking.times)}"
    return looking.found()


def _background(media: Media, side: int) -> Steps[Pixels]:
    """Return the middle value of each pixel over frames spread evenly over the film."""
    kept: list[Pixels] = []
    every = count = 1
    for count, frame in enumerate(film_frames(media, longest_side=side), 1):
        if (count - 1) % every == 0:
            kept.append(frame.pixels)
            if len(kept) == 2 * _KEPT:
                kept, every = kept[::2], 2 * every
        if count % _A_STEP == 0:
            yield 0.4 * frame.share, f"finding the background, frame {count}"
    if count < LEAST_FRAMES or not kept:
        raise ValueError(f"media must have {LEAST_FRAMES} frames or more, got {count}")
    middle = len(kept) // 2
    strips = range(0, kept[0].shape[0], _STRIP)
    return np.concatenate(
        [
            np.partition(np.stack([one[top : top + _STRIP] for one in kept]), middle, 0)[
                middle
            ]
            for top in strips
        ]
    )


class _Looking:
    """Keeps what was seen so far, one patch a row."""

    def __init__(self, back: Pixels, threshold: float) -> None:
        self.back = back
        self.picture = back.copy()
        self.step = max(1, round(max(back.shape) / _COARSE))
        self.coarse = back[:: self.step, :: self.step].astype(np.int16)
        self.before = self.coarse  # the frame before
        self.level = 255 * threshold
        self.times: list[float] = []
        self.rows: list[tuple[float, ...]] = []

    def look(self, frame: Frame) -> None:
        """Keep the likely patches of one frame."""
        number, step = len(self.times), self.step
        self.times.append(frame.time)
        now = frame.pixels[::step, ::step].astype(np.int16)
        changed = np.abs(now - self.before)
        self.before = now
        differs = now - self.coarse
        flicker = np.median(differs[::8, ::8], axis=(0, 1)).astype(np.int16)
        parts = np.abs(differs - flicker) > self.level
        found = [
            (filled.mean(), box, filled)
            for box, filled in _patches(parts[..., 0] | parts[..., 1] | parts[..., 2])
            if changed[box].mean() > _STILL  # what rests, or a frame shown twice
        ]
        for _, box, filled in sorted(found, key=lambda one: -one[0])[:_MOST_A_FRAME]:
            self._fit(number, frame.pixels, box, filled, flicker)

    def _fit(self, number: int, pixels: Pixels, box: Box, filled: Any, flicker: Any) -> None:
        """Fit a disc to a patch; keep it if it is one."""
        step, (rows, columns) = self.step, box
        place = tuple(
            slice(max(side.start * step - _MARGIN, 0), side.stop * step + _MARGIN)
            for side in box
        )
        here = pixels[place]
        differs = here - self.back[place].astype(np.float64) - flicker
        core = (pixels[::step, ::step][box] - self.coarse[box] - flicker)[filled]
        colour = core.mean(axis=0)
        colour /= max(float(np.linalg.norm(colour)), 1e-9)
        if abs(float(colour @ _GREY)) > _GREY_WILL_DO:  # films keep colours less sharp
            colour = _GREY * np.sign(colour @ _GREY)
        level = float(np.median(core @ colour))
        if level < 1:
            return
        share = np.clip(differs @ colour / level, -0.5, _BRIGHTEST)
        high, wide = step * filled.shape[0], step * filled.shape[1]
        top, left = place[0].start, place[1].start
        middle = [
            step * (side.start + side.stop - 1) / 2 - begin
            for side, begin in ((columns, left), (rows, top))
        ]
        begin = np.array([*middle, wide / 2, max(high - wide, 1.0), _SOFT, 1.0, 0.0])
        # A ball off the middle of the picture is seen longer, away from the middle.
        size = np.array(pixels.shape[1::-1])
        off_middle = (begin[:2] + np.array([left, top]) - size / 2) / (FOCAL * size.max())
        stretch = np.sqrt(1 + off_middle**2)
        (x, y, radius, streak, *_), off = _swept_disc(share, begin, stretch)
        if (
            off < _WORST
            and radius > _SMALLEST
            and -1 < x < share.shape[1]
            and -1 < y < share.shape[0]
        ):
            self.rows.append((number, x + left, y + top, 2 * radius, streak))
            moved = np.abs(differs).max(axis=2) > self.level
            self.picture[place][moved] = here[moved]

    def found(self) -> Sightings:
        """Return what was seen."""
        table = np.array(self.rows, dtype=float).reshape(-1, 5).T
        (times,) = read_only(self.times)
        number, x, y, width, streak = read_only(*table)
        return Sightings(
            times=times,
            frame=number.astype(np.intp),
            x=x,
            y=y,
            width=width,
            streak=streak,
            picture=self.picture,
        )


def _patches(moved: NDArray[np.bool_]) -> Iterator[tuple[Box, NDArray[np.bool_]]]:
    """Yield where whatever moved may be a ball: its box, and which of that it fills."""
    rows, columns = np.flatnonzero(moved.any(1)), np.flatnonzero(moved.any(0))
    if rows.size == 0:
        return
    top, left = max(rows[0] - 1, 0), max(columns[0] - 1, 0)
    part = moved[top : rows[-1] + 2, left : columns[-1] + 2]
    marked, _ = ndimage.label(ndimage.binary_opening(part))
    for label, (down, across) in enumerate(ndimage.find_objects(marked), 1):
        filled = marked[down, across] == label
        high, wide = filled.shape
        box = (
            slice(down.start + top, down.stop + top),
            slice(across.start + left, across.stop + left),
        )
        inside = all(
            side.start > 0 and side.stop < size
            for side, size in zip(box, moved.shape, strict=True)
        )
        if (
            inside
            and filled.mean() >= _FILLED
            and min(high, wide) >= 3
            and _FLATTEST <= high / wide <= _LONGEST
            and high < 0.7 * moved.shape[0]
            and wide < 0.5 * moved.shape[1]
        ):
            yield box, filled


def _covered(
    place: FloatArray, x: FloatArray, y: FloatArray, stretch: FloatArray
) -> FloatArray:
    """Return how much a swept disc covers each pixel: blurred, lighter above or below."""
    middle, height, radius, streak, soft, level, slope = place
    streak = max(streak, 1.0)  # a pixel is as high as that
    chord = stretch[1] * np.sqrt(np.maximum(radius**2 - ((x - middle) / stretch[0]) ** 2, 0.0))
    off = y - height
    over = np.minimum(off + streak / 2, chord) - np.maximum(off - streak / 2, -chord)
    share = np.maximum(over, 0.0) / min(streak, 2 * max(radius, 0.5))
    down, across = (np.exp(-0.5 * ((way - way.T) / soft) ** 2) for way in (y, x))
    down /= down.sum(1, keepdims=True)
    across /= across.sum(1, keepdims=True)
    light = level + slope * np.clip(off / (radius + streak / 2), -1.0, 1.0)
    return np.asarray(light * (down @ share @ across.T))


def _swept_disc(
    share: FloatArray, start: FloatArray, stretch: FloatArray
) -> tuple[FloatArray, float]:
    """Fit middle, radius, streak, blur and light of a swept disc; return the residual too."""
    y, x = np.ogrid[: share.shape[0], : share.shape[1]]
    x, y = x.astype(float), y.astype(float)

    def off(place: FloatArray) -> FloatArray:
        return (_covered(place, x, y, stretch) - share).ravel()

    place, now = start, off(start)
    damping, ways = 1e-3, 0.1 * np.eye(start.size)
    for _ in range(_ROUNDS):
        slopes = np.stack([(off(place + way) - now) / 0.1 for way in ways], 1)
        square = slopes.T @ slopes
        square[np.diag_indices_from(square)] *= 1 + damping
        step = np.linalg.lstsq(square, -slopes.T @ now, rcond=1e-9)[0]
        trial = place + np.clip(step, -0.3 * start[2] - 1, 0.3 * start[2] + 1)
        trial[2:] = np.clip(trial[2:], *_ENDS)
        then = off(trial)
        if then @ then < now @ now:
            place, now, damping = trial, then, damping / 4
            if np.abs(step).max() < 0.02:
                break
        else:
            damping *= 10
    return place, float(np.sqrt(np.mean(now**2)))
