# SPDX-License-Identifier: MIT
from types import SimpleNamespace

import numpy as np
import pytest

from glasskit.bending import discs, panes

GLASS = SimpleNamespace(modulus=70e9, poisson=0.2)
ROARK = "Roark's Formulas for Stress and Strain, table "
THICK = 0.01


def moment(stress):
    return stress * THICK**2 / 6


def test_discs_of_the_handbook(outside):
    rim, load = 0.2, 3.0
    rigidity = panes.flexural_rigidity(THICK, GLASS)
    even = discs.circular_uniform(load, rim, THICK, GLASS)
    source, status = (
        "Roark as quoted: w = (5+nu) q a^4/(64 (1+nu) D), M = (3+nu) q a^2/16",
        "found",
    )
    expected = 5.2 * load * rim**4 / (64 * 1.2 * rigidity)
    outside("even disc: w", even.deflection, expected, rel=1e-12, source=source, status=status)
    outside(
        "even disc: M",
        moment(even.stress),
        3.2 * load * rim**2 / 16,
        rel=1e-12,
        source=source,
        status=status,
    )
    spot = discs.circular_patch(load, 0.01, rim, THICK, GLASS)
    outside(
        "disc under a patch: M",
        moment(spot.stress),
        load / (4 * np.pi) * (1.2 * np.log(0.2 / 0.01) + 1),
        rel=1e-12,
        source=ROARK + "11.2",
        status="found",
    )
    outside(
        "disc under a patch: w",
        spot.deflection,
        load * rim**2 * 3.2 / (16 * np.pi * 1.2 * rigidity),
        rel=1e-12,
        source=ROARK + "11.2",
        status="common practice",
    )


def test_disc_under_even_load_obeys_the_plate_equation():
    # Independent of the handbook: w = C (a^2 - r^2)(k a^2 - r^2) with Laplace^2 w = q/D and
    # no radial moment at the rim, differentiated by hand: w'' + nu w'/r = 0 at r = a.
    rim, ratio = 1.0, GLASS.poisson
    k = (5 + ratio) / (1 + ratio)
    r = np.polynomial.Polynomial([k * rim**4, 0, -(k + 1) * rim**2, 0, 1]) / 64
    assert r.deriv(2)(rim) + ratio * r.deriv()(rim) / rim == pytest.approx(0, abs=1e-12)
    got = discs.circular_uniform(1.0, rim, 0.5, GLASS).deflection
    assert got * panes.flexural_rigidity(0.5, GLASS) == pytest.approx(r(0), rel=1e-12)


def test_ring_on_ring(outside):
    force, inner, outer, across, thick, ratio = 1e3, 0.02, 0.04, 0.05, 3e-3, 0.2
    bracket = 0.8 * (0.0016 - 0.0004) / (2 * 0.0025) + 1.2 * 0.693147
    outside(
        "ring on ring / MPa",
        discs.ring_on_ring(force, inner, outer, across, thick, ratio) / 1e6,
        3 * force / (2 * np.pi * thick**2) * bracket / 1e6,
        rel=1e-6,
        source="ASTM C1499: 3F/(2 pi h^2) [(1-nu)(Ds^2-DL^2)/(2 D^2) + (1+nu) ln(Ds/DL)]",
        status="memory",
    )
    # A small load ring tends to the disc under a ring of force, Roark 11.2, with no overhang.
    small = discs.ring_on_ring(1.0, 0.002, 0.04, 0.04, 1e-4, ratio) * 1e-8 / 6
    exact = (1.2 * np.log(20) + 0.8 * (1 - 1 / 400) / 2) / (4 * np.pi)
    assert small == pytest.approx(exact, rel=1e-12)


def test_loads_on_discs_broadcast():
    assert discs.circular_uniform([1.0, 2.0], 0.1, 4e-3, GLASS).stress.shape == (2,)
    assert discs.circular_patch(1.0, 1e-3, 0.1, 4e-3, GLASS).stress.shape == ()
    assert discs.ring_on_ring([[1.0], [2.0]], 0.02, 0.04, [0.04, 0.05], 3e-3, 0.2).shape == (
        2,
        2,
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: discs.circular_patch(1, 0.3, 1, 0.1, GLASS), "^patch_radius must stay below"),
        (lambda: discs.ring_on_ring(1, 2, 1, 3, 1, 0.2), "^support_diameter must be larger"),
        (lambda: discs.ring_on_ring(1, 1, 2, 1.5, 1, 0.2), "^plate_diameter must reach"),
        (
            lambda: discs.circular_uniform(1, 0, 1, GLASS),
            "^radius must be finite and positive",
        ),
    ],
)
def test_impossible_discs_are_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()
