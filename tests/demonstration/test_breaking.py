# SPDX-License-Identifier: MIT
from types import SimpleNamespace

import numpy as np
import pytest

from glasskit import crack, impact
from glasskit.crack.growth import slow_strength
from glasskit.demonstration import breaking
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    SwungHammer,
    annealed,
    chemically,
    toughened,
)
from glasskit.impact import wavefield
from glasskit.materials import glass, solid
from glasskit.stress import tempered

PANE = impact.Pane(
    length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"), damping=0.05
)
BALL = DroppedBall(mass=0.227, solid=solid("steel"))
HEIGHTS = np.array([0.3, 1.0, 2.5])
TOUGH = toughened("toughened", PANE, 100e6)


def place_by_place(specimen, height, chance_of_flaw):
    """Chance of breaking, from the worst flaw that each place of the far face may hold."""
    speed = impact.drop_speed(np.array([height]))
    blow = impact.ball_on_pane(BALL, PANE, speed, steps=20, highest=40.0)
    felt = wavefield.felt(PANE, blow)
    cells = np.broadcast_to(felt.cells, felt.pull.shape[:-1])
    return 1 - np.exp(-np.sum(cells * chance_of_flaw(felt.pull[..., 0])))


@pytest.mark.parametrize("height", [0.3, 0.8])
def test_ordinary_panes_break_place_by_place(outside, height):
    specimen = annealed("ordinary", PANE)
    flaws, pulse = specimen.flaws, BALL.blow(PANE, height).pulse

    def flaw(pull):
        slow = slow_strength(np.maximum(pull, 1.0), pulse)
        return (slow / flaws.scale) ** flaws.modulus / flaws.area

    outside(
        f"chance that an ordinary pane breaks from {height:g} m",
        breaking.break_chance(specimen, BALL, np.array([height]), {}),
        place_by_place(specimen, height, flaw),
        abs_=0.015,
        source="weakest link, summed over the places of the far face",
        status="independent method",
    )


@pytest.mark.parametrize("height", [1.5, 3.0])
def test_toughened_panes_break_place_by_place(outside, height):
    # At every place the flaw that just breaks, by bisection of its depth.
    flaws, pulse = TOUGH.flaws, BALL.blow(PANE, height).pulse
    pulls = np.linspace(101e6, 700e6, 60)
    low, high = np.full(60, 1e-8), np.full(60, 2e-3)
    for _ in range(60):
        depth = np.sqrt(low * high)
        bears = crack.breaking_stress(TOUGH.profile, depth, flaws.toughness) > pulls
        low, high = np.where(bears, depth, low), np.where(bears, high, depth)
    quick = crack.griffith_strength(np.sqrt(low * high), flaws.toughness)

    def flaw(pull):
        slow = slow_strength(np.interp(pull, pulls, quick), pulse)
        return np.where(pull > 101e6, (slow / flaws.scale) ** flaws.modulus, 0) / flaws.area

    outside(
        f"chance that a pane of 100 MPa breaks from {height:g} m",
        breaking.break_chance(TOUGH, BALL, np.array([height]), {}),
        place_by_place(TOUGH, height, flaw),
        abs_=0.015,
        source="weakest link, summed over places, each flaw found crack by crack",
        status="independent method",
    )


def test_more_squeeze_is_a_pane_of_more_squeeze():
    moved = {"compression": np.array([1.3]), "compressed depth": np.array([1.0])}
    got = breaking.break_chance(TOUGH, BALL, HEIGHTS, moved)
    harder = toughened("harder", PANE, 130e6)
    assert got == pytest.approx(breaking.break_chance(harder, BALL, HEIGHTS, {}), abs=0.01)


def test_every_factor_pulls_its_way():
    for name, sign in (
        ("flaw strength", -1),
        ("short load", -1),
        ("healing", -1),
        ("compression", -1),
        ("lot strength", -1),
        ("flaw area", 1),
        ("theory of the blow", 1),
        ("mass", 1),
        ("thickness", -1),
    ):
        moved = {name: np.array([0.9, 1.0, 1.1])}
        chance = breaking.break_chance(TOUGH, BALL, np.array([2.0]), moved)[:, 0]
        assert np.all(sign * np.diff(chance) > 0), name


def test_the_furnace_heals_only_what_went_through_it():
    healed = {"healing": np.array([1.0, 1.5])}
    plain, dipped = annealed("ordinary", PANE), chemically("dipped", PANE)
    for specimen in (plain, dipped):
        chance = breaking.break_chance(specimen, BALL, HEIGHTS, healed)
        assert chance[0] == pytest.approx(chance[1], abs=1e-12)


def test_a_blow_known_nearby_moves_in_the_same_way():
    moved = {"thickness": np.array([0.95, 1.05]), "damping": np.array([0.5, 2.0])}
    heavier = DroppedBall(mass=0.25, solid=solid("steel"))
    own = breaking.tensions(PANE, heavier, HEIGHTS, moved)
    lent = breaking.tensions(PANE, heavier, HEIGHTS, moved, like=(PANE, BALL))
    assert lent == pytest.approx(own, rel=0.1)


def test_the_plain_strength_is_read_off_cracks():
    profile = tempered(100e6, 4e-3)
    depth = np.array([2e-6, 5e-6, 20e-6])
    pull = crack.breaking_stress(profile, depth, 0.75e6)
    plain, shut = breaking.plain_strength(profile, pull[None], np.array([0.75e6]))
    assert plain[0] == pytest.approx(crack.griffith_strength(depth, 0.75e6), rel=0.02)
    assert shut[0, 0] * pull[0] == pytest.approx(100e6, rel=0.1)
    far, _ = breaking.plain_strength(profile, np.array([[5e9]]), np.array([0.75e6]))
    assert far.item() == pytest.approx(4.9e9, rel=0.01)


# --- the struck face ------------------------------------------------------------------------


def test_rings_are_rare_beside_breaks_and_rarer_under_a_squeeze():
    plain = breaking.ring_chance(annealed("ordinary", PANE), BALL, HEIGHTS, {})
    tough = breaking.ring_chance(TOUGH, BALL, HEIGHTS, {})
    broken = breaking.break_chance(annealed("ordinary", PANE), BALL, HEIGHTS, {})
    assert np.all(tough <= plain)
    assert np.all(plain < 0.1 * broken)


def test_below_auerbachs_load_no_ring_opens():
    # 1.3 kN for a ball of 19 mm by his law; from 0.2 m the blow has 1 kN.
    assert BALL.face(PANE).force(0.2) < 1.2e3
    low = breaking.ring_chance(annealed("ordinary", PANE), BALL, np.array([0.2]), {})
    high = breaking.ring_chance(annealed("ordinary", PANE), BALL, np.array([1.0]), {})
    assert low.item() == 0.0
    assert high.item() > 0.0


def test_the_area_of_a_ring_is_that_of_its_falling_pull(outside):
    # Pull that falls with the square of the distance, less a squeeze: by quadrature.
    specimen = annealed("ordinary", PANE)
    face, flaws = BALL.face(PANE), specimen.flaws
    radius, peak = face.contact(2.0), face.rim(2.0)
    away = radius * np.linspace(1, 12, 200_001)
    share = (radius / away) ** 2
    slow = slow_strength(peak * share, face.pulse(2.0))
    flaw = (slow / flaws.scale) ** flaws.modulus / flaws.area
    outside(
        "chance of a ring from 2 m",
        breaking.ring_chance(specimen, BALL, np.array([2.0]), {}),
        1 - np.exp(-np.trapezoid(2 * np.pi * away * flaw, away)),
        rel=0.03,
        source="weakest link over the pull around the contact, by quadrature",
        status="independent method",
    )


def test_a_thick_pane_is_rung_sooner_than_it_is_bent():
    stout = impact.Pane(
        length=0.3, width=0.3, thickness=15e-3, glass=glass("soda-lime"), damping=0.05
    )
    hammer = SwungHammer(mass=0.5, face_radius=8e-3, solid=solid("steel"))
    specimen = annealed("thick", stout)
    height = np.array([0.5])
    ring = breaking.ring_chance(specimen, hammer, height, {}).item()
    thin = breaking.ring_chance(annealed("thin", PANE), hammer, height, {}).item()
    assert ring > thin
    assert np.all(breaking.ring_chance(specimen, FallingPane(), height, {}) == 0)


def test_strange_objects_of_the_same_numbers_are_the_same_pane():
    stuff = SimpleNamespace(
        modulus=PANE.glass.modulus,
        poisson=PANE.glass.poisson,
        density=PANE.glass.density,
        plane_strain_modulus=PANE.glass.plane_strain_modulus,
    )
    other = impact.Pane(length=0.3, width=0.3, thickness=4e-3, glass=stuff, damping=0.05)
    assert BALL.face(other) is BALL.face(PANE)
