# SPDX-License-Identifier: MIT
"""Cracks that start at a surface: what pulls them open, and when they run.

The parts live in `glasskit.griffith` (strength from flaw size), `glasskit.intensity` (stress
intensity by superposition), `glasskit.pressed` (faces that touch) and `glasskit.weight` (the
weight function under both); this module gathers the names.

Signs: tension positive; depth from the face inwards; the crack lies square to the face and to
the stress, and is long compared with its depth (`semi_elliptical_intensity` apart).
"""

from glasskit.griffith import (
    EDGE_CRACK,
    Flaw,
    energy_strength,
    griffith_depth,
    griffith_strength,
    theoretical_strength,
)
from glasskit.intensity import Stress, semi_elliptical_intensity, stress_intensity
from glasskit.pressed import (
    LoadedCrack,
    OpenCrack,
    breaking_stress,
    load_crack,
    open_crack,
)

__all__ = [
    "EDGE_CRACK",
    "Flaw",
    "LoadedCrack",
    "OpenCrack",
    "Stress",
    "breaking_stress",
    "energy_strength",
    "griffith_depth",
    "griffith_strength",
    "load_crack",
    "open_crack",
    "semi_elliptical_intensity",
    "stress_intensity",
    "theoretical_strength",
]
