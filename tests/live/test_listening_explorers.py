# SPDX-License-Identifier: MIT
"""Recordings on the page: found, put right by hand, refused, kept."""

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit.live.listening import bounce_explorer, ring_explorer
from glasskit.live.recording import INVENTED
from glasskit.measured import Room, bouncing_sound, ringing_sound, stored


@pytest.fixture(scope="module")
def ball():
    return bounce_explorer()


@pytest.fixture(scope="module")
def piece():
    return ring_explorer()


@pytest.fixture(autouse=True)
def _as_found(ball, piece, unseen):
    before = [(explorer, explorer.result) for explorer in (ball, piece)]
    yield
    for explorer, result in before:
        if explorer.result is not result:  # a reset draws once for every control
            explorer.reset()


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_no_text_of_the_bounces_is_cut_off_or_overlaps(ball, look):
    assert faults(ball.scene, ball.result, look) == []


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_no_text_of_the_ring_is_cut_off_or_overlaps(piece, look):
    assert faults(piece.scene, piece.result, look) == []


def test_a_thinner_pane_takes_more_and_the_recording_stays(ball):
    before = ball.result
    ball.controls["thickness"].value = 4e-3
    assert ball.result.heard.restitution == before.heard.restitution
    assert ball.result.pane_mean < 0.6 * before.pane_mean
    assert "more than was heard" not in ball.said
    assert "Take care: the first blow pulls the far face" in ball.said


def test_a_click_is_taken_off_and_added_by_number_box(ball):
    clicks = ball.recording
    whole = clicks.value.train
    clicks.off.value = "14"
    assert clicks.value.train.size == whole.size - 1
    assert ball.result.heard.clicks.size == whole.size - 1
    clicks.add.value = f"{whole[-1] + 0.003:.3f}"
    assert clicks.value.train == pytest.approx(whole, abs=1e-4)
    assert clicks.add.value == ""


def test_what_is_no_click_is_said_beside_the_line_and_nothing_is_lost(ball):
    clicks = ball.recording
    before = ball.result
    for box, text, said in (
        (clicks.off, "99", "numbers 1 to 14"),
        (clicks.add, "soon", "Write a number"),
        (clicks.line, "0,5; much", "Write a number"),
        (clicks.line, "0.5; 99", "Train must lie in"),
    ):
        box.value = text
        assert said in clicks.wrong.value
    assert ball.result is before
    clicks.as_found.click()
    assert clicks.wrong.value == ""


def test_a_line_with_decimal_commas_is_understood(ball):
    ball.recording.line.value = "0,5; 0,9; 1,22"
    assert ball.result.heard.restitution == pytest.approx(0.8, abs=1e-3)


def test_too_few_clicks_are_said_and_the_picture_stays(ball):
    before = ball.result
    ball.recording.line.value = "0.5; 0.9"
    assert "clicks must be 3 or more" in ball.note.value.lower()
    assert ball.result is before
    ball.controls["known"].menu.value = "measured"
    assert ball.result.heard.fall_given


BAD = {
    "silent": lambda rng: stored(
        bouncing_sound([0.5, 0.9], [1.0, 0.7], rng, room=Room(gain=1e-5, noise=0.0, hum=0.0)),
        "wav",
    ),
    "clipped": lambda rng: stored(
        bouncing_sound([0.5, 0.9], [1.0, 0.7], rng, room=Room(noise=3.0)), "wav"
    ),
    "a text named .mp4": lambda rng: b"no film, only words\n" * 50,
    "empty": lambda rng: b"",
}
SAID = {
    "silent": "sound must not be silent",
    "clipped": "record it from farther off",
    "a text named .mp4": "which cannot be read as one",
    "empty": "which cannot be read as one",
}


@pytest.mark.parametrize("kind", BAD)
def test_a_bad_file_is_refused_in_one_sentence_and_the_last_stays(ball, piece, kind):
    for explorer in (ball, piece):
        before = explorer.result
        explorer.recording.open(BAD[kind](np.random.default_rng(1)), "mine.mp4")
        assert SAID[kind] in explorer.recording.note.value
        assert explorer.result is before
        assert explorer.recording.source == INVENTED


def test_each_shape_has_an_example_that_gives_its_stiffness_back(piece):
    for text in ("round rod", "round disc", "pane on foam", "bar or strip"):
        piece.shape.choose(text)
        assert piece.note.value == "", text
        low, high = piece.result.modulus.interval()
        assert low < 71.5e9 < high, text
        assert piece.result.tapped.shape in text or text == "bar or strip"


def test_a_peak_is_chosen_by_its_number(piece):
    assert piece.result.peaks == (1,)
    piece.recording.line.value = "2"
    assert piece.result.peaks == (2,)
    assert piece.result.modulus.value > 200e9  # an overtone is no fundamental
    piece.recording.line.value = "7"
    assert "numbers 1 to 3" in piece.recording.wrong.value
    piece.recording.as_found.click()
    assert piece.result.peaks == (1,)


def test_a_pitch_far_off_is_said_with_what_to_do(piece):
    before = piece.result
    sound = ringing_sound([2000.0], [5.0], [1.0], np.random.default_rng(1))
    piece.recording.open(stored(sound, "wav"), "tap.wav")
    assert "check the sizes, or choose a peak by its number" in piece.note.value
    assert piece.result is before
    assert piece.said.startswith("An invented recording.")  # that is what is still shown
    assert piece.file == ""
    piece.recording.example.click()
    assert piece.note.value == ""


def test_what_was_read_is_kept_with_its_interval(ball, piece, tmp_path):
    table = ball.keep_readings(tmp_path)
    assert piece.keep_readings(tmp_path) == table
    lines = table.read_text(encoding="utf-8").splitlines()
    assert len(lines) == 5
    assert "share of speed kept in a bounce,0.8" in lines[1]
    assert "height of the first fall" in lines[2]
    assert "stiffness of a bar by its pitch,71." in lines[3]
    assert "GPa" in lines[3]
    assert "thickness by its pitch" in lines[4]


def test_the_page_says_that_an_example_is_invented(ball, piece):
    assert ball.said.startswith("An invented recording.")
    assert piece.said.startswith("An invented recording.")
