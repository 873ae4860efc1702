# SPDX-License-Identifier: MIT
"""Go from flaws to strength and back, for plain and for toughened glass.

A pane breaks at its worst flaw. Weibull's distribution of measured strengths is therefore a
distribution of the depth of the worst flaw; the same flaws in a toughened pane give its
strength, crack by crack. Compression is never simply added: a flaw that reaches through the
compressed layer gains little from it.

Fits, effective areas, numbers of specimens and proof tests have modules of their own and are
gathered here.
"""

from dataclasses import dataclass, replace
from warnings import warn

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import PchipInterpolator, RectBivariateSpline

from glasskit import crack
from glasskit.crack import growth, weight
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    doubt,
    of_type,
    positive,
    within,
)
from glasskit.strength.area import (
    size_factor,
)
from glasskit.stress import StressProfile

_PER_DECADE = 40  # depths of the table for each power of ten
_TOUGHNESSES = 9  # columns of the table where the toughness varies


@dataclass(frozen=True, slots=True, kw_only=True)
class FlawPopulation:
    r"""Worst flaws of panes, told by the strengths they give without residual stress.

    If strengths follow Weibull's distribution, depths follow Fréchet's:

    .. math:: P(\text{worst} \le a) = \exp\left[-(a_0/a)^{m/2}\right], \qquad
        a_0 = \frac1\pi \left(\frac{K_{Ic}}{Y\sigma_0}\right)^2

    Attributes
    ----------
    modulus : float
        Weibull modulus of the strengths [-].
    scale : float
        Strength that 63.2 % of the panes do not reach [Pa].
    area : float
        Effective area at which they were measured, even pull in one direction [m^2].
    toughness : float
        Fracture toughness :math:`K_{Ic}` [Pa m^0.5].

    Notes
    -----
    Depths are those of long shallow cracks, :math:`Y` = 1.1215, the shape that
    `crack.breaking_stress` knows; a half-disc that breaks at the same stress is 2.9 times as
    deep. Strengths measured slowly in humid air give the depth at the end of the creep.

    Examples
    --------
    Panes of 74 MPa and modulus 6: one pane in twenty has a flaw as deep as, in µm,

    >>> flaws = FlawPopulation(modulus=6.0, scale=74e6, area=0.01, toughness=0.75e6)
    >>> round(flaws.depth(0.95).item() * 1e6)
    70

    """

    modulus: float
    scale: float
    area: float
    toughness: float

    def __post_init__(self) -> None:
        positive("modulus", self.modulus)
        positive("scale", self.scale, "Pa")
        positive("area", self.area, "m^2")
        positive("toughness", self.toughness, "Pa m^0.5")

    def for_area(self, area: float) -> "FlawPopulation":
        """Return the worst flaws of panes of another effective area [m^2]."""
        factor = size_factor(area, self.area, self.modulus).item()
        return replace(self, area=area, scale=self.scale * factor)

    def depth(self, chance: ArrayLike) -> FloatArray:
        """Return the depth that a share `chance` of worst flaws does not exceed [m]."""
        share = within("chance", chance, 0, 1)
        strength = self.scale * (-np.log(share)) ** (1 / self.modulus)
        return crack.griffith_depth(strength, self.toughness)

    def deeper(self, depth: ArrayLike) -> FloatArray:
        """Return the chance that a pane has a flaw deeper than `depth` [m]."""
        strength = crack.griffith_strength(depth, self.toughness)
        return np.asarray(-np.expm1(-((strength / self.scale) ** self.modulus)))

    def sample(self, size: int | tuple[int, ...], rng: np.random.Generator) -> FloatArray:
        """Return the depths of the worst flaws of simulated panes, of shape `size` [m]."""
        strength = self.scale * rng.weibull(self.modulus, size)
        return crack.griffith_depth(strength, self.toughness)


def lasting_toughness(time: ArrayLike, depth: ArrayLike, law: growth.GrowthLaw) -> FloatArray:
    """Return the stress intensity under which a crack runs when the load lasts.

    Parameters
    ----------
    time : array_like
        How long the load lasts; zero for a blow [s].
    depth : array_like
        Depth of the crack at the start [m].
    law : growth.GrowthLaw
        How fast it creeps.

    Returns
    -------
    ndarray of float
        Stress intensity at the start that leads to breaking in this time [Pa m^0.5]; give it
        to `pane_strength` as toughness.

    Raises
    ------
    ValueError
        If `time` is negative or `depth` not positive.

    Notes
    -----
    For the tension left at the crack once the load outweighs the compression, taken as even
    over the crack.

    References
    ----------
    [Haldimann2006] for the law.

    Examples
    --------
    A flaw of 70 µm, an instant and a minute, in MPa√m:

    >>> law = growth.ENVIRONMENTS["design"]
    >>> (lasting_toughness([0, 60], 70e-6, law) / 1e6).round(2)
    array([0.75, 0.39])

    """
    of_type("law", law, growth.GrowthLaw)
    factor = crack.EDGE_CRACK * np.sqrt(np.pi * positive("depth", depth, "m"))
    return np.asarray(factor * growth.sustained_stress(time, depth, law))


def pane_strength(
    profile: StressProfile, depth: ArrayLike, toughness: ArrayLike
) -> FloatArray:
    """Return the applied tension at which panes break, for very many flaws at once.

    `crack.breaking_stress` on a table of depths (and of toughnesses if these vary),
    interpolated.

    Parameters
    ----------
    profile : StressProfile
        Residual stress of the panes; `stress.annealed` for none.
    depth : array_like
        Depth of the worst flaw of each pane [m].
    toughness : array_like
        Fracture toughness [Pa m^0.5].

    Returns
    -------
    ndarray of float
        Uniform applied tension [Pa]; the inputs' broadcast shape. Zero or less where the
        pane would have broken by itself.

    Raises
    ------
    ValueError
        If `depth` or `toughness` is not finite and positive.

    Warns
    -----
    OutsideValidityWarning
        If a flaw is deeper than 0.6 of the thickness; it is taken as that deep.

    Notes
    -----
    Interpolated within 0.1 % of the direct answer plus the surface compression (tests).
    If every stress of a profile is multiplied by f, so is the answer at f times the
    toughness: scatter of the compression costs no further table.

    References
    ----------
    Own method; see `crack.breaking_stress`.

    Examples
    --------
    Flaws of 20 and 70 µm in a pane tempered to 100 MPa, in MPa:

    >>> from glasskit.stress import tempered
    >>> (pane_strength(tempered(100e6, 6e-3), [20e-6, 70e-6], 0.75e6) / 1e6).round()
    array([183., 142.])

    """
    of_type("profile", profile, StressProfile)
    size = positive("depth", depth, "m")
    limit = positive("toughness", toughness, "Pa m^0.5")
    doubt("toughness", limit, "toughness")
    size, limit = np.broadcast_arrays(size, limit)
    deepest = weight.DEEPEST * profile.thickness
    if size.size and size.max() > deepest:
        warn(
            f"flaws deeper than {deepest:g} m, 0.6 of the thickness, are taken as that deep",
            OutsideValidityWarning,
            stacklevel=2,
        )
    if not size.size:
        return np.empty(size.shape)
    return _from_table(profile, np.minimum(size, deepest), limit)


def _from_table(
    profile: StressProfile, depth: FloatArray, toughness: FloatArray
) -> FloatArray:
    """Interpolate the breaking stress times the root of the depth over its logarithm."""
    low, high = np.log(depth.min()), np.log(depth.max())
    rows = max(8, int(np.ceil(_PER_DECADE * (high - low) / np.log(10))))
    least, most = toughness.min(), toughness.max()
    columns = 1 if least == most else _TOUGHNESSES
    if depth.size <= rows * columns:
        return crack.breaking_stress(profile, depth, toughness)
    deepest = weight.DEEPEST * profile.thickness
    place = np.linspace(low - 1e-6, high + 1e-6, rows)
    along = np.minimum(np.exp(place), deepest)
    root = np.sqrt(along)[:, None]
    across = np.linspace(least, most, columns)
    table = crack.breaking_stress(profile, along[:, None], across) * root
    if columns == 1:
        curve = PchipInterpolator(place, table[:, 0])(np.log(depth))
    else:
        curve = RectBivariateSpline(place, across, table).ev(np.log(depth), toughness)
    return np.asarray(curve / np.sqrt(depth))
