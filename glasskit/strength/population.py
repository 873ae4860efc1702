# SPDX-License-Identifier: MIT
"""Go from flaws to strength and back, for plain and for toughened glass.

A pane breaks at its worst flaw. Weibull's distribution of measured strengths is therefore a
distribution of the depth of the worst flaw; the same flaws in a toughened pane give its
strength, crack by crack. Compression is never simply added: a flaw that reaches through the
compressed layer gains little from it.

Fits, effective areas, numbers of specimens and proof tests have modules of their own and are
gathered here.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit import crack
from glasskit.quantities import FloatArray, positive, within


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
