# SPDX-License-Identifier: MIT
"""List the changes to panes and rig that could make a demonstration work, nearest first."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from glasskit import stress
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Rig,
    Specimen,
    chemically,
)
from glasskit.impact.device import FLOORS
from glasskit.plates import striker
from glasskit.quantities import of_type

BALLS = tuple(
    striker(name)["mass"]
    for name in (
        "steel ball",
        "steel ball, 51 mm",
        "steel ball, 64 mm",
        "steel ball, 83 mm",
    )
)
"""Masses of steel balls of tests on glass [kg], see ``data/strikers.csv``."""

THICKNESSES = (2e-3, 3e-3, 4e-3, 5e-3, 6e-3, 8e-3, 10e-3)
"""Thicknesses that glass is sold in [m], common practice."""

What = Literal["thickness", "mass", "compression", "slap", "floor", "salt"]

_SALT = 3.0  # to buy panes of another kind counts as much as this factor


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Change:
    """One thing done otherwise.

    Attributes
    ----------
    what : str
        "thickness" of all panes, "mass" of ball, head or device, surface "compression" of
        the toughened panes, "slap" of a falling pane, "floor", or "salt": toughened in salt
        in place of what was given.
    value : float or str
        The new thickness [m], mass [kg], slap [-] or floor; for the compression the factor
        on the old [-], for salt the new surface compression [Pa].
    nearness : float
        Absolute logarithm of the factor, by which changes are ordered [-].
    panes : tuple of Specimen
        The panes after the change.
    rig : Rig
        The rig after the change.
    height : float
        Height at which it meets the target [m]; not a number before that is known.

    """

    what: What
    value: float | str
    nearness: float
    panes: tuple[Specimen, ...]
    rig: Rig
    height: float = np.nan

    def at(self, height: float) -> "Change":
        """Return the change with the height at which it does what is asked [m]."""
        return replace(self, height=height)


def candidates(panes: Sequence[Specimen], rig: Rig) -> list[Change]:
    """Return changes worth trying, nearest first.

    Parameters
    ----------
    panes : sequence of Specimen
        Kinds of pane.
    rig : Rig
        What strikes.

    Returns
    -------
    list of Change
        Of panes, of the rig, of the floor, each by itself. A change by a factor is as near as
        its logarithm is small; another floor counts as a factor of 1.5, another treatment as
        one of 3.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> len(candidates([annealed("ordinary", window)], ball)) > 0
    True

    """
    of_type("rig", rig, Rig)
    same = tuple(panes)
    found = [*_of_thickness(same, rig), *_of_treatment(same, rig), *_of_rig(same, rig)]
    return sorted(found, key=lambda change: change.nearness)


def heavier(panes: Sequence[Specimen], rig: DroppedBall) -> list[Change]:
    """Return heavier balls worth trying, the lightest first.

    Parameters
    ----------
    panes : sequence of Specimen
        Kinds of pane.
    rig : DroppedBall
        The ball so far.

    Returns
    -------
    list of Change
        Balls of `BALLS` that are heavier by a fifth or more.

    """
    return [
        Change(
            what="mass",
            value=mass,
            nearness=float(np.log(mass / rig.mass)),
            panes=tuple(panes),
            rig=replace(rig, mass=mass),
        )
        for mass in BALLS
        if mass > 1.2 * rig.mass
    ]


def _of_thickness(panes: tuple[Specimen, ...], rig: Rig) -> list[Change]:
    """List other thicknesses, the same for all; only of profiles known by formula."""
    if isinstance(rig, FallingPane) or any(item.profile.kind == "sampled" for item in panes):
        return []
    now = float(np.mean([item.pane.thickness for item in panes]))
    changes = []
    for size in THICKNESSES:
        far = abs(np.log(size / now))
        if 0.02 < far < np.log(3.0):
            thicker = tuple(_as_thick(item, size) for item in panes)
            changes.append(
                Change(what="thickness", value=size, nearness=far, panes=thicker, rig=rig)
            )
    return changes


def _as_thick(specimen: Specimen, size: float) -> Specimen:
    """Return the same kind of pane in another thickness, its surface stressed the same."""
    squeeze = -specimen.profile.surface
    profile = {
        "annealed": lambda: stress.annealed(size),
        "toughened": lambda: stress.tempered(squeeze, size),
        "chemically": lambda: stress.exchanged(squeeze, specimen.profile.case_depth, size),
    }[specimen.kind]()
    return replace(specimen, pane=replace(specimen.pane, thickness=size), profile=profile)


def _of_treatment(panes: tuple[Specimen, ...], rig: Rig) -> list[Change]:
    """List more compression, and salt in place of heat."""
    changes = []
    if any(item.kind != "annealed" for item in panes):
        for factor in (1.25, 1.5):
            squeezed = tuple(_squeezed(item, factor) for item in panes)
            far = float(np.log(factor))
            changes.append(
                Change(what="compression", value=factor, nearness=far, panes=squeezed, rig=rig)
            )
    if any(item.kind == "toughened" for item in panes):
        salted = tuple(
            chemically(item.name, item.pane, flaws=item.flaws)
            if item.kind == "toughened"
            else item
            for item in panes
        )
        squeeze = -min(item.profile.surface for item in salted)
        far = float(np.log(_SALT))
        changes.append(Change(what="salt", value=squeeze, nearness=far, panes=salted, rig=rig))
    return changes


def _squeezed(specimen: Specimen, factor: float) -> Specimen:
    if specimen.kind == "annealed":
        return specimen
    old = specimen.profile
    more = replace(old, shape=lambda depth: factor * old.shape(depth))
    return replace(specimen, profile=more)


def _of_rig(panes: tuple[Specimen, ...], rig: Rig) -> list[Change]:
    """List other masses, floors and ways to land."""
    if isinstance(rig, FallingPane):
        return [
            Change(
                what="slap",
                value=rig.slap * factor,
                nearness=abs(float(np.log(factor))),
                panes=panes,
                rig=replace(rig, slap=rig.slap * factor),
            )
            for factor in (0.5, 2.0)
        ]
    changes = [
        Change(
            what="mass",
            value=rig.mass * factor,
            nearness=abs(float(np.log(factor))),
            panes=panes,
            rig=replace(rig, mass=rig.mass * factor),
        )
        for factor in (0.25, 0.5, 2.0, 4.0)
    ]
    if isinstance(rig, GuidedDrop):
        changes += [
            Change(
                what="floor",
                value=floor,
                nearness=float(np.log(1.5)),
                panes=panes,
                rig=replace(rig, floor=floor),
            )
            for floor in FLOORS
            if floor != rig.floor
        ]
    return changes
