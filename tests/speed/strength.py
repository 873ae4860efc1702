# SPDX-License-Identifier: MIT
"""Time fits and pane strengths beside the obvious way: ``python tests/speed/strength.py``."""

from time import perf_counter

import numpy as np
from scipy.stats import weibull_min

from glasskit import crack, strength, stress

PROFILES = {
    "annealed 4 mm": stress.annealed(4e-3),
    "tempered 100 MPa, 6 mm": stress.tempered(100e6, 6e-3),
    "exchanged 400 MPa, 18 µm, 4 mm": stress.exchanged(400e6, 18e-6, 4e-3),
    "exchanged 700 MPa, 40 µm, 4 mm": stress.exchanged(700e6, 40e-6, 4e-3),
}


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


def panes():
    """Break 100,000 panes of each kind by table, and 100 of them crack by crack."""
    flaws = strength.FlawPopulation(modulus=6.0, scale=74e6, area=0.01, toughness=0.75e6)
    depth = np.minimum(flaws.sample(100_000, np.random.default_rng(1)), 2e-3)
    order = np.argsort(depth)
    some = depth[order[np.linspace(0, depth.size - 1, 100, dtype=int)]]
    for name, profile in PROFILES.items():
        table, _ = timed(lambda p=profile: strength.pane_strength(p, depth, 0.75e6))
        direct, exact = timed(lambda p=profile: crack.breaking_stress(p, some, 0.75e6))
        both = np.concatenate([depth, some])
        got = strength.pane_strength(profile, both, 0.75e6)[depth.size :]
        loop = direct * depth.size / some.size
        error = np.abs(got - exact).max() / 1e6
        print(f"{name}: table {table * 1e3:.0f} ms, direct (from 100) {loop:.1f} s, ", end="")
        print(f"ratio {loop / table:.0f}, largest error {error:.4f} MPa")


if __name__ == "__main__":
    fits()
    panes()
