# SPDX-License-Identifier: MIT
"""Stop a falling ball: over a given way by a steady force, or on a thick block.

One fall brings one energy; how short the stop is decides the force. On a block the force
rises and falls as in Hertz's impact [Johnson1985], followed here in time.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import betaincinv

from glasskit.impact.ball import ball_of_mass
from glasskit.impact.contact import contact_modulus
from glasskit.impact.falls import (
    HertzImpact,
    drop_energy,
    drop_speed,
    hertz_impact,
    stopping_force,
    terminal_speed,
)
from glasskit.materials import Body
from glasskit.quantities import GRAVITY, FloatArray, in_range, of_type, positive


def knock_pulse(share: ArrayLike) -> FloatArray:
    r"""Return the force of a Hertz knock over its peak, as time goes from touch to parting.

    .. math:: \tau = I(x^{5/2};\, \tfrac25, \tfrac12), \quad F/F_{max} = x^{3/2}

    with x the approach over its largest and I the regularised incomplete beta function;
    tau runs from 0 at the touch to 1 at the peak, and back.

    Parameters
    ----------
    share : array_like
        Time since the touch over the time in contact, from 0 to 1 [-].

    Returns
    -------
    ndarray
        Force over peak force [-]; the shape of `share`.

    Raises
    ------
    ValueError
        If `share` lies outside 0 to 1.

    Notes
    -----
    Exact for Hertz's law without loss: the energy balance, integrated.

    References
    ----------
    [Johnson1985] section 11.4.

    Examples
    --------
    >>> knock_pulse([0.0, 0.25, 0.5, 1.0]).round(3)
    array([0.   , 0.571, 1.   , 0.   ])

    """
    time = in_range("share", share, 0.0, 1.0)
    rising = 1.0 - np.abs(2.0 * time - 1.0)
    return np.asarray(betaincinv(0.4, 0.5, rising) ** 0.6)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stop:
    """One fall and how it was stopped.

    Attributes
    ----------
    mass : float
        Mass of the ball [kg].
    height : float
        Height fallen through [m].
    striker : Body
        What the ball is made of.
    way : float
        Way over which it was stopped [m].
    duration : float
        Time from touch to rest or, on a block, to parting [s].
    peak_force : float
        Largest force [N].
    block : Body or None
        What it fell on; None for a steady force over a given way.
    knock : HertzImpact or None
        The blow on the block.

    """

    mass: float
    height: float
    striker: Body
    way: float
    duration: float
    peak_force: float
    block: Body | None = None
    knock: HertzImpact | None = None

    @property
    def radius(self) -> float:
        """Radius of the ball [m]."""
        return ball_of_mass(self.mass, self.striker).radius

    @property
    def energy(self) -> float:
        """Energy of the fall [J]."""
        return drop_energy(self.mass, self.height).item()

    @property
    def speed(self) -> float:
        """Speed at touch, without drag [m/s]."""
        return drop_speed(self.height).item()

    @property
    def drag_loss(self) -> float:
        """Share of that speed that drag takes from a smooth ball [-]."""
        limit = terminal_speed(self.mass, np.pi * self.radius**2)
        return float(1.0 - drop_speed(self.height, limit) / self.speed)

    @property
    def mean_force(self) -> float:
        """Force averaged over the way of the stop [N]."""
        return stopping_force(self.mass, self.height, self.way).item()

    @property
    def weights(self) -> float:
        """Largest force over the weight of the ball [-]."""
        return float(self.peak_force / (self.mass * GRAVITY))

    @property
    def dented(self) -> Body | None:
        """What is pressed harder, on average, than it is hard, so that it dents; or None."""
        if self.block is None or self.knock is None:
            return None
        softer: Body = min(
            (body for body in (self.striker, self.block) if np.isfinite(body.hardness)),
            key=lambda body: body.hardness,
        )
        return softer if 2.0 / 3.0 * self.knock.peak_pressure > softer.hardness else None

    def force(self, time: ArrayLike) -> FloatArray:
        """Return the force at some times since the touch [N], zero before and after."""
        share = np.asarray(time, dtype=np.float64) / self.duration
        within = (share >= 0) & (share <= 1)
        pulse = 1.0 if self.knock is None else knock_pulse(np.clip(share, 0.0, 1.0))
        return np.asarray(np.where(within, self.peak_force * pulse, 0.0))


def stop_within(mass: float, height: float, way: float, striker: Body) -> Stop:
    """Stop a ball by a force that stays the same over a way.

    Parameters
    ----------
    mass : float
        Mass [kg].
    height : float
        Height fallen through [m].
    way : float
        Way from touch to rest [m].
    striker : Body
        What the ball is made of; it decides only its size.

    Returns
    -------
    Stop
        With peak force and mean force alike.

    Raises
    ------
    ValueError
        If a number is not finite and positive.

    Notes
    -----
    A steady force is the least that can do it; a spring peaks at twice, a hard contact at
    more.

    Examples
    --------
    One kilogram from one metre, stopped within a centimetre: so many weights of its own.

    >>> from glasskit.materials import solid
    >>> stop_within(1.0, 1.0, 0.01, solid("steel")).weights
    101.0

    """
    of_type("striker", striker, Body)
    positive("mass", mass, "kg")
    way = positive("way", way, "m").item()
    return Stop(
        mass=mass,
        height=height,
        striker=striker,
        way=way,
        duration=2 * way / drop_speed(positive("height", height, "m")).item(),
        peak_force=stopping_force(mass, height, way).item(),
    )


def stop_on(mass: float, height: float, striker: Body, block: Body) -> Stop:
    """Let a ball fall on a thick, heavy block.

    Parameters
    ----------
    mass : float
        Mass of the ball [kg].
    height : float
        Height fallen through [m].
    striker, block : Body
        What ball and block are made of, such as a `Solid` or a `Glass`.

    Returns
    -------
    Stop
        With the blow as `Stop.knock`.

    Raises
    ------
    ValueError
        If a number is not finite and positive.

    Warns
    -----
    OutsideValidityWarning
        If the contact grows too wide for Hertz's law.

    Notes
    -----
    Elastic. Where `Stop.dented` names a body the true force is lower and lasts longer.

    References
    ----------
    [Johnson1985] section 11.4.

    Examples
    --------
    A steel ball of 227 g from 1.2 m on thick glass, in kilonewtons:

    >>> from glasskit.materials import glass, solid
    >>> round(stop_on(0.227, 1.2, solid("steel"), glass("soda-lime")).peak_force / 1e3, 1)
    31.3

    """
    of_type("striker", striker, Body)
    of_type("block", block, Body)
    knock = hertz_impact(
        mass,
        drop_speed(positive("height", height, "m")),
        ball_of_mass(mass, striker).radius,
        contact_modulus(striker, block),
        block.poisson,
    )
    return Stop(
        mass=mass,
        height=height,
        striker=striker,
        way=knock.approach.item(),
        duration=knock.duration.item(),
        peak_force=knock.peak_force.item(),
        block=block,
        knock=knock,
    )
