# SPDX-License-Identifier: MIT
import time
from dataclasses import replace

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit import materials
from glasskit.crack import ENVIRONMENTS, clock, growth
from glasskit.draw.clock import PULL, ClockScene
from glasskit.live.clock import clock_explorer
from glasskit.stress import annealed, tempered
from glasskit.words.clock import clock_numbers, clock_sentence, speed_words, time_words

PLAIN, TOUGH = annealed(12e-3), tempered(100e6, 12e-3)
DESIGN = ENVIRONMENTS["design"]
GLASS = materials.glass("soda-lime")
YEAR = 31557600.0

STATES = {
    "creeps": (PLAIN, 15e6, 100e-6, DESIGN),
    "rests": (PLAIN, 10e6, 100e-6, DESIGN),
    "runs": (PLAIN, 60e6, 100e-6, DESIGN),
    "small": (PLAIN, 60e6, 5e-6, ENVIRONMENTS["half humid"]),
    "deep": (PLAIN, 1e6, 200e-6, ENVIRONMENTS["water"]),
    "squeezed": (TOUGH, 15e6, 100e-6, DESIGN),
    "barely": (TOUGH, 103e6, 100e-6, DESIGN),
    "outweighed": (TOUGH, 115e6, 100e-6, ENVIRONMENTS["half humid"]),
    "most": (TOUGH, PULL, 200e-6, ENVIRONMENTS["water"]),
}


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("state", STATES)
def test_no_text_of_the_clock_is_cut_off_or_overlaps(state, look):
    assert faults(ClockScene(), clock.run_clock(*STATES[state]), look) == []


def test_life_in_plain_glass_is_that_of_the_closed_form(outside):
    # By hand: k = 1.1215 * 20e6 * sqrt(pi * 1e-4) / 0.75e6 = 0.53008;
    # t = 2e-4 / (14 * 6e-3) * k^-16 * (1 - k^14) = 2.38095e-3 * 25743 = 61.3 s.
    outside(
        "life of a 100 µm flaw at 20 MPa in a 12 mm pane, s",
        clock.run_clock(PLAIN, 20e6, 100e-6, DESIGN).life,
        61.3,
        # Tolerance: stress intensities are good to 0.1 %, their 16th power to 1.6 %.
        rel=0.03,
        source="t = 2a/((n-2) v0) k^-n (1 - k^(n-2)), by hand",
        status="hand calculation",
    )


def test_life_in_toughened_glass_is_that_of_faces_free_to_touch():
    open_faces = growth.grow_in(TOUGH.with_tension(115e6), 100e-6, DESIGN, GLASS)
    found = clock.run_clock(TOUGH, 115e6, 100e-6, DESIGN).life
    assert found == pytest.approx(open_faces.time_to_failure, rel=0.01)


@pytest.mark.parametrize("law", ENVIRONMENTS.values(), ids=ENVIRONMENTS)
def test_below_the_floor_no_flaw_of_the_slider_creeps_even_where_faces_touch(law):
    for depth in (5e-6, 50e-6, 200e-6):
        bears = clock.bearing(TOUGH, depth, law)
        for pull in (0.9 * bears.squeeze, 100e6, 0.999 * bears.floor):
            assert clock.run_clock(TOUGH, pull, depth, law).life == np.inf
            grown = growth.grow_in(TOUGH.with_tension(pull), depth, law, GLASS)
            assert grown.time_to_failure == np.inf
        above = clock.run_clock(TOUGH, 1.001 * bears.floor, depth, law)
        assert np.isfinite(above.life)


def test_the_curve_and_the_life_are_inverse():
    bears = clock.bearing(TOUGH, 50e-6, DESIGN)
    pull = bears.for_time([10.0, 3600.0])
    lives = [clock.run_clock(TOUGH, load, 50e-6, DESIGN).life for load in pull]
    # Tolerance: straight lines between 30 pulls, raised to the 16th power.
    assert lives == pytest.approx([10.0, 3600.0], rel=0.05)
    assert bears.for_time(1e-12) == pytest.approx(bears.instant, rel=0.01)
    assert bears.for_time(100 * YEAR) == bears.floor


def test_fifty_years_by_the_rule(outside):
    bears = clock.bearing(PLAIN, 100e-6, DESIGN)
    outside(
        "pull for fifty years over pull for 5 s, by the rule",
        bears.by_rule(50 * YEAR) / bears.by_rule(5.0),
        0.29,
        abs_=0.006,
        source="EN 16612:2019, recommended k_mod for dead load",
        status="memory",
    )
    assert bears.rule_time(bears.by_rule(YEAR).item()) == pytest.approx(YEAR, rel=0.01)
    assert bears.rule_time(0.9 * bears.by_rule(1e12).item()) == np.inf


def test_the_rule_keeps_the_whole_worth_of_the_squeeze():
    bears = clock.bearing(TOUGH, 50e-6, DESIGN)
    assert bears.by_rule(1e12) > bears.squeeze > 95e6


def test_humid_air_shortens_life():
    lives = {
        name: clock.run_clock(PLAIN, 18e6, 100e-6, law).life
        for name, law in ENVIRONMENTS.items()
    }
    assert lives["water"] < lives["design"] < lives["half humid"]


def test_a_flaw_too_deep_for_adding_stresses_is_refused():
    with pytest.raises(ValueError, match=r"^depth must be shallow enough .* got 0\.0008 m$"):
        clock.run_clock(TOUGH, 50e6, 0.8e-3, DESIGN)
    # Without a threshold every flaw in the fading squeeze would creep.
    with pytest.raises(ValueError, match=r"^depth must be shallow enough"):
        clock.run_clock(TOUGH, 50e6, 50e-6, replace(DESIGN, threshold=0.0))


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("creeps", "grows 2 nm a second at first. The pane breaks after about 2 hours, give"),
        ("rests", "does not grow: the pull on its tip is too small. The standards do not"),
        ("runs", "a flaw 100 µm deep runs at once: the pane breaks."),
        ("squeezed", "No clock runs. Plain glass would break after about 2 hours."),
        ("barely", "does not grow: the pull on its tip is too small."),
        ("outweighed", "Plain glass would break at once."),
    ],
)
def test_the_sentence_says_what_the_flaw_does(state, said):
    assert said in clock_sentence(clock.run_clock(*STATES[state]), "metric")


def test_numbers_name_all_surroundings():
    rows = dict(clock_numbers(clock.run_clock(*STATES["creeps"]), "metric"))
    assert rows["lasts, damp air, as design reckons"] == "2 hours"
    assert sum(name.startswith("lasts, ") for name in rows) == len(ENVIRONMENTS)


def test_times_and_speeds_are_said_in_fitting_units():
    assert [time_words(t) for t in (3.0, 90.0, 86400.0, 2 * YEAR)] == [
        "3 seconds",
        "1.5 minutes",
        "1 day",
        "2 years",
    ]
    assert speed_words(2e-3) == "2 mm a second"


@pytest.mark.parametrize("end", ["low", "high"])
def test_every_slider_works_at_its_ends_in_every_air_and_pane(end):
    explorer = clock_explorer()
    for name in ("depth", "tension"):
        explorer.controls[name].value = getattr(explorer.controls[name], end)
        for menu in ("air", "pane"):
            for option in explorer.controls[menu].menu.options:
                explorer.controls[menu].menu.value = option
                assert explorer.note.value == ""


def test_moving_the_pull_changes_picture_sentence_and_numbers():
    explorer = clock_explorer()
    before = (explorer.image.value, explorer.words.value)
    explorer.controls["tension"].value = 25e6
    after = (explorer.image.value, explorer.words.value)
    assert all(new != old for new, old in zip(after, before, strict=True))


def test_a_step_of_the_slider_is_computed_fast_enough():
    start = time.process_time()
    for depth in np.geomspace(6e-6, 190e-6, 20):
        clock_numbers(clock.run_clock(TOUGH, 115e6, depth, DESIGN), "metric")
    assert (time.process_time() - start) / 20 < 0.03
