# SPDX-License-Identifier: MIT
"""Time fits beside the obvious way: ``python tests/speed/strength.py``."""

from time import perf_counter

import numpy as np
from scipy.stats import weibull_min

from glasskit import strength


def timed(call):
    """Return the least of three times of one call [s], and its result."""
    times = []
    for _ in range(3):
        start = perf_counter()
        result = call()
        times.append(perf_counter() - start)
    return min(times), result


def fits():
    """Fit 2,000 sets of 30 at once, and 50 of them one by one with scipy."""
    sets = np.random.default_rng(1).weibull(7.0, (2_000, 30))
    together, fit = timed(lambda: strength.fit_weibull(sets))
    some = sets[:50]
    loop, by_scipy = timed(lambda: [weibull_min.fit(x, floc=0)[0] for x in some])
    loop *= len(sets) / len(some)
    apart = np.abs(fit.modulus[:50] / by_scipy - 1).max()
    print(f"fit of 2,000 sets of 30: {together * 1e3:.1f} ms")
    print(f"scipy, one by one (from 50): {loop:.1f} s, ratio {loop / together:.0f}")
    print(f"largest difference of the modulus {apart:.1e}")
    spent, _ = timed(lambda: fit.interval())
    print(f"their intervals of the modulus: {spent * 1e3:.0f} ms")
    spent, _ = timed(lambda: fit.quantile_interval(0.01))
    print(f"their intervals of the 1 % strength: {spent * 1e3:.0f} ms")


if __name__ == "__main__":
    fits()
