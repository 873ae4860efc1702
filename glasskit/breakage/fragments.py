# SPDX-License-Identifier: MIT
r"""Read a broken pane: mirror, mist and branching, and how fast cracks run.

A crack starts smooth (mirror), roughens (mist, hackle) and then splits in two. Each change
comes at a distance :math:`r` from the origin with :math:`\sigma\sqrt{r}` constant, so a ruler
tells the stress at the break. How small the pieces are is told by `glasskit.breakage.crumbs`.
"""

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from glasskit.materials import glass
from glasskit.quantities import (
    FloatArray,
    non_negative,
    positive,
)

MIRROR_CONSTANTS = MappingProxyType(
    {"mist": (1.6e6, 1.9e6), "hackle": (1.8e6, 2.1e6), "branching": (2.1e6, 2.4e6)}
)
"""Lowest and highest published constant of each feature in soda-lime glass [Pa sqrt(m)]
([Quinn2016]; memory)."""

TERMINAL_SPEED = glass("soda-lime").values["crack_speed"].value
"""Speed at which a crack in soda-lime glass runs at last [m/s]."""


def feature_radius(
    stress: ArrayLike, constant: ArrayLike, surface_compression: ArrayLike = 0.0
) -> FloatArray:
    r"""Return how far from the origin a crack roughens or splits.

    .. math:: r = \left(\frac{A}{\sigma_a - \sigma_R}\right)^2

    Parameters
    ----------
    stress : array_like
        Applied tension at the break, :math:`\sigma_a` [Pa].
    constant : array_like
        Constant of the feature :math:`A`, see `MIRROR_CONSTANTS` [Pa sqrt(m)].
    surface_compression : array_like
        Residual compression :math:`\sigma_R`, positive [Pa].

    Returns
    -------
    ndarray of float
        Radius along the surface [m]; infinite where the compression is not overcome.

    Raises
    ------
    ValueError
        If `surface_compression` is negative or another argument not positive.

    Notes
    -----
    For radii well below the thickness. In bending the mirror is drawn out into the depth:
    measure along the surface.

    References
    ----------
    [ConwayMecholsky1989], [Quinn2016]

    Examples
    --------
    Branching at 60 MPa of net tension in plain glass, in mm:

    >>> (1e3 * feature_radius(60e6, MIRROR_CONSTANTS["branching"])).round(1)
    array([1.2, 1.6])

    """
    applied = positive("stress", stress, "Pa")
    net = applied - non_negative("surface_compression", surface_compression, "Pa")
    scale, net = np.broadcast_arrays(positive("constant", constant, "Pa√m"), net)
    root = np.divide(scale, net, out=np.full(net.shape, np.inf), where=net > 0)
    return np.asarray(root**2)


def breaking_stress(
    radius: ArrayLike, constant: ArrayLike, surface_compression: ArrayLike = 0.0
) -> FloatArray:
    r"""Return the applied tension at the break from a measured radius.

    .. math:: \sigma_a = A/\sqrt{r} + \sigma_R

    Parameters
    ----------
    radius : array_like
        Distance from the origin to the feature [m].
    constant : array_like
        Constant of the feature :math:`A` [Pa sqrt(m)].
    surface_compression : array_like
        Residual compression :math:`\sigma_R`, positive [Pa].

    Returns
    -------
    ndarray of float
        Applied tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `surface_compression` is negative or another argument not positive.

    Notes
    -----
    The constant spreads by some 8 % between pieces, and the stress likewise. A mirror that is
    large against the thickness is no circle any more.

    References
    ----------
    [ConwayMecholsky1989], [Quinn2016]

    Examples
    --------
    A mirror of 1 mm, then the same on glass with 100 MPa of compression, in MPa:

    >>> (1e-6 * breaking_stress(1e-3, 1.98e6, [0.0, 100e6])).round()
    array([ 63., 163.])

    """
    net = positive("constant", constant, "Pa√m") / np.sqrt(positive("radius", radius, "m"))
    return np.asarray(net + non_negative("surface_compression", surface_compression, "Pa"))
