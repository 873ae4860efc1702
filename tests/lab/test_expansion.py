# SPDX-License-Identifier: MIT
"""A dilatometer's curve: mean expansion with budget, where two tangents meet, its interval."""

import numpy as np
import pytest

from glasskit.lab import dilatometry, mean_expansion, reduce

COLD = 293.15
WARM = np.arange(COLD, COLD + 600, 5.0)
HARD, SOFT = (473.15, 753.15), (838.15, 888.15)
TURN = 823.15


def curve(rng=None, scatter=0.0):
    grown = 0.42e-6 * (WARM - COLD) + 1.1e-6 * np.maximum(WARM - TURN, 0)
    return grown if rng is None else grown + scatter * rng.standard_normal(WARM.size)


def test_a_made_up_curve_gives_back_what_it_was_made_of(outside):
    found = dilatometry(WARM, curve(), 50e-3, HARD, SOFT)
    assert found.transition == pytest.approx(TURN, abs=1e-6)
    outside(
        "mean expansion of a made-up rod / 10⁻⁶/K",
        found.mean.value * 1e6,
        0.42e-6 / 50e-3 * 1e6 + 0.55,
        source="slope over length, and fused silica's 0.55 millionths for each kelvin",
        status="hand calculation",
        rel=1e-9,
    )
    assert found.softening == np.inf
    shrunk = np.where(WARM > 880, curve() - 3e-6 * (WARM - 880), curve())
    assert dilatometry(WARM, shrunk, 50e-3, HARD, SOFT).softening == pytest.approx(878.15)


def test_tangents_are_those_of_an_independent_fit():
    rng = np.random.default_rng(4)
    grown = curve(rng, 0.3e-6)
    found = dilatometry(WARM, grown, 50e-3, HARD, SOFT)
    lines = []
    for low, high in (HARD, SOFT):
        inside = (low <= WARM) & (high >= WARM)
        lines.append(np.polyfit(WARM[inside], grown[inside], 1))
    (b1, a1), (b2, a2) = lines
    assert found.transition == pytest.approx((a1 - a2) / (b2 - b1), rel=1e-9)
    assert found.hard.at(600.0) == pytest.approx(np.polyval([b1, a1], 600.0), rel=1e-9)


def test_the_interval_holds_the_turn_nineteen_times_in_twenty():
    rng, held, sets = np.random.default_rng(5), 0, 2000
    for _ in range(sets):
        found = dilatometry(WARM, curve(rng, 0.3e-6), 50e-3, HARD, SOFT)
        low, high = found.interval
        held += low <= TURN <= high
    # 95 % of 2,000, and a little more, for the smaller freedom of two tangents is taken.
    assert 0.935 <= held / sets <= 0.975


def test_the_thermometer_widens_interval_and_budget():
    tight = dilatometry(WARM, curve(), 50e-3, HARD, SOFT)
    loose = dilatometry(WARM, curve(), 50e-3, HARD, SOFT, thermometer=3.0, sizes=1e-6)
    assert np.ptp(tight.interval) < 1e-3 < np.ptp(loose.interval)
    assert loose.mean.budget.standard > tight.mean.budget.standard
    names = loose.mean.budget.names
    by_hand = [
        1e-6 / np.sqrt(3) / (50e-3 * 280),
        0.42e-6 * 280 * 3 / np.sqrt(3) / (50e-3 * 280**2),
    ]
    at = dict(zip(names, np.abs(loose.mean.budget.contributions), strict=True))
    assert at["elongation"] == pytest.approx(by_hand[0], rel=1e-6)
    assert at["end_temperature"] == pytest.approx(by_hand[1], rel=1e-6)


def test_soda_lime_glass_of_a_handbook(outside):
    # 50 mm of a glass of 9.0 millionths in a rig of fused silica show 9.0 - 0.55 of them.
    shown = (9.0 - 0.55) * 1e-6 * 50e-3 * 280
    outside(
        "mean expansion of window glass / 10⁻⁶/K",
        mean_expansion(50e-3, shown, 293.15, 573.15) * 1e6,
        9.0,
        source="EN 572-1, 9.0e-6/K",
        status="memory",
        rel=1e-9,
    )
    assert reduce(
        "mean_expansion",
        {
            "cold_length": 50e-3,
            "elongation": shown,
            "start_temperature": 293.15,
            "end_temperature": 333.15,
        },
    ).broken


def test_what_is_no_curve_is_refused():
    with pytest.raises(ValueError, match=r"^temperature must reach from"):
        dilatometry(WARM[WARM < 500], curve()[WARM < 500], 50e-3, HARD, SOFT)
    with pytest.raises(ValueError, match=r"^soft must hold 4 readings or more"):
        dilatometry(WARM, curve(), 50e-3, HARD, (838.15, 842.15))
    with pytest.raises(ValueError, match=r"^soft must be steeper than the hard tangent"):
        dilatometry(WARM, 0.42e-6 * (WARM - COLD), 50e-3, HARD, (473.15, 600.15))
    with pytest.raises(ValueError, match=r"^elongation must hold"):
        dilatometry(WARM, curve()[1:], 50e-3, HARD, SOFT)
    with pytest.raises(ValueError, match=r"^ends must be in order"):
        dilatometry(WARM, curve(), 50e-3, HARD, SOFT, ends=(573.15, 293.15))
    with pytest.raises(ValueError, match=r"^end_temperature must be warmer than the start"):
        mean_expansion(50e-3, 1e-4, 500.0, 400.0)
