# SPDX-License-Identifier: MIT
"""Strength from the size of a flaw: Griffith in both forms, and the theoretical strength."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.crack.weight import EDGE_CRACK
from glasskit.materials import Glass, glass
from glasskit.quantities import FloatArray, doubt, positive


def griffith_strength(
    depth: ArrayLike, toughness: ArrayLike, geometry_factor: ArrayLike = EDGE_CRACK
) -> FloatArray:
    r"""Return the tension at which a crack runs in glass without residual stress.

    .. math:: \sigma = \frac{K_{Ic}}{Y \sqrt{\pi a}}

    Parameters
    ----------
    depth : array_like
        Depth of the crack :math:`a` [m].
    toughness : array_like
        Fracture toughness :math:`K_{Ic}` [Pa m^0.5].
    geometry_factor : array_like
        :math:`Y`, 1.1215 for a long shallow crack, about 0.66 for a half-disc [-].

    Returns
    -------
    ndarray of float
        Uniform tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Fast loading; under a load that lasts, humid air lets the crack creep at much less.
    Below a depth of some nanometres the glass is not a continuum and the formula overstates.

    References
    ----------
    .. [1] [Griffith1921]; [Irwin1957] for the form with K.

    Examples
    --------
    A scratch 20 µm deep in window glass:

    >>> griffith_strength(20e-6, 0.75e6).item() / 1e6
    84.4

    """
    size = positive("depth", depth, "m")
    limit = positive("toughness", toughness, "Pa m^0.5")
    doubt("depth", size, "depth")
    doubt("toughness", limit, "toughness")
    factor = positive("geometry_factor", geometry_factor)
    return np.asarray(limit / (factor * np.sqrt(np.pi * size)))


def griffith_depth(
    strength: ArrayLike, toughness: ArrayLike, geometry_factor: ArrayLike = EDGE_CRACK
) -> FloatArray:
    r"""Return the depth of the crack that explains a strength.

    The inverse of `griffith_strength`: :math:`a = (K_{Ic}/(Y\sigma))^2/\pi`.

    Parameters
    ----------
    strength : array_like
        Tension at which the glass broke [Pa].
    toughness, geometry_factor : array_like
        As for `griffith_strength`.

    Returns
    -------
    ndarray of float
        Depth [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    A long, shallow crack square to the pull, and a quick pull: in a slow test the flaw has
    grown before it breaks, and the depth at the start was less.

    References
    ----------
    [Griffith1921]; [Irwin1957] for the form with K.

    Examples
    --------
    >>> griffith_depth(45e6, 0.75e6).item() * 1e6
    70.3

    """
    tension = positive("strength", strength, "Pa")
    limit = positive("toughness", toughness, "Pa m^0.5")
    doubt("strength", tension, "stress")
    doubt("toughness", limit, "toughness")
    factor = positive("geometry_factor", geometry_factor)
    return np.asarray((limit / (factor * tension)) ** 2 / np.pi)


def energy_strength(
    half_length: ArrayLike, surface_energy: ArrayLike, modulus: ArrayLike
) -> FloatArray:
    r"""Return the tension at which a crack inside a thin sheet runs, from energy alone.

    .. math:: \sigma = \sqrt{\frac{2 E \gamma}{\pi a}}

    Parameters
    ----------
    half_length : array_like
        Half the length of the through crack :math:`a` [m].
    surface_energy : array_like
        Energy for each square metre of new surface :math:`\gamma` [J/m^2].
    modulus : array_like
        Young's modulus :math:`E` [Pa].

    Returns
    -------
    ndarray of float
        Uniform tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Plane stress. With the thermodynamic surface energy (about 0.3 J/m^2) it falls short of
    measured strengths; the fracture surface energy (about 4 J/m^2) includes all that the
    running crack spends.

    References
    ----------
    .. [1] [Griffith1921].

    Examples
    --------
    >>> energy_strength(0.4e-3, 0.3, 69e9).item() / 1e6
    5.74

    """
    size = positive("half_length", half_length, "m")
    cost = positive("surface_energy", surface_energy, "J/m^2")
    stiffness = positive("modulus", modulus, "Pa")
    return np.asarray(np.sqrt(2 * stiffness * cost / (np.pi * size)))


def theoretical_strength(
    modulus: ArrayLike, surface_energy: ArrayLike, spacing: ArrayLike
) -> FloatArray:
    r"""Return the tension that parts atoms all at once, in glass without a flaw.

    .. math:: \sigma = \sqrt{E \gamma / a_0}

    Parameters
    ----------
    modulus : array_like
        Young's modulus :math:`E` [Pa].
    surface_energy : array_like
        Energy for each square metre of new surface :math:`\gamma` [J/m^2].
    spacing : array_like
        Distance between neighbouring atoms :math:`a_0`, 0.16 nm for silicon and oxygen [m].

    Returns
    -------
    ndarray of float
        Strength [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    An estimate to within a factor of two or three: 15 to 41 GPa for the surface energies in
    use, against 10 to 14 GPa measured on pristine fibres.

    References
    ----------
    .. [1] [Orowan1949].

    Examples
    --------
    >>> theoretical_strength(70e9, 0.5, 0.16e-9).item() / 1e9
    14.8

    """
    stiffness = positive("modulus", modulus, "Pa")
    cost = positive("surface_energy", surface_energy, "J/m^2")
    gap = positive("spacing", spacing, "m")
    return np.asarray(np.sqrt(stiffness * cost / gap))


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """A flaw at the surface of a glass without residual stress.

    Attributes
    ----------
    depth : float
        How deep it reaches [m].
    glass : Glass
        What it is in.
    geometry_factor : float
        Y of `griffith_strength` [-].

    Raises
    ------
    ValueError
        If `depth` or `geometry_factor` is not finite and positive.

    Examples
    --------
    A scratch a quarter as deep as a hair is wide, in MPa:

    >>> from glasskit.crack import Flaw
    >>> from glasskit.materials import glass
    >>> Flaw(depth=20e-6, glass=glass("soda-lime")).strength / 1e6
    84.37

    """

    depth: float
    glass: Glass
    geometry_factor: float = EDGE_CRACK

    def __post_init__(self) -> None:
        positive("depth", self.depth, "m")
        positive("geometry_factor", self.geometry_factor)

    @property
    def strength(self) -> float:
        """Tension at which it runs [Pa]."""
        factor = self.geometry_factor
        return griffith_strength(self.depth, self.glass.toughness, factor).item()

    @property
    def bond_strength(self) -> float:
        """Theoretical strength, from the surface energy of silicate glass [Pa]."""
        return theoretical_strength(
            self.glass.modulus,
            glass("soda-lime").surface_energy,
            glass("fused silica").values["bond"].value,
        ).item()
