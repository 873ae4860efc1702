# SPDX-License-Identifier: MIT
"""Count the crumbs of a toughened pane from the energy that it stores.

The tension in the core keeps every crack running and splitting until the pane is crumbs: the
more tension, the smaller. Crumbs are smaller and blunter than the blades of plain glass. They
are not harmless.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, in_range, non_negative, one_of, positive

__all__ = [
    "DICING_SPREAD",
    "DICING_TENSION",
    "MINIMUM_COUNTS",
    "SQUARE",
    "MinimumCount",
    "crumb_count",
    "dicing_tension",
    "energy_density",
    "minimum_counts",
    "surface_share",
]

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


_FOUND = "EN 12150-1, as a journal article of 2012 quotes it"
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
        (_TRADE, 3e-3, 4e-3, 15, "found"),
        (_TRADE, 5e-3, 7e-3, 40, "found"),
        (_TRADE, 8e-3, 12e-3, 30, "found"),
        (_TRADE, 15e-3, 19e-3, 10, "found"),
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
