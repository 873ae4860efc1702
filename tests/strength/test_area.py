# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.integrate import cumulative_trapezoid, quad

from glasskit.strength import area

NU = 0.22


def by_equilibrium(force_inside, support, rim, modulus):
    """Integrate a disc's slope from its shear, then the two stresses to the power."""
    r = np.concatenate(
        [np.linspace(1e-9, 0.02 * rim, 40_001)[:-1], np.linspace(0.02, 1, 80_001) * rim]
    )
    shear = np.where(r < support, force_inside(r) / r, 0.0)
    curvature = -cumulative_trapezoid(shear, r, initial=0)
    particular = cumulative_trapezoid(curvature * r, r, initial=0) / r  # slope, up to c r
    radial = curvature - (1 - NU) * particular / r
    hoop = NU * curvature + (1 - NU) * particular / r
    radial, hoop = radial - radial[-1], hoop - radial[-1]  # c r: free rim
    pulled = np.maximum(radial, 0) ** modulus + np.maximum(hoop, 0) ** modulus
    return np.trapezoid(pulled * 2 * np.pi * r, r) / max(radial.max(), hoop.max()) ** modulus


@pytest.mark.parametrize("modulus", [2.0, 7.0, 20.0])
def test_ring_and_patch_agree_with_equilibrium_integrated(outside, modulus):
    source, status = "slope of the disc integrated from its shear force", "independent method"
    load, support, rim = 9e-3, 30e-3, 33e-3
    outside(
        "ring on ring, m^2",
        area.ring_area(2 * load, 2 * support, 2 * rim, modulus, NU),
        by_equilibrium(lambda r: np.where(r > load, 1.0, 0.0), support, rim, modulus),
        rel=1e-3,
        source=source,
        status=status,
    )
    patch = 3e-3
    outside(
        "patch, m^2",
        area.patch_area(patch, 2 * support, modulus, NU),
        by_equilibrium(lambda r: np.minimum(r / patch, 1) ** 2, support, support, modulus),
        rel=1e-3,
        source=source,
        status=status,
    )


def test_ring_on_ring_near_the_closed_approximation(outside):
    inner, outer, disc, m = 18e-3, 60e-3, 66e-3, 10.0
    gap = outer - inner
    closed = (
        np.pi
        / 2
        * inner**2
        * (
            1
            + 44
            * (1 + NU)
            / (3 * (1 + m))
            * (5 + m)
            / (2 + m)
            * (gap / (outer * disc)) ** 2
            * (2 * disc**2 * (1 + NU) + gap**2 * (1 - NU))
            / ((3 + NU) * (1 + 3 * NU))
        )
    )
    outside(
        "ring on ring, m^2",
        area.ring_area(inner, outer, disc, m, NU),
        closed,
        rel=0.04,
        source="ASTM C1499, effective area",
        status="memory",
    )


def test_bars_agree_with_the_integral(outside):
    for inner in (0.0, 0.02):

        def moment(x, inner=inner):
            return min(1.0, x / ((0.04 - inner) / 2)) ** 7

        expected = 2 * 0.01 * quad(moment, 0, 0.02, points=[(0.04 - inner) / 2])[0]
        outside(
            f"bar, loads {inner} m apart, m^2",
            area.bending_area(0.01, 0.04, 7.0, inner),
            expected,
            rel=1e-9,
            source="integral of (moment/most)^m by quadrature",
            status="independent method",
        )


@pytest.mark.parametrize(("modulus", "factor"), [(5, 0.63), (7, 0.72), (10, 0.79), (20, 0.89)])
def test_ten_times_the_area(outside, modulus, factor):
    # 10**(-1/m), by hand: ln 10 = 2.3026; exp(-2.3026/5) = 0.631 and so on.
    outside(
        f"strength at ten times the area, m = {modulus}",
        area.size_factor(10.0, 1.0, modulus),
        factor,
        abs_=0.0055,
        source="10^(-1/m)",
        status="hand calculation",
    )


def test_size_factor_is_that_of_the_weakest_of_many():
    rng = np.random.default_rng(1)
    weakest = rng.weibull(7.0, (20_000, 30)).min(-1)
    expected = np.median(weakest) / np.log(2) ** (1 / 7.0)
    assert area.size_factor(30.0, 1.0, 7.0) == pytest.approx(expected, rel=0.005)


def test_any_field_adds_cell_by_cell():
    x = (np.arange(2_000) + 0.5) / 2_000 * 0.02
    for modulus in (2.0, 7.0):  # the compressed face does not count
        got = ((x / x[-1]) ** modulus).sum() * 0.01 * 0.02 / 2_000
        assert got == pytest.approx(area.bending_area(0.01, 0.02, modulus), rel=3e-3)
    assert area.ring_area(0.01, 0.03, [0.03, 0.04], [[5.0], [9.0], [20.0]]).shape == (3, 2)


def test_large_modulus_leaves_twice_the_load_ring():
    assert area.ring_area(0.02, 0.06, 0.06, 5_000.0) == pytest.approx(
        2 * np.pi * 0.01**2, rel=0.01
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: area.size_factor(0.0, 1.0, 7.0), "area must be finite and positive"),
        (
            lambda: area.bending_area(1.0, 1.0, 7.0, 2.0),
            "inner_span must be at most outer_span",
        ),
        (
            lambda: area.ring_area(2.0, 1.0, 3.0, 7.0),
            "load_diameter must be less than support",
        ),
        (lambda: area.ring_area(1.0, 3.0, 2.0, 7.0), "support_diameter must be at most plate"),
        (lambda: area.patch_area(1.0, 1.0, 7.0), "patch_radius must be less than half"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
