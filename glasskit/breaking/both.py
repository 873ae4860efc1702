# SPDX-License-Identifier: MIT
"""Break an ordinary and a toughened pane in the same way, and stop the film at a moment."""

import warnings
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from glasskit.breakage import MIRROR_CONSTANTS, feature_radius
from glasskit.breaking.blow import blow_at
from glasskit.breaking.pane import BrokenPane, Moment, break_pane, usual_place
from glasskit.crack import quick_strength
from glasskit.impact import Impact, Pane, ball_of_mass, ball_on_pane, drop_speed
from glasskit.materials import glass, solid
from glasskit.plates import striker
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    non_negative,
    one_of,
    positive,
    whole,
    within,
)
from glasskit.stress import annealed, tempered

SIDE = 0.3
"""Side of the square panes: as in published films ([Nielsen2009]) [m]."""

STARTS = ("ball", "punch", "chip")
"""How a break starts: a ball falls on a face, a centre punch bites into it, an edge chips."""

_PULSE = 1e-5  # time in which a hard blow pulls the far face [s]
_FOLLOWED = 1.2e-3  # how long the ball is followed on the whole pane [s]


@dataclass(frozen=True, kw_only=True, eq=False)
class SlowMotion:
    """Two panes that break in the same way, at one moment.

    Attributes
    ----------
    ordinary, toughened : BrokenPane
        The panes; one that holds, or keeps a short crack, has no cracks that ran.
    time : float
        The moment, since the touch [s].
    leaves : float
        When the ball lets go of a whole pane, since the touch; zero without a ball [s].
    strength : float
        Net tension at which each of the two breaks under a ball, once the squeeze is
        overcome [Pa].
    start : str
        One of `STARTS`.

    """

    ordinary: BrokenPane
    toughened: BrokenPane
    time: float
    leaves: float
    strength: float
    start: str

    @property
    def struck(self) -> bool:
        """Whether a ball falls on the panes."""
        return self.start == STARTS[0]

    @cached_property
    def moments(self) -> tuple[Moment, Moment]:
        """Both panes as they are at this moment."""
        return self.ordinary.at(self.time), self.toughened.at(self.time)

    @property
    def touching(self) -> bool:
        """Whether the ball is still in contact."""
        return self.struck and self.time <= self.leaves

    @property
    def zones(self) -> dict[str, FloatArray]:
        """Least and greatest radius of mirror, mist and branching under a ball [m]."""
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
    start: str = STARTS[0],
) -> SlowMotion:
    """Break an ordinary and a toughened pane in the same way, and stop at a moment.

    Parameters
    ----------
    time : float
        Since the touch [s].
    height : float
        Height of fall of the ball; without one it has no say [m].
    squeeze : float
        Compression at the faces of the toughened pane [Pa].
    thickness : float
        Thickness of both panes [m].
    along, across : float
        Where the ball or the punch touches, from a corner; a chip lies at the lower edge,
        whatever `across` is [m].
    seed : int
        Where chance starts.
    start : str
        One of `STARTS`.

    Returns
    -------
    SlowMotion
        Both panes at that moment; they break once and are kept for the next.

    Raises
    ------
    ValueError
        If an argument is out of its range, or the place does not lie on the panes, or the
        start is unknown.

    Notes
    -----
    Soda-lime panes with sides of `SIDE`, the ball of standard tests. Both have a flaw that in
    a slow test would break at the practical strength of window glass; a blow is over before it
    has grown. Off the middle the push is taken as in the middle, which is true until the
    waves come back from the nearest edge. A punch and a chip bend nothing: they bring a short
    crack through the skin, and only what the core gives can drive it on. The weaker squeeze
    along an edge is left out.

    References
    ----------
    See `break_pane` and `glasskit.impact.ball_on_pane`: [Zener1941].

    Examples
    --------
    Sixty microseconds after the touch, in millimetres:

    >>> both = slow_motion(60e-6, 0.8, 100e6, 4e-3)
    >>> [round(1e3 * moment.reached) > 20 for moment in both.moments]
    [True, True]

    From a chip at the edge the ordinary pane keeps a short crack and stays in one piece:

    >>> chipped = slow_motion(60e-6, 0.8, 100e6, 4e-3, start="chip")
    >>> len(chipped.ordinary.pieces), len(chipped.toughened.pieces) > 1000
    (1, True)

    """
    now = non_negative("time", time, "s").item()
    fall = positive("height", height, "m").item()
    pressed = positive("squeeze", squeeze, "Pa").item()
    size = positive("thickness", thickness, "m").item()
    place = _place(along, across)
    number = whole("seed", seed)
    one_of("start", start, STARTS)
    if start == "chip":
        place = place[0], usual_place("edge", SIDE, SIDE)[1]
    touch = fall if start == STARTS[0] else 0.0
    ordinary, toughened = (_struck(touch, one, size, place, number) for one in (0.0, pressed))
    return SlowMotion(
        ordinary=ordinary,
        toughened=toughened,
        time=now,
        leaves=_leaves(touch, size),
        strength=_net_strength(),
        start=start,
    )


def _net_strength() -> float:
    return quick_strength(glass("soda-lime").practical_strength, _PULSE).item()


def _leaves(height: float, thickness: float) -> float:
    """Return when the ball lets go [s]; zero without a fall."""
    if not height:
        return 0.0
    impact = _knock(height, thickness)
    free = np.flatnonzero(impact.force[1:] <= 0)
    return float(impact.time[free[0] + 1 if free.size else -1])


@lru_cache(maxsize=16)
def _knock(height: float, thickness: float) -> Impact:
    pane = Pane(length=SIDE, width=SIDE, thickness=thickness, glass=glass("soda-lime"))
    ball = ball_of_mass(striker("steel ball")["mass"], solid("steel"))
    with warnings.catch_warnings():
        # Panes break long before they sink far; what the ball does later is not asked.
        warnings.simplefilter("ignore", OutsideValidityWarning)
        return ball_on_pane(ball, pane, drop_speed(height), follow=_FOLLOWED)


def struck_pane(
    height: float, squeeze: float, thickness: float, along: float, across: float, seed: int = 1
) -> BrokenPane:
    """Let the ball of `slow_motion` fall on one pane; it stays whole if it holds.

    Parameters
    ----------
    height : float
        Height of fall of the ball [m].
    squeeze : float
        Compression at the faces, zero for an ordinary pane [Pa].
    thickness : float
        Thickness of the pane [m].
    along, across : float
        Where the ball touches, from a corner [m].
    seed : int
        Where chance starts.

    Returns
    -------
    BrokenPane
        The pane of `slow_motion`, without the other.

    Raises
    ------
    ValueError
        If an argument is out of its range, or the place does not lie on the pane.

    Notes
    -----
    As for `slow_motion`.

    References
    ----------
    See `break_pane` and `glasskit.impact.ball_on_pane`: [Zener1941].

    Examples
    --------
    >>> len(struck_pane(0.8, 100e6, 4e-3, 0.1, 0.1).pieces) > 1000
    True

    """
    fall = positive("height", height, "m").item()
    squeeze = non_negative("squeeze", squeeze, "Pa").item()
    thickness = positive("thickness", thickness, "m").item()
    return _struck(fall, squeeze, thickness, _place(along, across), whole("seed", seed))


def _place(along: float, across: float) -> tuple[float, float]:
    return (
        within("along", along, 0.0, SIDE, "m").item(),
        within("across", across, 0.0, SIDE, "m").item(),
    )


@lru_cache(maxsize=12)
def _struck(
    height: float, squeeze: float, thickness: float, place: tuple[float, float], seed: int
) -> BrokenPane:
    """Break one pane, and keep it while only the other one changes.

    Without a fall it is only touched.
    """
    made_of = glass("soda-lime")
    profile = tempered(squeeze, thickness) if squeeze else annealed(thickness)
    if not height:
        return break_pane(profile, made_of, SIDE, SIDE, place=place, seed=seed)
    impact, needed = _knock(height, thickness), squeeze + _net_strength()
    if needed > impact.stress.item():
        held = break_pane(annealed(thickness), made_of, SIDE, SIDE, place=place, seed=seed)
        return replace(held, profile=profile)
    blow = blow_at(impact, needed)
    return break_pane(profile, made_of, SIDE, SIDE, place=place, blow=blow, seed=seed)
