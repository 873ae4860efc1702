# SPDX-License-Identifier: MIT
"""Say in plain words what a crack does, and what a flaw costs."""

from glasskit.crack import Flaw, LoadedCrack, griffith_strength
from glasskit.quantities import GRAVITY, System, in_units, show, show_number

_STRIP = 20e-3 * 3e-3  # section of the strip that carries a weight in the numbers [m^2]

# Sizes to compare with; a hair is 50 to 100 µm wide: common practice, no source.
_LIKENESSES = (
    (3e-9, "a few atoms"),
    (40e-9, "some tens of atoms"),
    (150e-9, "a thousandth of a hair's width"),
    (0.7e-6, "less than a bacterium"),
    (3e-6, "a bacterium"),
    (12e-6, "a red blood cell"),
    (27e-6, "a quarter of a hair"),
    (50e-6, "half the width of a hair"),
    (120e-6, "the width of a hair"),
    (400e-6, "a grain of salt"),
    (3e-3, "a pinhead"),
)


def likeness(size: float) -> str:
    """Name a familiar thing of about this size [m]."""
    return next((name for end, name in _LIKENESSES if size < end), "plain to see")


def flaw_sentence(result: Flaw, system: System) -> str:
    """Say at what pull a flaw breaks the glass, beside what its bonds would bear."""
    depth, strength = (
        show(result.depth, "depth", system, 2),
        show(result.strength, "stress", system, 2),
    )
    share = result.strength / result.bond_strength
    part = f"one part in {show_number(1 / share, 2)}" if share < 0.5 else "most"
    return (
        f"A flaw {depth} deep ({likeness(result.depth)}) breaks {result.glass.name} glass "
        f"at a stress of {strength}. That is {part} of what its bonds alone would bear."
    )


def flaw_numbers(result: Flaw, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    weight = result.strength * _STRIP / GRAVITY
    return [
        ("breaks at", show(result.strength, "stress", system, 2)),
        ("bonds alone would bear about", show(result.bond_strength, "stress", system, 2)),
        ("toughness K of the glass", show(result.glass.toughness, "toughness", system, 2)),
        ("shape factor Y of the flaw", f"{result.geometry_factor:.3g}"),
        (
            in_units("a strip 20 mm by 3 mm would carry", system),
            show(weight, "mass", system, 2),
        ),
        (
            "a flaw four times as deep breaks at",
            show(result.strength / 2, "stress", system, 2),
        ),
    ]


def crack_sentence(result: LoadedCrack, system: System) -> str:
    """Say whether the crack runs, how much of it is open, and what plain adding would say."""
    depth = show(result.depth, "depth", system, 2)
    pull = show(result.intensity, "toughness", system, 2)
    limit = show(result.glass.toughness, "toughness", system, 2)
    return f"{_state(result, depth, system)} {_verdict(result, pull, limit)} {_adding(result)}"


def _state(result: LoadedCrack, depth: str, system: System) -> str:
    share = result.shape.open_fraction.item()
    if result.intensity == 0 and not result.shape.contact_pressure.any():
        return f"Nothing pulls on the crack of {depth} and nothing presses it."
    if result.intensity == 0:
        return f"The whole crack of {depth} is pressed shut."
    if share > 0.99:
        return f"The crack of {depth} stands open from mouth to tip."
    edge = show(result.contact_depth, "depth", system, digits=2)
    return (
        f"The faces of the crack press on each other down to {edge}; "
        f"below, to its tip at {depth}, it stands open."
    )


def _verdict(result: LoadedCrack, pull: str, limit: str) -> str:
    if result.intensity == 0:
        return f"Its tip feels no pull, so it stays; it would run at {limit}."
    if result.runs:
        return f"Its tip feels {pull}, more than the {limit} it can bear: it runs."
    share = 100 * result.intensity / result.glass.toughness
    return f"Its tip feels {pull}, {share:.0f}% of the {limit} at which it runs: it stays."


def _adding(result: LoadedCrack) -> str:
    """Say what adding stresses gets wrong, where it does."""
    adding, true = result.overlapping_intensity, result.intensity
    limit = result.glass.toughness
    if true - adding < 0.02 * limit or true == 0:
        return "Adding the stresses says the same." if true else ""
    if adding <= 0:
        return "Just adding the stresses would call it shut."
    return "Just adding the stresses would say less."


def crack_numbers(result: LoadedCrack, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    profile = result.profile
    pressure = result.shape.contact_pressure.max()
    plain = griffith_strength(result.depth, result.glass.toughness).item()
    return [
        (
            "squeeze (compressive stress) at the surface",
            show(max(-profile.surface, 0.0), "stress", system),
        ),
        ("depth of the squeezed skin", show(profile.case_depth, "depth", system)),
        ("pull (tensile stress) in the core", show(profile.centre, "stress", system, 2)),
        ("thickness of the glass", show(profile.thickness, "thickness", system)),
        ("pull on the tip, K, faces touch", show(result.intensity, "toughness", system, 2)),
        (
            "K by just adding the stresses",
            show(result.overlapping_intensity, "toughness", system, 2),
        ),
        ("K at which it runs", show(result.glass.toughness, "toughness", system, 2)),
        ("widest opening", show(result.shape.opening.max(), "nanometre", system, 2)),
        ("highest pressure of the faces", show(pressure, "stress", system, 2)),
        ("plain glass with this crack breaks at", show(plain, "stress", system, 2)),
    ]


def crack_caption(result: LoadedCrack, system: System) -> str:
    """Say to an audience what the picture of a crack shows: no stress intensity."""
    depth = show(result.depth, "depth", system, 2)
    pull = show(result.tension, "stress", system, 2)
    squeeze = max(-result.profile.surface, 0.0)
    skin = f" in a skin squeezed by a stress of {show(squeeze, 'stress', system, 2)}"
    return (
        f"{crack_verdict(result, system)}. The scratch is {depth} deep"
        f"{skin if squeeze else ''}; from outside it is pulled by a stress of {pull}."
    )


def flaw_verdict(result: Flaw, system: System) -> str:
    """Say in six to ten words what a flaw leaves of the strength."""
    share = result.strength / result.bond_strength
    if share >= 0.5:
        return "A flaw this small leaves most of the strength"
    return f"Breaks at one part in {show_number(1 / share, 2)} of its bonds' strength"


def crack_verdict(result: LoadedCrack, system: System) -> str:
    """Say in six to ten words whether the crack is shut, and whether it runs."""
    pressed = result.shape.contact_pressure.any()
    if result.intensity == 0:
        if pressed:
            return "Pressed shut from mouth to tip: it holds"
        return "Nothing pulls, nothing presses: the crack stays"
    if result.shape.open_fraction.item() > 0.99:
        end = "the crack runs" if result.runs else "it holds"
        return f"Open from mouth to tip: {end}"
    return f"Mouth shut, tip open: {'yet the crack runs' if result.runs else 'it holds'}"
