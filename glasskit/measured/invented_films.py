# SPDX-License-Identifier: MIT
"""Draw films of a fall as a telephone would take them, so that the truth is known.

A ball falls from a grip on a pane and rises again. The camera leans, blurs, reads its rows one
after the other, drops frames and compresses; light is uneven and flickers. All of it
is invented.
"""

from dataclasses import dataclass
from fractions import Fraction
from importlib import import_module
from io import BytesIO
from typing import Any

import numpy as np
from scipy import ndimage

from glasskit.impact import terminal_speed
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    in_range,
    non_negative,
    of_type,
    one_of,
    positive,
    whole,
    within,
)

SUBTIMES = 12  # instants that an exposure is made of


@dataclass(frozen=True, eq=False, kw_only=True)
class FilmOfFall:
    """A film, and the truth behind it.

    Attributes
    ----------
    file : bytes
        The film, an mp4.
    height, speed : float
        Height fallen, and speed at the touch [m], [m/s].
    restitution, rebound : float
        Speed after over speed before, and height of the rebound [-], [m].
    slowed : float
        How many times slower the film shows the fall [-].
    diameter, mass : float
        Of the ball [m], [kg].
    upper, lower : float
        Marks of the ruler from the top of the picture, in parts of its height [-].
    distance : float
        From one mark to the other [m].
    face : float
        Face of the pane from the top of the picture, in parts of its height [-].

    """

    file: bytes
    height: float
    speed: float
    restitution: float
    rebound: float
    slowed: float
    diameter: float
    mass: float
    upper: float
    lower: float
    distance: float
    face: float


def film_fall(
    rng: np.random.Generator,
    *,
    height: float = 0.8,
    diameter: float = 0.0508,
    mass: float = 0.535,
    restitution: float = 0.4,
    rate: float = 60.0,
    slowed: float = 1.0,
    side: int = 480,
    tall: bool = True,
    turned: bool = False,
    exposure: float = 0.004,
    noise: float = 3.0,
    quality: int = 23,
    dropped: float = 0.05,
    ball: str = "dark",
) -> FilmOfFall:
    """Draw a film of a ball that falls on a pane.

    Parameters
    ----------
    rng : Generator
        Draws where the camera stands, light, noise and what is dropped.
    height : float
        Height of the fall [m].
    diameter, mass : float
        Of the ball [m], [kg].
    restitution : float
        Speed after the touch over speed before [-].
    rate : float
        Frames that the camera takes in a second [1/s].
    slowed : float
        The file plays this many times slower [-].
    side : int
        Longest side of the picture, even [px].
    tall : bool
        Whether the picture is taller than wide; rows are then read across the fall.
    turned : bool
        Whether the file holds the picture on its side and says so, as telephones do.
    exposure : float
        Time that a frame is exposed for, at most that between two [s].
    noise : float
        Standard deviation of a pixel, of 255 [-].
    quality : int
        Constant rate factor of the compression; larger is worse.
    dropped : float
        Share of the frames that are missing [-].
    ball : {"dark", "bright", "red"}
        What it looks like.

    Returns
    -------
    FilmOfFall
        The file and the truth.

    Raises
    ------
    TypeError
        If `rng` is no generator.
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The ball stays on the pane for up to 0.6 ms. A pinhole camera without distortion; drag as
    for a smooth ball, on the fall alone.

    References
    ----------
    Invented.

    Examples
    --------
    >>> film = film_fall(np.random.default_rng(1), height=1.0)
    >>> round(film.speed, 2), film.file[4:8]
    (4.42, b'ftyp')

    """
    of_type("rng", rng, np.random.Generator)
    positive("height", height, "m")
    within("diameter", diameter, 1e-3, height, "m")
    positive("mass", mass, "kg")
    within("restitution", restitution, 0.0, 1.0)
    in_range("rate", rate, 5.0, 2000.0, "1/s")
    in_range("slowed", slowed, 0.1, 100.0)
    whole("side", side, 96, 2000)
    in_range("exposure", exposure, 0.0, 0.1, "s")
    non_negative("noise", noise)
    whole("quality", quality, 0, 51)
    in_range("dropped", dropped, 0.0, 0.5)
    one_of("ball", ball, _BALLS)
    scene = _Scene(rng, height, diameter, mass, restitution, side, tall, ball)
    frames = scene.frames(rate, min(exposure, 1 / rate), noise, dropped)
    upper, lower = (scene.mark(deep)[1] / scene.high for deep in scene.marks)
    return FilmOfFall(
        file=_stored(((slowed * t, one) for t, one in frames), rate / slowed, quality, turned),
        height=height,
        speed=scene.speed,
        restitution=restitution,
        rebound=(restitution * scene.speed) ** 2 / (2 * GRAVITY),
        slowed=slowed,
        diameter=diameter,
        mass=mass,
        upper=float(upper),
        lower=float(lower),
        distance=float(scene.marks[1] - scene.marks[0]),
        face=float(scene.face / scene.high),
    )


_LEAN = 0.035  # standard deviation of how the camera leans, forward and sideways [rad]
_BALLS = {"dark": (45, 45, 52), "bright": (235, 235, 228), "red": (190, 40, 40)}


class _Scene:
    """Camera, light and motion of one film."""

    def __init__(
        self,
        rng: np.random.Generator,
        height: float,
        diameter: float,
        mass: float,
        restitution: float,
        side: int,
        tall: bool,
        ball: str,
    ) -> None:
        self.rng, self.height, self.radius = rng, height, diameter / 2
        self.restitution = restitution
        self.high, self.wide = side, 2 * round(side * 9 / 32)
        if not tall:
            self.high, self.wide = self.wide, self.high
        self.tall = tall
        self.limit = terminal_speed(mass, np.pi * self.radius**2).item()
        # Below the release, towards the camera, by how the camera leans.
        span = (height + 2 * diameter) / rng.uniform(0.72, 0.85)
        self.focal = rng.uniform(0.7, 0.9) * side
        self.away = self.focal * span / self.high
        self.pitch, self.turn = _LEAN * rng.standard_normal(2)
        self.centre = height / 2 + 0.04 * span * rng.standard_normal()
        self.aside = 0.05 * span * rng.standard_normal()
        self.drift = 0.02 * rng.standard_normal()  # sideways [m/s]
        self.start = rng.uniform(0.1, 0.2)
        self.rows = 0.0 if tall else rng.uniform(0.008, 0.024)  # time to read all rows [s]
        self.dwell = rng.uniform(0.0, 6e-4)  # on the pane [s]
        fall = self.limit / GRAVITY
        self.touch = self.start + fall * np.arccosh(np.exp(height / (self.limit * fall)))
        self.speed = float(self.limit * np.tanh((self.touch - self.start) / fall))
        self.back = restitution * self.speed
        self.colour = np.array(_BALLS[ball], float)
        self.away_of_ruler = 0.01 * self.away * rng.standard_normal()
        length = 0.9 * height
        self.marks = 0.05 * height + np.array([0.0, length])

    def deep(self, t: Any) -> Any:
        """Return how far the middle of the ball is below its release [m]."""
        fall = self.limit / GRAVITY
        first = self.limit * fall * np.log(np.cosh(np.clip(t - self.start, 0, None) / fall))
        after = np.clip(t - self.touch - self.dwell, 0, None)
        again = self.height - self.back * after + GRAVITY * after**2 / 2
        # It is caught where it comes down once more.
        return np.where(t < self.touch, first, np.minimum(again, self.height))

    def project(self, place: FloatArray, nearer: float = 0.0) -> FloatArray:
        """Return where a point below the release, and beside it, is in the picture [px].

        Right, down, and how far it is from the camera [m].
        """
        deep, beside = place
        low, high = np.sin(self.pitch), np.cos(self.pitch)
        y = deep - self.centre - self.away * np.tan(self.pitch)
        z = self.away - nearer
        right, down, far = beside - self.aside, y * high + z * low, z * high - y * low
        u, v = self.focal * right / far, self.focal * down / far
        turned = np.array(
            [[np.cos(self.turn), -np.sin(self.turn)], [np.sin(self.turn), np.cos(self.turn)]]
        )
        across, along = turned @ np.array([u, v])
        return np.array([across + self.wide / 2 - 0.5, along + self.high / 2 - 0.5, far])

    def mark(self, deep: float) -> FloatArray:
        """Return where a mark of the ruler is in the picture: beside, nearer or further."""
        beside = 0.3 * self.wide / self.focal * self.away
        return self.project(np.array([deep, beside]), self.away_of_ruler)

    @property
    def face(self) -> float:
        """Height of the face of the pane in the picture, from the top [px]."""
        return float(self.project(np.array([self.height + self.radius, 0.0]))[1])

    def frames(self, rate: float, exposure: float, noise: float, dropped: float) -> Any:
        """Yield time and pixels of the frames that are there."""
        rng = self.rng
        self.rows = min(self.rows, 0.95 / rate)  # one frame is read before the next
        end = self.touch + 2 * self.back / GRAVITY + 0.15
        back = self._background()
        grain = noise * rng.standard_normal((self.high + 64, self.wide + 64, 3)).astype(
            np.float32
        )
        times = np.arange(0.0, end, 1 / rate)
        for t in times[rng.random(times.size) >= dropped]:
            pixels = back.copy()
            self._grip(pixels, t)
            self._ball(pixels, t, exposure)
            down, right = rng.integers(0, 64, 2)
            pixels *= 1 + 0.01 * np.sin(2 * np.pi * 100 * t)
            pixels += grain[down : down + self.high, right : right + self.wide]
            yield t, np.clip(pixels, 0, 255).astype(np.uint8)

    def _background(self) -> Any:
        rng, shape = self.rng, (self.high, self.wide)
        level = 70.0 if self.colour.mean() > 150 else 150.0
        y, x = np.mgrid[: shape[0], : shape[1]]
        slope = rng.uniform(-0.25, 0.25, 2)
        light = 1 + slope[0] * (x / shape[1] - 0.5) + slope[1] * (y / shape[0] - 0.5)
        spots = ndimage.gaussian_filter(rng.standard_normal(shape), 12)
        light += 0.05 * spots / spots.std()
        picture = level * light[..., None] * rng.uniform(0.9, 1.0, 3)
        face = self.face
        glass = (y > face) & (y < face + 0.02 * self.high)
        picture[glass] = 0.5 * picture[glass] + 0.5 * np.array([120.0, 160.0, 140.0])
        picture[y > face + 0.02 * self.high] *= 0.6
        for number, deep in enumerate(np.linspace(self.marks[0], self.marks[1], 10)):
            across, down, _ = self.mark(deep)
            long = 16 if number in (0, 9) else 8
            near = (np.abs(y - down) < 1.0) & (np.abs(x - across) < long)
            picture[near] = 20.0
        return picture.astype(np.float32)

    def _grip(self, pixels: Any, t: float) -> None:
        """Draw two jaws that let go."""
        apart = self.radius + 0.03 * np.clip((t - self.start) / 0.08, 0, 1)
        for way in (-1, 1):
            across, down, far = self.project(np.array([0.0, way * (apart + 0.008)]))
            wide, high = self.focal * 0.008 / far, self.focal * 0.8 * self.radius / far
            rows = slice(max(round(down - high), 0), max(round(down + high), 0))
            pixels[rows, max(round(across - wide), 0) : max(round(across + wide), 0)] = 100.0

    def _ball(self, pixels: Any, t: float, exposure: float) -> None:
        """Draw the ball where it was while the frame was exposed, and its mirror image."""
        share: Any = 0.0
        y, x = np.ogrid[: self.high, : self.wide]
        spots = []
        for part in (np.arange(SUBTIMES) + 0.5) / SUBTIMES - 0.5:
            when = t + part * exposure
            for _ in range(3 if self.rows else 1):
                beside = self.drift * (when - self.start)
                across, down, far = self.project(np.array([self.deep(when), beside]))
                when = t + part * exposure + self.rows * (down / self.high - 0.5)
            spots.append((across, down, self.focal * self.radius / far))
        middle = np.mean(spots, axis=0)
        radius = middle[2]
        reach = np.ptp([spot[1] for spot in spots]) / 2 + radius + 4
        rows = slice(max(int(middle[1] - reach), 0), max(int(middle[1] + reach) + 1, 0))
        columns = slice(
            max(int(middle[0] - radius - 4), 0), max(int(middle[0] + radius) + 5, 0)
        )
        y, x = y[rows], x[:, columns]
        for across, down, radius in spots:
            # A ball off the middle is seen longer, away from the middle.
            long = np.hypot(1.0, (across - self.wide / 2) / self.focal)
            tall = np.hypot(1.0, (down - self.high / 2) / self.focal)
            off = np.hypot((x - across) / long, (y - down) / tall)
            share = share + np.clip(radius - off + 0.5, 0, 1) / SUBTIMES
        share = ndimage.gaussian_filter(np.asarray(share), 0.6)[..., None]
        bright = 1 - 0.25 * (y - middle[1]) / radius * np.ones_like(x) * (radius > 0)
        colour = self.colour * np.clip(bright, 0.6, 1.4)[..., None]
        patch = pixels[rows, columns]
        pixels[rows, columns] = patch + share * (colour - patch)
        top = round(2 * self.face) - rows.stop
        if top > self.face and top + share.shape[0] <= self.high:
            patch = pixels[top : top + share.shape[0], columns]
            pixels[top : top + share.shape[0], columns] = patch + 0.15 * share[::-1] * (
                colour - patch
            )


def _stored(frames: Any, rate: float, quality: int, turned: bool) -> bytes:
    """Return an mp4 of frames, each with its own time."""
    av = import_module("av")
    target, clock = BytesIO(), 90_000
    with av.open(target, "w", format="mp4") as file:
        stream = file.add_stream("h264", rate=Fraction(rate).limit_denominator(1000))
        stream.pix_fmt, stream.options = "yuv420p", {"crf": str(quality), "preset": "veryfast"}
        stream.codec_context.time_base = Fraction(1, clock)
        stream.codec_context.thread_count = 1  # so that the same film is the same file
        for number, (t, pixels) in enumerate(frames):
            upright = np.ascontiguousarray(np.rot90(pixels, 1) if turned else pixels)
            if number == 0:
                stream.height, stream.width = upright.shape[:2]
            frame = av.VideoFrame.from_ndarray(upright, format="rgb24")
            frame.pts, frame.time_base = round(t * clock), Fraction(1, clock)
            file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    return _on_its_side(target.getvalue()) if turned else target.getvalue()


def _on_its_side(film: bytes) -> bytes:
    """Say in the head of a track that its picture is to be turned a quarter, clockwise."""
    place = film.index(b"tkhd") + 44
    turn = (0, 1, 0, -1, 0, 0, 0, 0, 1 << 14)  # in parts of 2^16, the last of 2^30
    matrix = b"".join((item << 16).to_bytes(4, "big", signed=True) for item in turn)
    return film[:place] + matrix + film[place + 36 :]
