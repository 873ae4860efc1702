# SPDX-License-Identifier: MIT
r"""See stress as colour between crossed polarisers.

Stressed glass splits light into two waves, one swinging along each principal stress, and the
one lags behind the other by the retardation

.. math:: \Gamma = C\,\int (\sigma_1 - \sigma_2)\,ds

along the ray. Crossed polarisers let through the share :math:`\sin^2 2\theta\,
\sin^2(\pi\Gamma/\lambda)` of each wavelength: no stress is dark, and white light leaves as
colour. What counts is the difference of the stresses across the ray. A pane seen face-on is
pressed alike in both directions, and its skin is balanced by its core: nothing shows.

Tension is positive, depth is measured from a face inwards; a retardation has the sign of its
stress difference.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import quad

from glasskit.quantities import FloatArray, finite, non_negative, positive, require

DIAGONAL = np.pi / 4
"""Angle between polariser and stress at which most light passes [rad]."""


def retardation(
    stress_difference: ArrayLike, path: ArrayLike, stress_optic: ArrayLike
) -> FloatArray:
    r"""Return how far one wave lags behind the other, :math:`\Gamma = C(\sigma_1-\sigma_2)s`.

    Parameters
    ----------
    stress_difference : array_like
        Principal stress difference across the ray [Pa].
    path : array_like
        Way of the light through the stressed glass :math:`s` [m].
    stress_optic : array_like
        Stress-optic coefficient :math:`C` [1/Pa].

    Returns
    -------
    ndarray of float
        Retardation [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `path` or `stress_optic` is not positive, or the stress not finite.

    Notes
    -----
    The coefficient changes by a few per cent over the visible and is taken as one number.

    References
    ----------
    [ASTMC770]

    Examples
    --------
    100 MPa along a bar 6 mm wide of soda-lime glass, in nm:

    >>> (1e9 * retardation(100e6, 6e-3, 2.62e-12)).round().item()
    1572.0

    """
    difference = finite("stress_difference", stress_difference, "Pa")
    way = positive("path", path, "m")
    return np.asarray(positive("stress_optic", stress_optic, "1/Pa") * difference * way)


def stress_difference(
    retardation: ArrayLike, path: ArrayLike, stress_optic: ArrayLike
) -> FloatArray:
    """Return the stress difference that a measured retardation stands for.

    The inverse of `retardation`.

    Parameters
    ----------
    retardation : array_like
        How far one ray lags behind the other [m].
    path : array_like
        Length of glass that the light crosses [m].
    stress_optic : array_like
        Stress-optic coefficient of the glass [1/Pa].

    Returns
    -------
    ndarray
        Difference of the principal stresses across the ray [Pa], broadcast.

    Raises
    ------
    ValueError
        If `retardation` is not finite, or another argument not finite and positive.

    Notes
    -----
    The mean along the ray; a retardation beyond one wave must be counted, not guessed from
    the colour.

    References
    ----------
    [ASTMC770]

    Examples
    --------
    One order of green light through 10 mm of window glass, in MPa:

    >>> stress_difference(550e-9, 10e-3, 2.62e-12).item() / 1e6
    20.99

    """
    lag = finite("retardation", retardation, "m")
    way = positive("path", path, "m")
    return np.asarray(lag / (positive("stress_optic", stress_optic, "1/Pa") * way))


def edge_view(
    stress: Callable[[FloatArray], FloatArray],
    depth: ArrayLike,
    path: ArrayLike,
    stress_optic: ArrayLike,
) -> FloatArray:
    """Return the retardation seen through the edge of a pane at each depth below a face.

    Parameters
    ----------
    stress : callable
        Stress in the plane of the pane at each depth, such as a `StressProfile` [Pa].
    depth : array_like
        Depth below the face [m].
    path : array_like
        Way of the light from edge to edge [m].
    stress_optic : array_like
        Stress-optic coefficient [1/Pa].

    Returns
    -------
    ndarray of float
        Retardation, negative in the compressed skin [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `path` or `stress_optic` is not positive.

    Notes
    -----
    Nothing presses on the faces, so the whole in-plane stress is seen. Within about one
    thickness of each edge the stress fades, so take that off a short path. Through a
    wide pane there are more fringes than the eye can part: use a narrow strip with polished
    edges.

    References
    ----------
    Common practice.

    Examples
    --------
    The core of a 6 mm tempered pane, 50 MPa, through a strip 10 mm wide, in nm:

    >>> from glasskit.stress import tempered
    >>> (1e9 * edge_view(tempered(100e6, 6e-3), 3e-3, 10e-3, 2.62e-12)).round().item()
    1310.0

    """
    return retardation(stress(non_negative("depth", depth, "m")), path, stress_optic)


def bent_bar(
    surface_stress: ArrayLike,
    share_of_depth: ArrayLike,
    path: ArrayLike,
    stress_optic: ArrayLike,
) -> FloatArray:
    """Return the retardation seen through the side of a bent bar.

    Parameters
    ----------
    surface_stress : array_like
        Stress at the stretched face [Pa].
    share_of_depth : array_like
        Depth below that face over the depth of the bar, 0 to 1 [-].
    path : array_like
        Width of the bar [m].
    stress_optic : array_like
        Stress-optic coefficient [1/Pa].

    Returns
    -------
    ndarray of float
        Retardation: straight from face to face, zero in the middle [m].

    Raises
    ------
    ValueError
        If `share_of_depth` lies outside 0 to 1, or `path` or `stress_optic` is not positive.

    Notes
    -----
    Between the inner loads of a bar bent at four points, away from their feet.

    References
    ----------
    [ASTMC770]

    Examples
    --------
    >>> (1e9 * bent_bar(20e6, [0.0, 0.5, 1.0], 10e-3, 2.62e-12)).round()
    array([ 524.,    0., -524.])

    """
    place = finite("share_of_depth", share_of_depth)
    rule = "lie in 0 <= share_of_depth <= 1"
    require((place >= 0) & (place <= 1), "share_of_depth", place, rule)
    face = finite("surface_stress", surface_stress, "Pa")
    return retardation(face * (1 - 2 * place), path, stress_optic)


def face_view(
    along: Callable[[FloatArray], FloatArray],
    across: Callable[[FloatArray], FloatArray],
    thickness: float,
    stress_optic: float,
) -> float:
    """Return the retardation of a pane seen face-on.

    Parameters
    ----------
    along, across : callable
        Stress in two directions square to each other at each depth [Pa].
    thickness : float
        Thickness [m].
    stress_optic : float
        Stress-optic coefficient [1/Pa].

    Returns
    -------
    float
        Retardation [m]. Zero for any residual profile, which is the same in both directions;
        zero also for pure bending, whose two halves cancel; not zero for a pull.

    Raises
    ------
    ValueError
        If `thickness` or `stress_optic` is not positive.

    Notes
    -----
    Real tempered panes show faint spots in polarised daylight, where the air jets cooled
    unevenly and the two directions differ, and strong colour near edges and holes.

    References
    ----------
    Definition: the difference of the two stresses, summed along the ray.

    Examples
    --------
    >>> from glasskit.stress import tempered
    >>> pane = tempered(100e6, 6e-3)
    >>> face_view(pane, pane, 6e-3, 2.62e-12)
    0.0

    """
    size = positive("thickness", thickness, "m").item()
    coefficient = positive("stress_optic", stress_optic, "1/Pa").item()

    def difference(depth: float) -> float:
        place = np.asarray(depth)
        return float(along(place) - across(place))

    total, _ = quad(difference, 0.0, size, points=[size / 2], limit=200)
    return float(coefficient * total)


def share_passed(
    retardation: ArrayLike, wavelength: ArrayLike, angle: ArrayLike = DIAGONAL
) -> FloatArray:
    r"""Return the share of light that passes crossed polarisers.

    .. math:: \frac{I}{I_0} = \sin^2(2\theta)\,\sin^2(\pi\Gamma/\lambda)

    Parameters
    ----------
    retardation : array_like
        Retardation :math:`\Gamma` [m].
    wavelength : array_like
        Wavelength in air :math:`\lambda` [m].
    angle : array_like
        Angle between the first polariser and a principal stress :math:`\theta` [rad].

    Returns
    -------
    ndarray of float
        Share of what passes the first polariser, 0 to 1 [-].

    Raises
    ------
    ValueError
        If `wavelength` is not positive or another argument not finite.

    Notes
    -----
    One wavelength, ideal polarisers, no reflection.

    References
    ----------
    [BornWolf1999]

    Examples
    --------
    Half a wave passes whole, a whole wave not at all:

    >>> share_passed([275e-9, 550e-9], 550e-9).round(3)
    array([1., 0.])

    """
    waves = finite("retardation", retardation, "m") / positive("wavelength", wavelength, "m")
    tilt = np.sin(2 * finite("angle", angle, "rad"))
    return np.asarray((tilt * np.sin(np.pi * waves)) ** 2)
