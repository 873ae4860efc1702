# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from glasskit.crack.growth import ENVIRONMENTS, time_to_failure
from glasskit.lab import fatigue

LAW = ENVIRONMENTS["half humid"]
RATES = np.array([0.02, 0.2, 2.0, 20.0]) * 1e6
DEPTH, SHAPE = 60e-6, 1.1215


def stepped(rate):
    """Return the stress at which a creeping flaw runs, by a Runge-Kutta rule."""

    def speed(time, depth):
        return LAW.reference_speed * (
            np.maximum(SHAPE * rate * time * np.sqrt(np.pi * depth) / LAW.toughness, 0.0)
            ** LAW.exponent
        )

    def runs(time, depth):
        return SHAPE * rate * time * np.sqrt(np.pi * depth[0]) / LAW.toughness - 1

    runs.terminal = True
    end = 2 * LAW.toughness / (SHAPE * rate * np.sqrt(np.pi * DEPTH))
    done = solve_ivp(speed, (0, end), [DEPTH], events=runs, rtol=1e-8, atol=1e-14)
    return rate * done.t_events[0][0]


def test_a_creeping_flaw_gives_back_its_exponent_and_its_life(outside):
    strengths = [stepped(rate) for rate in RATES]
    found = fatigue(strengths, RATES)
    source, status = "Runge-Kutta on the law of creep", "independent method"
    # Tolerance: near the toughness the creep is cut short, which the power leaves out.
    outside("n", found.exponent, LAW.exponent, rel=0.02, source=source, status=status)
    life = time_to_failure(25e6, DEPTH, LAW).item()
    outside("life", found.life(25e6)[0], life, rel=0.1, source=source, status=status)


def test_b_follows_from_the_strength_without_creep(outside):
    strengths = [stepped(rate) for rate in RATES]
    inert = LAW.toughness / (SHAPE * np.sqrt(np.pi * DEPTH))
    # Source: B = 2 K_Ic^2 / ((n - 2) Y^2 v_0) for v = v_0 (K/K_Ic)^n, by hand.
    constant = 2 * LAW.toughness**2 / (LAW.exponent - 2) / SHAPE**2 / LAW.reference_speed
    constant /= np.pi
    outside(
        "B",
        fatigue(strengths, RATES).creep_constant(inert),
        constant,
        rel=0.15,
        source="integral of the law of creep, by hand",
        status="hand calculation",
    )


def test_intervals_hold_the_truth_as_often_as_they_say(outside):
    rng = np.random.default_rng(5)
    rates = np.repeat(RATES, 10)
    median = 60e6 * (rates / 2e6) ** (1 / 17)
    held = []
    for scatter in np.exp(rng.normal(0.0, 0.12, (1000, 40))):
        found = fatigue(median * scatter, rates)
        _, early, late = found.life(30e6)
        true = (60e6 / 30e6) ** 16 * 60e6 / 2e6 / 17
        held.append((found.interval[0] < 16 < found.interval[1], early < true < late))
    for name, share in zip(("exponent", "life"), np.mean(held, axis=0), strict=True):
        outside(
            f"coverage of the {name}",
            share,
            0.95,
            abs_=0.02,
            source="1,000 simulated sets of 40",
            status="independent method",
        )


def test_strength_that_does_not_rise_sets_no_life():
    found = fatigue([60e6, 61e6, 59e6, 60e6], [1e5, 1e6, 1e7, 1e8])
    assert found.interval[1] == np.inf
    falling = fatigue([61e6, 60.5e6, 60e6, 59e6], [1e5, 1e6, 1e7, 1e8])
    assert falling.exponent == np.inf
    assert np.isinf(falling.life([10e6, 20e6])).all()


def test_rates_must_differ_and_be_enough():
    with pytest.raises(ValueError, match="strengths must hold three specimens"):
        fatigue([60e6, 61e6], [1e6, 2e6])
    with pytest.raises(ValueError, match="each vary by itself"):
        fatigue([60e6, 61e6, 62e6], [1e6, 1e6, 1e6])
