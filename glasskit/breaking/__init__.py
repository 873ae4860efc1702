# SPDX-License-Identifier: MIT
"""A pane that breaks, moment by moment: cracks that run, branch, turn and stop.

`blow` follows the bending that a ball sends out, `drive` says what feeds a crack, how fast it
runs and when it splits, `growth` lets cracks grow, `pane` holds the broken pane, `both` sets
an ordinary pane beside a toughened one.
"""

from glasskit.breaking.blow import Blow, bending_tension, blow_at, wave_spread
from glasskit.breaking.both import SIDE, STARTS, SlowMotion, slow_motion, struck_pane
from glasskit.breaking.drive import (
    HALF_DISC,
    Drive,
    crack_speed,
    rayleigh_speed,
    run_up,
    sound_speed,
)
from glasskit.breaking.growth import FORK, FORK_SPREAD, WATCHED, WOBBLE
from glasskit.breaking.pane import PLACES, BrokenPane, Moment, break_pane, usual_place

__all__ = [
    "FORK",
    "FORK_SPREAD",
    "HALF_DISC",
    "PLACES",
    "SIDE",
    "STARTS",
    "WATCHED",
    "WOBBLE",
    "Blow",
    "BrokenPane",
    "Drive",
    "Moment",
    "SlowMotion",
    "bending_tension",
    "blow_at",
    "break_pane",
    "crack_speed",
    "rayleigh_speed",
    "run_up",
    "slow_motion",
    "sound_speed",
    "struck_pane",
    "usual_place",
    "wave_spread",
]
