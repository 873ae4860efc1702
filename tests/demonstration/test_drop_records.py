# SPDX-License-Identifier: MIT
from math import isfinite, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.demonstration import Blow, Rule, drop_records, outcome

HEIGHT = st.floats(0.01, 20).map(lambda height: round(height, 3))


@given(heights=st.lists(HEIGHT, min_size=1, max_size=6), broke=st.booleans())
def test_blows_are_read_in_their_order(heights, broke):
    ends = [False] * (len(heights) - 1) + [broke]
    words = [
        f"{'broke' if end else 'held'} {height}"
        for height, end in zip(heights, ends, strict=True)
    ]
    piece = tuple(
        Blow(height=height, broke=end) for height, end in zip(heights, ends, strict=True)
    )
    assert outcome("pieces", ", ".join(words)) == (piece,)
    assert outcome("pieces", "; ".join([", ".join(words), "held 1.0"])) == (
        piece,
        (Blow(height=1.0, broke=False),),
    )


def test_a_rule_is_read_as_a_least_number():
    assert outcome("rule", "5 of 6 hold 1.0") == Rule(height=1.0, least=5, panes=6)


@pytest.mark.parametrize(
    ("record", "text"),
    [
        ("rule", "7 of 6 hold 1.0"),
        ("rule", "5 of 6 broke 1.0"),
        ("rule", "5 of 6 hold -1.0"),
        ("pieces", ""),
        ("pieces", "stood 1.0"),
        ("pieces", "held nan"),
        ("pieces", "broke 1.0, held 2.0"),  # a broken piece is not struck again
    ],
)
def test_what_does_not_follow_the_grammar_is_refused(record, text):
    with pytest.raises(ValueError, match=r"^outcome must read like .*; got "):
        outcome(record, text)


def test_an_unknown_record_is_refused():
    with pytest.raises(ValueError, match=r"^record must be one of pieces, rule; got 'guess'$"):
        outcome("guess", "held 1.0")


def test_what_may_be_reckoned_with_is_complete():
    drops = drop_records.known_drops()
    assert len({drop.name for drop in drops}) == len(drops)
    for drop in drops:
        if drop.complete:
            size = (drop.length, drop.width, drop.thickness, drop.mass, drop.radius)
            assert all(isfinite(side) and side > 0 for side in size), drop
            assert drop.thickness < drop.width <= drop.length, drop


def test_balls_have_the_weight_of_their_metal():
    metals = {"steel ball": 7860.0, "bronze ball": 8700.0}  # [kg/m^3]
    for drop in drop_records.known_drops():
        if drop.striker in metals and isfinite(drop.radius):
            density = drop.mass / (4 / 3 * pi * drop.radius**3)
            assert density == pytest.approx(metals[drop.striker], rel=0.03), drop
