# SPDX-License-Identifier: MIT
"""Surfaces to read: the origin scores, what is off does not, the mirror tells the stress."""

from dataclasses import replace

import numpy as np
import pytest

from glasskit.draw.look import Look
from glasskit.draw.picture import still
from glasskit.draw.surfaces import ReadingScene
from glasskit.training import SURFACES, Reading, surface
from glasskit.words.surfaces import reading_numbers, reading_reply, reading_sentence

KINDS = pytest.mark.parametrize("kind", SURFACES)


def truth(kind, seed=1):
    one = surface(kind, seed)
    return Reading(
        surface=one, across=one.across, up=one.up, radius=one.radius, answer=one.answer
    )


@KINDS
def test_the_truth_is_right_and_what_is_off_is_not(kind):
    for seed in range(10):
        good = truth(kind, seed)
        assert good.right
        wrong = "face" if good.answer != "face" else "edge"
        assert not replace(good, answer=wrong).right
        lost = good.surface.answer == "cannot tell"
        assert replace(good, across=good.across + 2e-3).right == lost
        assert replace(good, radius=1.3 * good.radius).right == lost
        assert replace(good, across=good.across + 0.9e-3, radius=1.15 * good.radius).right


@KINDS
def test_no_word_before_the_check_tells_the_answer(kind):
    good = truth(kind)
    others = replace(good, answer="cannot tell")
    said = reading_sentence(others)
    assert said.endswith("your answer: cannot tell.")
    assert reading_reply(good).startswith("Right")
    assert not reading_reply(replace(good, answer="outside the loads")).startswith(
        "Right"
    ) or (good.answer == "outside the loads")


def test_the_mirror_tells_the_stress_at_the_break(outside):
    one = truth("face")
    outside(
        "stress told by a drawn mirror / MPa",
        one.surface.stress / 1e6,
        1.75 / np.sqrt(one.radius),
        source="A over the root of r, the middle of 1.6 to 1.9 MPa√m for mist",
        status="hand calculation",
        rel=1e-9,
    )
    assert one.stress == pytest.approx(one.surface.stress, rel=1e-12)
    assert dict(reading_numbers(replace(one, radius=0.0)))["stress that it tells of"] == (
        "no radius yet"
    )


@KINDS
def test_mirrors_fit_into_what_is_drawn_and_every_kind_is_drawn(kind):
    for seed in range(20):
        one = surface(kind, seed)
        assert 0.4e-3 < one.radius < one.height / 1.5
    assert still(ReadingScene(), truth(kind), Look(mono=True)).axes


def test_what_is_no_surface_is_refused():
    with pytest.raises(ValueError, match=r"^kind must be one of face"):
        surface("window", 1)
    with pytest.raises(ValueError, match=r"^answer must be one of"):
        replace(truth("face"), answer="rust")
    with pytest.raises(ValueError, match=r"^radius must be"):
        replace(truth("face"), radius=-1.0)
