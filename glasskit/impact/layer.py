# SPDX-License-Identifier: MIT
r"""Press a ball on a plate that is not thin: what its thickness does to the far face.

Under a small contact a plate does not bend as thin-plate theory says: the load spreads on its
way through the glass. The exact elastic layer answers a pressure that waves along its face
with the wave number :math:`k` by far-face bending of the thin plate times

.. math:: g(kh) = \frac{x^3 \sinh x}{3(\sinh^2 x - x^2)}, \qquad x = k h

so that long waves (g = 1) bend it as a thin plate and short ones do not reach the far face.
The struck face is squeezed by g x/sinh x, besides the stress under a ball on a thick block.
Hertz's pressure is summed over its waves [TimoshenkoGoodier1970].
"""

from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import exp1, j0, j1

from glasskit.quantities import FloatArray, non_negative, positive

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(240)
_WAVES, _SHARES = 12.5 * (_NODES + 1.0), 12.5 * _WEIGHTS  # k h; g is below 1e-6 at 25
_FAR = 5.0  # distance over thickness beyond which only the total load counts
_WIDEST = 12.0  # contact radius over thickness up to which the table goes


def spot_moments(
    distance: ArrayLike,
    contact_radius: ArrayLike,
    thickness: float,
    poisson: float,
    face: Literal["far", "struck"] = "far",
) -> FloatArray:
    """Return the bending of a face around a ball on an unbounded plate.

    Parameters
    ----------
    distance : array_like, shape (r,)
        Distances from the middle of the contact, above zero [m].
    contact_radius : array_like, shape (c,)
        Radii of the contact, zero for a point [m].
    thickness : float
        Thickness of the plate [m].
    poisson : float
        Poisson's ratio [-].
    face : {"far", "struck"}
        Which face; on the struck one the stress of the contact itself is left out.

    Returns
    -------
    ndarray, shape (2, r, c)
        Bending moment per width and per force, along the radius and around it [-]; 6/h^2
        times it is the tension of the far face, or the squeeze of the struck one. As an
        unbounded plate has no zero of its own, that of ``-log(distance in metres)/(2 pi)`` is
        taken: only differences count.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    At rest, without friction. Far away it is the thin plate under a point.

    References
    ----------
    [TimoshenkoGoodier1970] art. 24 for the layer, [Johnson1985] for the pressure.

    Examples
    --------
    One thickness away a point load pulls as in a thin plate to 2 %, in the middle it stays
    finite:

    >>> spot_moments([1e-6, 4e-3], [0.0], 4e-3, 0.2)[0, :, 0].round(3)
    array([0.682, 0.496])

    """
    depth, ratio = positive("thickness", thickness, "m"), np.asarray(poisson)
    away = positive("distance", distance, "m")[:, None]
    spot = non_negative("contact_radius", contact_radius, "m") / depth
    near = np.minimum(away[:, 0] / depth, _FAR)[:, None] * _WAVES
    # Less a bell-shaped load of width h, whose thin plate is known in closed form.
    excess = (_spread(face) * _pressure(spot[:, None] * _WAVES) - np.exp(-(_WAVES**2) / 2)).T
    excess = excess * (_SHARES / _WAVES)[:, None]
    bell_total, bell_turned = _bell(away, depth)
    far, second = away > _FAR * depth, 1 / 30 if face == "far" else 1 / 30 - 1 / 6
    plain = -np.log(away) / 2 + 0.25 + depth**2 * (second - spot**2 / 10) / away**2
    total = np.where(far, -np.log(away), j0(near) @ excess + bell_total)
    turned = np.where(far, plain, (j1(near) / near) @ excess + bell_turned)
    return _moments(total, turned, ratio)


def bell_moments(distance: ArrayLike, width: float, poisson: float) -> FloatArray:
    """Return the same for a thin plate under a bell-shaped pressure.

    Parameters
    ----------
    distance : array_like, shape (r,)
        Distances from its middle, above zero [m].
    width : float
        Standard deviation of the pressure along any line through the middle [m].
    poisson : float
        Poisson's ratio [-].

    Returns
    -------
    ndarray, shape (2, r)
        Bending moment per width and per force, along the radius and around it [-].

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    """
    away = positive("distance", distance, "m")
    return _moments(*_bell(away, positive("width", width, "m")), np.asarray(poisson))


def _bell(away: FloatArray, width: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return 2 pi times the sum of both curvatures, and the one around the middle."""
    bell, log = (away / width) ** 2 / 2, np.log(away)
    tail = exp1(bell)
    inner = bell * tail - np.expm1(-bell)
    return -log - tail / 2, -log / 2 + 0.25 - inner / (4 * bell)


def _moments(total: FloatArray, turned: FloatArray, ratio: FloatArray) -> FloatArray:
    pair = [total - (1 - ratio) * turned, ratio * total + (1 - ratio) * turned]
    return np.stack(pair) / (2 * np.pi)


def far_face_radius(contact_radius: ArrayLike, thickness: ArrayLike) -> FloatArray:
    """Return the radius to use in thin-plate formulas for a ball's contact.

    Parameters
    ----------
    contact_radius : array_like
        Radius of the circle of contact, zero for a point [m].
    thickness : array_like
        Thickness of the plate [m].

    Returns
    -------
    ndarray
        Radius of an evenly pressed patch that pulls the far face of a thin plate, at its
        middle, as the ball pulls that of the true one [m]; broadcast.

    Raises
    ------
    ValueError
        If the contact is negative, or the thickness is not positive.

    Notes
    -----
    The handbooks' `glasskit.bending.panes.equivalent_radius` is a fit to the same thing for an
    even pressure; for a point they agree within 0.1 %.

    Examples
    --------
    For a point, and for a contact half as wide as the plate is thick, in thicknesses:

    >>> far_face_radius([0.0, 0.25], 1.0).round(3)
    array([0.325, 0.361])

    """
    depth = positive("thickness", thickness, "m")
    spot = non_negative("contact_radius", contact_radius, "m") / depth
    known, radius = _table()
    wide = np.maximum(spot / known[-1], 1.0)
    return np.asarray(depth * np.interp(spot, known, radius) * wide)


@cache
def _table() -> tuple[FloatArray, FloatArray]:
    """Return contact radii and the radii that stand for them, both over the thickness."""
    known = _WIDEST * np.linspace(0.0, 1.0, 241) ** 2
    middle = spot_moments([1e-6], known, 1.0, 0.0).sum(axis=0)[0]
    return known, np.exp(0.5 - 2 * np.pi * middle)


def _spread(face: str) -> FloatArray:
    """Return g at the waves; on the struck face without what a thick block would show."""
    rise = np.sinh(_WAVES)
    small = 1.0 + _WAVES**2 / 30.0 - 71.0 * _WAVES**4 / 12600.0
    whole = _WAVES**3 * rise / (3.0 * (rise**2 - _WAVES**2))
    far = np.where(_WAVES < 0.05, small, whole)
    return far if face == "far" else far * _WAVES / rise


def _pressure(waves: FloatArray) -> FloatArray:
    """Return Hertz's pressure, wave by wave, over that of a point."""
    at = np.maximum(waves, 0.05)
    whole = 3.0 * (np.sin(at) - at * np.cos(at)) / at**3
    return np.where(waves < 0.05, 1.0 - waves**2 / 10.0, whole)
