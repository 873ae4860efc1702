# SPDX-License-Identifier: MIT
r"""Ask what the stretched core of a pane pays for a crack, and how finely the pane breaks.

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

from glasskit.breakage.crumbs import (
    DICING_SPREAD,
    DICING_TENSION,
    MinimumCount,
    crumb_count,
    dicing_tension,
    minimum_counts,
    surface_share,
)
from glasskit.breakage.fragments import MIRROR_CONSTANTS, feature_radius
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, of_type, positive
from glasskit.stress import StressProfile

__all__ = ["NOMINAL", "Breakage", "core_energy"]

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
