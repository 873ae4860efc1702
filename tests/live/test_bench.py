# SPDX-License-Identifier: MIT
"""Panels of notebook 43 for single readings: typed in, read off, checked by hand."""

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit.live import bench

PANELS = [name for name in vars(bench) if name.endswith("_explorer")]


@pytest.mark.parametrize("name", PANELS)
def test_no_panel_has_a_layout_fault(name, unseen):
    shown = getattr(bench, name)()
    assert shown.note.value == ""
    for look in LOOKS:
        assert faults(shown.scene, shown.result, look) == []


def test_invented_dents_give_back_what_they_were_made_of(outside):
    shown = bench.dents_explorer()
    low, high = shown.result.plateau_interval
    assert low < 5.5e9 < high
    assert "set aside at the bench: crushed" in shown.controls["found"].checks.value
    area = shown.controls["found"].area
    area.value = "load [gf]; d [µm]\n100; 18\n100; 18\n1000; 58\n1000; 58\n"
    outside(
        "Vickers number that the panel says at 1 kgf",
        float(shown.said.split(", ")[1].split()[0]),
        1.8544 / 0.058**2,
        source="1.8544 P/d^2",
        status="hand calculation",
        rel=0.002,
    )
    assert "two loads do not tell a law" in str(shown.numbers)
    area.value = "load; d\n1; 2\n"
    assert "must name one column of force" in shown.note.value


def test_the_invented_rod_gives_back_what_it_was_made_of():
    found = bench.expansion_explorer().result
    low, high = found.interval
    assert low < 550 + 273.15 < high
    low, high = found.mean.budget.interval()
    assert low < 9.0e-6 < high
    assert found.softening == pytest.approx(615 + 273.15, abs=15)


def test_a_tangent_without_readings_is_said_beside_the_sliders():
    shown = bench.expansion_explorer()
    shown.controls["soft_to"].value = shown.controls["soft_from"].value + 1
    assert "Soft must hold 4 readings or more" in shown.note.value


def test_fringes_worked_by_hand_and_what_a_wrong_order_gives(outside):
    shown = bench.analyser_explorer()
    optic = (2.6 + 2.77) / 2 * 1e-12
    by_hand = (-1 - 32 / 180) * 565e-9 / (optic * 6e-3)
    outside(
        "stress of the analyser panel / MPa",
        shown.result.value / 1e6,
        by_hand / 1e6,
        source="(N + turn/180) wavelength/(C s)",
        status="hand calculation",
        rel=1e-9,
    )
    told = dict(shown.numbers)
    less = float(told["if the order is one less"].split()[0].replace("−", "-"))
    assert less == pytest.approx((-2 - 32 / 180) * 565e-9 / (optic * 6e-3) / 1e6, abs=0.06)
    shown.controls["turn"].value = np.radians(40.0)
    assert "compression" in shown.said


def test_guided_light_worked_by_hand(outside):
    shown = bench.guided_explorer()
    beyond = 2.33811 / (4.08795 - 2.33811)
    te = 6.94 - beyond * (11.21 - 6.94)
    tm = 2.50 - beyond * (7.78 - 2.50)
    outside(
        "compression of the guided light panel / MPa",
        shown.result.value / 1e6,
        0.35 * (te - tm) * 1e-3 / 2.9e-12 / 1e6,
        source="0.35 (x_TE - x_TM)/2.9e-12, zeros of Airy's function",
        status="hand calculation",
        rel=1e-4,
    )
    shown.controls["te_second"].value = 6.0e-3
    assert "must lie beyond the first line" in shown.note.value
