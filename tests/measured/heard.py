"""Invented recordings with known truth, and what the kit hears in them."""

from typing import NamedTuple

import numpy as np

from glasskit.measured import (
    Room,
    Tapped,
    bounces,
    bouncing_sound,
    expected_pitches,
    free_pane_factors,
    hear_clicks,
    hear_ring,
    likely_peaks,
    read_sound,
    ringing_sound,
    rung,
    stored,
)
from glasskit.quantities import GRAVITY

SHORT = 0.03  # flights below this are neither rendered nor read [s]


class Bounce(NamedTuple):
    """A rendered ball: its true mean restitution, first fall [m], file and clicks."""

    truth: float
    fall: float
    file: bytes
    clicks: np.ndarray
    logs: list


def some_room(rng):
    return Room(
        echo=rng.uniform(0.15, 0.8),
        wet=rng.uniform(0.02, 0.3),
        noise=10 ** rng.uniform(-4.0, -2.5),
        hum=10 ** rng.uniform(-4.0, -2.5),
        gain=rng.choice([0.3, 0.7, 0.9, 1.3]),
    )


def some_kind(rng):
    return str(rng.choice(["wav", "m4a", "mp3"]))


def rendered_bounces(rng):
    """Render a ball that bounces three times or more; None if it does not."""
    rebound, scatter = rng.uniform(0.3, 0.93), 0.018 * np.exp(0.5 * rng.standard_normal())
    slope = 0.2 * np.log(rebound) + 0.05 * rng.standard_normal()
    fall = rng.uniform(0.08, 0.5)
    speeds, times, logs = [np.sqrt(2 * GRAVITY * fall)], [rng.uniform(0.3, 1.0)], []
    for _ in range(14):
        mean = np.log(rebound) + slope * np.log(speeds[-1])
        once = np.exp(mean + min(scatter, 0.05) * rng.standard_normal())
        up = min(once, 0.995) * speeds[-1]
        if 2 * up / GRAVITY < SHORT:
            break
        logs.append(mean)
        times.append(times[-1] + 2 * up / GRAVITY)
        speeds.append(up)
    if len(times) < 3:
        return None
    sound = bouncing_sound(
        times,
        np.array(speeds) ** 1.2,
        rng,
        room=some_room(rng),
        lasting=rng.uniform(0.004, 0.04),
        ringing=rng.uniform(400.0, 9000.0, 5),
    )
    file = stored(sound, some_kind(rng))
    return Bounce(rebound, fall, file, np.array(times), logs[1:])


def bounced_set(count, seed):
    """Return true and heard restitution, intervals, and how many files gave no train."""
    rng, rows, silent = np.random.default_rng(seed), [], 0
    while len(rows) + silent < count:
        made = rendered_bounces(rng)
        if made is None:
            continue
        try:
            heard = bounces(hear_clicks(read_sound(made.file)).train)
        except ValueError:
            silent += 1
            continue
        truth = np.exp(np.mean(made.logs[: heard.each.size]))
        rows.append(
            (truth, heard.restitution, *heard.interval, made.fall, *heard.fall_interval)
        )
    return np.array(rows), silent


def some_tapped(shape, rng):
    """Return something of glass to tap, and its true modulus [Pa]."""
    modulus, density = rng.uniform(62e9, 82e9), rng.uniform(2400.0, 2600.0)
    length, width, thickness = {
        "bar": lambda: (rng.uniform(0.12, 0.35), rng.uniform(0.015, 0.04), None),
        "rod": lambda: (rng.uniform(0.15, 0.3), rng.uniform(4e-3, 1e-2), 1.0),
        "disc": lambda: (rng.uniform(0.08, 0.2), 1.0, None),
        "pane": lambda: (rng.uniform(0.15, 0.35), None, None),
    }[shape]()
    width = length * rng.choice([1.0, 1.0, 0.8, 0.6]) if width is None else width
    thickness = rng.uniform(3e-3, 7e-3) if thickness is None else thickness
    volume = {
        "rod": np.pi / 4 * width**2 * length,
        "disc": np.pi / 4 * length**2 * thickness,
    }.get(shape, length * width * thickness)
    tapped = Tapped(
        shape=shape,
        length=length,
        width=width,
        thickness=1e-3 if shape == "rod" else thickness,
        mass=density * volume,
        poisson=rng.uniform(0.2, 0.24),
    )
    return tapped, modulus


def carried_air(true):
    """Return the air that swings along at most, over the mass."""
    if true.shape in ("bar", "rod"):
        return 1.2 * np.pi / 4 * true.width**2 * true.length / true.mass
    half = 0.5 * true.length
    if true.shape == "disc":
        return 2.4 / (np.sqrt(5.6) / half) * np.pi * half**2 / true.mass
    factor = free_pane_factors(true.length / true.width, true.poisson)[0]
    return 2.4 / (np.sqrt(factor) / true.length) * true.length * true.width / true.mass


def rendered_ring(true, modulus, rng):
    """Return the file of something tapped, and its true pitch and friction."""
    pitches = expected_pitches(true, modulus)
    pitches = pitches / np.sqrt(1.0 + rng.uniform() * carried_air(true))
    if true.shape in ("disc", "pane"):
        pitches = np.hypot(pitches, rng.uniform(0.0, 15.0))
    pitches = pitches * (1.0 + rng.uniform(-1e-3, 1e-3))
    if true.shape in ("bar", "rod"):
        pitches = pitches[0] * np.array([1.0, 2.73, 5.3, rng.uniform(1.5, 2.4)])
    pitches = pitches[pitches < 11_000.0]
    friction = 10 ** rng.uniform(-3.3, -2.2, pitches.size)
    sound = ringing_sound(
        pitches,
        np.pi * pitches * friction,
        10 ** rng.uniform(-0.7, 0.0, pitches.size),
        rng,
        taps=0.4 + 1.2 * np.arange(rng.integers(1, 4)),
        room=some_room(rng),
    )
    return stored(sound, some_kind(rng)), pitches[0], friction[0]


def rung_set(shape, count, seed):
    """Return true and heard modulus, interval, pitches, frictions; and files refused."""
    rng, rows, refused = np.random.default_rng(seed), [], 0
    for _ in range(count):
        true, modulus = some_tapped(shape, rng)
        file, pitch, friction = rendered_ring(true, modulus, rng)
        size = 0.02e-3 if shape == "rod" else 0.5e-3
        read = Tapped(
            shape=shape,
            length=true.length + rng.uniform(-0.5e-3, 0.5e-3),
            width=true.width + rng.uniform(-size, size),
            thickness=true.thickness + rng.uniform(-0.02e-3, 0.02e-3),
            mass=true.mass + rng.uniform(-0.5e-3, 0.5e-3),
        )
        try:
            ring = hear_ring(read_sound(file))
            found = rung(read, ring, likely_peaks(read, ring))
        except ValueError:
            refused += 1
            continue
        low, high = found.modulus.interval()
        heard = found.modulus.value.item(), low, high, pitch, found.frequencies[0]
        rows.append((modulus, *heard, friction, found.friction, found.friction_error))
    return np.array(rows), refused
