# SPDX-License-Identifier: MIT
r"""Let a ball rebound from a plate so wide that no wave comes back.

The middle of such a plate moves with a speed that is proportional to the force on it
[Zener1941]. In the units of Hertz's knock, approach and speed of the ball follow

.. math:: \sigma' = u - \lambda \sigma^{3/2}, \qquad u' = -\sigma^{3/2}

with one number, the inelasticity: how far the plate gives way in a knock.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from glasskit.impact.ball import Striker
from glasskit.impact.contact import contact_modulus, contact_stiffness
from glasskit.impact.ringing import PaneMaterial
from glasskit.quantities import FloatArray, having, non_negative, positive

_MOST, _STEP, _STEPS = 3.0, 0.01, 4000  # of inelasticity; of time, in that of the knock


def inelasticity(
    ball: Striker, plate: PaneMaterial, thickness: ArrayLike, speed: ArrayLike
) -> FloatArray:
    r"""Return how far a wide plate gives way under a ball's knock, Zener's number.

    .. math:: \lambda = \frac{m}{8\sqrt{D \rho h}}\,\Bigl(\frac{k^2 v}{m^2}\Bigr)^{1/5}

    Parameters
    ----------
    ball : Striker
        What falls, with `mass`, `radius` and `solid`.
    plate : PaneMaterial
        What the plate is made of.
    thickness : array_like
        Thickness of the plate [m].
    speed : array_like
        Speed at touch [m/s].

    Returns
    -------
    ndarray
        Zener's number [-], broadcast: 0 for a thick block.

    Raises
    ------
    ValueError
        If a number is not finite and positive.

    Notes
    -----
    Hertz's elastic contact on a thin plate without edges.

    References
    ----------
    [Zener1941]

    Examples
    --------
    A steel ball of 10 mm at 1 m/s on window glass, 4 and 10 mm thick:

    >>> from glasskit.impact import Ball
    >>> from glasskit.materials import glass, solid
    >>> ball = Ball(radius=5e-3, solid=solid("steel"))
    >>> inelasticity(ball, glass("soda-lime"), [4e-3, 10e-3], 1.0).round(2)
    array([0.57, 0.09])

    """
    having("ball", ball, "mass", "radius", "solid")
    having("plate", plate, "modulus", "poisson", "density", "plane_strain_modulus")
    thick, fast = positive("thickness", thickness, "m"), positive("speed", speed, "m/s")
    rigidity = plate.plane_strain_modulus * thick**3 / 12.0
    mobility = 1.0 / (8.0 * np.sqrt(rigidity * plate.density * thick))
    stiffness = contact_stiffness(ball.radius, contact_modulus(ball.solid, plate))
    knock = (ball.mass**2 / (stiffness**2 * fast)) ** 0.2
    return np.asarray(ball.mass * mobility / knock)


def wide_plate_restitution(inelasticity: ArrayLike) -> FloatArray:
    """Return the speed of a ball after its knock on a wide plate, over that before.

    Parameters
    ----------
    inelasticity : array_like
        Zener's number [-], see `inelasticity`.

    Returns
    -------
    ndarray
        Restitution [-], from 1 for a thick block towards 0.

    Raises
    ------
    ValueError
        If `inelasticity` is negative or not finite.

    Notes
    -----
    Solved by steps once and interpolated, within 0.0005; above 3 next to nothing is left. On
    a pane of finite size the waves come back from the edges and may throw the ball up again:
    see `ball_on_pane`.

    References
    ----------
    [Zener1941]

    Examples
    --------
    >>> wide_plate_restitution([0.0, 0.25, 1.0]).round(3)
    array([1.   , 0.658, 0.184])

    """
    number = non_negative("inelasticity", inelasticity)
    table, rebound = _solved()
    return np.asarray(np.interp(number, table, rebound))


@cache
def _solved() -> tuple[FloatArray, FloatArray]:
    """Return numbers of Zener and the restitution of each."""
    number = np.linspace(0.0, _MOST, 121)
    approach, speed = np.zeros_like(number), np.ones_like(number)
    rebound = np.full_like(number, np.nan)

    def slope(state: FloatArray) -> FloatArray:
        force = np.maximum(state[0], 0.0) ** 1.5
        return np.stack([state[1] - number * force, -force])

    state = np.stack([approach, speed])
    for _ in range(_STEPS):
        first = slope(state)
        second = slope(state + 0.5 * _STEP * first)
        third = slope(state + 0.5 * _STEP * second)
        last = slope(state + _STEP * third)
        state = state + _STEP / 6.0 * (first + 2.0 * second + 2.0 * third + last)
        left = (state[0] <= 0.0) & np.isnan(rebound)
        rebound[left] = -state[1][left]
        if not np.isnan(rebound).any():
            break
    return number, rebound
