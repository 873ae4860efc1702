# SPDX-License-Identifier: MIT
"""Say what scratches what, from hardness.

Mohs numbers are ranks: 7 is harder than 6, and no more is meant. Vickers hardness is a
pressure, and tells by how much: a point marks a surface when it is about a fifth harder
[Tabor1954]_. A softer metal is itself smeared off and leaves a grey streak, which rubs away
and is not a scratch.
"""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from glasskit.quantities import in_range, of_type, one_of, positive, require
from glasskit.tables import read

Verdict = Literal["cuts", "may cut", "leaves metal", "leaves nothing"]

MARGIN = 1.2
"""How many times harder than the surface a point must be to mark it [-]; Tabor (memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scratcher:
    """Something drawn over glass.

    Attributes
    ----------
    name : str
        Everyday name.
    metal : bool
        Whether it is a metal, which can be smeared.
    mohs : float
        Rank on Mohs's scale, 1 to 10 [-].
    hardness_low, hardness_high : float
        Ends of the range of its Vickers hardness [Pa].
    source, status : str
        Where the numbers come from, and whether they were looked up.

    """

    name: str
    metal: bool
    mohs: float
    hardness_low: float
    hardness_high: float
    source: str
    status: str

    def __post_init__(self) -> None:
        low = positive("hardness_low", self.hardness_low, "Pa")
        high = positive("hardness_high", self.hardness_high, "Pa")
        require(high >= low, "hardness_high", high, "be at least hardness_low", "Pa")
        in_range("mohs", self.mohs, 1.0, 10.0)


@cache
def _table() -> dict[str, Scratcher]:
    return {
        row["name"]: Scratcher(
            name=row["name"],
            metal=row["metal"] == "yes",
            mohs=float(row["mohs"]),
            hardness_low=1e9 * float(row["hardness_low_gpa"]),
            hardness_high=1e9 * float(row["hardness_high_gpa"]),
            source=row["source"],
            status=row["status"],
        )
        for row in read("scratchers")
    }


def scratchers() -> tuple[Scratcher, ...]:
    """Return everything in the table, soft to hard.

    Returns
    -------
    tuple of Scratcher
        By the lower end of their hardness.

    """
    return tuple(sorted(_table().values(), key=lambda item: item.hardness_low))


def scratcher(name: str) -> Scratcher:
    """Return one thing by name, such as "key" or "quartz sand".

    Parameters
    ----------
    name : str
        As in the table, such as "key".

    Returns
    -------
    Scratcher
        With the range of its hardness and where that comes from.

    Raises
    ------
    ValueError
        If there is no such thing in the table.

    Examples
    --------
    >>> scratcher("quartz sand").mohs
    7.0

    """
    one_of("name", name, _table())
    return _table()[name]


def verdict(thing: Scratcher, hardness: float) -> Verdict:
    """Return what a thing does when it is drawn over glass of a given hardness.

    Parameters
    ----------
    thing : Scratcher
        What is drawn.
    hardness : float
        Vickers hardness of the glass [Pa].

    Returns
    -------
    {"cuts", "may cut", "leaves metal", "leaves nothing"}
        "cuts" if even the soft end of its range is `MARGIN` times harder than the glass, "may
        cut" if only the hard end reaches the hardness of the glass.

    Raises
    ------
    ValueError
        If `hardness` is not finite and positive.

    Notes
    -----
    Hardness alone. Grit under a soft thing cuts like grit, and toughening hardly changes the
    hardness: toughened glass scratches as easily as plain glass.

    References
    ----------
    [Tabor1954]

    Examples
    --------
    >>> verdict(scratcher("key"), 5.5e9), verdict(scratcher("quartz sand"), 5.5e9)
    ('leaves metal', 'cuts')

    """
    of_type("thing", thing, Scratcher)
    glass = positive("hardness", hardness, "Pa").item()
    if thing.hardness_low >= MARGIN * glass:
        return "cuts"
    if thing.hardness_high >= glass:
        return "may cut"
    return "leaves metal" if thing.metal else "leaves nothing"
