# SPDX-License-Identifier: MIT
from collections import Counter, defaultdict
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.materials import glasses

BODIES = [
    *(glasses.glass(name) for name in glasses.glass_names()),
    *(glasses.solid(name) for name in glasses.solid_names()),
]
SODA_LIME = glasses.glass("soda-lime")
BULLETIN = "float-glass maker property bulletin, 2013"
NEEDED = {
    "glass": {
        *("density", "modulus", "poisson", "toughness", "hardness", "mohs", "expansion"),
        *("conductivity", "specific_heat", "refractive_index", "stress_optic"),
        *("strain_point", "annealing_point", "softening_point"),
    },
    "solid": {"density", "modulus", "poisson"},
}


def from_source(property_, source):
    """Return what one source says about soda-lime glass."""
    return next(
        row.value.value
        for row in glasses.table()
        if (row.material, row.property, row.value.source) == ("soda-lime", property_, source)
    )


# --- the table against itself ---------------------------------------------------------------


def test_exactly_one_number_of_each_property_is_chosen():
    chosen = Counter((row.material, row.property) for row in glasses.table() if row.chosen)
    every = {(row.material, row.property) for row in glasses.table()}
    assert set(chosen) == every
    assert set(chosen.values()) == {1}


def test_the_chosen_range_spans_every_published_number():
    spread = defaultdict(list)
    for row in glasses.table():
        spread[row.material, row.property].append(row)
    for key, rows in spread.items():
        chosen = next(row.value for row in rows if row.chosen)
        assert chosen.low == min(row.value.low for row in rows), key
        assert chosen.high == max(row.value.high for row in rows), key
        assert {row.value.unit for row in rows} == {chosen.unit}, key


def test_properties_are_attributes_and_no_row_is_lost():
    kinds = {"glass": glasses.Glass, "solid": glasses.Solid}
    for row in glasses.table():
        known = {field.name for field in fields(kinds[row.kind])} | glasses.BESIDE
        assert row.property in known, row


@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.name)
def test_records_hold_the_chosen_numbers_and_the_needed_ones_are_known(body):
    kind = "glass" if isinstance(body, glasses.Glass) else "solid"
    assert set(body.values) >= NEEDED[kind]
    for key in set(body.values) - glasses.BESIDE:
        assert getattr(body, key) == body.values[key].value, key


def test_viscosity_points_of_a_glass_come_in_their_order():
    for name in glasses.glass_names():
        points = glasses.glass(name)
        assert points.strain_point < points.annealing_point < points.softening_point, name


@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.name)
def test_quartz_is_the_hardest_thing_in_the_table(body):
    # Source: Mohs scale, mineralogy textbooks: quartz is 7 and scratches glass and steel.
    quartz = glasses.solid("quartz grain")
    if not np.isnan(body.mohs):
        assert body.mohs <= quartz.mohs
        assert body.hardness <= quartz.hardness


# --- the table against the outside ----------------------------------------------------------


def test_shear_modulus_is_what_the_standard_prints(outside):
    # Tolerance: printed as 29166 N/mm2, cut off and not rounded.
    outside(
        "shear modulus of soda-lime / GPa",
        SODA_LIME.shear_modulus / 1e9,
        29.166,
        rel=4e-5,
        source="EN 572-1, prints 29166 N/mm2 for 70 GPa and 0.2",
        status="found",
    )


@pytest.mark.parametrize("quantity", ["shear", "bulk"])
def test_elastic_constants_of_the_bulletin_agree_with_each_other(outside, quantity):
    float_glass = replace(
        SODA_LIME,
        modulus=from_source("modulus", BULLETIN),
        poisson=from_source("poisson", BULLETIN),
    )
    modulus, poisson = float_glass.modulus, float_glass.poisson
    got, expected = {
        "shear": (float_glass.shear_modulus, 30e9),
        "bulk": (modulus / (3 * (1 - 2 * poisson)), 43e9),
    }[quantity]
    # Tolerance: all four constants are printed to two figures, the Poisson ratio enters
    # the bulk modulus through 1 - 2 nu.
    outside(
        f"{quantity} modulus of float glass / GPa",
        got / 1e9,
        expected / 1e9,
        rel=0.04,
        source=BULLETIN,
        status="found",
    )


def test_stiffness_times_expansion_is_the_coefficient_of_thermal_stress(outside):
    got = from_source("modulus", BULLETIN) * from_source("expansion", BULLETIN)
    # Tolerance: two figures for each factor; 0.62 MPa/K is 50 psi per °F, so the product
    # was most likely rounded to one figure in US units.
    outside(
        "thermal stress of float glass / (MPa/K)",
        got / 1e6,
        0.62,
        rel=0.05,
        source=BULLETIN,
        status="found",
    )


def test_brittleness_is_what_indentation_finds(outside):
    # Tolerance: hardness and toughness carry two figures each.
    outside(
        "hardness over toughness of soda-lime / µm^-0.5",
        SODA_LIME.hardness / SODA_LIME.toughness / 1e3,
        7.1,
        rel=0.02,
        source="Sehgal & Ito, J. Am. Ceram. Soc. 81 (1998)",
        status="found",
    )


def test_energy_released_per_area_of_crack_is_what_is_quoted(outside):
    # Tolerance: the range quoted, 7 to 10 J/m2, taken as its middle and half its width.
    outside(
        "critical energy release rate of soda-lime / (J/m2)",
        2 * SODA_LIME.fracture_energy,
        8.5,
        abs_=1.5,
        source="Lawn (1993), Wiederhorn (1969) as quoted: 7 to 10",
        status="found",
    )


def test_fracture_energy_from_toughness_is_what_was_measured(outside):
    # Tolerance: the measured range, 3.8 to 4.1 J/m2 a face.
    outside(
        "fracture energy of soda-lime, one face / (J/m2)",
        SODA_LIME.fracture_energy,
        3.95,
        abs_=0.15,
        source="Wiederhorn, J. Am. Ceram. Soc. 52 (1969) 99: 3.8 to 4.1",
        status="memory",
    )


def test_vickers_number_of_the_table_is_the_hardness_in_pascals(outside):
    # 540 kgf/mm2 x 9.80665 N/kgf = 5.296 GPa. Tolerance: the table rounds to two figures.
    outside(
        "Vickers hardness of soda-lime / GPa",
        SODA_LIME.hardness / 1e9,
        540 * 9.80665e-3,
        rel=0.01,
        source="unsigned materials table, 540 HV",
        status="memory",
    )


def test_stress_optic_coefficient_is_the_formula_of_the_bulletin(outside):
    # stress / psi = 2.18 x retardation / nm / (thickness / in), so the coefficient is
    # 1e-9 / 0.0254 / (2.18 x 6894.757) 1/Pa = 2.619e-12 1/Pa. Tolerance: three figures.
    outside(
        "stress-optic coefficient of soda-lime / (1/TPa)",
        SODA_LIME.stress_optic * 1e12,
        1e-9 / 0.0254 / (2.18 * 6894.757) * 1e12,
        rel=2.5e-3,
        source=f"{BULLETIN}: 2.18 psi in/nm",
        status="found",
    )


def test_fused_silica_is_the_lightest_and_expands_least():
    # Source: every table of glasses; silica has no modifiers to weigh it down.
    silica, *rest = sorted(map(glasses.glass, glasses.glass_names()), key=lambda g: g.density)
    assert silica.name == "fused silica"
    assert all(silica.expansion < other.expansion for other in rest)
    assert all(silica.softening_point > other.softening_point for other in rest)


def test_wood_is_stiffer_along_the_grain_than_across():
    # Source: Wood Handbook; the ratio is ten to thirty.
    for wood in ("hardwood", "softwood"):
        along = glasses.solid(f"{wood} end grain")
        assert 8 < along.modulus / glasses.solid(wood).modulus < 40


# --- behaviour ------------------------------------------------------------------------------


@given(poisson=st.floats(0, 0.49), modulus=st.floats(1e6, 1e12))
def test_sideways_support_stiffens_and_shear_is_between_a_third_and_a_half(poisson, modulus):
    body = glasses.Solid(name="own", density=1.0, modulus=modulus, poisson=poisson)
    assert body.plane_strain_modulus >= modulus
    assert 1 / 3 < body.shear_modulus / modulus <= 0.5
    # Poisson ratio nought leaves the modulus as it is; the excess goes with its square.
    excess = 1 - modulus / body.plane_strain_modulus
    assert excess == pytest.approx(poisson**2, abs=1e-12)


@given(factor=st.floats(0.1, 10))
def test_fracture_energy_goes_with_the_square_of_toughness(factor):
    tougher = replace(SODA_LIME, toughness=factor * SODA_LIME.toughness)
    ratio = tougher.fracture_energy / SODA_LIME.fracture_energy
    assert ratio == pytest.approx(factor**2, rel=1e-12)


def test_a_variant_keeps_the_published_numbers_and_a_new_name_has_none():
    softer = replace(SODA_LIME, modulus=60e9)
    assert softer.values["modulus"].value == SODA_LIME.modulus
    assert replace(SODA_LIME, name="my own").values == {}
    assert softer != SODA_LIME


def test_records_cannot_be_changed():
    with pytest.raises(AttributeError):
        SODA_LIME.modulus = 1.0


@pytest.mark.parametrize(
    ("get", "message"),
    [
        (glasses.glass, r"^name must be one of soda-lime, .*, fused silica; got 'ice'$"),
        (glasses.solid, r"^name must be one of steel, .*, quartz grain; got 'ice'$"),
    ],
)
def test_an_unknown_name_lists_the_known_ones(get, message):
    with pytest.raises(ValueError, match=message):
        get("ice")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"density": 0.0}, r"^density must be finite and positive; got 0 kg/m\^3$"),
        ({"modulus": -1.0}, r"^modulus must be finite and positive; got -1 Pa$"),
        ({"poisson": 0.5}, r"^poisson must lie in 0 <= poisson < 0.5; got 0.5$"),
        ({"toughness": np.nan}, r"^toughness must be finite and positive; got nan Pa m\^0.5$"),
    ],
)
def test_an_impossible_variant_is_refused(change, message):
    with pytest.raises(ValueError, match=message):
        replace(SODA_LIME, **change)
