# SPDX-License-Identifier: MIT
"""Stress seen by polarised light: retardation, interference colours, a polariscope's views."""

from glasskit.light.colour import interference_colour, to_srgb, tristimulus
from glasskit.light.photoelasticity import (
    DIAGONAL,
    bent_bar,
    edge_view,
    face_view,
    retardation,
    share_passed,
    stress_difference,
)
from glasskit.light.polariscope import Sight, View

__all__ = [
    "DIAGONAL",
    "Sight",
    "View",
    "bent_bar",
    "edge_view",
    "face_view",
    "interference_colour",
    "retardation",
    "share_passed",
    "stress_difference",
    "to_srgb",
    "tristimulus",
]
