# SPDX-License-Identifier: MIT
r"""Go from a blow and a population of flaws to the chance that a pane breaks, in closed form.

A pull :math:`\sigma` on the far face breaks every flaw that without residual stress would
break at :math:`s(\sigma)` or less. Worst flaws follow Weibull's distribution, so

.. math:: P = 1 - \exp\left[-\frac{A}{A_0} \left(\frac{s(\sigma)}{S}\right)^m\right]

with :math:`A` the area that the blow puts to the test. For ordinary glass
:math:`s = \sigma`; for toughened glass :math:`s` is found crack by crack, once for a profile.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np

from glasskit import crack, weight
from glasskit.pane import Pane
from glasskit.quantities import FloatArray
from glasskit.rigs import DroppedBall, FallingPane, GuidedDrop, Rig, Specimen, SwungHammer
from glasskit.stress import StressProfile
from glasskit.uncertain import short_load
from glasskit.worlds import inputs

__all__ = ["Striker", "chances", "inputs_of", "plain_strength", "tensions"]

Striker = DroppedBall | SwungHammer | FallingPane
"""Rigs that put a pull on the far face."""

_LOT = ("lot strength", "lot scatter", "compression", "compressed depth")
_BLOW = ("thickness", "damping", "support", "mass", "face radius")
_HARD = 1e7  # stiffness down to which a support called hard is tried [N/m]
_KNOWN = np.geomspace(0.02, 15.0, 7)  # heights at which slopes are found [m]


def inputs_of(rig: Rig) -> tuple[str, ...]:
    """Return the names of the inputs of lot and rig on which the odds of a rig hang."""
    if isinstance(rig, GuidedDrop):
        return ("lot strength", "lot scatter", "case")
    if isinstance(rig, FallingPane):
        return (*_LOT, "slap")
    if isinstance(rig, SwungHammer):
        return (*_LOT, *_BLOW, "aim")
    return (*_LOT, *_BLOW[:-1], "aim")


def chances(
    specimen: Specimen,
    rig: Striker,
    heights: FloatArray,
    factors: Mapping[str, FloatArray],
    like: tuple[Pane, Striker] | None = None,
) -> FloatArray:
    """Return the chance of breaking from every height, in every world.

    Parameters
    ----------
    specimen, rig
        What is struck and by what.
    heights : ndarray, shape (h,)
        Heights fallen through [m].
    factors : mapping of ndarray, shape (n,)
        Factor on each input, see `glasskit.worlds.inputs` [-].
    like : tuple, optional
        Pane and rig nearby whose blow hangs on the inputs of the rig in the same way, known
        already: good to some per cent of the tension, and many times as fast.

    Returns
    -------
    ndarray, shape (n, h)
        Chance [-].

    Notes
    -----
    Compression and its depth are moved without a new table: stresses times f, depths times g
    are the old profile at f times the stress, g times the flaw and f root g times the
    toughness.

    """
    pull = tensions(specimen.pane, rig, heights, factors, like)
    flaws = specimen.flaws
    column = {name: value[:, None] for name, value in factors.items()}
    modulus = flaws.modulus * column["flaw modulus"] * column["lot scatter"]
    blow = rig.blow(specimen.pane, heights)
    area = rig.area(specimen.pane, blow, modulus[:, 0])[:, None]
    scale = flaws.scale * column["flaw strength"] * column["lot strength"] * short_load()
    if specimen.kind != "annealed":
        scale = scale * column["healing"]
    more, deeper = column["compression"], factors["compressed depth"]
    toughness = flaws.toughness / (factors["compression"] * np.sqrt(deeper))
    plain = more * plain_strength(specimen.profile, pull / more, toughness)
    hazard = area / flaws.area * (plain / scale) ** modulus
    return np.asarray(-np.expm1(-hazard))


def tensions(
    pane: Pane,
    rig: Striker,
    heights: FloatArray,
    factors: Mapping[str, FloatArray],
    like: tuple[Pane, Striker] | None = None,
) -> FloatArray:
    """Return the peak tension of the far face in every world [Pa], shape (n, h)."""
    pull = np.log(rig.blow(pane, heights).stress)[None, :]
    for name in ("theory of the blow", "aim", "slap"):
        if name in factors:
            pull = pull + np.log(factors[name])[:, None]
    for name in _BLOW:
        if name in factors:
            pull = pull + _slope(*(like or (pane, rig)), heights, name, factors[name])
    return np.exp(pull)


def _slope(
    pane: Pane, rig: Striker, heights: FloatArray, name: str, moved: FloatArray
) -> FloatArray:
    """Return what a factor on an input of the blow adds to the logarithm of the tension."""
    low, high = _ends(pane, rig, name)
    along, known = np.log(heights), np.log(_KNOWN)
    down, up = np.interp(along, known, low), np.interp(along, known, high)
    part = np.log(moved)[:, None]
    return np.asarray(np.where(part < 0, part * down, part * up))


@lru_cache(maxsize=256)
def _ends(pane: Pane, rig: Striker, name: str) -> tuple[FloatArray, FloatArray]:
    """Return slopes of log tension in log factor towards both ends of the range."""
    middle = np.log(rig.blow(pane, _KNOWN).stress)
    found = []
    for end in (inputs()[name].low, inputs()[name].high):
        plate, striker = _with(pane, rig, name, end)
        there = np.log(striker.blow(plate, _KNOWN).stress)
        found.append((there - middle) / np.log(end))
    return found[0], found[1]


def _with(pane: Pane, rig: Striker, name: str, factor: float) -> tuple[Pane, Striker]:
    """Return pane and rig with one input of the blow multiplied."""
    if name == "mass" and not isinstance(rig, FallingPane):
        return pane, replace(rig, mass=rig.mass * factor)
    if name == "face radius" and isinstance(rig, SwungHammer):
        return pane, replace(rig, face_radius=rig.face_radius * factor)
    if name == "support" and np.isinf(pane.support_stiffness):
        return replace(pane, support_stiffness=_HARD if factor < 1 else np.inf), rig
    field = {"support": "support_stiffness"}.get(name, name)
    return replace(pane, **{field: getattr(pane, field) * factor}), rig


_PULLS = np.geomspace(0.05, 15.0, 240)  # pull over the surface compression
_TOUGHNESSES = np.geomspace(0.35e6, 1.6e6, 7)  # [Pa m^0.5]; also those of moved profiles
_SHALLOWEST, _PER_DECADE = 2e-9, 24  # depths of the table [m]


def plain_strength(
    profile: StressProfile, pull: FloatArray, toughness: FloatArray
) -> FloatArray:
    """Return how strong the flaw is without residual stress that a pull just breaks.

    Parameters
    ----------
    profile : StressProfile
        Residual stress through the thickness.
    pull : ndarray, shape (n, h)
        Tension put on the face from outside [Pa].
    toughness : ndarray, shape (n,)
        Fracture toughness [Pa m^0.5].

    Returns
    -------
    ndarray, shape (n, h)
        Strength [Pa]; zero where the pull breaks none.

    Notes
    -----
    Read off a table of `glasskit.crack.breaking_stress`, within 1 % of it (tests).

    Examples
    --------
    A pane squeezed by 100 MPa and pulled by 300: what breaks would bear about 200 by itself.

    >>> from glasskit.stress import tempered
    >>> pull, tough = np.array([[300e6]]), np.array([0.75e6])
    >>> round(plain_strength(tempered(100e6, 4e-3), pull, tough).item() / 1e6)
    201

    """
    if profile.kind == "annealed":
        return pull
    table = _table(profile)
    squeeze = -profile.surface
    # Column by column of the toughness first, for that is the same for all heights of a world.
    across = np.clip(np.log(toughness), *np.log(_TOUGHNESSES[[0, -1]]))
    place = (across - np.log(_TOUGHNESSES[0])) / np.log(_TOUGHNESSES[1] / _TOUGHNESSES[0])
    column = np.minimum(place.astype(int), _TOUGHNESSES.size - 2)
    part = (place - column)[:, None]
    along = np.log(np.maximum(pull, 1e-300) / squeeze / _PULLS[0])
    step = along / np.log(_PULLS[1] / _PULLS[0])
    row = np.clip(step.astype(int), 0, _PULLS.size - 2)
    share = step - row
    left, right = column[:, None], column[:, None] + 1
    near = (1 - part) * table[row, left] + part * table[row, right]
    far = (1 - part) * table[row + 1, left] + part * table[row + 1, right]
    return np.asarray(np.where(step < 0, 0.0, near + share * (far - near)))


@lru_cache(maxsize=64)
def _table(profile: StressProfile) -> FloatArray:
    """Return plain strengths over `_PULLS` and `_TOUGHNESSES`."""
    deepest = weight.DEEPEST * profile.thickness
    count = int(_PER_DECADE * np.log10(deepest / _SHALLOWEST))
    depth = np.geomspace(_SHALLOWEST, deepest, count)
    borne = crack.breaking_stress(profile, depth[:, None], _TOUGHNESSES)
    # A flaw that breaks at less than a shallower one does so as soon as it is there.
    least = np.minimum.accumulate(borne, axis=0)
    squeeze = -profile.surface
    table = np.empty((_PULLS.size, _TOUGHNESSES.size))
    for column, tough in enumerate(_TOUGHNESSES):
        rising = least[::-1, column]
        found = np.interp(_PULLS * squeeze, rising, np.log(depth[::-1]))
        plain = crack.griffith_strength(np.exp(found), tough)
        table[:, column] = np.where(_PULLS * squeeze < rising[0], 0.0, plain)
    table.flags.writeable = False
    return table
