# SPDX-License-Identifier: MIT
"""The game of broken panes: the first check counts, and only before the answer was shown."""

import pytest
from pictures import faults

from glasskit.draw.picture import SLIDE
from glasskit.live.patterns import patterns_explorer
from glasskit.training.patterns import LEVELS


@pytest.fixture
def game(unseen):
    made = patterns_explorer()
    yield made
    made.close()


def put(game, off=0.0):
    origin = game._now().pattern.pane.origin
    game.controls["along"].value = round(float(origin[0]), 3) + off
    game.controls["across"].value = round(float(origin[1]), 3)


def test_six_panes_are_counted_at_their_first_check(game):
    for place, level in enumerate(LEVELS):
        game.controls["level"].choose(level)
        for number in ("pane 1", "pane 2"):
            game.controls["number"].choose(number)
            off = 0.05 if (place, number) == (0, "pane 1") else 0.0
            put(game, off if game._now().pattern.pane.origin[0] < 0.2 else -off)
            game.check_mark()
            assert ("Not yet" if off else "Right") in game.reply.value
    assert "At the first check 5 of all 6 right" in game.reply.value
    put(game)
    game.controls["level"].choose(LEVELS[0])
    game.controls["number"].choose("pane 1")
    put(game)
    game.check_mark()
    assert "At the first check 5 of all 6 right" in game.reply.value


def test_who_looks_first_earns_nothing(game):
    game.show_origin()
    assert game.result.told
    assert "it began" in game.alt
    put(game)
    game.check_mark()
    assert "At the first check 0 of 1 right" in game.reply.value


def test_six_others_are_other_panes(game):
    before = game.result.pattern
    game.check_mark()
    game.draw_others()
    assert game.tries == {}
    assert game.result.pattern.seed != before.seed
    assert not game.result.told


@pytest.mark.parametrize("level", LEVELS)
def test_no_text_is_cut_or_overlaps(game, level):
    game.controls["level"].choose(level)
    game.show_origin()
    assert faults(game.scene, game.result, game.look, SLIDE) == []
