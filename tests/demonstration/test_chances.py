# SPDX-License-Identifier: MIT
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from glasskit import crack, stress
from glasskit.demonstration import chances as odds
from glasskit.demonstration import rigs
from glasskit.demonstration.learning import lessons
from glasskit.demonstration.worlds import Belief, inputs, learned
from glasskit.impact import ball_of_mass, ball_on_pane, drop_speed
from glasskit.impact.ringing import Pane
from glasskit.materials import glass, solid

PANE = Pane(
    length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    support_stiffness=1.2e7, damping=0.05,
)  # fmt: skip
BALL = rigs.DroppedBall(mass=0.227, solid=solid("steel"))
HEIGHTS = np.geomspace(0.05, 10.0, 40)
PLAIN, TOUGH = rigs.annealed("ordinary", PANE), rigs.toughened("toughened", PANE)


def curve(specimen, rig, heights, belief=None, seed=0):
    worlds = odds.worlds_of([specimen.name], rig, belief or learned(), seed=seed)
    return odds.odds_in(worlds, specimen, rig, heights)


def test_everyday_flaws_break_one_pane_in_twenty_at_the_characteristic_strength(outside):
    flaws = rigs.everyday_flaws()
    outside(
        "strength that one ordinary pane in twenty does not reach / MPa",
        crack.griffith_strength(flaws.depth(0.95), flaws.toughness) / 1e6,
        45.0,
        rel=0.005,
        source="EN 572-1, characteristic bending strength of float",
        status="found",
    )


def test_band_and_chance_rise_with_height():
    found = curve(TOUGH, BALL, HEIGHTS)
    for line in (found.chance, found.low, found.high):
        assert (np.diff(line) >= -1e-12).all()
    assert (found.low <= found.high).all()
    middle = (found.chance > 0.1) & (found.chance < 0.9)
    assert (found.low < found.chance)[middle].all()
    assert (found.chance < found.high)[middle].all()
    assert found.chances.shape == (odds.COUNT, 40)
    assert found.rings.shape == (40,)
    assert not found.chances.flags.writeable


def test_toughened_panes_break_less_and_more_squeeze_helps():
    plain, tough = curve(PLAIN, BALL, HEIGHTS), curve(TOUGH, BALL, HEIGHTS)
    assert (tough.chance <= plain.chance + 1e-9).all()
    more = curve(rigs.toughened("more", PANE, 150e6), BALL, HEIGHTS)
    assert (more.chance <= tough.chance + 1e-4).all()


def test_seeds_agree_to_the_last_digit_that_is_shown():
    one, two, other = (curve(TOUGH, BALL, HEIGHTS, seed=seed) for seed in (4, 4, 5))
    assert np.array_equal(one.chances, two.chances)
    assert not np.array_equal(one.chances, other.chances)
    first, again = curve(TOUGH, BALL, HEIGHTS), curve(TOUGH, BALL, HEIGHTS, seed=0)
    assert np.array_equal(first.chances, again.chances)
    assert np.abs(one.chance - other.chance).max() < 0.01


def test_height_and_chance_are_inverse():
    found = curve(PLAIN, BALL, HEIGHTS)
    for chance in (0.1, 0.5, 0.9):
        assert found.at(found.height(chance)).mean() == pytest.approx(chance, abs=1e-6)
    assert found.height(1.1) == np.inf


def test_a_pane_that_held_breaks_only_from_higher():
    found = curve(PLAIN, BALL, HEIGHTS)
    assert found.after(0.8, 0.8) == pytest.approx(0.0, abs=1e-12)
    assert found.after(0.8, 0.5) == pytest.approx(0.0, abs=1e-12)
    before, now = found.at(0.5), found.at(1.2)
    assert found.after(0.5, 1.2) == pytest.approx((now - before).sum() / (1 - before).sum())
    assert found.after(0.5, 1.2) < found.at(1.2).mean()


def test_known_drops_narrow_the_odds():
    prior = curve(TOUGH, BALL, HEIGHTS, belief=Belief.before())
    after = curve(TOUGH, BALL, HEIGHTS, belief=learned())
    middle = (prior.chance > 0.2) & (prior.chance < 0.8)
    assert (after.high - after.low)[middle].mean() < (prior.high - prior.low)[middle].mean()


@pytest.mark.parametrize(
    "rig", [BALL, rigs.SwungHammer(mass=0.5, face_radius=0.1, solid=solid("steel"))]
)
def test_every_input_of_a_rig_has_a_range(rig):
    assert set(odds.inputs_of(rig)) <= set(inputs())


def test_what_is_worth_learning_adds_up():
    worlds = odds.worlds_of(["ordinary"], BALL, learned())
    chance = odds.odds_in(worlds, PLAIN, BALL, HEIGHTS).at(0.8)
    found = lessons(worlds, BALL, PLAIN, chance)
    assert found[0].topic == "flaws"
    assert 0.7 < sum(lesson.part for lesson in found) < 1.1
    assert all(0 <= lesson.narrows <= lesson.part <= 1 for lesson in found)
    # A chance that is one input is learned from that input alone.
    at = worlds.columns.index(("", "mass"))
    alone = lessons(worlds, BALL, PLAIN, worlds.places[:, at])
    assert alone[0].topic == "mass"
    assert alone[0].part == pytest.approx(1.0, abs=1e-6)
    assert alone[1].part < 0.01


def test_a_guided_drop_brings_its_own_cases():
    screen = Pane(length=0.15, width=0.07, thickness=0.7e-3, glass=glass("aluminosilicate"))
    specimen = rigs.chemically("screen", screen, 700e6, 40e-6)
    rig = rigs.GuidedDrop(mass=0.2, floor="concrete", glass=glass("aluminosilicate"))
    found = curve(specimen, rig, [0.5, 1.0, 2.0])
    landing = rig.landing(specimen, [0.5, 1.0, 2.0])
    assert found.chance == pytest.approx(landing.broken, abs=0.06)
    worlds = odds.worlds_of(["screen"], rig, learned())
    moved = lessons(
        worlds, rig, specimen, odds.odds_in(worlds, specimen, rig, [1.0, 2.0]).at(1.0)
    )
    assert {lesson.topic for lesson in moved} >= {"grain sharpness"}
    soft = curve(specimen, replace(rig, floor="hardwood"), [0.5, 1.0, 2.0])
    assert (soft.chance < found.chance).all()


def test_curve_of_two_worlds_by_hand():
    found = odds.Odds(
        heights=np.array([1.0, 2.0, 4.0]),
        chances=np.array([[0.0, 0.2, 0.6], [0.2, 0.6, 0.8]]),
        rings=np.zeros(3),
    )
    assert found.chance == pytest.approx([0.1, 0.4, 0.7])
    # 0.05 and 0.95 of the way from the lower world to the upper one.
    assert found.low == pytest.approx([0.01, 0.22, 0.61])
    assert found.high == pytest.approx([0.19, 0.58, 0.79])
    assert found.height(0.05) == found.height(0.1) == 1.0
    assert found.height(0.4) == pytest.approx(2.0)
    assert found.height(0.7) == pytest.approx(4.0)
    assert found.height(0.55) == pytest.approx(2 * 2**0.5)  # halfway in its logarithm
    assert found.height(0.71) == np.inf
    assert found.at(2**0.5) == pytest.approx([0.1, 0.4])
    assert found.at(4.0) == pytest.approx([0.6, 0.8])
    # Of the worlds' panes 2 - 0.8 held from 2 m; 0.4 + 0.2 of them break from 4 m.
    assert found.after(2.0, 4.0) == pytest.approx(0.6 / 1.2)


@pytest.mark.parametrize(("left", "chance"), [(0.0, 1.0), (0.5, 0.5)])
def test_where_no_pane_held_the_next_blow_breaks(left, chance):
    every = odds.Odds(
        heights=np.array([1.0, 2.0]),
        chances=np.array([[1.0 - left, 1.0 - left / 2]]),
        rings=np.zeros(2),
    )
    assert every.after(1.0, 2.0) == chance


def test_what_most_worlds_say_falls_nowhere_with_height():
    dip = odds.Odds(
        heights=np.array([1.0, 2.0, 4.0, 8.0]),
        chances=np.array([[0.3, 0.5, 0.4, 0.6]]),
        rings=np.zeros(4),
    )
    assert dip.height(0.45) == pytest.approx(2.0**0.75)


class _Smooth(rigs.GuidedDrop):
    """Landings whose hazard is a power of the height, in three judged cases."""

    scales = np.array([0.5, 1.0, 3.0])

    def landing(self, specimen, height):
        hazard = (np.asarray(height)[:, None] / self.scales) ** 1.5
        return SimpleNamespace(chance=-np.expm1(-hazard))


def _guided_world(heights, **places):
    """Return the chances of one world, inputs at the places given or at zero; its factors."""
    glazing = glass("aluminosilicate")
    pane = Pane(length=0.15, width=0.07, thickness=0.7e-3, glass=glazing)
    screen = rigs.chemically("screen", pane, 700e6, 40e-6)
    rig = _Smooth(mass=0.2, floor="concrete", glass=glazing)
    worlds = odds.worlds_of(["screen"], rig, Belief.before(), count=1)
    names = [name.replace(" ", "_") for _, name in worlds.columns]
    worlds = worlds.moved(np.array([[places.get(name, 0.0) for name in names]]))
    found = odds.odds_in(worlds, screen, rig, heights)
    return found.chances[0], {name: at.item() for name, at in worlds.factors("screen").items()}


@pytest.mark.parametrize(("place", "scale"), [(-10.0, 0.5), (0.0, 1.0), (10.0, 3.0)])
@pytest.mark.parametrize("heights", [[0.3, 0.8, 1.7], [0.002, 0.8, 30.0], [25.0, 30.0]])
def test_a_judged_case_is_the_landing_itself(place, scale, heights):
    chances, _ = _guided_world(heights, case=place)
    hazard = (np.array(heights) / scale) ** 1.5
    assert chances == pytest.approx(-np.expm1(-hazard), rel=0.02)


@pytest.mark.parametrize("place", [-1.0, 1.0])
def test_a_strong_lot_stands_the_square_of_the_height_and_a_wide_one_scatters_more(place):
    heights = np.array([0.3, 0.8, 1.7])
    chances, factors = _guided_world(heights, lot_strength=place)
    strength = factors["lot strength"]
    assert abs(strength - 1) > 0.1
    assert chances == pytest.approx(-np.expm1(-((heights / strength**2) ** 1.5)), rel=0.02)
    chances, factors = _guided_world(heights, lot_scatter=place)
    scatter = factors["lot scatter"]
    assert abs(scatter - 1) > 0.05
    assert chances == pytest.approx(-np.expm1(-(heights ** (1.5 * scatter))), rel=0.02)


def test_a_guided_drop_from_hardly_any_height_and_from_any_height():
    lowest, _ = _guided_world([1e-3, 100.0], lot_strength=1.0)
    assert lowest[0] < 1e-4
    assert lowest[1] == pytest.approx(1.0)


def test_the_sweep_gives_what_a_blow_by_itself_gives():
    heights = np.array([0.07, 0.33])
    thick = replace(PANE, thickness=6e-3)
    direct = ball_on_pane(
        ball_of_mass(0.227, solid("steel")), thick, drop_speed(heights)
    ).stress
    assert BALL.blow(thick, heights).stress == pytest.approx(direct, rel=0.02)


def test_a_ball_is_as_large_as_its_mass_says(outside):
    outside(
        "radius of a 0.535 kg steel ball / mm",
        rigs.DroppedBall(mass=0.535, solid=solid("steel")).radius * 1e3,
        25.4,
        rel=0.01,
        source="UL 746C: 0.535 kg, 50.8 mm",
        status="found",
    )


def test_a_hammer_with_the_face_of_a_ball_strikes_like_the_ball():
    hammer = rigs.SwungHammer(mass=BALL.mass, face_radius=BALL.radius, solid=BALL.solid)
    ball, head = BALL.blow(PANE, 0.5), hammer.blow(PANE, 0.5)
    assert head.stress == pytest.approx(ball.stress, rel=1e-6)
    flat = replace(hammer, face_radius=0.2)
    assert flat.blow(PANE, 0.5).stress < 1.5 * ball.stress


def test_a_pane_on_a_batten_is_stressed_by_the_speed_alone(outside):
    # sqrt(3) * 3.132 m/s * sqrt(2500 * 70e9/(1 - 0.22^2)) = 5.425 * 1.356e7
    outside(
        "tension of a pane that falls flat from 0.5 m / MPa",
        rigs.FallingPane().blow(PANE, 0.5).stress / 1e6,
        73.6,
        rel=0.03,
        source="root of three times speed times impedance, with EN 572-1",
        status="hand calculation",
    )
    found = curve(PLAIN, rigs.FallingPane(), HEIGHTS)
    assert (np.diff(found.chance) >= -1e-12).all()
    assert not found.rings.any()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: odds.odds_in(
                odds.worlds_of(["ordinary"], BALL, learned(), count=2), PLAIN, BALL, [0.0, 0.5]
            ),
            "heights must be finite and positive",
        ),
        (
            lambda: curve(PLAIN, BALL, [0.2, 0.5]).at(-1.0),
            "height must be finite and positive",
        ),
        (
            lambda: rigs.DroppedBall(mass=0, solid=solid("steel")),
            "mass must be finite and pos",
        ),
        (lambda: rigs.FallingPane(slap=-1), "slap must be finite and positive; got -1"),
        (
            lambda: rigs.GuidedDrop(mass=0.2, floor="ice", glass=glass("soda-lime")),
            "floor must be one of",
        ),
        (lambda: rigs.annealed("a #1", PANE), "name must not be empty, padded or hold a #"),
        (lambda: replace(PLAIN, kind="wet"), "kind must be one of annealed, toughened, chem"),
        (
            lambda: replace(PLAIN, profile=stress.annealed(5e-3)),
            "profile must be as thick as the pane, 0.004 m; got 0.005 m",
        ),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
