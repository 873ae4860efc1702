# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kstest, t

from glasskit.demonstration import worlds
from glasskit.demonstration.worlds import WORLD, Belief, draw_worlds, factor, inputs

NAMES = ("lot strength", "thickness", "damping")


@pytest.mark.parametrize("name", sorted(inputs()))
def test_the_ends_of_a_range_hold_nine_in_ten(name):
    span = inputs()[name]
    ends = factor(name, np.array([-1.6448536, 0.0, 1.6448536]))
    assert ends == pytest.approx([span.low, span.value, span.high], rel=1e-6)
    assert span.source


@given(st.floats(-4, 3), st.floats(0.001, 1.0))
def test_factors_rise_with_their_place(place, step):
    for name in ("lot strength", "flaw strength"):
        low, high = factor(name, np.array([place, place + step]))
        assert 0 < low < high


def test_the_strength_of_a_lot_has_the_tails_of_students_t(outside):
    # One lot in a thousand on either side: t(3) lies at 10.215, its 95 % at 2.353.
    span = inputs()["lot strength"]
    outside(
        "strength of the strongest lot in a thousand over the middle",
        factor("lot strength", np.array(3.0902323)),
        span.high ** (t.ppf(0.999, 3) / t.ppf(0.95, 3)),
        rel=1e-6,
        source="scipy.stats.t",
        status="independent method",
    )


def test_worlds_are_normal_whatever_the_seed():
    for seed in range(3):
        drawn = draw_worlds(["a", "b"], NAMES, Belief.before(), 1024, seed)
        for column in drawn.white.T:
            assert kstest(column, "norm").pvalue > 0.05
        again = draw_worlds(["a", "b"], NAMES, Belief.before(), 1024, seed)
        assert np.array_equal(drawn.white, again.white)


def test_kinds_share_world_and_rig_and_have_lots_of_their_own():
    drawn = draw_worlds(["a", "b"], NAMES, Belief.before(), 256, 0)
    one, two = drawn.factors("a"), drawn.factors("b")
    assert set(one) == {*WORLD, *NAMES}
    for name in (*WORLD, "damping"):
        assert np.array_equal(one[name], two[name])
    for name in ("lot strength", "thickness"):
        assert abs(np.corrcoef(np.log(one[name]), np.log(two[name]))[0, 1]) < 0.1


def test_a_belief_moves_and_narrows_what_is_drawn():
    root = np.eye(len(WORLD))
    root[1] = 0.0
    root[1, :2] = 0.3, 0.4
    belief = Belief(mean=np.arange(len(WORLD)) / 10, root=root)
    places = draw_worlds([], [], belief, 4096, 0).places
    assert places.mean(axis=0) == pytest.approx(belief.mean, abs=0.02)
    assert np.cov(places.T) == pytest.approx(root @ root.T, abs=0.03)
    low, middle, high = belief.range_of(WORLD[1])
    drawn = factor(WORLD[1], places[:, 1])
    assert np.quantile(drawn, [0.05, 0.5, 0.95]) == pytest.approx(
        [low, middle, high], rel=0.02
    )


def test_the_number_of_worlds_is_a_power_of_two():
    with pytest.raises(ValueError, match="count must be a power of two; got 100"):
        draw_worlds([], [], Belief.before(), 100, 0)


def test_every_input_of_the_world_was_learned():
    found = worlds.learned()
    assert found.mean.shape == (len(WORLD),)
    assert (found.spread < 1.1).all()
    # Drops on panes tell most of what nobody had measured for them.
    assert found.spread[WORLD.index("flaw strength")] < 0.95
