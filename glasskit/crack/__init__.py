# SPDX-License-Identifier: MIT
"""Cracks that start at a surface: what pulls them open, when they run, how slowly they creep.

`griffith` goes from flaw size to strength, `intensity` superposes, `pressed` lets faces
touch and never overlap, `weight` is the weight function under both; `growth`,
`duration` and `clock` count time under load.

Signs: tension positive; depth from the face inwards; the crack lies square to the face and
to the stress, and is long compared with its depth (`semi_elliptical_intensity` apart).
"""

from glasskit.crack.clock import Bearing, Clock, bearing, run_clock
from glasskit.crack.duration import design_factor, duration_factor
from glasskit.crack.griffith import (
    Flaw,
    energy_strength,
    griffith_depth,
    griffith_strength,
    theoretical_strength,
)
from glasskit.crack.growth import (
    ENVIRONMENTS,
    CrackHistory,
    GrowthLaw,
    grow,
    grow_in,
    growth_law,
    quick_strength,
    slow_strength,
    sustained_stress,
    time_to_failure,
)
from glasskit.crack.intensity import Stress, semi_elliptical_intensity, stress_intensity
from glasskit.crack.pressed import (
    LoadedCrack,
    OpenCrack,
    breaking_stress,
    load_crack,
    open_crack,
)
from glasskit.crack.weight import EDGE_CRACK

__all__ = [
    "EDGE_CRACK",
    "ENVIRONMENTS",
    "Bearing",
    "Clock",
    "CrackHistory",
    "Flaw",
    "GrowthLaw",
    "LoadedCrack",
    "OpenCrack",
    "Stress",
    "bearing",
    "breaking_stress",
    "design_factor",
    "duration_factor",
    "energy_strength",
    "griffith_depth",
    "griffith_strength",
    "grow",
    "grow_in",
    "growth_law",
    "load_crack",
    "open_crack",
    "quick_strength",
    "run_clock",
    "semi_elliptical_intensity",
    "slow_strength",
    "stress_intensity",
    "sustained_stress",
    "theoretical_strength",
    "time_to_failure",
]
