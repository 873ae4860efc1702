# SPDX-License-Identifier: MIT
"""Bars, discs and panes that bend: stress and deflection of thin plates and beams.

Tension is positive; small deflections only.
"""

from glasskit.bending.bars import (
    Section,
    bar_section,
    four_point_deflection,
    four_point_stress,
    rod_section,
    self_weight_stress,
    three_point_deflection,
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
    pane_uniform,
)

__all__ = [
    "LINEAR_LIMIT",
    "Bending",
    "PlateMaterial",
    "Section",
    "bar_section",
    "bent",
    "equivalent_radius",
    "flexural_rigidity",
    "four_point_deflection",
    "four_point_stress",
    "pane_patch",
    "pane_uniform",
    "ring_on_ring",
    "rod_section",
    "self_weight_stress",
    "three_point_deflection",
    "three_point_stress",
]
