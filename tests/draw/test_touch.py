# SPDX-License-Identifier: MIT
"""Outlines to touch: for every topic, bold, black on white, with words at the foot."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from glasskit.classroom import topics
from glasskit.draw.picture import layout_faults
from glasskit.draw.touch import touch_page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("topic", topics())
def test_every_topic_has_two_pictures_in_black_and_white(topic, paper):
    figure = touch_page(topic, paper)
    assert len(figure.axes) == 2
    assert all(ax.lines or ax.patches for ax in figure.axes)
    widths = [line.get_linewidth() for ax in figure.axes for line in ax.lines]
    assert min(widths, default=3.5) >= 72 / 25.4, "a millimetre, or a finger loses it"
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    colours = np.asarray(canvas.buffer_rgba())[..., :3]
    assert (colours.max(-1) == colours.min(-1)).all()
    assert layout_faults(figure) == []


def test_what_is_not_taught_is_refused():
    with pytest.raises(ValueError, match="topic must be one of breaks, shut"):
        touch_page("metals")
    with pytest.raises(ValueError, match="paper must be one of A4, Letter"):
        touch_page("ions", "A3")
