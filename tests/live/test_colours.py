# SPDX-License-Identifier: MIT
"""Blue and vermilion mean squeeze and pull, and nothing else, in every picture."""

import copy
from collections import defaultdict

import numpy as np
import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.text import Text
from pictures import at_start

from glasskit.draw.falling import FallScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, still
from glasskit.draw.quenching import KindsScene
from glasskit.impact import Falling
from glasskit.live import gallery
from glasskit.live.quenching import kinds_explorer

METRIC = Look()
RESERVED = {
    shade.lower()
    for sign in ("squeeze", "pull")
    for shade in (
        METRIC.colour(sign),
        METRIC.word_colour(sign),
        METRIC.fill(sign)["facecolor"],
        METRIC.fill(sign)["edgecolor"],
    )
}

SIZE = SCREEN.width, SCREEN.height
ARROWS = "FancyArrowPatch"  # pairs that meet or part
SIGNS = {"squeeze", "pull"}  # names of the two halves of an axis of stress
CURVE = {"Polygon"}  # areas between a curve of stress and zero
SECTION = {"squeezed (compression)", "stretched (tension)", "QuadMesh", ARROWS}
STRESS = {
    "02_a_crack_pressed_shut": SECTION | SIGNS | CURVE,
    "02p_a_crack_pressed_shut": SECTION | SIGNS | CURVE,
    # The ion that is squeezed, or the gap that pulls, and the words about it.
    "03_ions_to_scale": {"Circle", "it is squeezed", "the cage is pulled"},
    "05_swapping_ions": SIGNS | CURVE | {ARROWS},
    "06_salt_bath": CURVE,
    "07_quenched_in_air": CURVE
    | {ARROWS, "squeezed skin", "stretched core", "pull", "Line2D: how the stress"},
    "09_ball_on_a_pane": {ARROWS, "far face pulled", "Line2D: the pane", "Line2D: pull"},
    "10_wood_steel_concrete": {"Rectangle", "squeezed skin"},  # the skin, in the section
    "11_keys_and_sand": {"squeezed skin", "skin ends", "stretched core"},
    "12_under_load_for_years": {ARROWS, "QuadMesh", "squeezed skin"} | CURVE,
    "14_stress_in_colour": SIGNS | CURVE,
    "51_count_the_crumbs": {"Line2D: what that suggests", "Rectangle: what that suggests"},
    "53_read_the_colours": SIGNS | {"FillBetweenPolyCollection", "PolyCollection"},
}
"""What may be blue or vermilion, by page: kinds of artists, and words or their start."""


def shades(artist):
    """Yield the colours of an artist, as "#rrggbb"."""
    for name in ("facecolor", "edgecolor", "color", "markerfacecolor", "markeredgecolor"):
        read = getattr(artist, f"get_{name}", None)
        if read is None or (isinstance(artist, Text) and name != "color"):
            continue
        colours = read()
        several = not isinstance(colours, str) and np.ndim(colours) == 2
        for colour in colours if several else [colours]:
            if not isinstance(colour, str) or colour not in ("none", "auto"):
                yield to_hex(colour)


def stressed(figure):
    """Return what is blue or vermilion: words as they stand, the rest by kind and panel."""
    found = set()
    for artist in figure.findobj():
        if not artist.get_visible() or not RESERVED & set(shades(artist)):
            continue
        if isinstance(artist, Text):
            found.add(artist.get_text())
            continue
        ax = artist.axes
        found.add(f"{type(artist).__name__}: {ax.get_title() or ax.get_ylabel()}")
    return found


def unlisted(found, listed):
    return {
        name
        for name in found
        if not any(name.startswith(one) or name.endswith(f"\n{one}") for one in listed)
    }


def settings(explorer):
    """Yield the start, and the first two controls moved: to the far end, to choices.

    Where there are many choices, such as of a known drop, they come in few kinds.
    """
    start = {name: control.value for name, control in explorer.controls.items()}
    yield start
    for name, control in list(explorer.controls.items())[:2]:
        values = [getattr(control, "high", control.value)]
        choices = list(getattr(control, "choices", {}).values())
        values += choices[:: 1 + len(choices) // 8]
        yield from ({**start, name: value} for value in values)


@pytest.mark.filterwarnings("ignore::glasskit.quantities.OutsideValidityWarning")
@pytest.mark.parametrize("page", {**gallery.EXPLORERS, **gallery.PANELS})
def test_blue_and_vermilion_mean_stress_alone(page):
    explorer = at_start(page)
    results = defaultdict(list)
    for values in settings(explorer):
        try:
            result = explorer.compute(**values)
        except ValueError:  # refused, and said so beside the control
            continue
        results[explorer.scene.frame(result, METRIC)].append(result)
    seen = set()
    for same in results.values():
        scene, figure = copy.copy(explorer.scene), Figure(SIZE, layout="constrained")
        with METRIC.drawing():  # never laid out: only colours are asked
            scene.build(figure, METRIC, same[0])
        for result in same:
            scene.lay(result, METRIC)
            scene.update(result, METRIC)
            seen |= stressed(figure)
    assert unlisted(seen, STRESS.get(page, set())) == set()


def test_pictures_of_other_pages_keep_to_it():
    fall = Falling(mass=0.2, height=1.0, time=0.3)
    assert stressed(still(FallScene(), fall, METRIC, SCREEN)) == set()
    kinds = stressed(still(KindsScene(), kinds_explorer().result, METRIC, SCREEN))
    listed = {"Rectangle", "stretched", "squeezed", "Line2D", ARROWS}
    assert unlisted(kinds, listed) == set()


def test_a_limit_in_vermilion_would_be_found():
    explorer = at_start("01_why_glass_breaks")
    figure = still(explorer.scene, explorer.result, METRIC, SCREEN)
    assert stressed(figure) == set()
    figure.axes[1].axhline(1e8, color=METRIC.colour("pull"))
    assert len(unlisted(stressed(figure), set())) == 1
