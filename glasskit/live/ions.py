# SPDX-License-Identifier: MIT
"""Swap one ion for another and see how it fits."""

from glasskit import ions
from glasskit.draw.ions import SwapScene
from glasskit.live.controls import Choice
from glasskit.live.explorer import Explorer
from glasskit.words.ions import NAMES, numbers, sentence, symbol

__all__ = ["swap_explorer"]

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
        Choices of both ions, the number of neighbours and the set of radii.

    """
    singly = {_named(ion): ion for ion in _ALKALI}
    neighbours = {str(number): number for number in (4, 6, 7, 8, 9, 12)}
    return Explorer(
        [
            Choice("outgoing", "leaves the glass", singly, _named("Na+")),
            Choice("incoming", "comes in", singly, _named("K+")),
            Choice("coordination", "nearest neighbours", neighbours, "6"),
            Choice("scale", "set of radii", _SCALES, "Shannon, effective"),
        ],
        ions.swap,
        SwapScene(),
        sentence,
        numbers,
        title="Swap an ion and see how it fits",
    )
