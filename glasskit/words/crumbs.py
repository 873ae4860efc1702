# SPDX-License-Identifier: MIT
"""Say how a toughened pane breaks, and how sure that is."""

from glasskit.breakage import SQUARE, TERMINAL_SPEED, Breakage, core_energy
from glasskit.quantities import System, show, show_number
from glasskit.words.tables import SURE

HONEST = "Crumbs are smaller and blunter than blades, not harmless."

_NET = 60e6  # what pulls at the origin, beyond the squeeze, in the line on mirrors [Pa]


def breakage_sentence(result: Breakage, system: System) -> str:
    """Say what the core pays for and what pieces that gives."""
    if result.way == "none":
        return (
            "Nothing is squeezed and nothing is stretched, so only the blow drives cracks. "
            "The pane breaks into long, sharp blades."
        )
    pull = show(result.profile.centre, "stress", system, 2)
    paid = result.cracks_paid
    often = show_number(paid, 1)
    core = (
        f"The stretched core (stress {pull}) stores enough energy to drive {often} cracks at "
        "once"
    )
    if paid < 1:
        return (
            f"The stretched core (stress {pull}) stores only {often} of the energy that one "
            "crack needs: a crack that is not driven from outside stops. The pane breaks into "
            "a few large, sharp pieces, not into crumbs."
        )
    if not result.crumbles:
        return (
            f"{core}: a crack runs on by itself, but little is left to split it. "
            "Expect large, sharp pieces, not crumbs."
        )
    return f"{core}: every crack splits, again and again. {_pieces(result, system)} {HONEST}"


def about(result: Breakage) -> str:
    """Write how many pieces lie in a square: no finer than anybody knows it."""
    return show_number(result.count, 1)


def count_sentence(result: Breakage, system: System) -> str:
    """Say how many pieces to expect in a square, with their band."""
    side = show(SQUARE, "thickness", system, 2)
    band = _span(*result.count_range)
    return f"Expect about {about(result)} pieces in a square of {side} ({band})."


def _span(low: float, high: float) -> str:
    ends = [show_number(end, 1 if end < 10 else 2) for end in (low, high)]
    return " to ".join(ends)


def _pieces(result: Breakage, system: System) -> str:
    """Say the count with its band, and what is asked for."""
    count = count_sentence(result, system)
    asked = sorted({row.count for row in result.minimum})
    if not asked:
        return count
    if len(asked) == 1:
        return f"{count} The standard asks for at least {asked[0]}."
    span = f"{asked[0]} or {asked[1]}"
    return f"{count} The standard asks for at least {span}: sources on it disagree."


def breakage_numbers(result: Breakage, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    profile = result.profile
    squeeze = max(-profile.surface, 0.0)
    core = core_energy(profile, result.glass)
    rows = [
        ("squeeze (compressive stress) at the surface", show(squeeze, "stress", system)),
        ("pull (tensile stress) in the core", show(profile.centre, "stress", system, 2)),
        (
            "energy stored in the pane, for its area",
            show(result.stored, "area_energy", system, 2),
        ),
        ("the core gives a crack", show(core, "area_energy", system, 2)),
        ("a crack costs, both faces", show(result.crack_energy, "area_energy", system, 2)),
    ]
    if result.crumbles:
        share = show(result.spent, "percent", system, digits=2)
        rows.append(("of the stored energy, the new faces take", share))
    if result.way == "quench":
        for name, (least, _, most) in zip(("energy", "mass"), result.relations, strict=True):
            rows.append((f"pieces by the published relation of {name}", _span(least, most)))
    rows += [
        (f"{row.rule}: at least ({SURE[row.status]})", f"{row.count}")
        for row in result.minimum
    ]
    return rows + _speed_and_mirror(result, squeeze, system)


def _speed_and_mirror(
    result: Breakage, squeeze: float, system: System
) -> list[tuple[str, str]]:
    least, most = (show(end, "length", system, 2) for end in result.mirror(squeeze + _NET))
    outside, net = (show(level, "stress", system, 2) for level in (squeeze + _NET, _NET))
    return [
        ("cracks run at about", show(TERMINAL_SPEED, "speed", system, 2)),
        (
            "and cross the square in",
            show(SQUARE / TERMINAL_SPEED, "microtime", system, 2),
        ),
        (
            f"smooth mirror round the origin, if it broke at {outside} from outside",
            f"{least} to {most}",
        ),
        ("that mirror, read without the squeeze, says only", net),
    ]


def pieces_verdict(result: Breakage) -> str:
    """Say what both panes break into."""
    return f"Ordinary breaks into blades, toughened into about {about(result)} crumbs"


def breakage_verdict(result: Breakage, system: System) -> str:
    """Say in six to ten words into what the pane breaks, and why."""
    if result.way == "none":
        return "No stress inside: it breaks into long blades"
    if result.cracks_paid < 1:
        return "Too little energy inside: it breaks into large pieces"
    if not result.crumbles:
        return "A crack runs on alone, but pieces stay large"
    return f"The core drives {show_number(result.cracks_paid, 1)} cracks at once: crumbs"
