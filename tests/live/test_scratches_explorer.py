# SPDX-License-Identifier: MIT
import time

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit.crack import breaking_stress
from glasskit.damage import retained_strength, scratcher, scratchers, scratches
from glasskit.draw.scratches import LOADS, ScratchScene
from glasskit.live.scratches import scratch_explorer
from glasskit.words.scratches import scratch_numbers, scratch_sentence

PLAIN, QUENCHED, BATH = scratches.PANES.values()


def drawn(thing, load, pane):
    return scratches.score(scratcher(thing), load, pane)


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("pane", scratches.PANES)
@pytest.mark.parametrize(
    ("thing", "load"),
    [
        ("fingernail", 10.0),
        ("key", 10.0),
        ("pocket knife", 3.0),
        ("quartz sand", 0.1),
        ("quartz sand", 1.0),
        ("hardened steel file", 20.0),
        ("diamond", 100.0),
    ],
)
def test_no_text_of_the_scratch_is_cut_off_or_overlaps(thing, load, pane, look):
    result = drawn(thing, load, scratches.PANES[pane])
    assert faults(ScratchScene(), result, look) == []


def test_plain_glass_keeps_what_the_indentation_formula_says(outside):
    # That fit has the wedge of the dent and a half-penny; ours a long crack and no wedge.
    outside(
        "strength of plain glass after 10 N on a Vickers point, MPa",
        scratches.scored_strength(PLAIN, 10.0) / 1e6,
        retained_strength(10.0, 0.75e6, 70e9, 5.3e9) / 1e6,
        # Tolerance: the constants of both are good to a quarter.
        rel=0.15,
        source="Chantikul et al. 1981: K = 0.59 (E/H)^(1/8) (stress P^(1/3))^(3/4)",
        status="consistency",
    )


def test_strength_of_plain_glass_falls_with_the_cube_root_of_the_load():
    # K = Y stress sqrt(pi c) and c ~ P^(2/3), so stress ~ P^(-1/3), whatever the factors.
    # Tolerance: the 6 mm of the pane raise Y a little at 335 µm; table of strengths 0.5 %.
    once, eightfold = scratches.scored_strength(PLAIN, [10.0, 80.0])
    assert once / eightfold == pytest.approx(2.0, rel=0.02)


def test_the_crack_in_plain_glass_is_that_of_the_formula(outside):
    # 0.016 sqrt(70/5.3) = 0.05815; (0.05815 * 10 / 0.75e6)^(2/3) = 84.4e-6.
    outside(
        "crack under 10 N in plain glass, µm",
        scratches.scored_depth(PLAIN, 10.0) * 1e6,
        84.4,
        rel=0.003,
        source="c = (0.016 sqrt(E/H) P/K)^(2/3), by hand",
        status="hand calculation",
    )


def test_the_table_of_strengths_agrees_with_solving_the_contact_anew():
    depth = np.geomspace(1e-6, 150e-6, 9)
    fresh = breaking_stress(BATH.profile, depth, BATH.glass.toughness)
    kept = scratches._strength(BATH, depth)
    assert kept == pytest.approx(fresh, rel=0.01, abs=1e6)


@pytest.mark.parametrize("pane", [QUENCHED, BATH])
def test_squeeze_makes_the_crack_shallower_and_the_pane_stronger_under_a_light_push(pane):
    assert scratches.scored_depth(pane, 3.0) < scratches.scored_depth(PLAIN, 3.0)
    assert scratches.scored_strength(pane, 3.0) > 2 * scratches.scored_strength(PLAIN, 3.0)


def test_a_scratch_through_the_skin_leaves_less_than_plain_glass_bears():
    deep = drawn("quartz sand", 40.0, BATH)
    assert deep.depth[0] > BATH.profile.case_depth
    assert 0 < deep.strength[1] < scratches.scored_strength(PLAIN, 40.0)


def test_depth_and_strength_have_the_shape_of_the_load():
    loads = np.ones((2, 3))
    assert scratches.scored_depth(BATH, loads).shape == (2, 3)
    assert scratches.scored_strength(BATH, loads).shape == (2, 3)
    with pytest.raises(ValueError, match=r"^load must be finite and positive; got 0 N$"):
        drawn("key", 0.0, PLAIN)


@pytest.mark.parametrize(
    ("thing", "load", "pane", "said"),
    [
        ("fingernail", 10.0, BATH, "A fingernail is far softer than the glass and leaves"),
        ("key", 50.0, PLAIN, "it leaves a grey streak of its own metal, which rubs off."),
        ("pocket knife", 10.0, PLAIN, "it may bite or slide off. If it bites, a push of 10 N"),
        ("quartz sand", 0.1, BATH, "opens no crack beyond the dent."),
        (
            "quartz sand",
            10.0,
            PLAIN,
            "cuts it. A push of 10 N on the point drives a crack, once begun, 70 to 98",
        ),
        ("quartz sand", 10.0, QUENCHED, "cuts it, toughened or not."),
        ("quartz sand", 10.0, QUENCHED, "That is inside the squeezed skin of 1.3 mm."),
        ("quartz sand", 10.0, BATH, "That is about as deep as the squeezed skin of 40 µm."),
        ("quartz sand", 30.0, BATH, "That is past the squeezed skin of 40 µm."),
        ("diamond", 50.0, BATH, "The pane then bears about"),
        ("diamond", 100.0, BATH, "The stretched core tears the crack open: the pane breaks."),
    ],
)
def test_the_sentence_says_what_the_thing_does(thing, load, pane, said):
    assert said in scratch_sentence(drawn(thing, load, pane), "metric")


def test_numbers_give_chips_as_ranges_and_all_three_panes():
    rows = dict(scratch_numbers(drawn("quartz sand", 80.0, BATH), "metric"))
    assert rows["salt bath pane then bears"] == "nothing: it breaks"
    assert " to " in rows["a flake beside it may reach"]
    assert " to " in rows["at an edge it chips when nearer than"]


@pytest.mark.parametrize("load", LOADS)
def test_every_thing_and_pane_works_at_the_ends_of_the_slider(load):
    explorer = scratch_explorer()
    explorer.controls["load"].value = load
    for thing in explorer.controls["thing"].menu.options:
        explorer.controls["thing"].menu.value = thing
        for pane in explorer.controls["pane"].menu.options:
            explorer.controls["pane"].menu.value = pane
            assert explorer.note.value == ""
    assert len(explorer.controls["thing"].menu.options) == len(scratchers())


def test_moving_the_push_changes_picture_sentence_and_numbers():
    explorer = scratch_explorer()
    before = (explorer.image.value, explorer.words.value)
    explorer.controls["load"].value = 30.0
    after = (explorer.image.value, explorer.words.value)
    assert all(new != old for new, old in zip(after, before, strict=True))


def test_a_step_of_the_slider_is_computed_fast_enough():
    drawn("quartz sand", 10.0, BATH)
    start = time.process_time()
    for load in np.geomspace(*LOADS, 20):
        drawn("quartz sand", load, BATH)
    assert (time.process_time() - start) / 20 < 0.03
