# SPDX-License-Identifier: MIT
"""The glass on the table, measured with a telephone: sound, photographs, films."""

from glasskit.measured.bouncing import SPEEDS, Bounced, Bounces, bounced, bounces, launch_speed
from glasskit.measured.colours import (
    ColourLine,
    ColourStress,
    EdgeLine,
    LagLine,
    edge_line,
    lags_along,
    line_colours,
    stress_interval,
)
from glasskit.measured.counting import VIEW, PieceCount, count_square
from glasskit.measured.falling import (
    FilmedFall,
    Measure,
    Ruler,
    Track,
    fit_fall,
    track_ball,
)
from glasskit.measured.invented_colours import InventedColours, invented_colours
from glasskit.measured.invented_films import FilmOfFall, film_fall
from glasskit.measured.invented_photos import InventedPhoto, invented_photo
from glasskit.measured.invented_sounds import Room, bouncing_sound, ringing_sound, stored
from glasskit.measured.kept import Reading, keep_reading
from glasskit.measured.levelled import FRAME, WINDOW, Levelled, find_square, level
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
from glasskit.measured.outlines import Correction, Doubt, Pieces, corrected, find_pieces
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
from glasskit.measured.sightings import Sightings, find_ball

__all__ = [
    "FRAME",
    "SHAPES",
    "SPEEDS",
    "VIEW",
    "WINDOW",
    "Bounced",
    "Bounces",
    "Clicks",
    "ColourLine",
    "ColourStress",
    "Correction",
    "Doubt",
    "EdgeLine",
    "FilmOfFall",
    "FilmedFall",
    "Frame",
    "InventedColours",
    "InventedPhoto",
    "LagLine",
    "Levelled",
    "Measure",
    "Peak",
    "PieceCount",
    "Pieces",
    "Reading",
    "Ring",
    "Room",
    "Ruler",
    "Rung",
    "Sightings",
    "Sound",
    "Tapped",
    "Track",
    "bar_correction",
    "bar_modulus",
    "bounced",
    "bounces",
    "bouncing_sound",
    "corrected",
    "count_square",
    "crack_drop",
    "edge_line",
    "expected_pitches",
    "film_fall",
    "film_frames",
    "find_ball",
    "find_pieces",
    "find_square",
    "fit_fall",
    "free_disc_factors",
    "free_pane_factors",
    "hear_clicks",
    "hear_ring",
    "invented_colours",
    "invented_photo",
    "keep_reading",
    "lags_along",
    "launch_speed",
    "level",
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
    "track_ball",
    "waveform",
]
