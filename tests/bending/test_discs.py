# SPDX-License-Identifier: MIT
from types import SimpleNamespace

import numpy as np
import pytest

from glasskit.bending import discs

GLASS = SimpleNamespace(modulus=70e9, poisson=0.2)
ROARK = "Roark's Formulas for Stress and Strain, table "
THICK = 0.01


def moment(stress):
    return stress * THICK**2 / 6


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
    assert discs.ring_on_ring([[1.0], [2.0]], 0.02, 0.04, [0.04, 0.05], 3e-3, 0.2).shape == (
        2,
        2,
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: discs.ring_on_ring(1, 2, 1, 3, 1, 0.2), "^support_diameter must be larger"),
        (lambda: discs.ring_on_ring(1, 1, 2, 1.5, 1, 0.2), "^plate_diameter must reach"),
    ],
)
def test_impossible_discs_are_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()
