# SPDX-License-Identifier: MIT
"""Break an ordinary and a toughened pane by the same blow, and stop the film at a moment."""

import warnings
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from glasskit.breakage import MIRROR_CONSTANTS, feature_radius
from glasskit.breaking.blow import blow_at
from glasskit.breaking.pane import BrokenPane, Moment, break_pane
from glasskit.crack import quick_strength
from glasskit.impact import Impact, Pane, ball_of_mass, ball_on_pane, drop_speed
from glasskit.materials import glass, solid
from glasskit.plates import striker
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    non_negative,
    positive,
    whole,
    within,
)
from glasskit.stress import annealed, tempered

SIDE = 0.3
"""Side of the square panes: as in published films ([Nielsen2009]) [m]."""

_PULSE = 1e-5  # time in which a hard blow pulls the far face [s]
_FOLLOWED = 1.2e-3  # how long the ball is followed on the whole pane [s]


@dataclass(frozen=True, kw_only=True, eq=False)
class SlowMotion:
    """Two panes under the same blow, at one moment.

    Attributes
    ----------
    ordinary, toughened : BrokenPane
        The panes; one that holds has no cracks.
    time : float
        The moment, since the ball touched [s].
    leaves : float
        When the ball lets go of a whole pane, since the touch [s].
    strength : float
        Net tension at which each of the two breaks, once the squeeze is overcome [Pa].

    """

    ordinary: BrokenPane
    toughened: BrokenPane
    time: float
    leaves: float
    strength: float

    @cached_property
    def moments(self) -> tuple[Moment, Moment]:
        """Both panes as they are at this moment."""
        return self.ordinary.at(self.time), self.toughened.at(self.time)

    @property
    def touching(self) -> bool:
        """Whether the ball is still in contact."""
        return self.time <= self.leaves

    @property
    def zones(self) -> dict[str, FloatArray]:
        """Least and greatest radius of mirror, mist and branching round the origin [m]."""
        return {
            name: feature_radius(self.strength, constants)
            for name, constants in MIRROR_CONSTANTS.items()
        }


def slow_motion(
    time: float,
    height: float,
    squeeze: float,
    thickness: float,
    along: float = SIDE / 2,
    across: float = SIDE / 2,
    seed: int = 1,
) -> SlowMotion:
    """Let a steel ball break an ordinary and a toughened pane, and stop at a moment.

    Parameters
    ----------
    time : float
        Since the ball touched [s].
    height : float
        Height of its fall [m].
    squeeze : float
        Compression at the faces of the toughened pane [Pa].
    thickness : float
        Thickness of both panes [m].
    along, across : float
        Where the ball hits, from a corner [m].
    seed : int
        Where chance starts.

    Returns
    -------
    SlowMotion
        Both panes at that moment; they break once and are kept for the next.

    Raises
    ------
    ValueError
        If an argument is out of its range, or the place does not lie on the panes.

    Notes
    -----
    Soda-lime panes with sides of `SIDE`, the ball of standard tests. Both have a flaw that in
    a slow test would break at the practical strength of window glass; a blow is over before it
    has grown. Off the middle the push is taken as in the middle, which is true until the
    waves come back from the nearest edge.

    References
    ----------
    See `break_pane` and `glasskit.impact.ball_on_pane`: [Zener1941].

    Examples
    --------
    Sixty microseconds after the touch, in millimetres:

    >>> both = slow_motion(60e-6, 0.8, 100e6, 4e-3)
    >>> [round(1e3 * moment.reached) > 20 for moment in both.moments]
    [True, True]

    """
    now = non_negative("time", time, "s").item()
    fall = positive("height", height, "m").item()
    pressed = positive("squeeze", squeeze, "Pa").item()
    size = positive("thickness", thickness, "m").item()
    place = (
        within("along", along, 0.0, SIDE, "m").item(),
        within("across", across, 0.0, SIDE, "m").item(),
    )
    number = whole("seed", seed)
    ordinary, toughened, leaves, strength = _broken(fall, pressed, size, place, number)
    return SlowMotion(
        ordinary=ordinary,
        toughened=toughened,
        time=now,
        leaves=leaves,
        strength=strength,
    )


@lru_cache(maxsize=6)
def _broken(
    height: float, squeeze: float, thickness: float, place: tuple[float, float], seed: int
) -> tuple[BrokenPane, BrokenPane, float, float]:
    """Break both panes; return them, when the ball lets go, and the net strength of both."""
    impact = _knock(height, thickness)
    struck = np.flatnonzero(impact.force[1:] <= 0)
    last = struck[0] + 1 if struck.size else -1
    strength = quick_strength(glass("soda-lime").practical_strength, _PULSE).item()
    panes = [
        _struck(pressed, impact, strength + pressed, thickness, place, seed)
        for pressed in (0.0, squeeze)
    ]
    return panes[0], panes[1], float(impact.time[last]), strength


@lru_cache(maxsize=16)
def _knock(height: float, thickness: float) -> Impact:
    pane = Pane(length=SIDE, width=SIDE, thickness=thickness, glass=glass("soda-lime"))
    ball = ball_of_mass(striker("steel ball")["mass"], solid("steel"))
    with warnings.catch_warnings():
        # Panes break long before they sink far; what the ball does later is not asked.
        warnings.simplefilter("ignore", OutsideValidityWarning)
        return ball_on_pane(ball, pane, drop_speed(height), follow=_FOLLOWED)


def _struck(
    squeeze: float,
    impact: Impact,
    needed: float,
    thickness: float,
    place: tuple[float, float],
    seed: int,
) -> BrokenPane:
    """Return a pane of that squeeze after the blow, whole if it holds."""
    made_of = glass("soda-lime")
    profile = tempered(squeeze, thickness) if squeeze else annealed(thickness)
    if needed > impact.stress.item():
        held = break_pane(annealed(thickness), made_of, SIDE, SIDE, place=place, seed=seed)
        return replace(held, profile=profile)
    blow = blow_at(impact, needed)
    return break_pane(profile, made_of, SIDE, SIDE, place=place, blow=blow, seed=seed)
