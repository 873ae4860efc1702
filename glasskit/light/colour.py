# SPDX-License-Identifier: MIT
"""Turn what passes crossed polarisers into a colour on a screen.

Daylight (D65), the CIE 1931 observer in steps of 5 nm [CIE15]_, a screen after sRGB
[IEC61966]_.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from glasskit.light.photoelasticity import DIAGONAL, share_passed
from glasskit.quantities import FloatArray, finite, require
from glasskit.tables import read

# Linear sRGB from XYZ with the white of D65.
_TO_RGB = np.array(
    [
        [3.2406, -1.5372, -0.4986],
        [-0.9689, 1.8758, 0.0415],
        [0.0557, -0.2040, 1.0570],
    ]
)


@cache
def observer() -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return wavelengths [m], daylight at each, and what each adds to X, Y, Z."""
    rows = read("colour_matching")
    wavelength = 1e-9 * np.array([float(row["wavelength_nm"]) for row in rows])
    daylight = np.array([float(row["d65"]) for row in rows])
    matching = np.array([[float(row[key]) for key in "xyz"] for row in rows])
    return wavelength, daylight, matching


@cache
def _by_day() -> FloatArray:
    """Return what each wavelength adds to X, Y, Z in daylight, white being Y = 1."""
    _, daylight, matching = observer()
    weight = matching * daylight[:, None]
    return np.asarray(weight / weight[:, 1].sum())


def tristimulus(retardation: ArrayLike, angle: ArrayLike = DIAGONAL) -> FloatArray:
    r"""Return the CIE 1931 tristimulus values of daylight through the crossed polarisers.

    Parameters
    ----------
    retardation : array_like
        Retardation [m].
    angle : array_like
        Angle between the first polariser and a principal stress [rad].

    Returns
    -------
    ndarray of float, shape (..., 3)
        X, Y, Z [-], one as bright as the light that passes the first polariser.

    Raises
    ------
    ValueError
        If an argument is not finite.

    Notes
    -----
    Daylight D65 and the 2° observer in steps of 5 nm: good up to some ten waves, above which
    the eye sees white anyway.

    References
    ----------
    [CIE15]

    Examples
    --------
    >>> tristimulus(0.0)
    array([0., 0., 0.])

    """
    wavelength, _, _ = observer()
    lag, turn = finite("retardation", retardation, "m"), finite("angle", angle, "rad")
    return np.asarray(share_passed(lag[..., None], wavelength, turn[..., None]) @ _by_day())


def to_srgb(tristimulus: ArrayLike) -> FloatArray:
    """Return tristimulus values as colours for a screen.

    Parameters
    ----------
    tristimulus : array_like, shape (..., 3)
        X, Y, Z, white being Y = 1 [-].

    Returns
    -------
    ndarray of float, shape (..., 3)
        Red, green and blue with the curve of a screen, each 0 to 1 [-]. Colours purer than a
        screen can show are cut off at its limits.

    Raises
    ------
    ValueError
        If the last axis is not three long or a value not finite.

    Notes
    -----
    What no screen can show is clipped.

    References
    ----------
    [IEC61966]

    Examples
    --------
    The white of daylight:

    >>> to_srgb([0.9505, 1.0, 1.089]).round(2)
    array([1., 1., 1.])

    """
    values = finite("tristimulus", tristimulus)
    length = values.shape[-1] if values.ndim else 0
    require(length == 3, "tristimulus", length, "have a last axis of three")
    return coded(linear_rgb(values))


def linear_rgb(tristimulus: FloatArray) -> FloatArray:
    """Return how much light of each primary of a screen makes tristimulus values."""
    return np.asarray(tristimulus @ _TO_RGB.T)


def coded(linear: FloatArray) -> FloatArray:
    """Return what a file holds for light of each primary, 0 to 1, cut off there."""
    light = np.clip(linear, 0.0, 1.0)
    return np.asarray(
        np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    )


def decoded(numbers: FloatArray) -> FloatArray:
    """Return the light that numbers of a file, 0 to 1, stand for: the inverse of `coded`."""
    return np.asarray(
        np.where(numbers <= 0.04045, numbers / 12.92, ((numbers + 0.055) / 1.055) ** 2.4)
    )


def interference_colour(retardation: ArrayLike, angle: ArrayLike = DIAGONAL) -> FloatArray:
    """Return the colour that a retardation shows between crossed polarisers in daylight.

    Parameters
    ----------
    retardation : array_like
        Retardation [m]. To see its sign, add that of a tint plate, some 550 nm.
    angle : array_like
        Angle between the first polariser and a principal stress [rad].

    Returns
    -------
    ndarray of float, shape (..., 3)
        Red, green and blue for a screen, 0 to 1 [-].

    Raises
    ------
    ValueError
        If an argument is not finite.

    Notes
    -----
    The mean eye in daylight, no dispersion of the stress-optic coefficient. Colours that no
    screen shows are clipped; above some four orders all look alike.

    References
    ----------
    [CIE15], [IEC61966]

    Examples
    --------
    Dark, first white, first yellow, first purple:

    >>> interference_colour([0, 250e-9, 400e-9, 551e-9]).round(1)
    array([[0. , 0. , 0. ],
           [0.9, 1. , 1. ],
           [1. , 0.8, 0.3],
           [0.4, 0. , 0.7]])

    """
    return to_srgb(tristimulus(retardation, angle))
