# SPDX-License-Identifier: MIT
"""Put a steady pull on a pane and start the clock: how long until its flaw has grown enough.

Stress intensities of residual stress and pull add as long as the flaw stands open, and
`glasskit.crack.growth` counts the time. Below a certain pull nothing creeps and no clock
runs; a compressed surface lifts that pull by nearly all of its squeeze.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from glasskit.crack.duration import design_factor
from glasskit.crack.growth import GrowthLaw, grow
from glasskit.crack.intensity import stress_intensity
from glasskit.quantities import FloatArray, finite, of_type, positive, require
from glasskit.stress import StressProfile

_PULLS = 30  # on a curve over time: straight lines between them look round
_RULE_TIMES = np.geomspace(5.0, 2e10, 400)  # [s]: between them the rule falls from 1 to 0.25
_DEPTHS = 200  # of a growing crack, evenly in the logarithm: K is straight between to 1e-5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bearing:
    """What a pane with a flaw bears, and for how long.

    Attributes
    ----------
    profile : StressProfile
        Residual stress through the thickness.
    depth : float
        Depth of the flaw [m].
    law : GrowthLaw
        How fast it creeps.
    place : ndarray, shape (n,)
        Depths that a growing flaw passes [m].
    held, gained : ndarray, shape (n,)
        Stress intensity of the residual stress [Pa sqrt(m)], and of a unit pull [sqrt(m)].
    pull, time : ndarray, shape (m,)
        Steady pulls [Pa], rising, and the time that the pane stands each [s], falling to zero.

    """

    profile: StressProfile
    depth: float
    law: GrowthLaw
    place: FloatArray
    held: FloatArray
    gained: FloatArray
    pull: FloatArray
    time: FloatArray

    @property
    def squeeze(self) -> float:
        """Pull at which the residual stress no longer presses the tip shut [Pa]."""
        return float(0.0 - self.held[0] / self.gained[0])

    @property
    def floor(self) -> float:
        """Pull below which the flaw does not creep at all [Pa]."""
        return self.squeeze + self.law.threshold / float(self.gained[0])

    @property
    def instant(self) -> float:
        """Pull at which the flaw runs at once [Pa]."""
        return self.squeeze + self.law.toughness / float(self.gained[0])

    def life(self, pull: float, law: GrowthLaw | None = None) -> float:
        """Return how long the pane stands a pull [Pa], here or in other surroundings [s]."""
        law = law or self.law
        along = self.held + pull * self.gained
        # Where faces touch, adding misses a little, but the threshold is not reached.
        return np.inf if along[0] <= law.threshold else _life(self.place, along, law)

    def for_time(self, time: ArrayLike) -> FloatArray:
        """Return the steady pull [Pa] that breaks the pane within a time [s]."""
        wanted = np.log(positive("time", time, "s"))
        rising = np.log(np.maximum(self.time[::-1], 1e-300))
        return np.asarray(np.interp(wanted, rising, self.pull[::-1], right=self.floor))

    def by_rule(self, time: ArrayLike) -> FloatArray:
        """Return the pull for a time [s] by the rule of the standards, from that for 5 s [Pa].

        The rule weakens only what the glass itself bears; the squeeze keeps its worth.
        """
        own = self.for_time(5.0) - self.squeeze
        return np.asarray(self.squeeze + own * design_factor(time))

    def rule_time(self, pull: float) -> float:
        """Return how long a pull [Pa] may last by that rule [s]; infinite below its end."""
        rule = self.by_rule(_RULE_TIMES)
        if pull < rule[-1]:
            return np.inf
        return float(np.exp(np.interp(pull, rule[::-1], np.log(_RULE_TIMES[::-1]))))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Clock:
    """A flaw under a steady pull; from `run_clock`.

    Attributes
    ----------
    tension : float
        Pull from outside [Pa].
    intensity : float
        Stress intensity at the start [Pa sqrt(m)]; zero where the flaw is pressed shut.
    speed : float
        How fast the flaw creeps at first [m/s].
    life : float
        When the pane breaks [s]: zero at once, infinite never.
    bearing : Bearing
        What the pane bears under other pulls.

    """

    tension: float
    intensity: float
    speed: float
    life: float
    bearing: Bearing


def bearing(profile: StressProfile, depth: float, law: GrowthLaw) -> Bearing:
    """Return what a pane with a flaw bears, from pulls that do nothing to those that break it.

    Parameters
    ----------
    profile : StressProfile
        Residual stress.
    depth : float
        Depth of the flaw, long and square to the pull [m].
    law : GrowthLaw
        How fast it creeps.

    Returns
    -------
    Bearing
        Pulls and times.

    Raises
    ------
    ValueError
        If `depth` is not positive, or so deep that the core pulls the flaw open behind a
        surface that is still squeezed: then `glasskit.crack.growth.grow_in` must be asked.

    Notes
    -----
    The pull is the same through the thickness; in a bent pane it is a little less below the
    surface. Times scatter by a factor of ten with the growth law.

    References
    ----------
    [Haldimann2006], [Tada2000]

    Examples
    --------
    >>> from glasskit.crack import ENVIRONMENTS
    >>> from glasskit.stress import annealed, tempered
    >>> panes = annealed(12e-3), tempered(100e6, 12e-3)
    >>> [round(bearing(p, 100e-6, ENVIRONMENTS["design"]).floor / 1e6) for p in panes]
    [13, 110]

    """
    of_type("profile", profile, StressProfile)
    of_type("law", law, GrowthLaw)
    return _bearing(profile, positive("depth", depth, "m").item(), law)


@lru_cache(maxsize=16)
def _bearing(profile: StressProfile, depth: float, law: GrowthLaw) -> Bearing:
    start = depth
    place = np.geomspace(start, min(100 * start, 0.599 * profile.thickness), _DEPTHS)
    held = stress_intensity(profile, place)
    gained = stress_intensity(1.0, place, profile.thickness)
    lowest = (law.threshold - held[0]) / gained[0]
    highest = (law.toughness - held[0]) / gained[0]
    # From here on the flaw stands open and stresses add; below, it must not creep.
    rule = "be shallow enough that no flaw creeps behind a squeezed surface"
    require(lowest >= -profile.surface, "depth", depth, rule, "m")
    pull = lowest + (highest - lowest) * np.linspace(1e-6, 1.0, _PULLS)
    time = np.array([_life(place, held + load * gained, law) for load in pull])
    return Bearing(
        profile=profile,
        depth=start,
        law=law,
        place=place,
        held=held,
        gained=gained,
        pull=pull,
        time=time,
    )


def _life(place: FloatArray, intensity: FloatArray, law: GrowthLaw) -> float:
    logs = np.log(place)
    history = grow(
        lambda depth: np.interp(np.log(depth), logs, intensity), place[0], place[-1], law
    )
    return history.time_to_failure


def run_clock(profile: StressProfile, tension: float, depth: float, law: GrowthLaw) -> Clock:
    """Start the clock of a flaw under a steady pull.

    Parameters
    ----------
    profile : StressProfile
        Residual stress.
    tension : float
        Pull from outside, the same through the thickness [Pa].
    depth : float
        Depth of the flaw at the start [m].
    law : GrowthLaw
        How fast it creeps.

    Returns
    -------
    Clock
        Speed and life, and what the pane bears for other times.

    Raises
    ------
    ValueError
        If `tension` is not finite, or as for `bearing`.

    Notes
    -----
    Times are uncertain by a factor of ten, like the speeds that they come from.

    References
    ----------
    [Haldimann2006]

    Examples
    --------
    A flaw of 100 µm under 20 MPa breaks plain glass in a minute, and toughened glass never:

    >>> from glasskit.crack import ENVIRONMENTS
    >>> from glasskit.stress import annealed, tempered
    >>> for pane in (annealed(12e-3), tempered(100e6, 12e-3)):
    ...     print(round(run_clock(pane, 20e6, 100e-6, ENVIRONMENTS["design"]).life, 0))
    60.0
    inf

    """
    pull = finite("tension", tension, "Pa").item()
    bears = bearing(profile, depth, law)
    intensity = max((bears.held + pull * bears.gained)[0].item(), 0.0)
    return Clock(
        tension=pull,
        intensity=intensity,
        speed=law.speed(intensity).item(),
        life=bears.life(pull),
        bearing=bears,
    )
