# SPDX-License-Identifier: MIT
import pickle
import re
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import erfc

from glasskit import stress

FLOAT_GLASS = SimpleNamespace(modulus=70e9, poisson=0.22)

compressions = st.floats(1e6, 1.5e9)
thicknesses = st.floats(0.3e-3, 19e-3)
shares = st.floats(1e-3, 0.2)


def profiles(compression, share, thickness):
    return [
        stress.annealed(thickness),
        stress.tempered(compression, thickness),
        stress.exchanged(compression, share * thickness, thickness),
    ]


@given(compression=compressions, share=shares, thickness=thicknesses)
def test_every_profile_is_in_balance(compression, share, thickness):
    for profile in profiles(compression, share, thickness):
        scale = compression * thickness
        assert abs(profile.net_force()) < 1e-9 * scale
        assert abs(profile.net_moment()) < 1e-9 * scale * thickness


@given(compression=compressions, share=shares, thickness=thicknesses)
def test_profiles_are_alike_on_both_faces_and_have_the_asked_surface(
    compression, share, thickness
):
    depth = np.linspace(0, thickness, 41)
    for profile in profiles(compression, share, thickness)[1:]:
        level = profile(depth)
        # Tolerance: rounding of (thickness - depth) against the steepest gradient.
        assert level == pytest.approx(level[::-1], abs=1e-9 * compression)
        assert profile.surface == pytest.approx(-compression, rel=1e-12)
        assert profile.centre > 0


@given(compression=compressions, share=shares, thickness=thicknesses)
def test_exchanged_profile_passes_zero_at_the_asked_case_depth(compression, share, thickness):
    profile = stress.exchanged(compression, share * thickness, thickness)
    assert profile.case_depth == pytest.approx(share * thickness, rel=1e-6)


def test_balance_holds_by_adaptive_quadrature(outside):
    profile = stress.exchanged(700e6, 40e-6, 0.7e-3)
    total, _ = quad(profile, 0, 0.7e-3, points=[40e-6, 660e-6], limit=200, epsabs=1e-7)
    outside(
        "net force of an exchanged plate over its surface force",
        total / (700e6 * 0.7e-3),
        0.0,
        abs_=1e-9,
        source="adaptive quadrature (scipy.integrate.quad) of the profile",
        status="independent method",
    )


def test_parabola_has_the_published_ratio_and_depth(outside):
    profile = stress.tempered(100e6, 6e-3)
    outside(
        "surface compression over core tension of a parabola",
        -profile.surface / profile.centre,
        2.0,
        rel=1e-12,
        source="sigma(z) = sigma_m (1 - 12 (z/t)^2), textbook",
        status="common practice",
    )
    outside(
        "depth of the compressed skin over thickness of a parabola",
        profile.case_depth / profile.thickness,
        0.2113,
        # Tolerance: printed to four figures; (1 - 1/sqrt 3)/2 = 0.21132.
        rel=2e-4,
        source="study of 2021 on compressive zone depth, 6000 readings",
        status="found",
    )


def test_stored_energy_of_a_parabola_agrees_with_the_closed_form(outside):
    profile = stress.tempered(100e6, 4e-3)
    outside(
        "stored energy of a 4 mm pane with 100 MPa, J/m²",
        profile.stored_energy(FLOAT_GLASS),
        # (1/5)(1 - nu) S^2 t / E = 0.2 * 0.78 * 1e16 * 4e-3 / 70e9
        89.142857,
        rel=1e-7,
        source="mean density (1/5)(1 - nu) S^2/E, as used by Barsom and by Gulati",
        status="common practice",
    )


def test_core_tension_of_a_thin_skin_follows_from_balance_by_hand(outside):
    # In a plate much thicker than its skin the mean swapped share is m = 2 l/(sqrt(pi) t),
    # the skin ends where erfc(x/l) = m, and the core is stretched by S m/(1 - m).
    def mean(length):
        return 2 * length / (np.sqrt(np.pi) * 10e-3)

    length = brentq(lambda trial: erfc(20e-6 / trial) - mean(trial), 5e-6, 20e-6)
    outside(
        "core tension of a 10 mm plate with a 20 µm skin at 500 MPa, MPa",
        stress.exchanged(500e6, 20e-6, 10e-3).centre / 1e6,
        500 * mean(length) / (1 - mean(length)),
        # Tolerance: the root finder's.
        rel=1e-6,
        source="balance of two erfc skins against the core",
        status="hand calculation",
    )


@given(pull=st.floats(-1e9, 1e9), thickness=thicknesses)
def test_a_pull_adds_its_force_and_no_moment(pull, thickness):
    loaded = stress.tempered(100e6, thickness).with_tension(pull)
    scale = 1e9 * thickness
    assert loaded.net_force() == pytest.approx(pull * thickness, rel=1e-9, abs=1e-9 * scale)
    assert abs(loaded.net_moment()) <= 1e-9 * scale * thickness


def test_sampled_profile_keeps_shape_and_is_brought_into_balance():
    exact = stress.exchanged(700e6, 40e-6, 0.7e-3)
    depth = 0.35e-3 * (1 - np.cos(np.linspace(0, np.pi, 161)))
    profile = stress.sampled(depth, exact(depth))
    assert abs(profile.net_force()) < 1e-9 * 700e6 * 0.7e-3
    assert abs(profile.net_moment()) < 1e-9 * 700e6 * 0.7e-3**2
    # Tolerance: cubic interpolation between 161 points, checked to fall with their number.
    assert profile(depth) == pytest.approx(exact(depth), abs=5e-4 * 700e6)


def uneven(depth):
    """Skins of 125 and 75 MPa: even and odd Legendre polynomials, in balance as they are."""
    place = 1 - 2 * depth / 3e-3
    return -100e6 * (1.5 * place**2 - 0.5) - 25e6 * (2.5 * place**3 - 1.5 * place)


@pytest.mark.parametrize(
    ("mean", "tilt"), [(0, 0), (2e6, 0), (-2e6, 0), (0, 2e6), (0, -2e6), (-1e6, 2e6)]
)
def test_points_of_a_plate_with_unlike_faces_are_brought_into_balance(outside, mean, tilt):
    depth = np.linspace(0, 3e-3, 601)
    profile = stress.sampled(depth, uneven(depth) + mean + tilt * (1 - 2 * depth / 3e-3))
    between = np.linspace(0, 3e-3, 907)
    outside(
        f"stress in a plate with unlike faces, {mean / 1e6:g} and {tilt / 1e6:g} MPa off "
        "balance, largest error, MPa",
        np.abs(profile(between) - uneven(between)).max() / 1e6,
        0.0,
        # Tolerance: of the cubic through 601 points, as with points in balance.
        abs_=2e-3,
        source="Legendre polynomials 2 and 3, orthogonal to a constant and to a slope",
        status="exact",
    )
    scale = 125e6 * 3e-3
    assert abs(profile.net_force()) < 1e-9 * scale
    assert abs(profile.net_moment()) < 1e-9 * scale * 3e-3


@pytest.mark.parametrize(("mean", "tilt"), [(2.7e6, 0), (-2.7e6, 0), (0, 2.7e6), (0, -2.7e6)])
def test_points_of_a_plate_that_would_stretch_or_bend_are_refused(mean, tilt):
    depth = np.linspace(0, 3e-3, 601)
    points = uneven(depth) + mean + tilt * (1 - 2 * depth / 3e-3)
    said = re.escape(f"; got {mean + tilt:g} Pa")
    with pytest.raises(ValueError, match=f"^stress must balance through .*{said}$"):
        stress.sampled(depth, points)


def test_depth_may_have_any_shape():
    profile = stress.tempered(100e6, 6e-3)
    assert profile(np.zeros((2, 3))).shape == (2, 3)
    assert profile(0.0).shape == ()


def test_an_annealed_plate_has_no_skin():
    assert stress.annealed(4e-3).case_depth == 0.0


def test_a_plate_squeezed_all_through_has_a_skin_to_its_middle():
    squeezed = stress.annealed(4e-3).with_tension(-1e6)
    assert squeezed.case_depth == 2e-3


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: stress.annealed(-1e-3),
            r"^thickness must be finite and positive; got -0.001 m$",
        ),
        (
            lambda: stress.tempered(np.nan, 6e-3),
            r"^surface_compression must be finite and pos",
        ),
        (
            lambda: stress.exchanged(7e8, 0.3e-3, 1e-3),
            r"^case_depth must be at most 0.00021 m; ",
        ),
        (
            lambda: stress.exchanged(7e8, 0.212e-3, 1e-3),
            r"^case_depth must be at most 0.00021 m; ",
        ),
        (
            lambda: stress.tempered(1e8, 6e-3)(7e-3),
            r"^depth must lie in 0 <= depth <= 0.006; ",
        ),
        (
            lambda: stress.annealed(1e-3).with_tension(np.inf),
            r"^tension must be finite; got inf",
        ),
        (lambda: stress.sampled([0, 1, 1], [0, 0, 0]), r"^depth must ascend; got 1 m$"),
        (
            lambda: stress.sampled([0, 1, 2], [1, 1, 1]),
            r"^stress must balance through the thic",
        ),
        (
            lambda: stress.sampled([0, np.nan, 2], [1, 1, 1]),
            r"^depth must be finite; got nan m$",
        ),
        (
            lambda: stress.sampled([0, 1, 2], [1, np.inf, 1]),
            r"^stress must be finite; got inf",
        ),
        (
            lambda: stress.sampled([0, 1], [0, 0]),
            r"^depth must hold three points or more; got 2",
        ),
        (
            lambda: stress.sampled([[0, 1, 2]], [[0, 0, 0]]),
            r"^depth must hold three points or",
        ),
        (lambda: stress.sampled([0, 0, 1], [0, 0, 0]), r"^depth must ascend; got 0 m$"),
        (lambda: stress.sampled([0, 1, 2], [1, 1]), r"^stress must hold 3 points; got 2$"),
        (lambda: stress.sampled([1, 2, 3], [1, 1, 1]), r"^depth must start at zero; got 1 m$"),
    ],
)
def test_bad_input_is_refused_in_one_sentence(call, message):
    with pytest.raises(ValueError, match=message):
        call()


def made_again():
    depth = np.linspace(0, 6e-3, 41)
    return {
        "annealed": lambda: stress.annealed(4e-3),
        "tempered": lambda: stress.tempered(100e6, 6e-3),
        "exchanged": lambda: stress.exchanged(700e6, 40e-6, 0.7e-3),
        "sampled": lambda: stress.sampled(depth, stress.tempered(100e6, 6e-3)(depth)),
        "loaded": lambda: stress.tempered(100e6, 6e-3).with_tension(2e7),
    }


@pytest.mark.parametrize("make", made_again().values(), ids=made_again())
def test_profiles_are_compared_by_what_they_are_and_go_to_another_process(make):
    one = make()
    sent = pickle.loads(pickle.dumps(one))
    assert sent == one == make()
    assert hash(sent) == hash(one)
    places = np.linspace(0, one.thickness, 7)
    assert np.array_equal(sent(places), one(places))
    assert one.with_tension(1.0) != one
    assert one != stress.tempered(101e6, 6e-3)
