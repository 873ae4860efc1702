# SPDX-License-Identifier: MIT
"""Every picture says on top, in six to ten words, what it shows; no bar on a logarithm."""

import re
from pathlib import Path

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from pictures import LARGE, LOOKS, METRIC, at_start

from glasskit.draw.falling import FallScene
from glasskit.draw.picture import SCREEN, SLIDE, layout_faults, still
from glasskit.draw.quenching import KindsScene
from glasskit.impact import Falling
from glasskit.live import gallery
from glasskit.live.quenching import kinds_explorer
from glasskit.tables import read

ROOT = Path(__file__).parents[2]
PICTURES = {**gallery.EXPLORERS, **gallery.PANELS}


@pytest.fixture(scope="module", params=PICTURES)
def shown(request):
    return at_start(request.param)


def ends(explorer):
    """Yield the values of all controls: at the start, and the first two at their ends."""
    start = {name: control.value for name, control in explorer.controls.items()}
    yield start
    for name, control in list(explorer.controls.items())[:2]:
        others = [getattr(control, end) for end in ("low", "high") if hasattr(control, end)]
        yield from ({**start, name: other} for other in others)


def is_bar(patch, ax):
    """Tell whether it starts at the end of a logarithmic axis and fills no side.

    Such an axis has no zero, so a length says nothing there.
    """
    at, box = patch.get_window_extent(), ax.bbox
    corners = np.unique(patch.get_path().vertices.round(9), axis=0)
    if len(corners) > 4 or not np.isfinite(at.extents).all():
        return False
    if at.width > 0.95 * box.width or at.height > 0.95 * box.height:
        return False  # a zone behind all
    starts = (ax.get_xscale() == "log" and at.x0 <= box.x0 + 1) or (
        ax.get_yscale() == "log" and at.y0 <= box.y0 + 1
    )
    return starts and at.width > 0 and at.height > 0


def bars(figure):
    return [
        patch
        for ax in figure.axes
        for patch in ax.patches
        if patch.get_visible() and is_bar(patch, ax)
    ]


@pytest.mark.filterwarnings("ignore::glasskit.quantities.OutsideValidityWarning")
def test_the_verdict_has_six_to_ten_words_wherever_the_controls_stand(shown):
    seen = set()
    for values in ends(shown):
        try:
            result = shown.compute(**values)
        except ValueError:  # refused, and said so beside the control
            continue
        for system in ("metric", "us"):
            verdict = shown.scene.verdict(result, system)
            assert 6 <= len(verdict.split()) <= 10, (values, verdict)
            seen.add(verdict)
    sliders = [one for one in list(shown.controls.values())[:2] if hasattr(one, "low")]
    if "sheet" in shown.controls:
        sliders.remove(shown.controls["factor"])  # asks how many sticks a next class needs
    assert len(seen) > 1 or not sliders, "it does not follow the controls"


@pytest.mark.parametrize(
    ("look", "size"),  # in large type only one of the two sizes: the slide is the tighter
    [(look, SLIDE if look == LARGE else SCREEN) for look in LOOKS],
    ids=str,
)
def test_the_verdict_stands_above_all_else_and_slides_name_their_source(shown, look, size):
    figure = still(shown.scene, shown.result, look, size)
    assert layout_faults(figure) == []
    assert bars(figure) == []
    if look.system == "us":
        texts = " ; ".join(text.get_text() for text in figure.findobj(Text))
        assert not METRIC.search(texts), texts
    verdict = shown.scene.verdict(shown.result, look.system)
    (top,) = [text for text in figure.texts if text.get_text() == verdict]
    lowest = top.get_window_extent().y0
    assert all(ax.get_tightbbox().y1 <= lowest + 1 for ax in figure.axes)
    foot = [text for text in figure.texts if text.get_text() == shown.scene.source_line]
    assert len(foot) == (size == SLIDE)


def test_such_a_bar_would_be_found():
    ax = Figure().subplots()
    ax.set(yscale="log", ylim=(0.1, 100), xlim=(0, 1))
    ax.axhspan(0.1, 1)  # a zone behind all
    ax.add_patch(Rectangle((0.1, 1), 0.2, 5))  # from one value to another
    assert bars(ax.figure) == []
    ax.add_patch(Rectangle((0.1, 0.1), 0.2, 5))
    assert len(bars(ax.figure)) == 1


def test_sources_stand_in_the_list(shown):
    known = {row["key"] for row in read("references")}
    assert set(shown.scene.sources) <= known
    assert shown.scene.source_line.startswith("Computed with glasskit")


def test_words_for_the_picture_begin_with_its_verdict(shown, request):
    verdict = shown.scene.verdict(shown.result, "metric").rstrip(".")
    assert shown.alt.startswith(verdict)
    stem = request.node.callspec.params["shown"]
    text = (ROOT / "notebooks" / f"{stem}.ipynb").read_text(encoding="utf-8")
    (alt,) = re.findall(rf"!\[([^\]]*)\]\(\.\./assets/{stem}\.png\)", text)
    assert alt.startswith(verdict)


def test_other_pictures_say_theirs_too():
    kinds = kinds_explorer()
    fall = Falling(mass=0.2, height=1.0, time=0.3)
    for scene, result in ((KindsScene(), kinds.result), (FallScene(), fall)):
        for look in LOOKS:
            verdict = scene.verdict(result, look.system)
            assert 6 <= len(verdict.split()) <= 10, verdict
            assert layout_faults(still(scene, result, look, SCREEN)) == []
