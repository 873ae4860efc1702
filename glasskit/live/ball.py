# SPDX-License-Identifier: MIT
"""Explorer of a ball on a pane: pane, support, ball, height and squeeze."""

from glasskit.demonstration import Struck, strike
from glasskit.draw.ball import StruckScene
from glasskit.impact import ball_of_mass
from glasskit.impact.ringing import Edges, Pane
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import solid
from glasskit.plates import Support, plate, striker, support
from glasskit.words.ball import struck_numbers, struck_sentence

SUPPORTS = {
    name: support(name)
    for name in (
        "rubber strip, 10 mm wide and 5 mm thick",
        "hard edge",
        "soft foam, 20 mm wide and thick",
    )
}

_PANE = plate("thin pane, quenched")

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
        glass=_PANE.glass,
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
            Slider(
                "mass",
                "steel ball",
                "small_mass",
                0.02,
                1.0,
                striker("steel ball")["mass"],
                log=True,
            ),
            Slider("side", "side of the pane", "length", 0.1, 0.4, 0.3, 0.01),
            Slider(
                "thickness", "thickness", "thickness", 3e-3, 12e-3, _PANE["thickness"], 0.5e-3
            ),
            Slider("compression", "squeeze", "stress", 20e6, 200e6, _PANE["squeeze"], 5e6),
            Choice("support", "edges lie on", SUPPORTS, next(iter(SUPPORTS))),
            Choice("edges", "edges are", HELD, next(iter(HELD))),
        ],
        _strike,
        StruckScene(),
        struck_sentence,
        struck_numbers,
        title="A ball on a pane",
    )
