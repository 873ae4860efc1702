# SPDX-License-Identifier: MIT
"""One ball on one pane, and whether an ordinary and a toughened pane would bear it.

The blow is that of `glasskit.impact.ball`, and what the far face feels that of
`glasskit.impact.farface`. What glass bears is a band, the same that the planner has: single
panes differ, and so does what may be true of them.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from glasskit.crack.growth import slow_strength
from glasskit.damage.chips import Range
from glasskit.demonstration.breaking import far_chance
from glasskit.demonstration.rigs import Specimen, annealed, toughened
from glasskit.demonstration.worlds import LOT, draw_worlds, learned
from glasskit.impact import Ball, Impact, Pane, ball_on_pane, drop_energy, drop_speed
from glasskit.impact.contact import contact_modulus, contact_stiffness, knock_duration
from glasskit.impact.farface import AREA_GRID, area_table, pulse
from glasskit.impact.wavefield import rim_squeeze
from glasskit.materials import Glass, glass
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    having,
    non_negative,
    of_type,
    positive,
)

_STEPS, _HIGHEST = 25, 30.0  # 1 % of the peaks, beside finer ones
_LONGEST = 1500  # steps
_WORLDS = 64  # sets of what may be true of the panes
_PULLS = np.geomspace(10e6, 4e9, 160)  # [Pa]
_WEAK, _STRONG = 0.05, 0.95  # chances of breaking at the ends of a band
_SQUEEZE, _DEPTH = 100e6, 4e-3  # the toughened pane that all others are scaled from [Pa], [m]


def blow_strengths(pane: Pane, impact: Impact, *compressions: float) -> tuple[Range, ...]:
    """Return between which tensions the far face of panes like this breaks in such a blow.

    Parameters
    ----------
    pane : Pane
        What is struck.
    impact : Impact
        One blow: how far it spreads and how long it lasts counts, not how hard it is.
    *compressions : float
        Surface compressions of toughened panes, positive; zero for an ordinary one [Pa].

    Returns
    -------
    tuple of Range
        Largest bending tension under the ball [Pa]: one pane in twenty breaks below the low
        end, one in twenty bears the high end.

    Raises
    ------
    ValueError
        If a compression is negative.

    Notes
    -----
    Flaws, the area that the blow puts to the test, what its shortness gains and what the
    furnace heals are those of the planner, as is what is not known of them. Panes with a deep
    scratch lie far below.

    References
    ----------
    Own method; ranges of the inputs with their sources in ``data/planner.csv``.

    Examples
    --------
    227 g of steel from 0.3 m on 4 mm of window glass: the squeeze lifts the band.

    >>> from glasskit.impact import ball_of_mass
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> blow = ball_on_pane(ball_of_mass(0.227, solid("steel")), pane, drop_speed(0.3))
    >>> ordinary, tough = blow_strengths(pane, blow, 0.0, 100e6)
    >>> bool(tough.low > ordinary.low + 50e6)
    True

    """
    of_type("pane", pane, Pane)
    of_type("impact", impact, Impact)
    squeezes = non_negative("compressions", compressions, "Pa").tolist()
    areas = RegularGridInterpolator(AREA_GRID, area_table(pane, impact)[0])

    def area(modulus: FloatArray, shut: FloatArray) -> FloatArray:
        left = -np.log(np.maximum(1.0 - shut, np.exp(-AREA_GRID[1][-1])))
        places = np.broadcast_arrays(np.log(modulus), left)
        return np.asarray(np.exp(areas(np.stack(places, axis=-1))))

    found, lasting = [], np.full(_PULLS.size, pulse(impact).item())
    for squeeze in squeezes:
        worlds = dict(_worlds())
        # A parabola scaled in height and depth is the same parabola.
        worlds["compression"] = worlds["compression"] * (squeeze or _SQUEEZE) / _SQUEEZE
        worlds["compressed depth"] = worlds["compressed depth"] * pane.thickness / _DEPTH
        chance = far_chance(_panes(squeeze > 0), _PULLS[None, :], lasting, area, worlds)
        low, high = np.interp([_WEAK, _STRONG], chance.mean(axis=0), _PULLS)
        found.append(Range(low=np.asarray(low), high=np.asarray(high)))
    return tuple(found)


@cache
def _panes(tough: bool) -> Specimen:
    """Return panes of which only flaws and stress count here."""
    pane = Pane(length=1.0, width=1.0, thickness=_DEPTH, glass=glass("soda-lime"))
    return toughened("toughened", pane, _SQUEEZE) if tough else annealed("ordinary", pane)


@cache
def _worlds() -> Mapping[str, FloatArray]:
    """Return what may be true of the strength of panes, after all that known drops taught."""
    drawn = draw_worlds(["panes"], LOT, learned(), _WORLDS, seed=0)
    return drawn.factors("panes")


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
    lift : float
        How far the edges have jumped off what they lie on, at most [m]; zero where they are
        held.

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
    lift: float

    @property
    def gain(self) -> float:
        """What a middling ordinary pane bears in this blow over a slow test [-]."""
        quick = np.sqrt(self.ordinary.low * self.ordinary.high)
        return (quick / slow_strength(quick, pulse(self.impact))).item()

    @property
    def ring(self) -> float:
        """Largest tension of the struck face around the ball that bending leaves [Pa]."""
        root = np.cbrt(self.impact.blow.force[0] / self.impact.peak_force)
        left = self.impact.rim_tension * root - rim_squeeze(self.pane, self.impact)[0]
        return float(left.max())

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
    (183, 6)

    """
    having("ball", ball, "mass", "radius", "solid")
    of_type("pane", pane, Pane)
    squeeze = non_negative("compression", compression, "Pa").item()
    if not isinstance(pane.glass, Glass):
        raise TypeError(f"pane must be made of a Glass; got {pane.glass!r}")
    speed = drop_speed(positive("height", height, "m"))
    stiffness = contact_stiffness(ball.radius, contact_modulus(ball.solid, pane.glass))
    brief = knock_duration(ball.mass, speed, stiffness).item()
    swing = 2 * np.pi * np.sqrt((ball.mass + pane.mass / 4) * pane.compliance())
    follow = min(3 * brief + 0.5 * swing, _LONGEST * brief / _STEPS)
    with warnings.catch_warnings():
        # Where the ball is at the end does not change what the pane felt before.
        warnings.filterwarnings("ignore", "the ball still lies", OutsideValidityWarning)
        impact = ball_on_pane(ball, pane, speed, steps=_STEPS, highest=_HIGHEST, follow=follow)
    places = np.linspace(-0.5, 0.5, 121) * pane.length
    found = impact.blow.answer.modes
    swung = found.vectors @ impact.blow.swing(int(impact.tension.argmax()))[:, 0]
    ordinary, tough = blow_strengths(pane, impact, 0.0, squeeze)
    return Struck(
        ball=ball,
        pane=pane,
        height=height,
        compression=compression,
        impact=impact,
        ordinary=ordinary,
        toughened=tough,
        places=places,
        sag=found.shapes.values(places, np.zeros(places.size)) @ swung,
        lift=impact.blow.lift.max().item(),
    )
