# SPDX-License-Identifier: MIT
"""Set a pane ringing: its bending modes, and how its middle answers a changing push.

Kirchhoff's thin plate on four edges, pushed in the middle. The edges may be pinned (held
down, free to turn), as a frame does that gives way as a whole; clamped; stuck to a strip,
which gives way place by place; or laid on such a strip, and then they may lift off. Each mode
loses a fixed share of its swing. Pushes, deflections and the tension of the far face are
positive.

A load that changes linearly from step to step is followed exactly for each mode. Modes too
quick for the steps follow the load at rest: what the truncated sum lacks of the static
deflection and stress is added in closed form, so that neither diverges nor depends on where
the sum was cut.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.linalg import eigh
from threadpoolctl import ThreadpoolController

from glasskit.bending.panes import equivalent_radius, flexural_rigidity, pane_patch
from glasskit.impact.layer import far_face_radius
from glasskit.impact.shapes import Shapes
from glasskit.quantities import (
    FloatArray,
    doubt,
    having,
    in_range,
    of_type,
    one_of,
    positive,
    whole,
)

Edges = Literal["pinned", "laid", "strip", "clamped"]
EDGES: tuple[Edges, ...] = ("pinned", "laid", "strip", "clamped")
"""How edges are held: down but free to turn, not at all, by glue on a strip, or fast."""

# Matrices of a hundred rows gain nothing from more threads, and on a busy machine threads wait
# for each other a hundred times as long as the sums take.
_BLAS = ThreadpoolController()

_PROBE = 1e-9  # a force too small to bend any pane beyond the linear theory [N]
_MANY = 60.0  # frequency up to which modes are summed at rest, in that of the whole pane
_SLOW = 1e-5  # angle in a step below which a swing is taken as so slow
_OWN = 1e-10  # share of a shape that others cannot make, below which it is left out
_LEDGE = 2e8  # stiffness of a hard wooden ledge per length [N/m^2]
_CLAMP = 1000.0  # stiffness of a clamp against turning, in rigidities over the shorter side
_SMOOTH: dict[Edges, Literal["", "moving", "held"]] = {
    "pinned": "",
    "laid": "moving",
    "strip": "moving",
    "clamped": "held",
}


class PaneMaterial(Protocol):
    """Whatever has stiffness and mass, such as a glass."""

    @property
    def modulus(self) -> float:
        """Young's modulus [Pa]."""

    @property
    def poisson(self) -> float:
        """Poisson's ratio [-]."""

    @property
    def density(self) -> float:
        """Density [kg/m^3]."""

    @property
    def plane_strain_modulus(self) -> float:
        """Young's modulus over one less Poisson's ratio squared [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stuff:
    """Stiffness and mass alone, of whatever glass: numbers that can be told apart."""

    modulus: float
    poisson: float
    density: float

    @property
    def plane_strain_modulus(self) -> float:
        return self.modulus / (1.0 - self.poisson**2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A rectangular pane on its four edges.

    Attributes
    ----------
    length, width : float
        Sides between the supports [m].
    thickness : float
        Thickness [m].
    glass : PaneMaterial
        What it is made of.
    support_stiffness : float
        Force per sinking of all four edges together [N/m]; infinite for a hard support. A
        strip of modulus E, width b and thickness t gives E b/t times the perimeter. Edges
        that are pinned or clamped move together on it, others place by place; a hard ledge
        under those gives way by 5 nm for each N/m.
    damping : float
        Damping of every mode over critical [-]: 0.01 or less for glass on hard edges, some
        hundredths on rubber (common practice; measure it if it matters).
    edges : str
        One of `EDGES`.

    """

    length: float
    width: float
    thickness: float
    glass: PaneMaterial
    support_stiffness: float = np.inf
    damping: float = 0.02
    edges: Edges = "pinned"

    def __post_init__(self) -> None:
        for name in ("length", "width", "thickness"):
            size = positive(name, getattr(self, name), "m")
            doubt(name, size, "thickness" if name == "thickness" else "length")
        stiff = self.support_stiffness
        if not (isinstance(stiff, float) and stiff == np.inf):
            positive("support_stiffness", stiff, "N/m")
        in_range("damping", self.damping, 0.0, 0.9)
        one_of("edges", self.edges, EDGES)

    def plain(self) -> "Pane":
        """Return an equal pane of nothing but numbers, so that results can be kept by it."""
        stuff = _Stuff(
            modulus=self.glass.modulus, poisson=self.glass.poisson, density=self.glass.density
        )
        return replace(self, glass=stuff)

    @property
    def mass(self) -> float:
        """Mass between the supports [kg]."""
        return self.glass.density * self.thickness * self.length * self.width

    @property
    def rigidity(self) -> float:
        """Bending stiffness of the plate [N m]."""
        return flexural_rigidity(self.thickness, self.glass).item()

    @property
    def perimeter(self) -> float:
        """Length of all four edges [m]."""
        return 2.0 * (self.length + self.width)

    @property
    def bedding(self) -> float:
        """Force per sinking and length of the strip or ledge under the edges [N/m^2]."""
        return min(self.support_stiffness / self.perimeter, _LEDGE)

    def compliance(self) -> float:
        """Return the sinking of the middle per central force at rest [m/N].

        Edges that are laid on are taken as stuck: their corners do not rise.
        """
        if self.edges == "pinned":
            return self.held_compliance() + 1.0 / self.support_stiffness
        stuck = replace(self, edges="strip") if self.edges == "laid" else self
        found = modes(stuck, _MANY / np.sqrt(self.mass * self.held_compliance()))
        sunk = found.deflection @ (found.deflection / found.frequency**2)
        return float(sunk + self.held_compliance() - found.at_rest.sum())

    def held_compliance(self) -> float:
        """Return the same with edges that are pinned and do not give way [m/N]."""
        bent = pane_patch(_PROBE, 0.0, self.length, self.width, self.thickness, self.glass)
        return bent.deflection.item() / _PROBE

    def stress_compliance(self, contact_radius: ArrayLike) -> FloatArray:
        """Return the far-face tension under a ball per force at rest, edges pinned.

        Parameters
        ----------
        contact_radius : array_like
            Radius of the circle of contact [m].

        Returns
        -------
        ndarray
            Along length and along width [Pa/N], shape (2, ...).

        """
        sides = self.length, self.width
        bent = pane_patch(_PROBE, contact_radius, *sides, self.thickness, self.glass)
        pair = np.stack([bent.stress, bent.cross_stress]) / _PROBE
        handbook = equivalent_radius(contact_radius, self.thickness)
        wider = np.log(handbook / far_face_radius(contact_radius, self.thickness))
        share = 1.5 * (1.0 + self.glass.poisson) / (np.pi * self.thickness**2)
        return (pair if self.length <= self.width else pair[::-1]) + share * wider


def slap_stress(speed: ArrayLike, material: PaneMaterial) -> FloatArray:
    r"""Return the bending tension where a moving plate is suddenly held along a line.

    .. math:: \sigma = \sqrt{3}\, v \sqrt{\rho \frac{E}{1 - \nu^2}}

    A pane that falls flat on a ridge bends over it in two waves; so does, in mirror image, a
    pane at rest that is hit along a line. The thickness does not matter.

    Parameters
    ----------
    speed : array_like
        Speed of the plate before it is held [m/s].
    material : PaneMaterial
        What it is made of.

    Returns
    -------
    ndarray
        Tension at the line, on the face away from it [Pa].

    Raises
    ------
    ValueError
        If `speed` is not finite and positive.

    Notes
    -----
    Exact for a wide thin plate until the waves come back from its edges; afterwards they may
    double it. On an even floor a pane does not land all at once either, so this is a scale,
    good to a factor of two.

    References
    ----------
    Own method: kernel of the unbounded plate [Zener1941], along a line in place of a point.

    Examples
    --------
    Half a metre, in MPa:

    >>> from glasskit.materials.glasses import glass
    >>> round(slap_stress(3.13, glass("soda-lime")).item() / 1e6)
    73

    """
    having("material", material, "density", "plane_strain_modulus")
    impedance = np.sqrt(material.density * material.plane_strain_modulus)
    return np.asarray(np.sqrt(3.0) * positive("speed", speed, "m/s") * impedance)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Modes:
    """Modes that move the middle of a pane, n of them, each of unit modal mass.

    Attributes
    ----------
    frequency : ndarray
        Angular frequency [rad/s], shape (n,).
    deflection : ndarray
        Deflection of the middle per amplitude [kg^-0.5], shape (n,).
    stress : ndarray
        Far-face tension at the middle, along length and width, per amplitude
        [Pa m^-1 kg^-0.5], shape (2, n).
    shapes : Shapes
        What they are built from, b shapes.
    vectors : ndarray
        How much of each shape they hold [kg^-0.5], shape (b, n).
    at_rest : ndarray
        What a unit force at rest makes of the waves among the shapes, edges held [m/N]; zero
        for the other shapes, shape (b,).
    stress_at_rest : ndarray
        Far-face tension of the middle that it makes of them, along length and width [Pa/N],
        shape (2,).

    """

    frequency: FloatArray
    deflection: FloatArray
    stress: FloatArray
    shapes: Shapes
    vectors: FloatArray
    at_rest: FloatArray
    stress_at_rest: FloatArray


def modes(pane: Pane, highest: float) -> Modes:
    """Return the modes of a pane that move its middle.

    Parameters
    ----------
    pane : Pane
        The pane and its support; edges that are laid on are let go.
    highest : float
        Angular frequency up to which waves of a pane with held edges are wanted [rad/s]; the
        lowest is always there.

    Returns
    -------
    Modes
        Of unit modal mass.

    Raises
    ------
    ValueError
        If `highest` is not finite and positive.

    Notes
    -----
    Wave by wave, exact, where the edges are pinned hard. Otherwise the waves and what the
    edges allow are solved together (Rayleigh and Ritz). Clamped edges turn by a little still.

    References
    ----------
    Common practice: sines of a supported plate.

    Examples
    --------
    The lowest mode of a window of 300 by 300 by 4 mm, in hertz:

    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> round(float(modes(pane, 1e4).frequency[0]) / (2 * np.pi))
    218

    """
    of_type("pane", pane, Pane)
    top = positive("highest", highest, "rad/s").item()
    return _modes(replace(pane.plain(), damping=0.0), top)


@lru_cache(maxsize=8)  # of a wide pane some tens of megabytes each
def _modes(pane: Pane, highest: float) -> Modes:
    """Return the modes of a plain pane, whose damping does not count."""
    wave = np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness))
    reach = np.sqrt(highest / wave) / np.pi
    odd = [np.arange(1, max(reach * side, 1.0) + 1, 2.0) for side in (pane.length, pane.width)]
    along, across = (grid.ravel() for grid in np.meshgrid(*odd, indexing="ij"))
    squared = (along / pane.length) ** 2 + (across / pane.width) ** 2
    keep = np.pi**2 * wave * squared <= max(highest, np.pi**2 * wave * squared[0])
    held = np.pi**2 * wave * squared[keep]
    shapes = Shapes(
        length=pane.length,
        width=pane.width,
        waves=(along[keep], across[keep]),
        smooth=_SMOOTH[pane.edges],
        heave=bool(np.isfinite(pane.support_stiffness)),
    )
    frequency, vectors = held, np.eye(held.size) * (2.0 / np.sqrt(pane.mass))
    if shapes.smooth or shapes.heave:
        with _BLAS.limit(limits=1, user_api="blas"):
            frequency, vectors = _coupled(pane, shapes)
    middle = np.zeros(1)
    bent = np.concatenate(shapes.bending(middle, middle, pane.glass.poisson)[:2])
    bent *= 6.0 * pane.rigidity / pane.thickness**2
    at_rest = np.zeros(len(vectors))
    at_rest[: held.size] = 4.0 / (pane.mass * held**2)
    return Modes(
        frequency=frequency,
        deflection=shapes.values(middle, middle)[0] @ vectors,
        stress=bent @ vectors,
        shapes=shapes,
        vectors=vectors,
        at_rest=at_rest,
        stress_at_rest=bent @ at_rest,
    )


def _coupled(pane: Pane, shapes: Shapes) -> tuple[FloatArray, FloatArray]:
    """Solve waves and edges together: frequencies (n,) and shares of the shapes (b, n)."""
    stiffness = pane.rigidity * shapes.stiffness(pane.glass.poisson)
    if pane.edges == "strip":
        stiffness += pane.bedding * shapes.edges(0)
    elif shapes.heave and pane.edges != "laid":
        stiffness += pane.support_stiffness / pane.perimeter * shapes.edges(0)
    if pane.edges == "clamped":
        turning = _CLAMP * pane.rigidity / min(pane.length, pane.width)
        stiffness += turning * shapes.edges(1)
    mass = pane.glass.density * pane.thickness * shapes.mass()
    if not shapes.smooth:
        squared, vectors = eigh(stiffness, mass)
        return np.sqrt(squared), vectors
    # Smooth shapes are nearly sums of many waves: keep what they truly add.
    scale = 1.0 / np.sqrt(np.diag(mass))
    spread, axes = eigh(mass * np.multiply.outer(scale, scale))
    own = spread > _OWN
    basis = scale[:, None] * axes[:, own] / np.sqrt(spread[own])
    squared, turned = eigh(basis.T @ stiffness @ basis)
    return np.sqrt(np.maximum(squared, 0.0)), basis @ turned


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Response:
    """What a unit push of one step leaves behind in the middle of a pane, step by step.

    The push rises from zero over one step and falls back over the next; k counts steps from
    its height.

    Attributes
    ----------
    step : float
        Time step [s].
    deflection : ndarray
        Deflection of the middle per force [m/N], shape (k,).
    amplitudes : ndarray
        Amplitude of every mode per force [m kg^0.5/N], shape (n, k).
    turns : tuple of ndarray
        For every mode what one step makes of its swing [-], and of a push on it that falls to
        zero or rises from zero over the step [m/N/kg], complex, shape (n,) each.
    modes : Modes
        The modes, n of them.

    """

    step: float
    deflection: FloatArray
    amplitudes: FloatArray
    turns: tuple[NDArray[np.complex128], ...]
    modes: Modes


def response(pane: Pane, step: float, steps: int, highest: float) -> Response:
    """Return how the middle of a pane answers a short push.

    Parameters
    ----------
    pane : Pane
        The pane and its support.
    step : float
        Time step [s].
    steps : int
        How many steps to follow.
    highest : float
        Angular frequency up to which modes move; above it they follow the load at rest
        [rad/s].

    Returns
    -------
    Response
        For one push; any force is a row of such pushes.

    Raises
    ------
    ValueError
        If `step` or `highest` is not finite and positive.

    Notes
    -----
    Waves shorter than about six thicknesses are not those of a thin plate. The step must
    resolve the push.

    References
    ----------
    [Goldsmith1960] for a supported pane under a blow.

    Examples
    --------
    A push that lasts one step of 10 µs; the middle is at rest before:

    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> response(pane, 1e-5, 100, 1e5).deflection.shape
    (100,)

    """
    of_type("pane", pane, Pane)
    found, steps = modes(pane, highest), whole("steps", steps, 1, 10_000_000)
    step = positive("step", step, "s").item()
    # A pane that is free to rise swings so slowly that nobody sees it come back.
    frequency = np.maximum(found.frequency, _SLOW / step)
    swing = frequency * (1j * np.sqrt(1.0 - pane.damping**2) - pane.damping)
    turn = swing * step
    share = 1.0 / swing.imag
    half = share * step * (np.expm1(turn) - turn) / turn**2
    full = share * step * (np.sinh(turn / 2.0) / (turn / 2.0)) ** 2
    later = np.exp(np.multiply.outer(np.arange(steps), turn)) * full
    later[0] = half
    pushed = later.imag * found.deflection
    deflection = pushed @ found.deflection
    # Waves left out follow at rest: their spring acts at once, and only while pushed.
    deflection[0] += pane.held_compliance() - found.at_rest.sum()
    falling = share * step * np.expm1(turn) / turn - half
    return Response(
        step=step,
        deflection=deflection,
        amplitudes=pushed.T,
        turns=(np.exp(turn), falling, half),
        modes=found,
    )
