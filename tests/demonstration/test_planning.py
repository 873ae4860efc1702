# SPDX-License-Identifier: MIT
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from glasskit import demonstration as show
from glasskit.demonstration import Entry, candidates, hindsight, spares
from glasskit.impact import Pane
from glasskit.materials import glass, solid

PANE = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
BALL = show.DroppedBall(mass=0.227, solid=solid("steel"))
PLAIN = show.annealed("ordinary", PANE)
TOUGH, SALT = show.toughened("toughened", PANE), show.chemically("salt", PANE)


@pytest.fixture(scope="module")
def works():
    return show.plan([PLAIN, SALT], BALL, 6, seed=3)


@pytest.fixture(scope="module")
def fails():
    return show.plan([PLAIN, TOUGH], BALL, 6)


def test_every_height_of_the_window_meets_the_wish(works):
    assert works.reason == ""
    assert works.change is None
    low, high = works.window
    assert low < works.height < high
    for height in np.linspace(low, high, 7):
        for prospect in works.prospects:
            chance = prospect.odds.at(height).mean()
            share = chance if prospect.shall_break else 1 - chance
            assert share >= 0.8 - 0.005
    assert low == pytest.approx(works.prospects[0].bound, rel=0.02)
    assert high == pytest.approx(works.prospects[1].bound, rel=0.02)


def test_the_panes_brought_suffice_and_one_less_would_not(works):
    for prospect in works.prospects:
        right = prospect.odds.at(works.height)
        right = right if prospect.shall_break else 1 - right
        assert spares.enough(prospect.bring, right, 6).mean() >= 0.95
        assert spares.enough(prospect.bring - 1, right, 6).mean() < 0.95
        assert prospect.expected == pytest.approx(6 / prospect.share)
        assert prospect.bring_if_known <= prospect.bring
        assert prospect.low <= prospect.chance <= prospect.high


def test_fourteen_rehearsals_prove_four_in_five(outside, works):
    outside(
        "rehearsals that prove 80 % with 95 % confidence",
        works.rehearsals,
        14,
        abs_=0,
        source="ln 0.05 / ln 0.8 = 13.4",
        status="hand calculation",
    )


def test_the_same_seed_gives_the_same_plan(works):
    again = show.plan([PLAIN, SALT], BALL, 6, seed=3)
    assert again.height == works.height
    assert dict(again.swings) == dict(works.swings)
    for one, two in zip(again.prospects, works.prospects, strict=True):
        assert np.array_equal(one.odds.chances, two.odds.chances)
        assert one.bring == two.bring


def test_where_no_height_does_the_plan_says_why_and_what_would(fails):
    assert fails.window is None
    assert fails.reason == "ignorance"
    assert "close" in fails.cautions
    change = fails.change
    after = show.plan(change.panes, change.rig, 6, fails.wish)
    assert after.window[0] <= change.height <= after.window[1]
    nearer = [
        other for other in candidates([PLAIN, TOUGH], BALL) if other.nearness < change.nearness
    ]
    assert {"thickness", "compression"} <= {other.what for other in nearer}
    fine = np.geomspace(0.5, 3.0, 300)
    for other in nearer:
        plain, tough = (show.odds(pane, other.rig, fine).chance for pane in other.panes)
        assert not ((plain >= 0.8) & (tough <= 0.2)).any()


def test_no_other_height_comes_nearer(fails):
    def margin(height):
        broke, hurt = (item.odds.at(height).mean() for item in fails.prospects)
        return min(broke - 0.8, 1 - hurt - 0.8)

    best = margin(fails.height)
    assert best < 0
    assert all(margin(height) <= best + 0.005 for height in fails.heights)


def test_known_panes_would_do_more_often_than_not(fails):
    assert 0.5 < fails.knowable < 1.0


def test_a_pane_too_strong_for_the_rig_is_out_of_reach(monkeypatch):
    monkeypatch.setattr(show, "candidates", lambda *_: [])
    thick = replace(PANE, thickness=19e-3)
    made = show.plan([show.annealed("thick", thick)], replace(BALL, mass=0.02), 1)
    assert made.reason == "reach"
    assert made.height == pytest.approx(10.0)


def test_overlapping_kinds_are_the_fault_of_scatter(monkeypatch):
    monkeypatch.setattr(show, "candidates", lambda *_: [])
    weak = show.toughened("hardly", PANE, 20e6)
    wish = show.Wish(break_share=0.95, survive_share=0.95)
    assert show.plan([PLAIN, weak], BALL, 1, wish).reason == "scatter"


def test_the_log_moves_the_height(works):
    day = date(2024, 5, 4)
    log = [Entry(date=day, pane="ordinary", height=0.3, broke=True) for _ in range(20)]
    after = show.plan([PLAIN, SALT], BALL, 6, seed=3, log=log)
    assert after.height < works.height
    assert after.window[0] < works.window[0]
    assert after.prospects[0].bring <= works.prospects[0].bring
    other = works.prospects[1].odds
    assert np.array_equal(after.prospects[1].odds.chances, other.chances)


def test_every_caution_has_words(works, fails):
    falling = show.plan([PLAIN, TOUGH], show.FallingPane(), 2)
    device = show.GuidedDrop(mass=0.2, floor="concrete", glass=glass("aluminosilicate"))
    screen = Pane(length=0.15, width=0.07, thickness=0.7e-3, glass=glass("aluminosilicate"))
    guided = show.plan([show.chemically("screen", screen, 700e6, 40e-6)], device, 2)
    hammer = show.SwungHammer(mass=0.5, face_radius=0.1, solid=solid("steel"))
    swung = show.plan([PLAIN, SALT], hammer, 2)
    assert swung.window is not None
    seen = {key for made in (works, fails, falling, guided, swung) for key in made.cautions}
    assert seen == set(show.CAUTIONS)
    for made in (works, falling, guided):
        assert {"rehearse", "assess", "again", "unbroken"} <= set(made.cautions)
        assert made.main_input == next(iter(made.swings))


def test_the_planner_was_not_absurd_in_1876():
    # Source: Barff 1876: four pieces, each struck from rising heights until it broke.
    told = hindsight()
    assert len(told) == 15
    pieces = {(one.fall.glass, one.fall.ball_mass > 0) for one in told}
    for piece in pieces:
        falls = [one for one in told if (one.fall.glass, one.fall.ball_mass > 0) == piece]
        broke = [one for one in falls if one.fall.broke]
        # The fall that broke it was the likeliest of its row to do so, and within the band.
        assert broke[0].chance == max(one.chance for one in falls)
        assert broke[0].high > 0.5
        assert all(one.low < 0.5 for one in falls if not one.fall.broke)
        assert all(one.given_held <= one.chance + 1e-9 for one in falls)
    expected = sum(one.given_held for one in told)
    # Four broke. The planner, which knew only ranges, expected between one and four.
    assert 1.0 < expected < 4.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: show.plan([], BALL, 1), "panes must hold one kind or more; number; got 0"),
        (lambda: show.plan([PLAIN, PLAIN], BALL, 1), "panes must have names of their own"),
        (lambda: show.plan([PLAIN], BALL, 0), "shows must be 1 or more; got 0"),
        (lambda: show.Wish(break_share=1.0), "break_share must lie in 0 < break_share < 1"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
