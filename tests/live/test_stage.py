# SPDX-License-Identifier: MIT
import re

import pytest

from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.live.stage import SHOWN, Stage, on_stage
from glasskit.words.stage import STORY, notes


@pytest.fixture(scope="module")
def stage():
    return on_stage()


def test_seven_pictures_each_with_one_or_two_sliders_that_it_has(stage):
    assert len(STORY) == 7
    assert [act.key for act in STORY] == list(SHOWN)
    for _ in STORY:
        act = STORY[stage.place]
        shown = SHOWN[act.key].sliders
        assert 1 <= len(shown) <= 2
        assert set(shown) <= set(stage.explorer.controls)
        assert all(not stage.explorer.controls[name].slider.disabled for name in shown)
        stage.next.click()
    assert stage.place == 0


def test_one_key_steps_through_and_the_buttons_stay(stage):
    head = stage.widget.children[2]
    titles = []
    for number in range(1, 8):
        titles.append(re.sub(r"<[^>]*>", "", stage._title.value))
        assert titles[-1].startswith(f"{number} of 7 · ")
        assert stage.next.description == ("Start again" if number == 7 else "Next")
        assert head.children[:2] == (stage.back, stage.next)
        assert not stage.next.disabled
        assert not stage.back.disabled
        assert stage._body.children[2] is stage.explorer.image
        stage.next.click()
    assert len(set(titles)) == 7
    stage.back.click()
    assert stage.place == 6
    stage.next.click()
    assert stage.place == 0


@pytest.mark.parametrize("place", range(7), ids=[act.key for act in STORY])
def test_every_picture_moves_to_both_ends_in_large_type_without_a_fault(stage, place):
    explorer = stage._explorer(place)
    assert explorer.look.large
    for name in SHOWN[STORY[place].key].sliders:
        slider, start = explorer.controls[name], explorer.controls[name].value
        for end in (slider.low, slider.high):
            slider.value = end
            assert getattr(explorer, "said", "")
            assert "something is wrong" not in explorer.note.value
            figure = still(explorer.scene, explorer.result, explorer.look, SCREEN)
            assert layout_faults(figure) == []
        slider.value = start


def test_sliders_stay_as_they_were_left(stage):
    depth = stage._explorer(0).controls["depth"]
    depth.value = 100e-6
    stage.next.click()
    stage.back.click()
    assert stage.explorer.controls["depth"].value == 100e-6


def test_the_scratch_runs_without_a_squeeze_and_not_with_it():
    shut = Stage()._explorer(2)
    assert shut.result.runs
    shut.controls["squeeze"].value = 400e6
    assert not shut.result.runs


def test_us_units_and_an_unknown_system():
    assert "mil" in on_stage("us").explorer.controls["depth"].box.description
    with pytest.raises(ValueError, match=r"^system must be one of metric, us; got "):
        on_stage("old")


def test_the_notes_hold_a_question_and_an_answer_for_each_picture():
    assert notes().count("  ask: ") == notes().count("  say: ") == 7
    assert all(act.ask.endswith("?") or "? " in act.ask for act in STORY)
