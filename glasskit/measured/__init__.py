# SPDX-License-Identifier: MIT
"""The glass on the table, measured with a telephone: sound, photographs, films."""

from glasskit.measured.media import Frame, Sound, film_frames, read_photo, read_sound

__all__ = ["Frame", "Sound", "film_frames", "read_photo", "read_sound"]
