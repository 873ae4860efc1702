# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, nbinom

from glasskit.demonstration import spares
from glasskit.strength import zero_failure_size


@pytest.mark.parametrize(
    ("count", "percent"), [(5, 55.0), (10, 74.0), (20, 86.0), (30, 90.5), (59, 95.0)]
)
def test_rehearsals_in_a_row_prove_a_share(outside, count, percent):
    outside(
        f"share proved by {count} in a row / %",
        100 * spares.proved_share(count),
        percent,
        abs_=0.5,  # printed to a whole or half per cent
        source="success-run formula 0.05^(1/n), as printed on a demonstrator's desk card",
        status="hand calculation",
    )


@pytest.mark.parametrize(("chance", "tries"), [(0.5, 7), (0.7, 4), (0.8, 3), (0.9, 2)])
def test_panes_for_one_success_99_times_in_100(outside, chance, tries):
    outside(
        f"panes for one break, chance {chance}",
        spares.panes_to_bring(chance, 1, 0.99),
        tries,
        abs_=0,
        source="ln 0.01 / ln(1 - p), rounded up, as printed on a demonstrator's desk card",
        status="hand calculation",
    )


def test_rehearsals_for_a_share_are_the_success_run_turned_round(outside):
    outside(
        "rehearsals in a row that prove 90 % with 95 % confidence",
        zero_failure_size(0.1),
        29,
        abs_=0,
        source="ln 0.05 / ln 0.9 = 28.4",
        status="hand calculation",
    )
    assert spares.proved_share(29) >= 0.9 > spares.proved_share(28)


@pytest.mark.parametrize("failures", [0, 1, 2])
@pytest.mark.parametrize("share", [0.7, 0.8, 0.9])
def test_rehearsals_with_failures_are_the_least_that_prove(share, failures):
    needed = spares.rehearsals_needed(share, failures)
    # Source: binomial distribution of scipy; so few failures would be a surprise.
    assert binom.cdf(failures, needed, 1 - share) <= 0.05
    assert binom.cdf(failures, needed - 1, 1 - share) > 0.05


def test_starting_the_count_again_proves_less():
    rng = np.random.default_rng(1)
    broke = rng.random((4000, 60)) < 0.8  # panes that are just as bad as feared
    rows = np.lib.stride_tricks.sliding_window_view(broke, 14, axis=1).all(-1)
    ever = rows.any(1).mean()
    assert 0.36 < ever < 0.44  # "four series of ten", and not one in twenty


@pytest.mark.parametrize(
    ("wrong", "match"),
    [
        ({"share": 1.0}, r"^share must lie in 0 < share < 1; got 1"),
        (
            {"share": 0.8, "failures": -1},
            r"^failures must be a whole number, 0 <= failures <= 10000; got -1",
        ),
        ({"share": 0.8, "confidence": 0.0}, r"^confidence must lie in 0 < confidence < 1"),
    ],
)
def test_rehearsals_refuse_what_cannot_be(wrong, match):
    with pytest.raises(ValueError, match=match):
        spares.rehearsals_needed(**wrong)


@pytest.mark.parametrize(("chance", "wanted"), [(0.95, 6), (0.6, 6), (0.3, 12)])
def test_panes_to_bring_is_a_quantile_of_the_negative_binomial(outside, chance, wanted):
    outside(
        f"panes for {wanted} at {chance}",
        spares.panes_to_bring(chance, wanted, 0.95),
        wanted + nbinom.ppf(0.95, wanted, chance),
        abs_=0,
        source="scipy.stats.nbinom.ppf",
        status="independent method",
    )


def test_expected_panes_is_what_a_long_run_uses_up(outside):
    rng = np.random.default_rng(3)
    used = 6 + rng.negative_binomial(6, 0.7, 200_000)
    outside(
        "panes used up for six, chance 0.7",
        spares.expected_panes(0.7, 6),
        used.mean(),
        rel=0.005,
        source="200,000 simulated runs of shows",
        status="independent method",
    )


@given(
    chance=st.lists(st.floats(0.2, 0.99), min_size=1, max_size=5),
    wanted=st.integers(1, 20),
    confidence=st.floats(0.5, 0.99),
)
def test_the_number_suffices_and_one_less_does_not(chance, wanted, confidence):
    number = spares.panes_to_bring(chance, wanted, confidence)
    tail = [np.mean(binom.sf(wanted - 1, n, chance)) for n in (number - 1, number)]
    assert tail[0] < confidence + 1e-9
    assert tail[1] >= confidence - 1e-9


def test_what_is_not_known_costs_panes():
    known = spares.panes_to_bring(0.7, 6, 0.95)
    assert spares.panes_to_bring([0.5, 0.9], 6, 0.95) > known


def test_no_number_is_given_where_none_helps():
    assert spares.panes_to_bring(0.0, 1) is None
    assert spares.panes_to_bring([1.0, 0.0], 1, 0.9) is None


def test_panes_for_all_kinds_suffice_together_and_one_less_of_any_does_not():
    rng = np.random.default_rng(1)
    plain = rng.beta(8, 2, 500)
    chances = [plain, 1 - 0.5 * plain]  # what breaks ordinary panes hurts the others
    bring, sure = spares.panes_for_all(chances, 6, 0.9, 60)

    def suffices(numbers):
        tails = [binom.sf(5, n, p) for n, p in zip(numbers, chances, strict=True)]
        return np.prod(tails, axis=0).mean()

    assert suffices(bring) == pytest.approx(sure)
    assert sure >= 0.895
    for kind in range(2):
        fewer = [n - (at == kind) for at, n in enumerate(bring)]
        assert suffices(fewer) < 0.895


def test_where_no_sensible_number_suffices_none_is_given():
    chances = [np.array([0.95, 0.2]), np.array([0.9, 0.9])]
    bring, sure = spares.panes_for_all(chances, 6, 0.95, 20)
    assert bring is None
    tails = binom.sf(5, 20, chances[0]) * binom.sf(5, 20, chances[1])
    assert sure == pytest.approx(tails.mean())


def test_enough_broadcasts():
    assert spares.enough([[5], [6]], [0.5, 0.6, 0.7], 3).shape == (2, 3)
    assert spares.enough(2, 0.9, 3) == 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: spares.expected_panes(0.0, 3), "chance must be above 0; got 0"),
        (lambda: spares.expected_panes(0.5, 0), "wanted must lie in 1 <= wanted <= 10000"),
        (lambda: spares.enough(3, 1.5, 1), "chance must lie in 0 <= chance <= 1; got 1.5"),
        (lambda: spares.panes_to_bring(0.5, 1, 1.0), "confidence must lie in 0 < confidence"),
        (lambda: spares.panes_to_bring(0.5, 0), "wanted must be a whole number, 1 <= wanted"),
        (
            lambda: spares.panes_for_all([np.ones(2)], 1, 1.0, 5),
            "confidence must lie in 0 < confidence < 1",
        ),
        (lambda: spares.proved_share(0), "successes must be 1 or more; got 0"),
        (lambda: spares.proved_share(3, 0.0), "confidence must lie in 0 < confidence < 1"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
