# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.bending import discs
from glasskit.damage import radial_crack, wedge_factor
from glasskit.lab import formulas

GLASS = {"modulus": 70e9, "hardness": 5.5e9}


def test_ball_on_ring_is_the_plate_under_an_even_load_on_a_third(outside):
    # M at the middle of a disc on its rim, load F even over radius b:
    # F/(4 pi) [(1+nu) ln(a/b) + 1 - (1-nu) b^2/(4 a^2)]; sigma = 6 M/h^2.
    force, ring, depth, nu = 400.0, 15e-3, 2e-3, 0.22
    b = depth / 3
    moment = (1 + nu) * np.log(ring / b) + 1 - (1 - nu) * b**2 / (4 * ring**2)
    ours = formulas.ball_on_ring(force, 2 * ring, 2 * ring, depth, nu)
    outside(
        "ball on ring, no overhang",
        ours,
        6 * force / (4 * np.pi) * moment / depth**2,
        rel=1e-12,
        source="Timoshenko and Woinowsky-Krieger, plate under a load over a small circle",
        status="memory",
    )


def test_an_overhang_takes_off_what_it_does_for_a_ring_load(outside):
    # An overhang changes the moment of any load inside the support by the same amount.
    def change(stress):
        return stress(40e-3) - stress(30e-3)

    ball = change(lambda edge: formulas.ball_on_ring(100.0, 30e-3, edge, 2e-3, 0.22))
    ring = change(lambda edge: discs.ring_on_ring(100.0, 1e-6, 30e-3, edge, 2e-3, 0.22))
    source = "ring-on-ring of C1499 with a vanishing load ring"
    # A load on a small circle b weighs 1 - b^2/(2 a^2): here 0.1 % less.
    outside("overhang", ball, ring, rel=2e-3, source=source, status="independent method")


def test_hardness_numbers(outside):
    # Pyramid of 136 degrees between faces: area d^2/(2 sin 68) gives 1.8544.
    number = formulas.vickers_number(9.80665, 58.5e-6)
    source = "HV = 1.8544 P/d^2 in kgf and mm: 1.8544/0.0585^2 = 541.86"
    outside("HV", number, 541.86, rel=1e-4, source=source, status="hand calculation")
    pressure = formulas.vickers_hardness(9.80665, 58.5e-6)
    outside(
        "540 HV of soda-lime glass as pressure, 1.0784 times 5.30 GPa",
        pressure / 9.80665e6 / number,
        2 / 1.8544,
        rel=1e-4,
        source="2 P/d^2 over 1.8544 P/d^2",
        status="exact",
    )
    diagonal = np.sqrt(14.229 * 0.1 / 585) * 1e-3
    outside(
        "Knoop, 585 kgf/mm2",
        formulas.knoop_hardness(0.0980665 * 10, diagonal) / 1e9,
        5.74,
        abs_=0.005,
        source="article Soda-lime glass of an open encyclopedia: 585 kgf/mm2 is 5.74 GPa",
        status="found",
    )


def test_toughness_at_a_dent_is_the_published_formula(outside):
    ours = formulas.dent_toughness(49.0, 150e-6, **GLASS)
    source = "0.016 sqrt(70/5.5) 49/(150e-6)^1.5 = 1.52246e6"
    outside("K at a dent", ours, 1.52246e6, rel=1e-4, source=source, status="hand calculation")
    # The crack that this toughness gives is the one that was read.
    wedge = wedge_factor(*GLASS.values())
    assert radial_crack(49.0, ours, wedge=wedge) == pytest.approx(150e-6, rel=1e-12)


@given(st.floats(1, 200), st.floats(0, 800e6))
def test_crack_and_its_readings_go_round(load, compression):
    wedge = wedge_factor(*GLASS.values())
    crack = radial_crack(load, 0.75e6, compression, wedge=wedge)
    back = formulas.crack_compression(load, crack, **GLASS, toughness=0.75e6)
    assert back == pytest.approx(compression, abs=1e3)
    tough = formulas.dent_toughness(load, crack, **GLASS, surface_compression=compression)
    assert tough == pytest.approx(0.75e6, rel=1e-3)


def test_polarimeter(outside):
    ours = formulas.polarimeter_stress(np.radians([0, 45, 60]), 47e6)
    source = "tan 60 = 1.7320508"
    outside("60 degrees", ours[2] / 47e6, 1.7320508, rel=1e-7, source=source, status="exact")
    assert ours[:2] == pytest.approx([0, 47e6])


def test_broadcast():
    assert formulas.ball_on_ring([[100], [200]], 30e-3, [32e-3, 36e-3], 2e-3, 0.2).shape == (
        2,
        2,
    )
    assert formulas.vickers_number(10.0, 50e-6).shape == ()


def test_refusals():
    with pytest.raises(ValueError, match="plate_diameter must reach"):
        formulas.ball_on_ring(1.0, 30e-3, 20e-3, 2e-3, 0.2)
    with pytest.raises(ValueError, match="diagonal must be finite and positive"):
        formulas.vickers_hardness(1.0, 0.0)
    with pytest.raises(ValueError, match="tilt must lie in"):
        formulas.polarimeter_stress(np.pi / 2, 1e6)
    with pytest.raises(ValueError, match="toughness must be"):
        formulas.crack_compression(1.0, 1e-4, 70e9, 5e9, -1.0)


@pytest.mark.parametrize(
    ("celsius", "published"), [(4, 999.975), (20, 998.207), (25, 997.047), (40, 992.22)]
)
def test_water_is_as_heavy_as_tables_say(outside, celsius, published):
    # Source: tables of handbooks, from memory. Tolerance: two formulas differ by 0.003.
    outside(
        f"water at {celsius} °C",
        formulas.water_density(celsius + 273.15),
        published,
        abs_=0.01,
        source="tables of water, 1 atm",
        status="memory",
    )


def test_density_by_buoyancy_by_hand(outside):
    # Source: hand calculation with water of the tables, 20 * (998.207 - 1.2)/8 + 1.2 =
    #   2493.7175. Tolerance: our water is 0.003 kg/m^3 off the tables.
    ours = formulas.buoyancy_density([20e-3, 40e-3], [12e-3, 24e-3], 293.15)
    source = "weights in air and water, by hand"
    outside("density", ours[0], 2493.7175, rel=1e-5, source=source, status="hand calculation")
    assert ours[1] == pytest.approx(ours[0])
    with pytest.raises(ValueError, match="immersed must be less than the mass in air"):
        formulas.buoyancy_density(12e-3, 20e-3, 293.15)
    with pytest.raises(ValueError, match=r"^temperature must lie in"):
        formulas.buoyancy_density(20e-3, 12e-3, 20.0)
