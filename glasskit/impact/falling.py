# SPDX-License-Identifier: MIT
"""A body on its way down: how far, how fast, and where its energy is, instant by instant."""

from dataclasses import dataclass

import numpy as np

from glasskit.quantities import GRAVITY, in_range, positive

__all__ = ["Falling", "fall_time"]


def fall_time(height: float) -> float:
    r"""Return how long a fall lasts without air, :math:`\sqrt{2h/g}`.

    Parameters
    ----------
    height : float
        Height of the fall [m].

    Returns
    -------
    float
        Time [s].

    Raises
    ------
    ValueError
        If `height` is not finite and positive.

    Notes
    -----
    From rest and without air, which costs a steel ball of 30 mm less than 1 % from 5 m.

    References
    ----------
    Definition: a steady acceleration.

    Examples
    --------
    >>> round(fall_time(1.0), 3)
    0.452

    """
    return float(np.sqrt(2 * positive("height", height, "m") / GRAVITY))


@dataclass(frozen=True, slots=True, kw_only=True)
class Falling:
    """One instant of a fall from rest, without air.

    Attributes
    ----------
    mass : float
        Mass [kg].
    height : float
        Height of the fall [m].
    time : float
        Time since release, at most `fall_time` [s].

    Examples
    --------
    >>> Falling(mass=0.2, height=1.0, time=0.2).mass
    0.2

    """

    mass: float
    height: float
    time: float

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        in_range("time", self.time, 0.0, fall_time(self.height), "s")

    @property
    def left(self) -> float:
        """Height still to fall [m]."""
        return float(max(self.height - GRAVITY * self.time**2 / 2, 0.0))

    @property
    def speed(self) -> float:
        """Speed [m/s]."""
        return float(GRAVITY * self.time)

    @property
    def energy(self) -> float:
        """Energy of motion [J]."""
        return self.mass * self.speed**2 / 2

    @property
    def energy_left(self) -> float:
        """Energy of height that is still to come [J]."""
        return float(self.mass * GRAVITY * self.left)
