"""Clicks to flights, restitution and height; the whole way from invented recordings."""

import numpy as np
import pytest
from measured.heard import bounced_set

from glasskit.impact import Ball, Pane, ball_on_pane, inelasticity, wide_plate_restitution
from glasskit.materials import glass, solid
from glasskit.measured import Clicks, Sound, bounced, bounces, launch_speed
from glasskit.quantities import GRAVITY

BALL = Ball(radius=5e-3, solid=solid("steel"))
PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"), damping=0.05)


def clicks_of(rebounds, fall, limit=np.inf, start=0.5):
    """Follow a ball in small steps of time; an independent method."""
    speed, times, step = 0.0, [], 2e-5
    height, now, rebounds = fall, start, list(rebounds)
    while rebounds:
        pull = GRAVITY * (1.0 + np.sign(speed) * (speed / limit) ** 2)
        height, speed, now = height + step * speed, speed - step * pull, now + step
        if height <= 0.0 and speed < 0.0:
            times.append(now)
            height, speed = 0.0, -speed * rebounds.pop(0)
    return np.array(times)


def test_flights_without_drag_give_back_what_was_put_in(outside):
    heard = bounces(clicks_of([0.8, 0.7, 0.6, 0.5], 0.4))
    outside(
        "restitution, mean of 0.7 and 0.6",
        heard.restitution,
        np.sqrt(0.42),
        source="free fall stepped in time",
        status="independent method",
        rel=1e-3,
    )
    assert heard.each == pytest.approx([0.7, 0.6], rel=1e-3)
    assert heard.heights == pytest.approx([0.4 * 0.64, 0.4 * 0.3136, 0.4 * 0.112896], rel=2e-3)


def test_drag_is_put_right(outside):
    clicks = clicks_of([0.9, 0.9, 0.9], 1.0, limit=8.0)
    outside(
        "restitution of a light ball",
        bounces(clicks, terminal_speed=8.0).restitution,
        0.9,
        source="fall with drag stepped in time",
        status="independent method",
        rel=1e-3,
    )
    assert abs(bounces(clicks).restitution / 0.9 - 1.0) > 5e-3


def test_a_measured_first_fall_gives_one_more_bounce():
    clicks = clicks_of([0.5, 0.6, 0.7], 0.3)
    heard = bounces(clicks, fall=0.3)
    assert heard.each == pytest.approx([0.5, 0.6], rel=2e-3)
    assert heard.fall_given
    assert bounces(clicks[:2], fall=0.3).restitution == pytest.approx(0.5, rel=2e-3)
    wide = bounces(clicks, fall=0.3, fall_tolerance=0.05).interval
    assert np.ptp(wide) > np.ptp(heard.interval)


def test_a_ball_of_one_restitution_tells_its_first_fall():
    heard = bounces(clicks_of([0.9] * 8, 0.25))
    assert heard.fall == pytest.approx(0.25, rel=0.02)
    low, high = heard.fall_interval
    assert low < 0.25 < high


def test_launch_speed_takes_rows():
    assert launch_speed([0.2, 0.4], 9.0).shape == (2,)
    assert launch_speed(0.4, 1e9) == pytest.approx(0.2 * GRAVITY)


@pytest.mark.parametrize(
    ("clicks", "said"),
    [
        ([0.5], "clicks must be 3 or more"),
        ([0.5, 0.7], "clicks must be 3 or more"),
        ([0.5, 0.7, 1.2], "clicks must lie closer and closer"),
        ([0.5, 0.50001, 0.50002], "clicks must lie 0.1 ms or more apart"),
    ],
)
def test_clicks_that_are_no_bouncing_ball_are_refused(clicks, said):
    with pytest.raises(ValueError, match=said):
        bounces(clicks)


def test_heard_stands_beside_what_is_predicted():
    sound = Sound(samples=np.zeros(96_000), rate=48_000.0)
    clicks = np.array([0.5, 0.8, 0.92])
    heard = Clicks(sound=sound, onsets=clicks, strengths=np.ones(3), train=clicks)
    found = bounced(heard, BALL, PANE)
    assert found.heard.restitution == pytest.approx(0.4, abs=0.002)
    assert found.wide_mean == pytest.approx(0.37, abs=0.02)
    assert found.pane_mean == pytest.approx(found.wide_mean, abs=0.1)


def test_the_wide_plate_is_the_pane_before_its_waves_come_back(outside):
    wide = Pane(length=1.0, width=1.0, thickness=10e-3, glass=glass("soda-lime"))
    outside(
        "restitution of a 10 mm steel ball on 10 mm glass at 1 m/s",
        wide_plate_restitution(inelasticity(BALL, glass("soda-lime"), 10e-3, 1.0)),
        ball_on_pane(BALL, wide, 1.0, follow=3e-4).restitution,
        source="the pane's own modes, followed for 0.3 ms",
        status="consistency",
        abs_=0.005,
    )


@pytest.mark.parametrize("number", [0.1, 0.25, 0.5])
def test_zeners_restitution_is_near_its_published_fit(number, outside):
    outside(
        f"restitution at an inelasticity of {number}",
        wide_plate_restitution(number),
        np.exp(-1.719 * number),
        source="exponential fit to Zener's solution, after later authors",
        status="memory",
        abs_=0.015,
    )


def test_thicker_glass_gives_more_back():
    number = inelasticity(BALL, glass("soda-lime"), [3e-3, 6e-3, 12e-3, 25e-3], 1.0)
    assert number[0] / number[1] == pytest.approx(4.0)  # with one over thickness squared
    assert np.all(np.diff(wide_plate_restitution(number)) > 0)
    assert wide_plate_restitution([0.0, 50.0]) == pytest.approx([1.0, 0.0], abs=0.003)


def test_from_the_recording_to_the_restitution():
    # A sample of what tests/speed/listen.py does with 200 and more.
    rows, silent = bounced_set(30, seed=3)
    truth, heard, low, high, fall, fall_low, fall_high = rows.T
    off = np.log(heard / truth)
    assert silent <= 3
    assert abs(np.median(off)) < 0.005
    assert np.median(np.abs(off)) < 0.02
    assert np.mean((low <= truth) & (truth <= high)) >= 0.83  # binomial about 0.95
    assert np.mean((fall_low <= fall) & (fall <= fall_high)) >= 0.83


@pytest.mark.parametrize(
    ("across", "thickness", "side"), [(6e-3, 3e-3, 0.4), (40e-3, 3e-3, 0.1)]
)
def test_small_balls_on_wide_panes_and_large_ones_on_small_panes_are_predicted(
    across, thickness, side
):
    sound = Sound(samples=np.zeros(96_000), rate=48_000.0)
    clicks = np.array([0.5, 0.8, 0.92])
    heard = Clicks(sound=sound, onsets=clicks, strengths=np.ones(3), train=clicks)
    pane = Pane(length=side, width=side, thickness=thickness, glass=glass("soda-lime"))
    found = bounced(heard, Ball(radius=across / 2, solid=solid("steel")), pane)
    assert 0 < found.pane_mean <= 1
    assert np.isfinite(found.pull)
