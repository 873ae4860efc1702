# SPDX-License-Identifier: MIT
"""Say what is worth learning before a show: what would narrow its odds, and by how much."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from scipy.special import ndtr

from glasskit.demonstration.rigs import GuidedDrop, Rig, Specimen
from glasskit.demonstration.worlds import WORLD, Worlds
from glasskit.quantities import FloatArray, of_type

TOPICS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "flaws": (
            *(name for name in WORLD if name != "theory of the blow"),
            "lot strength",
            "lot scatter",
        ),
        "squeeze": ("compression", "compressed depth"),
        "thickness": ("thickness",),
        "mass": ("mass",),
        "edges": ("damping", "support"),
        "blow": ("theory of the blow", "aim", "face radius", "slap"),
    }
)
"""What one can set out to learn, and the inputs that it tells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """Something that could be learned.

    Attributes
    ----------
    topic : str
        Key of `TOPICS`; for a device the name of its input.
    part : float
        Share of the variance of the chance that is due to it [-].

    """

    topic: str
    part: float

    @property
    def narrows(self) -> float:
        """By how much the band of the chance shrinks on average once it is known [-]."""
        return float(1.0 - np.sqrt(1.0 - self.part))


def lessons(
    worlds: Worlds, rig: Rig, specimen: Specimen, chance: FloatArray
) -> tuple[Lesson, ...]:
    """Return what could be learned, what would narrow a chance most first.

    Parameters
    ----------
    worlds : Worlds
        What may be true.
    rig : Rig
        What strikes.
    specimen : Specimen
        Any kind of pane of the show; needed for a guided drop.
    chance : ndarray, shape (worlds,)
        The chance in question in each world [-].

    Returns
    -------
    tuple of Lesson
        One for each topic that has an input here.

    Notes
    -----
    Share of variance by a parabola in the inputs of each topic; what topics do only together
    is left out.

    Examples
    --------
    What would narrow the odds of an ordinary pane most:

    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> from glasskit.demonstration.chances import odds_in, worlds_of
    >>> from glasskit.demonstration.worlds import Belief
    >>> pane = annealed("ordinary", window)
    >>> worlds = worlds_of(["ordinary"], ball, Belief.before(), count=256)
    >>> found = odds_in(worlds, pane, ball, [0.5, 1.0])
    >>> found = lessons(worlds, ball, pane, found.chances[:, 0])
    >>> found[0].part >= found[-1].part
    True

    """
    of_type("worlds", worlds, Worlds)
    of_type("rig", rig, Rig)
    of_type("specimen", specimen, Specimen)
    if isinstance(rig, GuidedDrop):
        landing = rig.landing(specimen, 1.0)
        at = [name for _, name in worlds.columns].index("case")
        size = landing.chance.shape[-1]
        case = np.minimum((ndtr(worlds.white[:, at]) * size).astype(int), size - 1)
        groups = {
            " ".join(key): half[case][:, None].astype(float)
            for key, half in landing.upper_half.items()
        }
    else:
        places = worlds.places
        owned = {
            topic: [at for at, (_, name) in enumerate(worlds.columns) if name in names]
            for topic, names in TOPICS.items()
        }
        groups = {topic: places[:, at] for topic, at in owned.items() if at}
    found = [Lesson(topic=topic, part=_part(value, chance)) for topic, value in groups.items()]
    return tuple(sorted(found, key=lambda lesson: -lesson.part))


def _part(value: FloatArray, chance: FloatArray) -> float:
    """Return the share of the variance that a parabola in the columns explains [-]."""
    about = value - value.mean(axis=0)
    terms = np.concatenate([about, about**2 - (about**2).mean(axis=0)], axis=1)
    wanted = chance - chance.mean()
    if not wanted.any():
        return 0.0
    fitted = terms @ np.linalg.lstsq(terms, wanted, rcond=None)[0]
    return float(np.clip((fitted @ fitted) / (wanted @ wanted), 0.0, 1.0))
