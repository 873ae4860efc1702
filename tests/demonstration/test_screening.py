# SPDX-License-Identifier: MIT
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.demonstration import EYES, FOUND_AT, REACH, Screening
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.impact import throw_height, throw_range
from glasskit.live.screening import screening_explorer
from glasskit.words.screening import (
    screening_numbers,
    screening_sentence,
    screening_verdict,
)

ROOM = {
    "mass": 0.227,
    "drop": 0.8,
    "table": 0.75,
    "ceiling": 2.7,
    "screen_distance": 0.5,
    "screen_top": 1.8,
    "front_row": 4.0,
}


def throws(speed, distance, height):
    """Return how high many throws of one speed are at a distance, each flown step by step."""
    angles = np.linspace(0.01, math.pi / 2 - 0.001, 20_000)
    time = distance / (speed * np.cos(angles))
    return (height + speed * np.sin(angles) * time - 0.5 * 9.80665 * time**2).max()


def test_the_envelope_is_the_highest_of_many_throws(outside):
    outside(
        "height of the ball half a metre off, after a fall of 0.8 m / m",
        throw_height(math.sqrt(2 * 9.80665 * 0.8), 0.5, 0.75),
        throws(math.sqrt(2 * 9.80665 * 0.8), 0.5, 0.75),
        source="largest of many throws, each timed to the screen",
        status="independent method",
        rel=1e-6,
    )
    assert throw_height([1.0, 2.0], [[0.0], [1.0]]).shape == (2, 2)
    with pytest.raises(ValueError, match=r"^speed must be finite and positive; got 0"):
        throw_height(0.0, 1.0)
    with pytest.raises(ValueError, match=r"^distance must be finite and zero or more; got -1"):
        throw_height(1.0, -1.0)


@given(speed=st.floats(0.5, 20), height=st.floats(0, 2))
def test_the_envelope_ends_where_the_longest_throw_lands(speed, height):
    far = throw_range(speed, height)
    assert throw_height(speed, far, height) == pytest.approx(0, abs=1e-9 * (1 + far**2))


def test_the_ball_comes_up_as_high_as_it_fell_from_and_no_higher():
    near = Screening(**{**ROOM, "screen_distance": 1e-6})
    assert near.ball_at_screen == pytest.approx(near.release, rel=1e-9)
    assert Screening(**ROOM).ball_at_screen < near.ball_at_screen


@given(top=st.floats(0.5, 3), away=st.floats(0.2, 2), table=st.floats(0, 1.2))
def test_a_piece_of_the_least_speed_grazes_the_edge(top, away, table):
    made = Screening(**{**ROOM, "screen_top": top, "screen_distance": away, "table": table})
    assert throw_height(made.piece_speed, away, table) == pytest.approx(top, rel=1e-9)


def test_the_heavier_ball_brings_the_same_energy():
    high = Screening(**{**ROOM, "drop": 1.7, "table": 0.9})
    assert high.heavier(EYES) * (EYES - 0.9) == pytest.approx(0.227 * 1.7)
    with pytest.raises(ValueError, match=r"^release must lie in 0\.9 <= release <= 2\.6"):
        high.heavier(3.0)
    with pytest.raises(ValueError, match=r"^release must be above the table; got 0\.9 m"):
        high.heavier(0.9)


@pytest.mark.parametrize(
    ("change", "doubt", "said"),
    [
        ({}, None, "Nothing here speaks against it"),
        ({"drop": 2.5, "ceiling": 3.0}, "ceiling", "beneath the ceiling"),
        ({"drop": 1.5, "screen_top": 2.5}, "steps", "reach from the floor"),
        ({"screen_top": 1.5}, "over", "can fly over it"),
        ({"front_row": 2.0}, "room", "the ball can land there"),
        ({"front_row": 2.9}, "found", "pieces of windows were found"),
        ({"drop": 1.0}, "eyes", "lower is better"),
    ],
)
def test_doubts_are_named_worst_first(change, doubt, said):
    made = Screening(**{**ROOM, **change})
    assert (made.doubts[0] if made.doubts else None) == doubt
    assert said in screening_verdict(made)
    assert 6 <= len(screening_verdict(made).split()) <= 10
    for system, symbol in (("metric", " m "), ("us", " ft ")):
        assert symbol in screening_sentence(made, system)
        assert len(screening_numbers(made, system)) == 7
    assert "safe" not in screening_sentence(made)


def test_a_high_release_is_answered_with_a_heavier_ball():
    said = screening_sentence(Screening(**{**ROOM, "drop": 1.7, "table": 0.9}))
    assert "A ball of 0.55 kg let go at 1.6 m brings the same energy." in said


@pytest.mark.parametrize(
    ("change", "match"),
    [
        ({"mass": 0}, r"^mass must be finite and positive; got 0 kg"),
        ({"table": -1}, r"^table must be finite and zero or more; got -1 m"),
        (
            {"front_row": 0.4},
            r"^front_row must be farther than the screen, 0\.5 m; got 0\.4 m",
        ),
    ],
)
def test_what_cannot_be_is_refused(change, match):
    with pytest.raises(ValueError, match=match):
        Screening(**{**ROOM, **change})


def test_the_picture_is_clear_at_the_ends_of_every_slider():
    explorer = screening_explorer()
    look = Look(system="us", large=True)  # the one with the least room
    for slider in explorer.controls.values():
        start = slider.value
        for end in (slider.low, slider.high):
            slider.value = end
            figure = still(explorer.scene, explorer.result, look, SCREEN)
            assert layout_faults(figure) == [], (slider.name, end)
        slider.value = start


def test_lengths_to_compare_with_are_those_of_a_person():
    assert EYES < 1.75 < REACH < FOUND_AT
