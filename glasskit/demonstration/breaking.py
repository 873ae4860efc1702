# SPDX-License-Identifier: MIT
r"""Go from a blow and a population of flaws to the chance that a pane breaks, in closed form.

A pull :math:`\sigma` on the far face breaks every flaw that without residual stress and
pulled slowly would break at :math:`s(\sigma)` or less. Worst flaws follow Weibull's
distribution, so

.. math:: P = 1 - \exp\left[-\frac{A}{A_0} \left(\frac{s(\sigma)}{S}\right)^m\right]

with :math:`A` the area that the blow puts to the test (`glasskit.impact.farface`), on what the
pull leaves over the squeeze. For toughened glass :math:`s` is found crack by crack, once for a
profile; the shortness of the blow raises it by the growth law (`glasskit.crack.growth`). The
struck face may crack in a ring around the ball: its chance stands by itself.
"""

import warnings
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np

from glasskit import crack
from glasskit.crack import weight
from glasskit.crack.growth import slow_strength
from glasskit.damage.chips import cone_crack_load
from glasskit.demonstration.rigs import DroppedBall, FallingPane, Specimen, SwungHammer
from glasskit.demonstration.worlds import inputs
from glasskit.impact import Pane
from glasskit.quantities import FloatArray, OutsideValidityWarning, of_type
from glasskit.stress import StressProfile

Striking = DroppedBall | SwungHammer | FallingPane
"""Rigs that put a pull on the far face."""

_BLOW = ("thickness", "damping", "support", "mass", "face radius")
_STRAIGHT = ("theory of the blow", "aim", "slap")  # factors on the tension itself
_WEAKER = 0.8  # share of the strength of a flaw over which its gain is followed
_HARD = 1e7  # stiffness down to which a support called hard is tried [N/m]
_KNOWN = np.geomspace(0.02, 15.0, 5)  # heights at which slopes are found [m]


def break_chance(
    specimen: Specimen,
    rig: Striking,
    heights: FloatArray,
    factors: Mapping[str, FloatArray],
    like: tuple[Pane, Striking] | None = None,
) -> FloatArray:
    """Return the chance that the far face breaks, from every height, in every world.

    Parameters
    ----------
    specimen, rig
        What is struck and by what.
    heights : ndarray, shape (h,)
        Heights fallen through [m].
    factors : mapping of ndarray, shape (n,)
        Factor on each input [-]; an input that is not named stays as it is.
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
    toughness. Edges, and spots struck before, are left out.

    Examples
    --------
    227 g of steel from 1 m on 300 by 300 by 4 mm, ordinary and toughened to 100 MPa:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.demonstration.rigs import annealed, toughened
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> for kind in (annealed("ordinary", pane), toughened("toughened", pane)):
    ...     print(break_chance(kind, ball, np.array([1.0]), {}).round(2).item())
    0.26
    0.01

    """
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Striking)
    pull = tensions(specimen.pane, rig, heights, factors, like)
    blow = rig.blow(specimen.pane, heights)

    def area(modulus: FloatArray, shut: FloatArray) -> FloatArray:
        # It hangs on the share that the squeeze takes, whatever the size of the pull.
        return rig.area(specimen.pane, heights, modulus, shut * blow.stress)

    return far_chance(specimen, pull, blow.pulse, area, factors)


def far_chance(
    specimen: Specimen,
    pull: FloatArray,
    pulse: FloatArray,
    area: Callable[[FloatArray, FloatArray], FloatArray],
    factors: Mapping[str, FloatArray],
) -> FloatArray:
    """Return the chance that a pull of a certain spread breaks the far face.

    Parameters
    ----------
    specimen : Specimen
        What is struck.
    pull : ndarray, shape (n, h) or (1, h)
        Largest tension [Pa].
    pulse : ndarray, shape (h,)
        How long it would let flaws creep as far, if steady [s].
    area : callable
        Effective area [m^2] from the modulus of the strengths in the blow and the share of
        the pull that only makes up for the squeeze, both (n, h) and without unit.
    factors : mapping of ndarray, shape (n,)
        As for `break_chance`; those on the blow do not count.

    Returns
    -------
    ndarray, shape (n, h)
        Chance [-].

    Examples
    --------
    Pulled with 10 and 200 MPa for a tenth of a millisecond over 1 cm^2, all inputs as chosen:

    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> pane, pull = annealed("ordinary", window), np.array([[10e6, 200e6]])
    >>> pulse = np.full(2, 1e-4)
    >>> chance = far_chance(pane, pull, pulse, lambda steep, shut: 1e-4 + 0 * steep * shut, {})
    >>> bool(chance[0, 0] < 0.01), bool(chance[0, 1] > 0.5)
    (True, False)

    """
    of_type("specimen", specimen, Specimen)
    told = _Told(factors)
    more, deeper = told("compression"), told("compressed depth")
    toughness = specimen.flaws.toughness * told("toughness")
    plain, shut = plain_strength(
        specimen.profile, pull / more, (toughness / (more * np.sqrt(deeper)))[:, 0]
    )
    return _chance(specimen, told, more * plain, lambda steep: area(steep, shut), pulse)


def ring_chance(
    specimen: Specimen,
    rig: Striking,
    heights: FloatArray,
    factors: Mapping[str, FloatArray],
) -> FloatArray:
    """Return the chance that the struck face cracks in a ring around the ball.

    Parameters
    ----------
    specimen, rig, heights, factors
        As for `break_chance`.

    Returns
    -------
    ndarray, shape (n, h)
        Chance [-]; zero for a pane that falls flat.

    Notes
    -----
    Hertz's tension at the rim of the contact, less what the bending of the pane and the
    compression of its face take off, at the moment when most is left; it falls off with the
    square of the distance. Flaws of the struck face are those of the far face. Below
    Auerbach's load (`glasskit.damage.chips.cone_crack_load`) no ring opens whatever the flaws.
    In an ordinary pane a ring is a bruise, from which the next blow may break it; in a
    toughened one it does harm if it reaches through the compressed skin.

    References
    ----------
    [Lawn1998] for the load, [Johnson1985] for the tension.

    Examples
    --------
    From a millimetre no ring opens, all inputs as chosen:

    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> ring_chance(annealed("ordinary", window), ball, np.array([1e-3]), {}).item()
    0.0

    """
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Striking)
    told = _Told(factors)
    if isinstance(rig, FallingPane):
        return np.zeros((told.size, heights.size))
    face = rig.face(specimen.pane)
    moved = np.prod([told(name) for name in _STRAIGHT], axis=0)
    squeeze = -specimen.profile.surface * told("compression")
    rim = face.rim(heights) * moved
    left = np.maximum(rim - squeeze, 1e3)
    share = left / rim
    contact = np.pi * face.contact(heights) ** 2

    def area(modulus: FloatArray) -> FloatArray:
        # Integral of ((q - b)/(1 - b))^m/q^2 over q from b to 1, exact at both ends of b.
        return np.asarray(contact * share / (modulus - 1 + 2 * (1 - share)))

    toughness = specimen.flaws.toughness * told("toughness")
    radius = rig.face_radius if isinstance(rig, SwungHammer) else rig.radius
    stiff = specimen.pane.glass.modulus
    with warnings.catch_warnings():
        # Beyond the radii that the law was found for the load is higher: a lower bound here.
        warnings.simplefilter("ignore", OutsideValidityWarning)
        least = cone_crack_load(radius, toughness, stiff)
    chance = _chance(specimen, told, left, area, face.pulse(heights))
    return np.asarray(np.where(face.force(heights) * moved > least, chance, 0.0))


class _Told:
    """Factors by name, as columns; one where nothing is told."""

    def __init__(self, factors: Mapping[str, FloatArray]) -> None:
        self.factors = factors
        self.size = max((np.size(value) for value in factors.values()), default=1)

    def __call__(self, name: str) -> FloatArray:
        return np.reshape(self.factors.get(name, np.ones(self.size)), (-1, 1))


def _chance(
    specimen: Specimen,
    told: _Told,
    quick: FloatArray,
    area: Callable[[FloatArray], FloatArray],
    pulse: FloatArray,
) -> FloatArray:
    """Return the chance that a flaw that bears `quick` in the blow lies in an area.

    The area is asked for by the modulus of the strengths in the blow: those spread wider than
    the slow ones, for small flaws gain more by its shortness.
    """
    flaws = specimen.flaws
    modulus = flaws.modulus * told("flaw modulus") * told("lot scatter")
    scale = flaws.scale * told("flaw strength") * told("lot strength")
    if specimen.kind == "toughened":
        scale = scale * told("healing")
    borne = np.maximum(quick, 1.0) / told("short load")
    slow, weaker = slow_strength(borne, pulse), slow_strength(_WEAKER * borne, pulse)
    steep = np.log(weaker / slow) / np.log(_WEAKER)
    tested = told("flaw area") * area(np.clip(modulus * steep, 2.0, 30.0)) / flaws.area
    hazard = tested * (slow / scale) ** modulus
    return np.asarray(np.where(quick > 0, -np.expm1(-hazard), 0.0))


def tensions(
    pane: Pane,
    rig: Striking,
    heights: FloatArray,
    factors: Mapping[str, FloatArray],
    like: tuple[Pane, Striking] | None = None,
) -> FloatArray:
    """Return the peak tension of the far face in every world [Pa], shape (n, h)."""
    pull = np.log(rig.blow(pane, heights).stress)[None, :]
    pull = np.tile(pull, (_Told(factors).size, 1))
    for name in _STRAIGHT:
        if name in factors:
            pull = pull + np.log(factors[name])[:, None]
    for name in _BLOW:
        if name in factors:
            pull = pull + _slope(*(like or (pane, rig)), heights, name, factors[name])
    return np.exp(pull)


def _slope(
    pane: Pane, rig: Striking, heights: FloatArray, name: str, moved: FloatArray
) -> FloatArray:
    """Return what a factor on an input of the blow adds to the logarithm of the tension."""
    low, high = _ends(pane, rig, name)
    along, known = np.log(heights), np.log(_KNOWN)
    down, up = np.interp(along, known, low), np.interp(along, known, high)
    part = np.log(moved)[:, None]
    return np.asarray(np.where(part < 0, part * down, part * up))


@lru_cache(maxsize=256)
def _ends(pane: Pane, rig: Striking, name: str) -> tuple[FloatArray, FloatArray]:
    """Return slopes of log tension in log factor towards both ends of the range."""
    middle = np.log(rig.blow(pane, _KNOWN).stress)
    found = []
    for end in (inputs()[name].low, inputs()[name].high):
        plate, striker = _with(pane, rig, name, end)
        there = np.log(striker.blow(plate, _KNOWN).stress)
        found.append((there - middle) / np.log(end))
    return found[0], found[1]


def _with(pane: Pane, rig: Striking, name: str, factor: float) -> tuple[Pane, Striking]:
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
) -> tuple[FloatArray, FloatArray]:
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
    plain : ndarray, shape (n, h)
        Strength [Pa]; zero where the pull breaks none.
    shut : ndarray, shape (n, h)
        Share of the pull that only makes up for the squeeze at such a flaw [-].

    Notes
    -----
    Read off a table of `glasskit.crack.breaking_stress`, within 1 % of it (tests).

    Examples
    --------
    A pane squeezed by 100 MPa and pulled by 300: what breaks would bear about 200 by itself.

    >>> from glasskit.stress import tempered
    >>> pull, tough = np.array([[300e6]]), np.array([0.75e6])
    >>> plain, shut = plain_strength(tempered(100e6, 4e-3), pull, tough)
    >>> round(plain.item() / 1e6), shut.round(2).item()
    (200, 0.33)

    """
    if profile.kind == "annealed":
        return pull, np.zeros(pull.shape)
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
    plain = np.where(step < 0, 0.0, near + share * (far - near))
    # Far beyond the squeeze all that is pulled more is borne by the glass itself.
    most = (_PULLS[-1] * squeeze, (1 - part) * table[-1, left] + part * table[-1, right])
    plain = np.where(pull > most[0], pull - most[0] + most[1], plain)
    rise = (far - near) / np.log(_PULLS[1] / _PULLS[0])
    shut = 1.0 - plain / np.maximum(np.where(pull > most[0], pull, rise), plain)
    return np.asarray(plain), np.asarray(np.where(plain > 0, shut, 1.0))


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
