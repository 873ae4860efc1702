# SPDX-License-Identifier: MIT
"""Time the salt bath against the plain ways to do the same; run with ``python``."""

from time import perf_counter

import numpy as np
from scipy.integrate import quad
from scipy.linalg import solve_banded

from glasskit.toughening import bath_glasses, interdiffusion, salt_bath

TIME, HOT, THICKNESS = 8 * 3600.0, 723.15, 1e-3


def seconds(work, repeats=5):
    """Return the shortest of a few runs."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return min(times)


def compare(name, fast, slow, repeats=3):
    quick, plain = seconds(fast), seconds(slow, repeats)
    print(
        f"{name}: {1e3 * quick:.2f} ms, plain way {1e3 * plain:.1f} ms, {plain / quick:.0f}x"
    )


def dense_solve(shape, bands, right):
    """Solve a tridiagonal system as if it were full."""
    full = np.diag(bands[1]) + np.diag(bands[0, 1:], 1) + np.diag(bands[2, :-1], -1)
    return np.linalg.solve(full, right)


def finite_volumes():
    spread = bath_glasses.diffusivity(HOT).item()
    interdiffusion.interdiffuse(TIME, spread, THICKNESS, mobility_ratio=5.0, cells=400)


def finite_volumes_dense():
    interdiffusion.solve_banded = dense_solve
    try:
        finite_volumes()
    finally:
        interdiffusion.solve_banded = solve_banded


def strained_closed():
    salt_bath.strained_share(np.linspace(1e-7, 40e-6, 100), TIME, HOT)


def strained_summed():
    spread, fade = (
        bath_glasses.diffusivity(HOT).item(),
        bath_glasses.relaxation_time(HOT).item(),
    )
    for depth in np.linspace(1e-7, 40e-6, 100):
        quad(
            lambda s, x=depth: (
                np.exp(-(x**2) / (4 * spread * s) - (TIME - s) / fade) * x / s**1.5
            ),
            0,
            TIME,
        )


HOURS = np.linspace(0.5, 48, 60) * 3600
HEAT = np.linspace(380, 500, 40)[:, None] + 273.15


def whole_map():
    salt_bath.trade_off(HOURS, HEAT, 3e-3)


def map_by_profiles():
    for hot in HEAT[::8, 0]:
        for time in HOURS[::6]:
            profile = salt_bath.residual_stress(time, hot, 3e-3)
            _ = profile.surface, profile.case_depth


if __name__ == "__main__":
    compare(
        "concentration-dependent plate, banded or dense", finite_volumes, finite_volumes_dense
    )
    compare("100 strained shares, closed form or summed", strained_closed, strained_summed)
    compare("map of 2400 baths (plain way: 50 of them)", whole_map, map_by_profiles)
