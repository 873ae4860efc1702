# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pictures import LARGE, MONO, PLAIN, VIEWS, drawn, faults

from glasskit.draw.ions import SwapScene
from glasskit.draw.picture import SLIDE
from glasskit.live.ions import swap_explorer
from glasskit.materials import ions
from glasskit.words import ions as words
from glasskit.words import tables

SIX_FOLD = st.sampled_from(["Li", "Na", "K", "Rb", "Cs", "Ag"])


# --- words ----------------------------------------------------------------------------------


@given(outgoing=SIX_FOLD, incoming=SIX_FOLD, scale=st.sampled_from(ions.SCALES))
def test_the_sentence_names_both_ions_and_the_right_direction(outgoing, incoming, scale):
    swap = ions.swap(outgoing, incoming, scale=scale)
    said = words.sentence(swap)
    assert words.NAMES[swap.outgoing.ion] in said
    assert words.size(swap.incoming) in said
    assert ("too wide" in said) == (swap.misfit > 5e-3)
    assert ("too narrow" in said) == (swap.misfit < -5e-3)
    assert said.endswith(".")


def test_numbers_say_how_sure_they_are():
    rows = dict(words.numbers(ions.swap("Na", "Rb", scale="pauling")))
    assert rows["radius of sodium, Na⁺"] == "95 pm (from memory)"
    seen = dict(words.numbers(ions.swap("Na", "Rb")))
    assert seen["radius of sodium, Na⁺"] == "102 pm (looked up)"
    between = dict(words.numbers(ions.swap("Na", "K", 6.5)))
    assert between["radius of sodium, Na⁺"] == "107 pm (between two published radii)"
    assert rows["radius of rubidium, Rb⁺"] == "148 pm (from memory)"


def test_the_radius_table_holds_all_three_sets():
    head, _, sodium, potassium = words.radius_table(["Na", "K"]).splitlines()
    assert head.count("pm") == 3
    # Source: Shannon 1976 and Pauling 1960, see test_ions.
    assert sodium.startswith("| sodium Na⁺ | 102 | 116 | 95 |")
    assert potassium.startswith("| potassium K⁺ | 138 | 152 | 133 | ")
    assert "effective, crystal: looked up; pauling: from memory" in potassium
    with pytest.raises(ValueError, match=r"^outgoing must be one of .*; got 'Xx'$"):
        words.radius_table(["Xx"])


def test_the_material_table_lists_every_source_and_marks_the_one_in_use():
    lines = [
        row
        for row in tables.material_table("soda-lime").splitlines()
        if row.startswith("| modulus")
    ]
    assert len(lines) == 4
    assert "70 GPa | 70 to 74 GPa | in use" in lines[0]
    assert "looked up" in lines[0]
    assert sum("a maker says so" in line for line in lines) == 2
    assert sum("in use" in line for line in lines) == 1


@pytest.mark.parametrize("name", ["fused silica", "rubber"])
def test_temperatures_and_small_numbers_are_written_as_printed(name):
    text = tables.material_table(name)
    assert "×" not in text, "no power of ten that a reader must undo"
    if name == "fused silica":
        assert "| strain point | 1070 °C |" in text
        assert "| expansion | 0.55 10⁻⁶/K |" in text


def test_an_unknown_material_lists_the_known_ones():
    with pytest.raises(ValueError, match=r"^name must be one of soda-lime, .*; got 'ice'$"):
        tables.material_table("ice")


# --- picture --------------------------------------------------------------------------------


@pytest.mark.parametrize(("look", "size"), [*VIEWS, (LARGE, SLIDE)])
@pytest.mark.parametrize(
    ("outgoing", "incoming", "coordination", "scale"),
    [
        ("Na", "K", 6, "effective"),
        ("Na", "Li", 4, "effective"),
        ("Cs", "Cs", 12, "crystal"),
        ("Rb", "Cs", 12, "crystal"),
        ("Cs", "Li", 6, "pauling"),
        ("Na", "Ag", 6, "pauling"),
    ],
)
def test_no_text_is_cut_off_or_overlaps(outgoing, incoming, coordination, scale, look, size):
    swap = ions.swap(outgoing, incoming, coordination, scale)
    assert faults(SwapScene(), swap, look, size) == []


def made_room(incoming, look=PLAIN):
    """Return the scene of sodium making room for another ion."""
    return drawn(SwapScene(), ions.swap("Na", incoming), look)


def test_circles_are_drawn_to_one_scale():
    scene = made_room("K")
    # Source: Shannon 1976, see test_ions.
    assert scene.old.get_radius() == scene.place.get_radius() == pytest.approx(102)
    assert scene.rim.get_radius() == pytest.approx(138)
    assert scene.rim.axes.get_aspect() == 1


def test_a_larger_newcomer_is_squeezed_and_a_smaller_leaves_a_gap_in_pull():
    hatches = {ion: made_room(ion, MONO).rim.get_hatch() for ion in ("K", "Cs", "Li")}
    assert hatches["K"] == hatches["Cs"] == MONO.fill("squeeze")["hatch"]
    assert hatches["Li"] == MONO.fill("pull")["hatch"]
    small = made_room("Li", MONO)
    assert small.core.get_visible()
    assert small.core.get_radius() < small.place.get_radius() == small.rim.get_radius()
    large = made_room("K", MONO)
    assert not large.core.get_visible()
    assert large.place.get_radius() < large.rim.get_radius()


def gaps(scene, cage):
    """Return the space between ion and oxygens, and from each oxygen to the next."""
    discs = scene.oxygens[cage]
    radius = discs.get_widths()[0] / 2
    places = discs.get_offsets() - [scene.centres[cage], 0]
    ion = (scene.old if cage == 0 else scene.rim).get_radius()
    between = np.hypot(*(places - np.roll(places, 1, axis=0)).T) - 2 * radius
    return np.hypot(*places.T) - radius - ion, between


@pytest.mark.parametrize(("incoming", "way"), [("K", 1), ("Cs", 1), ("Li", -1)])
def test_oxygens_touch_the_ion_and_a_wider_one_opens_the_cage(incoming, way):
    scene = made_room(incoming)
    closed, open_ = (gaps(scene, cage) for cage in (0, 1))
    assert closed[0] == pytest.approx(np.zeros(6), abs=1e-9)
    assert open_[0] == pytest.approx(np.zeros(6), abs=1e-9)
    assert (closed[1] >= 0).all()
    assert (open_[1] > closed[1] + 1e-9).all() == (way > 0)
    outwards = scene.oxygens[1].get_offsets() - [scene.centres[1], 0]
    along = scene.ways.U[:6] * outwards[:, 0] + scene.ways.V[:6] * outwards[:, 1]
    assert (np.sign(along) == way).all()
    assert np.hypot(scene.ways.U[6:], scene.ways.V[6:]).max() == 0


def test_ten_in_a_row_touch_and_are_as_much_longer_as_one_is_wider():
    scene = made_room("K")
    lengths = []
    for row, radius in zip(scene.rows, (102, 138), strict=True):
        # Source: Shannon 1976, see test_ions.
        across = row.get_offsets()[:, 0]
        assert np.diff(across) == pytest.approx(np.full(9, 2 * radius))
        assert row.get_widths() == pytest.approx(np.full(10, 2 * radius))
        lengths.append(across[-1] - across[0] + 2 * radius)
    assert lengths[1] / lengths[0] == pytest.approx(138 / 102)
    assert scene.longer.get_text() == "35% longer"
    assert "far less" in scene.truth.get_text()
    assert made_room("Na").truth.get_text() == ""


@pytest.mark.parametrize("neighbours", [4, 6.4, 6.6, 12])
def test_the_cage_has_as_many_oxygens_as_the_ion_has_neighbours(neighbours):
    scene = drawn(SwapScene(), ions.swap("Na", "K", neighbours))
    for discs in scene.oxygens:
        assert len(discs.get_offsets()) == round(neighbours)


# --- explorer -------------------------------------------------------------------------------


def test_choosing_another_ion_changes_picture_sentence_and_numbers():
    explorer = swap_explorer()
    before = explorer.image.value
    assert "35% too wide" in explorer.image.value  # its text for screen readers
    explorer.controls["incoming"].menu.value = "lithium Li⁺"
    assert "25% too narrow" in explorer.image.value  # its text for screen readers
    assert explorer.result.incoming.ion == "Li+"
    assert explorer.image.value != before
    explorer.reset()
    assert explorer.image.value == before


def test_a_place_without_a_published_radius_is_said_plainly_and_the_picture_stays():
    explorer = swap_explorer()
    before = explorer.image.value
    explorer.controls["scale"].menu.value = "Pauling (six neighbours only)"
    explorer.controls["coordination"].value = 8
    assert "must be 6; got 8" in explorer.note.value
    assert "still shows the last state" in explorer.note.value
    assert explorer.image.value != before
    explorer.controls["coordination"].value = 6
    assert "must be" not in explorer.note.value


def test_the_slider_passes_between_published_radii():
    explorer = swap_explorer()
    explorer.controls["coordination"].value = 7.5
    assert "7.5 neighbours on average" in explorer.image.value
    assert explorer.result.outgoing.coordination == 7.5


def test_the_other_units_change_what_is_counted():
    metric, us = (dict(words.numbers(ions.swap("Na", "K"), s)) for s in ("metric", "us"))
    # Hand calculation: 1 mm over 2 x 138 pm is 3.62 million, and 25.4 times that 92.0.
    assert metric["newcomers side by side in 1 mm"] == "3.62 million"
    assert us["newcomers side by side in 1 inch"] == "92 million"
