# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.stats import norm

from glasskit.lab import count_drops, dixon_mood, probit, simulate_series

LEVELS = np.array([0.6, 0.7, 0.8, 0.9, 1.0])
BROKEN, HELD = np.array([0, 2, 6, 5, 2]), np.array([2, 6, 5, 2, 0])


def test_the_hand_sum_by_hand(outside):
    # 15 each, so the breaks count: h0 = 0.7, A = 6 + 10 + 6 = 22, B = 6 + 20 + 18 = 44,
    # mean = 0.7 + 0.1 (22/15 - 1/2) = 0.79667, (15*44 - 484)/225 = 0.78222,
    # s = 0.162 (0.78222 + 0.029) = 0.13142.
    found = dixon_mood(LEVELS, BROKEN, HELD)
    source = "Dixon and Mood's sums, formula from memory"
    outside("mean", found.mean, 0.796667, rel=1e-5, source=source, status="hand calculation")
    outside(
        "spread", found.spread, 0.131418, rel=1e-5, source=source, status="hand calculation"
    )


def test_a_published_staircase(outside):
    # Source: Ekaputra, Dewa, Haryadi and Kim, Open Engineering 10 (2020) 394, as a public
    # program quotes it: 12 bars of steel in steps of 20 MPa, A = 8, B = 14, N = 5, mean
    # 282 MPa; (N B - A^2)/N^2 = 0.24 is too small for their spread, and ours says so too.
    found = dixon_mood(np.array([260.0, 280, 300]), np.array([0, 2, 3]), np.array([3, 4, 0]))
    source = "Open Engineering 10 (2020) 394, as quoted by others"
    outside("mean of 12 bars / MPa", found.mean, 282, abs_=1e-9, source=source, status="found")
    assert any("its spread is a guess" in one for one in found.cautions)


def test_the_likeliest_pair_by_another_search(outside):
    def misfit(pair):
        chance = norm.cdf((LEVELS - pair[0]) / np.exp(pair[1]))
        return -(BROKEN @ np.log(chance) + HELD @ np.log1p(-chance))

    best = minimize(misfit, [0.8, -2.0], method="Nelder-Mead", tol=1e-10).x
    found = probit(LEVELS, BROKEN, HELD)
    source, status = "scipy.optimize.minimize, Nelder-Mead", "independent method"
    outside("mean", found.mean, best[0], rel=1e-6, source=source, status=status)
    outside("spread", found.spread, np.exp(best[1]), rel=1e-5, source=source, status=status)


def test_an_end_of_the_interval_loses_what_the_limit_allows(outside):
    from scipy.stats import f

    def loss(mean):
        def misfit(log_spread):
            chance = norm.cdf((LEVELS - mean) / np.exp(log_spread[0]))
            return -(BROKEN @ np.log(chance) + HELD @ np.log1p(-chance))

        return minimize(misfit, [-2.0], method="Nelder-Mead", tol=1e-10).fun

    found = probit(LEVELS, BROKEN, HELD)
    for end in found.mean_interval:
        lost = 2 * (loss(end) - loss(found.mean.item()))
        outside(
            "twice the loss of likelihood",
            lost,
            f.ppf(0.95, 1, 10),
            rel=0.02,
            source="scipy: profile by Nelder-Mead, Fisher's F(1, 30/3)",
            status="independent method",
        )


@pytest.mark.parametrize(("drops", "ratio"), [(30, 1.0), (40, 0.7), (50, 1.5)])
def test_intervals_hold_the_truth_as_often_as_they_say(outside, drops, ratio):
    rng = np.random.default_rng(drops)
    series = simulate_series(
        drops, 2000, mean=1.0, spread=0.1, start=0.97, step=0.1 * ratio, rng=rng
    )
    found = probit(*series)
    for name, ends, true in (
        ("mean", found.mean_interval, 1.0),
        ("spread", found.spread_interval, 0.1),
    ):
        share = np.mean((ends[:, 0] < true) & (ends[:, 1] > true))
        outside(
            f"coverage of the {name}, {drops} drops, step {ratio} spreads",
            share,
            0.95,
            abs_=0.02,
            source="2,000 simulated series",
            status="independent method",
        )
    assert found.mean.mean() == pytest.approx(1.0, abs=0.003)


def test_the_hand_sum_agrees_but_promises_too_much():
    rng = np.random.default_rng(4)
    series = simulate_series(40, 2000, mean=1.0, spread=0.1, start=0.97, step=0.1, rng=rng)
    hand, likely = dixon_mood(*series), probit(*series)
    assert np.median(np.abs(hand.mean - likely.mean)) < 0.01
    ends = hand.mean_interval
    held = np.mean((ends[:, 0] < 1) & (ends[:, 1] > 1))
    assert held < 0.93
    # But it says so: what it says is what other series then show.
    assert hand.mean_coverage == pytest.approx(held, abs=0.04)
    ends = hand.spread_interval
    held = np.mean((ends[:, 0] < 0.1) & (ends[:, 1] > 0.1))
    assert hand.spread_coverage == pytest.approx(held, abs=0.04)
    assert (hand.level, likely.mean_coverage) == (0.95, 0.95)
    assert np.median(hand.spread) == pytest.approx(0.1, rel=0.15)


def test_scaling_and_stacking():
    one = probit(LEVELS, BROKEN, HELD)
    double = probit(2 * LEVELS, [BROKEN, HELD[::-1]], [HELD, BROKEN[::-1]])
    assert double.mean[0] == pytest.approx(2 * one.mean)
    assert double.mean_interval[0] == pytest.approx(2 * one.mean_interval)
    assert double.spread.shape == (2,)
    assert double.mean[1] == pytest.approx(2 * (1.6 - one.mean))


def test_counting_drops():
    levels, broken, held = count_drops([0.8, 0.7, 0.8, 0.9, 0.8000000001], [1, 0, 0, 1, 1])
    assert levels == pytest.approx([0.7, 0.8, 0.9])
    assert broken.tolist() == [0, 2, 1]
    assert held.tolist() == [1, 1, 0]


def test_no_overlap_gives_no_spread_and_says_so():
    found = probit([0.7, 0.8], [0, 12], [12, 0])
    assert found.mean == pytest.approx(0.75)
    assert found.spread == 0
    assert found.spread_interval[0] == 0
    assert any("do not overlap" in words for words in found.cautions)


def test_cautions_in_words():
    assert any("take 20 or more" in w for w in probit([1.0, 1.1], [1, 3], [2, 1]).cautions)
    fine = probit(LEVELS / 4 + 0.6, BROKEN, HELD)
    assert fine.cautions == ()
    coarse = dixon_mood([0.8, 0.9], [3, 10], [10, 3])
    assert any("too few heights" in w for w in coarse.cautions)


def test_refusals():
    with pytest.raises(ValueError, match="count a specimen that broke"):
        probit([1.0, 2.0], [0, 0], [3, 3])
    with pytest.raises(ValueError, match="levels must ascend"):
        probit([2.0, 1.0], [1, 1], [1, 1])
    with pytest.raises(ValueError, match="levels must rise in even steps"):
        dixon_mood([1.0, 2.0, 4.0], [1, 1, 1], [1, 1, 1])
    with pytest.raises(ValueError, match="broke must hold 2 items"):
        count_drops([1.0, 1.0], [True])
    with pytest.raises(ValueError, match="level must lie"):
        probit([1.0, 2.0], [1, 1], [1, 1], level=1.0)
