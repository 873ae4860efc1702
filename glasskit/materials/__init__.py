# SPDX-License-Identifier: MIT
"""Glasses, floors and strikers, ions and melts: properties with their sources.

`glasses` reads properties of glasses and solids, `ions` radii by coordination, `melts` how
viscosity falls with temperature, `flow` what a pane does in centuries.
"""

from glasskit.materials.flow import (
    FlowEstimate,
    FlowState,
    flow_estimates,
    thickening,
)
from glasskit.materials.glasses import (
    Body,
    Entry,
    Glass,
    Solid,
    glass,
    glass_names,
    solid,
    solid_names,
)
from glasskit.materials.ions import SCALES, Radius, Swap, coordinations, ionic_radius, misfit
from glasskit.materials.melts import (
    FIXED_POINTS,
    FROZEN_FRACTION,
    GAS_CONSTANT,
    SHEAR_MODULUS,
    Melt,
    activation_energy,
    equilibrium_viscosity,
    fixed_point,
    melt,
    melt_names,
    relaxation_time,
    temperature_at,
    viscosity,
)

__all__ = [
    "FIXED_POINTS",
    "FROZEN_FRACTION",
    "GAS_CONSTANT",
    "SCALES",
    "SHEAR_MODULUS",
    "Body",
    "Entry",
    "FlowEstimate",
    "FlowState",
    "Glass",
    "Melt",
    "Radius",
    "Solid",
    "Swap",
    "activation_energy",
    "coordinations",
    "equilibrium_viscosity",
    "fixed_point",
    "flow_estimates",
    "glass",
    "glass_names",
    "ionic_radius",
    "melt",
    "melt_names",
    "misfit",
    "relaxation_time",
    "solid",
    "solid_names",
    "temperature_at",
    "thickening",
    "viscosity",
]
