# SPDX-License-Identifier: MIT
"""Kept lines against the same lines drawn by matplotlib's own canvas, pixel by pixel."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from glasskit.draw.lettering import LetteringCanvas

AT = np.array([40.0, 50.0])  # [px], whole: elsewhere matplotlib places letters between pixels


def pixels(canvas_type, *texts, at=AT):
    figure = Figure((3.0, 1.2), 100)
    canvas = canvas_type(figure)
    figure.patch.set_facecolor("#eeddaa")
    for text, style in texts:
        figure.text(*at / figure.bbox.size, text, **style)
    canvas.draw()
    return np.array(canvas.buffer_rgba()).astype(int)


@pytest.mark.parametrize(
    ("text", "style"),
    [
        ("glass, gjpqy Å", {}),
        ("stands out", {"fontsize": 17, "weight": "bold", "color": "#0072b2"}),
        ("leans out f", {"style": "italic", "ha": "left"}),
        ("$K_{Ic}$ in MPa$\\sqrt{m}$", {}),
        ("pale", {"alpha": 0.4}),
        ("turned", {"rotation": 30, "rotation_mode": "anchor"}),
    ],
)
def test_a_kept_line_is_the_line_that_matplotlib_draws(text, style):
    own = pixels(FigureCanvasAgg, (text, style))
    first, again = (pixels(LetteringCanvas, (text, style)) for _ in range(2))
    assert np.ptp(own) > 0
    # Tolerance: colours are laid over the ground once more, in bytes.
    assert np.abs(first - own).max() <= 2
    assert np.array_equal(first, again)


def test_what_is_kept_of_one_line_is_not_shown_for_another():
    styles = [{}, {"color": "red"}, {"fontsize": 9}, {"alpha": 0.5}, {"weight": "bold"}]
    seen = {pixels(LetteringCanvas, ("same words", style)).tobytes() for style in styles}
    assert len(seen) == len(styles)


def test_a_line_between_pixels_stands_on_the_nearest():
    whole = pixels(LetteringCanvas, ("glass", {}))
    assert np.array_equal(pixels(LetteringCanvas, ("glass", {}), at=AT + 0.3), whole)
    assert not np.array_equal(pixels(LetteringCanvas, ("glass", {}), at=AT + 0.7), whole)


def test_a_figure_of_another_size_gets_another_sheet():
    figure = Figure((3.0, 1.2), 100)
    canvas = LetteringCanvas(figure)
    canvas.draw()
    figure.set_size_inches(2.0, 1.0)
    canvas.draw()
    assert np.asarray(canvas.buffer_rgba()).shape == (100, 200, 4)
