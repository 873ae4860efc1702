# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pictures import LARGE, VIEWS, comes_back, drawn, faults

from glasskit.draw.network import SwapScene
from glasskit.draw.picture import SLIDE
from glasskit.live.network import network_explorer
from glasskit.network import IONS, glass, swap_ions
from glasskit.network.swapping import DEEPEST, OUTGOING
from glasskit.words import network as words

SWAPS = {
    "incoming": st.sampled_from(IONS),
    "fraction": st.floats(0.0, 1.0),
    "layer": st.floats(0.5e-9, DEEPEST),
}


# --- the ready-made swaps -------------------------------------------------------------------


def test_glass_is_made_once():
    assert glass(1) is glass(1)
    assert glass(1) is not glass(2)


@settings(max_examples=20, deadline=None)
@given(**SWAPS)
def test_count_is_the_number_of_newcomers(incoming, fraction, layer):
    swap = swap_ions(incoming, fraction, layer)
    fresh = np.array([element != OUTGOING for element in swap.result.after.elements])
    assert swap.count == fresh.sum() or incoming == OUTGOING
    assert np.array_equal(fresh, swap.result.swapped)
    assert np.abs(swap.result.stress).max() <= 1.5 * swap.most + 1e-12


def test_layer_mean_weighs_layers_by_their_thickness():
    swap = swap_ions("K", 1.0, 1e-9)
    # Hand calculation: the layer reaches through whole layers and part of the last one.
    edges, stress = swap.result.edges, swap.result.stress
    thickness = edges[1]
    assert thickness < 1e-9 < 2 * thickness
    expected = (thickness * stress[0] + (1e-9 - thickness) * stress[1]) / 1e-9
    assert swap.stress == pytest.approx(expected, rel=1e-12)


def test_layer_too_deep_for_the_piece_is_refused():
    with pytest.raises(ValueError, match=r"^layer must lie in 0 <= layer <= 3.5e-09"):
        swap_ions("K", 1.0, 5e-9)


# --- words ----------------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(**SWAPS)
def test_sentence_names_the_newcomer_and_the_right_sign(incoming, fraction, layer):
    swap = swap_ions(incoming, fraction, layer)
    said = words.sentence(swap)
    if not swap.count:
        assert "No ion is swapped" in said
    elif incoming == OUTGOING:
        assert "nothing is squeezed" in said
    else:
        assert words.NAMES[incoming] in said
        assert ("squeezed" in said) == (swap.stress < 0)
        assert ("pulled" in said) == (swap.stress > 0)
        assert "not a prediction" in said


def test_numbers_say_that_the_number_of_ions_stays():
    rows = dict(words.numbers(swap_ions("K", 1.0, 2e-9)))
    before, after = rows["ions in this piece of glass, before and after"].split(" and ")
    assert before == after
    assert rows["size of potassium beside sodium"] == "35% larger"


# --- picture --------------------------------------------------------------------------------


@pytest.mark.parametrize(("look", "size"), [*VIEWS, (LARGE, SLIDE)])
@pytest.mark.parametrize("incoming", ["Li", "K", "Cs"])
def test_nothing_is_cut_off_and_no_words_overlap(look, size, incoming):
    assert faults(SwapScene(), swap_ions(incoming, 0.6, 3e-9), look, size) == []


def sheets(incoming="K", fraction=1.0):
    swap = swap_ions(incoming, fraction, 2.5e-9)
    return drawn(SwapScene(), swap), swap


def test_ions_are_drawn_to_scale_and_newcomers_stand_out():
    scene, swap = sheets(fraction=0.5)
    numbers = scene.sheet.ions
    # In nanometres across, as on the axes: twice the radius.
    widths = scene.sheet.discs.get_widths()
    assert widths == pytest.approx(2e9 * swap.result.after.radii[numbers])
    colours = {
        tuple(c) for c in scene.sheet.discs.get_facecolor()[swap.result.swapped[numbers]]
    }
    assert len(colours) == 1
    assert len({tuple(c) for c in scene.sheet.discs.get_facecolor()}) == 2


def test_triangles_share_their_corners_also_across_the_sides():
    scene, swap = sheets()
    corners = np.concatenate([p.vertices[:3] for p in scene.sheet.triangles.get_paths()])
    width = swap.result.after.width * 1e9
    inside = (corners[:, 0] > 0) & (corners[:, 0] < width) & (corners[:, 1] > 0.5)
    inside &= corners[:, 1] < 4.5
    gap = np.abs(corners[inside][:, None] - corners[None]).sum(axis=-1)
    assert ((gap < 1e-9).sum(axis=1) == 2).all()


def test_arrows_show_the_way_each_former_went():
    scene, swap = sheets()
    moves = swap.result.displacement[scene.sheet.formers] * 1e9 * [1, -1]
    assert np.column_stack([scene.moves.U, scene.moves.V]) == pytest.approx(15 * moves)


def test_picture_changes_with_the_share_swapped_and_stays_for_the_same_result():
    few, many = (swap_ions("K", share, 2e-9) for share in (0.2, 0.9))
    assert comes_back(SwapScene(), few, many)


# --- explorer -------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def explorer():
    return network_explorer()


def test_explorer_starts_squeezed(explorer):
    assert explorer.result.stress < 0
    assert "potassium" in explorer.said


@pytest.mark.parametrize(
    ("name", "ends"), [("fraction", (0.0, 1.0)), ("layer", (0.5e-9, DEEPEST))]
)
def test_sliders_go_to_both_ends(explorer, name, ends):
    for end in ends:
        explorer.controls[name].value = end
        assert getattr(explorer.result, name) == pytest.approx(end)
        assert explorer.said
    explorer.reset()


def test_every_choice_can_be_taken(explorer):
    for name in ("incoming", "seed"):
        menu = explorer.controls[name].menu
        for option in menu.options:
            menu.value = option
            assert explorer.said
    explorer.reset()
