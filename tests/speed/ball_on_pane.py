# SPDX-License-Identifier: MIT
"""Print how long fifty drop heights take, together and one by one, and a single blow."""

import time
import warnings

import numpy as np

from glasskit.impact import Pane, ball_of_mass, ball_on_pane, drop_speed
from glasskit.materials import glass, solid

PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
BALL = ball_of_mass(0.227, solid("steel"))
SPEEDS = drop_speed(np.linspace(0.05, 2.0, 50))


def seconds(work, repeats=3):
    """Return the shortest of several runs."""
    best = np.inf
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def main():
    """Print the three times."""
    warnings.simplefilter("ignore")  # high drops bend the pane beyond the linear theory
    sweep = seconds(lambda: ball_on_pane(BALL, PANE, SPEEDS))
    one = seconds(lambda: ball_on_pane(BALL, PANE, SPEEDS[25]))
    each = seconds(lambda: [ball_on_pane(BALL, PANE, speed) for speed in SPEEDS], repeats=1)
    print(
        f"50 heights together {sweep:.2f} s; one by one {each:.2f} s, {each / sweep:.0f} times"
    )
    print(f"one height {1e3 * one:.0f} ms")


if __name__ == "__main__":
    main()
