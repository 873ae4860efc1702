# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.materials import flow
from glasskit.materials import melts as v

YEAR = 31557600.0


def test_flow_to_be_seen_in_800_years_needs_a_hot_cathedral(outside):
    # Tolerance: another composition (medieval, rich in potash) and no stated criterion; here
    # the Maxwell time of the equilibrium liquid is 800 years.
    at = v.temperature_at(800 * YEAR * v.SHEAR_MODULUS, "window")
    outside(
        "temperature for flow in 800 years in °C",
        at - 273.15,
        414,
        abs_=40,
        source="Zanotto, Am. J. Phys. 66 (1998) 392",
        status="found",
    )


def test_window_thickens_by_less_than_an_atom_in_a_millennium(outside):
    got = flow.thickening(1000 * YEAR, 4e24, 1.0, 3e-3)
    # Source: hand calculation. 2500 * 9.80665 = 24517 Pa; / (6 * 4e24) = 1.0215e-21 /s;
    #   * 3.15576e10 s = 3.2237e-11; * 3 mm = 9.671e-14 m.
    outside(
        "thickening of a 3 mm pane in a millennium in m",
        got,
        9.671e-14,
        rel=2e-4,
        source="rho g H h t / (6 eta)",
        status="hand calculation",
    )
    # An atom of oxygen is some 1e-10 m across.
    assert got < 1e-3 * 1e-10


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: flow.thickening(-1, 1e20, 1, 1),
            "duration must be finite and positive; got -1 s",
        ),
    ],
)
def test_bad_input_gets_one_clear_sentence(call, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        call()


def test_published_estimates_fit_together(outside):
    found = {row.key: row for row in flow.flow_estimates()}
    # Tolerance: a power of ten was printed without a mantissa.
    outside(
        "decades between the frozen estimate of 1999 and the measurement of 2018",
        np.log10(found["ZanottoGupta1999"].viscosity / found["Gulbiten2018"].viscosity),
        16,
        abs_=0.7,
        source="abstract of Gulbiten et al. 2018: 16 orders of magnitude lower",
        status="found",
    )


def test_flow_grows_with_time_and_height_and_falls_with_viscosity():
    base = flow.thickening(1e9, 1e20, 1.0, 3e-3)
    assert flow.thickening(2e9, 1e20, 3.0, 3e-3) == pytest.approx(6 * base.item(), rel=1e-12)
    assert flow.thickening(1e9, 1e22, 1.0, 3e-3) == pytest.approx(base.item() / 100, rel=1e-12)


def test_arrays_broadcast():
    assert flow.thickening([1.0, 2.0], [[1e20], [1e21], [1e22]], 1.0, 1e-3).shape == (3, 2)
