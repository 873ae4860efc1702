# SPDX-License-Identifier: MIT
"""The weight function of a plate beside an integral equation that shares no code with it."""

from functools import cache

import numpy as np
import pytest
from dislocations import edge_crack

from glasskit import crack

SOURCE = "singular integral equation of the cracked plate, 200 points"
RATIOS = (0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6)
# Stress on the line of the crack: place over depth, depth over thickness.
REFERENCE = {
    "1": lambda z, r: np.ones_like(z),
    "z": lambda z, r: z,
    "z^2": lambda z, r: z**2,
}
NOT_FITTED = {
    "(1-z)^2": lambda z, r: (1 - z) ** 2,
    "z^3": lambda z, r: z**3,
    "z^4": lambda z, r: z**4,
    "exp(-5z)": lambda z, r: np.exp(-5 * z),
    "exp(-10z)": lambda z, r: np.exp(-10 * z),
    "bending": lambda z, r: 1 - 2 * r * z,
    "tempered": lambda z, r: 6 * r * z * (1 - r * z) - 1,
}
LOADS = REFERENCE | NOT_FITTED


@cache
def independent(ratio):
    """Return K/(stress sqrt(pi a)) for all loads by the integral equation."""
    pulls = [lambda z, load=load: load(z, ratio) for load in LOADS.values()]
    return dict(zip(LOADS, edge_crack(pulls, ratio), strict=True))


def ours(name, ratio):
    """Return the same from the weight function."""
    thickness = 1 / ratio if ratio else np.inf
    return crack.stress_intensity(lambda z: LOADS[name](z, ratio), 1.0, thickness) / np.sqrt(
        np.pi
    )


@pytest.mark.parametrize(
    ("power", "exact"),
    [("1", 1.121522), ("z", 0.682863), ("z^3", 0.440977), ("z^4", 0.386824)],
)
def test_the_integral_equation_and_ours_give_the_half_plane(outside, power, exact):
    known = {"source": "Koiter 1965; Tada, Paris & Irwin", "status": "common practice"}
    # Tolerance: of the uniform pull 2e-5 at 200 points, of the others 1e-6.
    outside(f"integral equation, {power}", independent(0.0)[power], exact, rel=2e-5, **known)
    outside(f"weight function, {power}", ours(power, 0.0), exact, rel=5e-5, **known)


@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("name", REFERENCE)
def test_reference_loads_in_a_plate(outside, name, ratio):
    outside(
        f"edge crack in a plate, {name}, a/t = {ratio}",
        ours(name, ratio),
        independent(ratio)[name],
        rel=6e-4,
        source=SOURCE,
        status="independent method",
    )


@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("name", NOT_FITTED)
def test_loads_that_were_not_fitted(outside, name, ratio):
    # Tolerance: 0.2 %; of the tempered pane, whose skin and core nearly cancel at 0.6, a
    # thousandth of the largest reference.
    scale = abs(independent(ratio)["1"]) if name == "tempered" else 0.0
    wanted = independent(ratio)[name]
    outside(
        f"edge crack in a plate, {name}, a/t = {ratio}",
        ours(name, ratio),
        wanted,
        abs_=max(2e-3 * abs(wanted), 1e-3 * scale),
        source=SOURCE,
        status="independent method",
    )
