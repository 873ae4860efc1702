# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j0

from glasskit.impact import layer

SIX = 6.0


def face_stress(wave, deep):
    """Stress along the far and the struck face of a layer under a pressure cos(wave x).

    Airy's function ((A + B z) cosh k z + (C + D z) sinh k z) cos k x, its four numbers from
    the pressure above, no pressure below and no shear on either face; per pressure.
    """
    rows, right = [], []
    for at, pressure in ((0.0, 1.0), (deep, 0.0)):
        c, s = np.cosh(wave * at), np.sinh(wave * at)
        rows.append([wave**2 * c, wave**2 * at * c, wave**2 * s, wave**2 * at * s])
        right.append(pressure)
        rows.append([wave * s, c + wave * at * s, wave * c, s + wave * at * c])
        right.append(0.0)
    a, b, c_, d = np.linalg.solve(rows, right)

    def along(at):
        c, s = np.cosh(wave * at), np.sinh(wave * at)
        return (
            a * wave**2 * c
            + b * (2 * wave * s + wave**2 * at * c)
            + c_ * wave**2 * s
            + d * (2 * wave * c + wave**2 * at * s)
        )

    return along(deep), along(0.0)


def hertz(wave):
    """Return what Hertz's pressure holds of a wave, radius one."""
    return 3 * (np.sin(wave) - wave * np.cos(wave)) / wave**3


@pytest.mark.parametrize("contact", [0.05, 0.25, 0.6])
@pytest.mark.parametrize("away", [0.4, 1.0, 2.0])
def test_a_ball_bends_a_layer_as_its_waves_do(outside, contact, away):
    # Sum of both stresses per force, here and six thicknesses away, wave by wave.
    def wave(k):
        turned = j0(k * away) - j0(k * 6.0)
        return k / (2 * np.pi) * face_stress(k, 1.0)[0] * hertz(k * contact) * turned

    expected = 1.2 * quad(wave, 1e-3, 18.0, limit=400)[0]
    at = layer.spot_moments([away, 6.0], [contact], 1.0, 0.2).sum(axis=0)[:, 0]
    outside(
        f"pull of the far face, {away:g} thicknesses away, contact {contact:g}",
        SIX * (at[0] - at[1]),
        expected,
        abs_=2e-3,
        source="elastic layer, Airy's function solved at both faces, summed by quadrature",
        status="independent method",
    )


@pytest.mark.parametrize("away", [0.3, 1.0])
def test_the_struck_face_is_squeezed_beside_the_contact(outside, away):
    # Along the wave a thick block is pressed by as much as its face: what is more is bending.
    def wave(k):
        turned = j0(k * away) - j0(k * 6.0)
        return k / (2 * np.pi) * (-face_stress(k, 1.0)[1] - 1.0) * hertz(k * 0.2) * turned

    expected = 1.2 * quad(wave, 1e-3, 18.0, limit=400)[0]
    at = layer.spot_moments([away, 6.0], [0.2], 1.0, 0.2, "struck").sum(axis=0)[:, 0]
    outside(
        f"bending squeeze of the struck face, {away:g} thicknesses away",
        SIX * (at[0] - at[1]),
        expected,
        abs_=2e-3,
        source="elastic layer, Airy's function solved at both faces, less the thick block",
        status="independent method",
    )


def test_the_radius_of_a_point_is_that_of_the_handbooks(outside):
    outside(
        "radius that stands for a point, in thicknesses",
        layer.far_face_radius(0.0, 1.0),
        0.325,
        rel=2e-3,
        source="Westergaard, sqrt(1.6 r^2 + h^2) - 0.675 h",
        status="common practice",
    )


def test_far_away_only_the_load_counts():
    at = np.array([4.99, 5.01, 20.0])
    for face in ("far", "struck"):
        got = layer.spot_moments(at, [0.3], 1.0, 0.2, face)[..., 0]
        assert got[:, 0] == pytest.approx(got[:, 1], abs=2e-3)
        thin = -np.log(at) / (4 * np.pi) * 1.2
        assert got.mean(axis=0) == pytest.approx(thin, abs=1e-3)


def test_wider_contacts_pull_less_and_depths_scale():
    radius = layer.far_face_radius(np.linspace(0, 6, 61), 1.0)
    assert np.all(np.diff(radius) > 0)
    assert layer.far_face_radius(2e-3, 4e-3) == pytest.approx(4e-3 * radius[5], rel=1e-9)
    one, other = (layer.spot_moments([0.5 * h, 2 * h], [0.3 * h], h, 0.2) for h in (1.0, 4e-3))
    assert np.diff(one, axis=1) == pytest.approx(np.diff(other, axis=1), rel=1e-9)


def test_a_bell_far_away_is_a_point():
    bell = layer.bell_moments([30.0], 1.0, 0.2)[:, 0]
    point = layer.spot_moments([30.0], [0.0], 1.0, 0.2)[:, 0, 0]
    assert bell == pytest.approx(point, abs=1e-3)


def test_impossible_spots_are_refused():
    with pytest.raises(ValueError, match=r"^distance must be finite and positive"):
        layer.spot_moments([0.0], [0.1], 1.0, 0.2)
    with pytest.raises(ValueError, match=r"^contact_radius must be finite and zero or more"):
        layer.far_face_radius(-1.0, 1.0)
    with pytest.raises(ValueError, match=r"^thickness must be finite and positive"):
        layer.far_face_radius(0.0, 0.0)
