# SPDX-License-Identifier: MIT
"""Drop a ball on the middle of a pane: force, deflection, far-face stress, rebound.

Hertz's contact between ball and glass, coupled to the bending waves of the pane and stepped
in time. The ball meets the waves, not the whole mass of the pane: taking the pane for one
spring and one mass overstates the force several times.
"""

import warnings
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike

from glasskit.bending.panes import LINEAR_LIMIT
from glasskit.impact.contact import (
    Elastic,
    contact_modulus,
    contact_stiffness,
    hertz_contact,
    knock_duration,
)
from glasskit.impact.knock import Knock, knock
from glasskit.impact.ringing import Pane
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    OutsideValidityWarning,
    doubt,
    having,
    of_type,
    positive,
    read_only,
    require,
    whole,
)

LONGEST = 4000
"""Most time steps that an impact is followed for."""


class Striker(Protocol):
    """Whatever strikes with a round face: a ball, the head of a hammer."""

    @property
    def mass(self) -> float:
        """Mass [kg]."""

    @property
    def radius(self) -> float:
        """Radius of the face [m]."""

    @property
    def solid(self) -> Elastic:
        """What it is made of."""


class BallMaterial(Protocol):
    """Whatever has mass and stiffness, such as a solid."""

    @property
    def density(self) -> float:
        """Density [kg/m^3]."""

    @property
    def plane_strain_modulus(self) -> float:
        """Young's modulus over one less Poisson's ratio squared [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ball:
    """A solid ball.

    Attributes
    ----------
    radius : float
        Radius [m].
    solid : BallMaterial
        What it is made of.

    """

    radius: float
    solid: BallMaterial

    def __post_init__(self) -> None:
        doubt("radius", positive("radius", self.radius, "m"), "thickness")

    @property
    def mass(self) -> float:
        """Mass [kg]."""
        return 4.0 / 3.0 * np.pi * self.radius**3 * self.solid.density


def ball_of_mass(mass: float, solid: BallMaterial) -> Ball:
    """Return the ball of a mass.

    Parameters
    ----------
    mass : float
        Mass [kg].
    solid : BallMaterial
        What it is made of.

    Returns
    -------
    Ball
        With the radius that its density gives.

    Raises
    ------
    ValueError
        If `mass` is not finite and positive.

    Notes
    -----
    A full ball; a hollow one of the same mass is larger.

    References
    ----------
    Definition: mass over density, a sphere.

    Examples
    --------
    A steel ball of 227 g, its radius in mm:

    >>> from glasskit.materials import solid
    >>> ball_of_mass(0.227, solid("steel")).radius * 1e3
    19.03

    """
    having("solid", solid, "density", "plane_strain_modulus")
    volume = positive("mass", mass, "kg").item() / solid.density
    return Ball(radius=(0.75 * volume / np.pi) ** (1.0 / 3.0), solid=solid)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Impact:
    """A ball's blow on a pane; n blows of different speed, k instants.

    Attributes
    ----------
    speed : ndarray
        Speed at touch [m/s], shape (n,) or () like all that follow up to `time`.
    peak_force : ndarray
        Largest force between ball and glass [N].
    duration : ndarray
        Time in contact, all touches together [s].
    deflection : ndarray
        Largest deflection of the middle [m].
    stress : ndarray
        Largest bending tension of the far face under the ball [Pa].
    contact_radius : ndarray
        Largest radius of the circle of contact [m].
    rim_tension : ndarray
        Largest tension of the struck face, at the rim of the contact [Pa].
    pane_energy : ndarray
        Energy that the ball has left in the pane [J].
    restitution : ndarray
        Speed of the ball upwards after the last touch over `speed`; negative if it still
        sinks [-].
    sag : ndarray
        Deflection of the middle when the far face is pulled most [m].
    stretches : ndarray of bool
        Whether the pane has then sunk so far that it stretches as well as bends; the stress
        is then overstated.
    time : ndarray
        Instants since the first touch [s], shape (k,).
    force : ndarray
        Force [N], shape (n, k) or (k,).
    sinking : ndarray
        Deflection of the middle [m], shape (n, k) or (k,).
    tension : ndarray
        Bending tension of the far face under the ball, the larger of the two directions at
        its peak [Pa], shape (n, k) or (k,).
    blow : Knock
        Movement of ball and pane, mode by mode.

    """

    speed: FloatArray
    peak_force: FloatArray
    duration: FloatArray
    deflection: FloatArray
    stress: FloatArray
    contact_radius: FloatArray
    rim_tension: FloatArray
    pane_energy: FloatArray
    restitution: FloatArray
    sag: FloatArray
    stretches: FloatArray
    time: FloatArray
    force: FloatArray
    sinking: FloatArray
    tension: FloatArray
    blow: Knock


def ball_on_pane(
    ball: Striker,
    pane: Pane,
    speed: ArrayLike,
    *,
    steps: int = 50,
    highest: float = 60.0,
    follow: float | None = None,
) -> Impact:
    """Let a ball fall on the middle of a pane that lies flat.

    Parameters
    ----------
    ball : Striker
        What falls, with `mass`, `radius` and `solid`.
    pane : Pane
        What it falls on.
    speed : array_like
        Speed at touch [m/s], one number or a row of them; see `glasskit.impact.drop_speed`.
    steps : int
        Time steps within the contact time on a rigid block.
    highest : float
        Angular frequency up to which modes move, times that contact time [-].
    follow : float, optional
        How long to follow ball and pane [s]. Otherwise one whole swing of the ball on the
        pane, cut at `LONGEST` steps.

    Returns
    -------
    Impact
        Peaks of each blow, and what happened in time.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Warns
    -----
    OutsideValidityWarning
        If the pane has sunk beyond `glasskit.bending.panes.LINEAR_LIMIT` of its thickness when
        its far face is pulled most, or the ball still lies on it when the time is over. It may
        sink further later on: `deflection` is then overstated, the stress is not.

    Notes
    -----
    Leaves out the stretching of a pane that sinks far, shear and rotary inertia (waves shorter
    than about six thicknesses), yielding of the ball, and cracks. A softer ball touches
    longer: the contact is elastic all the same. The stress under the ball takes the thickness
    into account as an elastic layer does (`glasskit.impact.layer`). Edges that are laid on
    press and do not pull: the pane may jump off them.

    References
    ----------
    [Zener1941] for the unbounded plate; [Goldsmith1960] for a supported one.

    Examples
    --------
    A steel ball of 227 g from 0.2 m on a pane of 300 by 300 by 4 mm, in MPa:

    >>> from glasskit.impact.falls import drop_speed
    >>> from glasskit.materials.glasses import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> blow = ball_on_pane(ball_of_mass(0.227, solid("steel")), pane, drop_speed(0.2))
    >>> round(blow.stress.item() / 1e6)
    149

    """
    having("ball", ball, "mass", "radius", "solid")
    of_type("pane", pane, Pane)
    fast = positive("speed", speed, "m/s")
    require(fast.ndim <= 1, "speed", fast.ndim, "be one number or one row; its dimensions")
    speeds = np.atleast_1d(fast)
    steps = whole("steps", steps, 10, 10_000)
    modulus = contact_modulus(ball.solid, pane.glass)
    stiffness = contact_stiffness(ball.radius, modulus).item()
    brief = knock_duration(ball.mass, speeds.max(), stiffness).item()
    if follow is None:
        swing = 2 * np.pi * np.sqrt((ball.mass + pane.mass / 4) * pane.compliance())
        follow = min(3 * brief + swing, LONGEST * brief / steps)
    count = int(positive("follow", follow, "s").item() / brief * steps) + 1
    highest = positive("highest", highest).item() / brief
    step = brief / steps
    blown = knock(ball.mass, stiffness, pane, speeds, step, count, highest)
    force, sinking, leaving = blown.force, blown.sinking, blown.velocity
    pressed = hertz_contact(force, ball.radius, modulus, pane.glass.poisson)
    traces = {
        "force": force,
        "sinking": sinking,
        "tension": _far_tension(pane, blown, pressed.contact_radius),
    }
    tension = traces["tension"]
    sag = np.take_along_axis(sinking, tension.argmax(axis=-1)[:, None], axis=-1)[:, 0]
    peaks = {
        "speed": speeds,
        "peak_force": force.max(axis=-1),
        "duration": step * np.count_nonzero(force, axis=-1),
        "deflection": sinking.max(axis=-1),
        "stress": tension.max(axis=-1),
        "contact_radius": pressed.contact_radius.max(axis=-1),
        "rim_tension": pressed.rim_tension.max(axis=-1),
        "pane_energy": ball.mass * (0.5 * (speeds**2 - leaving**2) + GRAVITY * blown.place),
        "restitution": -leaving / speeds,
        "sag": sag,
        "stretches": sag > LINEAR_LIMIT * pane.thickness,
    }
    _warn(bool(peaks["stretches"].any()), bool(force[:, -1].any()))
    shaped = {name: value.reshape(fast.shape) for name, value in peaks.items()}
    shaped |= {name: value.reshape(*fast.shape, count) for name, value in traces.items()}
    shaped["time"] = step * np.arange(count)
    fixed = {name: read_only(value)[0] for name, value in shaped.items()}
    return Impact(**fixed, blow=blown)


def height_to_reach(ball: Ball, pane: Pane, stress: ArrayLike) -> FloatArray:
    """Return the height from which a ball stretches the far face of a pane so much.

    Parameters
    ----------
    ball : Ball
        What falls.
    pane : Pane
        What it falls on.
    stress : array_like
        Bending tension under the ball [Pa]; for a net tension in a toughened pane add its
        surface compression.

    Returns
    -------
    ndarray
        Height [m]; the shape of `stress`.

    Raises
    ------
    ValueError
        If `stress` is out of reach of falls between 1 mm and 30 m.

    Warns
    -----
    OutsideValidityWarning
        If the pane has sunk so far by then that it stretches too; the true height is larger.

    Notes
    -----
    Thirty heights tried, interpolated in the logarithm (1 %).

    References
    ----------
    [Zener1941]; see `ball_on_pane`.

    Examples
    --------
    The height at which a 227 g steel ball bends a pane to 60 MPa, in mm:

    >>> from glasskit.materials.glasses import glass, solid
    >>> on_rubber = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...                  damping=0.05)
    >>> ball = ball_of_mass(0.227, solid("steel"))
    >>> round(1e3 * height_to_reach(ball, on_rubber, 60e6).item())
    52

    """
    having("ball", ball, "mass", "radius", "solid")
    of_type("pane", pane, Pane)
    wanted = positive("stress", stress, "Pa")
    heights = np.geomspace(1e-3, 30.0, 30)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutsideValidityWarning)
        blow = ball_on_pane(ball, pane, np.sqrt(2 * GRAVITY * heights))
    reached = np.maximum.accumulate(blow.stress)
    ok = (wanted >= reached[0]) & (wanted <= reached[-1])
    require(ok, "stress", wanted, "be reached by a fall of 1 mm to 30 m", "Pa")
    found = np.exp(np.interp(np.log(wanted), np.log(reached), np.log(heights)))
    if np.any(np.interp(found, heights, blow.sag) > LINEAR_LIMIT * pane.thickness):
        warnings.warn(
            "the pane sinks so far that it stretches too; the true height is larger",
            OutsideValidityWarning,
            stacklevel=2,
        )
    return np.asarray(found)


def _far_tension(pane: Pane, blow: Knock, contact_radius: FloatArray) -> FloatArray:
    """Return the far-face tension (n, k) in the direction where it peaks."""
    found = blow.answer.modes
    local = pane.stress_compliance(contact_radius) - found.stress_at_rest[:, None, None]
    both = blow.carried(found.stress) + blow.force * local
    peaks = both.max(axis=-1, keepdims=True)
    chosen: FloatArray = np.where(peaks[0] >= peaks[1], both[0], both[1])
    return chosen


def _warn(stretches: bool, resting: bool) -> None:
    if stretches:
        warnings.warn(
            f"the pane has sunk by more than {LINEAR_LIMIT} of its thickness when its far "
            "face is pulled most: it then also stretches, and is stressed less than said here",
            OutsideValidityWarning,
            stacklevel=3,
        )
    if resting:
        warnings.warn(
            "the ball still lies on the pane when the time is over: rebound and energy are "
            "not final; follow it longer",
            OutsideValidityWarning,
            stacklevel=3,
        )
