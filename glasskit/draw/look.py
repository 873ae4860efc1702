# SPDX-License-Identifier: MIT
"""How every picture looks: type size, colours, hatches, units, and the arrows of stress.

A `Look` is handed to everything that draws. A scene is built inside ``look.drawing()``,
so text needs no size and axes need no styling. Squeeze (compression) is blue with
arrows that meet, pull (tension) is vermilion with arrows that part; in black and white the
hatch tells them apart. Both colours mean stress and nothing else. Colour never speaks alone.
The palette is that of [OkabeIto2008].
"""

from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Any, Literal

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.axis import Axis, YAxis
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.patches import FancyArrowPatch
from matplotlib.transforms import ScaledTranslation
from numpy.typing import ArrayLike

from glasskit import quantities
from glasskit.quantities import FloatArray, System

Sign = Literal["squeeze", "pull"]

SQUEEZE = "#0072B2"
PULL = "#D55E00"
GREEN = "#009E73"
PURPLE = "#CC79A7"
ORANGE, YELLOW = "#E69F00", "#F0E442"  # too light for a line: fills only
GLASS = "#DDEBE3"  # the glass itself, where no stress is shown: greenish, never blue
INK, GREY, PALE, WHITE = "#1A1A1A", "#595959", "#E6E6E6", "#FFFFFF"

_TICK_ROOM = 1.0, 0.6  # between an axis and its label, sizes of type: a tick, and each digit

_STRONG: dict[Sign, str] = {"squeeze": SQUEEZE, "pull": PULL}
_TINT: dict[Sign, str] = {"squeeze": "#B2D5E8", "pull": "#F5D2B8"}
_WORD: dict[Sign, str] = {"squeeze": "#00507D", "pull": "#8A3C00"}  # 4.5:1 on white and tint
_HATCH: dict[Sign, str] = {"squeeze": "////", "pull": "..."}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """The way one picture is drawn.

    Attributes
    ----------
    system : {"metric", "us"}
        Units on axes and labels.
    large : bool
        Type 1.6 times as large, for the back row.
    mono : bool
        Black, white and hatches, for a copier.

    """

    system: System = "metric"
    large: bool = False
    mono: bool = False

    @property
    def scale(self) -> float:
        """Size of type relative to the ordinary look [-]."""
        return 1.6 if self.large else 1.0

    def drawing(self) -> AbstractContextManager[None]:
        """Return a context in which matplotlib draws in this look, and which puts all back."""
        size = 12.0 * self.scale
        sizes = ("axes.titlesize", "axes.labelsize", "xtick.labelsize", "ytick.labelsize")
        inks = (
            "text.color",
            "axes.edgecolor",
            "axes.labelcolor",
            "xtick.color",
            "ytick.color",
        )
        settings: Any = {
            "font.family": "DejaVu Sans",
            "font.size": size,
            **dict.fromkeys(sizes, size),
            **dict.fromkeys(inks, INK),
            **dict.fromkeys(
                ("xtick.major.pad", "ytick.major.pad"), 6.4 if self.large else 3.5
            ),
            "axes.facecolor": "none",
            "axes.spines.top": False,
            "axes.spines.right": False,
            "axes.linewidth": 1.2,
            "lines.linewidth": 2.4,
            "lines.solid_capstyle": "butt",
            "hatch.linewidth": 1.0,
            "image.interpolation": "nearest",  # a moving image is drawn twice as fast
            "text.parse_math": False,  # a dollar sign in the name of a pane is a dollar sign
        }
        return mpl.rc_context(settings)

    def shown(self, value: ArrayLike, kind: str) -> FloatArray:
        """Return SI numbers in the unit of this look, ready for an axis."""
        return quantities.to_display(value, kind, self.system)

    def label(self, quantity: str, kind: str) -> str:
        """Return an axis label, "quantity / unit".

        Examples
        --------
        >>> Look().label("stress", "stress"), Look(system="us").label("depth", "depth")
        ('stress / MPa', 'depth / mil')

        """
        symbol = quantities.unit(kind, self.system).symbol
        return f"{quantity} / {symbol}" if symbol else quantity

    def show(self, value: ArrayLike, kind: str, digits: int = 3) -> str:
        """Write one SI number with the unit of this look."""
        return quantities.show(value, kind, self.system, digits)

    def colour(self, sign: Sign) -> str:
        """Return the colour of lines and arrows that mean squeeze or pull."""
        return INK if self.mono else _STRONG[sign]

    def word_colour(self, sign: Sign) -> str:
        """Return the colour of words about squeeze or pull, dark enough for its own fill."""
        return INK if self.mono else _WORD[sign]

    def fill(self, sign: Sign) -> dict[str, Any]:
        """Return patch settings for an area that is squeezed or pulled."""
        if self.mono:
            return {"facecolor": WHITE, "edgecolor": INK, "hatch": _HATCH[sign]}
        return {"facecolor": _TINT[sign], "edgecolor": _STRONG[sign]}

    @property
    def stress_map(self) -> LinearSegmentedColormap:
        """Colours from full squeeze (0) over white (0.5) to full pull (1)."""
        ends = ["#9A9A9A", WHITE, "#DADADA"] if self.mono else [_TINT["squeeze"], WHITE]
        if not self.mono:
            ends = ["#6FB1D6", *ends, _TINT["pull"], "#EFA878"]
        return LinearSegmentedColormap.from_list("stress", ends)


def round_up(value: float) -> float:
    """Return the next 1, 2 or 5 times a power of ten: an axis that ends there seldom moves.

    Examples
    --------
    >>> round_up(0.0), round_up(180.0), round_up(0.021)
    (1.0, 200.0, 0.05)

    """
    if value <= 0:
        return 1.0
    power = 10.0 ** np.floor(np.log10(value))
    return float(power * next(step for step in (1, 2, 5, 10) if step * power >= value))


def freed(axis: Axis, digits: int = 4) -> Axis:
    """Return an axis, below or at the left, that may get other ends with each result.

    Its label stays where it is, beside so many digits. To draw an axis anew takes a few
    milliseconds, to build and lay out a whole frame 200 ms.
    """
    if isinstance(axis, YAxis):
        tick, digit = _TICK_ROOM
        room = (tick + digits * digit) * float(axis.label.get_fontsize()) / 72
        beside = ScaledTranslation(-room, 0, axis.axes.figure.dpi_scale_trans)
        axis.set_label_coords(0, 0.5, axis.axes.transAxes + beside)
    else:
        axis.axes.set_xlim(0, 1000)  # half of four digits stand out beyond its end
    return axis


class StressArrows:
    """Two arrows on one line that meet (squeeze) or part (pull), longer for more stress.

    Parameters
    ----------
    ax : Axes
        Where to draw.
    look : Look
        Colours and size.
    left, right : float
        Outer ends of the pair, in data coordinates.
    y : float
        Height of the line they lie on.
    reach : float
        Length of each arrow at full stress, in data coordinates.

    Notes
    -----
    ``artists`` are the two arrows: a scene that moves them lists them among its moving ones.

    """

    def __init__(
        self, ax: Axes, look: Look, left: float, right: float, y: float, reach: float
    ) -> None:
        self.look = look
        self.left, self.right, self.y, self.reach = left, right, y, reach
        self.artists = [
            FancyArrowPatch(
                (x, y),
                (x, y),
                arrowstyle="-|>",
                mutation_scale=16 * look.scale,
                linewidth=2.6,
                shrinkA=0,
                shrinkB=0,
            )
            for x in (left, right)
        ]
        for artist in self.artists:
            ax.add_patch(artist)

    def set(self, fraction: float, y: float | None = None) -> None:
        """Set the stress as a fraction of full stress: negative squeezes, positive pulls."""
        self.y = self.y if y is None else y
        length = min(abs(fraction), 1.0) * self.reach
        colour = self.look.colour("squeeze" if fraction < 0 else "pull")
        inward = (1, -1)
        for artist, outer, sign in zip(
            self.artists, (self.left, self.right), inward, strict=True
        ):
            ends = ((outer, self.y), (outer + sign * length, self.y))
            artist.set_positions(*(ends if fraction < 0 else ends[::-1]))
            artist.set_color(colour)
            artist.set_visible(abs(fraction) >= 0.02)
