# SPDX-License-Identifier: MIT
"""Drop both: the same fall on an ordinary and a toughened pane, moment by moment.

What a camera would show at a thousand frames a second: the fall, the blow, and what comes of
it. Each pane stands for the middling one of its kind.
"""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.integrate import cumulative_trapezoid

from glasskit.demonstration.verdicts import Struck, strike
from glasskit.impact import Ball, Impact, Pane, ball_on_pane, drop_speed, fall_time
from glasskit.quantities import GRAVITY, FloatArray, in_range

_AFTER = 0.25  # how long the story goes on after the blow [s]


@dataclass(frozen=True, kw_only=True, eq=False)
class BothPanes:
    """One fall, two panes that look alike.

    Attributes
    ----------
    struck : Struck
        The blow, and what each kind of pane bears in it.
    impact : Impact
        The blow until the ball has left the pane that holds.
    chances : tuple of float or None
        Chance that an ordinary and that a toughened pane breaks [-], if a plan says it.

    """

    struck: Struck
    impact: Impact
    chances: tuple[float, float] | None = None
    _shapes: FloatArray = field(repr=False)

    @property
    def touch(self) -> float:
        """When the ball touches the panes, after its release [s]."""
        return float(fall_time(self.struck.height))

    @property
    def parted(self) -> float:
        """When the ball has left the pane that holds [s]."""
        return self.touch + float(self.impact.time[-1])

    @property
    def end(self) -> float:
        """When the story ends [s]."""
        return self.parted + _AFTER

    @cached_property
    def breaks(self) -> tuple[float, float]:
        """When the middling pane of each kind breaks after the release [s]; inf: it holds."""
        tension, times = self.impact.tension, []
        for kind, bears in enumerate((self.struck.ordinary, self.struck.toughened)):
            middling = np.sqrt(bears.low * bears.high)
            broken = self.chances[kind] > 0.5 if self.chances else tension.max() > middling
            first = self.impact.time[(tension >= min(middling, tension.max())).argmax()]
            times.append(self.touch + float(first) if broken else np.inf)
        return times[0], times[1]

    @cached_property
    def _path(self) -> tuple[FloatArray, FloatArray]:
        """Speed of the ball downwards and its way beneath the touch, while it is pushed."""
        time, force = self.impact.time, self.impact.force
        gained = cumulative_trapezoid(GRAVITY - force / self.struck.ball.mass, time, initial=0)
        speed = self.impact.speed + gained
        return speed, cumulative_trapezoid(speed, time, initial=0)

    def ball(self, time: float, kind: int) -> float:
        """Return how high the ball stands above the pane at rest [m].

        Parameters
        ----------
        time : float
            After the release [s].
        kind : {0, 1}
            Above the ordinary or the toughened pane.

        Raises
        ------
        ValueError
            If `time` lies outside the story.

        """
        in_range("time", time, 0.0, self.end, "s")
        if time <= self.touch:
            return float(self.struck.height - 0.5 * GRAVITY * time**2)
        last = min(time, self.breaks[kind], self.parted)  # from then on nothing pushes it
        fast, there = (np.interp(last - self.touch, self.impact.time, of) for of in self._path)
        free = time - last
        return float(-(there + fast * free + 0.5 * GRAVITY * free**2))

    def sag(self, time: float) -> FloatArray:
        """Return how far the pane that holds has sunk at the places of `struck` [m]."""
        if not self.touch <= time <= self.parted:
            return np.zeros_like(self.struck.places)
        instant = int(np.searchsorted(self.impact.time, time - self.touch, "right")) - 1
        return self._shapes @ self.impact.blow.swing(instant)[:, 0]

    def tension(self, time: float) -> float:
        """Return the bending tension of the far face under the ball [Pa]."""
        since = time - self.touch
        return float(np.interp(since, self.impact.time, self.impact.tension, 0, 0))


def drop_both(
    ball: Ball,
    pane: Pane,
    height: float,
    compression: float,
    chances: tuple[float, float] | None = None,
) -> BothPanes:
    """Let the same ball fall from the same height on an ordinary and on a toughened pane.

    Parameters
    ----------
    ball : Ball
        What falls.
    pane : Pane
        What it falls on; its glass needs a published practical strength.
    height : float
        Height fallen through [m].
    compression : float
        Surface compression of the toughened pane [Pa].
    chances : tuple of float, optional
        Chance that each breaks [-], from a plan.

    Returns
    -------
    BothPanes
        The story from the release on.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Where a plan gives chances, a kind breaks if most of its panes do; otherwise if the tension
    of the far face passes the middle of the band of `Struck`, and then at that moment. Up to
    then ball and pane are those of `ball_on_pane`; what a pane does once it has broken is not
    computed: from then on the ball falls freely.

    References
    ----------
    [Zener1941], [Goldsmith1960]; see `glasskit.impact.ball_on_pane`.

    Examples
    --------
    >>> from glasskit.impact import ball_of_mass
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> both = drop_both(ball_of_mass(0.227, solid("steel")), pane, 1.4, 100e6)
    >>> [bool(np.isfinite(moment)) for moment in both.breaks]
    [True, False]

    """
    struck = strike(ball, pane, height, compression)
    impact = ball_on_pane(ball, pane, drop_speed(height))
    shapes = impact.blow.answer.modes
    middle = np.zeros(struck.places.size)
    return BothPanes(
        struck=struck,
        impact=impact,
        chances=chances,
        _shapes=shapes.shapes.values(struck.places, middle) @ shapes.vectors,
    )
