# SPDX-License-Identifier: MIT
"""A canvas for live pictures that keeps the words it has drawn.

Half of the time of a live picture went into letters, and nearly all of its words say the same
from one picture to the next. Each line of text is drawn once and then copied to where it
stands, on whole pixels.
"""

import math
from functools import lru_cache
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.font_manager import FontProperties
from numpy.typing import NDArray

_LINES = 200  # kept, of some 100 kB; a page has forty, a slider makes more with each step
_RIM = 2  # [px] around a line, for letters that lean out of their box


class LetteringCanvas(FigureCanvasAgg):
    """An Agg canvas on which level lines of text are drawn once and then copied."""

    _key: tuple[float, float, float] | None = None

    def get_renderer(self) -> RendererAgg:
        """Return the renderer of this canvas."""
        width, height = self.figure.bbox.size
        key = width, height, self.figure.dpi
        if key != self._key:
            self._key, self._kept = key, _Renderer(width, height, self.figure.dpi)
        return self._kept


class _Renderer(RendererAgg):
    draw_image: Any  # matplotlib's class takes it from its compiled part

    def draw_text(
        self,
        gc: Any,
        x: float,
        y: float,
        s: str,
        prop: FontProperties,
        angle: float,
        ismath: Any = False,
        mtext: Any = None,
    ) -> None:
        """Draw a line of text, copied if it lies level."""
        if angle or ismath == "TeX":
            RendererAgg.draw_text(self, gc, x, y, s, prop, angle, ismath, mtext)
            return
        letters, drop = _drawn(s, prop.copy(), bool(ismath), gc.get_rgb(), self.dpi)
        left, top = round(x) - _RIM, round(y) - drop
        self.draw_image(gc, left, round(self.height) - top - len(letters), letters[::-1])


@lru_cache(_LINES)
def _drawn(
    s: str, prop: FontProperties, ismath: bool, colour: Any, dpi: float
) -> tuple[NDArray[np.uint8], int]:
    """Return the pixels of a line, and how far down its baseline is."""
    measure = RendererAgg(1, 1, dpi)
    width, height, descent = measure.get_text_width_height_descent(s, prop, ismath)
    drop = math.ceil(height - descent) + _RIM
    rows = drop + math.ceil(descent) + _RIM
    sheet = RendererAgg(math.ceil(width) + 2 * _RIM, rows, dpi)
    gc = sheet.new_gc()
    gc.set_foreground(colour, isRGBA=True)
    sheet.draw_text(gc, _RIM, drop, s, prop, 0.0, ismath)
    return np.array(sheet.buffer_rgba()), drop
