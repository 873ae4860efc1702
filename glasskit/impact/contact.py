# SPDX-License-Identifier: MIT
"""Press a round body on another: size, pressure and tension of the contact.

Hertz: elastic, without friction or glue, contact circle small beside both radii
[Johnson1985]. Pressure and force are positive when they press; stress is positive in tension.
"""

import warnings
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import gamma

from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    having,
    in_range,
    non_negative,
    positive,
    read_only,
)

WIDEST_CONTACT = 0.3
"""Contact radius over sphere radius above which a sphere is no longer a paraboloid [-].

The gap under a sphere is wider than that under the paraboloid by (a/R)^2/4, 2 % here.
"""

_DURATION = 4 * np.sqrt(np.pi) * gamma(0.4) / (5 * gamma(0.9))  # 2.9433


class Elastic(Protocol):
    """Whatever has a plane-strain modulus E/(1 - nu^2) [Pa], such as a glass or a solid."""

    @property
    def plane_strain_modulus(self) -> float:
        """Young's modulus over one less Poisson's ratio squared [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HertzContact:
    """A sphere pressed on a flat or on a sphere.

    Attributes
    ----------
    force : ndarray
        Pressing force [N].
    contact_radius : ndarray
        Radius of the circle of contact [m].
    approach : ndarray
        How far the bodies come together [m].
    peak_pressure : ndarray
        Pressure at the centre of the contact [Pa].
    rim_tension : ndarray
        Largest surface tension, radial, at the rim of the contact [Pa].

    """

    force: FloatArray
    contact_radius: FloatArray
    approach: FloatArray
    peak_pressure: FloatArray
    rim_tension: FloatArray


def contact_modulus(first: Elastic, second: Elastic) -> float:
    """Return the modulus of a contact between two materials.

    Parameters
    ----------
    first, second : Elastic
        Anything with a `plane_strain_modulus` [Pa].

    Returns
    -------
    float
        E* of 1/E* = (1 - nu1^2)/E1 + (1 - nu2^2)/E2 [Pa].

    Examples
    --------
    Steel on window glass, in GPa:

    >>> from glasskit.materials import glass, solid
    >>> contact_modulus(solid("steel"), glass("soda-lime")) / 1e9
    54.75

    """
    having("first", first, "plane_strain_modulus")
    having("second", second, "plane_strain_modulus")
    return 1.0 / (1.0 / first.plane_strain_modulus + 1.0 / second.plane_strain_modulus)


def contact_stiffness(radius: ArrayLike, modulus: ArrayLike) -> FloatArray:
    """Return k of Hertz's law, force = k approach^(3/2).

    Parameters
    ----------
    radius : array_like
        Relative radius of the contact [m].
    modulus : array_like
        Contact modulus [Pa].

    Returns
    -------
    ndarray
        4/3 modulus sqrt(radius) [N/m^1.5], broadcast.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Smooth, elastic bodies that touch in a spot small against their radii.

    Examples
    --------
    A steel ball of 20 mm on glass, in N/m^1.5:

    >>> f"{contact_stiffness(10e-3, 55e9).item():.2e}"
    '7.33e+09'

    """
    return np.asarray(
        4.0
        / 3.0
        * positive("modulus", modulus, "Pa")
        * np.sqrt(positive("radius", radius, "m"))
    )


def hertz_contact(
    force: ArrayLike, radius: ArrayLike, modulus: ArrayLike, poisson: ArrayLike
) -> HertzContact:
    r"""Press a sphere on a flat, or on a sphere by way of the relative radius.

    .. math:: a^3 = \frac{3 P R}{4 E^*}, \quad p_0 = \frac{3 P}{2 \pi a^2}, \quad
              \delta = \frac{a^2}{R}, \quad \sigma_r(a) = \frac{1 - 2\nu}{3} p_0

    Parameters
    ----------
    force : array_like
        Pressing force [N].
    radius : array_like
        Radius of the sphere, or the relative radius of two [m].
    modulus : array_like
        Contact modulus of the two materials [Pa], see `contact_modulus`.
    poisson : array_like
        Poisson's ratio of the body whose rim tension is wanted [-].

    Returns
    -------
    HertzContact
        Every field of the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Warns
    -----
    OutsideValidityWarning
        If the contact is wider than `WIDEST_CONTACT` of the sphere.

    Notes
    -----
    Elastic: a steel ball yields long before glass does, first below its surface at a peak
    pressure of about 1.6 times its yield stress, and the true pressure is then lower. Friction
    between unlike bodies lowers the rim tension in the more compliant one.

    References
    ----------
    [Johnson1985] eq. 4.22 to 4.24 and section 3.4.

    Examples
    --------
    A steel ball 50 mm across pressed with 500 N on a steel flat:

    >>> pressed = hertz_contact(500.0, 25e-3, 200e9 / (2 * (1 - 0.3**2)), 0.3)
    >>> round(pressed.peak_pressure.item() / 1e6)
    1232

    """
    load = non_negative("force", force, "N")
    sphere = positive("radius", radius, "m")
    stiffness = positive("modulus", modulus, "Pa")
    ratio = in_range("poisson", poisson, 0.0, 0.5)
    contact = np.cbrt(0.75 * load * sphere / stiffness)
    if np.any(contact > WIDEST_CONTACT * sphere):
        warnings.warn(
            f"the contact is wider than {WIDEST_CONTACT} of the sphere's radius: Hertz's "
            "contact is then too stiff and its pressure a few per cent off",
            OutsideValidityWarning,
            stacklevel=2,
        )
    # 3P/(2 pi a^2) written without a division by zero at no load.
    pressure = 2.0 / np.pi * stiffness * contact / sphere
    fields = (load, contact, contact**2 / sphere, pressure, (1 - 2 * ratio) / 3 * pressure)
    names = ("force", "contact_radius", "approach", "peak_pressure", "rim_tension")
    return HertzContact(**dict(zip(names, read_only(*fields), strict=True)))


def knock_approach(mass: ArrayLike, speed: ArrayLike, stiffness: ArrayLike) -> FloatArray:
    """Return how close two bodies come when they knock and no wave carries energy away.

    Parameters
    ----------
    mass : array_like
        Relative mass of the two, that of the ball on a heavy block [kg].
    speed : array_like
        Speed at touch [m/s].
    stiffness : array_like
        From `contact_stiffness` [N/m^1.5].

    Returns
    -------
    ndarray
        (5 m v^2/(4 k))^(2/5) [m], broadcast.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Elastic bodies, none of whose energy goes into waves or bending: a ball on a thick block.

    References
    ----------
    [Johnson1985] section 11.4.

    Examples
    --------
    A ball of 33 g that comes at 1 m/s, in micrometres:

    >>> knock_approach(0.033, 1.0, 7.3e9).item() * 1e6
    31.68

    """
    energy = positive("mass", mass, "kg") * positive("speed", speed, "m/s") ** 2
    return np.asarray((1.25 * energy / positive("stiffness", stiffness, "N/m^1.5")) ** 0.4)


def knock_duration(mass: ArrayLike, speed: ArrayLike, stiffness: ArrayLike) -> FloatArray:
    """Return how long such a knock lasts, 2.9433 times its approach over its speed.

    Parameters
    ----------
    mass, speed, stiffness : array_like
        As for `knock_approach` [kg], [m/s], [N/m^1.5].

    Returns
    -------
    ndarray
        Time in contact [s], broadcast.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    As for `knock_approach`. It varies by the fifth root of the speed only.

    References
    ----------
    [Johnson1985] eq. 11.24.

    Examples
    --------
    A ball of 33 g that comes at 1 m/s, in microseconds:

    >>> knock_duration(0.033, 1.0, 7.3e9).item() * 1e6
    93.25

    """
    return np.asarray(_DURATION * knock_approach(mass, speed, stiffness) / speed)
