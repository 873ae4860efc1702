# SPDX-License-Identifier: MIT
"""Measure the whole way of a filmed fall against the truth: bias, spread, coverage.

``python tests/speed/filmed_falls.py 240`` draws that many films, each of another fall, camera
and light, finds the ball, fits the fall, and prints a table. The film is compressed, leans,
loses frames and reads its rows one after the other. The cameras drawn do not sharpen: how that
would move the edge of a ball is added to the widths found.
"""

import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from time import perf_counter

import numpy as np

from glasskit.measured import Ruler, film_fall, find_ball, fit_fall, track_ball
from glasskit.quantities import GRAVITY

RATES = (30.0, 60.0, 120.0, 240.0)
MARKS = 1.0  # standard deviation of where a reader puts a mark [px]
SHARPER = 0.1  # the same of how much wider a camera that sharpens shows a ball [px]


def drawn(seed):
    """Return a film and how its lengths are told."""
    rng = np.random.default_rng([seed, 17])
    rate = float(rng.choice(RATES))
    diameter = rng.uniform(0.025, 0.065)
    film = film_fall(
        rng,
        height=rng.uniform(0.5, 1.0),
        diameter=diameter,
        mass=rng.uniform(1200, 7800) * np.pi / 6 * diameter**3,
        restitution=rng.uniform(0.2, 0.85),
        rate=rate,
        slowed=8.0 if rate == 240 and rng.random() < 0.5 else 1.0,
        side=int(rng.choice([480, 640])),
        tall=bool(rng.random() < 0.6),
        turned=bool(rng.random() < 0.5),
        exposure=rng.uniform(0.001, 0.012),
        noise=rng.uniform(1, 6),
        quality=int(rng.integers(18, 30)),
        ball=str(rng.choice(["dark", "bright", "red"])),
    )
    ruler = None
    high = 480  # marks are put by eye
    if rng.random() < 0.5:
        upper, lower = np.array([film.upper, film.lower]) + MARKS / high * rng.normal(size=2)
        ruler = Ruler(upper=upper, lower=lower, distance=film.distance)
    return film, ruler, rng


def measured(seed):
    """Return name -> (found over true, low over true, high over true), or what went wrong."""
    film, ruler, rng = drawn(seed)
    diameter = film.diameter * (1 + 0.003 * rng.normal())
    try:
        seen = find_ball(film.file)
        sharper = SHARPER * np.random.default_rng([seed, 5]).normal()
        track = track_ball(replace(seen, width=seen.width + sharper))
        fall = fit_fall(track, diameter=diameter, mass=film.mass, ruler=ruler)
    except ValueError as fault:
        return seed, str(fault)
    true = {
        "height": film.height,
        "speed": film.speed,
        "free_fall": GRAVITY,
        "rebound": film.rebound,
        "restitution": film.restitution,
    }
    found = {"slowed": (fall.slowed / film.slowed, 1, 1)}
    if fall.touch == "last":  # height and speed are then those of a place still on the way
        del true["height"], true["speed"]
    for name, value in true.items():
        if (got := getattr(fall, name)) is not None:
            found[name] = tuple(np.array([got.value, got.low, got.high]) / value)
    got = fall.drag
    found["drag"] = (got.value / 0.47, got.low / 0.47, got.high / 0.47)
    return seed, found


def table(count, workers=2):
    """Return what was measured in so many films."""
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(measured, range(count), chunksize=4))


def main(count):
    """Print the table."""
    start = perf_counter()
    rows = table(count)
    lost = [(seed, got) for seed, got in rows if isinstance(got, str)]
    for seed, said in lost:
        print(f"film {seed}: {said}")
    good = [(seed, got) for seed, got in rows if not isinstance(got, str)]
    print(f"{count} films, {len(lost)} without a result, {perf_counter() - start:.0f} s")
    print("quantity       films   bias/%  spread/%  half interval/%  coverage/%")
    for name in ("height", "speed", "free_fall", "rebound", "restitution", "drag"):
        have = [(seed, got[name]) for seed, got in good if name in got]
        value, low, high = np.array([got for _, got in have]).T
        inside = (low <= 1) & (high >= 1)
        print(
            f"{name:12s} {len(have):7d} {100 * np.median(value - 1):8.2f}"
            f" {100 * 1.4826 * np.median(np.abs(value - np.median(value))):9.2f}"
            f" {100 * np.median(high - low) / 2:16.2f} {100 * inside.mean():11.1f}"
        )
        if "-v" in sys.argv:
            wide = (high - low) / 2
            print(
                "   out:",
                [
                    (seed, round(100 * float(v - 1), 2), round(100 * float(w), 2))
                    for (seed, _), v, w, ok in zip(have, value, wide, inside, strict=True)
                    if not ok
                ],
            )
    wrong = [
        (seed, got["slowed"][0]) for seed, got in good if abs(got["slowed"][0] - 1) > 1e-6
    ]
    print(f"slow motion told wrongly: {wrong}")
    missed = [seed for seed, got in good if "rebound" not in got]
    print(f"rebound not seen: {missed}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 240)
