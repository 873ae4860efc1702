# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.draw.lab import ChartScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.lab import control_chart, parse_columns
from glasskit.lab.charts import KINDS
from glasskit.training import invented
from glasskit.words.lab import chart_numbers, chart_sentence, chart_verdict

# Ten flow rates of the handbook's example.
RATES = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_the_worked_example_of_the_handbook(outside):
    chart = control_chart(RATES, "plain")
    source = "NIST/SEMATECH e-Handbook 6.3.2.2, numbers as quoted by others"
    for name, got, expected in (
        ("middle", chart.middle, 50.81),
        ("mean moving range", chart.usual_range, 1.8778),
        ("upper limit", chart.high, 55.8041),
        ("lower limit", chart.low, 45.8159),
    ):
        outside(f"flow rates: {name}", got, expected, abs_=5e-5, source=source, status="found")
    # Source: hand calculation, the limit of a Weibull range is logistic: with the chance
    # 0.0092 of a normal one, ln(2/0.0092 - 1) = 5.377 over 2 ln 2 mean ranges.
    assert KINDS["single"].widest == pytest.approx(3.88, abs=0.005)
    # Source: 3.267 mean ranges, ISO 7870-2, from memory.
    assert chart.widest_range == pytest.approx(3.267 * 1.8778, abs=2e-4)
    assert chart.outside == chart.jumps == chart.drifts == ()


@pytest.mark.parametrize(
    ("kind", "draw"),
    [
        ("single", lambda rng, n: rng.weibull(6.0, n)),
        ("means", lambda rng, n: np.exp(rng.normal(0.0, 0.05, n))),
    ],
)
def test_false_alarms_are_as_rare_as_said(kind, draw):
    chart = control_chart(draw(np.random.default_rng(3), 200_000), kind)
    # Source: normal tail beyond three, 0.135 %; of a normal range beyond 3.267 mean ranges,
    # 2 Phi(-3.267 * 1.128 / sqrt 2) = 0.917 %.
    assert (chart.values < chart.low).mean() == pytest.approx(0.00135, abs=0.0003)
    assert (chart.values > chart.high).mean() == pytest.approx(0.00135, abs=0.0003)
    assert len(chart.jumps) / 200_000 == pytest.approx(0.00917, abs=0.0008)
    assert (chart.values < chart.middle).mean() == pytest.approx(0.5, abs=0.005)


def test_limits_for_means_would_cry_wolf_over_single_strengths():
    drawn = np.random.default_rng(4).weibull(6.0, 50_000)
    assert len(control_chart(drawn, "means").outside) > 4 * len(
        control_chart(drawn, "single").outside
    )


def test_strengths_twice_as_high_have_limits_twice_as_high_and_the_same_steps():
    once, twice = (control_chart(np.array(RATES) * factor) for factor in (1.0, 2.0))
    assert twice.high == pytest.approx(2 * once.high)
    assert twice.low == pytest.approx(2 * once.low)
    assert twice.widest_range == pytest.approx(once.widest_range)


def test_a_value_outside_a_jump_and_a_drift_are_told_by_name():
    even = [60.0, 61.0] * 10
    labels = [f"month {at}" for at in range(1, 31)]
    low = control_chart([*even, 50.0, *[60.5] * 9], baseline=20, labels=labels)
    # Source: hand calculation, all steps of the first twenty are from 60 to 61 or back.
    assert low.usual_range == pytest.approx(1 / 60)
    assert low.outside == (20,)
    assert low.jumps == (20, 21)
    assert "Beyond a limit: month 21." in chart_sentence(low)
    assert chart_verdict(low).startswith("Something changed")
    drift = control_chart([*even, *[60.6] * 10], baseline=20, labels=labels)
    # The last of the even ones lies above too, so that the ninth in a row is the 28th.
    assert drift.drifts == (27, 28, 29)
    assert drift.outside == ()
    assert chart_verdict(drift).startswith("Something drifts")
    assert "9 values in a row lay on one side of the middle by month 28." in chart_sentence(
        drift
    )
    assert chart_verdict(control_chart(even)).startswith("Nothing beyond chance")
    assert control_chart(even).labels[:2] == ("1", "2")
    assert ("to know", "Fewer than 20 values: the limits are rough.") in chart_numbers(
        control_chart(RATES)
    )


@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)]
)
def test_the_picture_has_no_layout_faults(look):
    text = invented.reference_lot(np.random.default_rng(invented.SEED))
    values = parse_columns(text, ("stress",)).values["stress"]
    for kind in ("means", "plain"):
        chart = control_chart(values, kind, 20)
        assert layout_faults(still(ChartScene(), chart, look, SCREEN)) == []


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: control_chart([1.0, 2.0]), "values must be three or more; got 2"),
        (lambda: control_chart([1.0, 1.0, 1.0]), "values must not all be equal"),
        (lambda: control_chart(RATES, "week"), "kind must be one of"),
        (lambda: control_chart(RATES, baseline=11), "baseline must be"),
        (lambda: control_chart([1.0, -1.0, 2.0]), "values must be finite and positive"),
        (lambda: control_chart(RATES, labels=["a"]), "labels must be 10; got 1"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
