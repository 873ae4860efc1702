# SPDX-License-Identifier: MIT
"""Set a pane ringing: its bending modes, and how its middle answers a changing push.

Kirchhoff's thin plate, simply supported along four edges, pushed in the middle. The supports
may give way together, as a frame on a rubber strip does; each mode loses a fixed share of its
swing. Pushes, deflections and the tension of the far face are positive.

A load that changes linearly from step to step is followed exactly for each mode. Modes too
quick for the steps follow the load at rest: what the truncated sum lacks of the static
deflection and stress is added in closed form, so that neither diverges nor depends on where
the sum was cut.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import eigh

from glasskit.bending import flexural_rigidity, pane_patch
from glasskit.quantities import FloatArray, doubt, having, in_range, of_type, positive, whole

__all__ = ["Modes", "Pane", "PaneMaterial", "Response", "modes", "response", "slap_stress"]

_PROBE = 1e-9  # a force too small to bend any pane beyond the linear theory [N]


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
class Pane:
    """A rectangular pane supported along its four edges.

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
        strip of modulus E, width b and thickness t gives E b/t times the perimeter.
    damping : float
        Damping of every mode over critical [-]: 0.01 or less for glass on hard edges, some
        hundredths on rubber (common practice; measure it if it matters).

    """

    length: float
    width: float
    thickness: float
    glass: PaneMaterial
    support_stiffness: float = np.inf
    damping: float = 0.02

    def __post_init__(self) -> None:
        for name in ("length", "width", "thickness"):
            positive(name, getattr(self, name), "m")
        doubt("thickness", self.thickness, "thickness")
        positive("support_stiffness", self.support_stiffness, "N/m", infinite=True)
        in_range("damping", self.damping, 0.0, 0.9)

    @property
    def mass(self) -> float:
        """Mass between the supports [kg]."""
        return self.glass.density * self.thickness * self.length * self.width

    @property
    def rigidity(self) -> float:
        """Bending stiffness of the plate [N m]."""
        return flexural_rigidity(self.thickness, self.glass).item()

    def compliance(self) -> float:
        """Return the sinking of the middle per central force at rest [m/N]."""
        bent = pane_patch(_PROBE, 0.0, self.length, self.width, self.thickness, self.glass)
        return bent.deflection.item() / _PROBE + 1.0 / self.support_stiffness

    def stress_compliance(self, contact_radius: ArrayLike) -> FloatArray:
        """Return the far-face tension under the load per force at rest.

        Parameters
        ----------
        contact_radius : array_like
            Radius of the patch that carries the load [m].

        Returns
        -------
        ndarray
            Along length and along width [Pa/N], shape (2, ...).

        """
        sides = self.length, self.width
        bent = pane_patch(_PROBE, contact_radius, *sides, self.thickness, self.glass)
        pair = np.stack([bent.stress, bent.cross_stress]) / _PROBE
        return pair if self.length <= self.width else pair[::-1]


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

    >>> from glasskit.materials import glass
    >>> round(slap_stress(3.13, glass("soda-lime")).item() / 1e6)
    73

    """
    having("material", material, "modulus", "poisson", "density")
    impedance = np.sqrt(material.density * material.plane_strain_modulus)
    return np.asarray(np.sqrt(3.0) * positive("speed", speed, "m/s") * impedance)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Modes:
    """Modes that move the middle of a pane, each of unit modal mass.

    Attributes
    ----------
    frequency : ndarray
        Angular frequency [rad/s], shape (n,).
    deflection : ndarray
        Deflection of the middle per amplitude [kg^-0.5], shape (n,).
    stress : ndarray
        Far-face tension at the middle, along length and width, per amplitude
        [Pa m^-1 kg^-0.5], shape (2, n).

    """

    frequency: FloatArray
    deflection: FloatArray
    stress: FloatArray


def modes(pane: Pane, highest: float) -> Modes:
    """Return the modes of a pane that move its middle, up to a frequency.

    Parameters
    ----------
    pane : Pane
        The pane and its support.
    highest : float
        Angular frequency up to which modes are wanted [rad/s]; the lowest is always there.

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
    Sine by sine, exact on hard edges. On edges that give way together the sines and the
    heave of the whole pane are coupled by its mass and solved together (Rayleigh and Ritz).

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
    wave = np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness))
    reach = np.sqrt(positive("highest", highest, "rad/s").item() / wave) / np.pi
    along = np.arange(1, max(reach * pane.length, 1.0) + 1, 2.0)[:, None]
    across = np.arange(1, max(reach * pane.width, 1.0) + 1, 2.0)
    kx, ky = np.pi * along / pane.length, np.pi * across / pane.width
    frequency = wave * (kx**2 + ky**2)
    keep = frequency <= max(highest, frequency[0, 0])
    crest = np.where((along + across) % 4 == 2, 1.0, -1.0) * 2.0 / np.sqrt(pane.mass)
    ratio = pane.glass.poisson
    curved = np.stack([kx**2 + ratio * ky**2, ky**2 + ratio * kx**2])
    stress = 6.0 * pane.rigidity / pane.thickness**2 * crest * curved
    hard = Modes(frequency=frequency[keep], deflection=crest[keep], stress=stress[:, keep])
    if np.isinf(pane.support_stiffness):
        return hard
    return _heaving(pane, hard, 8.0 / (np.pi**2 * (along * across)[keep]))


def _heaving(pane: Pane, hard: Modes, coupling: FloatArray) -> Modes:
    """Let the whole pane move on its support as well; `coupling` is the shared mass."""
    mass = np.eye(coupling.size + 1)
    mass[0, 1:] = mass[1:, 0] = coupling
    stiffness = np.diag([pane.support_stiffness / pane.mass, *hard.frequency**2])
    squared, shapes = eigh(stiffness, mass)
    middle = np.concatenate([[1.0 / np.sqrt(pane.mass)], hard.deflection])
    bend = np.concatenate([np.zeros((2, 1)), hard.stress], axis=1)
    return Modes(frequency=np.sqrt(squared), deflection=middle @ shapes, stress=bend @ shapes)


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
    stress : ndarray
        Far-face tension along length and width that modes carry [Pa/N], shape (2, k).
    modal_stress : ndarray
        The same for a force that stays [Pa/N], shape (2,).

    """

    step: float
    deflection: FloatArray
    stress: FloatArray
    modal_stress: FloatArray


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
    found, steps = modes(pane, highest), whole("steps", steps, 1, 10_000_000)
    step = positive("step", step, "s").item()
    swing = found.frequency * (1j * np.sqrt(1.0 - pane.damping**2) - pane.damping)
    turn = swing * step
    share = found.deflection / swing.imag
    full = step * (np.sinh(turn / 2.0) / (turn / 2.0)) ** 2
    half = step * (np.expm1(turn) - turn) / turn**2
    later = np.exp(np.multiply.outer(np.arange(steps), turn)) * (share * full)
    later[0] = share * half
    ringing = later.imag
    at_rest = found.deflection / found.frequency**2
    deflection = ringing @ found.deflection
    # Modes left out follow at rest: their spring acts at once, and only while pushed.
    deflection[0] += pane.compliance() - at_rest @ found.deflection
    return Response(
        step=step,
        deflection=deflection,
        stress=found.stress @ ringing.T,
        modal_stress=found.stress @ at_rest,
    )
