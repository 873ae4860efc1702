# SPDX-License-Identifier: MIT
"""Explorer of a ball on a pane: pane, support, ball, height and squeeze."""

from dataclasses import dataclass

import numpy as np

from glasskit.demonstration import Struck, strike
from glasskit.draw.ball import StruckScene
from glasskit.impact import ball_of_mass
from glasskit.impact.ringing import Edges, Pane
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import glass, solid
from glasskit.words.ball import struck_numbers, struck_sentence

__all__ = ["HELD", "SUPPORTS", "Support", "struck_explorer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """What the four edges lie on.

    Attributes
    ----------
    bedding : float
        Force per sinking and length of edge [N/m^2].
    damping : float
        Damping of every mode over critical [-].

    """

    bedding: float
    damping: float


SUPPORTS = {
    # Modulus times width over thickness of a strip; dampings are judgements.
    "rubber strip, 10 mm wide and 5 mm thick": Support(bedding=1e7, damping=0.05),
    "hard edge": Support(bedding=np.inf, damping=0.01),
    "soft foam, 20 mm wide and thick": Support(bedding=1e5, damping=0.1),
}


HELD: dict[str, Edges] = {
    "held down, free to turn": "pinned",
    "laid on, free to jump": "laid",
    "stuck on all along": "strip",
    "clamped": "clamped",
}


def _strike(
    side: float,
    thickness: float,
    support: Support,
    edges: Edges,
    mass: float,
    height: float,
    compression: float,
) -> Struck:
    pane = Pane(
        length=side,
        width=side,
        thickness=thickness,
        glass=glass("soda-lime"),
        support_stiffness=4 * side * support.bedding,
        damping=support.damping,
        edges=edges,
    )
    return strike(ball_of_mass(mass, solid("steel")), pane, height, compression)


def struck_explorer() -> Explorer[Struck]:
    """Return the explorer of notebook 09: a steel ball falls on the middle of a pane."""
    return Explorer(
        [
            Slider("height", "height of fall", "height", 0.02, 3.0, 0.3, 0.02),
            Slider("mass", "steel ball", "small_mass", 0.02, 1.0, 0.227, log=True),
            Slider("side", "side of the pane", "length", 0.1, 0.4, 0.3, 0.01),
            Slider("thickness", "thickness", "thickness", 3e-3, 12e-3, 4e-3, 0.5e-3),
            Slider("compression", "squeeze", "stress", 20e6, 200e6, 100e6, 5e6),
            Choice("support", "edges lie on", SUPPORTS, next(iter(SUPPORTS))),
            Choice("edges", "edges are", HELD, next(iter(HELD))),
        ],
        _strike,
        StruckScene(),
        struck_sentence,
        struck_numbers,
        title="A ball on a pane",
    )
