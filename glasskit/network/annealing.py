# SPDX-License-Identifier: MIT
"""Give a drawn sheet of glass its forces and ions, and let it come to rest unsqueezed.

Bonds and the sides of triangles are springs, weaker springs keep the rings open, and each ion
is a soft disc in a ring. The base is held and the top is free. Sideways the sheet takes the
width at which nothing squeezes it, as glass does that has cooled slowly.
"""

from dataclasses import replace

import numpy as np

from glasskit.materials import glass, ionic_radius
from glasskit.network.sheet import IntArray, Sheet
from glasskit.network.springs import Pairs, pull, settle, sideways
from glasskit.quantities import FloatArray, of_type

BOND = glass("fused silica").values["bond"].value  # silicon to oxygen [m]
# Invented, to be stiff in this order; in parts of a bond's stiffness.
_SIDE, _HINGE, _CONTACT = 0.5, 0.1, 0.2
_SOFTNESS = 0.03e-9 / BOND  # distance over which an ion's push fades by e, in bonds
_SHEET = 0.45  # about the sideways stiffness of the sheet; sets only how fast it anneals
_OXYGEN = ionic_radius("O", coordination=2)


def annealed(sheet: Sheet, hosts: IntArray, radii: FloatArray) -> tuple[Pairs, FloatArray]:
    """Put ions into a sheet and let it come to rest.

    Parameters
    ----------
    sheet : Sheet
        From `glasskit.network.sheet.draw_sheet`.
    hosts : ndarray, shape (ions,)
        Number of the ring that each ion sits in [-].
    radii : ndarray, shape (ions,)
        Ionic radii [m].

    Returns
    -------
    Pairs
        The forces, at the width found.
    ndarray, shape (n, 2)
        Where formers, oxygens and ions rest, in bonds [-].

    Raises
    ------
    RuntimeError
        If the forces find no rest.
    TypeError
        If `sheet` is no Sheet.

    Notes
    -----
    Forces and their stiffness are invented, in the right order: an illustration.

    References
    ----------
    [MozziWarren1969] for the length of the bond.

    Examples
    --------
    >>> from glasskit.network.sheet import draw_sheet
    >>> sheet = draw_sheet(100, 0.2, np.random.default_rng(1))
    >>> pairs, places = annealed(sheet, np.array([0]), np.array([1.02e-10]))
    >>> places.shape[1], pairs.period > 0
    (2, np.True_)

    """
    of_type("sheet", sheet, Sheet)
    centres = np.array([_middle(sheet, ring) for ring in hosts]).reshape(-1, 2)
    positions = np.concatenate([sheet.positions, centres])
    pairs = _forces(sheet, positions, hosts, radii)
    for _ in range(3):
        positions = settle(pairs, positions, tolerance=1e-6)
        height = np.ptp(positions[:, 1])
        stress = sideways(pull(pairs, positions)).sum() / (pairs.period * height)
        stretch = 1.0 - stress / _SHEET
        positions = positions * np.array([stretch, 1.0])
        pairs = replace(pairs, period=pairs.period * stretch)
    return pairs, settle(pairs, positions)


def reach(contacts: IntArray, radii: FloatArray) -> FloatArray:
    """Return at what distance ion and oxygen touch.

    Parameters
    ----------
    contacts : ndarray, shape (c, 2)
        Ion and oxygen of each touch; ions are numbered last of all points [-].
    radii : ndarray, shape (ions,)
        Ionic radii [m].

    Returns
    -------
    ndarray, shape (c,)
        Sum of radii, in bonds [-].

    """
    if not len(contacts):
        return np.zeros(0)
    ion = contacts[:, 0] - contacts[:, 0].min()
    return np.asarray((radii[ion] + _OXYGEN) / BOND)


def _contacts(sheet: Sheet, hosts: IntArray) -> IntArray:
    first = len(sheet.positions)
    rings = [sheet.rings[ring] for ring in hosts]
    pairs = [(first + ion, oxygen) for ion, ring in enumerate(rings) for oxygen in ring]
    return np.array(pairs, dtype=np.intp).reshape(-1, 2)


def _middle(sheet: Sheet, ring: int) -> FloatArray:
    places = sheet.positions[sheet.rings[ring]]
    around = places - places[0]
    around[:, 0] -= sheet.width * np.round(around[:, 0] / sheet.width)
    return np.asarray(places[0] + around.mean(axis=0))


def _forces(sheet: Sheet, positions: FloatArray, hosts: IntArray, radii: FloatArray) -> Pairs:
    contacts = _contacts(sheet, hosts)
    kinds = (sheet.bonds, sheet.sides, sheet.hinges)
    side = np.sqrt(3)  # of a triangle whose corners lie one bond from its middle
    # A hinge rests where the sides of its ring make a regular polygon.
    lengths = (1.0, side, 2 * side * np.cos(np.pi / sheet.hinge_sizes))
    stiffnesses = (1.0, _SIDE, _HINGE)
    counts = [len(kind) for kind in kinds]
    upwards = np.argsort(positions[:, 1])
    return Pairs(
        springs=np.concatenate(kinds),
        rest=np.concatenate([np.broadcast_to(*x) for x in zip(lengths, counts, strict=True)]),
        stiffness=np.repeat(stiffnesses, counts),
        contacts=contacts,
        reach=reach(contacts, radii),
        contact_stiffness=_CONTACT,
        softness=_SOFTNESS,
        period=sheet.width,
        free=upwards[~np.isin(upwards, sheet.base)],
    )
