# SPDX-License-Identifier: MIT
"""Describe the panes and the rig of a demonstration, and the blow that the rig deals.

Four rigs: a dropped ball, a hammer that swings down freely, a pane that falls flat, a device
guided down onto a floor. Heights are fallen through from rest, for the hammer by its head.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Literal, cast

import numpy as np
from numpy.typing import ArrayLike, NDArray

from glasskit import stress
from glasskit.demonstration.drop_records import Rule
from glasskit.impact import drop_speed
from glasskit.impact.ball import BallMaterial, Striker
from glasskit.impact.device import FLOORS, Device, Landing, land
from glasskit.impact.farface import FarFace, far_face
from glasskit.impact.ringing import Pane, slap_stress
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, of_type, one_of, positive
from glasskit.strength import FlawPopulation, bending_area
from glasskit.tables import read, sourced_value

Kind = Literal["annealed", "toughened", "chemically"]
KINDS: tuple[Kind, ...] = ("annealed", "toughened", "chemically")

_SLAP_PULSE = 1e-4  # a scale: time of a bending wave over some centimetres [s]


def everyday_flaws() -> FlawPopulation:
    """Return the worst flaws of ordinary panes that were stacked, wiped and carried.

    Returns
    -------
    FlawPopulation
        From ``data/planner.csv``: 45 MPa for one pane in twenty, over an area that is a
        judgement; known drops teach the factor on it (`glasskit.demonstration.worlds`).

    Examples
    --------
    >>> flaws = everyday_flaws()
    >>> round(flaws.modulus), round(flaws.scale / 1e6)
    (6, 74)

    """
    rows = {row["property"]: row for row in read("planner") if row["subject"] == "flaws"}
    number = {name: sourced_value(row).value for name, row in rows.items()}
    return FlawPopulation(**number)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Passed:
    """A drop test that the make of some panes has passed.

    Attributes
    ----------
    pane : Pane
        A pane as the test lays it.
    rig : DroppedBall
        What the test drops.
    rule : Rule
        From how high, and how many must hold.

    """

    pane: Pane
    rig: "DroppedBall"
    rule: Rule


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Specimen:
    """One kind of pane that is to be struck.

    Attributes
    ----------
    name : str
        What plan and log call it, such as "ordinary 4 mm"; no # in it.
    kind : str
        One of `KINDS`.
    pane : Pane
        Size, thickness, glass and support.
    profile : stress.StressProfile
        Residual stress through the thickness.
    flaws : FlawPopulation
        Worst flaws, told by strengths measured slowly and without residual stress.
    way : str
        How the panes are described, a key of `glasskit.demonstration.supply.WAYS`; empty if
        their compression was measured or told.
    unsure : mapping of str to float
        By input of the lot, such as "compression": upper over lower end of what may be true,
        where a description leaves more open than a lot does [-].
    passed : Passed or None
        A drop test that their make has passed.

    """

    name: str
    kind: Kind
    pane: Pane
    profile: stress.StressProfile
    flaws: FlawPopulation = field(default_factory=everyday_flaws)
    way: str = ""
    unsure: Mapping[str, float] = field(default_factory=dict)
    passed: Passed | None = None

    def __post_init__(self) -> None:
        one_of("kind", self.kind, KINDS)
        if not self.name or self.name != self.name.partition("#")[0].strip():
            raise ValueError(f"name must not be empty, padded or hold a #; got {self.name!r}")
        if not np.isclose(self.profile.thickness, self.pane.thickness):
            raise ValueError(
                f"profile must be as thick as the pane, {self.pane.thickness:g} m; "
                f"got {self.profile.thickness:g} m"
            )

    @property
    def squeezes(self) -> tuple[float, float]:
        """Ends of what the surface compression may be by its description [Pa]."""
        middle, wide = -self.profile.surface, self.unsure.get("compression", 1.0)
        return float(middle / np.sqrt(wide)), float(middle * np.sqrt(wide))


def annealed(name: str, pane: Pane, flaws: FlawPopulation | None = None) -> Specimen:
    """Return ordinary panes, without lasting stress.

    Parameters
    ----------
    name : str
        What the kind of pane is called in plans and logs.
    pane : Pane
        Size, glass and support.
    flaws : FlawPopulation, optional
        Flaws of the faces; those of everyday panes unless told otherwise.

    Returns
    -------
    Specimen
        Of the kind "annealed".

    Raises
    ------
    TypeError
        If `pane` is no Pane or `flaws` no FlawPopulation.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> annealed("ordinary", pane).profile.surface
    0.0

    """
    of_type("pane", pane, Pane)
    profile = stress.annealed(pane.thickness)
    return _specimen(name, "annealed", pane, profile, flaws)


def toughened(
    name: str,
    pane: Pane,
    surface_compression: float = 100e6,
    flaws: FlawPopulation | None = None,
) -> Specimen:
    """Return panes toughened by heat.

    Parameters
    ----------
    name : str
        What the kind of pane is called in plans and logs.
    pane : Pane
        Size, glass and support.
    surface_compression : float
        How hard the faces are squeezed, positive [Pa].
    flaws : FlawPopulation, optional
        Flaws of the faces; those of everyday panes unless told otherwise.

    Returns
    -------
    Specimen
        Of the kind "toughened", with the parabola of `glasskit.stress.tempered`.

    Raises
    ------
    ValueError
        If `surface_compression` is not positive or `name` cannot stand in a log.

    Notes
    -----
    The squeeze is the same all over the pane; near edges and corners real panes have less.

    References
    ----------
    Squeeze unless told otherwise: judgement, fully tempered by [ASTMC1048] is 69 MPa and more.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=6e-3, glass=glass("soda-lime"))
    >>> toughened("toughened", pane, 100e6).profile.surface / 1e6
    -100.0

    """
    of_type("pane", pane, Pane)
    profile = stress.tempered(surface_compression, pane.thickness)
    return _specimen(name, "toughened", pane, profile, flaws)


def chemically(
    name: str,
    pane: Pane,
    surface_compression: float = 500e6,
    case_depth: float = 20e-6,
    flaws: FlawPopulation | None = None,
) -> Specimen:
    """Return panes toughened in a salt bath.

    Parameters
    ----------
    name : str
        What the kind of pane is called in plans and logs.
    pane : Pane
        Size, glass and support.
    surface_compression : float
        How hard the faces are squeezed, positive [Pa].
    case_depth : float
        Depth to which they are [m].
    flaws : FlawPopulation, optional
        Flaws of the faces; those of everyday panes unless told otherwise.

    Returns
    -------
    Specimen
        Of the kind "chemically", with the profile of `glasskit.stress.exchanged`.

    Raises
    ------
    ValueError
        If `surface_compression` or `case_depth` is not positive, the case is too deep for the
        pane or `name` cannot stand in a log.

    Notes
    -----
    A flaw deeper than the case is not held shut: such panes can be weaker than they look.

    References
    ----------
    Squeeze and depth unless told otherwise: judgement, what a usual bath leaves.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> chemically("salt", pane, 500e6, 20e-6).profile.case_depth * 1e6
    20.0

    """
    of_type("pane", pane, Pane)
    profile = stress.exchanged(surface_compression, case_depth, pane.thickness)
    return _specimen(name, "chemically", pane, profile, flaws)


def _specimen(
    name: str,
    kind: Kind,
    pane: Pane,
    profile: stress.StressProfile,
    flaws: FlawPopulation | None,
) -> Specimen:
    flaws = everyday_flaws() if flaws is None else flaws
    of_type("flaws", flaws, FlawPopulation)
    return Specimen(name=name, kind=kind, pane=pane, profile=profile, flaws=flaws)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blow:
    """What a blow does to the far face of a pane, height by height.

    Attributes
    ----------
    stress : ndarray
        Peak bending tension [Pa].
    pulse : ndarray
        How long a steady pull of that size would let flaws creep as far [s].
    stretches : ndarray of bool
        Whether the pane sinks so far by then that the tension is overstated.

    """

    stress: FloatArray
    pulse: FloatArray
    stretches: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class DroppedBall:
    """A ball let go above the middle of a pane that lies on its four edges.

    Attributes
    ----------
    mass : float
        Mass [kg].
    solid : BallMaterial
        What it is made of.

    """

    mass: float
    solid: BallMaterial

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")

    @property
    def radius(self) -> float:
        """Radius of the ball [m]."""
        return float(np.cbrt(0.75 * self.mass / (np.pi * self.solid.density)))

    def face(self, pane: Pane) -> FarFace:
        """Return what such falls do to the far face."""
        return far_face(self, pane)

    def blow(self, pane: Pane, height: ArrayLike) -> Blow:
        """Return the blow from each height [m]."""
        return _struck(self.face(pane), height)

    def area(
        self, pane: Pane, height: ArrayLike, modulus: ArrayLike, compression: ArrayLike = 0.0
    ) -> FloatArray:
        """Return the effective area for a Weibull modulus under a compression [m^2]."""
        return self.face(pane).area(height, modulus, compression)


@dataclass(frozen=True, slots=True, kw_only=True)
class SwungHammer:
    """A hammer that swings down by itself, as a pendulum, onto the middle of a pane.

    Attributes
    ----------
    mass : float
        Mass of the head; that of the handle is left out [kg].
    face_radius : float
        Radius to which its face is rounded [m]: a ball face its own, a worn flat face many
        times the head.
    solid : BallMaterial
        What the head is made of.

    Examples
    --------
    >>> from glasskit.materials import solid
    >>> SwungHammer(mass=0.5, face_radius=0.02, solid=solid("steel")).face_radius
    0.02

    """

    mass: float
    face_radius: float
    solid: BallMaterial

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        positive("face_radius", self.face_radius, "m")

    def face(self, pane: Pane) -> FarFace:
        """Return what such swings do to the far face."""
        head = SimpleNamespace(mass=self.mass, radius=self.face_radius, solid=self.solid)
        return far_face(cast(Striker, head), pane)

    def blow(self, pane: Pane, height: ArrayLike) -> Blow:
        """Return the blow of a swing through each height [m]."""
        return _struck(self.face(pane), height)

    def area(
        self, pane: Pane, height: ArrayLike, modulus: ArrayLike, compression: ArrayLike = 0.0
    ) -> FloatArray:
        """Return the effective area for a Weibull modulus under a compression [m^2]."""
        return self.face(pane).area(height, modulus, compression)


@dataclass(frozen=True, slots=True, kw_only=True)
class FallingPane:
    """The pane itself, let go level above a floor.

    Attributes
    ----------
    slap : float
        Tension over that of a pane held along a line, `glasskit.impact.ringing.slap_stress`
        [-]: 1 on a batten, less on an even floor that catches it all over, never below 0.05.

    """

    slap: float = 1.0

    def __post_init__(self) -> None:
        positive("slap", self.slap)

    def blow(self, pane: Pane, height: ArrayLike) -> Blow:
        """Return the blow from each height [m]."""
        tension = self.slap * slap_stress(drop_speed(height), pane.glass)
        still = np.zeros(tension.shape)
        return Blow(stress=tension, pulse=still + _SLAP_PULSE, stretches=still > 0)

    def area(
        self, pane: Pane, height: ArrayLike, modulus: ArrayLike, compression: ArrayLike = 0.0
    ) -> FloatArray:
        """Return the effective area, of a pane bent over a line across it [m^2].

        The net pull of a squeezed pane falls to nothing nearer to the line.
        """
        short, long = sorted((pane.width, pane.length))
        pull = self.blow(pane, height).stress
        net = np.clip(1.0 - np.asarray(compression) / pull, 0.01, 1.0)
        return bending_area(short, long * net, modulus)


@dataclass(frozen=True, slots=True, kw_only=True)
class GuidedDrop:
    """A device guided down, screen first and level, onto a floor; the pane is its screen.

    The strength of the screen and what lies on the floor are those of
    `glasskit.impact.device`: the flaws and the support of a `Specimen` do not count here.

    Attributes
    ----------
    mass : float
        Mass of the device [kg].
    floor : str
        One of `glasskit.impact.device.FLOORS`.
    glass : Glass
        What the screen is made of.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> GuidedDrop(mass=0.2, floor="concrete", glass=glass("aluminosilicate")).floor
    'concrete'

    """

    mass: float
    floor: str
    glass: Glass

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        one_of("floor", self.floor, FLOORS)

    def landing(self, specimen: Specimen, height: ArrayLike) -> Landing:
        """Return the landing from each height [m], every judged case tried."""
        device = Device(
            mass=self.mass,
            length=specimen.pane.length,
            width=specimen.pane.width,
            glass=self.glass,
            screen=specimen.profile,
        )
        return land(device, self.floor, height)


Rig = DroppedBall | SwungHammer | FallingPane | GuidedDrop


def _struck(face: FarFace, height: ArrayLike) -> Blow:
    return Blow(
        stress=face.tension(height),
        pulse=face.pulse(height),
        stretches=face.stretches(height),
    )
