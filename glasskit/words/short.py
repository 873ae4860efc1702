# SPDX-License-Identifier: MIT
"""Say what the short pages show: two or three short sentences, two or three numbers."""

from glasskit.breakage import SQUARE, Breakage
from glasskit.crack import Flaw, LoadedCrack, griffith_strength
from glasskit.impact import Stop
from glasskit.quantities import System, show, show_number
from glasskit.words.crack import likeness
from glasskit.words.crumbs import HONEST, about

_PARTS = ((0.02, "stays shut"), (0.6, "opens in part"), (2.0, "stands open"))
"""Open share of a scratch up to which it is said so [-]."""


def scratch_sentence(flaw: Flaw, system: System = "metric") -> str:
    """Say at what stress a scratch breaks window glass."""
    depth = show(flaw.depth, "depth", system, 2)
    strength = show(flaw.strength, "stress", system, 2)
    times = show_number(flaw.bond_strength / flaw.strength, 1)
    return (
        f"A scratch {depth} deep ({likeness(flaw.depth)}) breaks window glass at a stress of "
        f"{strength}. Without any flaw it would bear about {times} times as much."
    )


def scratch_numbers(flaw: Flaw, system: System = "metric") -> list[tuple[str, str]]:
    """List the strength at this depth and at four times the depth."""
    return [
        ("breaks at a stress of", show(flaw.strength, "stress", system, 2)),
        (
            "with a scratch four times as deep, at",
            show(flaw.strength / 2, "stress", system, 2),
        ),
    ]


def _plain(held: LoadedCrack) -> float:
    """Return the stress at which plain glass with the same scratch breaks [Pa]."""
    return griffith_strength(held.depth, held.glass.toughness).item()


def held_sentence(held: LoadedCrack, system: System = "metric") -> str:
    """Say whether a scratch in a squeezed skin runs, and what plain glass would do."""
    tension = show(held.tension, "stress", system, 2)
    if held.runs:
        return (
            f"It breaks: a pulling stress of {tension} uses up the squeeze and what the glass "
            "bears by itself."
        )
    share = held.shape.open_fraction.item()
    how = next(words for end, words in _PARTS if share < end)
    other = "holds as well" if held.tension < _plain(held) else "has long broken"
    return (
        f"It holds: under a pulling stress of {tension} the scratch {how}. Plain glass with "
        f"this scratch {other}."
    )


def held_numbers(held: LoadedCrack, system: System = "metric") -> list[tuple[str, str]]:
    """List squeeze, pull, and what plain glass bears."""
    return [
        ("squeeze at the face (stress)", show(-held.profile.surface, "stress", system, 2)),
        ("pull from outside (stress)", show(held.tension, "stress", system, 2)),
        ("plain glass with this scratch breaks at", show(_plain(held), "stress", system, 2)),
    ]


def soft_stop_sentence(stop: Stop, system: System = "metric") -> str:
    """Say what the fall brings and with what force it is stopped."""
    mass = show(stop.mass, "small_mass", system, 2)
    height = show(stop.height, "height", system, 2)
    energy = show(stop.energy, "energy", system, 2)
    way = show(stop.way, "length", system, 2)
    force = show(stop.mean_force, "force", system, 2)
    return (
        f"A steel ball of {mass} that falls {height} brings {energy}, whatever lies below. "
        f"Stopped over {way} it presses with {force}, {show_number(stop.weights, 2)} times "
        "its weight."
    )


def soft_stop_numbers(stop: Stop, system: System = "metric") -> list[tuple[str, str]]:
    """List energy, distance and force."""
    return [
        ("energy of the fall", show(stop.energy, "energy", system, 2)),
        ("stopping distance", show(stop.way, "length", system, 2)),
        ("force, evenly stopped", show(stop.mean_force, "force", system, 2)),
    ]


def crumb_sentence(broken: Breakage, system: System = "metric") -> str:
    """Say into what a pane breaks, and that crumbs cut."""
    tension = show(broken.profile.centre, "stress", system, 2)
    core = f"The core feels a pulling stress of {tension}."
    if not broken.crumbles:
        return (
            f"{core} That stores too little energy to split a crack: the pane breaks into "
            "large, sharp blades."
        )
    side = show(SQUARE, "thickness", system, 2)
    return (
        f"{core} That splits cracks again and again: about {about(broken)} "
        f"crumbs in a square of {side}. {HONEST}"
    )


def crumb_numbers(broken: Breakage, system: System = "metric") -> list[tuple[str, str]]:
    """List the stresses, and the energy that the core has for cracks."""
    face = show(-broken.profile.surface, "stress", system, 2)
    return [
        ("squeeze at the face (stress)", face),
        ("pull in the core (stress)", show(broken.profile.centre, "stress", system, 2)),
        ("cracks the core can drive at once", show_number(broken.cracks_paid, 1)),
    ]
