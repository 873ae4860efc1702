# SPDX-License-Identifier: MIT
"""Work out beforehand what hands-on likenesses of a squeeze will do, for your sizes.

A row of books lifted by pushing on its ends, balls swapped in a tray, a card that a stretched
band curls. What to buy, where each stops and what can hurt:
`glasskit.classroom.likenesses.texts`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.classroom.likenesses import spanning
from glasskit.damage import Range
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    in_range,
    non_negative,
    positive,
    whole,
)

__all__ = ["BallTray", "BookRow", "CurledCard"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BookRow:
    r"""Equal books side by side, lifted as one beam by pushing on the two ends.

    Attributes
    ----------
    count : int
        Books [-].
    mass : float
        Of one book [kg].
    length : float
        Of the row, from hand to hand [m].
    height : float
        Of the books [m].
    friction : Range
        Coefficient between covers [-].
    name : str
        Key of `texts`.

    Notes
    -----
    A beam without tension, pushed through the middle of its height: weight W, length L, height
    h. Hands and joints slip below :math:`W/(2\mu)`; the lowest edge of the middle joint opens
    where bending beats the push, below :math:`6\,(WL/8)/h`; all turns about the upper edge
    below :math:`2\,(WL/8)/h`. The push acts level and the books are stiff.

    Examples
    --------
    Six paperbacks of 0.2 kg: newtons to keep it from slipping, opening, folding.

    >>> from glasskit.classroom.likenesses import between
    >>> row = BookRow(count=6, mass=0.2, length=0.15, height=0.18, friction=between(0.3, 0.3))
    >>> [round(force.item()) for force in (row.slip.high, row.opening, row.folding)]
    [20, 7, 2]

    """

    count: int
    mass: float
    length: float
    height: float
    friction: Range
    name: str = "row of books"

    def __post_init__(self) -> None:
        whole("count", self.count, 2, 1000)
        for name, unit in (("mass", "kg"), ("length", "m"), ("height", "m")):
            positive(name, getattr(self, name), unit)

    @property
    def weight(self) -> FloatArray:
        """Weight of the row [N]."""
        return np.asarray(self.count * self.mass * GRAVITY)

    @property
    def slip(self) -> Range:
        """Push below which the row slips out of the hands or apart [N]."""
        rough, smooth = self.friction.high, self.friction.low
        return spanning(self.weight / (2 * rough), self.weight / (2 * smooth))

    @property
    def opening(self) -> FloatArray:
        """Push below which the middle joint starts to open at its lower edge [N]."""
        return np.asarray(6 * self.weight * self.length / (8 * self.height))

    @property
    def folding(self) -> FloatArray:
        """Push below which the row folds in the middle [N]."""
        return np.asarray(self.weight * self.length / (4 * self.height))

    def load_to_open(self, push: ArrayLike) -> FloatArray:
        """Return the load on the middle at which its joint starts to open.

        Parameters
        ----------
        push : array_like
            On each end [N].

        Returns
        -------
        ndarray
            Load on top [N]; zero where the joint is open without any.

        Raises
        ------
        ValueError
            If the push is negative.

        Notes
        -----
        The likeness of toughened glass: the load that opens grows with the push. The row may
        slip before: both ends together bear twice the friction times the push.

        """
        pressed = non_negative("push", push, "N") * self.height / 6
        return np.maximum(4 / self.length * (pressed - self.weight * self.length / 8), 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BallTray:
    """A full row of balls in a tray with a springy end, some swapped for larger ones.

    Attributes
    ----------
    count : int
        Balls in the row [-].
    small, large : float
        Diameters [m].
    stiffness : Range
        Force for each metre that the end gives way, such as a rubber band's [N/m].
    name : str
        Key of `texts`.

    Notes
    -----
    Balls do not give; friction on the tray is left out. The number of balls stays: swapped,
    not filled in.

    Examples
    --------
    Twenty balls of 40 mm; how much the row grows if a quarter become 44 mm, in mm:

    >>> from glasskit.classroom.likenesses import between
    >>> tray = BallTray(count=20, small=40e-3, large=44e-3, stiffness=between(50.0, 200.0))
    >>> tray.growth(0.25).item() * 1e3
    20.0

    """

    count: int
    small: float
    large: float
    stiffness: Range
    name: str = "swapped balls"

    def __post_init__(self) -> None:
        whole("count", self.count, 1, 1000)
        positive("small", self.small, "m")
        positive("large", self.large, "m")

    def growth(self, fraction: ArrayLike) -> FloatArray:
        """Return how much longer the row would be if nothing held it [m].

        Raises
        ------
        ValueError
            If a fraction does not lie between 0 and 1.

        """
        swapped = in_range("fraction", fraction, 0.0, 1.0)
        return np.asarray(self.count * swapped * (self.large - self.small))

    def push(self, fraction: ArrayLike) -> Range:
        """Return the force on the end when a fraction of the balls is swapped [N].

        Raises
        ------
        ValueError
            If a fraction does not lie between 0 and 1.

        """
        longer = self.growth(fraction)
        return spanning(self.stiffness.low * longer, self.stiffness.high * longer)


@dataclass(frozen=True, slots=True, kw_only=True)
class CurledCard:
    """A card with stretched rubber bands stuck along one face, let go.

    Attributes
    ----------
    length, width, thickness : float
        Of the card, the bands along its length [m].
    modulus : Range
        Of the card; 2 to 5 GPa, from memory [Pa].
    pull : float
        Of all bands together, stretched as they are [N].
    name : str
        Key of `texts`.

    Notes
    -----
    Thin bands that keep their pull, and a rise that is small against the length.

    References
    ----------
    [Stoney1909]

    Examples
    --------
    >>> from glasskit.classroom.likenesses import between
    >>> card = CurledCard(
    ...     length=0.2, width=0.1, thickness=0.5e-3, modulus=between(2e9, 5e9), pull=2.0
    ... )
    >>> card.name
    'curled card'

    """

    length: float
    width: float
    thickness: float
    modulus: Range
    pull: float
    name: str = "curled card"

    def __post_init__(self) -> None:
        for name in ("length", "width", "thickness"):
            positive(name, getattr(self, name), "m")
        positive("pull", self.pull, "N")

    @property
    def curvature(self) -> Range:
        """One over the radius, ``6 T/(E b t^2)`` [1/m]."""
        flat = 6 * self.pull / (self.width * self.thickness**2)
        return spanning(flat / self.modulus.high, flat / self.modulus.low)

    @property
    def rise(self) -> Range:
        """How high the middle stands over the ends [m]."""
        bent = self.curvature
        return spanning(bent.low * self.length**2 / 8, bent.high * self.length**2 / 8)

    @property
    def squeeze_with_bands_on_both_faces(self) -> FloatArray:
        """Even squeeze in the card that then stays flat, ``2 T/(b t)`` [Pa]."""
        return np.asarray(2 * self.pull / (self.width * self.thickness))
