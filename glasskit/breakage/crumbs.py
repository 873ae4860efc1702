# SPDX-License-Identifier: MIT
r"""Count the crumbs of a toughened pane from the energy that it stores.

The tension in the core keeps every crack running and splitting until the pane is crumbs: the
more tension, the smaller. Crumbs are smaller and blunter than the blades of plain glass. They
are not harmless.

A crack that has reached the core lengthways runs as a tunnel between the squeezed skins. For
each square metre of its path the core gives

.. math:: G = \frac{1-\nu^2}{E}\,\frac{1}{a}\int_0^a K(c)^2\,dc, \qquad
    K(c) = \sqrt{\pi c}\,\frac{1}{\pi}\int_0^\pi \sigma(t/2 + c\cos\vartheta)\,d\vartheta

with :math:`2a` the width of the core. New faces cost :math:`G_c`. A core that pays less than
one crack carries none; one that pays less than two has nothing to split it with.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from glasskit.breakage.fragments import MIRROR_CONSTANTS, feature_radius
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, in_range, non_negative, of_type, one_of, positive
from glasskit.stress import StressProfile

SQUARE = 50e-3
"""Side of the square in which the standards count pieces [m]."""

DICING_TENSION = (30e6, 40e6, 50e6)
"""Tension in the core at which 6 mm soda-lime glass breaks into 40 pieces a square: low,
middle and high [Pa]. That it dices at "about 30 to 50 MPa" is from memory; that this means 40
pieces, the count asked for toughened glass of this thickness, is our reading of it."""

DICING_SPREAD = 0.12
"""How far `dicing_tension` may be off either way: a judgement [-]."""

# Thickness [m], and tension in the core at which a pane breaks into 40 pieces a square [Pa]:
# half the surface compression that works aim at, from memory. That thinner glass needs more is
# published (2.1 to 3.2 mm, [Lee2012]).
_DICES = np.array([[3e-3, 57.5e6], [4e-3, 50e6], [6e-3, 45e6], [8e-3, 40e6], [19e-3, 40e6]])
_DICING_COUNT = 40.0
_DICING_THICKNESS = 6e-3

Relation = Literal["energy", "mass"]


def energy_density(
    central_tension: ArrayLike, modulus: ArrayLike, poisson: ArrayLike
) -> FloatArray:
    r"""Return the elastic energy stored in a tempered pane, in each cubic metre.

    .. math:: u = \frac{4}{5}\,\frac{1-\nu}{E}\,\sigma_m^2

    Parameters
    ----------
    central_tension : array_like
        Tension in the core :math:`\sigma_m`, half the surface compression [Pa].
    modulus : array_like
        Young's modulus [Pa].
    poisson : array_like
        Poisson ratio [-].

    Returns
    -------
    ndarray of float
        Energy per volume [J/m^3], mean through the thickness of a parabola.

    Raises
    ------
    ValueError
        If `central_tension` is negative, `modulus` not positive or `poisson` not 0 to 0.5.

    Notes
    -----
    Of the parabola of a tempered pane far from its edges; other profiles through
    `StressProfile.stored_energy`.

    References
    ----------
    [Barsom1968]

    Examples
    --------
    >>> energy_density(50e6, 70e9, 0.2).round().item()
    22857.0

    """
    tension = non_negative("central_tension", central_tension, "Pa")
    plane = 1 - in_range("poisson", poisson, 0.0, 0.5)
    return np.asarray(0.8 * plane * tension**2 / positive("modulus", modulus, "Pa"))


def dicing_tension(thickness: ArrayLike) -> FloatArray:
    """Return the tension in the core at which a pane breaks into 40 pieces a square.

    Parameters
    ----------
    thickness : array_like
        Thickness [m].

    Returns
    -------
    ndarray of float
        Tension, half the surface compression [Pa]; good to `DICING_SPREAD`.

    Raises
    ------
    ValueError
        If `thickness` is not positive.

    Notes
    -----
    Pairs of thickness and tension from memory, in a straight line between their logarithms;
    below 3 mm the line goes on. Measured pairs are wanted: none were found in print with
    their numbers.

    References
    ----------
    [Lee2012] for the rise below 3.2 mm.

    Examples
    --------
    Thin and thick panes, in MPa:

    >>> (dicing_tension([2e-3, 4e-3, 10e-3]) / 1e6).round()
    array([70., 50., 40.])

    """
    place = np.log(positive("thickness", thickness, "m"))
    known, tension = np.log(_DICES.T)
    slope = (tension[1] - tension[0]) / (known[1] - known[0])
    thinner = np.minimum(place - known[0], 0.0) * slope
    return np.asarray(np.exp(np.interp(place, known, tension) + thinner))


def crumb_count(
    central_tension: ArrayLike,
    thickness: ArrayLike,
    *,
    relation: Relation = "energy",
    dicing_tension: ArrayLike = DICING_TENSION[1],
) -> FloatArray:
    r"""Return how many pieces a tempered pane breaks into, in a square of 50 mm.

    Two published relations, which agree on the tension and differ on the thickness:

    .. math:: N_{energy} = 40\,(\sigma_m/\sigma_d)^4, \qquad
        N_{mass} = 40\,(\sigma_m/\sigma_d)^4\,\frac{t}{6\,\mathrm{mm}}

    Parameters
    ----------
    central_tension : array_like
        Tension in the core :math:`\sigma_m` [Pa].
    thickness : array_like
        Thickness :math:`t` [m].
    relation : {"energy", "mass"}
        "energy": width of a piece in proportion to crack energy over stored energy density.
        "mass": mass of a piece times the fourth power of the tension is constant.
    dicing_tension : array_like
        Tension :math:`\sigma_d` at which 6 mm glass breaks into 40 pieces; see
        `DICING_TENSION` for its spread [Pa].

    Returns
    -------
    ndarray of float
        Pieces in 50 mm by 50 mm [-]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `central_tension` is negative, another argument not positive, or `relation` unknown.

    Notes
    -----
    The constants published with the relations were not at hand, so both are tied to the
    tension at which 6 mm glass dices. Its spread is a factor of eight in the count: an
    illustration, never a proof of safety; that takes a broken specimen. Below 4 mm glass needs
    more stress than either relation says: give it `dicing_tension` of its thickness. Exchanged
    glass is not a parabola.

    References
    ----------
    [Barsom1968], [Gulati1997]

    Examples
    --------
    50 MPa in the core of 6 mm glass, with the spread of the dicing tension:

    >>> crumb_count(50e6, 6e-3, dicing_tension=DICING_TENSION).round()
    array([309.,  98.,  40.])

    """
    one_of("relation", relation, ("energy", "mass"))
    ratio = non_negative("central_tension", central_tension, "Pa") / positive(
        "dicing_tension", dicing_tension, "Pa"
    )
    size = positive("thickness", thickness, "m") / _DICING_THICKNESS
    return np.asarray(_DICING_COUNT * ratio**4 * (size if relation == "mass" else size**0))


def counted_tension(count: ArrayLike, thickness: ArrayLike) -> FloatArray:
    r"""Return the tension in the core of a tempered pane that broke into so many pieces.

    .. math:: \sigma_m = \sigma_d(t)\,(N/40)^{1/4}

    Parameters
    ----------
    count : array_like
        Pieces in a square of 50 mm :math:`N` [-].
    thickness : array_like
        Thickness :math:`t` [m].

    Returns
    -------
    ndarray of float
        Tension, half the surface compression [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not positive.

    Notes
    -----
    `crumb_count` by energy, solved for the tension. Good to `DICING_SPREAD`: the fourth root
    makes a count of ten in a hundred more or less one of 2.5 in the tension. It takes the pane
    for quenched, with its parabola, and the square for one away from edges and origin.

    References
    ----------
    [Barsom1968]

    Examples
    --------
    6 mm glass that broke into 40 and into 80 pieces, in MPa:

    >>> (counted_tension([40, 80], 6e-3) / 1e6).round(1)
    array([45. , 53.5])

    """
    ratio = (positive("count", count) / _DICING_COUNT) ** 0.25
    return np.asarray(dicing_tension(thickness) * ratio)


def surface_share(
    count: ArrayLike, energy_density: ArrayLike, crack_energy: ArrayLike
) -> FloatArray:
    r"""Return what part of the stored energy the new faces of the pieces take up.

    Cells of mean density :math:`n` have a length of border :math:`2\sqrt{n}` in each unit of
    area, so that

    .. math:: \eta = \frac{2\sqrt{n}\,G_c}{u}

    Parameters
    ----------
    count : array_like
        Pieces in a square of 50 mm [-].
    energy_density : array_like
        Stored energy :math:`u` [J/m^3].
    crack_energy : array_like
        Energy to make a crack, both faces, :math:`G_c` [J/m^2].

    Returns
    -------
    ndarray of float
        Share [-]; the rest stays in the pieces or goes into rough faces, noise and motion.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    The length of border is that of randomly placed cells and also of squares.

    References
    ----------
    [Okabe2000]

    Examples
    --------
    40 pieces of glass with 40 MPa in its core:

    >>> surface_share(40, 14629.0, 7.7).round(2).item()
    0.13

    """
    density = positive("count", count) / SQUARE**2
    cost = 2 * np.sqrt(density) * positive("crack_energy", crack_energy, "J/m²")
    return np.asarray(cost / positive("energy_density", energy_density, "J/m³"))


@dataclass(frozen=True, slots=True, kw_only=True)
class MinimumCount:
    """The least number of pieces that a rule asks for, in a square of 50 mm.

    Attributes
    ----------
    rule : str
        Name of the rule.
    thinnest, thickest : float
        Nominal thicknesses for which it asks it [m].
    count : int
        Pieces [-].
    status : str
        Whether the number was looked up.

    """

    rule: str
    thinnest: float
    thickest: float
    count: int
    status: str


_FOUND = "EN 12150-1, as quoted in New J. Glass Ceram. 2 (2012)"
_NEW = "EN 12150-1:2015"
_TRADE = "EN 12150-1, as a trade page tells it"
MINIMUM_COUNTS = tuple(
    MinimumCount(rule=rule, thinnest=low, thickest=high, count=count, status=status)
    for rule, low, high, count, status in (
        (_FOUND, 3e-3, 3e-3, 15, "found"),
        (_FOUND, 4e-3, 12e-3, 40, "found"),
        (_FOUND, 15e-3, 19e-3, 30, "found"),
        (_NEW, 2e-3, 3e-3, 15, "memory"),
        (_NEW, 4e-3, 12e-3, 40, "memory"),
        (_NEW, 15e-3, 25e-3, 30, "memory"),
        (_TRADE, 3e-3, 4e-3, 15, "trade"),
        (_TRADE, 5e-3, 7e-3, 40, "trade"),
        (_TRADE, 8e-3, 12e-3, 30, "trade"),
        (_TRADE, 15e-3, 19e-3, 10, "trade"),
    )
)
"""Counts for float and drawn sheet. Editions differ, and secondary sources disagree with each
other: look at the standard in force before relying on one."""


def minimum_counts(thickness: float) -> tuple[MinimumCount, ...]:
    """Return every rule known here for one nominal thickness.

    Parameters
    ----------
    thickness : float
        Nominal thickness of the pane [m].

    Returns
    -------
    tuple of MinimumCount
        In the order of the table; empty if none holds for this thickness.

    Raises
    ------
    ValueError
        If `thickness` is not finite and positive.

    Notes
    -----
    Least counts in a square of 50 mm on panes of a size and support that the rule lays down:
    no measure of strength. Each row names its own source, some are common practice.

    Examples
    --------
    >>> [row.count for row in minimum_counts(6e-3)]
    [40, 40, 40]

    """
    size = positive("thickness", thickness, "m").item()
    slack = 1e-6
    return tuple(
        row for row in MINIMUM_COUNTS if row.thinnest - slack <= size <= row.thickest + slack
    )


NOMINAL = np.array([2, 3, 4, 5, 6, 8, 10, 12, 15, 19, 25]) * 1e-3
"""Thicknesses in which flat glass is sold [m] (common practice)."""

_FEWEST = 4.0  # pieces in the square, below which they are blades rather than crumbs
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_COSINES = np.cos(np.pi * (np.arange(32) + 0.5) / 32)


def core_energy(profile: StressProfile, glass: Glass) -> float:
    """Return the energy that the core gives to a crack running through it.

    Parameters
    ----------
    profile : StressProfile
        Residual stress, symmetrical about the middle.
    glass : Glass
        Its stiffness.

    Returns
    -------
    float
        Energy for each area of crack [J/m^2]; zero where the core is not stretched.

    Notes
    -----
    A long tunnel as high as the stretched core, in a body without end: the two faces of the
    pane, which let it open a little wider, are left out, so it is low by some tenths. The
    energy of the skin is no help: the skin closes cracks.

    References
    ----------
    [HutchinsonSuo1992]

    Examples
    --------
    A 6 mm pane with 80 MPa at its faces and 40 MPa in its core:

    >>> from glasskit.materials import glass
    >>> from glasskit.stress import tempered
    >>> round(core_energy(tempered(80e6, 6e-3), glass("soda-lime")), 1)
    34.8

    """
    of_type("profile", profile, StressProfile)
    of_type("glass", glass, Glass)
    middle = profile.thickness / 2
    height = middle - profile.case_depth
    if profile.centre <= 0 or height <= 0:
        return 0.0
    half = height * (_NODES + 1) / 2
    mean = profile(middle + half[:, None] * _COSINES).mean(axis=-1)
    squared = np.pi * half * mean**2  # stress intensity of a crack of that half-length
    return float(squared @ _WEIGHTS / 2 / glass.plane_strain_modulus)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Breakage:
    """One toughened pane, and what becomes of it when it breaks.

    Attributes
    ----------
    profile : StressProfile
        Residual stress through the thickness.
    glass : Glass
        What it is made of.
    way : {"quench", "bath", "none"}
        How it was toughened: only a quenched pane has published counts of crumbs.

    """

    profile: StressProfile
    glass: Glass
    way: Literal["quench", "bath", "none"]

    @property
    def crack_energy(self) -> float:
        """Energy that a crack costs, both faces [J/m^2]."""
        return 2 * self.glass.fracture_energy

    @property
    def cracks_paid(self) -> float:
        """How many cracks at once the core pays for [-]."""
        return core_energy(self.profile, self.glass) / self.crack_energy

    @property
    def crumbles(self) -> bool:
        """Whether cracks split again and again until crumbs are left."""
        return self.way == "quench" and self.cracks_paid >= 2 and self.count >= _FEWEST

    @property
    def count(self) -> float:
        """Pieces in 50 mm by 50 mm, from the tension that dices this thickness [-]."""
        return float(self._counts([0.0])[0])

    @property
    def count_range(self) -> tuple[float, float]:
        """Least and most pieces, as well as that tension is known [-]."""
        low, high = self._counts([DICING_SPREAD, -DICING_SPREAD])
        return float(low), float(high)

    def _counts(self, off: list[float]) -> FloatArray:
        tension = max(self.profile.centre, 0.0) if self.way == "quench" else 0.0
        size = self.profile.thickness
        return crumb_count(
            tension, size, dicing_tension=dicing_tension(size) * (1 + np.array(off))
        )

    @property
    def relations(self) -> FloatArray:
        """Least, middle and most pieces by "energy" and by "mass", shape (2, 3) [-].

        Zero for a pane that is not quenched.
        """
        tension = max(self.profile.centre, 0.0) if self.way == "quench" else 0.0
        dicing = np.array(DICING_TENSION)[::-1]
        size = self.profile.thickness
        return np.array(
            [
                crumb_count(tension, size, relation="energy", dicing_tension=dicing),
                crumb_count(tension, size, relation="mass", dicing_tension=dicing),
            ]
        )

    @property
    def nominal(self) -> float:
        """The thickness sold that is nearest [m]."""
        return float(NOMINAL[np.abs(NOMINAL - self.profile.thickness).argmin()])

    @property
    def minimum(self) -> tuple[MinimumCount, ...]:
        """What the standard asks of a quenched pane of about that thickness, by source."""
        apart = abs(self.nominal / self.profile.thickness - 1)
        return minimum_counts(self.nominal) if self.way == "quench" and apart < 0.2 else ()

    @property
    def stored(self) -> float:
        """Elastic energy in each area of pane [J/m^2]."""
        return self.profile.stored_energy(self.glass)

    @property
    def spent(self) -> float:
        """Share of it that the new faces of the crumbs take up; zero without crumbs [-]."""
        if not self.crumbles:
            return 0.0
        density = self.stored / self.profile.thickness
        return surface_share(self.count, density, self.crack_energy).item()

    def mirror(self, tension: float) -> FloatArray:
        """Return least and greatest radius of the smooth mirror round the origin [m].

        Parameters
        ----------
        tension : float
            Pull from outside at the break [Pa]. Infinite radius: it cannot break there.

        """
        squeeze = max(-self.profile.surface, 0.0)
        pull = positive("tension", tension, "Pa")
        return feature_radius(pull, MIRROR_CONSTANTS["hackle"], squeeze)
