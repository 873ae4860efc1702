# SPDX-License-Identifier: MIT
"""Broken panes to read: the answer is grown, and can be read from what is drawn."""

import numpy as np
import pytest

from glasskit.breaking import SIDE
from glasskit.training import Mark, pattern
from glasskit.training.patterns import LEVELS, NEAR, _broken
from glasskit.words.patterns import mark_numbers, mark_reply, mark_sentence

SEEDS = (2, 3)
ALL = [(level, seed) for level in LEVELS for seed in SEEDS]


def mark_at(level, seed, off=0.0, told=False):
    one = pattern(level, seed)
    along, across = one.pane.origin
    return Mark(pattern=one, along=along + off, across=across, told=told)


@pytest.mark.parametrize(("level", "seed"), ALL)
def test_the_origin_is_right_and_what_lies_beyond_is_not(level, seed):
    assert mark_at(level, seed).right
    assert mark_at(level, seed, 0.9 * NEAR).right
    assert not mark_at(level, seed, 1.1 * NEAR).right


@pytest.mark.parametrize("level", LEVELS)
def test_the_same_seed_breaks_the_same_pane_elsewhere_than_another(level):
    first, other = (pattern(level, seed) for seed in SEEDS)
    again = _broken.__wrapped__(level, SEEDS[0])  # grown anew
    assert again.pane.origin == pytest.approx(first.pane.origin)
    assert len(again.pane.pieces) == len(first.pane.pieces)
    assert np.hypot(*(other.pane.origin - first.pane.origin)) > 1e-3


@pytest.mark.parametrize("seed", SEEDS)
def test_one_hole_hides_the_origin_and_holes_do_not_meet(seed):
    one = pattern(LEVELS[2], seed)
    gaps = np.hypot(*(one.lost[:, None] - one.lost[None]).transpose(2, 0, 1))
    assert gaps[np.triu_indices(len(one.lost), 1)].min() > 2 * one.radius
    assert (np.hypot(*(one.lost - one.pane.origin).T) < one.radius).sum() == 1
    assert ((one.lost > one.radius / 2) & (one.lost < SIDE - one.radius / 2)).all()


@pytest.mark.parametrize(("level", "seed"), ALL[2:])
def test_branches_set_out_away_from_the_origin_and_crumbs_beside_a_hole_point_to_it(
    level, seed
):
    one = pattern(level, seed)
    count, share = one.forks
    assert count > 1000
    assert share > 0.7  # of a pattern without an origin: a half
    # The hint of the third level: pieces near the origin are long, and lie towards it.
    turned = []
    for spot in (one.pane.origin, np.array([SIDE, SIDE]) - one.pane.origin):
        near = []
        for piece in one.pane.pieces:
            middle = np.array(piece.centroid.coords[0])
            way = middle - spot
            if 0.022 < np.hypot(*way) < 0.035:
                corners = np.array(piece.exterior.coords) - middle
                axis = np.linalg.svd(corners)[2][0]
                near.append(abs(axis @ way) / np.hypot(*way))
        turned.append(np.mean(near))
    assert turned[0] > 0.72  # of pieces that lie anyhow: 0.64
    assert turned[0] > turned[1] + 0.05


def test_nothing_is_told_before_the_answer_is_asked_for():
    for level, seed in ALL:
        hidden, told = mark_at(level, seed, 0.05), mark_at(level, seed, 0.05, told=True)
        assert "off" not in mark_sentence(hidden)
        assert len(mark_numbers(told)) > len(mark_numbers(hidden))
        assert "Not yet: 50 mm off" in mark_sentence(told)
        assert "Not yet" in mark_reply(hidden)


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="level must be one of few cracks, crumbs"):
        pattern("hard", 1)
    with pytest.raises(ValueError, match="seed must be a whole number"):
        pattern("crumbs", -1)
    with pytest.raises(ValueError, match="along must be finite"):
        Mark(pattern=pattern("crumbs", 2), along=np.nan, across=0.1)
