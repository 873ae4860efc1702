# SPDX-License-Identifier: MIT
"""No bar stands on a logarithmic axis: it has no zero, so a length says nothing there."""

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, still
from glasskit.live import gallery


def is_bar(patch, ax):
    """Tell whether it starts at the end of a logarithmic axis and fills no side."""
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


@pytest.mark.parametrize("page", {**gallery.EXPLORERS, **gallery.PANELS})
def test_no_bar_stands_on_a_logarithmic_axis(page, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # without a log or readings
    explorer = gallery.explorer(page)
    assert bars(still(explorer.scene, explorer.result, Look(), SCREEN)) == []


def test_such_a_bar_would_be_found():
    ax = Figure().subplots()
    ax.set(yscale="log", ylim=(0.1, 100), xlim=(0, 1))
    ax.axhspan(0.1, 1)  # a zone behind all
    ax.add_patch(Rectangle((0.1, 1), 0.2, 5))  # from one value to another
    assert bars(ax.figure) == []
    ax.add_patch(Rectangle((0.1, 0.1), 0.2, 5))
    assert len(bars(ax.figure)) == 1
