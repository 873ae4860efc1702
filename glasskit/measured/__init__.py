# SPDX-License-Identifier: MIT
"""The glass on the table, measured with a telephone: sound, photographs, films."""

from glasskit.measured.kept import Reading, keep_reading
from glasskit.measured.media import Frame, Sound, film_frames, read_photo, read_sound

__all__ = [
    "Frame",
    "Reading",
    "Sound",
    "film_frames",
    "keep_reading",
    "read_photo",
    "read_sound",
]
