# SPDX-License-Identifier: MIT
import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.impact import contact
from glasskit.quantities import OutsideValidityWarning

EXERCISE = "textbook exercise: 50 mm steel ball, 500 N, E 200 GPa, nu 0.3; question found"
STEEL = SimpleNamespace(plane_strain_modulus=200e9 / (1 - 0.3**2))


def test_a_rigid_flat_on_a_soft_ball(outside):
    got = contact.hertz_contact(60 * np.pi, 8e-3, 1000e6 / (1 - 0.3**2), 0.3)
    source = "benchmark exercise: R 8 mm, rigid flat, F = 60 pi N, E 1000 N/mm2, nu 0.3"
    # Tolerance: half a unit of the last printed digit.
    radius = got.contact_radius * 1e3
    outside("contact radius / mm", radius, 1.01, abs_=0.005, source=source, status="found")


def test_handbook_coefficients_for_equal_materials(outside):
    load, sphere, young = 40.0, 5e-3, 70e9
    modulus = young / (2 * (1 - 0.3**2))
    got = contact.hertz_contact(load, sphere, modulus, 0.3)
    rows = [
        ("radius", got.contact_radius / np.cbrt(load * sphere / young), 1.109),
        ("pressure", got.peak_pressure / np.cbrt(load * young**2 / sphere**2), 0.388),
        ("approach", got.approach / np.cbrt(load**2 / (young**2 * sphere)), 1.23),
    ]
    for name, ours, printed in rows:
        # Tolerance: the printed coefficients are rounded to three figures.
        outside(
            f"Hertz coefficient of {name}",
            ours,
            printed,
            rel=6e-4,
            source="Timoshenko & Goodier, Theory of Elasticity, art. 140",
            status="common practice",
        )


def test_rim_tension_is_the_published_fraction_of_the_peak_pressure(outside):
    got = contact.hertz_contact(10.0, 1e-3, 40e9, 0.22)
    outside(
        "rim tension over peak pressure, nu 0.22",
        got.rim_tension / got.peak_pressure,
        (1 - 2 * 0.22) / 3,
        rel=1e-12,
        source="Johnson, Contact Mechanics, section 3.4: (1 - 2 nu) p0/3",
        status="found",
    )


@given(load=st.floats(1e-3, 1e3), sphere=st.floats(1e-2, 1e-1))
def test_the_pressure_carries_the_load_and_the_work_is_two_fifths(load, sphere):
    got = contact.hertz_contact(load, sphere, 50e9, 0.2)
    # The half ellipsoid of pressure holds two thirds of the cylinder around it.
    carried = 2 / 3 * got.peak_pressure * np.pi * got.contact_radius**2
    assert carried == pytest.approx(load, rel=1e-9)
    stiffness = contact.contact_stiffness(sphere, 50e9)
    assert stiffness * got.approach**1.5 == pytest.approx(load, rel=1e-9)


def test_no_load_makes_no_contact_and_eight_times_the_load_doubles_the_circle():
    got = contact.hertz_contact([0.0, 1.0, 8.0], 1e-2, 50e9, 0.2)
    assert got.peak_pressure[0] == 0.0
    assert got.contact_radius[2] == pytest.approx(2 * got.contact_radius[1], rel=1e-12)


def test_fields_broadcast_and_cannot_be_changed():
    load = np.array([1.0, 2.0, 3.0])
    got = contact.hertz_contact(load, [[1e-3], [2e-3]], 50e9, 0.2)
    for field in dataclasses.fields(got):
        assert getattr(got, field.name).shape == (2, 3)
    with pytest.raises(ValueError, match="read-only"):
        got.force[0, 0] = 5.0
    load[0] = 2.0  # the caller's own array stays free
    assert contact.hertz_contact(1.0, 1e-3, 50e9, 0.2).force.shape == ()


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"force": -1.0}, "^force must be finite and zero or more; got -1 N$"),
        ({"radius": 0.0}, "^radius must be finite and positive; got 0 m$"),
        ({"modulus": np.nan}, "^modulus must be finite and positive; got nan Pa$"),
        ({"poisson": 0.6}, "^poisson must lie in 0 <= poisson <= 0.5; got 0.6$"),
    ],
)
def test_bad_contacts_are_refused(change, message):
    given_ = {"force": 1.0, "radius": 1e-3, "modulus": 50e9, "poisson": 0.2} | change
    with pytest.raises(ValueError, match=message):
        contact.hertz_contact(**given_)


def test_a_contact_as_wide_as_the_ball_is_outside_the_theory():
    with pytest.warns(OutsideValidityWarning, match="wider than 0.3 of the sphere"):
        contact.hertz_contact(1e6, 1e-3, 50e9, 0.2)


@pytest.mark.parametrize(
    ("second", "radius_mm", "pressure_mpa"), [(np.inf, 0.4402, 1232), (25e-3, 0.3494, 1955)]
)
def test_a_steel_ball_pressed_on_steel(outside, second, radius_mm, pressure_mpa):
    sphere = 1 / (1 / 25e-3 + 1 / second)
    got = contact.hertz_contact(500.0, sphere, contact.contact_modulus(STEEL, STEEL), 0.3)
    # Tolerance: half a unit of the last digit of the printed figures.
    common = {"source": EXERCISE, "status": "common practice"}
    outside("contact radius / mm", got.contact_radius * 1e3, radius_mm, abs_=0.6e-4, **common)
    outside("peak pressure / MPa", got.peak_pressure / 1e6, pressure_mpa, abs_=0.6, **common)
