# SPDX-License-Identifier: MIT
"""Bend a disc gently between two rings.

The same thin plate, signs and small deflections as in `glasskit.bending.panes`.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, finite, in_range, positive, require


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
