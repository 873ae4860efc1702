# SPDX-License-Identifier: MIT
"""Chips, flakes and cone cracks: what a hard thing does to glass beside the crack under it.

Chips and flakes scatter by a factor of two from one try to the next, so those functions return
a `Range`. Loads are positive downwards.
"""

import warnings
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, OutsideValidityWarning, positive

AUERBACH_RADII = (1e-3, 10e-3)
"""Radii of a ball between which the load of a cone crack is proportional to the radius [m]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Range:
    """A quantity known only between two numbers.

    Attributes
    ----------
    low, high : ndarray of float
        The ends, in the unit of the quantity.

    """

    low: FloatArray
    high: FloatArray

    def __post_init__(self) -> None:
        self.low.flags.writeable = False
        self.high.flags.writeable = False


def lateral_crack(
    load: ArrayLike, toughness: ArrayLike, modulus: ArrayLike, hardness: ArrayLike
) -> Range:
    r"""Return how far the saucer-shaped crack spreads that lifts a flake beside a scratch.

    .. math:: c_L = \left[0.029\,(\cot 74^\circ)^{5/6}\,
        \frac{(E/H)^{3/4}}{K_{Ic} H^{1/4}}\right]^{1/2} P^{5/8}

    Parameters
    ----------
    load : array_like
        Force on the point [N].
    toughness : array_like
        Fracture toughness [Pa sqrt(m)].
    modulus, hardness : array_like
        Young's modulus and Vickers hardness [Pa].

    Returns
    -------
    Range
        Radius of the flake [m]: half to twice the formula, for loads well above the threshold.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    The crack opens on unloading, at about the bottom of the squeezed zone. Its radius scatters
    by a factor of two even for one point on one pane, so only a range is given.

    References
    ----------
    [MarshallLawnEvans1982]

    Examples
    --------
    A point pressed with 20 N on window glass, in mm:

    >>> flake = lateral_crack(20.0, 0.75e6, 70e9, 5.5e9)
    >>> flake.low.item() * 1e3, flake.high.item() * 1e3
    (0.05963, 0.2385)

    """
    stiff, hard = positive("modulus", modulus, "Pa"), positive("hardness", hardness, "Pa")
    cotangent = 1 / np.tan(np.radians(74.0))  # half angle between opposite edges, Vickers
    scale = 0.025 / 0.75**0.5 * cotangent ** (5 / 6) * (stiff / hard) ** 0.75
    scale = scale / (positive("toughness", toughness, "Pa√m") * hard**0.25)
    radius = np.sqrt(scale) * positive("load", load, "N") ** 0.625
    return Range(low=np.asarray(radius / 2), high=np.asarray(radius * 2))


def chip_distance(load: ArrayLike, toughness: ArrayLike) -> Range:
    r"""Return how near an edge a hard point must stand for this load to knock off a chip.

    .. math:: P = \beta K_{Ic} h^{3/2}, \qquad \beta = 9.3 \pm 1.3

    Parameters
    ----------
    load : array_like
        Force on the point, square to the surface [N].
    toughness : array_like
        Fracture toughness [Pa sqrt(m)].

    Returns
    -------
    Range
        Distance from the edge [m]; a point nearer than `low` chips, farther than `high` not.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    A sharp point, and an edge that is square and smooth; a ground or bevelled edge bears more.

    References
    ----------
    [ChaiLawn2007]

    Examples
    --------
    A point pressed with 100 N on window glass, in mm:

    >>> near = chip_distance(100.0, 0.75e6)
    >>> near.low.item() * 1e3, near.high.item() * 1e3
    (0.5409, 0.6525)

    """
    ratio = positive("load", load, "N") / positive("toughness", toughness, "Pa√m")
    return Range(
        low=np.asarray((ratio / 10.6) ** (2 / 3)), high=np.asarray((ratio / 8.0) ** (2 / 3))
    )


def cone_crack_load(radius: ArrayLike, toughness: ArrayLike, modulus: ArrayLike) -> FloatArray:
    r"""Return the load at which a smooth hard ball cracks glass in a ring (Auerbach's law).

    .. math:: P_c = 8.6\times10^{3}\,\frac{K_{Ic}^{2}}{E}\,R

    Parameters
    ----------
    radius : array_like
        Radius of the ball [m].
    toughness : array_like
        Fracture toughness [Pa sqrt(m)].
    modulus : array_like
        Young's modulus of the glass [Pa].

    Returns
    -------
    ndarray of float
        Load [N]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Warns
    -----
    OutsideValidityWarning
        If a radius lies outside `AUERBACH_RADII`: above, the load grows as the square of the
        radius; below, the glass yields before it cracks. Sources set the lower end between
        0.2 and 1 mm and the upper between 10 and 20 mm; the surest range is kept.

    References
    ----------
    [Lawn1998], [LangitanLawn1969]

    Examples
    --------
    A ball of 2 mm radius:

    >>> cone_crack_load(2e-3, 0.75e6, 70e9).item()
    138.2

    """
    ball = positive("radius", radius, "m")
    low, high = AUERBACH_RADII
    if np.any((ball < low) | (ball > high)):
        warnings.warn(
            f"radius outside {low * 1e3:g} to {high * 1e3:g} mm: the load of a cone crack is "
            "not proportional to the radius there",
            OutsideValidityWarning,
            stacklevel=2,
        )
    resistance = positive("toughness", toughness, "Pa√m")
    return np.asarray(8.6e3 * resistance**2 / positive("modulus", modulus, "Pa") * ball)
