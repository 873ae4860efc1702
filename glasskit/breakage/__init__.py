# SPDX-License-Identifier: MIT
"""What a break leaves: crumbs, the energy that makes them, marks on a fragment's face."""

from glasskit.breakage.crumbs import (
    DICING_SPREAD,
    DICING_TENSION,
    MINIMUM_COUNTS,
    SQUARE,
    MinimumCount,
    crumb_count,
    dicing_tension,
    energy_density,
    minimum_counts,
    surface_share,
)
from glasskit.breakage.energy import NOMINAL, Breakage, core_energy
from glasskit.breakage.fragments import (
    FLAW_RATIO,
    MIRROR_CONSTANTS,
    TERMINAL_SPEED,
    WaveSpeeds,
    breaking_stress,
    feature_radius,
    wave_speeds,
)

__all__ = [
    "DICING_SPREAD",
    "DICING_TENSION",
    "FLAW_RATIO",
    "MINIMUM_COUNTS",
    "MIRROR_CONSTANTS",
    "NOMINAL",
    "SQUARE",
    "TERMINAL_SPEED",
    "Breakage",
    "MinimumCount",
    "WaveSpeeds",
    "breaking_stress",
    "core_energy",
    "crumb_count",
    "dicing_tension",
    "energy_density",
    "feature_radius",
    "minimum_counts",
    "surface_share",
    "wave_speeds",
]
