# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pictures import LOOKS, faults

from glasskit.draw import flow as flow_drawing
from glasskit.draw import salt_bath as bath_drawing
from glasskit.draw.flow import FlowScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, still
from glasskit.draw.salt_bath import BathScene
from glasskit.live.flow import flow_explorer
from glasskit.live.salt_bath import bath_explorer
from glasskit.materials import FlowState, flow, melt_names
from glasskit.quantities import show
from glasskit.toughening import SaltBath, bath_glasses, salt_bath
from glasskit.words import flow as flow_words
from glasskit.words import salt_bath as bath_words

C, HOUR, YEAR = 273.15, 3600.0, 31557600.0
MILD = {"glass": "soda-lime", "time": 8 * HOUR, "temperature": 450 + C, "thickness": 2e-3}


# --- salt bath ------------------------------------------------------------------------------


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(("glass", "end"), [("soda-lime", 0), ("aluminosilicate", 1)])
def test_no_text_of_the_bath_is_cut_off_or_overlaps(look, glass, end):
    bath = SaltBath(
        glass=glass,
        time=bath_drawing.HOURS[end],
        temperature=bath_drawing.HEAT[end],
        thickness=(6e-3, 0.8e-3)[end],
    )
    assert faults(BathScene(), bath, look) == []


def test_dots_of_potassium_follow_the_share():
    # Source: the share itself; 288 dots scatter by a few.
    bath = SaltBath(**MILD | {"glass": "aluminosilicate", "time": 48 * HOUR})
    figure = still(BathScene(), bath, Look(), SCREEN)
    sizes = figure.axes[0].collections[0].get_sizes()
    depth = np.linspace(0, bath_drawing.deepest(bath), 2001)
    expected = bath.share(depth).mean()
    assert (sizes > 40).mean() == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("squeeze", [400e6, 550e6])
def test_the_patch_holds_the_baths_that_are_as_wanted(look, squeeze):
    bath = SaltBath(**MILD, wanted_squeeze=squeeze, wanted_depth=15e-6)
    figure = still(BathScene(), bath, look, SCREEN)
    chart = figure.axes[2]
    (patch,) = chart.patches
    for hours in (2, 9, 20, 40):
        for celsius in range(385, 470, 12):
            settings = {"time": hours * HOUR, "temperature": celsius + C}
            other = SaltBath(
                **MILD | settings, wanted_squeeze=squeeze, wanted_depth=bath.wanted_depth
            )
            outcome = other.outcome
            near = abs(outcome.case_depth / other.wanted_depth - 1) < 0.02
            if near or abs(outcome.surface_compression / squeeze - 1) < 0.02:
                continue  # on the outline, as far as the map is fine
            heat = look.shown(celsius + C, "temperature")
            inside = patch.get_path().contains_point((hours, heat))
            assert inside == (other.hard_enough and other.deep_enough), (hours, celsius)


def test_a_grade_that_no_bath_meets_leaves_no_patch():
    bath = SaltBath(**MILD, wanted_squeeze=900e6, wanted_depth=15e-6)
    (patch,) = still(BathScene(), bath, Look(), SCREEN).axes[2].patches
    assert np.isnan(patch.get_xy()).all()
    assert bath_words.bath_verdict(bath, "metric").startswith("Too weak: ")


def test_bath_sentence_and_numbers_say_what_came_out():
    bath = SaltBath(**MILD)
    said = bath_words.sentence(bath)
    assert "450 °C" in said
    assert show(bath.outcome.surface_compression, "stress", digits=2) in said
    assert "allows 8.7 to 20 µm and 310 to 660 MPa" in said
    assert "common practice" in dict(bath_words.numbers(bath))["diffusivity"]
    assert bath_words.coefficient_table().count("from memory") == 9
    assert "ksi" in bath_words.sentence(bath, "us")
    cooked = SaltBath(**MILD | {"time": 3000 * HOUR, "temperature": 470 + C})
    assert "let go of its squeeze" in bath_words.sentence(cooked)


def test_the_range_is_that_of_its_cases_one_by_one():
    # Source: independent method: `squeeze` and `trade_off` for each case by itself.
    bath = SaltBath(**MILD)
    settings = (bath.time, bath.temperature, bath.thickness)
    depth = np.array([0.0, 5e-6, 12e-6])
    one_by_one = [
        salt_bath.squeeze(depth, *settings, case) for case in bath_glasses.cases(bath.glass)
    ]
    deep = [
        salt_bath.trade_off(*settings, case).case_depth
        for case in bath_glasses.cases(bath.glass)
    ]
    expected = np.quantile(one_by_one, [0.1, 0.9], axis=0)
    assert np.array(bath.squeeze_range(depth)) == pytest.approx(expected, rel=1e-9)
    assert bath.depth_range == pytest.approx(np.quantile(deep, [0.1, 0.9]), rel=1e-6)


@pytest.mark.parametrize("celsius", [420, 450, 475, 500])
def test_the_range_encloses_what_is_shown_and_widens_with_heat(celsius):
    bath = SaltBath(**MILD | {"temperature": celsius + C, "time": 24 * HOUR})
    depth = np.linspace(0, 8e-6, 9)
    least, most = bath.squeeze_range(depth)
    assert (least < bath.squeeze(depth)).all()
    assert (bath.squeeze(depth) < most).all()
    low, high = bath.depth_range
    assert low < bath.outcome.case_depth < high
    # The relaxation, known to a decade, counts the more the hotter the bath.
    mild = SaltBath(**MILD | {"time": 24 * HOUR}).squeeze_range(0.0)
    if celsius > 450:
        assert most[0] / max(least[0], 1.0) > 1.2 * mild[1] / mild[0]


def test_a_longer_bath_is_deeper_and_weaker_in_the_explorer():
    explorer = bath_explorer()
    before, picture = explorer.result.outcome, explorer.image.value
    explorer.controls["time"].value = 48 * HOUR
    after = explorer.result.outcome
    assert after.case_depth > before.case_depth
    assert after.surface_compression < before.surface_compression
    assert explorer.image.value != picture
    assert explorer.note.value == ""


def test_ends_of_the_bath_sliders_work_without_warning():
    explorer = bath_explorer()
    explorer.controls["glass"].menu.value = "cover glass"
    explorer.controls["thickness"].value = 0.8e-3
    for time in bath_drawing.HOURS:
        for heat in bath_drawing.HEAT:
            explorer.controls["time"].value = time
            explorer.controls["temperature"].value = heat
            assert explorer.note.value == ""
            assert explorer.result.time == pytest.approx(time)


# --- flow -----------------------------------------------------------------------------------


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("glass", ["window", "borosilicate", "srm 711"])
def test_no_text_of_the_viscosity_is_cut_off_or_overlaps(look, glass):
    state = FlowState(glass=glass, temperature=flow_drawing.HEAT[0])
    assert faults(FlowScene(), state, look) == []


@settings(max_examples=40)
@given(glass=st.sampled_from(melt_names()), celsius=st.floats(20, 1400))
def test_flow_sentence_is_one_sentence_that_fits_the_state(glass, celsius):
    state = FlowState(glass=glass, temperature=celsius + C)
    said = flow_words.sentence(state)
    assert said.endswith(".")
    assert ("solid" in said) == state.frozen
    assert len(flow_words.numbers(state)) == 5


@pytest.mark.parametrize(
    ("time", "text"),
    [
        (1e-6, "1 µs"),
        (1.0, "1 s"),
        (90.0, "1.5 minutes"),
        (4000.0, "1.1 hours"),
        (20 * YEAR, "20 years"),
        (4.2e6 * YEAR, "10⁷ years"),
    ],
)
def test_times_are_written_as_people_say_them(time, text):
    assert flow_words.duration(time) == text


def test_the_window_has_not_flowed_in_any_published_estimate():
    for row in flow.flow_estimates():
        if row.flows:
            grown = flow.thickening(1000 * YEAR, row.viscosity, 1.0, 3e-3)
            # Source: an atom is about 1e-10 m wide.
            assert grown < 1e-10
    table = flow_words.estimate_table()
    assert table.count("not flow") == 1
    assert table.count("\n") == 1 + len(flow.flow_estimates())
    assert "10³² years" in table
    assert "10²³ years" in table


def test_cooling_in_the_explorer_turns_the_liquid_into_a_solid():
    explorer = flow_explorer()
    assert "sags" in explorer.said
    explorer.controls["temperature"].value = 20 + C
    assert "is a solid" in explorer.said
    assert "no meaning here" in explorer.words.value
    explorer.reset()
    assert "sags" in explorer.said
