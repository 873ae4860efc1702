# SPDX-License-Identifier: MIT
import itertools

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j0

from glasskit.breaking import Blow, bending_tension, blow_at, wave_spread
from glasskit.impact import Pane, ball_of_mass, ball_on_pane, drop_speed
from glasskit.materials import glass, solid

PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))


@pytest.fixture(scope="module")
def knock():
    return ball_on_pane(ball_of_mass(0.227, solid("steel")), PANE, drop_speed(0.5))


def test_a_push_that_stays_bends_as_the_sum_of_all_waves(outside):
    """Sum the waves of a plate one by one: Hankel's integral over their number."""
    force, time, away = 1000.0, 1e-4, 0.02
    push = Blow(time=[0.0, 1.0], force=[force, force], begins=1e-9)
    got = np.mean(bending_tension(away, time, push, PANE))
    spread, weight = wave_spread(PANE), PANE.glass.density * PANE.thickness

    def wave(number):
        turned = (1 - np.cos(spread * number**2 * time)) / (spread * number) ** 2
        return number * j0(number * away) * turned * np.exp(-((number * 3e-4) ** 2))

    ends = itertools.pairwise(np.arange(0.0, 8001.0, 50.0))
    total = sum(quad(wave, low, high)[0] for low, high in ends)
    curved = force / (2 * np.pi * weight) * total  # minus the sum of both curvatures
    moment = PANE.rigidity * (1 + PANE.glass.poisson) * curved / 2
    outside(
        "mean bending tension 20 mm off, 0.1 ms after a step of 1 kN, MPa",
        got / 1e6,
        6 * moment / PANE.thickness**2 / 1e6,
        rel=0.01,
        source="Hankel's integral over the waves of a thin plate, summed by quadrature",
        status="independent method",
    )


def test_under_the_ball_it_is_the_tension_of_the_blow(knock, outside):
    for tension in (40e6, 80e6):
        blow = blow_at(knock, tension)
        both = bending_tension(0.0, blow.begins, blow, PANE)
        outside(
            f"tension under the ball as the whole pane has come to {tension / 1e6:g} MPa",
            np.mean(both) / 1e6,
            tension / 1e6,
            rel=0.25,
            source="ball_on_pane, with the true contact and thickness",
            status="consistency",
        )


def test_bending_outgrows_the_first_place_and_dies_when_the_ball_is_off(knock):
    blow = blow_at(knock, 60e6)
    at_20_mm = [bending_tension(0.02, time, blow, PANE)[1].item() for time in (2e-5, 1e-4)]
    assert at_20_mm[1] > 5 * abs(at_20_mm[0])
    late = bending_tension(0.02, 20 * blow.ends, blow, PANE)[1].item()
    assert abs(late) < 0.05 * at_20_mm[1]


def test_tension_is_in_proportion_to_the_push():
    one, two = (
        Blow(time=[0.0, 1e-4], force=[0.0, force], begins=2e-5) for force in (1e3, 2e3)
    )
    away = np.linspace(0.0, 0.1, 7)
    twice = np.array(bending_tension(away, 8e-5, two, PANE))
    assert twice == pytest.approx(2 * np.array(bending_tension(away, 8e-5, one, PANE)))
    assert twice.shape == (2, 7)


def test_a_harder_blow_breaks_the_pane_sooner(knock):
    assert blow_at(knock, 40e6).begins < blow_at(knock, 80e6).begins < 50e-6
    blow = blow_at(knock, 80e6)
    assert blow.push(2 * blow.ends) == 0
    assert blow.push(blow.begins) > blow.push(blow.begins / 2) > 0


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"time": [0.0, 0.0]}, "time must ascend; got 0 s"),
        ({"force": [1.0]}, "force must hold 2 numbers; got 1"),
        ({"begins": 2.0}, "begins must not lie after the last time; got 2 s"),
    ],
)
def test_a_blow_checks_itself(fields, message):
    good = {"time": [0.0, 1e-4], "force": [0.0, 1e3], "begins": 1e-5}
    with pytest.raises(ValueError, match=f"^{message}$"):
        Blow(**good | fields)


def test_a_blow_that_does_not_reach_the_tension_is_refused(knock):
    with pytest.raises(ValueError, match=r"^tension must be at most .* in this blow; got 1e"):
        blow_at(knock, 1e9)
