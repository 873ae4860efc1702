# SPDX-License-Identifier: MIT
import re

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure

from glasskit.draw import look as looks
from glasskit.draw.look import Look, StressArrows
from glasskit.live.style import STYLE

SIGNS = ["squeeze", "pull"]


def luminance(colour):
    """Relative luminance; WCAG 2.2, definition (memory)."""
    channels = np.array(to_rgb(colour))
    linear = np.where(
        channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4
    )
    return linear @ [0.2126, 0.7152, 0.0722]


def contrast(one, other):
    light, dark = sorted([luminance(one), luminance(other)], reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_the_published_21(outside):
    outside(
        "contrast of black on white",
        contrast("black", "white"),
        21.0,
        rel=1e-9,
        source="WCAG 2.2, contrast ratio: from 1 to 21",
        status="memory",
    )


@pytest.mark.parametrize("mono", [False, True])
@pytest.mark.parametrize("sign", SIGNS)
def test_words_read_well_on_paper_and_on_their_fill(sign, mono):
    look = Look(mono=mono)
    # Limit: 4.5 for text and 3 for shapes, WCAG 2.2 level AA (memory).
    assert contrast(look.word_colour(sign), looks.WHITE) >= 4.5
    assert contrast(look.word_colour(sign), look.fill(sign)["facecolor"]) >= 4.5
    assert contrast(look.colour(sign), looks.WHITE) >= 3
    assert contrast(looks.GREY, looks.WHITE) >= 4.5


@pytest.mark.parametrize("name", ["SQUEEZE", "PULL", "GREEN", "GREY", "INK"])
def test_lines_and_shapes_are_seen_on_white(name):
    assert contrast(getattr(looks, name), looks.WHITE) >= 3  # WCAG 2.2, 1.4.11 (memory)


@pytest.mark.parametrize("name", ["PALE", "GLASS", "ORANGE", "YELLOW", "PURPLE"])
def test_ink_reads_on_every_fill(name):
    assert contrast(looks.INK, getattr(looks, name)) >= 4.5  # WCAG 2.2, 1.4.3 (memory)


# Ink, ground and button of JupyterLab's own themes, as read in their style sheets.
THEMES = {
    "bright": ("#000000", "#ffffff", "#eeeeee"),
    "dark": ("#ffffff", "#111111", "#424242"),
}


@pytest.mark.parametrize("theme", THEMES)
def test_words_buttons_handles_and_focus_are_seen_in_both_themes(theme):
    ink, ground, button = THEMES[theme]
    # Words are ink on page and button; handles and the outline of the focus are ink as well.
    assert contrast(ink, ground) >= 4.5
    assert contrast(ink, button) >= 4.5


def test_the_style_sheet_leaves_ink_and_ground_to_the_theme():
    bare = re.sub(r"var\([^()]*\)", "", STYLE)
    # What is left: the ground of a picture, its frame, the word that lies on it, and bars.
    rules = [rule.strip() for rule in bare.split("}") if "#" in rule]
    assert {rule.partition(" {")[0]: re.findall(r"#\w+", rule) for rule in rules} == {
        ".glasskit .glasskit-picture img": ["#fff", "#595959"],
        ".glasskit .glasskit-old::after": ["#1a1a1a", "#fff"],
        ".glasskit .glasskit-invitation img": ["#fff"],
        ".glasskit .glasskit-grown": ["#777"],
    }
    assert contrast("#595959", "#fff") >= 3
    assert contrast("#1a1a1a", "#fff") >= 4.5
    for _, ground, _ in THEMES.values():
        assert contrast("#777", ground) >= 3
    assert contrast("#fff", THEMES["dark"][1]) >= 3


def test_in_black_and_white_the_hatch_tells_squeeze_from_pull():
    look = Look(mono=True)
    assert look.fill("squeeze")["hatch"] != look.fill("pull")["hatch"]
    for sign in SIGNS:
        red, green, blue = to_rgb(look.colour(sign))
        assert red == green == blue


def test_zero_stress_is_white_and_the_ends_differ():
    for look in (Look(), Look(mono=True)):
        assert look.stress_map(0.5)[:3] == pytest.approx((1, 1, 1), abs=0.02)
        assert look.stress_map(0.0) != look.stress_map(1.0)


def test_large_type_is_1_6_times_as_large_and_settings_are_put_back():
    before = mpl.rcParams["font.size"]
    with Look().drawing():
        size = mpl.rcParams["xtick.labelsize"]
    with Look(large=True).drawing():
        large = mpl.rcParams["xtick.labelsize"]
    assert size >= 12
    assert large == pytest.approx(1.6 * size)
    assert mpl.rcParams["font.size"] == before


def test_labels_and_numbers_follow_the_units():
    us = Look(system="us")
    assert us.label("pull", "stress") == "pull / ksi"
    assert us.label("ratio", "number") == "ratio"
    assert us.show(0.3048, "height") == "12 in"
    assert us.shown([25.4e-6], "depth") == pytest.approx([1.0])


def drawn(fraction):
    ax = Figure().subplots()
    arrows = StressArrows(ax, Look(), left=0.0, right=10.0, y=1.0, reach=2.0)
    arrows.set(fraction)
    return arrows


def direction(arrow):
    tail, head = arrow._posA_posB
    return head[0] - tail[0]


def test_squeeze_arrows_meet_and_pull_arrows_part():
    meet, part = drawn(-0.5).artists, drawn(0.5).artists
    assert [direction(arrow) for arrow in meet] == [1.0, -1.0]
    assert [direction(arrow) for arrow in part] == [-1.0, 1.0]
    assert meet[0].get_edgecolor() != part[0].get_edgecolor()


def test_arrows_stop_at_full_length_and_vanish_at_zero():
    assert direction(drawn(-7.0).artists[0]) == 2.0
    assert not any(arrow.get_visible() for arrow in drawn(0.0).artists)
