# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.integrate import quad

from glasskit.strength import bending_area


def test_bars_agree_with_the_integral(outside):
    expected = 2 * 0.01 * quad(lambda x: (x / 0.02) ** 7, 0, 0.02)[0]
    outside(
        "bar in three points, m^2",
        bending_area(0.01, 0.04, 7.0),
        expected,
        rel=1e-9,
        source="integral of (moment/most)^m by quadrature",
        status="independent method",
    )


def test_widths_spread_over_moduli():
    assert bending_area([0.01, 0.02], 0.04, [[5.0], [9.0], [20.0]]).shape == (3, 2)


@pytest.mark.parametrize("name", ["width", "span", "modulus"])
def test_sizes_are_positive(name):
    given = {"width": 0.01, "span": 0.04, "modulus": 7.0}
    for wrong in (0.0, -1.0, np.nan):
        with pytest.raises(ValueError, match=f"^{name} must be finite and positive"):
            bending_area(**given | {name: wrong})
