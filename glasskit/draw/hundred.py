# SPDX-License-Identifier: MIT
"""A chance as a hundred marks: how many break, and how many more or fewer it may be."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes

from glasskit.draw.look import GREY, INK, PALE, WHITE

_COLUMNS, _ROWS = 20, 5
_FILLS = (INK, "#9A9A9A", WHITE, PALE)
_EDGES = (INK, INK, INK, PALE)
KEY = "black breaks · grey probably breaks · outline may break · pale holds"
"""What the four tones say; no stress, so neither blue nor vermilion."""


class Hundred:
    """Five rows of twenty marks; of what is not sure the likelier part is grey.

    Parameters
    ----------
    ax : Axes
        Of its own; its axes are taken away.
    mark : str
        "o" for trials, "s" for panes.
    size : float
        Size of a mark [pt].

    """

    def __init__(self, ax: Axes, mark: str, size: float = 9.0) -> None:
        ax.set(xlim=(-0.6, _COLUMNS - 0.4), ylim=(_ROWS - 0.4, -0.6), xticks=[], yticks=[])
        ax.spines[:].set_visible(False)
        row, column = np.divmod(np.arange(_COLUMNS * _ROWS), _COLUMNS)
        self.marks = ax.scatter(column, row, s=size**2, marker=mark, lw=1.2, edgecolor=GREY)

    @property
    def artists(self) -> list[Artist]:
        """What moves."""
        return [self.marks]

    def set(self, low: float, chance: float, high: float) -> None:
        """Set the share that breaks and the ends of what it may be [-]."""
        ends = np.rint(100 * np.array([low, chance, high]))
        tones = np.searchsorted(ends, np.arange(100), side="right")
        self.marks.set_facecolor([_FILLS[tone] for tone in tones])
        self.marks.set_edgecolor([_EDGES[tone] for tone in tones])
