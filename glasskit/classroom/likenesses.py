# SPDX-License-Identifier: MIT
"""Work out beforehand what hands-on likenesses of toughened glass will do, for your sizes.

Those that break: notched paper strips, brittle sticks and chocolate bars in a bend. Those that
squeeze: a row of books lifted by pushing on its ends, balls swapped in a tray, a card that a
stretched band curls. Inputs known only roughly are ranges, and
so is what follows from them. What to buy, where each likeness stops and what can hurt stands
in ``glasskit/data/handson.csv``: see `texts`.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from glasskit.bending import bar_section, rod_section
from glasskit.damage import Range
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    in_range,
    non_negative,
    of_type,
    one_of,
    positive,
    require,
    whole,
)
from glasskit.tables import read

KINDS = ("buy", "do", "shows", "stops", "falls", "caution")
"""What `texts` tells of each likeness."""


def texts(name: str) -> dict[str, tuple[str, ...]]:
    """Return what to buy and do, what it shows, where it stops, what falls and can hurt.

    Parameters
    ----------
    name : str
        The `name` of a likeness, such as "row of books".

    Returns
    -------
    dict of str to tuple of str
        Sentences by `KINDS`; every likeness has all six.

    Raises
    ------
    ValueError
        If there is no likeness of that name.

    Examples
    --------
    >>> len(texts("row of books")["caution"]) > 0
    True

    """
    rows = read("handson")
    one_of("name", name, dict.fromkeys(row["likeness"] for row in rows))
    return {
        kind: tuple(r["text"] for r in rows if (r["likeness"], r["kind"]) == (name, kind))
        for kind in KINDS
    }


def between(low: ArrayLike, high: ArrayLike) -> Range:
    """Return a positive quantity that is known only between two numbers.

    Raises
    ------
    ValueError
        If an end is not finite and positive, or they are not in order.

    """
    least, most = positive("low", low), positive("high", high)
    require(least <= most, "low", least, "not exceed high")
    return Range(low=np.array(least), high=np.array(most))


def spanning(*values: FloatArray) -> Range:
    """Return the range from the least to the greatest of some values, element by element.

    Parameters
    ----------
    *values : ndarray
        Two or more, of one shape [any one unit].

    Returns
    -------
    Range
        Of the same shape and unit.

    Examples
    --------
    >>> band = spanning(np.array([1.0, 4.0]), np.array([3.0, 2.0]))
    >>> band.low.tolist(), band.high.tolist()
    ([1.0, 2.0], [3.0, 4.0])

    """
    low, high = np.min(values, axis=0), np.max(values, axis=0)
    return Range(low=np.array(low), high=np.array(high))


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchedStrip:
    """A strip of paper, cut from one edge and pulled.

    Attributes
    ----------
    width : float
        Of the strip [m].
    force : float
        That tears a strip without a cut [N].
    own_flaw : Range
        Length of the flaw that paper behaves as if it had [m]; 1 to 4 mm, a judgement.
    name : str
        Key of `texts`.

    References
    ----------
    [Waddoups1971] for the law with an own flaw.

    Examples
    --------
    The width that a cut of 10 mm costs beyond itself, in a strip of 30 mm:

    >>> from glasskit.classroom.likenesses import between
    >>> strip = NotchedStrip(width=30e-3, force=60.0, own_flaw=between(1e-3, 4e-3))
    >>> strip.name
    'paper strips'

    """

    width: float
    force: float
    own_flaw: Range
    name: str = "paper strips"

    def __post_init__(self) -> None:
        positive("width", self.width, "m")
        positive("force", self.force, "N")

    def lost_width(self, cut: ArrayLike) -> FloatArray:
        """Return the tearing force if only the width that is left counted [N].

        Raises
        ------
        ValueError
            If a cut is negative or as long as the strip is wide.

        """
        return np.asarray(self.force * (1 - self._cut(cut) / self.width))

    def crack_law(self, cut: ArrayLike) -> Range:
        """Return the tearing force if the tip of the cut decides.

        Parameters
        ----------
        cut : array_like
            Length of the cut [m].

        Returns
        -------
        Range
            ``force * sqrt(own_flaw/(own_flaw + cut))`` [N], not above `lost_width`.

        Raises
        ------
        ValueError
            If a cut is negative or as long as the strip is wide.

        Notes
        -----
        For a wide strip: beyond a third of the width it tears earlier.

        """
        length, most = self._cut(cut), self.lost_width(cut)
        ends = (self.own_flaw.low, self.own_flaw.high)
        return spanning(
            *(np.minimum(self.force * np.sqrt(own / (own + length)), most) for own in ends)
        )

    def _cut(self, cut: ArrayLike) -> FloatArray:
        length = non_negative("cut", cut, "m")
        require(length < self.width, "cut", length, "be shorter than the strip is wide", "m")
        return length


@dataclass(frozen=True, slots=True, kw_only=True)
class BentStick:
    """A stick or bar on two supports with a load hung from its middle.

    Attributes
    ----------
    sections : tuple of ndarray
        Section moduli of the stoutest and the slightest stick that the readings allow [m^3].
    span : float
        Between the supports [m].
    strength : Range
        Far-face tension at which such sticks break [Pa].
    name : str
        Key of `texts`.

    """

    sections: tuple[FloatArray, ...]
    span: float
    strength: Range
    name: str

    def __post_init__(self) -> None:
        positive("span", self.span, "m")

    @property
    def mass(self) -> Range:
        """Mass that breaks it [kg]; from the slightest of the weakest to the other end."""
        strengths = (self.strength.low, self.strength.high)
        return spanning(
            *(
                4 * stress * section / (self.span * GRAVITY)
                for stress, section in product(strengths, self.sections)
            )
        )


def brittle_stick(
    diameter: float, span: float, strength: Range | None = None, reading: float = 0.0
) -> BentStick:
    """Return a rod, such as dry spaghetti.

    Parameters
    ----------
    diameter, span : float
        Of the rod, and between the supports [m].
    strength : Range, optional
        20 to 40 MPa for dry spaghetti unless told otherwise (common practice; a students'
        report found 31 MPa in tension) [Pa].
    reading : float
        How far the diameter may be off [m].

    Returns
    -------
    BentStick
        Its mass goes with the diameter cubed.

    Raises
    ------
    ValueError
        If a size is not positive, or `reading` negative or as large as the diameter.

    Notes
    -----
    The reading of the diameter is the greatest doubt: the strength goes as its cube.

    References
    ----------
    [Guinea2004] on how dry spaghetti breaks.

    Examples
    --------
    A rod of 1.8 mm over 100 mm, in grams:

    >>> mass = brittle_stick(1.8e-3, 0.1).mass
    >>> round(mass.low.item() * 1e3), round(mass.high.item() * 1e3)
    (47, 93)

    """
    if strength is not None:
        of_type("strength", strength, Range)
    off, across = non_negative("reading", reading, "m"), positive("diameter", diameter, "m")
    require(off < across, "reading", off, "be below the diameter", "m")
    return BentStick(
        sections=(rod_section(across + off), rod_section(across - off)),
        span=span,
        strength=strength or between(20e6, 40e6),
        name="brittle sticks",
    )


def chocolate_bar(
    width: float, height: float, span: float, strength: Range | None = None
) -> BentStick:
    """Return a flat bar, such as chocolate.

    Parameters
    ----------
    width, height, span : float
        Across and along the load, and between the supports [m].
    strength : Range, optional
        0.5 to 3 MPa for chocolate from the refrigerator unless told otherwise (from memory;
        warm chocolate bends instead) [Pa].

    Returns
    -------
    BentStick
        Its mass goes with the height squared.

    Raises
    ------
    ValueError
        If a size is not positive.

    Notes
    -----
    Stiff and brittle only when cold; the ribs of a real bar count as its full height.

    References
    ----------
    Strength from memory, common practice of kitchens; no source.

    Examples
    --------
    A rib 20 mm wide and 8 mm high over 100 mm, the mass that breaks it in grams:

    >>> mass = chocolate_bar(20e-3, 8e-3, 0.1).mass
    >>> round(mass.low.item() * 1e3), round(mass.high.item() * 1e3)
    (435, 2610)

    """
    if strength is not None:
        of_type("strength", strength, Range)
    return BentStick(
        sections=(bar_section(width, positive("height", height, "m")),),
        span=span,
        strength=strength or between(0.5e6, 3e6),
        name="chocolate bars",
    )


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
