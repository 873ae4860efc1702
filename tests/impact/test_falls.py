# SPDX-License-Identifier: MIT
import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from glasskit import impact
from glasskit.impact import contact

G = 9.80665


@pytest.mark.parametrize(
    ("mass", "height", "energy", "source", "status", "allowed"),
    [
        (4.11, 1.5, 60.5, "EN 356 class P1A; energy computed", "common practice", 0.05),
        (4.11, 3.0, 120.9, "EN 356 class P2A; energy computed", "common practice", 0.05),
        (4.11, 6.0, 241.8, "EN 356 class P3A; energy computed", "common practice", 0.05),
        (4.11, 9.0, 362.7, "EN 356 class P4A; energy computed", "common practice", 0.05),
        (0.5, 0.40, 2.0, "IEC 62262: IK07 is 2 J, by 0.5 kg from 0.40 m", "found", 0.05),
        (1.7, 0.30, 5.0, "IEC 62262: IK08 is 5 J, by 1.7 kg from 0.30 m", "found", 0.05),
        (5.0, 0.20, 10.0, "IEC 62262: IK09 is 10 J, by 5 kg from 0.20 m", "found", 0.5),
        (5.0, 0.40, 20.0, "IEC 62262: IK10 is 20 J, by 5 kg from 0.40 m", "found", 0.5),
    ],
)
def test_energy_of_standard_falls(outside, mass, height, energy, source, status, allowed):
    # Tolerance: half a unit of the printed digit; the standard rounds its nominal energies.
    got = impact.drop_energy(mass, height)
    outside(
        f"energy of {mass} kg from {height} m / J",
        got,
        energy,
        abs_=allowed,
        source=source,
        status=status,
    )


@pytest.mark.parametrize(
    ("feet", "foot_pounds", "source"),
    [
        (1.5, 150, "16 CFR 1201 category I: 100 lb bag, 150 ft lbf, 18 in"),
        (4.0, 400, "16 CFR 1201 category II: 100 lb bag, 400 ft lbf, 48 in"),
    ],
)
def test_energy_of_the_shot_bag(outside, feet, foot_pounds, source):
    got = impact.drop_energy(45.36, feet * 0.3048) / 1.3558179
    # Tolerance: the bag's mass is printed to four figures.
    outside("shot bag / ft lbf", got, foot_pounds, rel=2e-4, source=source, status="found")


@pytest.mark.parametrize(
    ("height", "speed"), [(0.5, 3.132), (1.0, 4.429), (1.2, 4.851), (1.5, 5.424)]
)
def test_speed_after_a_fall(outside, height, speed):
    outside(
        f"speed after {height} m / (m/s)",
        impact.drop_speed(height),
        speed,
        abs_=6e-4,
        source="sqrt(2 g h)",
        status="common practice",
    )


def test_speed_with_drag_agrees_with_stepping_the_fall(outside):
    limit = impact.terminal_speed(0.2, 0.0105, 1.1)

    def fall(_, state):
        return [state[1], G * (1 - (state[1] / limit.item()) ** 2)]

    def landed(_, state):
        return state[0] - 4.6

    landed.terminal = True
    done = solve_ivp(fall, (0, 10), [0.0, 0.0], events=landed, rtol=1e-10, atol=1e-12)
    outside(
        "speed of a 200 g device falling flat 4.6 m / (m/s)",
        impact.drop_speed(4.6, limit),
        done.y[1, -1],
        rel=1e-7,
        source="the fall stepped in time by a general solver",
        status="independent method",
    )


def test_terminal_speed_balances_weight_and_drag():
    speed = impact.terminal_speed(0.2, 0.0105, 1.1, 1.2)
    assert 0.5 * 1.2 * 1.1 * 0.0105 * speed**2 == pytest.approx(0.2 * G, rel=1e-12)


@given(height=st.floats(0, 100), limit=st.floats(1, 1e9))
def test_drag_only_slows_and_never_past_the_terminal_speed(height, limit):
    with_drag = impact.drop_speed(height, limit)
    assert with_drag <= impact.drop_speed(height) * (1 + 1e-12)
    assert with_drag <= limit * (1 + 1e-12)


def test_stopping_force_does_the_work_of_the_whole_fall():
    force = impact.stopping_force(0.5, 2.0, 0.01)
    assert force * 0.01 == pytest.approx(impact.drop_energy(0.5, 2.01), rel=1e-12)


def test_hertz_impact_constants_as_published(outside):
    mass, speed, sphere, modulus = 0.05, 3.0, 8e-3, 60e9
    got = impact.hertz_impact(mass, speed, sphere, modulus, 0.2)
    scale = (mass**2 / (sphere * modulus**2 * speed)) ** 0.2
    # Tolerance: half a unit of the last printed digit.
    outside(
        "impact duration over (m^2/(R E*^2 v))^(1/5)",
        got.duration / scale,
        2.87,
        abs_=0.005,
        source="Johnson, Contact Mechanics, eq. 11.24",
        status="found",
    )
    outside(
        "impact duration over peak approach per speed",
        got.duration * speed / got.approach,
        2.9433,
        abs_=6e-5,
        source="Timoshenko & Goodier, Theory of Elasticity",
        status="common practice",
    )
    outside(
        "peak approach / µm",
        got.approach * 1e6,
        1e6 * (15 * mass * speed**2 / (16 * np.sqrt(sphere) * modulus)) ** 0.4,
        rel=1e-12,
        source="Johnson, Contact Mechanics, section 11.4",
        status="found",
    )


def test_hertz_impact_agrees_with_stepping_it_in_time(outside):
    mass, speed, sphere, modulus = 0.1, 2.0, 14e-3, 45e9
    got = impact.hertz_impact(mass, speed, sphere, modulus, 0.23)
    stiffness = 4 / 3 * modulus * sphere**0.5

    def push(_, state):
        return [state[1], -stiffness * max(state[0], 0.0) ** 1.5 / mass]

    def parted(_, state):
        return state[0] + 1e-15

    parted.terminal, parted.direction = True, -1
    span = (0.0, 5 * got.duration.item())
    done = solve_ivp(
        push, span, [0.0, speed], events=parted, rtol=1e-10, atol=1e-14, max_step=span[1] / 500
    )
    source = "the two bodies stepped in time by a general solver"
    force = stiffness * done.y[0].max() ** 1.5
    common = {"source": source, "status": "independent method"}
    # Tolerance: the solver's own steps miss the peak by a fraction of a step.
    outside("Hertz peak force / N", got.peak_force, force, rel=1e-4, **common)
    outside("Hertz duration / s", got.duration, done.t[-1], rel=1e-6, **common)


def test_hertz_impact_scales_as_the_six_fifths_of_speed_and_gives_back_its_energy():
    speeds = np.array([1.0, 2.0])
    got = impact.hertz_impact(0.1, speeds, 1e-2, 50e9, 0.2)
    assert got.peak_force[1] / got.peak_force[0] == pytest.approx(2**1.2, rel=1e-12)
    assert 0.4 * got.peak_force * got.approach == pytest.approx(0.05 * speeds**2, rel=1e-12)
    pressed = contact.hertz_contact(got.peak_force, 1e-2, 50e9, 0.2)
    assert got.rim_tension == pytest.approx(pressed.rim_tension, rel=1e-12)


def test_results_broadcast_and_cannot_be_changed():
    got = impact.hertz_impact(0.1, [1.0, 2.0, 3.0], [[1e-2], [2e-2]], 50e9, 0.2)
    for field in dataclasses.fields(got):
        assert getattr(got, field.name).shape == (2, 3)
    with pytest.raises(ValueError, match="read-only"):
        got.peak_force[0, 0] = 0.0
    assert impact.drop_energy([1.0, 2.0], [[1.0], [2.0], [3.0]]).shape == (3, 2)
    assert impact.drop_speed(np.ones((2, 1)), np.ones(3)).shape == (2, 3)
    assert impact.drop_speed(1.0).shape == ()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: impact.drop_energy(-1.0, 1.0), "^mass must be finite and zero or more"),
        (lambda: impact.drop_energy(1.0, np.nan), "^height must be finite and zero or more"),
        (lambda: impact.drop_speed([1.0, -2.0]), "^height must .*; got -2 m$"),
        (lambda: impact.drop_speed(1.0, 0.0), "^terminal_speed must be positive; got 0 m/s$"),
        (lambda: impact.terminal_speed(1.0, 0.0), "^area must be finite and positive"),
        (lambda: impact.stopping_force(1.0, 1.0, 0.0), "^distance must be finite and pos"),
        (lambda: impact.hertz_impact(1, 0, 1, 1, 0.2), "^speed must be finite and positive"),
        (lambda: impact.hertz_impact(0, 1, 1, 1, 0.2), "^mass must be finite and positive"),
        (lambda: impact.hertz_impact(1, 1, 1, 1, 0.7), "^poisson must lie in"),
    ],
)
def test_impossible_falls_are_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()
