# SPDX-License-Identifier: MIT
import math
import threading

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.live.controls import Choice, Slider
from glasskit.quantities import SYSTEMS

DEPTHS = {"low": 1e-6, "high": 100e-6, "start": 20e-6}


def depth_slider(**changes):
    return Slider("depth", "crack depth", "depth", **{**DEPTHS, **changes})


def test_the_box_has_a_name_with_its_unit():
    slider = depth_slider()
    assert slider.box.description == "crack depth / µm"
    slider.use("us")
    assert slider.box.description == "crack depth / mil"
    assert Slider("n", "panes", "number", 1, 9, 3).box.description == "panes"


def test_moving_the_slider_gives_si_and_tells_once():
    slider, told = depth_slider(step=1e-6), []
    slider.on_change(lambda: told.append(slider.value))
    slider.slider.value = 60.0
    slider.settle()
    assert told == [pytest.approx(60e-6, rel=1e-12)]
    assert slider.box.value == "60"


@pytest.mark.parametrize("typed", ["33", " 33 ", "33 µm", "3.3e1", "33,0", "0,033 mm"])
def test_a_typed_number_moves_the_slider(typed):
    slider, told = depth_slider(), []
    slider.on_change(lambda: told.append(slider.value))
    slider.box.value = typed
    assert told == [pytest.approx(33e-6, rel=1e-12)]
    assert slider.slider.value == pytest.approx(33.0)
    assert slider.box.value == "33"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("many", "Write a number in µm, or one with its unit; got “many”."),
        ("", "got “”"),
        ("1,5,2", "got “1,5,2”"),
        ("300", "Crack depth goes from 1 to 100 µm here; 300 is outside."),
        ("-5", "Crack depth goes from 1 to 100 µm here; −5 is outside."),
        ("nan", "got “nan”"),
    ],
)
def test_a_bad_number_is_refused_in_one_sentence_and_stays_in_its_box_to_be_mended(
    typed, said
):
    slider, told = depth_slider(), []
    slider.on_change(lambda: told.append(slider.value))
    slider.box.value = typed
    assert said in slider.note.value
    assert "glasskit-message" in slider.note._dom_classes  # spoken at once, see `aloud`
    slider.settle()  # as after every picture
    assert slider.box.value == typed
    assert slider.refusal
    assert slider.value == 20e-6
    assert told == []
    slider.box.value = "20"  # the old value, typed again, is a good one
    assert slider.note.value == slider.refusal == ""


def test_a_control_without_a_say_forgets_what_it_refused():
    slider = depth_slider()
    slider.box.value = "300"
    slider.enable(False)
    assert slider.note.value == slider.refusal == ""
    assert slider.box.value == "20"


def test_what_a_reader_types_is_never_taken_for_markup():
    slider = depth_slider()
    slider.box.value = "<b>5</b>"
    assert "&lt;b&gt;" in slider.note.value


@given(value=st.floats(1e-6, 100e-6))
def test_switching_units_leaves_the_value_alone(value):
    slider = depth_slider()
    slider.value = value
    for system in (*reversed(SYSTEMS), *SYSTEMS):
        slider.use(system)
        assert slider.value == value
        assert slider.slider.min <= slider.slider.value <= slider.slider.max


@pytest.mark.parametrize("log", [False, True])
def test_a_browser_that_rounds_to_the_nearest_step_moves_nothing(log):
    slider, told = depth_slider(log=log), []
    slider.box.value = "33.337"
    slider.use("us")
    slider.on_change(lambda: told.append(slider.value))
    low, step = slider.slider.min, slider.slider.step
    at = math.log10(slider.slider.value) if log else slider.slider.value
    for noise in (0.0, 1e-12, 0.3 * step):
        rounded = low + round((at - low) / step) * step + noise
        slider.slider.value = 10**rounded if log else rounded
    assert told == []
    assert slider.value == pytest.approx(33.337e-6, rel=1e-12)
    slider.slider.value = 10 ** (at + step) if log else at + step
    assert len(told) == 1


@pytest.mark.parametrize("log", [False, True])
def test_a_browser_that_reports_by_a_hair_what_holds_no_more_is_told_again(log):
    slider = depth_slider(log=log)
    slider.use("us")
    before = slider.slider.value
    slider.box.value = "3.1 mil"
    now = slider.slider.value
    slider.slider.value = before * (1 + 1e-15)  # on its way while the number was typed
    assert slider.value == pytest.approx(3.1 * 25.4e-6, rel=1e-12)
    assert slider.slider.value == now, "the browser may have gone back"
    slider.slider.value = before * (1 + 1e-15)  # once is enough: now it is a reader
    assert slider.value == pytest.approx(20e-6, rel=0.01)


@pytest.mark.parametrize("log", [False, True])
def test_a_reader_comes_back_at_once_to_where_the_slider_was_before_a_number_was_typed(log):
    slider = depth_slider(log=log)
    before = slider.slider.value
    slider.box.value = "80"
    slider.slider.value = before  # no hair off: no browser would have reported it
    assert slider.value == pytest.approx(20e-6, rel=0.01)


def test_a_move_from_another_thread_while_the_box_is_written_is_not_lost():
    slider = depth_slider(step=1e-6)
    writing, go_on = threading.Event(), threading.Event()
    slider.box.observe(lambda _: (writing.set(), go_on.wait(5)), "value")
    slider.slider.value = 60.0
    writer = threading.Thread(target=slider.settle)
    reader = threading.Thread(target=setattr, args=(slider.slider, "value", 80.0))
    writer.start()
    assert writing.wait(5)
    reader.start()
    reader.join(0.05)  # time enough to be overlooked
    go_on.set()
    writer.join()
    reader.join()
    assert slider.value == pytest.approx(80e-6, rel=1e-12)


def test_negative_and_offset_units_come_out_as_typed():
    slider = Slider("t", "temperature", "temperature", 253.15, 373.15, 293.15, step=1.0)
    assert slider.box.value == "20"
    slider.use("us")
    assert slider.box.value == "68"
    slider.box.value = "−4"  # a true minus sign, as the box itself writes it
    assert slider.value == pytest.approx(253.15)


def test_every_position_in_us_units_is_a_plain_number_within_the_ends():
    slider = Slider("t", "thickness", "thickness", 1e-3, 12e-3, 4e-3, step=0.1e-3)
    slider.use("us")
    assert slider.slider.step == 0.005
    assert slider.slider.min == pytest.approx(0.04)
    slider.slider.value = 0.045
    assert slider.value == pytest.approx(0.045 * 25.4e-3)


def test_equal_ways_of_a_logarithmic_slider_are_equal_factors():
    slider = Slider("c", "flaw", "depth", 1e-8, 1e-3, 1e-5, log=True)
    assert slider.slider.max - slider.slider.min == pytest.approx(5)
    slider.slider.value = 10**1.24  # 17.378
    slider.settle()
    assert slider.value == pytest.approx(17.4e-6, rel=1e-9)
    assert slider.box.value == "17.4"
    slider.box.value = "0.02"
    assert slider.value == pytest.approx(2e-8)


@pytest.mark.parametrize("log", [False, True])
@pytest.mark.parametrize("system", SYSTEMS)
def test_both_ends_can_be_reached(log, system):
    slider = depth_slider(log=log)
    slider.use(system)
    for end in (slider.low, slider.high):
        slider.value = end
        assert slider.value == end
    slider.slider.value = slider.slider.max if not log else 10**slider.slider.max
    assert slider.low <= slider.value <= slider.high


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"low": 1e-3}, "low must be less than high"),
        ({"start": 1.0}, r"start must lie in .* <= start <= .*; got 1$"),
        ({"low": 0.0, "log": True}, "low must be positive on a logarithmic slider; got 0$"),
        ({"kind": "brightness"}, "kind must be one of"),
    ],
)
def test_a_slider_that_cannot_be_is_refused(changes, message):
    kind = changes.pop("kind", "depth")
    with pytest.raises(ValueError, match=message):
        Slider("depth", "crack depth", kind, **{**DEPTHS, **changes})


def test_setting_a_value_outside_is_refused():
    with pytest.raises(ValueError, match=r"^crack depth goes from 1 to 100 µm here; 200 is"):
        depth_slider().value = 200e-6


def test_a_choice_gives_what_its_option_stands_for():
    choice, told = Choice("glass", "glass", {"float": 70e9, "borosilicate": 64e9}, "float"), []
    choice.on_change(lambda: told.append(choice.value))
    choice.menu.value = "borosilicate"
    choice.reset()
    assert told == [64e9, 70e9]
    with pytest.raises(ValueError, match="start must be one of float; got 'ice'"):
        Choice("glass", "glass", {"float": 70e9}, "ice")


def test_a_number_given_in_other_units_is_shown_with_no_more_digits_than_are_read():
    slider = Slider("height", "height", "height", 0.05, 5.0, 0.3)
    slider.use("us")
    assert slider.box.value == "0.98"
    slider.box.value = "1.234"
    assert slider.box.value == "1.234"
    slider.use("metric")
    assert slider.value == pytest.approx(1.234 * 0.3048)
    heat = Slider("t", "bath", "temperature", 600.0, 800.0, 450 + 273.15)
    heat.use("us")
    assert heat.box.value == "842"


def test_sizes_in_the_words_of_a_choice_follow_the_units_and_the_choice_stays():
    choice = Choice(
        "pane", "pane", {"bath, 0.7 mm": 1, "quench, 6 mm, 100 MPa": 2}, "bath, 0.7 mm"
    )
    told = []
    choice.on_change(lambda: told.append(choice.value))
    choice.menu.value = "quench, 6 mm, 100 MPa"
    choice.use("us")
    assert choice.menu.options == ("bath, 0.028 in", "quench, 0.24 in, 15 ksi")
    assert choice.value == 2
    choice.use("metric")
    assert choice.menu.value == "quench, 6 mm, 100 MPa"
    choice.reset()
    assert told == [2, 1]
