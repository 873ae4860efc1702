# SPDX-License-Identifier: MIT
"""Swap one ion for another and see how it fits."""

from glasskit.draw.ions import SwapScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import ions
from glasskit.words.ions import NAMES, numbers, sentence, symbol

_ALKALI = ("Li+", "Na+", "K+", "Rb+", "Cs+", "Ag+")
_SCALES = {
    "Shannon, effective": "effective",
    "Shannon, crystal": "crystal",
    "Pauling (six neighbours only)": "pauling",
}


def _named(ion: str) -> str:
    return f"{NAMES[ion]} {symbol(ion)}"


def swap_explorer() -> Explorer[ions.Swap]:
    """Return an explorer of swaps between ions of one charge.

    Returns
    -------
    Explorer
        Choices of both ions and the set of radii, a slider for the number of neighbours.

    """
    singly = {_named(ion): ion for ion in _ALKALI}
    return Explorer(
        [
            Choice("outgoing", "leaves the glass", singly, _named("Na+")),
            Choice("incoming", "comes in", singly, _named("K+")),
            Choice("scale", "set of radii", _SCALES, "Shannon, effective"),
            Slider("coordination", "nearest neighbours", "number", 4, 12, 6, step=0.1),
        ],
        ions.swap,
        SwapScene(),
        sentence,
        numbers,
        title="Swap an ion and see how it fits",
    )
