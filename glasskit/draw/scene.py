# SPDX-License-Identifier: MIT
"""What a picture is made of: a still part drawn once, and artists that move.

A scene draws one kind of result and is used by the live picture, the slide and the sheet
alike. See `glasskit.draw.picture` for those who use it.
"""

from abc import ABC, abstractmethod
from collections.abc import Hashable, Iterable
from typing import Generic, TypeVar

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from glasskit.draw.look import Look

__all__ = ["Result", "Scene"]

Result = TypeVar("Result")


class Scene(ABC, Generic[Result]):
    """A drawing of one kind of result.

    Whoever draws works on a shallow copy, so `build` keeps its artists in attributes of `self`
    and a scene can be on the screen and on a slide at once.
    """

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
            their zorder, and take no part in the layout.

        """

    @abstractmethod
    def update(self, result: Result, look: Look) -> None:
        """Set the moving artists to this result, creating none."""

    def frame(self, result: Result, look: Look) -> Hashable:
        """Return what the still part depends on, such as limits: a change builds anew."""
        return None
