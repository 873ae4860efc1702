# SPDX-License-Identifier: MIT
"""How far and how high a piece can fly at most: a prompt, never a choice of protection."""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import GRAVITY, FloatArray, non_negative, positive

__all__ = ["throw_height", "throw_range"]


def throw_range(speed: ArrayLike, height: ArrayLike = 0.0) -> FloatArray:
    r"""Return how far from its start a thrown piece lands, at the worst angle and without air.

    .. math:: R = \frac{v}{g}\sqrt{v^2 + 2 g h}

    Parameters
    ----------
    speed : array_like
        Speed at the start :math:`v` [m/s].
    height : array_like
        Height of the start above the floor :math:`h` [m].

    Returns
    -------
    ndarray of float
        Longest throw along the floor [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is negative or not finite.

    Notes
    -----
    Air shortens the flight of small pieces; a bounce or a slide on the floor lengthens it.
    Distances were published for plain windows broken by hand [Pounds1978], [Luce1991], speeds
    not, as far as we know: the speed is for the user to choose, and a trial throw tells more.
    It says nothing of harm to eyes and does not select protection.

    References
    ----------
    Textbook ballistics: the enveloping parabola of all throws of one speed.

    Examples
    --------
    >>> throw_range(10.0, 0.9).item()
    11.1

    """
    fast = non_negative("speed", speed, "m/s")
    drop = 2 * GRAVITY * non_negative("height", height, "m")
    return np.asarray(fast * np.sqrt(fast**2 + drop) / GRAVITY)


def throw_height(speed: ArrayLike, distance: ArrayLike, height: ArrayLike = 0.0) -> FloatArray:
    r"""Return how high a thrown piece can be at a distance, at the worst angle, without air.

    .. math:: z = h + \frac{v^2}{2g} - \frac{g d^2}{2 v^2}

    Parameters
    ----------
    speed : array_like
        Speed at the start :math:`v`, above zero [m/s].
    distance : array_like
        Distance from the start along the floor :math:`d` [m].
    height : array_like
        Height of the start above the floor :math:`h` [m].

    Returns
    -------
    ndarray of float
        Highest point above the floor [m], negative where no throw gets that far; the inputs'
        broadcast shape.

    Raises
    ------
    ValueError
        If `speed` is not positive, another argument negative, or any not finite.

    Notes
    -----
    Without air, which slows crumbs within a metre or two: the true height is less.

    References
    ----------
    Textbook ballistics: the enveloping parabola of all throws of one speed.

    Common practice.

    Examples
    --------
    At the start a ball rises as high as it fell; from 0.8 m, beside it and half a metre off:

    >>> throw_height(3.9613, [0.0, 0.5]).round(3)
    array([0.8  , 0.722])

    """
    square = positive("speed", speed, "m/s") ** 2
    away = non_negative("distance", distance, "m")
    start = non_negative("height", height, "m")
    return np.asarray(start + square / (2 * GRAVITY) - GRAVITY * away**2 / (2 * square))
