# SPDX-License-Identifier: MIT
"""Time the odds beside a loop over panes: ``python tests/speed/demonstration.py``."""

from time import perf_counter

import numpy as np

from glasskit import crack
from glasskit.crack.growth import quick_strength
from glasskit.demonstration import chances, plan, rigs
from glasskit.demonstration.breaking import break_chance
from glasskit.demonstration.worlds import learned
from glasskit.impact import Pane
from glasskit.materials import glass, solid

PANE = Pane(
    length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    support_stiffness=1.2e7, damping=0.05,
)  # fmt: skip
BALL = rigs.DroppedBall(mass=0.227, solid=solid("steel"))
HEIGHTS = np.geomspace(0.05, 5.0, 40)
SOME = 300  # panes of the loop


def odds(specimen):
    """Return its odds in worlds of its own."""
    worlds = chances.worlds_of([specimen.name], BALL, learned())
    return chances.odds_in(worlds, specimen, BALL, HEIGHTS)


def timed(call):
    """Return the time of one call [s], and its result."""
    start = perf_counter()
    result = call()
    return perf_counter() - start, result


def loop(specimen, panes):
    """Strike panes one by one from every height, each crack solved for by itself."""
    blow = BALL.blow(specimen.pane, HEIGHTS)
    squeeze = -specimen.profile.surface if specimen.kind != "annealed" else 0.0
    rng = np.random.default_rng(0)
    broken = np.zeros(HEIGHTS.size)
    for _ in range(panes):
        strength = rng.weibull(specimen.flaws.modulus)
        for place, tension in enumerate(blow.stress):
            if tension <= squeeze:
                continue
            area = BALL.area(specimen.pane, HEIGHTS[place], 6.0, squeeze).item()
            flaws = specimen.flaws
            slow = flaws.scale * (flaws.area / area) ** (1 / flaws.modulus) * strength
            quick = quick_strength(slow, blow.pulse[place])
            depth = crack.griffith_depth(quick, specimen.flaws.toughness)
            borne = crack.breaking_stress(specimen.profile, depth, specimen.flaws.toughness)
            broken[place] += tension >= borne.item()
    return broken / panes


def main():
    """Print time, ratio and agreement for each kind of pane, and the time of a plan."""
    print(f"{chances.COUNT:,} worlds, {HEIGHTS.size} heights")
    for kind in ("annealed", "toughened"):
        specimen = getattr(rigs, kind)(kind, PANE)
        first, _ = timed(lambda s=specimen: odds(s))
        again, _ = timed(lambda s=specimen: odds(s))
        slow, share = timed(lambda s=specimen: loop(s, SOME))
        apart = np.abs(share - break_chance(specimen, BALL, HEIGHTS, {})[0]).max()
        slow *= chances.COUNT
        print(
            f"{kind}: first {first:.2f} s, blows known {again:.2f} s; loop of {SOME} panes in "
            f"each world {slow:.0f} s, ratio {slow / first:.0f} and {slow / again:.0f}; apart "
            f"{apart:.3f}"
        )
    for strong in (rigs.chemically, rigs.toughened):
        panes = [rigs.annealed("ordinary", PANE), strong("strong", PANE)]
        spent, made = timed(lambda p=panes: plan(p, BALL, 6))
        print(f"plan with {strong.__name__} panes: {spent:.2f} s, window {made.window}")


if __name__ == "__main__":
    main()
