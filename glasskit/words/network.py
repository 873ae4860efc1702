# SPDX-License-Identifier: MIT
"""Say what a swap of ions did to a flat glass."""

from glasskit.network import Swap
from glasskit.network.swapping import OUTGOING
from glasskit.plates import plate
from glasskit.quantities import System, show

NAMES = {
    "Li": "lithium",
    "Na": "sodium",
    "K": "potassium",
    "Rb": "rubidium",
    "Cs": "caesium",
}
_REAL = plate("cover glass, salt bath")["skin"]
_NOTHING = 1e-8  # stress that is only rounding [-]


def size(swap: Swap) -> str:
    """Say how the newcomer compares with sodium.

    Examples
    --------
    >>> from glasskit.network import swap_ions
    >>> size(swap_ions("K", 1.0, 2e-9))
    '35% larger'

    """
    if swap.incoming == OUTGOING:
        return "just as large"
    percent = show(abs(swap.misfit), "percent", digits=2)
    return f"{percent} {'larger' if swap.misfit > 0 else 'smaller'}"


def sentence(swap: Swap, system: System = "metric") -> str:
    """Say in a sentence or two what is seen."""
    depth = show(swap.layer, "nanometre", system, digits=2)
    if not swap.count:
        return "No ion is swapped yet: the glass is at rest and nothing is squeezed."
    done = (
        f"{swap.count} of {swap.inside} sodium ions down to {depth} have made room for as "
        f"many {NAMES[swap.incoming]} ions, {size(swap)}"
    )
    if abs(swap.stress) < _NOTHING:
        return f"{done}: nothing moves and nothing is squeezed."
    amount = show(abs(swap.stress), "percent", system, digits=2)
    if swap.stress < 0:
        came = f"the skin is squeezed, by {amount} of a bond's stiffness"
    else:
        came = f"the skin is pulled, by {amount} of a bond's stiffness"
    moved = show(abs(swap.rise), "atom", system, digits=2)
    way = "rises" if swap.rise > 0 else "sinks"
    return f"{done}: {came}, and the surface {way} by {moved}. A flat model, not a prediction."


def numbers(swap: Swap, system: System = "metric") -> list[tuple[str, str]]:
    """Return the numbers beside the picture: label and text."""
    result = swap.result
    return [
        ("ions in this piece of glass, before and after", _both(swap)),
        ("of them swapped", f"{swap.count}"),
        (f"size of {NAMES[swap.incoming]} beside sodium", size(swap)),
        (
            "stress in the swapped layer (squeeze is negative), of a bond's stiffness",
            show(swap.stress if abs(swap.stress) > _NOTHING else 0.0, "percent", system),
        ),
        ("rise of the surface", show(swap.rise, "atom", system, digits=2)),
        (
            "a real swapped layer, for comparison",
            f"{show(_REAL, 'depth', system, digits=2)} deep, "
            f"{show(_REAL / swap.layer, 'number', digits=2)} times as deep",
        ),
        (
            "formers and oxygens in the network",
            f"{result.before.formers} and {result.before.oxygens}",
        ),
    ]


def _both(swap: Swap) -> str:
    return f"{len(swap.result.before.elements)} and {len(swap.result.after.elements)}"


def swap_verdict(swap: Swap, system: System) -> str:
    """Say in six to ten words what the swap did to the skin."""
    if not swap.count:
        return "No ion is swapped: nothing is squeezed"
    if abs(swap.stress) < _NOTHING:
        return "Swapped for its like: nothing is squeezed"
    larger = swap.stress < 0
    if swap.count == 1:
        came = "larger ion squeezes" if larger else "smaller ion stretches"
        return f"One {came} the skin of the glass"
    came = "larger ions squeeze" if larger else "smaller ions stretch"
    return f"{swap.count} {came} the skin of the glass"
