# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit import light, materials, stress

C = 2.62e-12


def test_retardation_agrees_with_the_makers_rule(outside):
    # Stress [psi] = 2.18 * retardation [nm] / thickness [in]: 100 nm through a quarter inch
    # is 872 psi = 6.0122 MPa.
    glass = materials.glass("soda-lime")
    outside(
        "retardation of 872 psi through 0.25 in, m",
        light.retardation(872 * 6894.757, 0.25 * 25.4e-3, glass.stress_optic),
        100e-9,
        rel=2e-3,
        source="float-glass maker property bulletin, 2013",
        status="found",
    )


@pytest.mark.parametrize(
    ("name", "low", "high", "source", "status"),
    [
        ("soda-lime", 2.6e-12, 2.77e-12, "ASTM C770 and photoelasticity literature", "memory"),
        (
            "borosilicate",
            3.99e-12,
            4.01e-12,
            "data sheet, DIN 52314",
            "found",
        ),
        ("aluminosilicate", 2.8e-12, 3.2e-12, "data sheets of cover glass", "memory"),
    ],
)
def test_one_megapascal_through_a_metre_shows_the_published_coefficient(
    outside, name, low, high, source, status
):
    glass = materials.glass(name)
    outside(
        f"retardation over stress and path, {name}, 1/Pa",
        light.retardation(1e6, 1.0, glass.stress_optic) / 1e6,
        (low + high) / 2,
        abs_=(high - low) / 2 * 1.001,
        source=source,
        status=status,
    )


@given(difference=st.floats(-1e9, 1e9), path=st.floats(1e-4, 1.0))
def test_retardation_and_stress_are_inverse(difference, path):
    lag = light.retardation(difference, path, C)
    assert light.stress_difference(lag, path, C) == pytest.approx(difference, rel=1e-12)


def test_edge_of_a_tempered_pane_is_dark_where_the_skin_ends(outside):
    pane = stress.tempered(100e6, 6e-3)
    depth = np.linspace(0, 3e-3, 3001)
    seen = np.abs(light.edge_view(pane, depth, 10e-3, C))
    outside(
        "depth of the dark line over thickness",
        depth[seen.argmin()] / 6e-3,
        (1 - 1 / np.sqrt(3)) / 2,
        abs_=2e-4,
        source="zero of a balanced parabola, (1 - 1/sqrt 3)/2; tested on 6000 readings, 2021",
        status="found",
    )
    # The face shows twice the fringes of the core.
    assert seen[0] / seen[-1] == pytest.approx(2.0, rel=1e-9)


def test_bent_bar_agrees_with_its_stress_profile():
    # 6 N m in each metre of width: 6 x 6/0.008^2 Pa at the faces.
    bar = stress.StressProfile(
        kind="bent",
        thickness=8e-3,
        shape=lambda depth: 562_500.0 * (1 - 2 * depth / 8e-3),
        edges=np.array([0.0, 8e-3]),
    )
    share = np.linspace(0, 1, 9)
    seen = light.bent_bar(bar(0.0), share, 12e-3, C)
    assert seen == pytest.approx(light.edge_view(bar, share * 8e-3, 12e-3, C), abs=1e-18)
    assert seen[4] == pytest.approx(0.0, abs=1e-18)


@pytest.mark.parametrize(
    "pane",
    [
        stress.annealed(4e-3),
        stress.tempered(120e6, 4e-3),
        stress.exchanged(700e6, 40e-6, 0.7e-3),
    ],
    ids=lambda pane: pane.kind,
)
def test_no_residual_stress_shows_face_on(pane):
    assert light.face_view(pane, pane, pane.thickness, C) == 0
    assert not light.share_passed(0.0, 550e-9).any()


def test_pure_bending_does_not_show_face_on_and_a_pull_does(outside):
    pane = stress.tempered(120e6, 4e-3)
    bent = stress.StressProfile(
        kind="bent",
        thickness=4e-3,
        shape=lambda depth: pane(depth) + 18.75e6 * (1 - 2 * depth / 4e-3),
        edges=pane.edges,
    )
    bent = light.face_view(bent, pane, 4e-3, C)
    assert bent == pytest.approx(0.0, abs=1e-18)
    # Hand calculation: 2.62e-12 * 20e6 * 4e-3 = 2.096e-7 m.
    outside(
        "retardation face-on of a 20 MPa pull in 4 mm, m",
        light.face_view(pane.with_tension(20e6), pane, 4e-3, C),
        2.096e-7,
        rel=1e-9,
        source="coefficient times stress times thickness",
        status="hand calculation",
    )


def test_light_through_crossed_polarisers_agrees_with_jones_matrices(outside):
    lag, wavelength, angle = 430e-9, 610e-9, 0.3
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    plate = np.diag(np.exp([1j * np.pi * lag / wavelength, -1j * np.pi * lag / wavelength]))
    out = turn @ plate @ turn.T @ np.array([1.0, 0.0])
    outside(
        "share passed at 430 nm of retardation, 610 nm of wavelength, 0.3 rad",
        light.share_passed(lag, wavelength, angle),
        abs(out[1]) ** 2,
        rel=1e-12,
        source="Jones calculus: polariser, turned retarder, crossed analyser",
        status="independent method",
    )


@given(waves=st.integers(0, 6))
def test_whole_waves_are_dark_and_half_waves_bright(waves):
    assert light.share_passed(waves * 550e-9, 550e-9) == pytest.approx(0.0, abs=1e-20)
    assert light.share_passed((waves + 0.5) * 550e-9, 550e-9) == pytest.approx(1.0, rel=1e-9)


def test_stress_along_the_polariser_is_dark():
    assert light.share_passed(275e-9, 550e-9, [0.0, np.pi / 2]) == pytest.approx(0, abs=1e-20)


def test_sign_of_the_stress_does_not_show():
    assert light.share_passed(-300e-9, 500e-9) == light.share_passed(300e-9, 500e-9)


def test_shapes_broadcast():
    assert light.retardation([1e6, 2e6], [[1e-3], [2e-3]], C).shape == (2, 2)
    assert light.share_passed([1e-7, 2e-7], 5e-7).shape == (2,)
    assert light.retardation(1e6, 1e-3, C).ndim == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: light.retardation(1e6, 0.0, C),
            "path must be finite and positive; got 0 m",
        ),
        (
            lambda: light.stress_difference(1e-7, 1e-3, np.nan),
            "stress_optic must be finite and positive; got nan 1/Pa",
        ),
        (
            lambda: light.bent_bar(1e6, 1.5, 1e-3, C),
            "share_of_depth must lie in 0 <= share_of_depth <= 1; got 1.5",
        ),
        (
            lambda: light.share_passed(1e-7, -5e-7),
            "wavelength must be finite and positive; got -5e-07 m",
        ),
        (
            lambda: light.edge_view(stress.annealed(4e-3), 5e-3, 1e-2, C),
            "depth must lie in 0 <= depth <= 0.004; got 0.005 m",
        ),
        (
            lambda: light.face_view(np.zeros_like, np.zeros_like, 0.0, C),
            "thickness must be finite and positive; got 0 m",
        ),
    ],
)
def test_bad_input_gets_one_clear_sentence(call, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        call()
