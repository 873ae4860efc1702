# SPDX-License-Identifier: MIT
"""Explorer of glass between crossed polarisers."""

import warnings

import numpy as np

from glasskit.draw.light import PolariserScene
from glasskit.light import DIAGONAL, Sight, View
from glasskit.live.controls import Choice, Slider, give_say
from glasskit.live.explorer import Explorer
from glasskit.materials import glass
from glasskit.quantities import OutsideValidityWarning
from glasskit.words.light import sight_numbers, sight_sentence

_SODA = glass("soda-lime")
_VIEWS: dict[str, View] = {
    "through the edge of a tempered pane": "edge",
    "through the side of a bent bar": "bar",
    "an ideal tempered pane, face-on": "face",
    "an unevenly quenched pane, face-on": "uneven",
}


def _look(view: View, stress: float, path: float, angle: float) -> Sight:
    if view == "bar" and stress > _SODA.values["practical_strength"].low:
        warnings.warn(
            "a bar of plain glass may well have broken by now; the picture imagines it whole",
            OutsideValidityWarning,
            stacklevel=1,
        )
    return Sight(view=view, stress=stress, path=path, angle=angle, glass=_SODA)


def polariser_explorer() -> Explorer[Sight]:
    """Return the explorer of notebook 14: what is looked at, stress, path and angle."""
    view = Choice("view", "you look", _VIEWS, next(iter(_VIEWS)))
    path = Slider("path", "light path in the glass", "length", 2e-3, 30e-3, 5e-3, 5e-4)
    give_say(view, (path,), lambda seen: ("path",) if seen in ("edge", "bar") else ())
    return Explorer(
        [
            view,
            Slider("stress", "stress at the face", "stress", 0.0, 120e6, 90e6, 1e6),
            path,
            Slider("angle", "polariser at", "angle", 0.0, np.pi / 2, DIAGONAL, np.pi / 180),
        ],
        _look,
        PolariserScene(),
        sight_sentence,
        sight_numbers,
        title="Stress in colour",
    )
