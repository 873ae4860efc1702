# SPDX-License-Identifier: MIT
"""Residual stress through the thickness of a pane.

`profiles` makes and holds a profile, `balance` finds the tension of the core from the skin.
Tension is positive, depth counts from the face inwards.
"""

from glasskit.stress.balance import SKINS, CoreTension, Skin, core_tension, shortcut_tension
from glasskit.stress.profiles import (
    PARABOLA_CASE,
    Elastic,
    StressProfile,
    annealed,
    exchanged,
    sampled,
    tempered,
)

__all__ = [
    "PARABOLA_CASE",
    "SKINS",
    "CoreTension",
    "Elastic",
    "Skin",
    "StressProfile",
    "annealed",
    "core_tension",
    "exchanged",
    "sampled",
    "shortcut_tension",
    "tempered",
]
