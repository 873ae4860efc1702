# SPDX-License-Identifier: MIT
"""Explorer of release, screen and room, for whoever fills in a risk assessment."""

from glasskit.demonstration import Screening
from glasskit.draw.screening import ScreeningScene
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.plates import striker
from glasskit.words.screening import screening_numbers, screening_sentence


def screening_explorer() -> Explorer[Screening]:
    """Return the explorer of notebook 23: height of release, table, screen and room."""
    return Explorer(
        [
            Slider("drop", "from ball to pane", "height", 0.1, 3.0, 1.3, 0.05),
            Slider("table", "pane above the floor", "height", 0.0, 1.2, 0.75, 0.05),
            Slider(
                "mass",
                "mass of the ball",
                "small_mass",
                0.05,
                2.0,
                striker("steel ball")["mass"],
                log=True,
            ),
            Slider("screen_distance", "screen from the pane", "height", 0.2, 2.0, 0.5, 0.05),
            Slider("screen_top", "top of the screen", "height", 0.5, 3.0, 1.8, 0.05),
            Slider("front_row", "front row from the pane", "height", 1.0, 8.0, 4.0, 0.1),
            Slider("ceiling", "ceiling", "height", 2.0, 6.0, 2.7, 0.1),
        ],
        Screening,
        ScreeningScene(),
        screening_sentence,
        screening_numbers,
        title="Screen and distance",
    )
