# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from glasskit.breakage import MIRROR_CONSTANTS, TERMINAL_SPEED, Breakage, core_energy
from glasskit.breaking import (
    HALF_DISC,
    Drive,
    crack_speed,
    rayleigh_speed,
    run_up,
    sound_speed,
)
from glasskit.materials import glass
from glasskit.stress import annealed, exchanged, tempered

GLASS = glass("soda-lime")
PANE = Drive(profile=tempered(90e6, 6e-3), glass=GLASS)


def test_waves_along_a_face_solve_their_equation(outside):
    ratio = (1 - 2 * GLASS.poisson) / (2 * (1 - GLASS.poisson))

    def rayleigh(x):  # x = speed over that of shear waves, squared
        return (2 - x) ** 2 - 4 * np.sqrt((1 - x) * (1 - ratio * x))

    root = brentq(rayleigh, 0.5, 0.999)
    outside(
        "Rayleigh speed of soda-lime glass, m/s",
        rayleigh_speed(GLASS),
        np.sqrt(root * GLASS.shear_modulus / GLASS.density),
        rel=5e-3,
        source="root of Rayleigh's equation",
        status="exact",
    )


def test_sound_in_glass(outside):
    outside(
        "speed of sound along a glass plate, m/s",
        sound_speed(GLASS),
        5300,
        rel=0.05,
        source="tables: 5 to 5.6 km/s",
        status="memory",
    )


def test_the_greatest_speed_is_half_that_of_waves_along_a_face(outside):
    outside(
        "terminal speed over Rayleigh speed",
        TERMINAL_SPEED / rayleigh_speed(GLASS),
        0.5,
        abs_=0.06,
        source="[Freund1990]: cracks in glass level off near half of it",
        status="memory",
    )


def test_a_half_disc_at_the_face(outside):
    outside(
        "stress intensity of a half-disc at the face, over tension and root of radius",
        HALF_DISC,
        1.29,
        rel=0.02,
        source="[NewmanRaju1981] as used for mirrors: 1.29 at the face, 1.17 in the depth",
        status="memory",
    )


def test_run_up_is_the_law_integrated(outside):
    way, time = run_up(60e6, GLASS)
    start = (GLASS.toughness / (HALF_DISC * 60e6)) ** 2
    wave = rayleigh_speed(GLASS)
    path = solve_ivp(
        lambda _, a: wave * (1 - start / a), (0, time), [1.1 * start], rtol=1e-8, atol=1e-14
    )
    outside(
        "depth when the crack is as fast as it gets, µm",
        1e6 * way,
        1e6 * path.y[0, -1],
        rel=1e-5,
        source="the law of speed, integrated step by step",
        status="independent method",
    )
    assert crack_speed(2 * GLASS.fracture_energy * way / start, GLASS) == pytest.approx(
        TERMINAL_SPEED
    )


def test_a_lone_crack_is_given_what_the_core_has():
    assert PANE.energy(1.0) == pytest.approx(core_energy(PANE.profile, GLASS))
    # Close neighbours: (1 + nu)/2 of the energy of the core between them.
    core = PANE.profile(np.linspace(0, 6e-3, 20001))
    density = (1 - GLASS.poisson) / GLASS.modulus * (core[core > 0] ** 2).mean()
    freed = (1 + GLASS.poisson) / 2 * density * 1e-6
    assert PANE.energy(1e-6) == pytest.approx(freed, rel=1e-3)


def test_releasing_one_way_frees_that_share(outside):
    # An even pull s both ways holds (1 - nu) s^2/E. Cracks one way let go of one of them; the
    # other becomes s (1 - nu), for its strain stays: (1 - nu)^2 s^2/(2 E) is left.
    ratio = GLASS.poisson
    outside(
        "share of the energy that cracks one way free",
        (1 + ratio) / 2,
        1 - (1 - ratio) ** 2 / 2 / (1 - ratio),
        rel=1e-12,
        source="Hooke's law in the plane",
        status="hand calculation",
    )


def test_bending_gives_what_a_bent_strip_holds(outside):
    plain = Drive(profile=annealed(4e-3), glass=GLASS)
    # Strip 10 mm wide, 50 MPa at its faces: sigma^2 w/(6 E') = 25e14 * 0.01 / 4.375e11
    outside(
        "energy for a crack in a bent strip, J/m^2",
        plain.energy(0.01, 50e6),
        57.14,
        rel=1e-3,
        source="bending energy sigma^2 h/(6 E') over the height h",
        status="hand calculation",
    )
    assert (plain.given, plain.core, plain.reach) == (0.0, 0.0, 0.0)


def test_branching_is_that_of_the_mirror_constants():
    low, high = MIRROR_CONSTANTS["branching"]
    got = PANE.branching(60e6, [0.0, 1.0])
    assert got == pytest.approx([(low / 60e6) ** 2, (high / 60e6) ** 2])
    assert PANE.branching(0.0) == np.inf
    assert PANE.room(got) == pytest.approx(2 * HALF_DISC**2 * got)


def test_room_to_split_is_that_of_a_row_of_cracks(outside):
    # Long cracks side by side, w apart, each let go of sigma^2 w/(2 E'): K = sigma sqrt(w/2).
    # As much as a half-disc of 2.5 mm feels, 1.29 sigma sqrt(r), needs w = 2 * 1.29^2 * 2.5.
    outside(
        "room to split where cracks branch after 2.5 mm, mm",
        1e3 * PANE.room(2.5e-3),
        8.32,
        rel=0.01,
        source="energy of a strip between two cracks",
        status="hand calculation",
    )


def test_the_core_counts_until_the_face_is_pulled_more():
    assert PANE.net_tension(0.0) == pytest.approx(2 / 3 * 45e6, rel=1e-3)  # of a parabola
    assert PANE.net_tension(100e6) == PANE.net_tension(0.0)
    assert PANE.net_tension(200e6) == pytest.approx(110e6)


@given(st.floats(30e6, 200e6), st.floats(2e-3, 12e-3))
def test_what_a_lone_crack_is_given_pays_for_as_many_as_breakage_says(squeeze, thickness):
    profile = tempered(squeeze, thickness)
    drive = Drive(profile=profile, glass=GLASS)
    paid = Breakage(profile=profile, glass=GLASS, way="quench").cracks_paid
    assert drive.given / drive.cost == pytest.approx(paid)


@given(st.floats(1e-6, 1.0), st.floats(0, 3e8))
def test_more_room_and_more_bending_never_give_less(width, bending):
    assert PANE.energy(1.01 * width, bending) >= PANE.energy(width, bending)
    assert PANE.energy(width, 1.01 * bending) >= PANE.energy(width, bending)
    assert crack_speed(PANE.energy(width, bending), GLASS) <= TERMINAL_SPEED


def test_a_thin_pane_from_a_bath_hardly_pays_for_one_crack():
    drive = Drive(profile=exchanged(700e6, 40e-6, 0.7e-3), glass=glass("aluminosilicate"))
    assert drive.given < 2 * drive.cost


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: crack_speed(-1.0, GLASS), "energy must be finite and zero or more; got -1"),
        (lambda: run_up(0.0, GLASS), "tension must be finite and positive; got 0 Pa"),
        (lambda: PANE.energy(-1.0), "width must be finite and zero or more; got -1 m"),
    ],
)
def test_bad_input_gets_one_clear_sentence(call, message):
    with pytest.raises(ValueError, match=f"^{message}"):
        call()
