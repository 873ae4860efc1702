# SPDX-License-Identifier: MIT
r"""Set fracture surfaces to read: where it began, how large the mirror is, what it broke from.

Six kinds, invented and simplified: each is drawn from its origin outwards, a smooth mirror,
mist, then lines that point back. The mirror fits the stress at which the piece broke,
:math:`r = (A/\sigma)^2`, so that a reading gives the stress back.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from glasskit.breakage import MIRROR_CONSTANTS, breaking_stress
from glasskit.quantities import finite, non_negative, one_of, whole

Answer = Literal["face", "edge", "outside the loads", "cannot tell"]

ANSWERS: tuple[Answer, ...] = ("face", "edge", "outside the loads", "cannot tell")
"""What may be said of an origin."""

WIDTH, THICKNESS = 20e-3, 4e-3
"""Size of a drawn section, and the width of the drawn tile [m]."""

_PLACE = 0.05  # of the width: how far off a mark may be
_RADIUS = 0.2  # of the radius
_BRANCHING = float(np.mean(MIRROR_CONSTANTS["branching"]))
_MIST = float(np.mean(MIRROR_CONSTANTS["mist"]))

SURFACES: Mapping[str, tuple[Answer, str]] = MappingProxyType(
    {
        "face": ("face", "Section of a bar; below is the face that was pulled."),
        "edge": ("edge", "Section of a bar; below is the face that was pulled."),
        "roller": (
            "outside the loads",
            "Section of a bar; below is the face that was pulled. The break lies 6 mm outside "
            "the inner rollers.",
        ),
        "lost": (
            "cannot tell",
            "Section of a bar; below is the face that was pulled. A piece is missing.",
        ),
        "chip": (
            "face",
            "Section of a bar; below is the face that was pulled. It fell on the table "
            "after it broke.",
        ),
        "branching": (
            "edge",
            "A tile from above, pulled from left to right: the radius is that at which the "
            "crack first forks.",
        ),
    }
)
"""Right answer and what is told of each kind of surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface to read.

    Attributes
    ----------
    kind : str
        A key of `SURFACES`.
    seed : int
        Gives the same surface again.
    stress : float
        At the break [Pa].
    across, up : float
        Where the origin lies, from the left and from below [m].
    radius : float
        Of the mirror along the surface; to the first fork of a tile [m].

    """

    kind: str
    seed: int
    stress: float
    across: float
    up: float
    radius: float

    @property
    def height(self) -> float:
        """Height of what is drawn [m]."""
        return WIDTH if self.kind == "branching" else THICKNESS

    @property
    def answer(self) -> Answer:
        """What is to be said of the origin."""
        return SURFACES[self.kind][0]


def surface(kind: str, seed: int) -> Surface:
    """Return a surface to read.

    Parameters
    ----------
    kind : str
        A key of `SURFACES`.
    seed : int
        Zero or more; the same seed gives the same surface.

    Returns
    -------
    Surface
        With an origin, also where it cannot be seen.

    Raises
    ------
    ValueError
        If the kind is unknown or the seed negative.

    Examples
    --------
    >>> surface("edge", 1).answer
    'edge'

    """
    one_of("kind", kind, SURFACES)
    rng = np.random.default_rng([whole("seed", seed), list(SURFACES).index(kind)])
    stress = float(rng.uniform(45e6, 70e6))
    across, up = float(rng.uniform(0.2, 0.8)) * WIDTH, 0.0
    if kind == "edge":
        across = float(rng.choice([0.0, WIDTH]))
    if kind == "branching":
        across, up = float(rng.uniform(0.35, 0.65)) * WIDTH, 0.0
    constant = _BRANCHING if kind == "branching" else _MIST
    radius = (constant / stress) ** 2
    return Surface(kind=kind, seed=seed, stress=stress, across=across, up=up, radius=radius)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What somebody read on a surface.

    Attributes
    ----------
    surface : Surface
        What was read.
    across, up : float
        Where they mark the origin [m].
    radius : float
        Which mirror they read [m].
    answer : str
        One of `ANSWERS`.

    Examples
    --------
    >>> one = surface("edge", 1)
    >>> Reading(
    ...     surface=one, across=one.across, up=0.0, radius=one.radius, answer="edge"
    ... ).right
    True

    """

    surface: Surface
    across: float
    up: float
    radius: float
    answer: Answer

    def __post_init__(self) -> None:
        finite("across", self.across, "m")
        finite("up", self.up, "m")
        non_negative("radius", self.radius, "m")
        one_of("answer", self.answer, ANSWERS)

    @property
    def placed(self) -> bool:
        """Whether the mark lies at the origin, a twentieth of the width off at most."""
        away = np.hypot(self.across - self.surface.across, self.up - self.surface.up)
        return bool(away <= _PLACE * WIDTH)

    @property
    def sized(self) -> bool:
        """Whether the radius is within a fifth of the mirror's."""
        return bool(abs(self.radius / self.surface.radius - 1) <= _RADIUS)

    @property
    def named(self) -> bool:
        """Whether the answer is right."""
        return self.answer == self.surface.answer

    @property
    def right(self) -> bool:
        """Whether all is right; of an origin that is lost nothing else is asked."""
        if self.surface.answer == "cannot tell":
            return self.named
        return self.named and self.placed and self.sized

    @property
    def stress(self) -> float:
        """What the radius tells of the stress at the break; zero without a radius [Pa]."""
        if self.radius <= 0:
            return 0.0
        constant = _BRANCHING if self.surface.kind == "branching" else _MIST
        return breaking_stress(self.radius, constant).item()
