# SPDX-License-Identifier: MIT
"""Draw a thing over a pane: does it bite, how deep does it crack, and what is left to bear.

Hardness decides whether it bites (`glasskit.damage.hardness`), the load how deep the crack
goes against the compressed skin (`glasskit.damage.dents`), the depth what the pane then bears
(`glasskit.crack`).
Loads are positive downwards, depths are measured from the surface inwards.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from glasskit.crack import breaking_stress
from glasskit.damage.chips import Range, chip_distance, lateral_crack
from glasskit.damage.dents import half_diagonal, radial_crack_in, wedge_factor
from glasskit.damage.hardness import Scratcher, Verdict, verdict
from glasskit.materials import Glass
from glasskit.plates import plate
from glasskit.quantities import FloatArray, of_type, positive
from glasskit.stress import StressProfile

_SPREAD = np.array([0.75, 1.0, 1.25])  # of the wedge factor, good to a quarter: Anstis 1981
_DEEPEST = 0.59  # share of the thickness up to which the weight function holds
_STEPS = 64  # depths of the table of strengths: between them it is straight to 1 %


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pane:
    """A pane that things are drawn over.

    Attributes
    ----------
    profile : StressProfile
        Residual stress through its thickness.
    glass : Glass
        What it is made of.
    hardness : float
        Vickers hardness of its surface [Pa].

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> from glasskit.stress import annealed
    >>> pane = Pane(profile=annealed(4e-3), glass=glass("soda-lime"), hardness=5.5e9)
    >>> pane.hardness
    5500000000.0

    """

    profile: StressProfile
    glass: Glass
    hardness: float

    def __post_init__(self) -> None:
        positive("hardness", self.hardness, "Pa")


def _ready(name: str) -> Pane:
    item = plate(name)
    return Pane(profile=item.profile, glass=item.glass, hardness=item.hardness)


PANES: Mapping[str, Pane] = MappingProxyType(
    {
        "plain": _ready("window pane, plain"),
        "quenched": _ready("window pane, quenched"),
        "salt bath": _ready("cover glass, salt bath"),
    }
)
"""A plain and a quenched window pane (100 MPa at the face), a cover glass from the salt bath
(700 MPa, 40 µm deep)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Score:
    """What a thing drawn over a pane has done; from `score`.

    Attributes
    ----------
    thing : Scratcher
        What was drawn.
    load : float
        Force on its point [N].
    pane : Pane
        What it was drawn over.
    verdict : {"cuts", "may cut", "leaves metal", "leaves nothing"}
        What hardness says.
    dent : float
        Half the width of the dent [m]; zero if it does not bite.
    depth : ndarray, shape (3,)
        Depth of the crack if it bites, shallow end, middle and deep end of what the theory
        leaves open [m]; zero if it does not bite, infinite where the pane breaks.
    strength : ndarray, shape (3,)
        Applied tension that the pane then bears, beside `depth` [Pa]; zero where it breaks,
        infinite, that is undiminished, if the thing does not bite.
    flake, chip : Range
        Radius of a flake beside the dent; nearer than what to an edge it chips [m].

    """

    thing: Scratcher
    load: float
    pane: Pane
    verdict: Verdict
    dent: float
    depth: FloatArray
    strength: FloatArray
    flake: Range
    chip: Range

    def __post_init__(self) -> None:
        self.depth.flags.writeable = False
        self.strength.flags.writeable = False

    @property
    def bites(self) -> bool:
        """Whether it cuts, or may."""
        return self.verdict in ("cuts", "may cut")

    @property
    def cracks(self) -> bool:
        """Whether the crack shows beyond the dent."""
        return bool(self.depth[1] > self.dent)

    @property
    def breaks(self) -> bool:
        """Whether the pane breaks at once."""
        return bool(self.strength[1] <= 0)


def scored_depth(pane: Pane, load: ArrayLike) -> FloatArray:
    """Return how deep a Vickers point cracks a pane.

    Parameters
    ----------
    pane : Pane
        What is pressed.
    load : array_like
        Force on the point [N].

    Returns
    -------
    ndarray of float
        Depth [m], the shape of `load`; infinite where the pane breaks.

    Raises
    ------
    ValueError
        If `load` is negative or not finite.

    Notes
    -----
    A point pressed, not dragged; dragging a sharp grain cracks deeper, a blunt one less.

    References
    ----------
    [Anstis1981], [MarshallLawn1977]

    Examples
    --------
    Ten newtons on the three panes, in µm:

    >>> [round(1e6 * scored_depth(pane, 10.0).item()) for pane in PANES.values()]
    [84, 51, 34]

    """
    of_type("pane", pane, Pane)
    wedge = wedge_factor(pane.glass.modulus, pane.hardness).item()
    thickness = pane.profile.thickness
    depth = radial_crack_in(
        pane.profile, load, pane.glass.toughness, thickness=thickness, wedge=wedge
    )
    return np.asarray(np.where(depth < _DEEPEST * thickness, depth, np.inf))


def scored_strength(pane: Pane, load: ArrayLike) -> FloatArray:
    """Return the tension that a pane bears after a hard point has been over it.

    Parameters
    ----------
    pane : Pane
        What was scored.
    load : array_like
        Force on the point [N].

    Returns
    -------
    ndarray of float
        Applied tension [Pa], the shape of `load`; zero where the pane breaks unaided.

    Raises
    ------
    ValueError
        If `load` is not finite and positive.

    Notes
    -----
    The crack counts as long, as along a scratch, and at least as deep as half the dent is
    wide, for the squashed glass reaches so far. The wedge of the dent is left out, flaws that
    the pane already has too: it never bears more than those allow.

    References
    ----------
    [Anstis1981], [Tada2000]

    Examples
    --------
    Ten newtons on the three panes, in MPa:

    >>> [round(scored_strength(pane, 10.0).item() / 1e6) for pane in PANES.values()]
    [41, 150, 212]

    """
    of_type("pane", pane, Pane)
    depth = scored_depth(pane, positive("load", load, "N"))
    return _strength(pane, np.maximum(depth, half_diagonal(load, pane.hardness)))


@cache
def _strengths(pane: Pane) -> tuple[FloatArray, FloatArray]:
    """Depths, in the logarithm, and the tension that a crack of each bears."""
    depth = np.geomspace(1e-7, _DEEPEST * pane.profile.thickness, _STEPS)
    return np.log(depth), breaking_stress(pane.profile, depth, pane.glass.toughness)


def _strength(pane: Pane, depth: FloatArray) -> FloatArray:
    """Read the table: a slider cannot wait for the contact to be solved anew."""
    table, strength = _strengths(pane)
    held = np.minimum(depth, np.exp(table[-1]))
    found = np.maximum(np.interp(np.log(held), table, strength), 0.0)
    return np.asarray(np.where(np.isfinite(depth), found, 0.0))


def score(thing: Scratcher, load: float, pane: Pane) -> Score:
    """Draw a thing over a pane with a force on its point.

    Parameters
    ----------
    thing : Scratcher
        What is drawn.
    load : float
        Force on its point or on one grain [N].
    pane : Pane
        What it is drawn over.

    Returns
    -------
    Score
        Verdict, crack and strength, each with the range that the theory leaves.

    Raises
    ------
    ValueError
        If `load` is not finite and positive.

    Notes
    -----
    Once a thing is hard enough only load and shape of its point count: sand and diamond are
    taken to have the same point.

    References
    ----------
    [Anstis1981], [ChaiLawn2007] for the crack; who scratches whom: common practice.

    Examples
    --------
    >>> from glasskit.damage import scratcher
    >>> score(scratcher("key"), 50.0, PANES["plain"]).verdict
    'leaves metal'
    >>> score(scratcher("quartz sand"), 80.0, PANES["salt bath"]).breaks
    True

    """
    of_type("pane", pane, Pane)
    of_type("thing", thing, Scratcher)
    force = positive("load", load, "N").item()
    found = verdict(thing, pane.hardness)
    bites = found in ("cuts", "may cut")
    glass = pane.glass
    return Score(
        thing=thing,
        load=force,
        pane=pane,
        verdict=found,
        dent=half_diagonal(force, pane.hardness).item() if bites else 0.0,
        # Only the product of wedge and load counts.
        depth=scored_depth(pane, force * _SPREAD) if bites else np.zeros(3),
        strength=scored_strength(pane, force * _SPREAD) if bites else np.full(3, np.inf),
        flake=lateral_crack(force, glass.toughness, glass.modulus, pane.hardness),
        chip=chip_distance(force, glass.toughness),
    )
