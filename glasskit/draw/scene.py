# SPDX-License-Identifier: MIT
"""What a picture is made of: a still part drawn once, and artists that move.

A scene draws one kind of result and is used by the live picture, the slide and the sheet
alike. See `glasskit.draw.picture` for those who use it.
"""

import re
from abc import ABC, abstractmethod
from collections.abc import Hashable, Iterable
from typing import ClassVar, Generic, TypeVar

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from glasskit.draw.look import Look
from glasskit.quantities import System

Result = TypeVar("Result")


class Scene(ABC, Generic[Result]):
    """A drawing of one kind of result.

    Whoever draws works on a shallow copy, so `build` keeps its artists in attributes of `self`
    and a scene can be on the screen and on a slide at once.

    Attributes
    ----------
    sources : tuple of str
        Keys of ``data/references.csv``: works that the computation follows.
    under : tuple of Artist
        What lies below all that moves and seldom changes: see `ground`.

    """

    sources: ClassVar[tuple[str, ...]] = ()
    under: tuple[Artist, ...] = ()

    @abstractmethod
    def build(self, figure: Figure, look: Look, result: Result) -> Iterable[Artist]:
        """Draw on an empty figure all that stands still, and create the artists that move.

        Parameters
        ----------
        figure : Figure
            Empty, with constrained layout. Text needs no size: `look` has set it.
        look : Look
            Units, type size, colour or hatch.
        result : Result
            The first result to show; only what `frame` names may shape the still part.

        Returns
        -------
        iterable of Artist
            The moving artists. They are drawn over everything that stands still, in order of
            their zorder, and take no part in the layout; axes whose ends move are among them,
            see `look.freed`.

        """

    @abstractmethod
    def update(self, result: Result, look: Look) -> None:
        """Set the moving artists to this result, creating none."""

    def frame(self, result: Result, look: Look) -> Hashable:
        """Return what the still part depends on, such as limits: a change builds anew."""
        return None

    def ground(self, result: Result, look: Look) -> Hashable:
        """Return what `under` depends on: a change lays it anew, which builds no frame."""
        return None

    def lay(self, result: Result, look: Look) -> None:
        """Set the artists in `under` to this result; called before `update`."""

    def verdict(self, result: Result, system: System) -> str:
        """Return what the picture says, in six to ten words; nothing by default.

        It stands on top of the picture, on the screen, on slides and on paper.
        """
        return ""

    @property
    def source_line(self) -> str:
        """Who computed the picture, and after which works: the foot of a slide."""
        made = "Computed with glasskit"
        return f"{made} after {'; '.join(map(_cited, self.sources))}" if self.sources else made


def _cited(key: str) -> str:
    """Write the key of a work as readers cite it.

    Examples
    --------
    >>> _cited("GlinkaShen1991"), _cited("ASTMC1048"), _cited("C1239")
    ('Glinka and Shen 1991', 'ASTM C1048', 'ASTM C1239')

    """
    if standard := re.fullmatch(r"(?:ASTM)?([CE]\d+)", key):
        return f"ASTM {standard[1]}"
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " and ", re.sub(r"(?<=[a-z])(?=\d)", " ", key))


class FixedScene(Scene[Result]):
    """A drawing in which nothing moves: each result has axes of its own."""

    def frame(self, result: Result, look: Look) -> int:
        """Return a mark of the result."""
        return id(result)

    def update(self, result: Result, look: Look) -> None:
        """Leave all as it is: nothing moves."""
