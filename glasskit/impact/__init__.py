# SPDX-License-Identifier: MIT
"""What happens in a blow: fall, contact, the ringing pane, devices on floors.

`falls` goes from height to speed, energy and a rigid blow, `ball` lets a ball meet the
bending waves of a pane, `farface` says what its far face feels, `device` and `floors`
drop what has a screen.
"""

from glasskit.impact.ball import (
    Ball,
    BallMaterial,
    Impact,
    ball_of_mass,
    ball_on_pane,
    height_to_reach,
)
from glasskit.impact.contact import (
    WIDEST_CONTACT,
    Elastic,
    HertzContact,
    contact_modulus,
    contact_stiffness,
    hertz_contact,
    knock_approach,
    knock_duration,
)
from glasskit.impact.device import (
    ATTITUDES,
    FLOORS,
    Device,
    Landing,
    attitude_odds,
    land,
)
from glasskit.impact.falls import (
    Falling,
    HertzImpact,
    drop_energy,
    drop_speed,
    fall_time,
    hertz_impact,
    stopping_force,
    terminal_speed,
    throw_height,
    throw_range,
)
from glasskit.impact.falls_1876 import BRONZE, Fall, far_face_stress, measured_falls
from glasskit.impact.farface import FarFace, far_face
from glasskit.impact.floors import FALLS, FloorDrop, drop_on
from glasskit.impact.ringing import (
    EDGES,
    Edges,
    Modes,
    Pane,
    PaneMaterial,
    Response,
    modes,
    response,
    slap_stress,
)
from glasskit.impact.stopping import Stop, knock_pulse, stop_on, stop_within
from glasskit.impact.zener import inelasticity, wide_plate_restitution

__all__ = [
    "ATTITUDES",
    "BRONZE",
    "EDGES",
    "FALLS",
    "FLOORS",
    "WIDEST_CONTACT",
    "Ball",
    "BallMaterial",
    "Device",
    "Edges",
    "Elastic",
    "Fall",
    "Falling",
    "FarFace",
    "FloorDrop",
    "HertzContact",
    "HertzImpact",
    "Impact",
    "Landing",
    "Modes",
    "Pane",
    "PaneMaterial",
    "Response",
    "Stop",
    "attitude_odds",
    "ball_of_mass",
    "ball_on_pane",
    "contact_modulus",
    "contact_stiffness",
    "drop_energy",
    "drop_on",
    "drop_speed",
    "fall_time",
    "far_face",
    "far_face_stress",
    "height_to_reach",
    "hertz_contact",
    "hertz_impact",
    "inelasticity",
    "knock_approach",
    "knock_duration",
    "knock_pulse",
    "land",
    "measured_falls",
    "modes",
    "response",
    "slap_stress",
    "stop_on",
    "stop_within",
    "stopping_force",
    "terminal_speed",
    "throw_height",
    "throw_range",
    "wide_plate_restitution",
]
