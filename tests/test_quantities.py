# SPDX-License-Identifier: MIT
import re
from fractions import Fraction

import numpy as np
import pytest
import scipy
import scipy.constants as si
from hypothesis import given
from hypothesis import strategies as st

from glasskit import crack, impact, materials, stress, toughening
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
    "m/s²": 1.0,
    "ft/s²": si.foot,
    "g": si.gram,
    "kg": 1.0,
    "oz": si.ounce,
    "lb": si.pound,
    "N": 1.0,
    "kN": si.kilo,
    "lbf": si.lbf,
    "MPa": si.mega,
    "MPa/s": si.mega,
    "ksi/s": si.kilo * si.psi,
    "GPa": si.giga,
    "psi": si.psi,
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
    "10⁻⁶/K": 1e-6,
    "10⁻⁶/°F": 1e-6 / si.degree_Fahrenheit,
    "W/(m²·K)": 1.0,
    "Btu/(h·ft²·°F)": si.Btu_IT / (si.hour * si.foot**2 * si.degree_Fahrenheit),
    "µs": si.micro,
    "ms": si.milli,
    "s": 1.0,
    "Hz": 1.0,
    "h": si.hour,
    "years": si.Julian_year,
    "1/TPa": si.pico,
    "1/m": 1.0,
    "1/in": 1 / si.inch,
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
        (0.00012344, "0.000123"),
        (0.000012344, "1.23 × 10⁻⁵"),
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
    with pytest.raises(ValueError, match=r"^kind must be one of .*stress.*; got 'colour'$"):
        q.unit("colour")
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


# --- numbers as people type them ------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("2 kN", "force", 2000.0),
        (" 2,5mm ", "height", 2.5e-3),
        ("40 um", "depth", 40e-6),
        ("40 μm", "depth", 40e-6),  # Greek letter, not the sign
        ("1e3 N", "force", 1000.0),
        ("−3.5 MPa", "stress", -3.5e6),
        (".5 J", "energy", 0.5),
        ("35 %", "percent", 0.35),
        ("3", "number", 3.0),
        ("1 ft", "height", 0.3048),
        ("12 psi", "stress", 82737.08751802),  # 6894.757 Pa a psi: NIST SP 811
        ("0.75 MPa m^0.5", "toughness", 0.75e6),
        ("550 °C", "temperature", 823.15),
        ("77", "number", 77.0),
    ],
)
def test_numbers_are_read_as_people_type_them(text, kind, expected):
    assert q.typed(text, kind) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("text", ["", "many", "2", "2 kg", "2 3 N", "N"])
def test_what_cannot_be_read_says_what_could(text):
    with pytest.raises(
        ValueError, match=r"^write a number with one of the units N, kN, lbf, .*; got “"
    ):
        q.typed(text, "force")


@pytest.mark.parametrize(
    ("text", "system", "expected"),
    [("48,5", "metric", 48.5e6), ("2", "us", 2e3 * 6894.757293)],
)
def test_a_bare_number_is_in_the_unit_shown(text, system, expected):
    assert q.typed(text, "stress", system) == pytest.approx(expected, rel=1e-9)
    with pytest.raises(
        ValueError, match=r"^write a number in .*, or one with its unit; got “much”$"
    ):
        q.typed("much", "stress", system)


@pytest.mark.parametrize("text", ["", "inf", "1e999", "1.2.3", "1,2.3", "１.０", "٣"])
def test_what_is_no_finite_number_is_refused(text):
    with pytest.raises(ValueError, match=r"^write a number; got “"):
        q.typed(text, "number")


@pytest.mark.parametrize("kind", q.UNITS["metric"])
def test_what_is_shown_can_be_typed(kind):
    for system in q.SYSTEMS:
        shown = q.show(q.from_display(12.5, kind, system), kind, system)
        assert q.typed(shown, kind, system) == pytest.approx(
            q.from_display(12.5, kind, system).item()
        )


@pytest.mark.parametrize(
    "value",
    [3, [1, 2], Fraction(1, 2), [Fraction(1, 3), 2.5], np.float32(0.1), np.arange(3), []],
)
def test_whatever_is_a_real_number_becomes_a_float(value):
    got = q.numbers("share", value)
    assert got.dtype == np.float64
    assert got.tolist() == np.vectorize(float, otypes=[float])(value).tolist()


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (True, "a number; got True"),
        ([1.0, None], "a number; got [1.0, None]"),
        ([Fraction(1, 2), True], "a number; got [Fraction(1, 2), True]"),
        ([[1.0], [1.0, 2.0]], "a number; got [[1.0], [1.0, 2.0]]"),
        (1j, "a number; got 1j"),
        (10**400, "a number; got one beyond 1.8e308"),
        (np.ma.masked_array([1.0, 2.0], [True, False]), "a number; got a masked array, so "),
        ("x" * 58, f"a number; got '{'x' * 58}'"),
        ("x" * 59, f"a number; got '{'x' * 56}..."),
    ],
)
def test_whatever_is_none_is_shown_and_refused(value, said):
    with pytest.raises(ValueError, match=re.escape(f"share must be {said}")) as caught:
        q.numbers("share", value)
    assert len(str(caught.value)) < 100


def test_infinity_passes_only_where_it_may():
    assert q.positive("thickness", [1.0, np.inf], "m", infinite=True)[1] == np.inf
    for value in (0.0, -np.inf, np.nan):
        with pytest.raises(ValueError, match=r"^thickness must be positive; got"):
            q.positive("thickness", value, "m", infinite=True)


def test_limits_that_are_left_out():
    assert q.within("share", [1e-9, 1 - 1e-9], 0.0, 1.0).shape == (2,)
    for value in (0.0, 1.0, -0.1, 1.1, np.nan):
        with pytest.raises(
            ValueError, match=rf"^share must lie in 0 < share < 1; got {value:g}"
        ):
            q.within("share", value, 0.0, 1.0)


@pytest.mark.parametrize("value", [1, 5, 5.0, np.int64(3), np.float64(4)])
def test_counts_may_be_written_as_floats(value):
    assert q.whole("panes", value, 1, 5) == value
    assert isinstance(q.whole("panes", value, 1, 5), int)


@pytest.mark.parametrize(
    "value", [0, 6, 2.5, True, "3", np.nan, np.inf, np.timedelta64(2, "s")]
)
def test_what_counts_nothing_is_refused(value):
    with pytest.raises(
        ValueError, match=r"^panes must be a whole number, 1 <= panes <= 5; got"
    ):
        q.whole("panes", value, 1, 5)


def test_a_seed_is_any_whole_number_that_a_generator_takes():
    assert q.whole("seed", 0) == 0
    assert q.whole("seed", 2**32 - 1) == 4294967295
    for value in (-1, 2**32):
        with pytest.raises(
            ValueError, match=r"^seed must be a whole number, 0 <= seed <= 4294"
        ):
            q.whole("seed", value)


STEEL = materials.solid("steel")


def pane(*, length=0.3, thickness=4e-3):
    made_of = materials.glass("soda-lime")
    return impact.Pane(length=length, width=0.3, thickness=thickness, glass=made_of)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (
            lambda: crack.griffith_strength(20e-6, 0.75),
            "0.75 Pa√m: was 0.75 MPa√m",
        ),
        (lambda: crack.griffith_strength(20.0, 0.75e6), "depth is 20 m: was 20 µm"),
        (lambda: crack.griffith_depth(45.0, 0.75e6), "strength is 45 Pa: was 45 MPa"),
        (lambda: crack.breaking_stress(0.0, 20e-6, 0.75), "was 0.75 MPa√m"),
        (lambda: stress.tempered(100, 6e-3), "surface_compression is 100 Pa: was 100 MPa"),
        (lambda: stress.tempered(100e6, 6), "thickness is 6 m: was 6 mm"),
        (lambda: stress.annealed(4), "thickness is 4 m: was 4 mm"),
        (lambda: impact.drop_energy(227, 1), "mass is 227 kg: was 227 g"),
        (lambda: pane(length=300.0), "length is 300 m: was 300 mm"),
        (lambda: pane(thickness=4.0), "thickness is 4 m: was 4 mm"),
        (lambda: impact.Ball(radius=19.0, solid=STEEL), "radius is 19 m: was 19 mm"),
    ],
)
def test_a_number_that_looks_like_another_unit_is_doubted(call, said):
    with pytest.warns(q.OutsideValidityWarning, match=re.escape(said)):
        call()


def test_a_number_that_is_merely_unusual_is_not_doubted():
    crack.griffith_strength([1e-9, 1e-3], [1e5, 150e6])  # no warning, or the test fails
    stress.tempered(10e6, 0.1)
    impact.drop_energy([0.0, 50.0], 1.0)


def test_a_bath_in_degrees_is_doubted():
    with pytest.warns(q.OutsideValidityWarning) as said:
        toughening.diffusivity(450.0)
    assert "temperature is 450 K: was 450 °C meant?" in [str(item.message) for item in said]
