# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import linregress

from glasskit.breakage import breaking_stress
from glasskit.lab import likely_mirrors, mirror_line

CONSTANT = 1.9e6


def sets(count, compression, scatter, seed, many=2000):
    rng = np.random.default_rng(seed)
    stress = compression + rng.uniform(50e6, 200e6, (many, count))
    noise = np.exp(scatter * rng.standard_normal(stress.shape))
    return stress, (CONSTANT * noise / (stress - compression)) ** 2


@pytest.mark.parametrize(("count", "compression"), [(8, 100e6), (15, 0.0), (30, 300e6)])
def test_intervals_hold_the_truth_as_often_as_they_say(outside, count, compression):
    ends = likely_mirrors(*sets(count, compression, 0.08, count)).interval
    share = np.mean((ends[:, 0] < compression) & (ends[:, 1] > compression))
    outside(
        f"coverage, {count} mirrors on {compression / 1e6:g} MPa",
        share,
        0.95,
        abs_=0.02,
        source="2,000 simulated lots, roots of the radii scattering by 8 %",
        status="independent method",
    )


def test_the_plain_line_tilts_and_promises_too_much():
    stress, radius = sets(30, 100e6, 0.08, 1)
    line, likely = mirror_line(stress, radius), likely_mirrors(stress, radius)
    assert np.median(line.compression) > 102.5e6
    assert np.median(likely.compression) == pytest.approx(100e6, rel=0.005)
    ends = line.interval
    assert np.mean((ends[:, 0] < 100e6) & (ends[:, 1] > 100e6)) < 0.9


def test_both_fits_by_other_routines(outside):
    stress, radius = (row[0] for row in sets(12, 120e6, 0.05, 2, many=1))
    root = np.sqrt(radius)
    line = linregress(root, stress * root)
    source, status = "scipy.stats.linregress", "independent method"
    ours = mirror_line(stress, radius)
    outside("slope", ours.compression, line.slope, rel=1e-9, source=source, status=status)
    outside("A", ours.constant, line.intercept, rel=1e-9, source=source, status=status)

    def left(pair):
        return np.log(root) - np.log(pair[1] * 1e6) + np.log(stress - pair[0] * 1e6)

    best = least_squares(left, [100.0, 1.8], xtol=1e-14, ftol=1e-14, gtol=1e-14).x * 1e6
    source = "scipy.optimize.least_squares"
    ours = likely_mirrors(stress, radius)
    outside("compression", ours.compression, best[0], rel=1e-5, source=source, status=status)
    outside("constant", ours.constant, best[1], rel=1e-5, source=source, status=status)


def test_exact_mirrors_give_back_what_made_them():
    stress = np.array([150e6, 200e6, 300e6, 420e6])
    radius = (CONSTANT / (stress - 110e6)) ** 2
    assert breaking_stress(radius, CONSTANT, 110e6) == pytest.approx(stress)
    for fit in (mirror_line, likely_mirrors):
        assert fit(stress, radius).compression == pytest.approx(110e6, rel=1e-4)
        assert fit(stress, radius).constant == pytest.approx(CONSTANT, rel=1e-4)


def test_tension_comes_out_negative():
    stress = np.array([40e6, 60e6, 80e6])
    radius = (CONSTANT / (stress + 10e6)) ** 2
    assert likely_mirrors(stress, radius).compression == pytest.approx(-10e6, rel=1e-3)


def test_refusals():
    with pytest.raises(ValueError, match="stress must hold three specimens"):
        mirror_line([1e6, 2e6], [1e-3, 2e-3])
    with pytest.raises(ValueError, match="stress must not all be equal"):
        likely_mirrors([1e6] * 3, [1e-3, 2e-3, 3e-3])
    with pytest.raises(ValueError, match="radius must not all be equal"):
        mirror_line([1e6, 2e6, 3e6], [1e-3] * 3)
    with pytest.raises(ValueError, match="radius must hold 3 items"):
        mirror_line([1e6, 2e6, 3e6], [1e-3] * 2)
