"""What is heard in a recording, what is refused, and how files bend it."""

import numpy as np
import pytest

from glasskit.measured import (
    Room,
    Sound,
    bouncing_sound,
    hear_clicks,
    hear_ring,
    loud_time,
    read_sound,
    ringing_sound,
    stored,
    waveform,
)

CLICKS = np.array([0.6, 0.95, 1.24, 1.48, 1.68])
LOUD = np.array([1.0, 0.8, 0.65, 0.5, 0.4])


def bouncing(seed=2, **room):
    return bouncing_sound(CLICKS, LOUD, np.random.default_rng(seed), room=Room(**room))


@pytest.mark.parametrize("kind", ["wav", "m4a", "mp3"])
@pytest.mark.parametrize(
    "room", [{}, {"wet": 0.3, "echo": 0.8}, {"noise": 3e-3}, {"gain": 1.6}]
)
def test_clicks_are_placed_within_a_fraction_of_a_millisecond(kind, room):
    heard = hear_clicks(read_sound(stored(bouncing(**room), kind))).train
    assert heard.size == CLICKS.size
    # An m4a smears a knock over what comes before it.
    assert np.ptp(heard - CLICKS) < (1.0e-3 if kind == "m4a" else 0.35e-3)


def test_knocks_and_voices_beside_a_train_are_left_out():
    rng = np.random.default_rng(5)
    others = bouncing_sound([0.2, 0.77, 2.0, 2.3], [0.5, 0.3, 0.9, 0.9], rng)
    ball = bouncing()
    samples = np.zeros(others.samples.size)
    samples[: ball.samples.size] += 0.5 * ball.samples
    samples += 0.3 * others.samples
    time = np.arange(samples.size) / 48_000
    samples += 0.05 * np.sin(2 * np.pi * 180 * time) * np.sin(2 * np.pi * 3 * time) ** 2
    heard = hear_clicks(Sound(samples=samples, rate=48_000.0))
    assert heard.train == pytest.approx(CLICKS, abs=5e-4)
    assert heard.onsets.size > CLICKS.size


def test_a_train_is_put_right_by_hand():
    heard = hear_clicks(bouncing())
    fewer = heard.corrected(heard.train[:-1])
    assert fewer.train.size == CLICKS.size - 1
    assert fewer.corrected([*fewer.train, heard.nearest(1.675)]).train == pytest.approx(
        heard.train
    )
    assert heard.nearest(0.3) == 0.3
    with pytest.raises(ValueError, match="train must lie in"):
        heard.corrected([99.0])


def test_pitch_and_fading_are_those_that_were_put_in():
    sound = ringing_sound([362.0, 998.0], [4.0, 15.0], [1.0, 0.6], np.random.default_rng(3))
    low, high = hear_ring(read_sound(stored(sound, "m4a"))).peaks
    assert low.frequency == pytest.approx(362.0, abs=0.1)
    assert high.frequency == pytest.approx(998.0, abs=0.3)
    assert low.decay == pytest.approx(4.0, rel=0.15)
    assert high.friction == pytest.approx(15.0 / (np.pi * 998.0), rel=0.15)


def noise(seconds=2.0, size=0.1):
    samples = size * np.random.default_rng(1).standard_normal(int(48_000 * seconds))
    return Sound(samples=samples, rate=48_000.0)


@pytest.mark.parametrize("hear", [hear_clicks, hear_ring])
def test_what_cannot_be_heard_is_refused_in_one_sentence(hear):
    silent = Sound(samples=np.full(96_000, 1e-5), rate=48_000.0)
    with pytest.raises(ValueError, match="sound must not be silent"):
        hear(silent)
    with pytest.raises(ValueError, match=r"sound must last 0\.3 s or longer; got 0\.1 s"):
        hear(noise(0.1))
    clipped = Sound(samples=np.sign(noise().samples), rate=48_000.0)
    with pytest.raises(ValueError, match="record it from farther off"):
        hear(clipped)


def test_noise_holds_no_clicks_and_no_pitch():
    with pytest.raises(ValueError, match="sound must hold clicks"):
        hear_clicks(noise())
    with pytest.raises(ValueError, match="sound must hold something that rings"):
        hear_ring(noise())


def test_a_recording_is_drawn_by_its_ends():
    time, low, high = waveform(bouncing(), 500)
    assert time.shape == low.shape == high.shape == (500,)
    assert np.all(low <= high)
    assert time[np.argmax(high)] == pytest.approx(0.6, abs=0.02)


def test_how_long_it_is_loud_is_told():
    assert loud_time(bouncing(wet=0.01, noise=1e-4)) == pytest.approx(1.08, abs=0.05)


def test_an_invented_recording_is_stored_and_read_again():
    file = stored(bouncing(), "m4a")
    assert read_sound(file).rate == 48_000.0
    with pytest.raises(ValueError, match="kind must be one of wav, m4a, mp3"):
        stored(bouncing(), "ogg")
