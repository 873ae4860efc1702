# SPDX-License-Identifier: MIT
"""Time one quench, against handing the same equations to a general stiff solver.

Run from the repository's root: ``python tests/speed/tempering.py``.
"""

import sys
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "toughening"))

from test_quenching import AIR, FLOAT, HOT, by_general_solver

from glasskit.toughening import cooling, quenching


def median_time(work, times):
    """Median seconds of some calls, after one to warm up."""
    work()
    spent = []
    for _ in range(times):
        begin = perf_counter()
        work()
        spent.append(perf_counter() - begin)
    return float(np.median(spent))


def main():
    usual = median_time(lambda: quenching.quench(6e-3, HOT, 200.0, FLOAT), 21)
    print(f"one quench as used (17 depths, 160 steps): {1e3 * usual:.1f} ms; goal 500 ms")

    run = cooling.cool_plate(6e-3, HOT, 200.0, AIR, nodes=9, steps=300)
    ours = median_time(
        lambda: quenching.freeze_in(
            cooling.cool_plate(6e-3, HOT, 200.0, nodes=9, steps=300), FLOAT
        ),
        11,
    )
    begin = perf_counter()
    theirs = by_general_solver(run.time, 200.0, 6e-3, 9)[-1, 0]
    general = perf_counter() - begin
    got = quenching.freeze_in(run, FLOAT).stress[-1, 0]
    print(f"nine depths, ours:                        {1e3 * ours:.1f} ms")
    print(f"nine depths, general stiff solver (BDF):  {1e3 * general:.0f} ms")
    print(f"ratio {general / ours:.0f}, surface stress alike to {abs(got / theirs - 1):.2%}")
    return 0 if usual < 0.5 and general > 3 * ours else 1


if __name__ == "__main__":
    sys.exit(main())
