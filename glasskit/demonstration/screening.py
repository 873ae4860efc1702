# SPDX-License-Identifier: MIT
"""Release, screen and room of a drop: what can reach whom at most, in lengths.

A helper for whoever fills in a risk assessment. It knows how high and how far a ball can go
with the energy of its fall, and how fast a piece must be to pass over a screen. It knows no
speed of pieces, chooses no screen and no eye protection, and never says "safe".
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from glasskit.impact import drop_speed, throw_height, throw_range
from glasskit.quantities import GRAVITY, in_range, non_negative, positive, require

EYES = 1.6
"""Height of the eyes of a standing grown-up [m]; common practice, no source."""
REACH = 2.0
"""Height up to which a standing grown-up handles a thing [m]; common practice, no source."""
FOUND_AT = 3.0
"""How far pieces of plain windows were searched for, and found [m] [Pounds1978]."""

Doubt = Literal["steps", "eyes", "ceiling", "over", "room", "found"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Screening:
    """A ball dropped on a pane on a table, behind a screen, in a room.

    Attributes
    ----------
    mass : float
        Of the ball [kg].
    drop : float
        From the ball to the pane [m].
    table : float
        Height of the pane above the floor [m].
    ceiling : float
        Of the room above the floor [m].
    screen_distance, screen_top : float
        Of the screen from the pane, and of its upper edge above the floor [m].
    front_row : float
        Distance of the nearest person in the audience from the pane [m].

    Raises
    ------
    ValueError
        If a length or the mass is not positive (the table may be zero), or the front row is
        nearer than the screen.

    Notes
    -----
    The ball leaves the pane with the energy of its fall at most, in any direction, without
    air: an upper bound, because a real rebound loses some. A bounce from wall or floor is left
    out, as is a screen that breaks, tips or leaves a gap at the side.

    Examples
    --------
    From 0.80 m above a table, behind a screen of 1.8 m: release, top of the ball at the
    screen, and the speed from which a piece can pass over it.

    >>> room = {"ceiling": 2.7, "screen_distance": 0.5, "screen_top": 1.8, "front_row": 4.0}
    >>> made = Screening(mass=0.227, drop=0.8, table=0.75, **room)
    >>> made.release, round(made.ball_at_screen, 2), round(made.piece_speed, 1)
    (1.55, 1.47, 4.7)

    """

    mass: float
    drop: float
    table: float
    ceiling: float
    screen_distance: float
    screen_top: float
    front_row: float

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        non_negative("table", self.table, "m")
        for name in ("drop", "ceiling", "screen_distance", "screen_top", "front_row"):
            positive(name, getattr(self, name), "m")
        require(
            self.front_row > self.screen_distance,
            "front_row",
            self.front_row,
            f"be farther than the screen, {self.screen_distance:g} m",
            "m",
        )

    @property
    def release(self) -> float:
        """Height of the ball above the floor before it is let go [m]."""
        return self.table + self.drop

    @property
    def ball_at_screen(self) -> float:
        """Highest point above the floor at which the ball can meet the screen [m]."""
        speed = drop_speed(self.drop)
        return max(throw_height(speed, self.screen_distance, self.table).item(), 0.0)

    @property
    def ball_range(self) -> float:
        """How far from the pane the ball can land where no screen stands [m]."""
        return throw_range(drop_speed(self.drop), self.table).item()

    @property
    def piece_speed(self) -> float:
        """Least speed with which a piece of the pane can pass over the screen [m/s]."""
        rise = self.screen_top - self.table
        return float(np.sqrt(GRAVITY * (rise + np.hypot(rise, self.screen_distance))))

    def heavier(self, release: float) -> float:
        """Return the mass that brings the same energy from a lower release.

        Parameters
        ----------
        release : float
            Height above the floor, above the table and not above `release` [m].

        Returns
        -------
        float
            Mass [kg].

        Raises
        ------
        ValueError
            If the height does not lie above the table and up to the release.

        Notes
        -----
        The same energy pulls a pane about as hard, not exactly: work out the odds anew.

        """
        in_range("release", release, self.table, self.release, "m")
        require(release > self.table, "release", release, "be above the table", "m")
        return self.mass * self.drop / (release - self.table)

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """What speaks against it, worst first; an empty one does not say that it is safe.

        "steps": the release cannot be reached from the floor. "ceiling": it lies above the
        ceiling. "over": the screen does not reach above the release. "room": the front row
        sits where the ball can land. "found": it sits where pieces of plain windows were
        found. "eyes": the release is above the eyes.
        """
        checks: tuple[tuple[Doubt, bool], ...] = (
            ("ceiling", self.release > self.ceiling),
            ("steps", self.release > REACH),
            ("over", self.screen_top <= self.release),
            ("room", self.front_row <= self.ball_range),
            ("found", self.front_row <= FOUND_AT),
            ("eyes", EYES < self.release <= REACH),
        )
        return tuple(name for name, true in checks if true)
