# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from benches import BAR, DENT, PANE, USUAL, held
from hypothesis import given
from hypothesis import strategies as st

from glasskit import tables
from glasskit.lab import METHODS, exact, from_readings, from_tolerance, reduce
from glasskit.quantities import UNITS, OutsideValidityWarning
from glasskit.strength import weibull
from glasskit.words.lab import simulation_sentence

INCH, POUND, PSI = 0.0254, 4.4482216, 6894.757


@pytest.fixture(scope="module")
def plates():
    rows = tables.read("bending_1900")
    names = ("load_lbf", "span_in", "width_in", "thickness_in")
    columns = (np.array([float(row[name]) for row in rows]) for name in names)
    scales = (POUND, INCH, INCH, INCH)
    load, span, width, thickness = (c * s for c, s in zip(columns, scales, strict=True))
    printed = np.array([float(row["modulus_of_rupture_psi_as_printed"]) for row in rows])
    blown = np.array([row["glass"].startswith("double") for row in rows])
    readings = {"force": load, "span": span, "width": width, "thickness": thickness}
    return readings, printed * PSI, blown


def test_every_printed_modulus_of_1900_with_its_budget(outside, plates):
    readings, printed, _ = plates
    # Printed to the pound, the quarter inch of span doubtful, and the last digit of each size.
    inputs = {
        "force": from_tolerance(readings["force"], 0.5 * POUND),
        "span": exact(readings["span"]),
        "width": from_tolerance(readings["width"], 0.005 * INCH),
        "thickness": from_tolerance(readings["thickness"], 0.0005 * INCH),
    }
    found = reduce("three_point_bar", inputs)
    for number, (ours, theirs) in enumerate(zip(found.value, printed, strict=True), start=1):
        outside(
            f"modulus of rupture of plate {number}",
            ours,
            theirs,
            rel=1.3e-3,  # printed to 10 psi
            source="Tests of Metals, Watertown Arsenal 1900, pages 629 and 632",
            status="found",
        )
    off = np.sort(np.abs(found.value / printed - 1))
    assert off[-2] < 1e-3  # plate 21 alone is 0.12 % off
    assert found.broken == ()
    share = found.budget.standard / found.value
    assert share.max() < 0.02
    # Thin blown glass under 20 lbf: the force printed to the pound rules.
    assert found.budget.shares[4].argmax() == found.budget.names.index("force")


def test_pooling_the_plates_of_1900_hides_two_populations(plates):
    _, printed, blown = plates
    pooled = weibull.fit_weibull(printed)
    wired = weibull.fit_weibull(printed[~blown])
    assert pooled.modulus < 0.75 * wired.modulus
    # The pooled modulus lies below all that the wired plates allow at 80 %.
    assert pooled.modulus < wired.interval(0.8)[0]


@pytest.mark.parametrize("name", METHODS)
def test_ordinary_readings_break_no_limit(name):
    method = METHODS[name]
    found = reduce(name, USUAL[name])
    assert [item.words for item in found.broken] == []
    assert found.value.shape == ()
    assert method.kind in UNITS["metric"]
    assert all(item.kind in UNITS["metric"] for item in method.readings.values())
    known = {row["key"] for row in tables.read("references")}
    assert method.reference in known


@pytest.mark.parametrize("name", METHODS)
def test_budget_and_simulation_agree_for_small_uncertainties(name):
    inputs = {
        key: from_tolerance(value, 0.01 * abs(value)) for key, value in USUAL[name].items()
    }
    usual = {
        key: exact(item.usual.value)
        for key, item in METHODS[name].readings.items()
        if item.usual is not None
    }
    found = reduce(name, inputs | usual)
    drawn = found.simulate(np.random.default_rng(3), 20_000)
    assert drawn.standard == pytest.approx(found.budget.standard, rel=0.03)


@pytest.mark.parametrize(
    ("name", "changed", "words"),
    [
        ("four_point_bar", {"thickness": 15e-3}, "span below ten depths"),
        ("four_point_bar", {"inner_span": 0.02}, "between a third and a half"),
        ("four_point_pane", {"outer_span": 0.8}, "the standard's rig"),
        ("four_point_pane", {"factor": 2.0}, "near 1"),
        ("four_point_pane", {"thickness": 2e-3, "force": 150.0}, "sagged by more"),
        ("three_point_bar", {"thickness": 0.2e-3, "force": 3.0}, "sagged by more"),
        ("ring_on_ring", {"thickness": 0.5e-3, "force": 60.0}, "stretched"),
        ("ring_on_ring", {"thickness": 8e-3}, "no longer a thin plate"),
        ("ring_on_ring", {"load_diameter": 30e-3}, "load ring outside"),
        ("ring_on_ring", {"plate_diameter": 46e-3}, "overhang"),
        ("buoyancy", {"immersed": 5e-3}, "no common glass"),
        ("buoyancy", {"mass": 2e-3, "immersed": 1.2e-3}, "less than a gram"),
        ("vickers", {"diagonal": 10e-6}, "below 20 µm"),
        ("dent_toughness", {"crack": 90e-6}, "half-penny"),
        ("dent_toughness", {"surface_compression": 500e6}, "do not belong together"),
        ("mirror", {"radius": 20e-3}, "above 10 mm"),
        ("edge_retardation", {"retardation": 3e-6}, "more than five waves"),
        ("surface_polarimeter", {"tilt": 1.45}, "tilt above 80"),
    ],
)
def test_a_broken_limit_is_said_in_words(name, changed, words):
    found = reduce(name, USUAL[name] | changed)
    assert any(words in item.words for item in found.broken)


def test_a_limit_names_the_specimens_that_break_it():
    found = reduce("four_point_bar", BAR | {"thickness": [4e-3, 15e-3, 5e-3]})
    assert found.broken[0].where.tolist() == [False, True, False]
    assert found.value.shape == (3,)


def test_toughness_is_no_surer_than_its_constant(outside):
    found = reduce("dent_toughness", DENT)
    outside(
        "relative uncertainty",
        found.budget.standard / found.value,
        0.25,
        abs_=0.005,
        source="Anstis 1981: constant 0.016 with a spread of 0.004",
        status="found",
    )


def test_one_tolerance_by_hand(outside):
    # sigma = 3 F L/(2 b h^2): 1 % of the thickness alone is 2 % of the stress.
    inputs = USUAL["three_point_bar"] | {"thickness": from_tolerance(4e-3, 0.04e-3)}
    found = reduce("three_point_bar", inputs)
    outside(
        "relative uncertainty",
        found.budget.standard / found.value,
        0.02 / np.sqrt(3),
        rel=1e-5,
        source="2 x 1 % / sqrt(3)",
        status="hand calculation",
    )


@given(st.floats(1.0, 1000.0), st.floats(0.5, 3.0))
def test_stress_scales_with_force(force, factor):
    one = reduce("four_point_bar", BAR | {"force": force})
    more = reduce("four_point_bar", BAR | {"force": factor * force})
    assert more.value == pytest.approx(factor * one.value)


def test_a_pane_bears_its_own_weight_too(outside):
    found = reduce("four_point_pane", PANE)
    # Source: hand calculation from formulas 1 and 2 of Peters et al. 2023:
    #   500 * 3 * 0.8 / (2 * 0.36 * 0.006**2) = 46.2963 MPa;
    #   3 * 2500 * 9.80665 * 1 / (4 * 0.006) = 3.06458 MPa.
    source = "EN 1288-3 as quoted by Peters et al. 2023, by hand"
    outside("pane", found.value, 49.3609e6, rel=1e-5, source=source, status="found")
    edge = reduce("four_point_pane", PANE | {"factor": 1.05})
    assert edge.value == pytest.approx(1.05 * found.value)


@pytest.mark.parametrize("name", list(METHODS))
def test_draws_with_the_usual_constants_never_crash(name):
    reduction = reduce(name, USUAL[name])
    for seed in range(10):
        drawn = reduction.simulate(np.random.default_rng(seed), 20_000)
        assert np.isfinite(drawn.draws).all()
        assert drawn.impossible < 1e-3


def test_two_mirrors_are_drawn_and_their_impossible_draws_counted(outside):
    found = reduce("mirror", {"radius": from_readings([0.20e-3, 0.35e-3])})
    drawn = found.simulate(np.random.default_rng(1))
    # Source: hand calculation; Student's law of one degree is Cauchy's, mean 0.275 mm,
    # standard error 0.075 mm: 1/2 - arctan(0.275/0.075)/pi.
    outside(
        "share of radii below zero",
        drawn.impossible,
        0.0847,
        abs_=0.003,
        source="Cauchy's distribution function",
        status="exact",
    )
    assert drawn.interval()[0] > 0
    said = simulation_sentence(drawn, "stress")
    assert said.startswith("Drawn 100,000 times: 95% lie from ")
    assert "8.4% of the draws of a reading were zero or less, and were drawn anew" in said
    assert said.endswith("how sure it is, is doubtful.")
    assert found.budget.interval()[0] < 0
    assert "to first order reaches zero" in found.broken[0].words


def test_millimetres_for_metres_are_doubted():
    bar = {key: 1e3 * value for key, value in BAR.items() if key != "force"}
    with pytest.warns(OutsideValidityWarning, match="thickness is 4 m: was 4 mm meant?"):
        found = reduce("four_point_bar", {**bar, "force": 300.0})
    assert any("see the units" in limit.words for limit in found.broken)


def test_a_glass_bar_of_a_textbook(outside):
    # Source: a solved problem on a teaching page: 300 N, supports 44 mm apart, 11 mm wide,
    # 5.3 mm thick: 64.08 MPa.
    bar = {"force": 300.0, "span": 44e-3, "width": 11e-3, "thickness": 5.3e-3}
    outside(
        "glass bar in three-point bend / MPa",
        reduce("three_point_bar", bar).value / 1e6,
        64.08,
        abs_=5e-3,
        source="a teaching page's solved problem",
        status="found",
    )


def test_intervals_of_every_method_hold_what_is_true():
    # A flat tolerance that rules the budget makes the interval to first order too wide.
    rng = np.random.default_rng(8)
    printed = {card["method"]: card["coverage"] for card in tables.read("test_cards")}
    for name in METHODS:
        # Tolerance: four standard errors of 4,000 sets at 95 %.
        counted = held(name, 4000, rng, repeats=5)
        assert counted == pytest.approx(float(printed[name]) / 100, abs=0.014), name
        assert counted >= 0.93, name
    # 95 % of 300, give or take four standard errors.
    for name in ("four_point_bar", "dent_toughness", "mirror"):
        assert 0.90 <= held(name, 300, rng, trials=1000) <= 0.997, name


def test_few_readings_that_rule_are_said():
    few, enough = np.array([58.0, 59.0, 57.5]) * 1e-6, np.linspace(57e-6, 59e-6, 5)
    told = reduce("vickers", {"load": 9.8, "diagonal": from_readings(few)})
    assert [one.words[:24] for one in told.broken] == ["fewer than five readings"]
    assert not reduce("vickers", {"load": 9.8, "diagonal": from_readings(enough)}).broken
    rough = {"load": from_tolerance(9.8, 2.0), "diagonal": from_readings(few)}
    assert not reduce("vickers", rough).broken  # the load rules
    rng = np.random.default_rng(9)
    assert 0.90 < held("vickers", 10_000, rng) < 0.94  # three readings
    assert 0.86 < held("vickers", 10_000, rng, repeats=2) < 0.91


def test_refusals():
    with pytest.raises(ValueError, match="method must be one of"):
        reduce("five_point_bar", BAR)
    with pytest.raises(ValueError, match="readings must hold thickness"):
        reduce("four_point_bar", {key: BAR[key] for key in BAR if key != "thickness"})
    with pytest.raises(ValueError, match="reading must be one of"):
        reduce("four_point_bar", BAR | {"height": 1.0})
    with pytest.raises(ValueError, match="value must be finite"):
        exact(np.nan)


def test_every_method_has_one_test_card_and_no_card_is_left_blank():
    cards = tables.read("test_cards")
    assert sorted(card["method"] for card in cards if card["method"]) == sorted(METHODS)
    for card in cards:
        assert all(card[name] for name in card if name != "method"), card["test"]
        assert card["status"] in tables.STATUSES
        assert card["example_status"] in ("none", *tables.STATUSES)
        assert card["example"].startswith("none seen") == (card["example_status"] == "none")
        if card["method"]:
            assert card["formula"] == METHODS[card["method"]].formula
