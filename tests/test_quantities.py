# SPDX-License-Identifier: MIT
import numpy as np
import pytest
import scipy
import scipy.constants as si
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


# What one of each display unit is in SI, put together from the units of scipy.constants.
FACTORS = {
    "pm": si.pico,
    "nm": si.nano,
    "µm": si.micro,
    "mm": si.milli,
    "m": 1.0,
    "mil": si.mil,
    "in": si.inch,
    "ft": si.foot,
    "m/s": 1.0,
    "ft/s": si.foot,
    "g": si.gram,
    "kg": 1.0,
    "oz": si.ounce,
    "lb": si.pound,
    "N": 1.0,
    "kN": si.kilo,
    "lbf": si.lbf,
    "MPa": si.mega,
    "GPa": si.giga,
    "ksi": si.kilo * si.psi,
    "Msi": si.mega * si.psi,
    "MPa√m": si.mega,
    "ksi√in": si.kilo * si.psi * si.inch**0.5,
    "J": 1.0,
    "J/m²": 1.0,
    "ft·lbf": si.foot * si.lbf,
    "ft·lbf/ft²": si.lbf / si.foot,
    "kg/m³": 1.0,
    "lb/ft³": si.pound / si.foot**3,
    "K": 1.0,
    "°C": 1.0,
    "°F": si.degree_Fahrenheit,
    "W/(m²·K)": 1.0,
    "Btu/(h·ft²·°F)": si.Btu_IT / (si.hour * si.foot**2 * si.degree_Fahrenheit),
    "µs": si.micro,
    "ms": si.milli,
    "s": 1.0,
    "h": si.hour,
    "years": si.Julian_year,
    "1/TPa": si.pico,
    "%": 0.01,
    "°": si.degree,
    "": 1.0,
}


@pytest.mark.parametrize("system", q.SYSTEMS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_display_unit_is_as_large_as_its_symbol_says(outside, kind, system):
    symbol = q.unit(kind, system).symbol
    outside(
        f"one {symbol or 'unit'} in SI, {kind}, {system}",
        q.from_display(1.0, kind, system) - q.from_display(0.0, kind, system),
        FACTORS[symbol],
        rel=1e-12,
        source=f"scipy.constants {scipy.__version__}, unit by unit",
        status="found",
    )
    if kind != "temperature":
        assert q.from_display(0.0, kind, system) == 0.0


@pytest.mark.parametrize(
    ("kelvin", "celsius", "fahrenheit"),
    [(0.0, -273.15, -459.67), (233.15, -40.0, -40.0), (273.15, 0.0, 32.0), (373.15, 100, 212)],
)
def test_temperatures_at_the_fixed_points(outside, kelvin, celsius, fahrenheit):
    for system, expected in (("metric", celsius), ("us", fahrenheit)):
        outside(
            f"{kelvin:g} K, {system}",
            q.to_display(kelvin, "temperature", system),
            expected,
            abs_=1e-10,
            source="definition of the Celsius and Fahrenheit scales",
            status="exact",
        )


@pytest.mark.parametrize(
    ("kind", "factor"),
    [
        ("stress", 6.894757e6),
        ("toughness", 1.098843e6),
        ("small_mass", 2.834952e-2),
        ("mass", 4.535924e-1),
        ("force", 4.448222),
        ("energy", 1.355818),
        ("area_energy", 14.59390),
        ("density", 16.01846),
        ("heat_transfer", 5.678263),
    ],
)
def test_us_units_agree_with_printed_factors(outside, kind, factor):
    outside(
        f"one US unit of {kind} in SI",
        q.from_display(1.0, kind, "us"),
        factor,
        # Tolerance: printed to seven figures.
        rel=5e-7,
        source="NIST SP 811 app. B.8; toughness from its psi and in",
        status="memory",
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


def test_the_limits_themselves_are_allowed():
    assert q.non_negative("gap", [0.0, 0.5]).tolist() == [0.0, 0.5]
    assert q.in_range("share", [0.0, 0.25, 1.0], 0.0, 1.0).tolist() == [0.0, 0.25, 1.0]
    assert q.positive("depth", 1e-9).item() == 1e-9


@pytest.mark.parametrize("value", [-0.1, 1.1, np.nan, np.inf, -np.inf])
def test_beyond_the_limits_nothing_is(value):
    with pytest.raises(
        ValueError, match=rf"^share must lie in 0 <= share <= 1; got {value:g}"
    ):
        q.in_range("share", [0.5, value], 0.0, 1.0)


def test_read_only_copies_cannot_be_changed_and_leave_the_original_alone():
    mine = np.zeros(3)
    kept, one = q.read_only(mine, 1.0)
    mine[0] = 5.0
    assert kept.tolist() == [0.0, 0.0, 0.0]
    assert one.tolist() == [1.0, 1.0, 1.0]
    for array in (kept, one):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1.0
