# SPDX-License-Identifier: MIT
"""Count how often bench intervals hold: ``python tests/speed/bench_coverage.py [sets]``.

First every method of the laboratory, with one reading repeated two, three and five times and
all others off by a part of their tolerance: the interval to first order, and the simulated one
(a tenth of the sets). Then the mean of a lot, a reading by a new hand, and the kappa of two
readers (a tenth of the sets). Fits of series are counted in `coverage.py` and in `tests/lab`.
Half a minute for 20,000 sets.
"""

import sys
from pathlib import Path

import numpy as np
from scipy.special import stdtrit

sys.path.append(str(Path(__file__).parents[1]))

from benches import held

from glasskit.lab import (
    METHODS,
    agreement,
    gauge,
    grade_lot,
)


def lot(count, sets, rng):
    """Return how often the mean of a lot is held, instrument off by 2 MPa."""
    kept = 0
    for _ in range(sets):
        read = 72e6 + 3e6 * rng.standard_normal(count) + 2e6 * rng.standard_normal()
        low, high = grade_lot(read, "C1048", 2e6).interval
        kept += low <= 72e6 <= high
    return kept / sets


def anybody(hands, sets, rng):
    """Return how often a reading by a new hand, with the gauge's own scatter, holds a size."""
    kept = 0
    for _ in range(sets):
        study = rng.standard_normal((hands, 10, 2)) + 2 * rng.standard_normal((hands, 1, 1))
        found = gauge(study + 5 * rng.standard_normal((1, 10, 1)))
        read = found.input(rng.standard_normal() + 2 * rng.standard_normal())
        kept += abs(read.value) <= stdtrit(read.degrees, 0.975) * read.uncertainty
    return kept / sets


def readers(count, sets, rng):
    """Return how often kappa of two readers, right nine times in ten, is held."""
    kinds = np.array(["edge", "surface", "unknown"])
    shares = np.array([0.5, 0.4, 0.1])
    right = 0.9

    def read(true):
        other = rng.choice(3, true.size, p=shares)
        return np.where(rng.random(true.size) < right, true, other)

    kept = 0
    # Both keep the true word, or draw anew from the same shares: kappa is right squared.
    for _ in range(sets):
        true = rng.choice(3, count, p=shares)
        low, high = agreement(kinds[read(true)], kinds[read(true)]).interval()
        kept += low <= right**2 <= high
    return kept / sets


if __name__ == "__main__":
    sets = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    rng = np.random.default_rng(1)
    print("share of 95 % intervals that hold the truth / %")
    print(f"{'':22s} first order, one reading repeated   simulated")
    print(f"{'method':22s}      twice  three times       five      five times")
    for name in METHODS:
        first = [held(name, sets, rng, repeats=often) for often in (2, 3, 5)]
        drawn = held(name, sets // 10, rng, trials=1000, repeats=5)
        print(f"{name:22s} " + " ".join(f"{100 * one:10.1f}" for one in (*first, drawn)))
    few = sets // 10
    for words, count, share in (
        ("mean of a lot of pieces", 3, lot(3, few, rng)),
        ("mean of a lot of pieces", 5, lot(5, few, rng)),
        ("mean of a lot of pieces", 10, lot(10, few, rng)),
        ("reading, hands in study", 3, anybody(3, few, rng)),
        ("reading, hands in study", 6, anybody(6, few, rng)),
        ("kappa of two readers", 30, readers(30, few, rng)),
        ("kappa of two readers", 100, readers(100, few, rng)),
    ):
        print(f"{words:26s} {count:4d} {100 * share:8.1f}")
