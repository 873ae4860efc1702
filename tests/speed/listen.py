# SPDX-License-Identifier: MIT
"""Hear two hundred invented recordings of each kind: error, coverage, time.

    python tests/speed/listen.py [count]

CI hears a smaller sample of the same recordings.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from measured.heard import bounced_set, rung_set

from glasskit.measured import bouncing_sound, hear_clicks, hear_ring, read_sound, stored

LINE = "{:8} {:4d} heard, {:3d} refused: bias {:+.4f}, spread {:.4f}, middle error {:.4f}, "


def covered(truth, low, high):
    return np.mean((low <= truth) & (truth <= high))


def report(what, rows, refused, truth, heard, low, high, seconds):
    off = np.log(heard / truth)
    errors = off.mean(), off.std(), np.median(np.abs(off))
    share = f"in the interval {covered(truth, low, high):.3f}, {seconds:.0f} s in all"
    print(LINE.format(what, len(rows), refused, *errors) + share)


def main(count):
    start = time.perf_counter()
    rows, refused = bounced_set(count, seed=11)
    parts = rows.T
    report("bounces", rows, refused, *parts[:4], time.perf_counter() - start)
    print(f"{'':8} first fall in its interval: {covered(*parts[4:7]):.3f}")
    for shape in ("bar", "rod", "disc", "pane"):
        start = time.perf_counter()
        rows, refused = rung_set(shape, count, seed=11)
        parts = rows.T
        report(shape, rows, refused, *parts[:4], time.perf_counter() - start)
        friction = covered(parts[6], parts[7] - 2 * parts[8], parts[7] + 2 * parts[8])
        print(f"{'':8} internal friction within twice its uncertainty: {friction:.3f}")
    rng = np.random.default_rng(1)
    clicks = 1.0 + np.cumsum(0.4 * 0.9 ** np.arange(20))
    file = stored(bouncing_sound([*clicks, 29.4], 1.0, rng), "m4a")
    start = time.perf_counter()
    sound = read_sound(file)
    read = time.perf_counter()
    hear_clicks(sound)
    heard = time.perf_counter()
    hear_ring(sound)
    rung = time.perf_counter()
    print(
        f"a recording of {sound.duration:.0f} s: read in {read - start:.2f} s, clicks heard "
        f"in {heard - read:.2f} s, ringing in {rung - heard:.2f} s"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
