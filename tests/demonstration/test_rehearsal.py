# SPDX-License-Identifier: MIT
from datetime import date

import numpy as np
import pytest

from glasskit.demonstration.breaklog import Entry
from glasskit.demonstration.chances import Odds, odds_in, worlds_of
from glasskit.demonstration.rehearsal import next_blow, told
from glasskit.demonstration.rigs import (
    DroppedBall,
    GuidedDrop,
    annealed,
    chemically,
    toughened,
)
from glasskit.demonstration.worlds import learned
from glasskit.impact.ringing import Pane
from glasskit.materials import glass, solid

PANE = Pane(
    length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    support_stiffness=1.2e7, damping=0.05,
)  # fmt: skip
BALL = DroppedBall(mass=0.227, solid=solid("steel"))
PLAIN, TOUGH = annealed("ordinary", PANE), toughened("toughened", PANE)
KINDS = (PLAIN, TOUGH)
HEIGHTS = np.array([0.3, 0.5, 0.8, 1.2, 2.0, 3.0])


def blows(pane, height, broke, times=1):
    one = Entry(date=date(2024, 5, 4), pane=pane, height=height, broke=broke)
    return [one] * times


@pytest.fixture(scope="module")
def before():
    return worlds_of([kind.name for kind in KINDS], BALL, learned(), count=1024)


def at(worlds, kind, height):
    return odds_in(worlds, kind, BALL, HEIGHTS).at(height)


def test_an_empty_log_and_one_that_tells_nothing_change_nothing(before):
    empty = told(before, KINDS, BALL, [])
    assert empty.worlds is before
    assert empty.panes == 0
    foreign = told(before, KINDS, BALL, blows("window", 1.0, True))
    assert foreign.worlds is before
    hardly = told(before, KINDS, BALL, blows("ordinary", 0.001, False))
    assert hardly.effective == pytest.approx(1024, rel=1e-3)
    for kind in KINDS:
        was, now = at(before, kind, 0.8), at(hardly.worlds, kind, 0.8)
        assert now.mean() == pytest.approx(was.mean(), abs=0.003)
        assert np.quantile(now, 0.95) == pytest.approx(np.quantile(was, 0.95), abs=0.01)


def test_weights_by_hand_give_the_same_odds(outside, before):
    log = blows("ordinary", 0.8, True, 3) + blows("ordinary", 0.8, False, 2)
    chance = at(before, PLAIN, 0.8)
    weight = chance**3 * (1 - chance) ** 2
    after = told(before, KINDS, BALL, log)
    for kind, height in ((PLAIN, 0.8), (PLAIN, 0.5), (TOUGH, 2.0)):
        outside(
            f"chance of {kind.name} panes at {height} m after three of five broke",
            at(after.worlds, kind, height).mean(),
            np.average(at(before, kind, height), weights=weight),
            abs_=0.03,
            source="Bayes' rule by weights on the worlds before",
            status="independent method",
        )


def test_ordinary_panes_teach_about_toughened_ones(before):
    kept = told(before, KINDS, BALL, blows("ordinary", 2.0, False, 12))
    broke = told(before, KINDS, BALL, blows("ordinary", 0.4, True, 12))
    strong, middle, weak = (
        at(worlds, TOUGH, 2.0).mean() for worlds in (kept.worlds, before, broke.worlds)
    )
    assert strong < middle < weak
    # But less than toughened panes themselves: their lot is another one.
    own = told(before, KINDS, BALL, blows("toughened", 2.0, False, 12))
    assert at(own.worlds, TOUGH, 2.0).mean() < strong


def test_a_pane_struck_twice_counts_once(before):
    twice = blows("ordinary #1", 0.5, False) + blows("ordinary #1", 0.8, True)
    between = at(before, PLAIN, 0.8) - at(before, PLAIN, 0.5)
    after = told(before, KINDS, BALL, twice)
    assert after.panes == 1
    wanted = np.average(at(before, PLAIN, 1.2), weights=np.maximum(between, 1e-9))
    assert at(after.worlds, PLAIN, 1.2).mean() == pytest.approx(wanted, abs=0.03)


def test_a_log_far_from_all_expectation_leaves_many_worlds(before):
    log = blows("ordinary", 3.0, False, 30) + blows("ordinary", 4.0, True, 3)
    after = told(before, KINDS, BALL, log)
    assert after.effective < 100
    assert after.distinct > 700
    assert at(after.worlds, PLAIN, 2.0).mean() < 0.1


def test_two_kinds_under_one_name_are_noticed(before):
    log = blows("ordinary", 0.15, True, 12) + blows("ordinary", 2.5, False, 12)
    mixed = told(before, KINDS, BALL, log)
    assert mixed.mixed == ("ordinary",)
    rng = np.random.default_rng(5)
    heights = rng.choice(HEIGHTS[:5], 24)
    world = int(np.argsort(at(before, PLAIN, 0.8))[512])
    truth = odds_in(before, PLAIN, BALL, HEIGHTS).chances[world]
    one_lot = [
        entry
        for height in heights
        for entry in blows(
            "ordinary", height, rng.random() < truth[list(HEIGHTS).index(height)]
        )
    ]
    assert told(before, KINDS, BALL, one_lot).mixed == ()


def test_a_guided_drop_learns_from_its_log():
    screen = Pane(length=0.15, width=0.07, thickness=0.7e-3, glass=glass("aluminosilicate"))
    kind = chemically("screen", screen, 700e6, 40e-6)
    rig = GuidedDrop(mass=0.2, floor="concrete", glass=glass("aluminosilicate"))
    before = worlds_of(["screen"], rig, learned(), count=512)
    log = [Entry(date=date(2024, 5, 4), pane="screen", height=1.0, broke=False)] * 8
    after = told(before, [kind], rig, log)
    was, now = (odds_in(w, kind, rig, [0.5, 1.0]).chance[1] for w in (before, after.worlds))
    assert now < was


def test_the_next_blow_takes_off_the_variance_that_it_says(outside):
    rng = np.random.default_rng(2)
    chances = np.sort(rng.random((4000, 3)), axis=1)
    found = Odds(heights=np.array([0.5, 1.0, 2.0]), chances=chances, rings=np.zeros(3))
    right = chances[:, 1] ** 2
    blow = next_blow([found], ["ordinary"], right)
    share = chances[:, list(found.heights).index(blow.height)]
    left = 0.0
    for weight in (share, 1 - share):
        mean = np.average(right, weights=weight)
        left += weight.mean() * np.average((right - mean) ** 2, weights=weight)
    outside(
        "share of the variance that the best next blow takes off",
        blow.narrows,
        1 - left / right.var(),
        abs_=1e-9,
        source="variance after either outcome, weighted by its chance",
        status="independent method",
    )
    assert blow.height == 1.0
