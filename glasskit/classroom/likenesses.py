# SPDX-License-Identifier: MIT
"""Work out beforehand what hands-on likenesses of toughened glass will do, for your sizes.

Here those that break: notched paper strips, brittle sticks and chocolate bars in a bend; in
`glasskit.classroom.squeezing` those that squeeze. Inputs known only roughly are ranges, and
so is what follows from them. What to buy, where each likeness stops and what can hurt stands
in ``glasskit/data/handson.csv``: see `texts`.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from glasskit.bending import Section, bar_section, rod_section
from glasskit.damage import Range
from glasskit.quantities import (
    GRAVITY,
    FloatArray,
    non_negative,
    of_type,
    one_of,
    positive,
    require,
)
from glasskit.tables import read

__all__ = [
    "BentStick",
    "NotchedStrip",
    "between",
    "brittle_stick",
    "chocolate_bar",
    "spanning",
    "texts",
]

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
    sections : tuple of Section
        Of the stoutest and the slightest stick that the readings allow.
    span : float
        Between the supports [m].
    strength : Range
        Far-face tension at which such sticks break [Pa].
    name : str
        Key of `texts`.

    """

    sections: tuple[Section, ...]
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
                4 * stress * section.section_modulus / (self.span * GRAVITY)
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
