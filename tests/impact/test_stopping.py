# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from pictures import LOOKS, MONO, faults
from scipy.integrate import solve_ivp, trapezoid

from glasskit.draw.look import Look
from glasskit.draw.picture import PAGE, SCREEN, LivePicture, still
from glasskit.draw.stopping import StopScene
from glasskit.impact import knock_pulse, stop_on, stop_within
from glasskit.live.stopping import stop_explorer
from glasskit.materials import glass, solid
from glasskit.words.stopping import EVERYDAY, energy_likeness, stop_numbers, stop_sentence

WINDOW, STEEL, WOOD = glass("soda-lime"), solid("steel"), solid("hardwood")
STATES = {
    "glass": stop_on(0.227, 1.2, STEEL, WINDOW),
    "wood": stop_on(0.227, 1.2, STEEL, WOOD),
    "light": stop_on(5e-3, 0.05, WOOD, STEEL),
    "hardest": stop_on(5.0, 5.0, STEEL, STEEL),
    "chosen way": stop_within(0.227, 1.2, 10e-3, STEEL),
    "longest": stop_within(5.0, 0.05, 0.3, STEEL),
    "shortest": stop_within(5e-3, 5.0, 1e-4, STEEL),
}


# --- the pulse ------------------------------------------------------------------------------


def test_the_pulse_of_a_knock_agrees_with_bodies_stepped_in_time(outside):
    # Scaled so that mass, speed and deepest approach are 1: x'' = -1.25 x^(3/2).
    def push(_, state):
        return [state[1], -1.25 * max(state[0], 0.0) ** 1.5]

    quarter = 2.9432751 / 4
    done = solve_ivp(push, (0, 2 * quarter), [0.0, 1.0], rtol=1e-11, atol=1e-13,
                     t_eval=[quarter, 2 * quarter])  # fmt: skip
    for share, approach in zip((0.25, 0.5), done.y[0], strict=True):
        outside(
            f"force of a Hertz knock at {share} of its time, over its peak",
            knock_pulse(share),
            approach**1.5,
            abs_=1e-6,
            source="the equation of motion stepped by a general solver",
            status="independent method",
        )


def test_the_pulse_is_the_same_backwards_and_keeps_its_shape():
    share = np.linspace(0, 1, 21)
    assert knock_pulse(share) == pytest.approx(knock_pulse(1 - share), abs=1e-12)
    assert knock_pulse([[0.5, 0.1], [0.2, 1.0]]).shape == (2, 2)


@pytest.mark.parametrize("share", [-0.1, 1.1, np.nan])
def test_a_time_outside_the_contact_is_refused(share):
    with pytest.raises(ValueError, match=r"^share must lie in 0 <= share <= 1"):
        knock_pulse(share)


# --- the stop -------------------------------------------------------------------------------


@pytest.mark.parametrize(("state", "turns"), [("glass", 2), ("wood", 2), ("chosen way", 1)])
def test_the_force_in_time_adds_up_to_the_momentum(state, turns):
    stop = STATES[state]
    time = np.linspace(0, stop.duration, 4001)
    weight = stop.mass * 9.80665 * stop.duration if turns == 1 else 0.0
    # A block throws the ball back; over a given way the weight pushes on meanwhile.
    expected = turns * stop.mass * stop.speed + weight
    assert trapezoid(stop.force(time), time) == pytest.approx(expected, rel=1e-4)
    assert stop.force([-1e-6, 1.01 * stop.duration]).tolist() == [0.0, 0.0]


def test_a_stop_over_two_centimetres_takes_fifty_one_weights(outside):
    outside(
        "mean force over weight, from 1 m within 20 mm",
        stop_within(0.5, 1.0, 0.02, STEEL).weights,
        51.0,
        rel=1e-12,
        source="m g (1 m + 0.02 m) = F 0.02 m",
        status="hand calculation",
    )


def test_twice_the_way_takes_half_the_force_beyond_the_weight():
    short, long = (stop_within(1.0, 1.0, way, STEEL) for way in (0.01, 0.02))
    weight = 9.80665
    assert short.peak_force - weight == pytest.approx(2 * (long.peak_force - weight))
    assert short.mean_force == pytest.approx(short.peak_force)


def test_a_peak_is_two_and_a_half_times_the_mean_on_a_block():
    stop = STATES["glass"]
    weight = stop.mass * 9.80665
    assert stop.peak_force / (stop.mean_force - weight) == pytest.approx(2.5, rel=1e-12)


def test_drag_takes_from_a_ball_what_the_falling_ball_solved_in_time_loses(outside):
    stop = STATES["glass"]
    drag = 0.5 * 1.2 * 0.47 * np.pi * stop.radius**2 / stop.mass

    def landed(_, state):
        return state[0] - stop.height

    landed.terminal = True
    done = solve_ivp(
        lambda _, s: [s[1], 9.80665 - drag * s[1] ** 2],
        (0, 2),
        [0.0, 0.0],
        events=landed,
        rtol=1e-10,
        atol=1e-12,
    )
    outside(
        "share of speed lost to the air by 227 g of steel from 1.2 m",
        stop.drag_loss,
        1 - done.y[1, -1] / np.sqrt(2 * 9.80665 * stop.height),
        rel=1e-4,
        source="the fall stepped by a general solver",
        status="independent method",
    )


def test_wood_dents_under_steel_and_glass_does_not():
    assert STATES["wood"].dented is WOOD
    assert STATES["glass"].dented is None
    assert STATES["chosen way"].dented is None


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: stop_within(0.0, 1.0, 0.1, STEEL), "^mass must be finite and positive"),
        (lambda: stop_within(1.0, 0.0, 0.1, STEEL), "^height must be finite and positive"),
        (lambda: stop_within(1.0, 1.0, 0.0, STEEL), "^way must be finite and positive"),
        (lambda: stop_on(1.0, -1.0, STEEL, WINDOW), "^height must be finite and positive"),
        (lambda: stop_on(-1.0, 1.0, STEEL, WINDOW), "^mass must be finite and positive"),
    ],
)
def test_an_impossible_stop_is_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()


# --- words ----------------------------------------------------------------------------------


def test_the_sentence_says_what_the_fall_brings_and_what_stops_it():
    assert stop_sentence(STATES["glass"]) == (
        "A steel ball of 227 g that falls 1.20 m brings 2.7 J, 3.6 times as much as an apple "
        "off a table. A thick block of glass stops it over 0.21 mm: it presses with up to "
        "31 kN, the weight of 3200 kg, for 130 µs."
    )
    assert "The wood dents, so the true force is lower." in stop_sentence(STATES["wood"])
    assert "Stopped evenly over 10 mm" in stop_sentence(STATES["chosen way"])
    assert "lbf, the weight of" in stop_sentence(STATES["glass"], "us")


def test_everyday_falls_are_called_by_their_names():
    for mass, height, name in EVERYDAY:
        assert energy_likeness(mass * 9.80665 * height) == f"as much as {name}"
    assert energy_likeness(1e-3) == "0.051 times as much as a coin from a chair"


def test_numbers_of_a_block_tell_of_the_contact_and_those_of_a_way_do_not():
    assert (
        dict(stop_numbers(STATES["glass"]))["pulling stress at its rim, on the glass"]
        == "740 MPa"
    )
    assert not any("rim" in label for label, _ in stop_numbers(STATES["longest"]))


# --- picture and explorer -------------------------------------------------------------------


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("state", STATES)
def test_no_text_of_the_stop_is_cut_off_or_overlaps(state, look):
    assert faults(StopScene(), STATES[state], look) == []


def test_the_stop_fits_a_page():
    assert faults(StopScene(), STATES["glass"], MONO, PAGE) == []


def test_ball_and_height_share_one_scale():
    scene = StopScene()
    LivePicture(scene).draw(STATES["glass"], Look())
    figure = still(scene, STATES["glass"], Look(), SCREEN)
    fall = figure.axes[0]
    ball = next(patch for patch in fall.patches if hasattr(patch, "radius"))
    box = ball.get_window_extent()
    # The ball is 38 mm across beside a fall of 1.2 m, in pixels both ways.
    (_, bottom), (_, top) = fall.transData.transform([(0, 0), (0, 1.2)])
    for side in (box.width, box.height):
        assert side / (top - bottom) == pytest.approx(
            2 * STATES["glass"].radius / 1.2, rel=0.01
        )


def test_moving_the_height_changes_picture_sentence_and_numbers():
    explorer = stop_explorer()
    before = (explorer.image.value, explorer.words.value)
    explorer.controls["height"].value = 0.6
    after = (explorer.image.value, explorer.words.value)
    assert all(new != old for new, old in zip(after, before, strict=True))
    assert explorer.result.height == 0.6


def test_only_a_chosen_way_can_be_moved():
    explorer = stop_explorer()
    way = explorer.controls["way"]
    menu = explorer.controls["block"].menu
    for option in menu.options:
        menu.value = option
        assert way.slider.disabled == (option != "a distance that you choose")
    assert explorer.result.way == way.value


def test_rubber_is_pressed_too_far_for_the_model_and_the_reader_is_told():
    explorer = stop_explorer()
    explorer.controls["block"].menu.value = "a thick block of rubber"
    assert "The contact is wider than" in explorer.note.value


@pytest.mark.parametrize("end", ["low", "high"])
def test_every_slider_works_at_its_ends(end):
    explorer = stop_explorer()
    explorer.controls["block"].menu.value = "a distance that you choose"
    for control in explorer.controls.values():
        if hasattr(control, end):
            control.value = getattr(control, end)
    assert explorer.note.value == ""
