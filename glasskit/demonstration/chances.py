# SPDX-License-Identifier: MIT
"""Turn a blow and a population of flaws into the chance that a pane breaks, with a band.

The scatter of flaws is the chance itself. What is not known of the panes, the rig and the
theory is something else: it makes the band. Every uncertain input has a range with source
and status in ``data/planner.csv``; many sets of inputs are drawn, all inputs at once, and in
each set many panes are struck. The chance is the mean over the sets, the band holds nine sets
in ten.

A planning aid. Origins at edges, rings cracked into the struck face, and blows on a spot
already damaged are left out. Rehearse with the very panes of the day.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import RectBivariateSpline
from scipy.stats import qmc

from glasskit import crack
from glasskit.crack import weight
from glasskit.demonstration.inputs import STRENGTH, factor, inputs, short_load
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Rig,
    Specimen,
    SwungHammer,
)
from glasskit.impact import Pane
from glasskit.impact.device import inputs as device_inputs
from glasskit.quantities import FloatArray, of_type, positive, read_only, require, whole
from glasskit.strength import pane_strength
from glasskit.stress import StressProfile

__all__ = [
    "STRENGTH",
    "Odds",
    "chosen_odds",
    "factor",
    "inputs",
    "inputs_of",
    "odds",
    "short_load",
    "simulate",
    "strike",
    "swings",
]

SETS = 400
"""Sets of inputs drawn for a band."""
PANES = 250
"""Panes struck in each set."""

_MOST_PANES = 1_000_000  # in each set; 400 sets of them are drawn one after the other
_PER_DECADE, _TOUGHNESSES = 20, 4  # depths and toughnesses of the table of strengths
_HARD = 1e7  # stiffness down to which a support called hard is tried [N/m]
_STRUCK = ("thickness", "damping", "support", "mass", "theory of the blow")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Odds:
    """Chance that a pane breaks, height by height.

    Attributes
    ----------
    heights : ndarray
        Heights fallen through, ascending [m], shape (h,).
    chances : ndarray
        Chance in each set of inputs [-], shape (sets, h).

    """

    heights: FloatArray
    chances: FloatArray

    @property
    def chance(self) -> FloatArray:
        """Chance over all sets [-], shape (h,)."""
        return np.asarray(self.chances.mean(axis=0))

    @property
    def low(self) -> FloatArray:
        """Lower end of the band that holds nine sets in ten [-], shape (h,)."""
        return np.asarray(np.quantile(self.chances, 0.05, axis=0))

    @property
    def high(self) -> FloatArray:
        """Upper end of that band [-], shape (h,)."""
        return np.asarray(np.quantile(self.chances, 0.95, axis=0))

    def at(self, height: float) -> FloatArray:
        """Return the chance in each set at a height within the grid [m], shape (sets,)."""
        fallen = positive("height", height, "m").item()
        place = np.interp(np.log(fallen), np.log(self.heights), np.arange(self.heights.size))
        lower = min(int(place), self.heights.size - 2)
        share = place - lower
        return (1 - share) * self.chances[:, lower] + share * self.chances[:, lower + 1]

    def height(self, chance: float) -> float:
        """Return the height at which the mean chance is reached [m]; infinite beyond."""
        mean = np.maximum.accumulate(self.chance)
        if mean[-1] < chance:
            return np.inf
        above = int(np.argmax(mean >= chance))
        if above == 0:
            return float(self.heights[0])
        pair = slice(above - 1, above + 1)
        return float(np.exp(np.interp(chance, mean[pair], np.log(self.heights[pair]))))


def inputs_of(rig: Rig) -> tuple[str, ...]:
    """Return the names of the inputs on which the odds of a rig hang.

    Parameters
    ----------
    rig : Rig
        What strikes.

    Returns
    -------
    tuple of str
        Keys of `inputs`, those of the strength first.

    Examples
    --------
    >>> from glasskit.materials import solid
    >>> "mass" in inputs_of(DroppedBall(mass=0.227, solid=solid("steel")))
    True

    """
    of_type("rig", rig, Rig)
    if isinstance(rig, GuidedDrop):
        return tuple(" ".join(key) for key in device_inputs())
    if isinstance(rig, FallingPane):
        return (*STRENGTH, "slap")
    if isinstance(rig, SwungHammer):
        return (*STRENGTH, *_STRUCK, "face radius")
    return (*STRENGTH, *_STRUCK)


def odds(
    specimen: Specimen,
    rig: Rig,
    heights: ArrayLike,
    *,
    seed: int = 0,
    sets: int = SETS,
    panes: int = PANES,
) -> Odds:
    """Return the chance of breaking against height, with what makes its band.

    Parameters
    ----------
    specimen : Specimen
        Kind of pane.
    rig : Rig
        What strikes it.
    heights : array_like
        Two or more ascending heights [m].
    seed : int
        The same seed gives the same odds.
    sets, panes : int
        Sets of inputs, and panes struck in each [-]. A guided drop brings sets of its own.

    Returns
    -------
    Odds
        Same seed, same inputs for every kind of pane: odds of two kinds can be compared set
        by set.

    Raises
    ------
    ValueError
        If `heights` do not ascend or an argument is out of range.

    Notes
    -----
    Odds of a model whose inputs are known within ranges, not of your panes: rehearse, and log
    what happens.

    References
    ----------
    Own method; ranges of the inputs with their sources in ``data/planner.csv``.

    Examples
    --------
    A 227 g ball on ordinary panes of 300 by 300 by 4 mm, from 0.2 m and from 5 m:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.demonstration import annealed
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> found = odds(annealed("ordinary", pane), ball, [0.2, 5.0])
    >>> bool(found.chance[0] < 0.2), bool(found.chance[1] > 0.9)
    (True, True)

    """
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Rig)
    fall = positive("heights", heights, "m")
    ascending = fall.ndim == 1 and fall.size > 1 and bool((np.diff(fall) > 0).all())
    require(ascending, "heights", fall.min(), "be two or more that ascend; the least is", "m")
    if isinstance(rig, GuidedDrop):
        return _of(fall, rig.landing(specimen, fall).chance.T)
    rng = np.random.default_rng(whole("seed", seed))
    sets, panes = whole("sets", sets, 1, 10_000), whole("panes", panes, 1, _MOST_PANES)
    spread = qmc.Halton(len(inputs_of(rig)), rng=rng).random(sets)
    return _of(fall, simulate(specimen, rig, fall, 2 * spread - 1, panes, rng))


def chosen_odds(
    specimen: Specimen, rig: Rig, heights: ArrayLike, *, seed: int = 0, panes: int = 4000
) -> FloatArray:
    """Return the chance of breaking if every input had its chosen value.

    Parameters
    ----------
    specimen, rig, heights, seed
        As for `odds`.
    panes : int
        Panes struck [-].

    Returns
    -------
    ndarray, shape (h,)
        Chance [-]: the scatter of the flaws alone. For a guided drop, whose inputs are tried
        all together, the same as that of `odds`.

    Raises
    ------
    ValueError
        If a height is not positive, or `seed` or `panes` no such whole number.
    TypeError
        If `specimen` or `rig` is none.

    Notes
    -----
    Leaves out all that is not known of the day, and so looks surer than `odds`.

    References
    ----------
    Own method; ranges of the inputs with their sources in ``data/planner.csv``.

    Examples
    --------
    An ordinary pane under a ball of 227 g that falls 0.2 m and 5 m:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.demonstration import annealed
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> low, high = chosen_odds(annealed("ordinary", pane), ball, [0.2, 5.0], panes=200)
    >>> bool(low < 0.2), bool(high > 0.9)
    (True, True)

    """
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Rig)
    fall = positive("heights", heights, "m")
    if isinstance(rig, GuidedDrop):
        return rig.landing(specimen, fall).broken
    places = np.zeros((1, len(inputs_of(rig))))
    rng = np.random.default_rng(whole("seed", seed))
    panes = whole("panes", panes, 1, _MOST_PANES)
    return np.asarray(simulate(specimen, rig, fall, places, panes, rng)[0])


def _of(heights: FloatArray, chances: FloatArray) -> Odds:
    (fall,), (share,) = read_only(heights), read_only(chances)
    return Odds(heights=fall, chances=share)


def simulate(
    specimen: Specimen,
    rig: DroppedBall | SwungHammer | FallingPane,
    heights: FloatArray,
    places: FloatArray,
    panes: int,
    rng: np.random.Generator,
) -> FloatArray:
    """Strike simulated panes from every height, for every set of inputs.

    Parameters
    ----------
    specimen, rig
        What is struck and by what.
    heights : ndarray, shape (h,)
        Heights [m].
    places : ndarray, shape (sets, inputs)
        Where each input lies in its range: -1 low end, 0 chosen value, 1 high end [-].
    panes : int
        Panes in each set [-].
    rng : numpy.random.Generator
        Source of the flaws.

    Returns
    -------
    ndarray, shape (sets, h)
        Share that broke [-].

    """
    names = inputs_of(rig)
    factors = {name: factor(name, places[:, i]) for i, name in enumerate(names)}
    blow = rig.blow(specimen.pane, heights)
    tension = np.tile(np.log(blow.stress), (len(places), 1))
    for i, name in enumerate(names):
        if name not in STRENGTH and places[:, i].any():
            tension += _moved(specimen.pane, rig, heights, name, places[:, i, None])
    modulus = specimen.flaws.modulus * factors["flaw modulus"]
    area = rig.area(specimen.pane, blow, modulus) * factors["flaw area"]
    return strike(specimen, np.exp(tension), area, factors, panes, rng)


def strike(
    specimen: Specimen,
    tension: FloatArray,
    area: FloatArray,
    factors: Mapping[str, FloatArray],
    panes: int,
    rng: np.random.Generator,
) -> FloatArray:
    """Return the share of simulated panes that a tension breaks.

    Parameters
    ----------
    specimen : Specimen
        Kind of pane.
    tension : ndarray, shape (sets, h)
        Peak tension of the far face [Pa].
    area : ndarray, shape (sets,)
        Effective area [m^2].
    factors : mapping of ndarray, shape (sets,)
        Factors on the inputs of the strength [-].
    panes : int
        Panes in each set, spread evenly over their chances [-].
    rng : numpy.random.Generator
        Source of the flaws.

    Returns
    -------
    ndarray, shape (sets, h)
        Share [-].

    Notes
    -----
    Compression and its depth are moved without a new table: stresses times f, depths times g
    are the old profile at f times the stress, g times the flaw and f root g times the
    toughness.

    """
    flaws, profile = specimen.flaws, specimen.profile
    column = {name: value[:, None] for name, value in factors.items()}
    modulus = flaws.modulus * column["flaw modulus"]
    weak = (np.arange(panes) + rng.random((len(tension), panes))) / panes
    slow = flaws.scale * (flaws.area / area[:, None] * -np.log1p(-weak)) ** (1 / modulus)
    quick = slow * column["flaw strength"] * short_load() * column["short load"]
    toughness = flaws.toughness * column["toughness"]
    more, deeper = column["compression"], column["compressed depth"]
    depth = crack.griffith_depth(quick, toughness) / deeper
    depth = np.minimum(depth, 0.999 * weight.DEEPEST * profile.thickness)
    scaled = np.broadcast_to(toughness / (more * np.sqrt(deeper)), depth.shape)
    borne = more * _borne(profile, depth, scaled)
    broke = borne[:, :, None] <= tension[:, None, :]
    return np.asarray(broke.mean(axis=1))


def _borne(profile: StressProfile, depth: FloatArray, toughness: FloatArray) -> FloatArray:
    """Return strengths off a table coarser than that of `pane_strength`: good to 0.3 %."""
    low, high = np.log(depth.min()), np.log(depth.max())
    rows = max(8, int(_PER_DECADE * (high - low) / np.log(10)))
    place = np.linspace(low - 1e-9, high + 1e-9, rows)
    across = np.linspace(toughness.min() - 1.0, toughness.max() + 1.0, _TOUGHNESSES)
    along = np.minimum(np.exp(place), weight.DEEPEST * profile.thickness)
    root = np.sqrt(along)[:, None]
    table = root * pane_strength(profile, along[:, None], across)
    spline = RectBivariateSpline(place, across, table, kx=1, ky=2)
    return np.asarray(spline.ev(np.log(depth), toughness) / np.sqrt(depth))


def swings(
    specimen: Specimen, rig: Rig, height: float, *, seed: int = 0
) -> dict[str, tuple[float, float]]:
    """Return how far the chance of breaking moves when each input alone is moved.

    Parameters
    ----------
    specimen, rig
        What is struck and by what.
    height : float
        Height [m].
    seed : int
        As for `odds`.

    Returns
    -------
    dict
        Input name to the chances at the low and at the high end of its range, the others at
        their chosen values [-]; largest swing first. For a guided drop, whose inputs are
        tried all together, means over the lower and the upper half of each.

    Raises
    ------
    ValueError
        If `height` is not positive.

    Notes
    -----
    One input at a time: what two of them do together is in the band of `odds`, not here.

    References
    ----------
    Own method; ranges of the inputs with their sources in ``data/planner.csv``.

    Examples
    --------
    What the odds of an ordinary pane hang on most:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.demonstration import annealed
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> found = swings(annealed("ordinary", pane), ball, 0.8)
    >>> next(iter(found)) in inputs_of(ball)
    True

    """
    of_type("specimen", specimen, Specimen)
    of_type("rig", rig, Rig)
    fall = positive("height", height, "m").reshape(1)
    names = inputs_of(rig)
    if isinstance(rig, GuidedDrop):
        landing = rig.landing(specimen, fall)
        upper = landing.upper_half
        chance = landing.chance[0]
        pairs = {
            " ".join(key): (float(chance[~half].mean()), float(chance[half].mean()))
            for key, half in upper.items()
        }
    else:
        ends = np.vstack([-np.eye(len(names)), np.eye(len(names))])
        rng = np.random.default_rng(whole("seed", seed))
        share = simulate(specimen, rig, fall, ends, 1000, rng)[:, 0].reshape(2, -1)
        pairs = {name: (float(a), float(b)) for name, a, b in zip(names, *share, strict=True)}
    return dict(sorted(pairs.items(), key=lambda item: -abs(item[1][1] - item[1][0])))


def _moved(
    pane: Pane, rig: Rig, heights: FloatArray, name: str, place: FloatArray
) -> FloatArray:
    """Return what an input at its place adds to the logarithm of the tension."""
    assert not isinstance(rig, GuidedDrop)
    if name in ("theory of the blow", "slap"):
        return np.log(factor(name, place))
    middle = np.log(rig.blow(pane, heights).stress)
    ends = []
    for end in (inputs()[name].low, inputs()[name].high):
        plate, striker = _with(pane, rig, name, end)
        ends.append(np.log(striker.blow(plate, heights).stress) - middle)
    return np.asarray(np.where(place < 0, np.abs(place) * ends[0], np.abs(place) * ends[1]))


def _with(
    pane: Pane, rig: DroppedBall | SwungHammer | FallingPane, name: str, factor: float
) -> tuple[Pane, DroppedBall | SwungHammer | FallingPane]:
    """Return pane and rig with one input of the blow multiplied."""
    if name == "mass" and not isinstance(rig, FallingPane):
        return pane, replace(rig, mass=rig.mass * factor)
    if name == "face radius" and isinstance(rig, SwungHammer):
        return pane, replace(rig, face_radius=rig.face_radius * factor)
    if name == "support" and np.isinf(pane.support_stiffness):
        return replace(pane, support_stiffness=_HARD if factor < 1 else np.inf), rig
    field = {"support": "support_stiffness"}.get(name, name)
    return replace(pane, **{field: getattr(pane, field) * factor}), rig
