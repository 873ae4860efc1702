# SPDX-License-Identifier: MIT
"""The panels of notebook 43: published examples typed in, answers read off."""

from datetime import date

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit.live import sure
from glasskit.live.colours import colours_explorer
from glasskit.measured import Reading, keep_reading

pytestmark = pytest.mark.usefixtures("unseen")

PANELS = [name for name in vars(sure) if name.endswith("_explorer")]


@pytest.mark.parametrize("name", PANELS)
def test_no_panel_has_a_layout_fault(name):
    shown = getattr(sure, name)()
    for look in LOOKS:
        assert faults(shown.scene, shown.result, look) == []


def typed(explorer, text):
    explorer.controls["columns"].area.value = text
    return explorer


def test_drops_of_a_publication_give_its_answer(outside):
    shown = sure.drops_explorer()
    # Source: Hamada, Mang and Hoff 2019, table 1: mu = 1.531691, sigma = 0.073731988 in
    #   log10 of centimetres, and 34.01661 cm. Three outcomes were lost in the copy that was
    #   read; the next height tells them. Tolerance of the spread: their program stops early.
    source = "Hamada, Mang and Hoff 2019, text below table 1"
    half = 100 * shown.result.half
    outside("half [cm]", half, 34.01661, rel=1e-6, source=source, status="found")
    spread = shown.result.found.spread / np.log(10)
    outside("spread [log10]", spread, 0.073731988, rel=1e-5, source=source, status="found")
    assert shown.said.startswith("Half of such specimens break from 0.340 m.")
    assert shown.result.half_by_hand == pytest.approx(shown.result.half, rel=0.02)


def test_a_word_that_is_no_outcome_is_said_beside_the_drops():
    shown = typed(sure.drops_explorer(), "result; height [m]\nbroke; 1\nmaybe; 0,9\n")
    assert "must say broke or held; got &#x27;maybe&#x27; in line 3" in shown.note.value
    typed(shown, "result; height [m]\nbroke; 1\nbroke; 0,9\n")
    assert "Held must count a specimen that held" in shown.note.value
    typed(shown, "result; height [m]\nheld; 1\nbroke; x\nbroke; 1.1\nheld; 1\n")
    assert "3 of 4 lines are used. 1 set aside" in shown.controls["columns"].counted.value
    assert shown.note.value == ""


def test_heights_may_scatter_evenly_or_by_factors():
    shown = sure.drops_explorer()
    shown.controls["by_factor"].choose("by equal heights")
    assert not shown.result.by_factor
    assert shown.result.by_hand is None  # the ladder of factors has uneven steps
    assert shown.result.half == pytest.approx(0.342, abs=0.003)


def test_mirrors_that_obey_the_relation_give_its_squeeze_back():
    stress = np.array([150.0, 200.0, 260.0, 330.0])
    radius = 1e3 * (2.0 / (stress - 90.0)) ** 2
    lines = [f"{s}; {r:.6f}" for s, r in zip(stress, radius, strict=True)]
    shown = typed(
        sure.mirrors_explorer(), "\n".join(["stress [MPa]; radius [mm]", *lines, ""])
    )
    assert "surface compression 90.0 MPa" in shown.said
    assert "Mirror constant 2.00 MPa√m" in shown.said
    typed(shown, "stress [MPa]; radius [mm]\n100; 1\n100; 2\n100; 3\n")
    assert "Stress must not all be equal" in shown.note.value


def test_a_lot_on_the_border_of_the_standard_has_even_odds(outside):
    shown = typed(sure.lot_explorer(), "pane; compression [psi]\n1; 9900\n2; 10100\n")
    odds = shown.result.odds["fully tempered (FT)"]
    source = "ASTM C1048: fully tempered from 69 MPa (10 000 psi)"
    outside("odds on the border", odds, 0.5, abs_=0.02, source=source, status="found")
    typed(shown, "pane; compression [MPa]\n1; 70\n")
    assert "Readings must hold two pieces or more" in shown.note.value


def test_a_calibration_bounds_what_many_pieces_can_tell():
    shown = sure.lot_explorer()
    # Source: hand calculation. s = 2.7019 MPa for 71, 74, 69, 76, 72; s/sqrt(5) = 1.2083.
    assert shown.result.standard_uncertainty == pytest.approx(
        1e6 * np.hypot(1.2083, 2.0), rel=1e-4
    )
    shown.controls["instrument"].value = 30e6
    assert shown.result.standard_uncertainty > 30e6


def test_twice_the_size_by_the_plates_of_1900():
    shown = sure.trend_explorer()
    assert "No finding, and no proof of none" in shown.said
    # Source: independent method, numpy.polyfit on the logarithms.
    size, strength = shown.result.factor, shown.result.strengths
    slope = np.polyfit(np.log(size), np.log(strength), 1)[0]
    assert shown.result.power == pytest.approx(slope, rel=1e-9)
    typed(shown, "span [mm]; strength [MPa]\n200; 60\n200; 61\n200; 64\n")
    assert "Factors must each vary by itself" in shown.note.value


def test_rates_without_creep_say_so_and_an_inert_strength_gives_b():
    shown = sure.fatigue_explorer()
    # Source: the invented file was drawn with n = 16.
    low, high = shown.result.found.interval
    assert low < 16 < high
    assert "B of the standard" not in dict(shown.numbers)
    shown.controls["inert"].value = 150e6
    assert dict(shown.numbers)["B of the standard"].endswith("MPa² s")
    typed(shown, "rate [MPa/s]; strength [MPa]\n1; 60\n10; 60\n100; 59\n1000; 60\n")
    assert "no upper limit" in shown.said
    typed(shown, "rate [MPa]; strength [MPa]\n1; 60\n")
    assert "column of stress rate with a unit among MPa/s" in shown.note.value


def test_a_proof_is_planned_by_simulation_and_by_the_law_of_creep(outside):
    shown = sure.proof_explorer()
    shown.controls["proof_stress"].value = 60e6
    shown.controls["stress"].value = 65e6
    plan = shown.result
    rng = np.random.default_rng(3)
    strength = 80e6 * rng.weibull(7.0, 1_000_000)
    passed = strength[strength > 60e6]
    source, status = "a million simulated panes", "independent method"
    lost = 1 - passed.size / strength.size
    outside("lost", plan.lost, lost, abs_=0.002, source=source, status=status)
    after = np.mean(passed < 65e6)
    outside("after", plan.after, after, abs_=0.002, source=source, status=status)
    assert "the proof must lie above it" in shown.said
    shown.controls["stress"].value = 25e6
    assert shown.result.after == 0
    assert "at once, and for" in shown.said
    shown.controls["stress"].value = 15e6
    assert "without end, by this law of creep" in shown.said


def test_a_published_gauge_study_is_read_off_the_page(outside):
    shown = sure.gauge_explorer()
    # Source: the manual's ranges give 0.175 for 5.15 standard deviations of repeatability,
    #   from memory; recomputed by hand: mean range 0.03833 times 4.56 is 0.1748.
    # Tolerance: ranges and variances are two estimates.
    outside(
        "repeatability [mm]",
        1e3 * shown.result.repeatability,
        0.175 / 5.15,
        rel=0.1,
        source="Measurement systems analysis, manual of 1990, by ranges",
        status="memory",
    )
    assert "hands differ by 0.056 mm" in shown.said
    found = shown.controls["found"]
    found.area.value = "hand; piece; size [mm]\nA; 1; 2\nA; 1; 2.1\nA; 2; 3\nB; 1; 2\n"
    assert (
        "A must read piece 2 as often as others were read, 2 times; got 1" in shown.note.value
    )
    found.area.value = "hand; piece; size\nA; 1; 2\n"
    assert "reading with a unit among mm" in shown.note.value


def test_a_density_is_read_off_with_the_budget_done_by_hand():
    shown = sure.density_explorer()
    # Source: hand calculation, 20 * (998.206 - 1.2)/8 + 1.2 = 2493.7; the slopes are
    #   rho_w m_w/(m - m_w)^2 = 186.9e3 and rho_w m/(m - m_w)^2 = 311.6e3 per kilogram,
    #   2.5 * -0.207 per kelvin, -1.5 for the air; half widths over the root of three.
    assert shown.said.startswith("Density 2493.7 kg/m³ ± ")
    parts = np.array([186.9e3 * 2e-6, 311.6e3 * 2e-6, 2.5 * 0.207 * 0.5, 1.5 * 0.05])
    standard = np.sqrt((parts**2 / 3).sum())
    assert shown.result.budget.standard == pytest.approx(standard, rel=0.01)
    shown.controls["immersed"].value = 30e-3
    assert "Immersed must be less than the mass in air" in shown.note.value


def test_the_lot_takes_what_was_kept_from_photographs(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shown = sure.lot_explorer()
    pasted = shown.controls["columns"]
    before = pasted.area.value
    pasted.kept.click()
    assert "No readings are kept in recordings/readings.csv yet" in pasted.note.value
    assert pasted.area.value == before
    for value, file in ((72e6, "one.jpg"), (75e6, "two.jpg"), (78e6, "three.jpg")):
        reading = Reading(
            what="squeeze at the faces, by colours",
            kind="stress",
            value=value,
            low=value - 4e6,
            high=value + 3e6,
            file=file,
        )
        keep_reading("recordings/readings.csv", reading, date(2030, 5, 31))
    pasted.kept.click()
    assert shown.result.readings == pytest.approx([72e6, 75e6, 78e6])
    assert shown.said.startswith("Mean of 3 pieces: 75.0 MPa")
    assert pasted.value.file == "recordings/readings.csv"
    counted = Reading(
        what="squeeze that the count suggests",
        kind="stress",
        value=99e6,
        low=90e6,
        high=110e6,
        file="crumbs.jpg",
    )
    keep_reading("recordings/readings.csv", counted, date(2030, 5, 31))
    pasted.kept.click()
    assert "Took “squeeze that the count suggests”; press again for “squeeze at" in (
        pasted.note.value
    )
    assert pasted.value.values["stress"] == pytest.approx([99e6])
    pasted.kept.click()
    assert shown.result.readings == pytest.approx([72e6, 75e6, 78e6])
    pasted.back.click()
    pasted.back.click()
    assert pasted.area.value == before


def test_a_lot_of_nothing_but_invented_examples_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shown, colours = sure.lot_explorer(), colours_explorer()
    colours.keep_readings()
    before = shown.result
    shown.controls["columns"].kept.click()
    assert "this is of the invented example" in shown.controls["columns"].checks.value
    assert shown.result is before
    assert "got" in shown.note.value
