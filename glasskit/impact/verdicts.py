# SPDX-License-Identifier: MIT
"""One ball on one pane, and whether an ordinary and a toughened pane would bear it.

The blow is that of `glasskit.impact.ball`. What glass bears is a band: the strengths of used
panes as published, raised because the blow is so short. The same flaws in a toughened pane
give its band.
"""

import warnings
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.crack import ENVIRONMENTS, breaking_stress, griffith_depth
from glasskit.damage import Range
from glasskit.impact.ball import Ball, Impact, ball_on_pane
from glasskit.impact.contact import contact_modulus, contact_stiffness, knock_duration
from glasskit.impact.falls import drop_energy, drop_speed
from glasskit.impact.ringing import Pane
from glasskit.materials import Glass
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    finite,
    in_range,
    non_negative,
    of_type,
    positive,
)
from glasskit.strength import lasting_toughness
from glasskit.stress import annealed, tempered

__all__ = ["SHORT_LOAD", "Struck", "blow_strength", "sag", "strike"]

SHORT_LOAD = (
    lasting_toughness(0.0, 70e-6, ENVIRONMENTS["design"])
    / lasting_toughness(60.0, 70e-6, ENVIRONMENTS["design"])
).item()
"""What glass bears in a blow over what it bears for a minute [-]: there is no time for its
flaws, some tens of micrometres deep, to creep. The sixteenth root of time would say 2.4."""

_STEPS, _HIGHEST = 25, 30.0  # 1 % of the peaks, beside finer ones
_LONGEST = 1500  # steps


def blow_strength(glass: Glass, thickness: float, compression: float = 0.0) -> Range:
    """Return between which tensions the far face of a pane breaks in a blow.

    Parameters
    ----------
    glass : Glass
        What the pane is made of; its published practical strength is taken.
    thickness : float
        Thickness of the pane [m].
    compression : float
        Surface compression of a toughened pane, positive; zero for an ordinary one [Pa].

    Returns
    -------
    Range
        Tension from outside [Pa].

    Raises
    ------
    ValueError
        If `thickness` is not positive or `compression` is negative.

    Notes
    -----
    From the weakest to the strongest of the published means: single panes lie outside as well,
    those with a deep scratch far below. The patch under a ball is small and holds few flaws,
    which helps and is not counted.

    References
    ----------
    The sources stand with the values in ``data/materials.csv``; of quick against slow loads,
    common practice.

    Examples
    --------
    Window glass of 4 mm, ordinary and toughened, in MPa:

    >>> from glasskit.materials import glass
    >>> for compression in (0.0, 100e6):
    ...     band = blow_strength(glass("soda-lime"), 4e-3, compression)
    ...     print(f"{band.low / 1e6:.0f} to {band.high / 1e6:.0f}")
    79 to 193
    177 to 292

    """
    of_type("glass", glass, Glass)
    squeeze = non_negative("compression", compression, "Pa").item()
    profile = tempered(squeeze, thickness) if squeeze else annealed(thickness)
    published = glass.values["practical_strength"]
    plain = SHORT_LOAD * np.array([published.low, published.high])
    flaws = griffith_depth(plain, glass.toughness)
    low, high = breaking_stress(profile, flaws, glass.toughness)
    return Range(low=np.asarray(low), high=np.asarray(high))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Struck:
    """A blow and the two panes that it might fall on.

    Attributes
    ----------
    ball : Ball
        What fell.
    pane : Pane
        What it fell on.
    height : float
        Height fallen through [m].
    compression : float
        Surface compression of the toughened pane, positive [Pa].
    impact : Impact
        What happened in time.
    ordinary, toughened : Range
        Tension at which such panes break [Pa].
    places : ndarray
        Distances from the middle along the length [m].
    sag : ndarray
        How far the pane has sunk there when its far face is pulled most [m].

    """

    ball: Ball
    pane: Pane
    height: float
    compression: float
    impact: Impact
    ordinary: Range
    toughened: Range
    places: FloatArray
    sag: FloatArray

    @property
    def energy(self) -> float:
        """Energy of the fall [J]."""
        return drop_energy(self.ball.mass, self.height).item()

    @property
    def stress(self) -> float:
        """Largest bending tension of the far face [Pa]."""
        return self.impact.stress.item()

    @property
    def worst(self) -> float:
        """When the far face is pulled most [s]."""
        return float(self.impact.time[self.impact.tension.argmax()])

    @property
    def reach(self) -> float:
        """Distance from the middle within which the pane has sunk by then [m].

        Where it has sunk by a tenth of what its middle has; at most to its edge.
        """
        still = self.sag < 0.1 * self.sag[self.places.size // 2]
        beyond = np.abs(self.places[still])
        return float(beyond.min(initial=0.5 * self.pane.length))

    @property
    def moved(self) -> float:
        """Share of the pane's mass within that reach, at most all of it [-]."""
        area = np.pi * self.reach**2 / (self.pane.length * self.pane.width)
        return float(min(area, 1.0))


def strike(ball: Ball, pane: Pane, height: float, compression: float) -> Struck:
    """Let a ball fall on the middle of a pane, and look at an ordinary and a toughened one.

    Parameters
    ----------
    ball : Ball
        What falls.
    pane : Pane
        What it falls on; its glass needs a published practical strength.
    height : float
        Height fallen through [m].
    compression : float
        Surface compression of the toughened pane [Pa].

    Returns
    -------
    Struck
        The blow, followed for half a swing of ball and pane, and both bands.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    TypeError
        If the pane is not made of a `Glass`.

    Warns
    -----
    OutsideValidityWarning
        If the pane sinks so far that it stretches too.

    References
    ----------
    [Zener1941] for the blow, [Johnson1985] for the contact; see `ball_on_pane`.

    Examples
    --------
    >>> from glasskit.impact import ball_of_mass
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> struck = strike(ball_of_mass(0.227, solid("steel")), pane, 0.5, 100e6)
    >>> round(struck.stress / 1e6), round(100 * struck.moved)
    (182, 6)

    """
    of_type("ball", ball, Ball)
    of_type("pane", pane, Pane)
    glass = pane.glass
    if not isinstance(glass, Glass):
        raise TypeError(f"pane must be made of a Glass; got {glass!r}")
    speed = drop_speed(positive("height", height, "m"))
    stiffness = contact_stiffness(ball.radius, contact_modulus(ball.solid, glass))
    brief = knock_duration(ball.mass, speed, stiffness).item()
    swing = 2 * np.pi * np.sqrt((ball.mass + pane.mass / 4) * pane.compliance())
    follow = min(3 * brief + 0.5 * swing, _LONGEST * brief / _STEPS)
    with warnings.catch_warnings():
        # Where the ball is at the end does not change what the pane felt before.
        warnings.filterwarnings("ignore", "the ball still lies", OutsideValidityWarning)
        impact = ball_on_pane(ball, pane, speed, steps=_STEPS, highest=_HIGHEST, follow=follow)
    places = np.linspace(-0.5, 0.5, 121) * pane.length
    worst = int(impact.tension.argmax())
    return Struck(
        ball=ball,
        pane=pane,
        height=height,
        compression=compression,
        impact=impact,
        ordinary=blow_strength(glass, pane.thickness),
        toughened=blow_strength(glass, pane.thickness, compression),
        places=places,
        sag=sag(pane, impact.time[: worst + 1], impact.force[: worst + 1], places),
    )


def sag(pane: Pane, time: ArrayLike, force: ArrayLike, places: ArrayLike) -> FloatArray:
    r"""Return how far a pane has sunk along its middle line after a push on its middle.

    .. math:: w(x) = \sum_{m,n} \frac{4}{M}\, \sin\frac{m\pi}{2} \sin\frac{m\pi x}{a}
              \int F(t)\, \frac{\sin\omega_{mn}(T - t)}{\omega_{mn}}\, dt

    Parameters
    ----------
    pane : Pane
        Taken as held by hard edges and without damping.
    time : array_like, shape (k,)
        Even instants up to the one wanted [s].
    force : array_like, shape (k,)
        Push on the middle [N].
    places : array_like
        Distance from the middle along the length [m].

    Returns
    -------
    ndarray
        Deflection [m], the shape of `places`.

    Raises
    ------
    ValueError
        If a place lies outside the pane.

    Notes
    -----
    Forty by forty modes: a picture of the shape. The peaks are those of `ball_on_pane`.

    References
    ----------
    [Goldsmith1960], sum over the modes of a supported pane.

    Examples
    --------
    A push of 100 N for a tenth of a millisecond; sunk by some micrometres at the middle:

    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> time = np.linspace(0, 1e-4, 50)
    >>> sag(pane, time, np.full(50, 100.0), [0.0]).item() * 1e6
    19.99

    """
    of_type("pane", pane, Pane)
    half = 0.5 * pane.length
    at = in_range("places", places, -half * (1 + 1e-9), half * (1 + 1e-9), "m") + half
    number = np.arange(1, 80, 2.0)
    along, across = np.pi * number / pane.length, np.pi * number / pane.width
    wave = np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness))
    frequency = wave * (along[:, None] ** 2 + across**2)
    instants = np.atleast_1d(finite("time", time, "s"))
    push = np.atleast_1d(finite("force", force, "N"))
    step = instants[1] - instants[0] if instants.size > 1 else 0.0
    phase = frequency[..., None] * (instants[-1] - instants)
    swing = (np.sin(phase) @ push) * step / frequency
    crest = np.where(number % 4 == 1, 1.0, -1.0)
    shape = np.sin(along * at[..., None]) * crest
    return np.asarray(4.0 / pane.mass * (shape @ swing.sum(axis=1)))
