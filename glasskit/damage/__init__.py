# SPDX-License-Identifier: MIT
"""Marks on glass: who scratches whom, dents and cracks, chips, what strength is left."""

from glasskit.damage.chips import (
    AUERBACH_RADII,
    Range,
    chip_distance,
    cone_crack_load,
    lateral_crack,
)
from glasskit.damage.dents import (
    SHAPE_FACTOR,
    SODA_LIME_WEDGE,
    half_diagonal,
    radial_crack,
    radial_crack_in,
    retained_strength,
    wedge_factor,
)
from glasskit.damage.hardness import Scratcher, scratcher, scratchers, verdict
from glasskit.damage.scratches import PANES, Pane, Score, score, scored_depth, scored_strength

__all__ = [
    "AUERBACH_RADII",
    "PANES",
    "SHAPE_FACTOR",
    "SODA_LIME_WEDGE",
    "Pane",
    "Range",
    "Score",
    "Scratcher",
    "chip_distance",
    "cone_crack_load",
    "half_diagonal",
    "lateral_crack",
    "radial_crack",
    "radial_crack_in",
    "retained_strength",
    "score",
    "scored_depth",
    "scored_strength",
    "scratcher",
    "scratchers",
    "verdict",
    "wedge_factor",
]
