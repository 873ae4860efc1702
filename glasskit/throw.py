# SPDX-License-Identifier: MIT
"""How far a piece can fly at most: a prompt for the distance, never a choice of protection."""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import GRAVITY, FloatArray, non_negative

__all__ = ["throw_range"]


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
    Air shortens the flight of small pieces; a bounce or a slide on the floor lengthens it. No
    published speed of the pieces of a pane broken in a demonstration is known to us, so the
    speed is for the user to choose, and a trial throw tells more. It says nothing of harm to
    eyes and does not select protection.

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
