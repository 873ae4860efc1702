# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.stats import norm

from glasskit.demonstration.evidence import effective, weigh
from glasskit.demonstration.worlds import Belief, draw_worlds


def drawn(count=2048):
    return draw_worlds(["a"], ("thickness", "mass"), Belief.before(), count, 3)


@pytest.mark.parametrize(("seen", "spread"), [(0.3, 1.0), (2.0, 0.2), (6.0, 0.1)])
def test_one_reading_of_a_normal_number_moves_it_as_bayes_says(outside, seen, spread):
    # A standard normal number read with a spread s: mean x/(1 + s^2), variance s^2/(1 + s^2).
    found = weigh(drawn(), lambda w: norm.logpdf(seen, w.white[:, 0], spread))
    place = found.worlds.white[:, 0]
    sure = spread**2 / (1 + spread**2)
    source, status = "normal prior, normal reading, in closed form", "exact"
    outside(
        f"mean after a reading of {seen}", place.mean(), seen / (1 + spread**2),
        abs_=0.1 * sure**0.5 + 0.01, source=source, status=status,
    )  # fmt: skip
    outside(
        f"spread after a reading of {seen}", place.std(), sure**0.5,
        rel=0.1, source=source, status=status,
    )  # fmt: skip
    outside(
        f"chance of the reading of {seen}", found.evidence,
        norm.logpdf(seen, 0, np.hypot(1, spread)),
        abs_=0.25, source=source, status=status,
    )  # fmt: skip
    assert found.distinct > 1000
    # What was not read stays as it was.
    assert found.worlds.white[:, -1].std() == pytest.approx(1.0, abs=0.08)


def test_weak_evidence_leaves_the_worlds_where_they_were():
    before = drawn()
    found = weigh(before, lambda w: 1e-9 * w.white[:, 0])
    assert np.array_equal(found.worlds.white, before.white)
    assert found.effective == pytest.approx(2048)


def test_effective_number_of_draws():
    assert effective(np.ones(7)) == pytest.approx(7)
    assert effective(np.array([1.0, 0.0, 0.0])) == pytest.approx(1)
