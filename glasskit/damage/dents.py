# SPDX-License-Identifier: MIT
r"""Press a hard point into glass: the crack, the chip, the strength that is left.

A point harder than glass squeezes out a permanent dent. The dent is a wedge that stays, and it
holds a half-penny crack of depth :math:`c` open with the stress intensity
:math:`\chi P/c^{3/2}`. Compression in the surface presses the same crack shut with
:math:`\psi\sigma_R\sqrt{c}`. The crack stops where what is left equals the toughness
[Anstis1981]_, [MarshallLawn1977]_. Loads are positive downwards, depths are measured from the
surface inwards, and a surface compression is a positive number.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import cumulative_trapezoid

from glasskit.materials import glass
from glasskit.quantities import (
    FloatArray,
    non_negative,
    positive,
)

SHAPE_FACTOR = 1.2
"""Stress intensity of a half-penny surface crack under unit stress over the root of its depth
[-]; 1.16 to 1.26 in the literature, 2/sqrt(pi) times a free-surface factor."""

_DEPTHS = 4000  # tried evenly in the logarithm: neighbours differ by 0.3 %


def wedge_factor(modulus: ArrayLike, hardness: ArrayLike) -> FloatArray:
    r"""Return how strongly the dent of a Vickers pyramid wedges its crack open.

    .. math:: \chi = 0.016\,\sqrt{E/H}

    Parameters
    ----------
    modulus : array_like
        Young's modulus :math:`E` [Pa].
    hardness : array_like
        Vickers hardness as mean pressure :math:`H` [Pa].

    Returns
    -------
    ndarray of float
        Wedge factor [-]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    The constant is a fit over many ceramics and is good to a quarter, 0.016 ± 0.004. Glasses
    that compact under the point, such as silica, lie below it.

    References
    ----------
    [Anstis1981]

    Examples
    --------
    >>> wedge_factor(70e9, 5.5e9).item()
    0.0571

    """
    return np.asarray(
        0.016
        * np.sqrt(positive("modulus", modulus, "Pa") / positive("hardness", hardness, "Pa"))
    )


SODA_LIME_WEDGE = wedge_factor(glass("soda-lime").modulus, glass("soda-lime").hardness).item()
"""Wedge factor of soda-lime glass [-]."""


def half_diagonal(load: ArrayLike, hardness: ArrayLike) -> FloatArray:
    """Return half the diagonal of a Vickers dent, ``sqrt(P / 2 H)``.

    Parameters
    ----------
    load : array_like
        Force on the pyramid [N].
    hardness : array_like
        Mean pressure over the dent's projected area [Pa].

    Returns
    -------
    ndarray of float
        Half the diagonal [m], broadcast.

    Raises
    ------
    ValueError
        If `load` is negative or `hardness` not finite and positive.

    Notes
    -----
    A definition turned round; what springs back on unloading is left out.

    Examples
    --------
    Ten newtons on window glass, in micrometres:

    >>> half_diagonal(10.0, 5.5e9).item() * 1e6
    30.15

    """
    force = non_negative("load", load, "N")
    return np.asarray(np.sqrt(force / (2 * positive("hardness", hardness, "Pa"))))


def radial_crack(
    load: ArrayLike,
    toughness: ArrayLike,
    surface_compression: ArrayLike = 0.0,
    *,
    wedge: ArrayLike = SODA_LIME_WEDGE,
) -> FloatArray:
    r"""Return how deep the crack under a hard point goes.

    .. math:: \frac{\chi P}{c^{3/2}} - \psi\,\sigma_R\sqrt{c} = K_{Ic}

    Parameters
    ----------
    load : array_like
        Force on the point :math:`P` [N].
    toughness : array_like
        Fracture toughness :math:`K_{Ic}` [Pa sqrt(m)].
    surface_compression : array_like
        Compression :math:`\sigma_R`, positive, the same over the whole crack [Pa].
    wedge : array_like
        Wedge factor :math:`\chi` of `wedge_factor`; soda-lime glass unless given [-].

    Returns
    -------
    ndarray of float
        Depth of the crack from the surface [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `load` or `surface_compression` is negative, or another argument not positive.

    Notes
    -----
    A sharp pyramid of Vickers' shape, pressed slowly. A sharper grain cracks deeper. The depth
    is good to about a fifth, since :math:`\chi` is good to a quarter. Compression that ends
    within the crack holds it less: see `radial_crack_in`.

    References
    ----------
    [Anstis1981], [MarshallLawn1977]

    Examples
    --------
    Ten newtons on a grain: plain glass, then glass with 500 MPa of compression, in µm:

    >>> (1e6 * radial_crack(10.0, 0.75e6, [0.0, 500e6])).round(1)
    array([84.4, 28. ])

    """
    drive = positive("wedge", wedge) * non_negative("load", load, "N")
    resistance = positive("toughness", toughness, "Pa√m")
    closing = SHAPE_FACTOR * non_negative("surface_compression", surface_compression, "Pa")
    drive, resistance, closing = np.broadcast_arrays(drive, resistance, closing)
    # The root of closing x^4 + resistance x^3 = drive, x = sqrt(c). Each term alone bounds it
    # from above; from there Newton's steps only go down, for the left side is convex.
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        x = np.fmin(np.cbrt(drive / resistance), (drive / closing) ** 0.25)
    for _ in range(8):
        excess = (closing * x + resistance) * x**3 - drive
        slope = (4 * closing * x + 3 * resistance) * x**2
        x = x - np.divide(excess, slope, out=np.zeros_like(x), where=slope > 0)
    return np.asarray(x**2)


def radial_crack_in(
    stress: Callable[[FloatArray], FloatArray],
    load: ArrayLike,
    toughness: float,
    *,
    thickness: float,
    wedge: float = SODA_LIME_WEDGE,
) -> FloatArray:
    r"""Return the depth of the crack under a hard point in stress that changes with depth.

    The crack grows from the dent until the stress intensity first falls to the toughness.

    Parameters
    ----------
    stress : callable
        Stress at each depth [m], tension positive [Pa]; a `StressProfile` will do.
    load : array_like
        Force on the point [N].
    toughness : float
        Fracture toughness [Pa sqrt(m)].
    thickness : float
        Depth of the glass below the point [m].
    wedge : float
        Wedge factor of `wedge_factor` [-].

    Returns
    -------
    ndarray of float
        Depth [m], the shape of `load`; infinite where the crack finds no rest within the
        thickness: the pane breaks.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The answer is a mean along the crack front. Stress on a penny crack counts as
    :math:`r\,dr/\sqrt{c^2-r^2}`; averaged round each half ring of the half-penny, every
    slice of depth comes to count alike, so the plain mean from the surface to the tip takes
    the place of the even stress. The faces are taken to stay apart, which the wedge at the
    mouth sees to. The depth is interpolated between steps of 0.3 %.

    References
    ----------
    [MarshallLawn1977], [LawnFuller1984]

    Examples
    --------
    A layer 40 µm deep that ends abruptly, 700 MPa of compression, 50 N, in µm:

    >>> layer = lambda depth: np.where(depth < 40e-6, -700e6, 0.0)
    >>> (1e6 * radial_crack_in(layer, 50.0, 0.75e6, thickness=1e-3)).round().item()
    73.0

    """
    force = non_negative("load", load, "N")
    resistance = positive("toughness", toughness, "Pa√m").item()
    deepest = positive("thickness", thickness, "m").item()
    depth = np.geomspace(1e-5 * deepest, deepest, _DEPTHS)
    values = np.broadcast_to(np.asarray(stress(depth), dtype=np.float64), depth.shape)
    mean = cumulative_trapezoid(values, depth, initial=0.0) + values[0] * depth[0]
    # The load that a crack of each depth just holds; a crack starts from the dent and passes
    # every depth that holds less.
    hold = (resistance - SHAPE_FACTOR * mean / depth**0.5) * depth**1.5
    most = np.maximum.accumulate(np.append(0.0, hold / positive("wedge", wedge).item()))
    stop = np.searchsorted(most, force)
    after = np.clip(stop, 1, _DEPTHS)
    part = (force - most[after - 1]) / np.maximum(most[after] - most[after - 1], 1e-300)
    found = np.interp(after - 1 + part, np.arange(_DEPTHS + 1), np.append(0.0, depth))
    return np.asarray(np.where(stop > _DEPTHS, np.inf, found))


def retained_strength(
    load: ArrayLike,
    toughness: ArrayLike,
    modulus: ArrayLike,
    hardness: ArrayLike,
    surface_compression: ArrayLike = 0.0,
) -> FloatArray:
    r"""Return the applied tension at which a dented surface breaks, without slow growth.

    .. math:: K_{Ic} = 0.59\,(E/H)^{1/8}\,\left(\sigma P^{1/3}\right)^{3/4},
        \qquad \sigma_a = \sigma + \sigma_R

    Parameters
    ----------
    load : array_like
        Force that made the dent [N].
    toughness : array_like
        Fracture toughness [Pa sqrt(m)].
    modulus, hardness : array_like
        Young's modulus and Vickers hardness [Pa].
    surface_compression : array_like
        Compression :math:`\sigma_R`, positive, deeper than the crack [Pa].

    Returns
    -------
    ndarray of float
        Applied tension at the surface [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `surface_compression` is negative or another argument not positive.

    Notes
    -----
    The crack first grows in balance to 2.5 times its depth, then runs. Even compression over
    that depth is simply added; in a thin exchanged layer this says too much.

    References
    ----------
    [Chantikul1981]

    Examples
    --------
    >>> (1e-6 * retained_strength(10.0, 0.75e6, 70e9, 5.5e9, [0.0, 100e6])).round()
    array([ 42., 142.])

    """
    ratio = positive("modulus", modulus, "Pa") / positive("hardness", hardness, "Pa")
    resistance = positive("toughness", toughness, "Pa√m")
    plain = (resistance / (0.59 * ratio**0.125)) ** (4 / 3) / np.cbrt(
        positive("load", load, "N")
    )
    return np.asarray(plain + non_negative("surface_compression", surface_compression, "Pa"))
