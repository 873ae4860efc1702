# SPDX-License-Identifier: MIT
"""Ask what the planner's promises are worth: ``python tests/speed/promises.py [part ...]``.

Parts: ``plans`` (the show of two 300 mm panes of 4 mm over ten seeds), ``left_out`` (every
known drop predicted from all the others), ``kept`` (of promises of 80 %, how many simulated
worlds keep them, inside and outside of what is believed), ``log`` (how often the band of nine
in ten after a log holds the truth), ``times``. Without a part, all; some minutes.
"""

import sys
from datetime import date
from time import perf_counter

import numpy as np

from glasskit.demonstration import (
    DroppedBall,
    Entry,
    annealed,
    break_chance,
    moved,
    odds_in,
    plan,
    rights,
    told,
    toughened,
    worlds_of,
)
from glasskit.demonstration.worlds import learned
from glasskit.impact import Pane
from glasskit.materials import glass, solid
from glasskit.words.known import left_out_table

PANE = Pane(
    length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    support_stiffness=1.2e7, damping=0.05,
)  # fmt: skip
PLAIN = annealed("ordinary", PANE)
BALL = DroppedBall(mass=0.227, solid=solid("steel"))
HEIGHTS = np.geomspace(0.1, 5.0, 30)
DAY = date(2024, 5, 4)


def kinds(compression):
    return [PLAIN, toughened("toughened", PANE, compression)]


def plans():
    """Print window, chance of a show and panes to bring, and their spread over ten seeds."""
    for mass in (0.227, 0.5):
        ball = DroppedBall(mass=mass, solid=solid("steel"))
        for compression in (100e6, 120e6, 150e6):
            made = [plan(kinds(compression), ball, 6, seed=seed) for seed in range(10)]
            lows, highs = zip(*(one.window or (np.nan, np.nan) for one in made), strict=True)
            joint = [one.joint for one in made]
            bring = [tuple(item.bring for item in one.prospects) for one in made]
            known = [tuple(item.bring_if_known for item in one.prospects) for one in made]
            sure = [one.suffices for one in made]
            print(
                f"{1000 * mass:.0f} g, {compression / 1e6:.0f} MPa: window "
                f"{np.mean(lows):.2f} ({np.ptp(lows):.2f}) to {np.mean(highs):.2f} "
                f"({np.ptp(highs):.2f}) m; advised {sorted({one.height for one in made})} m; "
                f"a show {np.mean(joint):.3f} ({np.ptp(joint):.3f}); bring "
                f"{sorted(set(bring), key=str)}, once known {sorted(set(known))}; suffice "
                f"{np.mean(sure):.3f} ({np.ptp(sure):.3f}); kept "
                f"{np.mean([one.kept for one in made]):.2f}"
            )


def truths(worlds, rng, count):
    """Return numbers of worlds, chosen at random."""
    return rng.choice(len(worlds.white), count, replace=False)


def kept():
    """Print the share of worlds that keep a promise of 80 %, and what they keep on average."""
    panes = kinds(120e6)
    made = plan(panes, BALL, 6)
    shown = [made.height, made.surest]
    for name, change in {
        "as believed": {},
        "a third stronger flaws in both lots": {"lot strength": 1.33},
        "a third weaker": {"lot strength": 1 / 1.33},
        "blow a quarter harder": {"theory of the blow": 1.25},
        "blow a quarter softer": {"theory of the blow": 0.8},
        "no healing": {"healing": 1 / 1.6},
        "scatter twice as wide": {"lot scatter": 0.5},
    }.items():
        worlds = worlds_of([pane.name for pane in panes], BALL, learned(), seed=77)
        for height in shown:
            right = []
            for pane in panes:
                factors = worlds.factors(pane.name)
                factors |= {key: factors[key] * value for key, value in change.items()}
                chance = break_at(pane, height, factors)
                right.append(rights(pane, chance))
            mean = [item.mean() for item in right]
            each = [(item >= 0.8).mean() for item in right]
            both = np.mean((right[0] >= 0.8) & (right[1] >= 0.8))
            print(
                f"{name}, {height:.2f} m: right on average {mean[0]:.2f} and {mean[1]:.2f}, a "
                f"show {np.mean(right[0] * right[1]):.2f}; worlds with 80 % or more "
                f"{each[0]:.2f} and {each[1]:.2f}, both {both:.2f}"
            )


def break_at(pane, height, factors):
    return break_chance(pane, BALL, np.array([height]), factors)[:, 0]


def rehearsed(series=24, panes=12):
    """Print what a plan keeps that was made after rehearsals of the very lot."""
    rng = np.random.default_rng(5)
    pair = kinds(120e6)
    worlds = worlds_of([pane.name for pane in pair], BALL, learned(), seed=99)
    got = []
    for world in truths(worlds, rng, series):
        curve = {p.name: odds_in(worlds, p, BALL, HEIGHTS).chances[world] for p in pair}
        log, made = [], plan(pair, BALL, 6)
        for _ in range(panes // 3):
            for _ in range(3):
                blow = made.next_blow
                chance = np.interp(blow.height, HEIGHTS, curve[blow.kind])
                log.append(entry(blow.kind, blow.height, rng.random() < chance))
            made = plan(pair, BALL, 6, log=log)
        right = [rights(p, np.interp(made.height, HEIGHTS, curve[p.name])) for p in pair]
        got.append((made.window is not None, made.joint, np.prod(right), min(right) >= 0.8))
    window, said, true, met = np.array(got, float).T
    print(
        f"after {panes} rehearsals: window in {window.mean():.2f}; a show said "
        f"{said.mean():.2f}, true {true.mean():.2f}; both 80 % or more in {met.mean():.2f}, "
        f"of those with a window {met[window > 0].mean():.2f}"
    )


def entry(pane, height, broke):
    return Entry(date=DAY, pane=pane, height=float(height), broke=bool(broke))


def log(series=30):
    """Print how often the band of nine in ten holds the truth, for truths near and far."""
    rng = np.random.default_rng(8)
    before = worlds_of(["ordinary", "toughened"], BALL, learned(), count=1024, seed=3)
    pair = kinds(120e6)
    model = odds_in(worlds_of(["ordinary"], BALL, learned(), seed=55), PLAIN, BALL, HEIGHTS)
    asked = np.array([0.5, 0.8, 1.2, 2.0])

    def inside(world):
        chance = model.chances[world]
        return lambda height: np.interp(height, HEIGHTS, chance)

    def weibull(middle, slope):
        return lambda height: -np.expm1(-((height / middle) ** slope))

    def two(height):
        return (weibull(0.3, 3)(height) + weibull(1.5, 3)(height)) / 2

    for name in ("inside", "far stronger", "two suppliers"):
        for count in (3, 10, 30, 100):
            held, noticed = [], []
            for _ in range(series):
                truth = {
                    "inside": inside(rng.integers(len(model.chances))),
                    "far stronger": weibull(2.5, 3),
                    "two suppliers": two,
                }[name]
                falls = rng.choice([0.3, 0.5, 0.8, 1.2, 2.0, 3.0], count)
                lines = [entry("ordinary", h, rng.random() < truth(h)) for h in falls]
                after = told(before, pair, BALL, lines)
                odds = odds_in(after.worlds, PLAIN, BALL, HEIGHTS)
                bands = [(np.quantile(odds.at(h), (0.05, 0.95)), truth(h)) for h in asked]
                held.append([low <= true <= high for (low, high), true in bands])
                noticed.append(bool(after.mixed))
            shares = ", ".join(f"{share:.2f}" for share in np.mean(held, axis=0))
            print(
                f"{name}, {count} panes: band holds the truth at {asked} m in {shares}; "
                f"said to be two lots in {np.mean(noticed):.2f}",
                flush=True,
            )


def times():
    """Print how long the plan of the example takes, the first time and when moved."""
    start = perf_counter()
    made = plan(kinds(100e6), BALL, 6)
    first = perf_counter() - start
    start = perf_counter()
    moved(made, 1.4)
    print(f"plan {first:.2f} s, another height {perf_counter() - start:.3f} s")


def left_out():
    """Print every known drop as predicted from all others."""
    print(left_out_table())


PARTS = {
    "times": times, "plans": plans, "left_out": left_out, "kept": kept,
    "rehearsed": rehearsed, "log": log,
}  # fmt: skip

if __name__ == "__main__":
    for part in sys.argv[1:] or PARTS:
        PARTS[part]()
