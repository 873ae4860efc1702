# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import gammaincc
from scipy.stats import CensoredData, chi2, weibull_min

from glasskit import tables
from glasskit.strength import weibull

# Smith and Naylor, Appl. Statist. 36 (1987) 358: 63 glass fibres, in an unstated unit.
# fmt: off
FIBRES = np.array(
    [
        55, 93, 125, 136, 149, 152, 158, 161, 164, 168, 173, 181, 200, 74, 104, 127, 139, 149,
        153, 159, 161, 166, 168, 176, 182, 201, 77, 111, 128, 142, 150, 154, 160, 162, 166,
        169,
        176, 184, 224, 81, 113, 129, 148, 150, 155, 161, 162, 166, 170, 177, 184, 84, 124, 130,
        148, 151, 155, 161, 163, 167, 170, 178, 189,
    ]
) / 100
# fmt: on
SMITH = "Smith & Naylor, Appl. Statist. 36 (1987) 358, 63 glass fibres"
MODULUS = 7.0


def competing(rng, sets, count):
    """Return sets of specimens of which about half break from another population."""
    own, other = rng.weibull(MODULUS, (sets, count)), 1.05 * rng.weibull(4.0, (sets, count))
    hidden = other < own
    keep = (~hidden).sum(-1) >= 2
    return np.minimum(own, other)[keep], hidden[keep]


def test_strengths_of_63_glass_fibres(outside):
    fit = weibull.fit_weibull(FIBRES)
    for name, got, expected in (
        ("shape, as printed", fit.modulus, 5.78),
        ("scale, as printed", fit.scale, 1.628),
    ):
        outside(name, got, expected, rel=5e-4, source=SMITH, status="memory")
    shape, _, scale = weibull_min.fit(FIBRES, floc=0)
    source = "scipy.stats.weibull_min.fit of the 63 fibres"
    # Tolerance: that of scipy's simplex search.
    outside("shape", fit.modulus, shape, rel=1e-4, source=source, status="independent method")
    outside("scale", fit.scale, scale, rel=1e-4, source=source, status="independent method")
    outside(
        "likelihood at the fit",
        weibull_min.logpdf(FIBRES, fit.modulus, scale=fit.scale).sum(),
        -15.20684,
        abs_=1e-5,
        source=SMITH + ": log-likelihood of a fit by another program",
        status="common practice",
    )


def test_censored_fit_agrees_with_a_general_optimiser(outside):
    strengths, hidden = (item[0] for item in competing(np.random.default_rng(5), 1, 40))
    fit = weibull.fit_weibull(strengths, hidden)
    data = CensoredData(uncensored=strengths[~hidden], right=strengths[hidden])
    shape, _, scale = weibull_min.fit(data, floc=0)
    source = "scipy.stats.weibull_min.fit of right-censored data"
    outside(
        "modulus", fit.modulus, shape, rel=1e-4, source=source, status="independent method"
    )
    outside("scale", fit.scale, scale, rel=1e-4, source=source, status="independent method")


@pytest.mark.parametrize(
    ("count", "factor"),
    [(5, 0.700), (10, 0.859), (20, 0.931), (30, 0.955), (50, 0.973), (100, 0.987)],
)
def test_unbiasing_factor(outside, count, factor):
    source = "ASTM C1239, after Thoman, Bain and Antle 1969"
    got = weibull.unbiasing_factor(count)
    outside(f"factor for {count}", got, factor, abs_=0.006, source=source, status="memory")
    fits = weibull.fit_weibull(np.random.default_rng(1).weibull(1.0, (20_000, count)))
    mean = fits.modulus.mean()
    noise = 4 * fits.modulus.std() / mean**2 / np.sqrt(20_000)
    # Tolerance: noise of the simulation, and 0.001 that the formula is rounded to.
    assert got == pytest.approx(1 / mean, abs=noise + 0.001)
    assert fits.unbiased_modulus.mean() == pytest.approx(1.0, abs=noise + 0.002)


@pytest.mark.parametrize("count", [10, 30])
@pytest.mark.parametrize("censors", [False, True])
def test_intervals_of_95_percent_hold_the_truth_in_93_to_97(outside, count, censors):
    rng = np.random.default_rng(1)
    strengths, hidden = rng.weibull(MODULUS, (2_000, count)), None
    if censors:
        strengths, hidden = competing(rng, 2_000, count)
    fit = weibull.fit_weibull(strengths, hidden)
    weak = (-np.log(0.99)) ** (1 / MODULUS)
    for name, ends, truth in (
        ("modulus", fit.interval(), MODULUS),
        ("scale", fit.scale_interval(), 1.0),
        ("1 % strength", fit.quantile_interval(0.01), weak),
        ("chance to break", fit.failure_interval(0.6), -np.expm1(-(0.6**MODULUS))),
    ):
        outside(
            f"coverage, {name}, n = {count}{', half censored' * censors}",
            ((ends[:, 0] <= truth) & (truth <= ends[:, 1])).mean(),
            0.95,
            abs_=0.02,
            source="level of the interval: 2,000 sets simulated from a known distribution",
            status="exact",
        )


def test_intervals_agree_with_adaptive_quadrature(outside):
    # The same confidence, in plain powers and sums, integrated by another rule.
    x, broken = (
        np.array([0.62, 0.71, 0.8, 0.88, 0.93, 1.04]),
        np.array([1, 1, 0, 1, 1, 0], bool),
    )
    fit = weibull.fit_weibull(x, ~broken)
    product, r = x[broken].prod(), 4

    def density(m):
        return m ** (r - 2) * product**m / (x**m).sum() ** r

    def below(m):
        return quad(density, 0, m, epsabs=0, epsrel=1e-10)[0]

    whole = below(6 * fit.modulus)
    source, status = "confidence integrated by adaptive quadrature", "independent method"
    for name, end, level in zip(("low", "high"), fit.interval(), (0.025, 0.975), strict=True):
        outside(
            f"confidence below {name} end of the modulus",
            below(end) / whole,
            level,
            abs_=3e-5,
            source=source,
            status=status,
        )
    hazard = -np.log(0.99)
    for end, level in zip(fit.quantile_interval(0.01), (0.025, 0.975), strict=True):

        def mixed(m, end=end):
            return density(m) * gammaincc(r, hazard * (x**m).sum() / end**m)

        got = quad(mixed, 0, 6 * fit.modulus, epsabs=0, epsrel=1e-10)[0] / whole
        outside(
            "confidence below an end of the 1 % strength",
            got,
            level,
            abs_=3e-5,
            source=source,
            status=status,
        )


def test_modulus_interval_tends_to_that_of_the_likelihood_ratio(outside):
    x = np.random.default_rng(2).weibull(MODULUS, 1_000)
    fit = weibull.fit_weibull(x)

    def drop(m):
        def log_likelihood(m):
            return weibull_min.logpdf(x, m, scale=(x**m).mean() ** (1 / m)).sum()

        return 2 * (log_likelihood(fit.modulus) - log_likelihood(m)) - chi2.ppf(0.95, 1)

    ends = brentq(drop, 5, fit.modulus), brentq(drop, fit.modulus, 9)
    for got, expected in zip(fit.interval(), ends, strict=True):
        # Tolerance: the likelihood ratio is right only to order 1/n.
        outside(
            "end of the interval, 1,000 specimens",
            got,
            expected,
            rel=2e-3,
            source="profile likelihood ratio and chi-square",
            status="independent method",
        )


def test_quantile_and_failure_intervals_are_inverse():
    fit = weibull.fit_weibull(FIBRES)
    low = fit.quantile_interval(0.01)[0]
    # The lower end of the 1 % strength is where the chance's upper end is 1 %.
    assert fit.failure_interval(low)[1] == pytest.approx(0.01, rel=1e-6)
    assert fit.failure_chance(fit.quantile(0.3)) == pytest.approx(0.3, rel=1e-12)


@given(modulus=st.floats(0.5, 60), scale=st.floats(1e-3, 1e9), seed=st.integers(0, 2**32 - 1))
def test_fit_follows_a_change_of_unit_and_a_power(modulus, scale, seed):
    base = np.random.default_rng(seed).weibull(1.0, 8)
    plain = weibull.fit_weibull(base)
    fit = weibull.fit_weibull(scale * base ** (1 / modulus))
    assert fit.modulus == pytest.approx(plain.modulus * modulus, rel=1e-9)
    assert fit.scale == pytest.approx(scale * plain.scale ** (1 / modulus), rel=1e-9)
    assert fit.interval() == pytest.approx(plain.interval() * modulus, rel=1e-6)


@given(seed=st.integers(0, 2**32 - 1), chance=st.floats(1e-6, 0.999))
def test_intervals_hold_the_estimate_even_with_two_broken(seed, chance):
    rng = np.random.default_rng(seed)
    fit = weibull.fit_weibull(rng.weibull(5.0, 6), [True, False, True, True, False, True])
    low, high = fit.quantile_interval(chance)
    assert 0 <= low < fit.quantile(chance) < high
    low, high = fit.failure_interval(fit.quantile(chance))
    assert 0 <= low < chance < high <= 1


def test_goodness_of_true_samples_is_spread_evenly():
    fits = weibull.fit_weibull(np.random.default_rng(3).weibull(4.0, (20_000, 20)))
    for level in (0.01, 0.05, 0.10, 0.25):
        # Tolerance: the formula of the significance is a fit, an eighth off at most.
        noise = 4 * np.sqrt(level / 20_000)
        got = (fits.goodness() < level).mean()
        assert got == pytest.approx(level, rel=0.125, abs=noise)


def test_goodness_at_the_tabulated_point(outside):
    # A2 (1 + 0.2/sqrt n) = 0.757 is the 5 % point: put into the formula of the significance.
    fits = weibull.fit_weibull(np.random.default_rng(3).weibull(4.0, (20_000, 20)))
    level = 1 / (1 + np.exp(-0.10 + 1.24 * np.log(0.757) + 4.48 * 0.757))
    outside(
        "share of true samples past the 5 % point",
        (fits.goodness() < level).mean(),
        0.05,
        abs_=0.007,
        source="Stephens 1977: critical value 0.757",
        status="memory",
    )


def test_two_populations_in_one_fit_belong_to_neither(outside):
    rng = np.random.default_rng(4)
    half = rng.random((200, 500)) < 0.5
    pooled = np.where(half, 55.0, 100.0) * rng.weibull(10.0, (200, 500))
    outside(
        "apparent modulus of edge 55 and surface 100 MPa, both of modulus 10",
        np.median(weibull.fit_weibull(pooled).modulus),
        3.5,
        abs_=0.15,
        source="simulation by another program",
        status="independent method",
    )


def test_origins_fitted_apart_find_their_own_truth():
    rng = np.random.default_rng(6)
    edge, face = 60e6 * rng.weibull(5.0, 400), 70e6 * rng.weibull(9.0, 400)
    origins = np.where(edge < face, "edge", "face")
    origins[0] = ""
    fits = {
        name: weibull.fit_weibull(np.minimum(edge, face), origins != name)
        for name in ("edge", "face")
    }
    for name, modulus, scale in (("edge", 5.0, 60e6), ("face", 9.0, 70e6)):
        low, high = fits[name].interval(0.999)
        assert low < modulus < high
        low, high = fits[name].scale_interval(0.999)
        assert low < scale < high
    # Leaving the others out instead of censoring them makes the kind look weaker.
    alone = weibull.fit_weibull(edge[edge < face])
    assert alone.scale < 0.95 * fits["edge"].scale


def test_the_plates_of_1900_pooled():
    rows = tables.read("bending_1900")
    strength = np.array([float(row["modulus_of_rupture_psi_as_printed"]) for row in rows])
    blown = np.array([row["glass"].startswith("double") for row in rows])
    pooled, wired = weibull.fit_weibull(strength), weibull.fit_weibull(strength[~blown])
    single = weibull.fit_weibull(strength[blown])
    # One line for two kinds of glass has more scatter than either kind has.
    assert pooled.modulus < min(wired.modulus, single.modulus)
    # And its weak tail is worse than that of the weaker kind, which no plate showed.
    assert pooled.quantile(0.01) < wired.quantile(0.01)
    # The significance falls when the kinds are mixed.
    assert pooled.goodness() < wired.goodness()


def test_shapes_and_read_only():
    fit = weibull.fit_weibull(np.random.default_rng(1).weibull(5.0, (3, 2, 8)))
    assert fit.modulus.shape == (3, 2)
    assert fit.interval().shape == (3, 2, 2)
    assert fit.quantile_interval([0.01, 0.1]).shape == (3, 2, 2)
    assert fit.failure_interval(0.5).shape == (3, 2, 2)
    assert fit.rank_plot()[1].shape == (3, 2, 8)
    assert weibull.fit_weibull(FIBRES).quantile_interval([0.01, 0.1, 0.5]).shape == (3, 2)
    with pytest.raises(ValueError, match="read-only"):
        fit.modulus[0] = 1.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: weibull.fit_weibull([1.0, 0.0]),
            "strengths must be finite and positive; got 0",
        ),
        (lambda: weibull.fit_weibull([5.0]), "hold two uncensored specimens or more; got 1"),
        (lambda: weibull.fit_weibull([5.0, 5.0]), "strengths must not all be equal; got 5 Pa"),
        (lambda: weibull.fit_weibull([1.0, 2.0], [True]), "censored must have 2 items; got 1"),
        (lambda: weibull.fit_weibull(FIBRES).interval(1.0), "level must lie in 0 < level < 1"),
        (
            lambda: weibull.fit_weibull(FIBRES).quantile(0.0),
            "chance must lie in 0 < chance < 1",
        ),
        (lambda: weibull.fit_weibull(FIBRES).failure_chance(-1.0), "stress must be finite"),
        (lambda: weibull.fit_weibull(FIBRES, FIBRES > 2).goodness(), "censored must be false"),
        (lambda: weibull.unbiasing_factor(2), "failures must be above 2; got 2"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
