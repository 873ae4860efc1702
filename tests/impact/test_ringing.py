# SPDX-License-Identifier: MIT
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.special import j1

from glasskit.bending import panes as plate
from glasskit.impact import ringing

GLASS = SimpleNamespace(
    modulus=70e9, poisson=0.2, density=2500.0, plane_strain_modulus=70e9 / 0.96
)
PANE = ringing.Pane(length=0.3, width=0.2, thickness=4e-3, glass=GLASS, damping=0.0)


def test_lowest_frequency_of_a_supported_pane(outside):
    # Hand calculation: D = 70e9 x 6.4e-8/(12 x 0.96) = 388.89 N m; D/(rho h) = 38.889;
    # root 6.2361; times pi^2 (1/0.09 + 1/0.04) = 356.40 gives 2222.6 rad/s.
    outside(
        "lowest mode of 300 x 200 x 4 mm / (rad/s)",
        ringing.modes(PANE, 1.0).frequency[0],
        2222.6,
        rel=1e-4,
        source="pi^2 (1/a^2 + 1/b^2) sqrt(D/(rho h))",
        status="hand calculation",
    )


def test_modes_at_rest_add_up_to_the_static_pane(outside):
    highest = 4e6
    found = ringing.modes(PANE, highest)
    at_rest = found.deflection / found.frequency**2
    # What modes beyond wave number k hold, as an integral: 1/(4 pi D k^2).
    wave = np.sqrt(PANE.rigidity / (2500.0 * 4e-3))
    beyond = wave / (4 * np.pi * PANE.rigidity * highest)
    outside(
        "static deflection from the modes / (m/N)",
        at_rest @ found.deflection + beyond,
        PANE.compliance(),
        rel=2e-5,
        source="handbook deflection under a central load, Levy's series",
        status="consistency",
    )


@pytest.mark.parametrize("stiffness", [1e4, 1e6])
def test_a_soft_support_adds_its_own_sinking(outside, stiffness):
    found = ringing.modes(replace(PANE, support_stiffness=stiffness), 4e5)
    got = found.deflection / found.frequency**2 @ found.deflection
    outside(
        f"static sinking on {stiffness:g} N/m",
        got,
        PANE.compliance() + 1 / stiffness,
        rel=2e-3,
        source="springs in series",
        status="exact",
    )


def test_a_very_soft_support_lets_the_pane_bob_as_one_mass(outside):
    found = ringing.modes(replace(PANE, support_stiffness=10.0), 1e5)
    outside(
        "bobbing of a pane on 10 N/m / (rad/s)",
        found.frequency[0],
        np.sqrt(10.0 / PANE.mass),
        rel=1e-4,
        source="one mass on one spring",
        status="exact",
    )


def test_a_hard_support_is_the_limit_of_a_stiff_one():
    hard, stiff = (
        ringing.modes(PANE, 1e5),
        ringing.modes(replace(PANE, support_stiffness=1e14), 1e5),
    )
    assert stiff.frequency[:-1] == pytest.approx(np.sort(hard.frequency), rel=1e-6)


def test_a_steady_push_ends_in_the_static_deflection_and_stress():
    damped = replace(PANE, damping=0.3)
    got = ringing.response(damped, 1e-5, 3000, 2e5)
    assert got.deflection.sum() == pytest.approx(PANE.compliance(), rel=1e-3)
    carried = got.modes.stress @ got.amplitudes.sum(axis=1)
    assert carried == pytest.approx(got.modes.stress_at_rest, rel=1e-2)


def test_static_stress_follows_the_short_side_whichever_way_the_pane_lies():
    turned = replace(PANE, length=0.2, width=0.3)
    bent = plate.pane_patch(1.0, 0.0, 0.2, 0.3, 4e-3, GLASS)
    along, across = turned.stress_compliance(0.0)
    # For a point the handbooks' radius is that of the layer to a part in a thousand.
    assert along == pytest.approx(bent.stress, rel=1e-3)
    assert across == pytest.approx(bent.cross_stress, rel=1e-3)
    assert PANE.stress_compliance([1e-3, 2e-3]).shape == (2, 2)
    assert PANE.stress_compliance(0.0)[1] == pytest.approx(bent.stress, rel=1e-3)


def test_a_step_response_starts_like_an_unbounded_plate(outside):
    # Before a wave comes back from the edge a constant push moves the middle at a constant
    # speed, 1/(8 sqrt(D rho h)) per force.
    wide = replace(PANE, length=1.5, width=1.5)
    got = ringing.response(wide, 4e-6, 60, 1e6).deflection
    gained = got[1:].cumsum()
    speed = (gained[50] - gained[20]) / (30 * 4e-6)
    outside(
        "speed per force of an unbounded plate / (m/s/N)",
        speed,
        1 / (8 * np.sqrt(388.889 * 10.0)),
        rel=5e-3,
        source="Zener 1941; Boussinesq",
        status="memory",
    )


@pytest.mark.parametrize("instant", [20e-6, 100e-6])
def test_stress_under_a_sudden_push_grows_as_in_an_unbounded_plate(outside, instant):
    # The plate's waves as one integral over wave numbers, for an even round patch:
    # M = (1 + nu)/(4 pi) of 2 J1(k r)/(k r) (1 - cos(c k^2 t))/k.
    wide = replace(PANE, length=1.5, width=1.5)
    radius = plate.equivalent_radius(0.0, 4e-3).item()
    square = np.linspace(0, (40 / radius) ** 2, 2_000_001)[1:]
    k = np.sqrt(square)
    wave = np.sqrt(388.889 / 10.0)
    grown = (1 - np.cos(wave * square * instant)) / (2 * square)
    moment = (
        1.2 / (4 * np.pi) * np.trapezoid(2 * j1(k * radius) / (k * radius) * grown, square)
    )
    step = 1e-6
    got = ringing.response(wide, step, round(instant / step), 2e6)
    # A push that rises within the first step has its middle half a step later.
    rest = wide.stress_compliance(0.0)[0] - got.modes.stress_at_rest[0]
    ours = got.modes.stress[0] @ got.amplitudes.sum(axis=1) + rest
    outside(
        f"stress per force {instant * 1e6:g} us after a sudden push / (Pa/N)",
        ours,
        6 * moment / 4e-3**2,
        rel=0.01,
        source="bending waves of an unbounded plate, one integral",
        status="independent method",
    )


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"length": 0.0}, "^length must be finite and positive; got 0 m$"),
        ({"thickness": np.inf}, "^thickness must be finite and positive"),
        (
            {"support_stiffness": 0.0},
            "^support_stiffness must be finite and positive; got 0 N/m$",
        ),
        ({"damping": -0.1}, "^damping must lie in 0 <= damping <= 0.9; got -0.1$"),
    ],
)
def test_impossible_panes_are_refused(change, message):
    with pytest.raises(ValueError, match=message):
        replace(PANE, **change)


def test_impossible_steps_are_refused():
    with pytest.raises(ValueError, match=r"^step must be finite and positive"):
        ringing.response(PANE, 0.0, 10, 1e5)
    with pytest.raises(ValueError, match=r"^highest must be finite and positive"):
        ringing.modes(PANE, -1.0)
