# SPDX-License-Identifier: MIT
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize

from glasskit import network
from glasskit.network import Pairs
from glasskit.network.springs import gradient, hessian, pull, settle

SMALL = network.make(sites=60, seed=2)


def shaken(seed, size=0.05):
    """Small glass, pushed out of its rest."""
    rng = np.random.default_rng(seed)
    places = SMALL.positions / network.BOND
    return places + size * rng.standard_normal(places.shape)


@pytest.mark.parametrize("seed", range(3))
def test_gradient_is_the_slope_of_the_energy(outside, seed):
    places = shaken(seed)
    way = np.random.default_rng(100 + seed).standard_normal(places.shape)
    h = 1e-5
    ahead, behind = (pull(SMALL.pairs, places + s * h * way).energy for s in (1, -1))
    got = (gradient(pull(SMALL.pairs, places), len(places)) * way).sum()
    outside(
        f"slope of the energy along a random way, seed {seed}",
        got,
        (ahead - behind) / (2 * h),
        rel=1e-7,  # central difference: h^2 truncation, 1e-16/h rounding of energy 10 or so
        source="central difference of the energy",
        status="independent method",
    )


@pytest.mark.parametrize("seed", range(3))
def test_hessian_is_the_slope_of_the_gradient(seed):
    # Source: independent method, central difference of the gradient.
    # Tolerance: truncation h^2 times third derivatives of order 10.
    places, free = shaken(seed), SMALL.pairs.free
    way = np.zeros_like(places)
    way[free] = np.random.default_rng(100 + seed).standard_normal((len(free), 2))
    h, n = 1e-5, len(places)
    ahead, behind = (gradient(pull(SMALL.pairs, places + s * h * way), n) for s in (1, -1))
    got = hessian(pull(SMALL.pairs, places), free, n) @ way[free].ravel()
    slope = ((ahead - behind) / (2 * h))[free].ravel()
    assert got == pytest.approx(slope, abs=1e-7 * np.abs(slope).max())


def test_hessian_is_symmetric_and_its_convex_part_points_nowhere_uphill():
    places = shaken(1, size=0.3)
    now = pull(SMALL.pairs, places)
    true = hessian(now, SMALL.pairs.free, len(places)).toarray()
    convex = hessian(now, SMALL.pairs.free, len(places), convex=True).toarray()
    assert true == pytest.approx(true.T, abs=1e-14)
    assert np.linalg.eigvalsh(true).min() < -1e-3
    assert np.linalg.eigvalsh(convex).min() > -1e-12


def hexagon(reach):
    """Six points on springs round one ion, whose push they feel."""
    ring = np.arange(6)
    around = np.column_stack([ring, (ring + 1) % 6])
    pairs = Pairs(
        springs=around,
        rest=np.ones(6),
        stiffness=np.full(6, 0.7),
        contacts=np.column_stack([np.full(6, 6), ring]),
        reach=np.full(6, reach),
        contact_stiffness=0.2,
        softness=0.15,
        period=1e6,
        free=np.arange(1, 6),
    )
    turns = np.exp(1j * np.pi / 3 * ring)
    return pairs, np.append(np.column_stack([turns.real, turns.imag]), [[0.0, 0.0]], axis=0)


@pytest.mark.parametrize("reach", [0.7, 1.0, 1.4])
def test_ring_round_an_ion_opens_as_far_as_the_balance_of_forces_says(outside, reach):
    # Hand derivation: a regular hexagon of radius r has sides r, the pull of the two sides of
    #   a corner adds to 2 cos 60 deg * 0.7 (r - 1) inwards, the ion pushes outwards with
    #   0.2 * 0.15 exp(-(r - reach) / 0.15). Point 0 and the ion are held, so start there.
    def balance(radius):
        return 0.7 * (radius - 1) - 0.03 * np.exp(-(radius - reach) / 0.15)

    radius = brentq(balance, 0.9, 2.0, xtol=1e-14)
    pairs, places = hexagon(reach)
    places[0] = [radius, 0.0]
    rest = settle(pairs, places, tolerance=1e-12)
    outside(
        f"radius of a hexagon round an ion of reach {reach}",
        np.hypot(*rest[:6].T).mean(),
        radius,
        rel=1e-10,
        source="balance of forces on one corner, solved by brentq",
        status="independent method",
    )


@pytest.mark.parametrize("seed", range(3))
def test_rest_is_that_of_a_general_optimiser(outside, seed):
    start, free = shaken(seed, size=0.1), SMALL.pairs.free

    def energy(unknowns):
        places = start.copy()
        places[free] = unknowns.reshape(-1, 2)
        now = pull(SMALL.pairs, places)
        return now.energy, gradient(now, len(places))[free].ravel()

    options = {"maxiter": 20000, "maxfun": 20000, "ftol": 1e-15, "gtol": 1e-8}
    other = minimize(energy, start[free].ravel(), jac=True, method="L-BFGS-B", options=options)
    ours = pull(SMALL.pairs, settle(SMALL.pairs, start)).energy
    outside(
        f"energy at rest after a shake, seed {seed}",
        ours,
        other.fun,
        rel=1e-9,
        source="scipy L-BFGS-B",
        status="independent method",
    )


@settings(max_examples=20, deadline=None)
@given(seed=st.integers(0, 2**32), size=st.floats(0.0, 0.2))
def test_no_force_is_left_at_rest_and_held_points_stay(seed, size):
    start = shaken(seed, size)
    rest = settle(SMALL.pairs, start, tolerance=1e-10)
    left = gradient(pull(SMALL.pairs, rest), len(rest))[SMALL.pairs.free]
    assert np.abs(left).max() < 1e-10
    held = np.setdiff1d(np.arange(len(rest)), SMALL.pairs.free)
    assert len(held) > 0
    assert np.array_equal(rest[held], start[held])


def test_start_is_left_as_it_was():
    start = shaken(1)
    kept = start.copy()
    settle(SMALL.pairs, start)
    assert np.array_equal(start, kept)


def test_too_few_steps_are_reported():
    with pytest.raises(RuntimeError, match="no rest in 1 steps"):
        settle(SMALL.pairs, shaken(1), steps=1)


def test_nothing_moves_where_all_is_held():
    held = replace(SMALL.pairs, free=np.array([], dtype=np.intp))
    assert np.array_equal(settle(held, shaken(1)), shaken(1))
