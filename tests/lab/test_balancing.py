# SPDX-License-Identifier: MIT
"""A profile must sum to nothing: the mean by another rule, its interval, a wrong zero."""

import numpy as np
import pytest
from scipy.integrate import quad

from glasskit.lab import profile_balance

THICK = 6e-3


def parabola(z, off=0.0):
    return 50e6 - 150e6 * (2 * z / THICK - 1) ** 2 + off


def test_the_mean_is_that_of_the_integral(outside):
    z = np.linspace(0, THICK, 201)
    exact = quad(lambda x: float(parabola(x, 6e6)), 0, THICK)[0] / THICK
    outside(
        "mean of a parabola 6 MPa off / MPa",
        profile_balance(z, parabola(z, 6e6), THICK, 0.0).mean / 1e6,
        exact / 1e6,
        source="independent method: scipy.integrate.quad",
        status="independent method",
        abs_=0.01,
    )


def test_a_balanced_pane_passes_and_a_shifted_zero_does_not():
    rng = np.random.default_rng(3)
    z = np.linspace(0, THICK, 25)
    passed = {0.0: 0, 6e6: 0}
    for off in passed:
        for _ in range(2000):
            read = parabola(z, off) + 2e6 * rng.standard_normal(z.size)
            passed[off] += profile_balance(z, read, THICK, 2e6).balanced
    assert 0.935 <= passed[0.0] / 2000 <= 0.985  # what the rule misses is counted twice over
    assert passed[6e6] == 0


def test_few_readings_widen_the_interval():
    z = np.linspace(0, THICK, 5)
    few = profile_balance(z, parabola(z), THICK, 0.0)
    fine = np.linspace(0, THICK, 41)
    many = profile_balance(fine, parabola(fine), THICK, 0.0)
    assert few.expanded > 10 * many.expanded
    assert few.balanced


def test_what_is_no_profile_is_refused():
    z = np.linspace(0, THICK, 9)
    for message, depth, stress, thickness in (
        ("^depth must ascend", z[::-1], parabola(z), THICK),
        ("^depth must lie inside the pane", z, parabola(z), 5e-3),
        ("^depth must hold 5 readings", z[:4], parabola(z[:4]), THICK),
        ("^stress must hold 9 items", z, parabola(z[1:]), THICK),
    ):
        with pytest.raises(ValueError, match=message):
            profile_balance(depth, stress, thickness, 1e6)
