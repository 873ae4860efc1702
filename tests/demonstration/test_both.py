# SPDX-License-Identifier: MIT
"""The same fall on both panes: what a camera would show agrees with what is computed."""

import numpy as np
import pytest
from pictures import LARGE, LARGEST

from glasskit.demonstration import drop_both
from glasskit.draw.both import BothScene, moments
from glasskit.draw.picture import SLIDE, layout_faults, moving
from glasskit.impact import Pane, ball_of_mass
from glasskit.materials import glass, solid
from glasskit.quantities import GRAVITY
from glasskit.words.both import both_sentence, both_verdict

BALL = ball_of_mass(0.227, solid("steel"))
PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"), damping=0.05)


@pytest.fixture(scope="module")
def both():
    return drop_both(BALL, PANE, 1.4, 100e6, (0.82, 0.06))


def test_the_ball_falls_as_a_stone_and_leaves_as_the_blow_throws_it(both, outside):
    speed = (both.ball(both.touch - 1e-6, 1) - both.ball(both.touch, 1)) / 1e-6
    fallen = np.sqrt(2 * GRAVITY * 1.4)
    outside(
        *("speed at the touch / m/s", speed, fallen),
        **{"rel": 1e-4, "source": "free fall: sqrt(2 g h)", "status": "exact"},
    )
    later = both.parted + np.array([0.0, 1e-6])
    up = np.diff([both.ball(time, 1) for time in later]).item() / 1e-6
    # The way of the ball is the force integrated twice; the blow steps it on its own.
    assert up == pytest.approx(both.impact.restitution * both.impact.speed, rel=1e-4)


def test_the_ordinary_pane_breaks_within_the_blow_and_the_ball_falls_on(both):
    plain, tough = both.breaks
    assert both.touch < plain < both.parted
    assert tough == np.inf
    bears = np.sqrt(both.struck.ordinary.low * both.struck.ordinary.high)
    assert both.tension(plain - both.impact.time[1]) < bears <= both.tension(plain)
    times = np.linspace(plain, both.end, 50)
    ways = np.array([both.ball(time, 0) for time in times])
    assert (np.diff(ways) < 0).all()
    bend = np.diff(ways, 2) / np.diff(times)[0] ** 2
    np.testing.assert_allclose(bend, -GRAVITY, rtol=1e-6)
    assert both.ball(both.end, 1) > 0.2, "the toughened one throws it back"


def test_the_pane_sinks_under_the_ball_and_only_during_the_blow(both):
    assert not both.sag(both.touch / 2).any()
    assert not both.sag(both.end).any()
    deepest = max(both.sag(moment.time).max() for moment in moments(both))
    assert deepest == pytest.approx(both.impact.deflection, rel=0.05)
    middle = both.sag(both.touch + 1e-3)
    assert middle.argmax() == middle.size // 2
    with pytest.raises(ValueError, match="time must lie in"):
        both.ball(both.end + 1, 0)


@pytest.mark.parametrize(
    ("height", "said"), [(0.05, "both panes hold"), (1.4, "ordinary breaks, toughened holds")]
)
def test_the_verdict_is_computed(height, said):
    fallen = drop_both(BALL, PANE, height, 100e6)
    assert said in both_verdict(fallen)
    assert 6 <= len(both_verdict(fallen).split()) <= 10


def test_a_plan_decides_which_kind_breaks():
    fallen = drop_both(BALL, PANE, 0.05, 100e6, (0.7, 0.1))  # by its middling pane both hold
    assert fallen.breaks[0] < fallen.parted
    assert fallen.breaks[1] == np.inf
    fallen = drop_both(BALL, PANE, 1.4, 100e6, (0.4, 0.1))
    assert fallen.breaks == (np.inf, np.inf)


def test_words_name_the_odds_of_the_plan(both):
    assert both_sentence(both).endswith(
        "Of 100 such panes, 82 ordinary and 6 toughened break."
    )
    assert "ft" in both_sentence(both, "us")


@pytest.mark.parametrize("look", [LARGE, LARGEST], ids=str)
def test_no_frame_of_the_film_has_a_fault(both, look):
    film = moments(both)
    assert [moment.time for moment in film] == sorted(moment.time for moment in film)
    verdicts = {BothScene().verdict(moment, look.system) for moment in film}
    assert len(verdicts) == 2
    for figure in moving(BothScene(), film[::11], look, SLIDE):
        assert layout_faults(figure) == []
