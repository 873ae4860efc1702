# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.breaking import SIDE, WATCHED, slow_motion


@pytest.fixture(scope="module")
def both():
    return slow_motion(6e-5, 0.8, 100e6, 4e-3)


def test_panes_break_once_and_are_looked_at_again(both):
    later = slow_motion(1e-4, 0.8, 100e6, 4e-3)
    assert later.toughened is both.toughened
    assert later.ordinary is both.ordinary
    assert all(
        after.length > before.length
        for before, after in zip(both.moments, later.moments, strict=True)
    )


def test_the_pane_that_nothing_has_changed_is_not_broken_again(both):
    assert slow_motion(6e-5, 0.8, 90e6, 4e-3).ordinary is both.ordinary


def test_the_toughened_pane_breaks_later_under_the_same_blow(both):
    assert 0 < both.ordinary.begins < both.toughened.begins < both.leaves
    assert both.touching
    assert not slow_motion(both.leaves + 1e-6, 0.8, 100e6, 4e-3).touching
    assert both.ordinary.over < both.ordinary.begins + WATCHED


def test_ordinary_goes_to_blades_and_toughened_to_crumbs(both):
    assert len(both.ordinary.pieces) < 60 < 1000 < len(both.toughened.pieces)
    assert both.ordinary.spans.max() > 0.5 * SIDE > 5 * both.toughened.spans.max() / 2


def test_a_weak_blow_breaks_the_ordinary_pane_alone():
    low = slow_motion(1e-3, 0.2, 150e6, 4e-3)
    assert len(low.ordinary.cracks) > 0
    assert len(low.toughened.cracks) == 0
    assert len(low.toughened.pieces) == 1
    assert low.toughened.profile.surface == -150e6
    none = slow_motion(1e-3, 0.02, 150e6, 4e-3)
    assert len(none.ordinary.cracks) == 0


@pytest.mark.parametrize("start", ["punch", "chip"])
def test_a_touch_makes_crumbs_of_the_toughened_pane_alone(start):
    touched = slow_motion(9e-4, 0.8, 100e6, 4e-3, start=start)
    assert not touched.struck
    assert not touched.touching
    assert len(touched.ordinary.cracks) == 0
    assert len(touched.toughened.pieces) > 1000
    assert touched.toughened is slow_motion(0.0, 3.0, 100e6, 4e-3, start=start).toughened
    assert (touched.toughened.origin[1] < 2e-3) == (start == "chip")


def test_a_heat_strengthened_pane_does_not_crumble_from_a_touch():
    for squeeze in (24e6, 52e6):
        touched = slow_motion(9e-4, 0.8, squeeze, 4e-3, start="punch")
        assert len(touched.toughened.pieces) <= 3


def test_the_mirror_tells_the_net_tension_of_both(both):
    mist, branching = both.zones["mist"], both.zones["branching"]
    assert (mist < branching).all()
    assert both.strength * np.sqrt(mist) == pytest.approx([1.6e6, 1.9e6])


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"time": -1.0}, "time must be finite and zero or more; got -1 s"),
        ({"along": 0.4}, "along must lie in 0 < along < 0.3; got 0.4 m"),
        ({"start": "hammer"}, "start must be one of ball, punch, chip; got 'hammer'"),
        ({"squeeze": 0.0}, "squeeze must be finite and positive; got 0 Pa"),
    ],
)
def test_bad_input_gets_one_clear_sentence(change, message):
    good = {"time": 0.0, "height": 0.8, "squeeze": 100e6, "thickness": 4e-3}
    with pytest.raises(ValueError, match=f"^{message}$"):
        slow_motion(**good | change)
