# SPDX-License-Identifier: MIT
"""Drop a body: energy, speed, mean stopping force, and the knock of a ball on a thick block.

Heights are fallen through from rest, speeds and forces are positive. The ball and block are
Hertz's impact without friction: the contact law of rest, and two bodies so stout that no wave
carries energy away [Johnson1985]. A thin pane gives way instead: see `ball_on_pane`. How far
and how high a piece can fly at most is a prompt, never a choice of protection.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.impact.contact import (
    contact_stiffness,
    hertz_contact,
    knock_approach,
    knock_duration,
)
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    doubt,
    in_range,
    non_negative,
    positive,
    read_only,
)

AIR_DENSITY = 1.2
"""Air at 20 °C and sea level [kg/m^3], common practice."""


def drop_energy(mass: ArrayLike, height: ArrayLike) -> FloatArray:
    """Return the energy that a fall gives, m g h.

    Parameters
    ----------
    mass : array_like
        Mass [kg].
    height : array_like
        Height fallen through [m].

    Returns
    -------
    ndarray
        Energy [J], broadcast.

    Raises
    ------
    ValueError
        If an argument is negative or not finite.

    Notes
    -----
    All of it arrives only without drag: see `drop_speed`.

    Examples
    --------
    A ball of 4.11 kg from 9 m:

    >>> drop_energy(4.11, 9.0).item()
    362.7

    """
    heavy = non_negative("mass", mass, "kg")
    doubt("mass", heavy, "small_mass")
    return np.asarray(heavy * GRAVITY * non_negative("height", height, "m"))


def terminal_speed(
    mass: ArrayLike,
    area: ArrayLike,
    drag_coefficient: ArrayLike = 0.47,
    air_density: ArrayLike = AIR_DENSITY,
) -> FloatArray:
    r"""Return the speed at which drag in still air holds up the weight.

    .. math:: v_t = \sqrt{\frac{2 m g}{\rho C A}}

    Parameters
    ----------
    mass : array_like
        Mass [kg].
    area : array_like
        Area seen from below [m^2].
    drag_coefficient : array_like
        Drag coefficient [-]; 0.47 is a smooth sphere, about 1.1 a plate falling flat (common
        practice; both hold between Reynolds numbers of 1e3 and 2e5).
    air_density : array_like
        Density of the air [kg/m^3].

    Returns
    -------
    ndarray
        Speed [m/s], broadcast.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    A steady coefficient: for a ball 0.47 holds up to a Reynolds number of some 300 000, beyond
    which it falls to about a fifth.

    Examples
    --------
    A device of 200 g, 15 cm by 7 cm, falling flat:

    >>> terminal_speed(0.2, 0.15 * 0.07, 1.1).item()
    16.8

    """
    weight = positive("mass", mass, "kg") * GRAVITY
    drag = (
        0.5
        * positive("air_density", air_density, "kg/m^3")
        * positive("drag_coefficient", drag_coefficient)
        * positive("area", area, "m^2")
    )
    return np.asarray(np.sqrt(weight / drag))


def drop_speed(height: ArrayLike, terminal_speed: ArrayLike = np.inf) -> FloatArray:
    r"""Return the speed after a fall from rest.

    .. math:: v = v_t \sqrt{1 - e^{-2 g h / v_t^2}}, \quad
              v = \sqrt{2 g h} \text{ without drag}

    Parameters
    ----------
    height : array_like
        Height fallen through [m].
    terminal_speed : array_like
        Speed at which drag, quadratic in speed, would hold up the weight [m/s]; infinite
        leaves drag out. See `terminal_speed`.

    Returns
    -------
    ndarray
        Speed [m/s], broadcast.

    Raises
    ------
    ValueError
        If `height` is negative or not finite, or `terminal_speed` is not positive.

    Notes
    -----
    Drag that goes with the square of the speed, in still air, from rest.

    Examples
    --------
    >>> drop_speed(1.2).item()
    4.851

    """
    fallen = non_negative("height", height, "m")
    limit = positive("terminal_speed", terminal_speed, "m/s", infinite=True)
    free = np.sqrt(2.0 * GRAVITY * fallen)
    # (1 - exp(-x))/x tends to 1 as drag vanishes; the guard keeps 0/0 out.
    x = np.square(free / limit)
    slowing = np.where(x > 0, -np.expm1(-x) / np.where(x > 0, x, 1.0), 1.0)
    return np.asarray(free * np.sqrt(slowing))


def stopping_force(mass: ArrayLike, height: ArrayLike, distance: ArrayLike) -> FloatArray:
    r"""Return the mean force that stops a fallen body within a distance.

    .. math:: \bar{F} = m g \left(1 + \frac{h}{s}\right)

    Parameters
    ----------
    mass : array_like
        Mass [kg].
    height : array_like
        Height fallen through before the stop begins [m].
    distance : array_like
        Distance over which the body is stopped, straight down [m].

    Returns
    -------
    ndarray
        Force averaged over the distance [N], broadcast.

    Raises
    ------
    ValueError
        If `mass` or `height` is negative, or `distance` is not positive.

    Notes
    -----
    A mean: the peak is twice as high for a linear spring, 2.5 times for a Hertz contact.

    Examples
    --------
    One kilogram from one metre, stopped within a millimetre, within a centimetre:

    >>> stopping_force(1.0, 1.0, [1e-3, 1e-2])
    array([9816.5, 990.5])

    """
    stop = positive("distance", distance, "m")
    weight = non_negative("mass", mass, "kg") * GRAVITY
    return np.asarray(weight * (1.0 + non_negative("height", height, "m") / stop))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HertzImpact:
    """What a ball does to a thick block; every field of one shape.

    Attributes
    ----------
    speed : ndarray
        Speed at touch [m/s].
    peak_force : ndarray
        Largest force [N].
    duration : ndarray
        Time in contact [s].
    approach : ndarray
        Largest approach of the two bodies [m].
    contact_radius : ndarray
        Largest radius of the circle of contact [m].
    peak_pressure : ndarray
        Largest pressure, at the centre of the contact [Pa].
    rim_tension : ndarray
        Largest tension, at the rim of the contact [Pa].

    """

    speed: FloatArray
    peak_force: FloatArray
    duration: FloatArray
    approach: FloatArray
    contact_radius: FloatArray
    peak_pressure: FloatArray
    rim_tension: FloatArray


def hertz_impact(
    mass: ArrayLike,
    speed: ArrayLike,
    radius: ArrayLike,
    modulus: ArrayLike,
    poisson: ArrayLike,
) -> HertzImpact:
    r"""Knock a ball on a thick, heavy block, without friction and without waves.

    .. math:: \delta = \left(\frac{15 m v^2}{16 \sqrt{R} E^*}\right)^{2/5}, \quad
              F = \tfrac{4}{3} E^* \sqrt{R}\, \delta^{3/2}, \quad T = 2.9433\, \delta / v

    Parameters
    ----------
    mass : array_like
        Mass of the ball, or the relative mass m1 m2/(m1 + m2) of two free bodies [kg].
    speed : array_like
        Speed at touch [m/s].
    radius : array_like
        Radius of the ball, or the relative radius of two [m].
    modulus : array_like
        Contact modulus [Pa], see `glasskit.impact.contact.contact_modulus`.
    poisson : array_like
        Poisson's ratio of the block, for the rim tension [-].

    Returns
    -------
    HertzImpact
        Every field of the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range; `speed` must be positive.

    Warns
    -----
    OutsideValidityWarning
        If the contact grows too wide for Hertz's law.

    Notes
    -----
    Holds while the contact lasts long beside the time of a sound wave through the ball, which
    is so for speeds small beside that of sound in it, and while nothing yields.

    References
    ----------
    [Johnson1985] section 11.4.

    Examples
    --------
    A steel ball of 227 g, 19 mm in radius, from 1.2 m on a thick block of glass:

    >>> glass, steel = 70e9 / (1 - 0.2**2), 200e9 / (1 - 0.3**2)
    >>> modulus = glass * steel / (glass + steel)
    >>> knock = hertz_impact(0.227, drop_speed(1.2), 19e-3, modulus, 0.2)
    >>> round(knock.peak_force.item(), -2), round(1e6 * knock.duration.item())
    (31300.0, 129)

    """
    moving = positive("mass", mass, "kg")
    fast = positive("speed", speed, "m/s")
    stiffness = contact_stiffness(radius, modulus)
    approach = knock_approach(moving, fast, stiffness)
    pressed = hertz_contact(stiffness * approach**1.5, radius, modulus, poisson)
    fields = {
        "speed": fast,
        "peak_force": pressed.force,
        "duration": knock_duration(moving, fast, stiffness),
        "approach": approach,
        "contact_radius": pressed.contact_radius,
        "peak_pressure": pressed.peak_pressure,
        "rim_tension": pressed.rim_tension,
    }
    return HertzImpact(**dict(zip(fields, read_only(*fields.values()), strict=True)))


def throw_range(speed: ArrayLike, height: ArrayLike = 0.0) -> FloatArray:
    r"""Return how far from its start a thrown piece lands, at the worst angle and without air.

    .. math:: R = \frac{v}{g}\sqrt{v^2 + 2 g h}

    Parameters
    ----------
    speed : array_like
        Speed at the start :math:`v` [m/s].
    height : array_like
        Height of the start above the floor :math:`h` [m].

    Returns
    -------
    ndarray of float
        Longest throw along the floor [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is negative or not finite.

    Notes
    -----
    Air shortens the flight of small pieces; a bounce or a slide on the floor lengthens it.
    Distances were published for plain windows broken by hand [Pounds1978], [Luce1991], speeds
    not, as far as we know: the speed is for the user to choose, and a trial throw tells more.
    It says nothing of harm to eyes and does not select protection.

    References
    ----------
    Textbook ballistics: the enveloping parabola of all throws of one speed.

    Examples
    --------
    >>> throw_range(10.0, 0.9).item()
    11.1

    """
    fast = non_negative("speed", speed, "m/s")
    drop = 2 * GRAVITY * non_negative("height", height, "m")
    return np.asarray(fast * np.sqrt(fast**2 + drop) / GRAVITY)


def throw_height(speed: ArrayLike, distance: ArrayLike, height: ArrayLike = 0.0) -> FloatArray:
    r"""Return how high a thrown piece can be at a distance, at the worst angle, without air.

    .. math:: z = h + \frac{v^2}{2g} - \frac{g d^2}{2 v^2}

    Parameters
    ----------
    speed : array_like
        Speed at the start :math:`v`, above zero [m/s].
    distance : array_like
        Distance from the start along the floor :math:`d` [m].
    height : array_like
        Height of the start above the floor :math:`h` [m].

    Returns
    -------
    ndarray of float
        Highest point above the floor [m], negative where no throw gets that far; the inputs'
        broadcast shape.

    Raises
    ------
    ValueError
        If `speed` is not positive, another argument negative, or any not finite.

    Notes
    -----
    Without air, which slows crumbs within a metre or two: the true height is less.

    References
    ----------
    Textbook ballistics: the enveloping parabola of all throws of one speed.

    Common practice.

    Examples
    --------
    At the start a ball rises as high as it fell; from 0.8 m, beside it and half a metre off:

    >>> throw_height(3.9613, [0.0, 0.5]).round(3)
    array([0.8  , 0.722])

    """
    square = positive("speed", speed, "m/s") ** 2
    away = non_negative("distance", distance, "m")
    start = non_negative("height", height, "m")
    return np.asarray(start + square / (2 * GRAVITY) - GRAVITY * away**2 / (2 * square))


def fall_time(height: float) -> float:
    r"""Return how long a fall lasts without air, :math:`\sqrt{2h/g}`.

    Parameters
    ----------
    height : float
        Height of the fall [m].

    Returns
    -------
    float
        Time [s].

    Raises
    ------
    ValueError
        If `height` is not finite and positive.

    Notes
    -----
    From rest and without air, which costs a steel ball of 30 mm less than 1 % from 5 m.

    References
    ----------
    Definition: a steady acceleration.

    Examples
    --------
    >>> round(fall_time(1.0), 3)
    0.452

    """
    return float(np.sqrt(2 * positive("height", height, "m") / GRAVITY))


@dataclass(frozen=True, slots=True, kw_only=True)
class Falling:
    """One instant of a fall from rest, without air.

    Attributes
    ----------
    mass : float
        Mass [kg].
    height : float
        Height of the fall [m].
    time : float
        Time since release, at most `fall_time` [s].

    Examples
    --------
    >>> Falling(mass=0.2, height=1.0, time=0.2).mass
    0.2

    """

    mass: float
    height: float
    time: float

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        in_range("time", self.time, 0.0, fall_time(self.height), "s")

    @property
    def left(self) -> float:
        """Height still to fall [m]."""
        return float(max(self.height - GRAVITY * self.time**2 / 2, 0.0))

    @property
    def speed(self) -> float:
        """Speed [m/s]."""
        return float(GRAVITY * self.time)

    @property
    def energy(self) -> float:
        """Energy of motion [J]."""
        return self.mass * self.speed**2 / 2

    @property
    def energy_left(self) -> float:
        """Energy of height that is still to come [J]."""
        return float(self.mass * GRAVITY * self.left)
