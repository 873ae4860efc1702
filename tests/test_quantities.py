# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit import quantities as q

KINDS = sorted(q.UNITS["metric"])


@pytest.mark.parametrize("system", q.SYSTEMS)
@pytest.mark.parametrize("kind", KINDS)
@given(value=st.floats(-1e12, 1e12))
def test_display_and_back_returns_the_same_number(kind, system, value):
    there = q.to_display(value, kind, system)
    back = q.from_display(there, kind, system).item()
    # Tolerance: two roundings in floating point, on the scale of the number and its offset.
    scale = abs(value) + abs(q.unit(kind, system).offset)
    assert back == pytest.approx(value, abs=1e-12 * scale + 1e-300)


@pytest.mark.parametrize(
    ("value", "kind", "expected", "source", "status"),
    [
        (1e6, "stress", 0.1450377, "NIST SP 811 app. B.8: 1 psi = 6.894757 kPa", "memory"),
        (1.0, "energy", 0.7375621, "NIST SP 811 app. B.8: 1 ft lbf = 1.355818 J", "memory"),
        (0.3048, "height", 1.0, "international yard and pound agreement, 1959", "exact"),
        (25.4e-6, "depth", 1.0, "1 mil = 0.001 in = 25.4 µm", "exact"),
        (373.15, "temperature", 212.0, "definition of the Fahrenheit scale", "exact"),
        (453.59237e-3, "small_mass", 16.0, "16 oz = 1 lb = 453.59237 g", "exact"),
    ],
)
def test_us_units_agree_with_published_factors(outside, value, kind, expected, source, status):
    got = q.to_display(value, kind, "us")
    # Tolerance: the published factors carry seven figures.
    outside(
        f"{value:g} SI as US {kind}", got, expected, rel=3e-7, source=source, status=status
    )


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (999.9, "1000"),
        (-0.5, "−0.500"),
        (123456, "123000"),
        (1e6, "1.00 × 10⁶"),
        (np.nan, "no number"),
        (-np.inf, "−∞"),
    ],
)
def test_numbers_are_written_as_readers_expect(value, text):
    assert q.show_number(value) == text


def test_percent_stands_close_and_other_units_stand_apart():
    assert q.show(0.25, "percent") == "25.0%"
    assert q.show(0.25, "height") == "0.250 m"
    assert q.show(3, "number") == "3.00"


@pytest.mark.parametrize(
    ("check", "value", "message"),
    [
        (q.positive, 0.0, "thickness must be finite and positive; got 0 m"),
        (q.positive, [1.0, -2.0], "thickness must be finite and positive; got -2 m"),
        (q.positive, np.nan, "thickness must be finite and positive; got nan m"),
        (q.non_negative, -1.0, "thickness must be finite and zero or more; got -1 m"),
        (q.finite, np.inf, "thickness must be finite; got inf m"),
        (q.finite, "4 mm", "thickness must be a number in m; got '4 mm'"),
    ],
)
def test_bad_numbers_get_one_clear_sentence(check, value, message):
    with pytest.raises(ValueError) as caught:  # noqa: PT011
        check("thickness", value, "m")
    assert str(caught.value) == message


def test_range_and_choice_say_what_is_allowed():
    with pytest.raises(
        ValueError, match=r"^poisson must lie in 0 <= poisson <= 0.5; got 0.7$"
    ):
        q.in_range("poisson", 0.7, 0.0, 0.5)
    with pytest.raises(ValueError, match=r"^kind must be one of .*stress.*; got 'pressure'$"):
        q.unit("pressure")
    with pytest.raises(ValueError, match=r"^system must be one of metric, us; got 'cgs'$"):
        q.unit("stress", "cgs")
