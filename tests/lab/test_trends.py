# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.stats import linregress, t

from glasskit import tables
from glasskit.lab import trend


def plates_of_1900():
    rows = [row for row in tables.read("bending_1900") if row["glass"].startswith("wired")]
    names = ("modulus_of_rupture_psi_as_printed", "span_in", "thickness_in")
    strength, span, thickness = (
        np.array([float(row[name]) for row in rows]) for name in names
    )
    return strength * 6894.757, {"span": span, "thickness": thickness}


def test_one_factor_is_the_line_of_scipy(outside):
    strength, factors = plates_of_1900()
    ours = trend(strength, {"span": factors["span"]})
    line = linregress(np.log(factors["span"]), np.log(strength))
    source, status = "scipy.stats.linregress", "independent method"
    outside("slope", ours.slopes[0], line.slope, rel=1e-9, source=source, status=status)
    high = line.slope + t.ppf(0.975, 16) * line.stderr
    outside("end", ours.intervals[0, 1], high, rel=1e-9, source=source, status=status)


def test_the_plates_of_1900_show_no_effect_and_rule_out_none():
    strength, factors = plates_of_1900()
    found = trend(strength, factors)
    low, high = found.intervals.T
    assert (low < 0).all()
    assert (high > 0).all()
    # Flaws of modulus 7 would give minus one seventh with the span: not ruled out either.
    assert low[0] < -1 / 7 < high[0]


def test_two_factors_by_the_normal_equations(outside):
    strength, factors = plates_of_1900()
    design = np.stack([np.ones(18), *np.log(list(factors.values()))], axis=-1)
    best = np.linalg.lstsq(design, np.log(strength), rcond=None)[0]
    ours = trend(strength, factors)
    for slope, theirs in zip(ours.slopes, best[1:], strict=True):
        source, status = "numpy.linalg.lstsq", "independent method"
        outside("slope", slope, theirs, rel=1e-9, source=source, status=status)


def test_intervals_hold_the_truth_as_often_as_they_say(outside):
    rng = np.random.default_rng(9)
    span = np.repeat([0.2, 0.4, 0.6], 6)
    strength = 50e6 * span ** (-1 / 7) * rng.weibull(7.0, (2000, 18))
    low, high = trend(strength, {"span": span}).intervals[:, 0].T
    share = np.mean((low < -1 / 7) & (high > -1 / 7))
    source = "2,000 simulated sets of 18 with Weibull scatter of modulus 7"
    outside("coverage", share, 0.95, abs_=0.02, source=source, status="independent method")


def test_refusals():
    with pytest.raises(ValueError, match="factors must each vary by itself"):
        trend([1.0, 2, 3, 4, 5], {"a": [1, 2, 3, 4, 5], "b": [2, 4, 6, 8, 10]})
    with pytest.raises(ValueError, match="a must hold 3 items"):
        trend([1.0, 2, 3], {"a": [1, 2]})
    with pytest.raises(ValueError, match="two specimens more"):
        trend([1.0, 2], {"a": [1, 2]})
    with pytest.raises(ValueError, match="factors must name"):
        trend([1.0, 2], {})
    with pytest.raises(ValueError, match="level must lie"):
        trend([1.0, 2, 3], {"a": [1, 2, 3]}, level=0)
