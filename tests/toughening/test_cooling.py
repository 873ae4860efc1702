# SPDX-License-Identifier: MIT
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.constants import Stefan_Boltzmann
from scipy.optimize import brentq

from glasskit.toughening import cooling

HALF, LEADS, HEAT, MASS = 3e-3, 1.3, 1200.0, 2500.0
START, AIR = 923.15, 293.15
unhurried = settings(deadline=None, max_examples=40)  # a shared machine may stall
FIXED = {"conductivity": LEADS, "heat_capacity": HEAT, "density": MASS}


def by_series(time, depth, blow):
    """Exact excess temperature of a plate, as a share of the first, by its eigenfunctions."""
    biot = blow * HALF / LEADS
    roots = np.array(
        [
            brentq(
                lambda z: z * np.sin(z) - biot * np.cos(z),
                n * np.pi + 1e-12,
                (n + 0.5) * np.pi,
                xtol=1e-14,
            )
            for n in range(60)
        ]
    )
    weight = 4 * np.sin(roots) / (2 * roots + np.sin(2 * roots))
    fourier = LEADS * time[:, None, None] / (MASS * HEAT * HALF**2)
    place = (1 - depth / HALF)[None, :, None]
    return (weight * np.exp(-(roots**2) * fourier) * np.cos(roots * place)).sum(axis=-1)


def furthest_from_series(blow, nodes, steps):
    run = cooling.cool_plate(2 * HALF, START, blow, AIR, nodes=nodes, steps=steps, **FIXED)
    late = run.time > 0.5  # the series needs more than sixty terms before
    exact = AIR + (START - AIR) * by_series(run.time[late], run.depth, blow)
    return np.abs(run.temperature[late] - exact).max()


@pytest.mark.parametrize("blow", [30.0, 200.0, 1000.0])
def test_conduction_agrees_with_the_exact_series(outside, blow):
    # Tolerance: 1 K of 630 K, on the grid that quenches use.
    outside(
        f"furthest temperature from the series at {blow:g} W/(m2 K), kelvin",
        furthest_from_series(blow, 17, 160),
        0.0,
        abs_=1.0,
        source="eigenfunction series, CarslawJaeger1959, sixty terms",
        status="exact",
    )


def test_halving_both_grids_quarters_the_error(outside):
    errors = [furthest_from_series(400.0, 8 * n + 1, 75 * n) for n in (1, 2, 4)]
    for coarse, fine in pairwise(errors):
        outside(
            "order of convergence of the temperatures",
            np.log2(coarse / fine),
            2.0,
            abs_=0.2,
            source="midpoint rule and central differences are of second order",
            status="exact",
        )


def test_mild_air_cools_the_plate_as_one_lump(outside):
    run = cooling.cool_plate(2 * HALF, START, 0.5, AIR, **FIXED)
    at = np.argmin(np.abs(run.time - 2e4))
    lump = np.exp(-0.5 * run.time[at] / (MASS * HEAT * HALF))
    outside(
        "share of the excess left, mild air",
        (run.temperature[at, 0] - AIR) / (START - AIR),
        lump,
        rel=1e-3,  # a third of the Biot number is 4e-4
        source="exp(-h t / (rho c L)) for a Biot number tending to zero",
        status="exact",
    )


def test_plate_that_only_radiates_follows_the_fourth_power_law(outside):
    run = cooling.cool_plate(2e-4, START, 1e-9, AIR, emissivity=0.9, **FIXED)
    at = np.argmin(np.abs(run.temperature[:, 0] - 500.0))

    def clock(kelvin):
        return np.log((kelvin + AIR) / (kelvin - AIR)) + 2 * np.arctan(kelvin / AIR)

    scale = MASS * HEAT * 1e-4 / (4 * 0.9 * Stefan_Boltzmann * AIR**3)
    exact = scale * (clock(run.temperature[at, 0]) - clock(START))
    outside(
        "time to radiate down to 500 K, seconds",
        run.time[at],
        exact,
        rel=2e-3,  # Biot number of the radiation: 50 * 1e-4 / 1.3 = 4e-3, a third of it counts
        source="integral of dT / (T^4 - T_air^4) for a lump, worked by partial fractions",
        status="exact",
    )


@unhurried
@given(blow=st.floats(5.0, 2000.0), half=st.floats(5e-4, 1e-2))
def test_heat_that_leaves_the_face_is_heat_that_the_plate_loses(blow, half):
    run = cooling.cool_plate(2 * half, START, blow, AIR, nodes=9, steps=40, **FIXED)
    face = (run.temperature[1:, 0] + run.temperature[:-1, 0]) / 2
    left = blow * (face - AIR) @ np.diff(run.time)
    lost = MASS * HEAT * half * ((run.temperature[0] - run.temperature[-1]) @ run.share)
    # Tolerance: rounding of a few hundred additions.
    assert lost == pytest.approx(left, rel=1e-10)


@unhurried
@given(blow=st.floats(5.0, 1000.0), half=st.floats(1.5e-3, 1e-2))
def test_plate_only_cools_and_its_surface_is_its_coolest_place(blow, half):
    run = cooling.cool_plate(2 * half, START, blow, AIR)
    # Tolerance: one part in a thousand of the whole fall, for ripples of the midpoint rule.
    slack = 1e-3 * (START - AIR)
    assert np.all(np.diff(run.temperature, axis=0) < slack)
    assert np.all(np.diff(run.temperature, axis=1) > -slack)
    assert run.temperature[-1].max() < AIR + 0.05 * (START - AIR)
    assert run.share.sum() == pytest.approx(1.0, rel=1e-12)


def test_coefficient_may_be_a_function_of_the_surface_temperature():
    number = cooling.cool_plate(6e-3, START, 200.0)
    law = cooling.cool_plate(6e-3, START, lambda kelvin: np.full(kelvin.shape, 200.0))
    assert np.array_equal(number.temperature, law.temperature)
    fading = cooling.cool_plate(6e-3, START, lambda kelvin: 200.0 * kelvin / START)
    assert np.interp(20.0, fading.time, fading.temperature[:, 0]) > np.interp(
        20.0, number.time, number.temperature[:, 0]
    )


def test_glass_properties_at_room_temperature_agree_with_the_standard(outside):
    room = np.array([293.15])
    outside(
        "conductivity of soda-lime glass at room temperature, W/(m K)",
        cooling.conductivity(room),
        1.0,
        rel=0.03,  # printed to two figures
        source="EN 572-1",
        status="found",
    )
    outside(
        "specific heat of soda-lime glass at room temperature, J/(kg K)",
        cooling.heat_capacity(room),
        800.0,
        rel=0.1,  # published values run from 720 to 880
        source="materials property database; EN 572-1 says 720, a maker's bulletin 880",
        status="found",
    )


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"thickness": 0.0}, r"^thickness must be finite and positive; got 0 m$"),
        ({"start_temperature": 280.0}, r"^start_temperature must exceed the air's 293.1"),
        ({"start_temperature": 3000.0}, r"^start_temperature must lie in 200 <="),
        ({"heat_transfer": -1.0}, r"^heat_transfer must be finite and positive"),
        ({"air_temperature": np.nan}, r"^air_temperature must lie in"),
        ({"emissivity": 1.5}, r"^emissivity must lie in 0 <= emissivity <= 1; got 1.5$"),
        ({"density": 0.0}, r"^density must be finite and positive"),
        ({"nodes": 2}, r"^nodes must be a whole number, 3 <= nodes .* got 2$"),
        ({"steps": 5}, r"^steps must be a whole number, 10 <= steps .* got 5$"),
    ],
)
def test_impossible_plates_are_refused(change, message):
    plain = {"thickness": 6e-3, "start_temperature": START, "heat_transfer": 200.0}
    with pytest.raises(ValueError, match=message):
        cooling.cool_plate(**{**plain, **change})


def test_history_cannot_be_written_over():
    run = cooling.cool_plate(6e-3, START, 200.0)
    with pytest.raises(ValueError, match="read-only"):
        run.temperature[0, 0] = 0.0
