# SPDX-License-Identifier: MIT
"""Say in plain words who scratches whom, and what a scratch leaves."""

import numpy as np

from glasskit.damage import PANES, Range, Score, Scratcher, scored_strength
from glasskit.quantities import System, show, show_number, to_display, unit

_CALLED = {
    "fingernail": "a fingernail",
    "copper coin": "a copper coin",
    "key": "a brass key",
    "pocket knife": "a pocket knife",
    "hardened steel file": "a hardened file",
    "diamond": "a diamond",
}


def called(thing: Scratcher) -> str:
    """Name a thing as in a sentence, such as "a brass key" or "quartz sand"."""
    return _CALLED.get(thing.name, thing.name)


def depth_range(result: Score, system: System) -> str:
    """Say how deep the crack may go, such as "27 to 39 µm"."""
    low, _, high = result.depth
    if not np.isfinite(low):
        return "right through"
    if not np.isfinite(high):
        return f"{show(low, 'depth', system, 2)} or more"
    return _span(Range(low=np.asarray(low), high=np.asarray(high)), system)


def skin_words(depth: float, system: System) -> str:
    """Write the depth of a skin, thin or thick."""
    return show(depth, "depth" if depth < 0.5e-3 else "thickness", system, 2)


def verdict_words(result: Score, system: System) -> str:
    """Say the outcome in a few words."""
    if not result.bites:
        return "no scratch:\nas strong as before"
    if result.breaks:
        return "the pane breaks"
    return f"still bears\n{show(result.strength[1], 'stress', system, 2)}"


def scratch_sentence(result: Score, system: System) -> str:
    """Say whether the thing bites, how deep against the skin, and what the pane then bears."""
    return " ".join(
        filter(None, (_bite(result), _depth(result, system), _rest(result, system)))
    )


def _bite(result: Score) -> str:
    name = called(result.thing)
    start = name[:1].upper() + name[1:]
    toughened = "" if result.pane is PANES["plain"] else ", toughened or not"
    return {
        "cuts": f"{start} is harder than the glass and cuts it{toughened}.",
        "may cut": f"{start} is about as hard as the glass: it may bite or slide off.",
        "leaves metal": f"{start} is softer than the glass: it leaves a grey streak of its "
        "own metal, which rubs off. One grain of sand beneath it would cut.",
        "leaves nothing": f"{start} is far softer than the glass and leaves nothing.",
    }[result.verdict]


def _depth(result: Score, system: System) -> str:
    if not result.bites:
        return ""
    push = show(result.load, "force", system, 2)
    start = "If it bites, a push of" if result.verdict == "may cut" else "A push of"
    if not result.cracks:
        return f"{start} {push} dents the glass but opens no crack beyond the dent."
    if not np.isfinite(result.depth[0]):
        return f"{start} {push} on the point cracks it right through."
    end = ""
    skin = result.pane.profile.case_depth
    if skin:
        thick = skin_words(skin, system)
        end = f". {_against(result, skin)} the squeezed skin of {thick}"
    deep = depth_range(result, system)
    return f"{start} {push} on the point drives a crack, once begun, {deep} deep{end}."


def _against(result: Score, skin: float) -> str:
    if result.depth[2] <= skin:
        return "That is inside"
    return "That is past" if result.depth[0] > skin else "That is about as deep as"


def _rest(result: Score, system: System) -> str:
    if not result.bites:
        return ""
    if result.breaks:
        return "The stretched core tears the crack open: the pane breaks."
    bears = show(result.strength[1], "stress", system, 2)
    if result.pane is PANES["plain"]:
        return f"The pane then bears about {bears}."
    plain = scored_strength(PANES["plain"], result.load).item()
    maybe = "The pane may break at once; if not, it" if result.strength[2] <= 0 else "The pane"
    return (
        f"{maybe} then bears about {bears}; plain glass with such a scratch would bear "
        f"{show(plain, 'stress', system, 2)}."
    )


def scratch_numbers(result: Score, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    thing, pane = result.thing, result.pane
    rows = [
        (f"hardness of {called(thing)}", _hardness(thing, system)),
        ("hardness of the glass", show(pane.hardness, "stiffness", system)),
        ("rank on Mohs's scale, thing and glass", f"{thing.mohs:g} and {pane.glass.mohs:g}"),
    ]
    if not result.bites:
        return rows
    flake, chip = result.flake, result.chip
    rows += [
        ("half the dent", show(result.dent, "depth", system, 2)),
        ("depth of the crack", depth_range(result, system)),
        ("a flake beside it may reach", _span(flake, system)),
        ("at an edge it chips when nearer than", _span(chip, system)),
    ]
    rows += [
        (f"{name} pane then bears", _bears(scored_strength(other, result.load).item(), system))
        for name, other in PANES.items()
    ]
    return rows


def _bears(strength: float, system: System) -> str:
    return show(strength, "stress", system, 2) if strength > 0 else "nothing: it breaks"


def _hardness(thing: Scratcher, system: System) -> str:
    low, high = to_display([thing.hardness_low, thing.hardness_high], "stiffness", system)
    symbol = unit("stiffness", system).symbol
    return f"{low:.3g} {symbol}" if low == high else f"{low:.3g} to {high:.3g} {symbol}"


def _span(span: Range, system: System) -> str:
    low, high = (
        show_number(to_display(end, "depth", system).item(), 2)
        for end in (span.low, span.high)
    )
    return f"{low} to {high} {unit('depth', system).symbol}"


def scratch_verdict(result: Score, system: System) -> str:
    """Say in six to ten words what the scratch leaves of the strength."""
    if not result.bites:
        return "No scratch: the pane is as strong as before"
    if result.breaks:
        return "The scratch goes too deep: the pane breaks"
    left = show(result.strength[1], "stress", system, 2)
    start = "If it bites," if result.verdict == "may cut" else "Scratched,"
    return f"{start} the pane bears {left} of stress"
