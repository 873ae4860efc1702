# SPDX-License-Identifier: MIT
r"""Compare load cases by the area that a flaw must lie in to matter.

A large pane is weaker than a small one: it has more flaws to choose the worst from. Under an
uneven stress the places of high stress count most. The effective area

.. math:: A_{eff} = \int \sum_i \left(\frac{\sigma_i}{\sigma_{max}}\right)^m dA, \qquad
    \sigma_i > 0

is the area under an even pull in one direction at the highest stress that breaks as often.
Both principal stresses count by themselves (independent action), so an even pull in two
directions has twice its area.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, in_range, non_negative, positive, require

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(64)
_NODES, _WEIGHTS = (_NODES + 1) / 2, _WEIGHTS / 2


def size_factor(area: ArrayLike, reference_area: ArrayLike, modulus: ArrayLike) -> FloatArray:
    r"""Return the strength at one effective area over that at another.

    .. math:: \sigma/\sigma_0 = (A_0/A)^{1/m}

    Parameters
    ----------
    area, reference_area : array_like
        Effective areas; lengths do as well, for flaws along an edge [m^2].
    modulus : array_like
        Weibull modulus [-].

    Returns
    -------
    ndarray of float
        Factor on every quantile of the strength [-]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    One population of flaws in both; where edges or handling flaws take over, the rule ends.

    References
    ----------
    [Weibull1951]

    Examples
    --------
    Ten times the area of a glass of modulus 7:

    >>> size_factor(10.0, 1.0, 7.0).item()
    0.72

    """
    ratio = positive("reference_area", reference_area, "m^2") / positive("area", area, "m^2")
    return np.asarray(ratio ** (1 / positive("modulus", modulus)))


def bending_area(
    width: ArrayLike, outer_span: ArrayLike, modulus: ArrayLike, inner_span: ArrayLike = 0.0
) -> FloatArray:
    r"""Return the effective area of the stretched face of a bar in three or four points.

    .. math:: A_{eff} = b \left(l + \frac{L - l}{m + 1}\right)

    Parameters
    ----------
    width : array_like
        Width of the bar :math:`b`, or 1 for the effective length of an edge [m].
    outer_span : array_like
        Distance between the supports :math:`L` [m].
    modulus : array_like
        Weibull modulus [-].
    inner_span : array_like
        Distance between the loads :math:`l`; zero in three points [m].

    Returns
    -------
    ndarray of float
        Area [m^2]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If a size is not positive or the loads do not lie inside the supports.

    Notes
    -----
    Flat face only; the sides add ``thickness/(width (m + 1))`` of it.

    References
    ----------
    [Weibull1951]

    Examples
    --------
    40 mm and 20 mm spans, 20 mm wide, in square millimetres, four points and three:

    >>> (bending_area(0.02, 0.04, 7.0, [0.02, 0.0]) * 1e6).round()
    array([450., 100.])

    """
    broad, power = positive("width", width, "m"), positive("modulus", modulus)
    outer = positive("outer_span", outer_span, "m")
    inner = non_negative("inner_span", inner_span, "m")
    require(inner <= outer, "inner_span", inner, "be at most outer_span", "m")
    return np.asarray(broad * (inner + (outer - inner) / (power + 1)))


def ring_area(
    load_diameter: ArrayLike,
    support_diameter: ArrayLike,
    plate_diameter: ArrayLike,
    modulus: ArrayLike,
    poisson: ArrayLike = 0.22,
) -> FloatArray:
    """Return the effective area of a disc that lies on one ring and is loaded by a smaller.

    Parameters
    ----------
    load_diameter, support_diameter, plate_diameter : array_like
        Diameters of load ring, support ring and disc, ascending [m].
    modulus : array_like
        Weibull modulus [-].
    poisson : array_like
        Poisson ratio [-].

    Returns
    -------
    ndarray of float
        Area [m^2]; the inputs' broadcast shape. Twice the area inside the load ring, for
        the pull there has two directions, and some more outside.

    Raises
    ------
    ValueError
        If a diameter or the modulus is not positive, or the diameters do not ascend.

    Notes
    -----
    Thin disc, small deflection; the stress bump under the ring itself is left out.

    References
    ----------
    [C1499] gives a closed approximation; here the moments of the disc are integrated.

    Examples
    --------
    Rings of 18 and 60 mm, in square millimetres:

    >>> (ring_area(18e-3, 60e-3, 66e-3, 7.0) * 1e6).round().item()
    868.0

    """
    a, b, edge, power, nu = _columns(
        positive("load_diameter", load_diameter, "m") / 2,
        positive("support_diameter", support_diameter, "m") / 2,
        positive("plate_diameter", plate_diameter, "m") / 2,
        positive("modulus", modulus),
        in_range("poisson", poisson, 0.0, 0.5),
    )
    require(a < b, "load_diameter", 2 * a, "be less than support_diameter", "m")
    require(b <= edge, "support_diameter", 2 * b, "be at most plate_diameter", "m")
    lift = (1 - nu) * (b**2 - a**2)
    most = 2 * (1 + nu) * np.log(b / a) + lift / edge**2
    r, cells = _annulus(a, b)
    even = 2 * (1 + nu) * np.log(b / r) - lift * (1 / b**2 - 1 / edge**2)
    radial = even + (1 - nu) * a**2 * (1 / r**2 - 1 / b**2)
    hoop = even + (1 - nu) * (2 - a**2 / r**2 - a**2 / b**2)
    area = 2 * np.pi * a[..., 0] ** 2 + _share(radial / most, hoop / most, power, cells)
    r, cells = _annulus(b, edge)  # outside the support only the hoop is stretched
    hoop = lift * (1 / edge**2 + 1 / r**2)
    return np.asarray(area + _share(np.zeros_like(r), hoop / most, power, cells))


def patch_area(
    patch_radius: ArrayLike,
    support_diameter: ArrayLike,
    modulus: ArrayLike,
    poisson: ArrayLike = 0.22,
) -> FloatArray:
    """Return the effective area of the far face of a disc pressed on a small patch.

    Parameters
    ----------
    patch_radius : array_like
        Radius of the loaded patch; under a ball use `glasskit.bending.equivalent_radius` [m].
    support_diameter : array_like
        Diameter of the support; the side of a square pane will do [m].
    modulus : array_like
        Weibull modulus [-].
    poisson : array_like
        Poisson ratio [-].

    Returns
    -------
    ndarray of float
        Area [m^2]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If a size or the modulus is not positive, or the patch is wider than the support.

    Notes
    -----
    Static, thin disc, simply supported. The stress falls off only with the logarithm of the
    distance: most of the area lies outside the patch, near it for a large modulus.

    References
    ----------
    [Timoshenko1959] for the moments.

    Examples
    --------
    A patch of 1 mm radius on a disc of 300 mm, in square millimetres: a thumbnail's share.

    >>> (patch_area(1e-3, 0.3, 7.0) * 1e6).round().item()
    52.0

    """
    c, b, power, nu = _columns(
        positive("patch_radius", patch_radius, "m"),
        positive("support_diameter", support_diameter, "m") / 2,
        positive("modulus", modulus),
        in_range("poisson", poisson, 0.0, 0.5),
    )
    require(c < b, "patch_radius", c, "be less than half of support_diameter", "m")
    rim = (1 - nu) * c**2 / b**2
    most = 4 * (1 + nu) * np.log(b / c) + 4 - rim
    r = c * _NODES
    cells = 2 * np.pi * r * c * _WEIGHTS
    fall = (r / c) ** 2 / most
    inside = _share(1 - (3 + nu) * fall, 1 - (1 + 3 * nu) * fall, power, cells)
    r, cells = _annulus(c, b)
    even = 4 * (1 + nu) * np.log(b / r) - rim
    steep = (1 - nu) * c**2 / r**2
    outside = _share((even + steep) / most, (even + 4 * (1 - nu) - steep) / most, power, cells)
    return np.asarray(inside + outside)


def _columns(*values: FloatArray) -> list[FloatArray]:
    """Broadcast, with a last axis for the places along a radius."""
    return [item[..., None] for item in np.broadcast_arrays(*values)]


def _annulus(inner: FloatArray, outer: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Radii between two circles, evenly in the logarithm, and the ring area of each."""
    span = np.log(outer / inner)
    r = inner * np.exp(span * _NODES)
    return r, 2 * np.pi * r**2 * span * _WEIGHTS


def _share(
    radial: FloatArray, hoop: FloatArray, power: FloatArray, cells: FloatArray
) -> FloatArray:
    """Sum the cells, weighted by both stresses over the highest to the power."""
    pulled = np.maximum(radial, 0.0) ** power + np.maximum(hoop, 0.0) ** power
    return np.asarray((pulled * cells).sum(-1))
