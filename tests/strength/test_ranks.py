# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.stats import CensoredData, ecdf

from glasskit.strength import ranks

NONE = np.zeros(20, bool)


def test_median_ranks_are_medians(outside):
    # The i-th of n shares is beta distributed: simulated, the median of the sorted uniforms.
    shares = np.sort(np.random.default_rng(1).random((40_000, 20)), axis=-1)
    got = ranks.plotting_positions(NONE, "median rank")
    for place in (0, 9, 19):
        outside(
            f"median rank {place + 1} of 20",
            got[place],
            np.median(shares[:, place]),
            abs_=0.003,
            source="median of 40,000 simulated sets",
            status="independent method",
        )
    mean = ranks.plotting_positions(NONE, "mean rank")
    assert mean == pytest.approx(shares.mean(0), abs=0.002)


def test_recommended_position(outside):
    outside(
        "third of ten",
        ranks.plotting_positions(NONE[:10])[2],
        2.7 / 10.4,
        rel=1e-12,
        source="Wu, Zhou & Li, J. Mater. Sci. 41 (2006) 5630: (i - 0.3)/(n + 0.4)",
        status="found",
    )
    outside(
        "third of ten",
        ranks.plotting_positions(NONE[:10], "hazen")[2],
        0.25,
        rel=1e-12,
        source="ASTM C1239: (i - 0.5)/n",
        status="memory",
    )


def test_censored_ranks_follow_the_product_limit(outside):
    rng = np.random.default_rng(2)
    values, hidden = np.sort(rng.random(400)), rng.random(400) < 0.5
    got = ranks.plotting_positions(hidden, "hazen")[~hidden]
    curve = ecdf(CensoredData(uncensored=values[~hidden], right=values[hidden])).cdf
    expected = curve.evaluate(values[~hidden])
    for place in (20, 100, 180):
        # Tolerance: the two differ by about one specimen of those left.
        outside(
            "share broken, half censored",
            got[place],
            expected[place],
            abs_=0.01,
            source="Kaplan-Meier estimate of scipy",
            status="independent method",
        )


def test_johnson_ranks_by_hand(outside):
    # Four specimens, the second censored: increments (5 - 0)/5 = 1, then (5 - 1)/3 = 4/3.
    got = ranks.plotting_positions([False, True, False, False], "mean rank") * 5
    for place, rank in ((0, 1.0), (2, 7 / 3), (3, 11 / 3)):
        outside(
            f"rank of specimen {place + 1}",
            got[place],
            rank,
            rel=1e-12,
            source="Johnson's increments (n + 1 - last)/(1 + left)",
            status="hand calculation",
        )
    assert np.isnan(got[1])


def test_line_through_points_on_a_line_is_found():
    chance = ranks.plotting_positions(NONE, "blom")
    strengths = 70e6 * (-np.log1p(-chance)) ** (1 / 7.0)
    modulus, scale = ranks.fit_line([strengths, 2 * strengths], "blom")
    assert modulus == pytest.approx([7.0, 7.0])
    assert scale == pytest.approx([70e6, 140e6])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: ranks.plotting_positions([False], "best"), "positions must be one of hazen"),
        (lambda: ranks.fit_line([1.0]), "strengths must hold two specimens or more; got 1"),
        (lambda: ranks.fit_line([2.0, 2.0]), "strengths must not all be equal; got 2"),
        (lambda: ranks.paper_height(1.0), "chance must lie in 0 < chance < 1; got 1"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
