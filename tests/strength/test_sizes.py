# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.strength import fit_weibull, ranks, sizes

# Fitted over true modulus: 5 %, median and 95 % of 20,000 sets, as tabulated to two digits.
SPREAD = {
    ("likelihood", 5): (0.68, 1.24, 2.83),
    ("likelihood", 10): (0.74, 1.10, 1.82),
    ("likelihood", 30): (0.82, 1.03, 1.33),
    ("likelihood", 100): (0.89, 1.01, 1.15),
    ("hazen", 5): (0.52, 1.04, 2.40),
    ("hazen", 10): (0.60, 1.00, 1.68),
    ("hazen", 30): (0.72, 0.99, 1.33),
    ("median rank", 5): (0.46, 0.91, 2.11),
    ("median rank", 10): (0.54, 0.92, 1.54),
    ("median rank", 30): (0.69, 0.95, 1.27),
}


@pytest.mark.parametrize(("method", "count"), list(SPREAD))
def test_spread_of_the_modulus(outside, method, count):
    rng = np.random.default_rng(count)
    sets = rng.weibull(1.0, (20_000, count))
    likely = method == "likelihood"
    moduli = fit_weibull(sets).modulus if likely else ranks.fit_line(sets, method)[0]
    got = np.quantile(moduli, (0.05, 0.5, 0.95))
    for name, ours, theirs in zip(
        ("5 %", "median", "95 %"), got, SPREAD[method, count], strict=True
    ):
        # Tolerance: two digits printed, and the noise of both tables (1 % in the upper tail).
        outside(
            f"m/true, {method}, n = {count}, {name}",
            ours,
            theirs,
            abs_=0.005 + 0.015 * theirs,
            source="table of 20,000 simulated sets by another program",
            status="independent method",
        )


@pytest.mark.parametrize("count", [5, 10, 20, 50, 100])
def test_sample_size_gives_back_the_simulated_width(count):
    sets = np.random.default_rng(1).weibull(1.0, (20_000, count))
    low, high = np.quantile(fit_weibull(sets).modulus, (0.05, 0.95))
    # Tolerance: a twentieth, and the rounding up.
    assert sizes.sample_size(high / low) == pytest.approx(count, rel=0.05, abs=1)


def test_zero_failures(outside):
    # 0.9**28 = 0.0523, 0.9**29 = 0.0471: the first below 0.05.
    outside(
        "survivors to prove fewer than one in ten",
        sizes.zero_failure_size(0.1),
        29,
        abs_=0,
        source="0.9^29 < 0.05 < 0.9^28",
        status="hand calculation",
    )
    outside(
        "survivors to prove fewer than half",
        sizes.zero_failure_size(0.5, 0.75),
        2,
        abs_=0,
        source="0.5^2 = 0.25",
        status="exact",
    )
    assert sizes.zero_failure_size([0.1, 0.2], [[0.9], [0.95]]).shape == (2, 2)


def test_lots_of_the_size_asked_show_the_difference_four_times_in_five(outside):
    rng = np.random.default_rng(6)
    for modulus in (5.0, 3.0):  # large lots: in small ones the test is too bold
        count = int(sizes.lot_size(1.1, modulus))
        first = fit_weibull(rng.weibull(modulus, (3_000, count)))
        second = fit_weibull(1.1 * rng.weibull(modulus, (3_000, count)))
        # Wald's test with the fitted moduli, whose error is 1.053/(m sqrt(n)).
        error = 1.053 / np.sqrt(count) * np.hypot(1 / first.modulus, 1 / second.modulus)
        outside(
            f"share of {count} against {count} that show a tenth, modulus {modulus:g}",
            (np.log(second.scale / first.scale) > 1.96 * error).mean(),
            0.8,
            abs_=0.04,
            source="3,000 simulated pairs of lots, Wald's test",
            status="independent method",
        )
    assert sizes.lot_size(1 / 1.1, 10.0) == sizes.lot_size(1.1, 10.0)
    assert sizes.lot_size(1.1, 10.0) / sizes.lot_size(1.1, 20.0) == pytest.approx(4, rel=0.3)


def test_proof_takes_the_weak_and_leaves_the_rest(outside):
    strengths = 80e6 * np.random.default_rng(1).weibull(7.0, 200_000)
    passed = strengths[strengths > 60e6]
    for stress in (65e6, 80e6):
        outside(
            f"share bearing {stress / 1e6:g} MPa after a proof of 60",
            sizes.proof_survival(stress, 60e6, 7.0, 80e6),
            (passed > stress).mean(),
            abs_=0.004,
            source="200,000 simulated specimens",
            status="independent method",
        )
    assert sizes.proof_survival(50e6, 60e6, 7.0, 80e6) == 1.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: sizes.sample_size(1.0), "ratio must be above 1; got 1"),
        (lambda: sizes.lot_size(1.0, 8.0), "ratio must differ from 1; got 1"),
        (lambda: sizes.lot_size(1.1, 0.0), "modulus must be finite and positive"),
        (lambda: sizes.zero_failure_size(0.0), "chance must lie in 0 < chance < 1"),
        (
            lambda: sizes.zero_failure_size(0.1, 1.0),
            "confidence must lie in 0 < confidence",
        ),
        (
            lambda: sizes.proof_survival(-1.0, 0.0, 7.0, 1.0),
            "stress must be finite and zero",
        ),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
