# SPDX-License-Identifier: MIT
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from glasskit.demonstration import posterior
from glasskit.demonstration.drop_records import Rule, known_drops
from glasskit.demonstration.posterior import FREE, Hit, cases, knowledge, reckonings
from glasskit.demonstration.worlds import WORLD, Belief, learned

CASES = {case.name: case for case in cases()}


def test_every_complete_record_and_both_struck_plates_teach():
    complete = {drop.name for drop in known_drops() if drop.complete}
    assert complete | {"barff_6_ordinary", "barff_6_toughened"} == set(CASES)
    assert len(FREE) <= 3
    assert set(FREE) <= set(WORLD)


def test_a_rule_is_a_binomial_tail(outside):
    rule = replace(CASES["us_auto_4"], rule=Rule(height=3.05, least=10, panes=12))
    outside(
        "chance that ten of twelve hold if one in eight breaks",
        np.exp(rule.said(np.array([[0.125]]))).item(),
        binom.cdf(2, 12, 0.125),
        rel=1e-9,
        source="scipy.stats.binom",
        status="independent method",
    )


@given(st.lists(st.floats(0.0, 1.0), min_size=2, max_size=5))
def test_blows_on_one_piece_share_its_worst_flaw(chances):
    case = CASES["trial_2016_toughened"]
    rig = case.hits[0].rig
    hits = tuple(
        Hit(rig=rig, height=1.0 + at, broke=at == len(chances) - 1)
        for at in range(len(chances))
    )
    said = np.exp(replace(case, pieces=(hits,)).said(np.array([chances])))
    assert said.item() == pytest.approx(max(chances[-1] - max(chances[:-1]), 1e-12))
    unbroken = replace(case, pieces=((*hits[:-1], replace(hits[-1], broke=False)),))
    assert np.exp(unbroken.said(np.array([chances]))).item() == pytest.approx(
        max(1 - max(chances), 1e-12)
    )


def test_the_mean_over_lots_does_not_hang_on_the_seed():
    world = np.zeros((1, len(WORLD)))
    case = CASES["un_43_4"]
    means = [posterior.judged(case, world, lots=256, seed=seed).mean() for seed in range(3)]
    assert np.ptp(means) < 0.02


def test_all_records_lie_within_what_the_others_expect():
    # Fifteen records with nine chances in ten each: fewer than eleven would be a surprise of
    # one in a hundred.
    assert sum(one.left_out.expected for one in reckonings()) >= 11
    rules = [one for one in reckonings() if one.case.rule is not None]
    assert all(one.left_out.record > 0.3 for one in rules)


def test_leaving_a_record_out_takes_its_own_evidence_away():
    for one in reckonings():
        assert one.left_out.record <= one.after.record + 0.005


def test_knowledge_of_a_record_narrows_its_odds():
    known = knowledge("us_auto_4")
    assert known.reckoning.case.name == "us_auto_4"
    assert len(known.all_of_them) == len(CASES)
    assert (np.diff(known.after.chance) >= -1e-12).all()
    with pytest.raises(ValueError, match="record must be one of"):
        knowledge("nothing")


@pytest.mark.slow
def test_the_tables_hold_what_the_drops_teach_when_asked_again(outside):
    found = posterior.study(count=256, lots=32, rounds=2, seed=11)
    belief, stored = found.belief(), learned()
    for at, name in enumerate(WORLD):
        outside(
            f"place of the input {name}, learned again with other worlds",
            belief.mean[at],
            stored.mean[at],
            abs_=0.25,  # 256 worlds, of which some hundred count
            source="glasskit.posterior with another seed, fewer worlds and lots",
            status="independent method",
        )
        assert belief.spread[at] == pytest.approx(stored.spread[at], abs=0.2)
    again = posterior.reckoned(found, lots=32, seed=11)
    for one, two in zip(again, reckonings(), strict=True):
        assert one.left_out.record == pytest.approx(two.left_out.record, abs=0.08)
    # Nothing is taught by the ranges alone.
    assert Belief.before().mean.any() == 0
