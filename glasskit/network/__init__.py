# SPDX-License-Identifier: MIT
"""A flat glass of atoms: swap its ions and read how hard the skin is squeezed.

An illustration, not a prediction; stress is given in parts of the bond stiffness.
"""

from glasskit.network.annealing import BOND, annealed
from glasskit.network.network import (
    IONS,
    LayerStress,
    Network,
    layer_stress,
    make,
    relax,
    swap,
)
from glasskit.network.sheet import Sheet, draw_sheet
from glasskit.network.springs import Pairs
from glasskit.network.swapping import Swap, glass, swap_ions

__all__ = [
    "BOND",
    "IONS",
    "LayerStress",
    "Network",
    "Pairs",
    "Sheet",
    "Swap",
    "annealed",
    "draw_sheet",
    "glass",
    "layer_stress",
    "make",
    "relax",
    "swap",
    "swap_ions",
]
