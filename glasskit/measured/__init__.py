# SPDX-License-Identifier: MIT
"""The glass on the table, measured with a telephone: sound, photographs, films."""

from glasskit.measured.bouncing import Bounced, Bounces, bounced, bounces, launch_speed
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
from glasskit.measured.invented_sounds import Room, bouncing_sound, ringing_sound, stored
from glasskit.measured.kept import Reading, keep_reading
from glasskit.measured.listening import (
    Clicks,
    Peak,
    Ring,
    hear_clicks,
    hear_ring,
    loud_time,
    waveform,
)
from glasskit.measured.media import Frame, Sound, film_frames, read_photo, read_sound
from glasskit.measured.ringing import (
    SHAPES,
    Rung,
    Tapped,
    bar_correction,
    bar_modulus,
    crack_drop,
    expected_pitches,
    free_disc_factors,
    free_pane_factors,
    likely_peaks,
    rod_modulus,
    rung,
)

__all__ = [
    "SHAPES",
    "Bounced",
    "Bounces",
    "Clicks",
    "ColourLine",
    "EdgeReading",
    "Frame",
    "InventedColours",
    "LagLine",
    "Peak",
    "Reading",
    "Ring",
    "Room",
    "Rung",
    "Sound",
    "Tapped",
    "bar_correction",
    "bar_modulus",
    "bounced",
    "bounces",
    "bouncing_sound",
    "crack_drop",
    "edge_reading",
    "expected_pitches",
    "film_frames",
    "free_disc_factors",
    "free_pane_factors",
    "hear_clicks",
    "hear_ring",
    "invented_colours",
    "keep_reading",
    "lags_along",
    "launch_speed",
    "likely_peaks",
    "line_colours",
    "loud_time",
    "read_photo",
    "read_sound",
    "ringing_sound",
    "rod_modulus",
    "rung",
    "stored",
    "stress_interval",
    "waveform",
]
