# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.bending import bar_section, four_point_stress
from glasskit.draw.lab import CurveScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.lab import load_curve, parse_columns, reduce_curve
from glasskit.training import invented
from glasskit.words.lab import curve_numbers, curve_sentence, curve_verdict

SIZES = {"outer_span": 0.1, "inner_span": 0.05, "width": 0.02, "thickness": 0.004}
TIME = np.arange(0.0, 50.0, 0.25)
RAMP = 5.0 * TIME


def curve(time, force):
    lines = [f"{a:.9g}; {b:.9g}" for a, b in zip(time, force, strict=True)]
    return load_curve(parse_columns("\n".join(["t [s]; F [N]", *lines]), ("time", "force")))


def broken(force=RAMP):
    return curve(np.append(TIME, [50.0, 50.25]), np.append(force, [0.4, 0.3]))


def test_a_steady_rise_gives_its_peak_its_rate_and_no_doubt():
    found = broken()
    assert found.peak == RAMP.max()
    assert found.peak_time == TIME[-1]
    assert found.rate == pytest.approx(5.0)
    assert found.start == pytest.approx(0.0, abs=1e-9)
    assert found.broke
    assert found.doubts == ()


def test_a_weak_specimen_that_breaks_within_a_second_is_read_too():
    found = curve(np.append(TIME, 50.0) / 100, np.append(RAMP, 0.0) / 1000)
    assert found.rate == pytest.approx(0.5)
    assert found.peak == pytest.approx(0.24875)
    assert found.doubts == ()


def test_noise_is_averaged_and_the_invented_rate_comes_back():
    text = invented.load_over_time(np.random.default_rng(invented.SEED))
    found = load_curve(parse_columns(text, ("time", "force")))
    # Source: as drawn, 4.7 N each second; its error from 0.3 N of noise in 111 readings over
    # 44 s is 0.3/(12.8 sqrt(111)) = 0.0022 N/s, here three times that.
    assert found.rate == pytest.approx(4.7, abs=0.007)
    assert found.doubts == ()


def test_a_curve_without_a_fall_says_that_it_is_no_breaking_load():
    found = curve(TIME, RAMP)
    assert not found.broke
    assert "never falls away" in found.doubts[0]
    assert curve_verdict(reduce_curve(found, "four_point_bar", SIZES), "us").startswith(
        "No break"
    )


def test_a_slip_before_the_peak_is_named_with_its_place():
    sagging = broken(RAMP - 0.95 * RAMP * (1 - RAMP / RAMP.max()))  # below the line midway
    assert any("leaves the straight line" in one for one in sagging.doubts)
    slipped = RAMP.copy()
    slipped[100:] -= 60.0  # at 25 s
    found = broken(slipped)
    assert any("The load falls by 58.8 N at 25 s" in one for one in found.doubts)
    assert any("leaves the straight line" in one for one in found.doubts)


def test_a_gap_coarse_readings_and_a_cell_not_set_to_zero_are_named():
    keep = (TIME < 20) | (TIME > 24)
    gap = curve(np.append(TIME[keep], 51.0), np.append(RAMP[keep], 0.0))
    assert any("no reading for 4.5 s after 19.8 s" in one for one in gap.doubts)
    coarse = curve([*range(0, 50, 4), 52], [*range(0, 250, 20), 0])
    # Source: hand calculation, 4 s at 5 N/s over the peak of 240 N is 8.3 %.
    assert any("may lie up to 8.3% higher" in one for one in coarse.doubts)
    off = broken(RAMP + 12.0)
    assert any("The first reading is 12 N" in one for one in off.doubts)
    assert off.start == pytest.approx(-12 / 5)


def stepped(step):
    """Return a curve of readings so far apart, 1 N/s up to 100 N."""
    time = np.arange(0.0, 100.0 + step / 2, step)
    return curve([*time, 100 + 2 * step], [*time, 0.0])


def slipped(by):
    force = RAMP.copy()
    force[100:] -= by
    return broken(force)


def paused(seconds):
    keep = (TIME < 20) | (20 + seconds - 0.3 < TIME)
    return curve(np.append(TIME[keep], 50.0), np.append(RAMP[keep], 0.0))


def ended(share):
    return curve(np.append(TIME, 50.0), np.append(RAMP, share * RAMP.max()))


@pytest.mark.parametrize(
    ("words", "without", "with_it"),
    [
        # Limits as the module states them: 1 % of the peak, a tenth, five steps, 1 %, half.
        ("The first reading", lambda: broken(RAMP + 2.0), lambda: broken(RAMP + 3.0)),
        ("and then rises", lambda: slipped(22.0), lambda: slipped(24.0)),
        ("There is no reading", lambda: paused(1.0), lambda: paused(1.5)),
        ("Readings stand", lambda: stepped(0.95), lambda: stepped(1.05)),
        ("never falls away", lambda: ended(0.48), lambda: ended(0.52)),
    ],
)
def test_a_doubt_begins_where_it_is_said_to(words, without, with_it):
    assert not any(words in one for one in without().doubts)
    assert any(words in one for one in with_it().doubts)


def test_five_readings_between_a_tenth_and_nine_tenths_are_enough():
    def few(count):
        return curve([*range(count + 3)], [0.0, *np.linspace(10, 89, count), 100.0, 0.0])

    # Source: hand calculation, (89 - 10)/4 N each second.
    assert few(5).rate == pytest.approx(79 / 4)
    with pytest.raises(ValueError, match="5 readings"):
        few(4)


def test_stress_rate_and_the_window_of_a_standard(outside):
    found = reduce_curve(broken(), "four_point_bar", SIZES, "ASTM C158")
    stress = 3 * RAMP.max() * 0.05 / (2 * 0.02 * 0.004**2)
    outside(
        "stress at the peak of a curve, Pa",
        found.reduction.value.item(),
        stress,
        rel=1e-9,
        source="textbook bending, by hand",
        status="independent method",
    )
    one_second = four_point_stress(5.0, 0.1, 0.05, bar_section(0.02, 0.004)).item()
    assert found.stress_rate == pytest.approx(one_second)
    assert found.kept
    assert not reduce_curve(broken(), "four_point_bar", SIZES, "EN 1288-3").kept
    said = curve_sentence(found)
    assert (
        "rose by 1.17 MPa each second, within the 0.900 MPa to 1.30 MPa of ASTM C158" in said
    )
    assert "ksi" in curve_sentence(found, "us")
    near = reduce_curve(broken(), "four_point_bar", {**SIZES, "inner_span": 0.02})
    assert any(label == "limit of the method" for label, _ in curve_numbers(near))


@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)]
)
def test_the_picture_has_no_layout_faults(look):
    for read in (broken(), curve(TIME, RAMP)):
        found = reduce_curve(read, "four_point_bar", SIZES)
        assert layout_faults(still(CurveScene(), found, look, SCREEN)) == []


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: broken(-RAMP), "force must be positive while it loads; got -248.75 N: turn"),
        (
            lambda: curve(TIME[::-1], RAMP),
            "time must not run backwards; got 49.5 s after 49.75",
        ),
        (lambda: curve([0, 1, 2, 3], [0, 100, 200, 0]), "force must have 5 readings from 0.1"),
        (lambda: curve([], []), "columns must hold readings"),
        (lambda: curve([0] * 20, range(20)), "time must go on while the load rises"),
        (lambda: broken().stress_rate(-1.0), "strength must be finite and positive"),
        (
            lambda: reduce_curve(broken(), "four_point_bar", {**SIZES, "width": [0.02, 0.02]}),
            "readings must be of one specimen",
        ),
        (lambda: reduce_curve(broken(), "vickers", SIZES), "method must be one of"),
        (lambda: reduce_curve(broken(), "four_point_bar", SIZES, "X 1"), "standard must be"),
        (
            lambda: reduce_curve(broken(), "four_point_bar", {}),
            "readings must hold outer_span",
        ),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
