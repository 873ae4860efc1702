# SPDX-License-Identifier: MIT
"""Bend a disc gently: supported along its rim, or between two rings.

The same thin plate, signs and small deflections as in `glasskit.bending.panes`.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.bending.panes import (
    Bending,
    PlateMaterial,
    bent,
    equivalent_radius,
    flexural_rigidity,
)
from glasskit.quantities import FloatArray, finite, having, in_range, positive, require


def circular_uniform(
    pressure: ArrayLike, radius: ArrayLike, thickness: ArrayLike, material: PlateMaterial
) -> Bending:
    """Press evenly on a disc supported along its rim.

    Parameters
    ----------
    pressure : array_like
        Uniform pressure [Pa].
    radius : array_like
        Radius of the support [m].
    thickness : array_like
        Thickness [m].
    material : PlateMaterial
        Anything with `modulus` [Pa] and `poisson` [-].

    Returns
    -------
    Bending
        At the middle; both stresses are equal there.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Warns
    -----
    OutsideValidityWarning
        If the disc sinks beyond `LINEAR_LIMIT` of its thickness.

    References
    ----------
    [Roark] table 11.2.

    Examples
    --------
    A disc 3 mm thick on a ring of 100 mm under 0.1 MPa, in MPa:

    >>> from glasskit.materials import glass
    >>> circular_uniform(0.1e6, 50e-3, 3e-3, glass("soda-lime")).stress.item() / 1e6
    33.33

    """
    having("material", material, "modulus", "poisson")
    load, depth = finite("pressure", pressure, "Pa"), positive("thickness", thickness, "m")
    rim, ratio = positive("radius", radius, "m"), material.poisson
    rigidity = flexural_rigidity(depth, material)
    sink = (5 + ratio) * load * rim**4 / (64 * (1 + ratio) * rigidity)
    moment = np.asarray((3 + ratio) * load * rim**2 / 16)
    return bent(np.asarray(sink), moment, moment, depth)


def circular_patch(
    force: ArrayLike,
    patch_radius: ArrayLike,
    radius: ArrayLike,
    thickness: ArrayLike,
    material: PlateMaterial,
) -> Bending:
    """Press on a small round patch in the middle of a disc supported along its rim.

    Parameters
    ----------
    force : array_like
        Force, spread evenly over the patch [N].
    patch_radius : array_like
        Radius of the patch, zero for a point [m]; see `equivalent_radius`.
    radius : array_like
        Radius of the support [m].
    thickness : array_like
        Thickness [m].
    material : PlateMaterial
        Anything with `modulus` [Pa] and `poisson` [-].

    Returns
    -------
    Bending
        At the middle; both stresses are equal there. The deflection is that of a point load.

    Raises
    ------
    ValueError
        If an argument is out of its range, or the patch reaches past a fifth of the disc.

    Warns
    -----
    OutsideValidityWarning
        If the disc sinks beyond `LINEAR_LIMIT` of its thickness.

    References
    ----------
    [Roark] table 11.2.

    Examples
    --------
    A disc 3 mm thick on a ring of 100 mm, pressed with 200 N, in MPa:

    >>> from glasskit.materials import glass
    >>> circular_patch(200.0, 5e-3, 50e-3, 3e-3, glass("soda-lime")).stress.item() / 1e6
    39.93

    """
    having("material", material, "modulus", "poisson")
    load, depth = finite("force", force, "N"), positive("thickness", thickness, "m")
    rim, ratio = positive("radius", radius, "m"), material.poisson
    rigidity = flexural_rigidity(depth, material)
    patch = equivalent_radius(patch_radius, depth)
    require(patch <= 0.2 * rim, "patch_radius", patch, "stay below a fifth of the disc", "m")
    sink = load * rim**2 * (3 + ratio) / (16 * np.pi * (1 + ratio) * rigidity)
    moment = np.asarray(load / (4 * np.pi) * ((1 + ratio) * np.log(rim / patch) + 1.0))
    return bent(np.asarray(sink), moment, moment, depth)


def ring_on_ring(
    force: ArrayLike,
    load_diameter: ArrayLike,
    support_diameter: ArrayLike,
    plate_diameter: ArrayLike,
    thickness: ArrayLike,
    poisson: ArrayLike,
) -> FloatArray:
    r"""Return the even tension inside the load ring of the ring-on-ring test.

    .. math:: \sigma = \frac{3F}{2\pi h^2}\left[(1-\nu)\frac{D_S^2 - D_L^2}{2 D^2}
              + (1+\nu)\ln\frac{D_S}{D_L}\right]

    Parameters
    ----------
    force : array_like
        Force [N].
    load_diameter, support_diameter, plate_diameter : array_like
        Diameters of load ring, support ring and disc, each larger than the one before [m].
    thickness : array_like
        Thickness [m].
    poisson : array_like
        Poisson's ratio of the disc [-].

    Returns
    -------
    ndarray
        Equal in both directions, on the face away from the load ring [Pa]; broadcast.

    Raises
    ------
    ValueError
        If an argument is out of its range or the rings do not nest.

    Notes
    -----
    Small deflections; a thin disc that sinks by more than half its thickness stretches, and
    the stress then peaks under the load ring.

    References
    ----------
    [C1499].

    Examples
    --------
    1 kN on a disc 3 mm thick between rings of 20 and 40 mm:

    >>> ring_on_ring(1e3, 20e-3, 40e-3, 50e-3, 3e-3, 0.2).item() / 1e6
    54.3

    """
    load_ring = positive("load_diameter", load_diameter, "m")
    support = positive("support_diameter", support_diameter, "m")
    disc = positive("plate_diameter", plate_diameter, "m")
    rule = "be larger than {}".format
    require(support > load_ring, "support_diameter", support, rule("load_diameter"), "m")
    require(disc >= support, "plate_diameter", disc, "reach support_diameter", "m")
    ratio, depth = (
        in_range("poisson", poisson, 0.0, 0.5),
        positive("thickness", thickness, "m"),
    )
    shape = (1 - ratio) * (support**2 - load_ring**2) / (2 * disc**2)
    shape = shape + (1 + ratio) * np.log(support / load_ring)
    return np.asarray(1.5 * finite("force", force, "N") / (np.pi * depth**2) * shape)
