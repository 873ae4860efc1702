# SPDX-License-Identifier: MIT
"""Bars, discs and panes that bend: stress of beams, stress and deflection of thin plates.

Tension is positive; small deflections only.
"""

from glasskit.bending.bars import (
    bar_section,
    four_point_stress,
    rod_section,
    self_weight_stress,
    three_point_stress,
)
from glasskit.bending.discs import ring_on_ring
from glasskit.bending.panes import (
    LINEAR_LIMIT,
    Bending,
    PlateMaterial,
    bent,
    equivalent_radius,
    flexural_rigidity,
    pane_patch,
)

__all__ = [
    "LINEAR_LIMIT",
    "Bending",
    "PlateMaterial",
    "bar_section",
    "bent",
    "equivalent_radius",
    "flexural_rigidity",
    "four_point_stress",
    "pane_patch",
    "ring_on_ring",
    "rod_section",
    "self_weight_stress",
    "three_point_stress",
]
