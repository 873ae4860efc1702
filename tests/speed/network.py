# SPDX-License-Identifier: MIT
"""How fast a flat glass finds its rest: ``python tests/speed/network.py``.

Each way is timed beside ours in the same run, because only ratios carry over to another
machine: sparse against dense factors, and exact slopes against numerical ones.
"""

import time

import numpy as np
from scipy.optimize import minimize

from glasskit import network
from glasskit.network.springs import gradient, hessian, pull


def best(work, rounds=5):
    """Return the shortest time of some rounds [s], and the last result."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        result = work()
        times.append(time.perf_counter() - start)
    return min(times), result


def numerical_gradient(pairs, places, step=1e-6):
    """Return the slope of the energy by moving every point a little, both ways."""
    slope = np.zeros_like(places)
    for index in np.ndindex(places.shape):
        moved = places.copy()
        for sign in (1, -1):
            moved[index] = places[index] + sign * step
            slope[index] += sign * pull(pairs, moved).energy / (2 * step)
    return slope


def by_bfgs(pairs, start):
    """Find rest by a limited-memory optimiser with the exact gradient."""

    def energy(unknowns):
        places = start.copy()
        places[pairs.free] = unknowns.reshape(-1, 2)
        now = pull(pairs, places)
        return now.energy, gradient(now, len(places))[pairs.free].ravel()

    options = {"maxiter": 20000, "maxfun": 20000, "maxcor": 30, "ftol": 1e-14, "gtol": 1e-7}
    unknowns = start[pairs.free].ravel()
    return minimize(energy, unknowns, jac=True, method="L-BFGS-B", options=options)


def main():
    """Time and print."""
    making, glass = best(lambda: network.make(sites=1000, seed=1), 3)
    swapped = network.swap(glass, "K")
    start = swapped.positions / network.BOND
    points = len(start)
    print(f"{glass.formers} formers, {points} points, {2 * len(glass.pairs.free)} unknowns")
    print(f"make, at rest and unsqueezed   {1e3 * making:8.1f} ms")
    relaxing, after = best(lambda: network.relax(swapped))
    print(f"relax after a swap             {1e3 * relaxing:8.1f} ms   (goal: under 1000)")
    reading, _ = best(lambda: network.layer_stress(glass, after))
    print(f"read the layers                {1e3 * reading:8.1f} ms")
    small = network.make(sites=400, seed=1)
    step, _ = best(
        lambda: network.layer_stress(small, network.relax(network.swap(small, "K")))
    )
    print(f"one slider step, 400 formers   {1e3 * step:8.1f} ms   (goal: under 100)")

    other, result = best(lambda: by_bfgs(swapped.pairs, start), 1)
    print(f"relax by L-BFGS-B              {1e3 * other:8.1f} ms   {other / relaxing:7.1f} x")
    gap = result.fun - pull(after.pairs, after.positions / network.BOND).energy
    print(f"  its energy above ours        {gap:8.1e}")

    now = pull(swapped.pairs, start)
    exact, slope = best(lambda: gradient(pull(swapped.pairs, start), points))
    rough, numerical = best(lambda: numerical_gradient(swapped.pairs, start), 1)
    print(f"exact gradient                 {1e3 * exact:8.2f} ms")
    print(f"numerical gradient             {1e3 * rough:8.1f} ms   {rough / exact:7.0f} x")
    print(f"  largest difference           {np.abs(slope - numerical).max():8.1e}")

    free, force = small.pairs.free, np.ones(2 * len(small.pairs.free))
    now = pull(small.pairs, small.positions / network.BOND)
    matrix = hessian(now, free, len(small.positions))
    dense = matrix.toarray()
    few, _ = best(lambda: network.relax(network.swap(small, "K")))
    one, _ = best(lambda: np.linalg.solve(dense, force), 2)
    print(f"whole sparse relax, 400 formers{1e3 * few:8.1f} ms")
    print(f"one dense Newton step          {1e3 * one:8.1f} ms   {one / few:7.1f} x")


if __name__ == "__main__":
    main()
