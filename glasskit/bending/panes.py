# SPDX-License-Identifier: MIT
"""Bend a pane gently: deflection and far-face stress under a small patch.

Kirchhoff's thin plate, simply supported (edges held down, free to turn and to slide), small
deflections. Loads press down, deflection is positive downwards, stress is that of the far
face, positive in tension. The series are summed here for any Poisson's ratio; handbooks print
them for 0.3 only.
"""

import warnings
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import zeta

from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    finite,
    having,
    in_range,
    positive,
    read_only,
    require,
)

LINEAR_LIMIT = 0.5
"""Deflection over thickness up to which bending alone carries the load [-], a common rule."""

_ODD = np.arange(1.0, 24.0, 2.0)  # what is summed falls at least as fast as exp(-pi m / 2)


class PlateMaterial(Protocol):
    """Whatever has a Young's modulus [Pa] and a Poisson's ratio [-], such as a glass."""

    @property
    def modulus(self) -> float:
        """Young's modulus [Pa]."""

    @property
    def poisson(self) -> float:
        """Poisson's ratio [-]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bending:
    """The middle of a bent pane.

    Attributes
    ----------
    deflection : ndarray
        How far the middle sinks [m].
    stress : ndarray
        Larger tension of the far face, across the shorter span [Pa].
    cross_stress : ndarray
        Tension at right angles to it [Pa].

    """

    deflection: FloatArray
    stress: FloatArray
    cross_stress: FloatArray


def flexural_rigidity(thickness: ArrayLike, material: PlateMaterial) -> FloatArray:
    """Return the bending stiffness of a plate, E h^3/(12 (1 - nu^2)).

    Parameters
    ----------
    thickness : array_like
        Thickness [m].
    material : PlateMaterial
        Anything with `modulus` [Pa] and `poisson` [-].

    Returns
    -------
    ndarray
        Rigidity [N m].

    Raises
    ------
    ValueError
        If the thickness or the modulus is not positive, or Poisson's ratio not 0 to 0.5.

    Notes
    -----
    A plate of one material, thin against its sides.

    References
    ----------
    [Timoshenko1959]

    Examples
    --------
    Window glass 4 mm thick, in N m:

    >>> from glasskit.materials import glass
    >>> flexural_rigidity(4e-3, glass("soda-lime")).item()
    388.9

    """
    having("material", material, "modulus", "poisson")
    young = positive("modulus", material.modulus, "Pa")
    ratio = in_range("poisson", material.poisson, 0.0, 0.5)
    depth = positive("thickness", thickness, "m")
    return np.asarray(young * depth**3 / (12.0 * (1.0 - ratio**2)))


def equivalent_radius(patch_radius: ArrayLike, thickness: ArrayLike) -> FloatArray:
    r"""Return the radius to use in thin-plate formulas for a small loaded patch.

    .. math:: r_0' = \sqrt{1.6 r_0^2 + h^2} - 0.675 h \quad\text{if } r_0 < h/2,
              \text{ else } r_0

    A load on a spot smaller than the pane is thick spreads before it reaches the far face, so
    that the stress there stays finite, however small the spot.

    Parameters
    ----------
    patch_radius : array_like
        Radius of the loaded patch [m], zero for a point.
    thickness : array_like
        Thickness of the pane [m].

    Returns
    -------
    ndarray
        Radius [m], at least 0.325 of the thickness; broadcast.

    Raises
    ------
    ValueError
        If the patch is negative, or the thickness is not positive.

    Notes
    -----
    A fit to the exact solution of a thick plate, good to some per cent; the place must lie a
    few thicknesses from every edge.

    References
    ----------
    [Roark] table 11.4, after Westergaard.

    Examples
    --------
    A point on a pane 4 mm thick, in mm:

    >>> equivalent_radius(0.0, 4e-3).item() * 1e3
    1.3

    """
    depth = positive("thickness", thickness, "m")
    patch = finite("patch_radius", patch_radius, "m")
    require(patch >= 0, "patch_radius", patch, "be zero or more", "m")
    small = np.sqrt(1.6 * patch**2 + depth**2) - 0.675 * depth
    return np.asarray(np.where(patch < 0.5 * depth, small, patch))


def bent(
    deflection: FloatArray, moment: FloatArray, cross_moment: FloatArray, thickness: FloatArray
) -> Bending:
    """Return what two bending moments at a place mean, warning where a pane also stretches.

    Parameters
    ----------
    deflection : ndarray
        Deflection there [m].
    moment, cross_moment : ndarray
        Larger and smaller bending moment per width [N].
    thickness : ndarray
        Thickness [m].

    Returns
    -------
    Bending
        Deflection and far-face stresses, broadcast.

    Warns
    -----
    OutsideValidityWarning
        If the plate sinks beyond `LINEAR_LIMIT` of its thickness.

    Examples
    --------
    A moment of 100 N m in each metre of a pane 4 mm thick, in MPa:

    >>> moment = np.asarray(100.0)
    >>> bent(np.asarray(1e-4), moment, moment, np.asarray(4e-3)).stress.item() / 1e6
    37.5

    """
    if np.any(np.abs(deflection) > LINEAR_LIMIT * thickness):
        warnings.warn(
            f"the pane sinks by more than {LINEAR_LIMIT} of its thickness: it then also "
            "stretches, and sinks less and is stressed less at its middle than said here",
            OutsideValidityWarning,
            stacklevel=3,
        )
    scale = 6.0 / thickness**2
    sink, stress, cross = read_only(deflection, scale * moment, scale * cross_moment)
    return Bending(deflection=sink, stress=stress, cross_stress=cross)


def _spans(length: ArrayLike, width: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return the shorter side, and pi m longer/(2 shorter) for odd m on a new last axis."""
    one, other = positive("length", length, "m"), positive("width", width, "m")
    short = np.minimum(one, other)
    aspect = np.maximum(one, other) / short
    return short, np.minimum(0.5 * np.pi * aspect[..., None] * _ODD, 300.0)


def pane_patch(
    force: ArrayLike,
    patch_radius: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    material: PlateMaterial,
) -> Bending:
    """Press on a small round patch in the middle of a rectangular supported pane.

    Parameters
    ----------
    force : array_like
        Force, spread evenly over the patch [N].
    patch_radius : array_like
        Radius of the patch, zero for a point [m]; see `equivalent_radius`.
    length, width : array_like
        Sides between the supports, in either order [m].
    thickness : array_like
        Thickness [m].
    material : PlateMaterial
        Anything with `modulus` [Pa] and `poisson` [-].

    Returns
    -------
    Bending
        Under the middle of the patch, on the far face; every field of the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range, or the patch reaches past a tenth of the pane.

    Warns
    -----
    OutsideValidityWarning
        If the pane sinks beyond `LINEAR_LIMIT` of its thickness.

    Notes
    -----
    The deflection is that of a point load; a patch whose radius is a tenth of the side lowers
    that of a square by 5 %. Thin-plate theory leaves out dent and shear under the load.

    References
    ----------
    [Timoshenko1959] art. 34 to 37; [Roark] table 11.4 case 1b.

    Examples
    --------
    A fingertip with 20 N on a pane 0.5 m square and 4 mm thick:

    >>> from types import SimpleNamespace
    >>> glass = SimpleNamespace(modulus=70e9, poisson=0.2)
    >>> bent = pane_patch(20.0, 5e-3, 0.5, 0.5, 4e-3, glass)
    >>> 1e3 * bent.deflection.item(), bent.stress.item() / 1e6
    (0.149, 3.21)

    """
    load, depth = finite("force", force, "N"), positive("thickness", thickness, "m")
    rigidity = flexural_rigidity(depth, material)
    short, alpha = _spans(length, width)
    patch = equivalent_radius(patch_radius, depth)
    require(patch <= 0.1 * short, "patch_radius", patch, "stay below a tenth of the pane", "m")
    turned = alpha / np.cosh(alpha) ** 2
    lost = np.tanh(alpha) - 1.0
    odd_cubes = 0.875 * zeta(3.0)
    sink = odd_cubes + np.sum((lost - turned) / _ODD**3, axis=-1)
    ratio = material.poisson
    spread = np.log(2.0 * short / (np.pi * patch)) + 2.0 * np.sum(lost / _ODD, axis=-1)
    twist = 2.0 * np.sum(turned / _ODD, axis=-1)
    share = load / (4.0 * np.pi)
    return bent(
        load * short**2 / (2.0 * np.pi**3 * rigidity) * sink,
        share * ((1 + ratio) * spread + 1.0 - (1 - ratio) * twist),
        share * ((1 + ratio) * spread + ratio + (1 - ratio) * twist),
        depth,
    )
