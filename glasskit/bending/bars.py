# SPDX-License-Identifier: MIT
"""Bend a bar or a rod on two supports: tension of the far face.

Slender beams, small slopes: span at least ten depths. Loads press down, stress is that of the
face opposite the load, positive in tension. Three points: the load at mid-span. Four points:
half the load on each of two rollers, at equal distances from the supports.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    doubt,
    finite,
    positive,
    require,
)


def bar_section(width: ArrayLike, thickness: ArrayLike) -> FloatArray:
    """Return the section modulus of a flat bar, its moment over its far-face stress.

    Parameters
    ----------
    width, thickness : array_like
        Sides across and along the load [m].

    Returns
    -------
    ndarray
        Section modulus [m^3], broadcast.

    Raises
    ------
    ValueError
        If a side is not finite and positive.

    Warns
    -----
    OutsideValidityWarning
        If the thickness looks like one in another unit.

    Notes
    -----
    A straight bar of even section, thin against its span: at a span of ten thicknesses shear
    adds about 3 % to the deflection of glass.

    References
    ----------
    Common practice: beams of the textbooks.

    Examples
    --------
    A strip 25 mm wide and 4 mm thick, in mm^3:

    >>> bar_section(25e-3, 4e-3).item() * 1e9
    66.67

    """
    broad, deep = positive("width", width, "m"), positive("thickness", thickness, "m")
    doubt("thickness", deep, "thickness")
    return np.asarray(broad * deep**2 / 6)


def rod_section(diameter: ArrayLike) -> FloatArray:
    """Return the section modulus of a round rod.

    Parameters
    ----------
    diameter : array_like
        Diameter [m].

    Returns
    -------
    ndarray
        Section modulus [m^3], of the same shape.

    Raises
    ------
    ValueError
        If the diameter is not finite and positive.

    Warns
    -----
    OutsideValidityWarning
        If the diameter looks like one in another unit.

    Notes
    -----
    A straight rod of even diameter.

    References
    ----------
    Common practice: beams of the textbooks.

    Examples
    --------
    A rod of 5 mm, in mm^3:

    >>> rod_section(5e-3).item() * 1e9
    12.27

    """
    across = positive("diameter", diameter, "m")
    doubt("diameter", across, "thickness")
    return np.asarray(np.pi * across**3 / 32)


def _inside(outer_span: ArrayLike, inner_span: ArrayLike) -> tuple[FloatArray, FloatArray]:
    outer, inner = (
        positive("outer_span", outer_span, "m"),
        finite("inner_span", inner_span, "m"),
    )
    rule = "lie in 0 <= inner_span < outer_span"
    require((inner >= 0) & (inner < outer), "inner_span", inner, rule, "m")
    return outer, inner


def three_point_stress(force: ArrayLike, span: ArrayLike, section: ArrayLike) -> FloatArray:
    """Return the far-face tension under a load at mid-span, F L/(4 Z).

    Parameters
    ----------
    force : array_like
        Load [N].
    span : array_like
        Distance between the supports [m].
    section : array_like
        Section modulus, from `bar_section` or `rod_section` [m^3].

    Returns
    -------
    ndarray
        Stress [Pa], broadcast.

    Raises
    ------
    ValueError
        If `span` is not finite and positive.

    Notes
    -----
    The peak is narrow: a quarter of the span away from the load half of it is left.

    References
    ----------
    [C158]

    Examples
    --------
    A microscope slide, 26 mm by 1 mm, on supports 60 mm apart, loaded with 20 N:

    >>> three_point_stress(20.0, 60e-3, bar_section(26e-3, 1e-3)).item() / 1e6
    69.2

    """
    moment = finite("force", force, "N") * positive("span", span, "m") / 4
    return np.asarray(moment / positive("section", section, "m^3"))


def four_point_stress(
    force: ArrayLike, outer_span: ArrayLike, inner_span: ArrayLike, section: ArrayLike
) -> FloatArray:
    """Return the even far-face tension between the loads, F (L - l)/(4 Z).

    Parameters
    ----------
    force : array_like
        Load on both rollers together [N].
    outer_span, inner_span : array_like
        Distance between the supports and between the loads [m].
    section : array_like
        Section modulus, from `bar_section` or `rod_section` [m^3].

    Returns
    -------
    ndarray
        Stress [Pa], broadcast.

    Raises
    ------
    ValueError
        If the loads do not lie inside the supports.

    Notes
    -----
    Between the inner rollers and away from their feet. A bar that sinks by a tenth of its span
    is off by some per cent: friction on the rollers, and the shorter arm.

    References
    ----------
    [C158], where the load's arm is (L - l)/2.

    Examples
    --------
    A strip 25 mm by 4 mm under 100 N, in MPa:

    >>> strip = bar_section(25e-3, 4e-3)
    >>> four_point_stress(100.0, 0.2, 0.1, strip).item() / 1e6
    37.5

    """
    outer, inner = _inside(outer_span, inner_span)
    moment = finite("force", force, "N") * (outer - inner) / 4
    return np.asarray(moment / positive("section", section, "m^3"))


def self_weight_stress(
    density: ArrayLike, thickness: ArrayLike, span: ArrayLike
) -> FloatArray:
    """Return the far-face tension at mid-span of a flat strip under its own weight.

    Parameters
    ----------
    density : array_like
        Density [kg/m^3].
    thickness : array_like
        Thickness [m].
    span : array_like
        Distance between the supports [m].

    Returns
    -------
    ndarray
        3 rho g L^2/(4 h) [Pa], broadcast.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    A strip supported along two sides and bent one way, far from the supports' own pressure.

    References
    ----------
    [EN1288] part 3, second term.

    Examples
    --------
    A pane 4 mm thick over a metre, in MPa:

    >>> self_weight_stress(2500.0, 4e-3, 1.0).item() / 1e6
    4.597

    """
    weight = positive("density", density, "kg/m^3") * GRAVITY
    deep, length = positive("thickness", thickness, "m"), positive("span", span, "m")
    return np.asarray(0.75 * weight * length**2 / deep)
