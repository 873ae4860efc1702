# SPDX-License-Identifier: MIT
"""The explorer of keys and sand: who scratches whom, and how deep."""

from glasskit.damage import PANES, Score, score, scratchers
from glasskit.draw.scratches import LOADS, ScratchScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.words.scratches import called, scratch_numbers, scratch_sentence

_SHOWN = {
    "plain: window pane, 6 mm": PANES["plain"],
    "quench in air: window pane, 6 mm, 100 MPa": PANES["quenched"],
    "salt bath: cover glass, 0.7 mm, 700 MPa": PANES["salt bath"],
}


def scratch_explorer() -> Explorer[Score]:
    """Return the explorer of notebook 11: thing, push on its point, and pane."""
    things = {called(thing): thing for thing in scratchers()}
    return Explorer(
        [
            Choice("thing", "drawn over it", things, "quartz sand"),
            Slider("load", "push on the point", "force", *LOADS, 10.0, log=True),
            Choice("pane", "pane", _SHOWN, "salt bath: cover glass, 0.7 mm, 700 MPa"),
        ],
        score,
        ScratchScene(),
        scratch_sentence,
        scratch_numbers,
        title="Keys and sand",
    )
