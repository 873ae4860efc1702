# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.strength import fit_weibull, modulus_ratio, scale_ratio

RNG = np.random.default_rng(4)
FIRST, SECOND = 70e6 * RNG.weibull(6, 12), 80e6 * RNG.weibull(9, 9)


def test_turned_round_the_ratio_is_its_inverse_and_a_factor_passes_through():
    first, second = fit_weibull(FIRST), fit_weibull(SECOND)
    for ratio in (scale_ratio, modulus_ratio):
        there, back = ratio(first, second), ratio(second, first)
        assert there == pytest.approx(1 / back[::-1], rel=1e-3)
    tripled = scale_ratio(first, fit_weibull(3 * SECOND))
    assert tripled == pytest.approx(3 * scale_ratio(first, second), rel=1e-6)


def test_many_specimens_give_the_large_sample_interval(outside):
    first, second = (fit_weibull(RNG.weibull(6, 1_000)) for _ in range(2))
    # Source: [Lawless1982], large-sample variances over n: of the logarithm of the modulus
    # 6/pi^2 = 0.6079, of that of the scale 1.1087/m^2.
    for name, ratio, single in (
        ("scale", scale_ratio, 1.1087 / first.modulus**2 + 1.1087 / second.modulus**2),
        ("modulus", modulus_ratio, 2 * 0.6079),
    ):
        low, high = np.log(ratio(first, second))
        outside(
            f"width of the interval of a ratio of {name}",
            high - low,
            2 * 1.96 * np.sqrt(single / 1_000),
            rel=0.03,
            source="J. F. Lawless 1982, large-sample variances",
            status="memory",
        )


def test_refusals():
    with pytest.raises(TypeError, match="second must be a WeibullFit"):
        scale_ratio(fit_weibull(FIRST), SECOND)
    with pytest.raises(ValueError, match="level must lie in 0 < level < 1"):
        modulus_ratio(fit_weibull(FIRST), fit_weibull(SECOND), 1.0)
