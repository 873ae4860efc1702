# SPDX-License-Identifier: MIT
"""The glass on the table, measured with a telephone: sound, photographs, films."""

from glasskit.measured.colours import (
    ColourLine,
    EdgeReading,
    LagLine,
    edge_reading,
    lags_along,
    line_colours,
    stress_interval,
)
from glasskit.measured.invented_colours import InventedColours, invented_colours
from glasskit.measured.kept import Reading, keep_reading
from glasskit.measured.media import Frame, Sound, film_frames, read_photo, read_sound

__all__ = [
    "ColourLine",
    "EdgeReading",
    "Frame",
    "InventedColours",
    "LagLine",
    "Reading",
    "Sound",
    "edge_reading",
    "film_frames",
    "invented_colours",
    "keep_reading",
    "lags_along",
    "line_colours",
    "read_photo",
    "read_sound",
    "stress_interval",
]
