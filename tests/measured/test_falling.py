# SPDX-License-Identifier: MIT
"""A filmed fall: the whole way on films that the kit draws, whose truth is known.

A few films are measured here; ``python tests/speed/filmed_falls.py 240`` measures as many as
the intervals need to be judged.
"""

import tracemalloc
from dataclasses import replace

import numpy as np
import pytest

from glasskit.impact import drop_speed
from glasskit.measured import (
    Ruler,
    Sightings,
    film_fall,
    find_ball,
    fit_fall,
    track_ball,
)
from glasskit.quantities import GRAVITY

RATE = 120.0  # frames a second of falls that are computed
SIZE = 0.04  # ball [m]


def seen_fall(
    height=0.8, across=400.0, rate=RATE, slowed=1.0, scatter=0.0, restitution=0.5, seed=0
):
    """Return sightings of a fall without air, computed and not drawn."""
    rng = np.random.default_rng(seed)
    touch = np.sqrt(2 * height / GRAVITY)
    speed = GRAVITY * touch
    times = np.arange(-0.05, touch + 2 * restitution * speed / GRAVITY, 1 / rate)
    after = times - touch
    fall = 0.5 * GRAVITY * np.clip(times, 0, None) ** 2
    rise = height - restitution * speed * after + 0.5 * GRAVITY * after**2
    deep = np.where(after < 0, fall, rise)
    count = times.size
    return Sightings(
        times=slowed * times,
        frame=np.arange(count),
        x=100.0 + scatter * rng.standard_normal(count),
        y=60.0 + across * deep + scatter * rng.standard_normal(count),
        width=across * SIZE + scatter * rng.standard_normal(count),
        streak=np.zeros(count),
        picture=np.zeros((480, 270, 3), np.uint8),
    )


def fitted(seen, **named):
    return fit_fall(track_ball(seen), **{"diameter": SIZE, "mass": 20.0} | named)


@pytest.fixture(scope="module")
def film():
    return film_fall(np.random.default_rng(1))


@pytest.fixture(scope="module")
def seen(film):
    return find_ball(film.file)


# --- the fit, on computed places ------------------------------------------------------------


def test_a_fall_without_scatter_is_measured_as_it_was(outside):
    fall = fitted(seen_fall())
    # Source: v = sqrt(2 g h) at h = 0.8 m is 3.9612 m/s; e = 0.5, so the rebound is h/4.
    for name, got, true in (
        ("height of a computed fall", fall.height.value, 0.8),
        ("speed at its end", fall.speed.value, 3.9612),
        ("g from it", fall.free_fall.value, GRAVITY),
        ("its rebound", fall.rebound.value, 0.2),
        ("speed after over speed before", fall.restitution.value, 0.5),
    ):
        outside(name, got, true, rel=2e-3, source="v² = 2 g h", status="hand calculation")
    assert fall.touch == "rebound"
    assert fall.slowed == 1


def test_twice_the_diameter_is_twice_every_length():
    seen = seen_fall(scatter=0.1)
    one, two = fitted(seen), fitted(seen, diameter=2 * SIZE, slowed=1.0)
    for name in ("height", "rebound", "free_fall", "speed"):
        assert getattr(two, name).value == pytest.approx(
            2 * getattr(one, name).value, rel=0.01
        )
    assert two.restitution.value == pytest.approx(one.restitution.value, rel=0.01)


@pytest.mark.parametrize("slowed", [2.0, 8.0])
def test_slow_motion_is_told_from_g(slowed):
    fall = fitted(seen_fall(rate=240.0, slowed=slowed, scatter=0.1))
    assert fall.slowed == pytest.approx(slowed, rel=1e-6)
    assert not fall.told
    assert fall.apparent.value == pytest.approx(GRAVITY / slowed**2, rel=0.02)
    assert fall.speed.value == pytest.approx(3.96, rel=0.02)
    assert fall.height.value == pytest.approx(0.8, rel=0.02)


def test_a_wrong_diameter_is_no_slow_motion():
    fall = fitted(seen_fall(scatter=0.1), diameter=0.8 * SIZE)
    assert fall.slowed == 1
    assert fall.free_fall.high < 9


def test_a_given_factor_is_used_as_it_is():
    fall = fitted(seen_fall(rate=240.0, slowed=8.0, scatter=0.1), slowed=4.0)
    assert fall.told
    assert fall.free_fall.value == pytest.approx(GRAVITY / 4, rel=0.02)


def test_a_ruler_gives_the_lengths_whatever_the_diameter():
    seen = seen_fall(scatter=0.1)
    ruler = Ruler(upper=60 / 480, lower=380 / 480, distance=0.8)
    for diameter in (SIZE, 1.3 * SIZE):
        fall = fitted(seen, diameter=diameter, ruler=ruler)
        assert fall.height.value == pytest.approx(0.8, rel=0.01)


def test_where_no_rebound_is_seen_the_pane_ends_the_fall_or_the_last_place():
    seen = seen_fall(scatter=0.05)
    last = int(np.flatnonzero(seen.y > 300)[0])
    fall = fit_fall(track_ball(seen, last=last), diameter=SIZE, mass=20.0)
    assert fall.touch == "last"
    assert fall.rebound is None
    assert fall.height.value == pytest.approx((seen.y[last] - 60) / 400, rel=0.02)
    face = (60 + 0.8 * 400 + 200 * SIZE) / 480
    pane = fit_fall(track_ball(seen, last=last), diameter=SIZE, mass=20.0, pane=face)
    assert pane.touch == "pane"
    assert pane.height.value == pytest.approx(0.8, rel=0.02)
    assert pane.speed.value == pytest.approx(drop_speed(0.8).item(), rel=0.02)


def test_strays_do_not_bend_the_fall():
    seen = seen_fall(scatter=0.1)
    y = seen.y.copy()
    y[[15, 20, 27]] += [40.0, -25.0, 60.0]
    track = track_ball(replace(seen, y=y))
    assert not {15, 20, 27} & set(track.fall.tolist())
    fall = fit_fall(track, diameter=SIZE, mass=20.0)
    assert fall.height.value == pytest.approx(0.8, rel=0.01)


def test_frames_left_out_by_hand_do_not_count():
    seen = seen_fall()
    track = track_ball(seen, first=10, without=[20, 21])
    assert seen.frame[track.fall].min() >= 10
    assert not {20, 21} & set(seen.frame[track.fall].tolist())


def test_intervals_of_computed_falls_hold_the_truth_about_as_often_as_they_say():
    held = []
    for seed in range(60):
        rng = np.random.default_rng([seed, 3])
        seen = seen_fall(scatter=0.3, seed=seed)
        # The edge is off by about half of what widths scatter by, the same in all frames.
        wider = replace(seen, width=seen.width + 0.15 * rng.standard_normal())
        fall = fitted(wider, diameter=SIZE * (1 + 0.003 * rng.standard_normal()))
        true = (0.8, drop_speed(0.8).item(), 0.5)
        got = (fall.height, fall.speed, fall.restitution)
        held.append([g.low < t < g.high for g, t in zip(got, true, strict=True)])
    # The camera does not lean here and no lens bends, which the intervals allow for.
    assert np.mean(held, axis=0).min() >= 0.9


# --- bad input ------------------------------------------------------------------------------


def test_too_few_frames_of_the_ball_and_no_ball_are_said():
    seen = seen_fall(rate=30.0)
    with pytest.raises(ValueError, match=r"^the film must show a ball in 5 frames or more"):
        track_ball(seen, last=4)
    with pytest.raises(ValueError, match=r"nothing round moves"):
        track_ball(seen, first=1000)
    still = replace(seen, y=np.full(seen.y.size, 200.0))
    with pytest.raises(ValueError, match=r"^the film must show a ball in 5 frames or more"):
        track_ball(still)


def test_a_ruler_upside_down_is_refused():
    with pytest.raises(ValueError, match=r"^lower must be at least 0\.05 more than upper"):
        Ruler(upper=0.8, lower=0.2, distance=1.0)


def test_a_film_in_which_nothing_moves_says_so(film):
    quiet = film_fall(np.random.default_rng(2), height=0.3, side=128, noise=1.0)
    seen = find_ball(quiet.file, threshold=0.9)
    with pytest.raises(ValueError, match=r"nothing round moves"):
        track_ball(seen)


# --- the whole way, on drawn films ----------------------------------------------------------


def test_a_drawn_film_is_measured_within_its_intervals(film, seen):
    fall = fit_fall(track_ball(seen), diameter=film.diameter, mass=film.mass)
    for got, true in (
        (fall.height, film.height),
        (fall.speed, film.speed),
        (fall.free_fall, GRAVITY),
        (fall.rebound, film.rebound),
    ):
        assert got.low < true < got.high
        assert (got.high - got.low) / 2 < 0.06 * true
    assert fall.restitution.value == pytest.approx(film.restitution, abs=0.01)
    assert fall.scatter < 0.5


def test_a_film_on_its_side_is_the_same_film():
    upright, turned = (
        find_ball(film_fall(np.random.default_rng(5), side=320, turned=turn).file)
        for turn in (False, True)
    )
    assert turned.picture.shape == upright.picture.shape == (320, 180, 3)
    one, other = (fit_fall(track_ball(s), diameter=0.05, mass=0.5) for s in (upright, turned))
    assert other.height.value == pytest.approx(one.height.value, rel=0.02)


def test_a_sample_of_drawn_films_holds_the_truth(monkeypatch):
    monkeypatch.syspath_prepend(str(__file__).replace("measured/test_falling.py", "speed"))
    from filmed_falls import measured

    rows = [measured(seed)[1] for seed in range(6)]
    assert not [row for row in rows if isinstance(row, str)]
    for name in ("height", "speed", "free_fall", "restitution"):
        low, high = np.array([row[name][1:] for row in rows]).T
        assert ((low <= 1.003) & (high >= 0.997)).sum() >= 5, name


def test_frames_are_never_all_in_memory(film):
    one_frame = 480 * 270 * 3
    tracemalloc.start()
    find_ball(film.file)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    # 24 to 48 frames are kept for the background, and a strip of them is stacked.
    assert peak < 70 * one_frame


def test_finding_tells_how_far_it_is_and_can_be_stopped(film):
    steps = find_ball.steps(film.file)
    share, doing = next(steps)
    assert 0 < share < 0.5
    assert doing.startswith("finding the background")
    steps.close()
