# SPDX-License-Identifier: MIT
"""Say what a ball does to a pane, and whether ordinary and toughened glass bear it."""

from itertools import product

from glasskit.damage.chips import Range
from glasskit.demonstration import Struck
from glasskit.impact.falls_1876 import Fall, far_face_stress, measured_falls
from glasskit.quantities import System, show, show_number
from glasskit.words.stopping import force_kind, time_kind
from glasskit.words.tables import markdown

_JUMP = 5e-5  # lift of the edges that is worth a word [m]
_EDGE_FELT = 0.9  # reach over half the pane from which the whole pane has sunk


def band(strength: Range, system: System = "metric") -> str:
    """Write a band of strengths with its unit."""
    low, high = (show(end, "stress", system, 2) for end in (strength.low, strength.high))
    return f"{low.split()[0]} to {high}"


def verdict(stress: float, strength: Range) -> str:
    """Say what becomes of a pane of a strength between two ends."""
    if stress < strength.low:
        return "should hold"
    if stress > strength.high:
        return "breaks almost surely"
    return "may hold or break"


def struck_sentence(struck: Struck, system: System = "metric") -> str:
    """Say how far the far face is pulled and what that means for the two panes."""
    mass = show(struck.ball.mass, "small_mass", system)
    height = show(struck.height, "height", system)
    thickness = show(struck.pane.thickness, "thickness", system, 2)
    stress = show(struck.stress, "stress", system, 2)
    time = show(struck.worst, time_kind(struck.worst), system, 2)
    reach = 2 * struck.reach
    if struck.reach < 0.5 * _EDGE_FELT * struck.pane.length:
        seen = f"a patch {show(reach, 'length', system, 2)} across has sunk"
    else:
        seen = "the whole pane has sunk"
    jump = ""
    if struck.lift > _JUMP:
        lift = show(struck.lift, "thickness", system, 2)
        jump = f" Later its edges jump up to {lift} off what they lie on."
    return (
        f"From {height} a ball of {mass} pulls the far face of the {thickness} pane "
        f"with a stress of {stress}. That comes {time} after the touch, when {seen}. An "
        f"ordinary pane breaks somewhere at {band(struck.ordinary, system)}: it "
        f"{verdict(struck.stress, struck.ordinary)}. A "
        f"toughened one, at {band(struck.toughened, system)}: it "
        f"{verdict(struck.stress, struck.toughened)}.{jump}"
    )


def struck_numbers(struck: Struck, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    impact = struck.impact
    force = impact.peak_force.item()
    rows = [
        ("energy of the fall", show(struck.energy, "energy", system)),
        ("speed at the touch", show(impact.speed, "speed", system)),
        ("largest force", show(force, force_kind(force), system, 2)),
        ("largest pulling stress on the far face", show(struck.stress, "stress", system, 2)),
        ("when", show(struck.worst, time_kind(struck.worst), system, 2) + " after the touch"),
        ("mass of the pane", show(struck.pane.mass, "mass", system)),
        ("share of it that has sunk by then", show(struck.moved, "percent", system, 2)),
        ("deepest sinking of the middle", show(impact.deflection, "thickness", system, 2)),
        ("pulling stress at the rim of the contact, struck face", _rim(struck, system)),
        ("of that left, bending taken off", show(struck.ring, "stress", system, 2)),
        ("nine ordinary panes in ten break at", band(struck.ordinary, system)),
        ("nine toughened panes in ten break at", band(struck.toughened, system)),
        ("what glass bears in a blow over a slow test", _times(struck.gain)),
    ]
    if struck.pane.edges == "laid":
        rows.append(("edges jump up to", show(struck.lift, "thickness", system, 2)))
    return rows


def _times(gain: float) -> str:
    return f"{show_number(gain, 2)} times"


def _rim(struck: Struck, system: System) -> str:
    return show(struck.impact.rim_tension, "stress", system, 2)


def falls_table(system: System = "metric") -> str:
    """Write the falls of 1876, each last one held and first one that broke, as a table."""
    rows = []
    for kind, struck in product(("ordinary", "toughened"), (True, False)):
        falls = [
            fall
            for fall in measured_falls()
            if (fall.glass, fall.ball_mass > 0) == (kind, struck)
        ]
        told = [fall for fall in falls if not fall.broke][-1:]
        told += [fall for fall in falls if fall.broke][:1]
        rows += [_told(fall, system) for fall in told]
    return markdown(["plate", "how", "from", "it", "pulling stress on its far face"], rows)


def _told(fall: Fall, system: System) -> list[str]:
    ball = f"struck by {show(fall.ball_mass, 'small_mass', system)} of bronze"
    return [
        fall.glass,
        ball if fall.ball_mass else "fell flat on wood",
        show(fall.height, "height", system, 2),
        "broke" if fall.broke else "held",
        band(far_face_stress(fall), system),
    ]


_BOTH = {
    "should hold": "Both panes should hold this fall of the ball",
    "may hold or break": "Both panes may hold, and both may break",
    "breaks almost surely": "Both panes break almost surely under this fall",
}


def struck_verdict(struck: Struck, system: System) -> str:
    """Say in six to ten words what becomes of an ordinary and a toughened pane."""
    plain, tough = (
        verdict(struck.stress, strength) for strength in (struck.ordinary, struck.toughened)
    )
    if plain == tough:
        return _BOTH[plain]
    plain, tough = (word.replace("may hold or", "may") for word in (plain, tough))
    return f"Ordinary pane {plain}, toughened one {tough}"
