# SPDX-License-Identifier: MIT
"""Break panes by the hundred: ``python tests/speed/breaking.py [seeds]``.

Pieces against stress and thickness beside the published counts, with the spread from seed to
seed; speed of the front, length between forks and shares of sizes; what becomes of panes near
the boundary between cracks that stop, run on and split; rays of an ordinary pane against the
stress at the break; the time that a pane of 500 mm takes. A quarter of an hour for 200 seeds.
"""

import sys
import time

import numpy as np

from glasskit.breakage import SQUARE, Breakage, minimum_counts
from glasskit.breaking import Drive, blow_at, break_pane, usual_place
from glasskit.impact import Pane, ball_of_mass, ball_on_pane, drop_speed
from glasskit.materials import glass, solid
from glasskit.stress import annealed, exchanged, tempered

GLASS = glass("soda-lime")
SIDE = 0.2
PLACE = usual_place("edge", SIDE, SIDE)
SQUEEZES = {
    3e-3: (90e6, 115e6),
    4e-3: (80e6, 100e6, 120e6),
    6e-3: (70e6, 90e6, 110e6),
    10e-3: (60e6, 80e6, 100e6),
}


def counts(seeds):
    """Print pieces in a square, ours beside those by tension and the least asked for."""
    print(f"\npieces in {1e3 * SQUARE:g} mm by {1e3 * SQUARE:g} mm, {seeds} seeds")
    print("  mm  MPa   ours  spread  squares 5 to 95 %   by tension  band      asked  longest")
    for thickness, squeezes in SQUEEZES.items():
        for squeeze in squeezes:
            profile = tempered(squeeze, thickness)
            panes = [
                break_pane(profile, GLASS, SIDE, SIDE, place=PLACE, seed=seed)
                for seed in range(seeds)
            ]
            found = np.array([pane.pieces_in_square() for pane in panes])
            low, high = np.quantile(found, [0.05, 0.95])
            known = Breakage(profile=profile, glass=GLASS, way="quench")
            asked = sorted({row.count for row in minimum_counts(thickness)})
            band = "{:.0f} to {:.0f}".format(*known.count_range)
            print(
                f"{1e3 * thickness:4.0f} {squeeze / 1e6:4.0f} {found.mean():6.1f}"
                f" {found.mean(axis=1).std():6.1f} {low:8.1f} to {high:5.1f}"
                f" {known.count:11.1f}   {band:11s} {asked}"
                f" {1e3 * np.mean([pane.spans.max() for pane in panes]):6.0f} mm"
            )


def front(seeds):
    """Print how fast the front runs, how far apart forks are, and how sizes are shared."""
    speeds, forks, full, large = [], [], [], []
    for seed in range(seeds):
        pane = break_pane(tempered(90e6, 6e-3), GLASS, 0.3, 0.3, seed=seed)
        moment, reached = pane.arrivals
        middle = (reached > 0.03) & (reached < 0.14)
        speeds.append(np.polyfit(moment[middle], reached[middle], 1)[0])
        full.append(pane.over)
        long = np.bincount(pane.cracks, np.hypot(*(pane.ends - pane.starts).T))
        forked = np.unique(pane.parents[pane.parents >= 0])
        drive = Drive(profile=pane.profile, glass=GLASS)
        forks.append(np.median(long[forked]) / drive.branching(drive.net_tension()))
        large.append([(pane.areas > part * pane.areas.mean()).mean() for part in (1, 2, 3)])
    print(f"\n6 mm, 90 MPa, 300 mm wide, {seeds} seeds")
    print(f"speed of the front    {np.mean(speeds):6.0f} m/s, spread {np.std(speeds):.0f}")
    print(
        f"full of cracks after  {1e6 * np.mean(full):6.0f} µs, spread {1e6 * np.std(full):.0f}"
    )
    print(f"median run to a fork  {np.mean(forks):6.2f} times (A/tension)^2")
    shares = ", ".join(f"{100 * share:.1f} %" for share in np.mean(large, axis=0))
    exact = ", ".join(f"{100 * np.exp(-part):.1f} %" for part in (1, 2, 3))
    print(f"pieces over 1, 2, 3 mean areas: {shares}; exponential [Dawara2026]: {exact}")


def boundary(seeds):
    """Print what becomes of panes that pay for about one crack, or two."""
    print(f"\n6 mm and a cover glass, 300 mm wide, {seeds} seeds: pieces in the end")
    panes = [
        (f"{squeeze:3.0f} MPa", tempered(squeeze * 1e6, 6e-3), GLASS)
        for squeeze in (30, 36, 40, 45, 50, 54, 60)
    ]
    cover = exchanged(700e6, 40e-6, 0.7e-3)
    panes.append(("cover  ", cover, glass("aluminosilicate")))
    for name, profile, made_of in panes:
        found = [
            len(break_pane(profile, made_of, 0.3, 0.3, seed=seed).pieces)
            for seed in range(seeds)
        ]
        drive = Drive(profile=profile, glass=made_of)
        print(
            f"{name}: pays for {drive.given / drive.cost:4.2f}, pieces "
            f"{min(found)} to {max(found)}, mean {np.mean(found):.1f}"
        )


def rays(seeds):
    """Print the cracks of an ordinary pane against the stress at which it breaks."""
    print(f"\nordinary, 4 mm, 300 mm wide, {seeds} seeds: rays and pieces")
    pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=GLASS)
    ball = ball_of_mass(0.227, solid("steel"))
    knock = ball_on_pane(ball, pane, drop_speed(1.0), follow=1.2e-3)
    means = []
    stresses = np.array([50e6, 75e6, 100e6, 150e6, 200e6])
    for stress in stresses:
        blow = blow_at(knock, stress)
        broken = [
            break_pane(annealed(4e-3), GLASS, 0.3, 0.3, blow=blow, seed=seed)
            for seed in range(seeds)
        ]
        crossing = [one.rays(0.03) for one in broken]
        means.append(np.mean(crossing))
        pieces = np.mean([len(one.pieces) for one in broken])
        print(
            f"{stress / 1e6:4.0f} MPa: rays {np.mean(crossing):4.1f}, spread "
            f"{np.std(crossing):.1f}; pieces {pieces:.0f}"
        )
    power = np.polyfit(np.log(stresses), np.log(means), 1)[0]
    print(
        f"rays grow with the power {power:.2f} of the stress at the break; published is the "
        "power 0.5 of the speed of the blow, for thin plates [Vandenberghe2013]"
    )


def main():
    """Break and print."""
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    break_pane(tempered(90e6, 6e-3), GLASS, 0.1, 0.1)
    for squeeze, thickness in ((90e6, 6e-3), (100e6, 4e-3)):
        begun, spent = time.perf_counter(), time.process_time()
        pane = break_pane(tempered(squeeze, thickness), GLASS, 0.5, 0.5, seed=1)
        pieces = len(pane.pieces)
        print(
            f"500 mm, {1e3 * thickness:g} mm, {squeeze / 1e6:g} MPa: {pieces} pieces in "
            f"{time.perf_counter() - begun:.2f} s, {time.process_time() - spent:.2f} s of work"
        )
    front(seeds)
    boundary(seeds)
    rays(max(seeds // 4, 1))
    counts(seeds)


if __name__ == "__main__":
    main()
