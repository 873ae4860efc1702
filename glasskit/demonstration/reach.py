# SPDX-License-Identifier: MIT
"""Ask from the floor: where the pane lies, how high the rig lets go, what a person reaches."""

from dataclasses import dataclass

from glasskit.demonstration.rigs import FallingPane, GuidedDrop, Rig
from glasskit.quantities import non_negative, positive, require

WAIST = 1.0
"""Release that a grown-up works on comfortably [m]: a judgement, from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Heights above the floor.

    Attributes
    ----------
    pane_height : float
        Where the pane lies [m]; for what falls onto the floor itself it does not count.
    highest : float
        Highest release that rig and ceiling allow [m].

    Examples
    --------
    A pane on a table, a room of 2.6 m: so long can a ball fall,

    >>> from glasskit.demonstration.rigs import DroppedBall
    >>> from glasskit.materials import solid
    >>> place = Place(pane_height=0.75, highest=2.6)
    >>> round(place.most(DroppedBall(mass=0.227, solid=solid("steel"))), 2)
    1.85

    """

    pane_height: float = 0.3
    highest: float = 2.8

    def __post_init__(self) -> None:
        non_negative("pane_height", self.pane_height, "m")
        room = positive("highest", self.highest, "m").item() - self.pane_height
        require(
            room >= 0.1, "highest", self.highest, "be 0.1 m above pane_height or more", "m"
        )

    def release(self, rig: Rig, height: float) -> float:
        """Return where something is let go that falls through a height [m]."""
        return height + self._under(rig)

    def most(self, rig: Rig) -> float:
        """Return the longest fall that rig and ceiling allow [m]."""
        return self.highest - self._under(rig)

    def _under(self, rig: Rig) -> float:
        return 0.0 if isinstance(rig, FallingPane | GuidedDrop) else self.pane_height
