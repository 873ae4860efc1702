# SPDX-License-Identifier: MIT
"""Time the odds beside a loop over panes: ``python tests/speed/demonstration.py``."""

from time import perf_counter

import numpy as np

from glasskit import crack
from glasskit.demonstration import HEIGHTS, chances, inputs, plan, rigs
from glasskit.impact import Pane
from glasskit.materials import glass, solid

PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
BALL = rigs.DroppedBall(mass=0.227, solid=solid("steel"))
SOME = 300  # panes of the loop


def timed(call):
    """Return the time of one call [s], and its result."""
    start = perf_counter()
    result = call()
    return perf_counter() - start, result


def loop(specimen, panes):
    """Strike panes one by one from every height, each crack solved for by itself."""
    blow = BALL.blow(specimen.pane, HEIGHTS)
    flaws = specimen.flaws.for_area(BALL.area(specimen.pane, blow, 6.0).item())
    rng = np.random.default_rng(0)
    broken = np.zeros(HEIGHTS.size)
    for _ in range(panes):
        slow = flaws.scale * rng.weibull(flaws.modulus)
        depth = crack.griffith_depth(inputs.short_load() * slow, flaws.toughness)
        borne = crack.breaking_stress(specimen.profile, depth, flaws.toughness).item()
        for place, tension in enumerate(blow.stress):
            broken[place] += tension >= borne
    return broken / panes


def main():
    """Print time, ratio and agreement for each kind of pane, and the time of a plan."""
    print(f"{chances.SETS * chances.PANES:,} panes, {HEIGHTS.size} heights")
    for kind in ("annealed", "toughened", "chemically"):
        specimen = getattr(rigs, kind)(kind, PANE)
        first, _ = timed(lambda s=specimen: chances.odds(s, BALL, HEIGHTS))
        again, _ = timed(lambda s=specimen: chances.odds(s, BALL, HEIGHTS))
        slow, share = timed(lambda s=specimen: loop(s, SOME))
        slow *= chances.SETS * chances.PANES / SOME
        apart = np.abs(share - chances.chosen_odds(specimen, BALL, HEIGHTS)).max()
        print(
            f"{kind}: first {first:.2f} s, blows known {again:.2f} s; loop (from {SOME}) "
            f"{slow:.0f} s, ratio {slow / first:.0f} and {slow / again:.0f}; apart {apart:.3f}"
        )
    for strong in (rigs.chemically, rigs.toughened):
        panes = [rigs.annealed("ordinary", PANE), strong("strong", PANE)]
        spent, made = timed(lambda p=panes: plan(p, BALL, 6))
        print(f"plan with {strong.__name__} panes: {spent:.2f} s, window {made.window}")


if __name__ == "__main__":
    main()
