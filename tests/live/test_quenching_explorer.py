# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pictures import LOOKS, faults

from glasskit import stress
from glasskit.draw.look import Look
from glasskit.draw.picture import SLIDE, layout_faults, still
from glasskit.draw.quenching import KindsScene, QuenchScene
from glasskit.live.quenching import kinds_explorer, quench_explorer
from glasskit.materials import glass
from glasskit.quantities import show
from glasskit.toughening import quenching
from glasskit.words import quenching as words

PANE = glass("soda-lime")


def blown(thickness=6e-3, heat_transfer=200.0, start=923.15):
    return quenching.quench(thickness, start, heat_transfer, PANE)


def both(thickness=4e-3):
    return stress.exchanged(700e6, 40e-6, thickness), blown(thickness, 300.0).profile


# --- words ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("squeeze", "said"),
    [
        (23e6, "too little to count as heat-strengthened"),
        (24e6, "heat-strengthened"),
        (52e6, "heat-strengthened"),
        (60e6, "between heat-strengthened and fully toughened"),
        (69e6, "fully toughened"),
    ],
)
def test_grades_follow_the_standard(squeeze, said):
    # Source: ASTM C1048, found: kind HS 24 to 52 MPa, kind FT 69 MPa or more.
    assert words.grade(squeeze) == said


@settings(max_examples=20, deadline=None)
@given(
    thickness=st.floats(3e-3, 12e-3),
    heat_transfer=st.floats(20.0, 300.0),
    start=st.floats(833.15, 953.15),
    system=st.sampled_from(["metric", "us"]),
)
def test_the_sentence_carries_the_numbers_of_the_quench(
    thickness, heat_transfer, start, system
):
    got = blown(thickness, heat_transfer, start)
    said = words.sentence(got, system)
    for value, kind in (
        (-got.profile.surface, "stress"),
        (got.profile.centre, "stress"),
        (got.profile.case_depth, "thickness"),
        (got.surface_tension, "stress"),
    ):
        assert show(value, kind, system, 2) in said
    assert ("crack" in said) == (got.surface_tension >= 19e6)
    assert all(text for _, text in words.numbers(got, system))


def test_the_two_kinds_are_told_apart_in_one_sentence():
    bath, quench = both()
    said = words.kinds_sentence((bath, quench))
    assert "skin of 40 µm by a stress of 700 MPa" in said
    assert f"{quench.case_depth / bath.case_depth:.0f} times as deep" in said
    assert len(words.kinds_numbers((bath, quench))) == 6


# --- pictures -------------------------------------------------------------------------------


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(
    "result",
    [blown(), blown(12e-3, 300.0, 953.15), blown(3e-3, 20.0), blown(6e-3, 200.0, 833.15)],
    ids=["usual", "hardest", "mildest", "too cold"],
)
def test_no_word_is_cut_off_or_covered_in_the_quench(look, result):
    assert faults(QuenchScene(), result, look) == []


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("thickness", [3e-3, 12e-3])
def test_no_word_is_cut_off_or_covered_in_the_two_kinds(look, thickness):
    assert faults(KindsScene(), both(thickness), look) == []


def test_slides_in_large_type_are_laid_out_too():
    large = Look(large=True)
    assert layout_faults(still(QuenchScene(), blown(), large, SLIDE)) == []
    assert layout_faults(still(KindsScene(), both(), large, SLIDE)) == []


def test_the_curve_shows_the_profile_and_the_story_the_history():
    scene, got = QuenchScene(), blown()
    figure = still(scene, got)
    curve, story = figure.axes[1], figure.axes[2]
    lines = [line.get_xydata() for line in curve.lines]
    assert any(np.isclose(xy[0, 0], got.profile.surface / 1e6) for xy in lines if len(xy) > 9)
    times = [line.get_xdata() for line in story.lines if len(line.get_xdata()) > 9]
    assert np.array_equal(times[0], got.cooling.time[1:])


# --- explorers ------------------------------------------------------------------------------


def test_moving_the_blast_moves_the_squeeze_and_reset_brings_it_back():
    explorer = quench_explorer()
    first = explorer.result.profile.surface
    explorer.controls["heat_transfer"].value = 100.0
    assert explorer.result.profile.surface > first
    assert "heat-strengthened" in explorer.said
    explorer.reset()
    assert explorer.result.profile.surface == first


@pytest.mark.parametrize("make", [quench_explorer, kinds_explorer])
def test_all_ends_of_all_sliders_give_a_picture_without_complaint(make):
    explorer = make()
    for control in explorer.controls.values():
        for end in (control.low, control.high):
            control.value = end
            assert "<img" in explorer.image.value
            assert explorer.note.value == ""
    explorer.switch_units()
    assert "ksi" in explorer.said
