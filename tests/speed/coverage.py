# SPDX-License-Identifier: MIT
"""Count how often intervals hold the truth: ``python tests/speed/coverage.py [sets]``.

Bars that break from the edge (modulus 8, scale 70 MPa) or the face (5, 85 MPa), the weaker
flaw winning; of a share of them the origin is not known. Only sets with five known breaks of
each kind count, as the reduction of a series asks. Then two lots of one kind of flaw:
how often the intervals of their ratios hold, and lots of the planned size show a ratio of 1.1.
Half an hour for 2,000 sets.
"""

import sys

import numpy as np

from glasskit import strength

KINDS = {"edge": (8.0, 70e6), "face": (5.0, 85e6)}
LEAST = 5


def drawn(rng, count, unknown):
    """Return strengths and where each may have broken from each kind."""
    while True:
        each = np.stack([scale * rng.weibull(m, count) for m, scale in KINDS.values()])
        own = each.argmin(0) == np.arange(len(KINDS))[:, None]
        lost = rng.random(count) < unknown
        if (own & ~lost).sum(-1).min() >= LEAST:
            return each.min(0), own | lost


def masked(sets, count, unknown, seed=1):
    """Print how often 95 % intervals hold modulus and scale, and the edge's as a survivor."""
    rng = np.random.default_rng(seed)
    held = np.zeros((2, 2))
    survivor, off = 0, []
    for _ in range(sets):
        values, may = drawn(rng, count, unknown)
        for at, (fit, (m, scale)) in enumerate(
            zip(strength.fit_masked(values, may), KINDS.values(), strict=True)
        ):
            ends = fit.interval(), fit.scale_interval()
            held[at] += [a < true < b for (a, b), true in zip(ends, (m, scale), strict=True)]
            if at == 0:
                off.append(fit.scale / scale)
        wrong = strength.fit_weibull(values, ~may[0] | may[1])
        low, high = wrong.scale_interval()
        survivor += low < KINDS["edge"][1] < high
    shares = " ".join(f"{100 * share / sets:5.1f}" for share in held.ravel())
    print(
        f"{count:4d} {100 * unknown:4.0f} %   {shares}   {np.median(off):.3f}   "
        f"{100 * survivor / sets:5.1f}",
        flush=True,
    )


def ratios(sets, first, second, seed=1):
    """Print how often 95 % intervals hold the ratios of scales (1.1) and moduli (1.5)."""
    rng = np.random.default_rng(seed)
    held = np.zeros(2)
    for _ in range(sets):
        lots = (
            strength.fit_weibull(rng.weibull(6.0, first)),
            strength.fit_weibull(1.1 * rng.weibull(9.0, second)),
        )
        ends = strength.scale_ratio(*lots), strength.modulus_ratio(*lots)
        held += [a < true < b for (a, b), true in zip(ends, (1.1, 1.5), strict=True)]
    scale, modulus = 100 * held / sets
    print(f"{first:4d} {second:3d}   {scale:5.1f}   {modulus:5.1f}", flush=True)


def shown(sets, modulus, seed=1):
    """Print how often lots of `lot_size` show that their scales are 1.1 apart: 80 asked."""
    rng = np.random.default_rng(seed)
    count = int(strength.lot_size(1.1, modulus))
    found = 0
    for _ in range(sets):
        lots = (
            strength.fit_weibull(scale * rng.weibull(modulus, count)) for scale in (1.0, 1.1)
        )
        found += strength.scale_ratio(*lots)[0] > 1
    print(f"modulus {modulus:4.0f}, {count:3d} each: {100 * found / sets:5.1f}", flush=True)


if __name__ == "__main__":
    sets = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    print("   n unknown edge m scale face m scale   edge/true  edge scale as a survivor")
    for count, unknown in ((30, 0.0), (30, 0.2), (30, 0.4), (20, 0.2)):
        masked(sets, count, unknown)
    print("   n   n   scales  moduli")
    for first, second in ((10, 10), (30, 30), (30, 10)):
        ratios(sets, first, second)
    print("shows a ratio of 1.1")
    for modulus in (5, 10, 20):
        shown(sets // 4, modulus)
