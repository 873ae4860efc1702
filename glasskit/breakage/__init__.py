# SPDX-License-Identifier: MIT
"""What a break leaves: crumbs, the energy that makes them, marks on a fragment's face."""

from glasskit.breakage.crumbs import (
    DICING_SPREAD,
    DICING_TENSION,
    MINIMUM_COUNTS,
    NOMINAL,
    SQUARE,
    Breakage,
    MinimumCount,
    core_energy,
    counted_tension,
    crumb_count,
    dicing_tension,
    energy_density,
    minimum_counts,
    surface_share,
)
from glasskit.breakage.fragments import (
    MIRROR_CONSTANTS,
    TERMINAL_SPEED,
    breaking_stress,
    feature_radius,
)

__all__ = [
    "DICING_SPREAD",
    "DICING_TENSION",
    "MINIMUM_COUNTS",
    "MIRROR_CONSTANTS",
    "NOMINAL",
    "SQUARE",
    "TERMINAL_SPEED",
    "Breakage",
    "MinimumCount",
    "breaking_stress",
    "core_energy",
    "counted_tension",
    "crumb_count",
    "dicing_tension",
    "energy_density",
    "feature_radius",
    "minimum_counts",
    "surface_share",
]
