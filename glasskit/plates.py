# SPDX-License-Identifier: MIT
"""Ready-made plates, supports and strikers, each number with its source.

The rows stand in ``data/plates.csv``, ``data/supports.csv`` and ``data/strikers.csv``: pages
and sheets take from here what they start from, so that a usual size is written once.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from glasskit.materials import Glass, glass
from glasskit.quantities import OutsideValidityWarning, non_negative, one_of, show
from glasskit.stress import StressProfile, annealed, exchanged, tempered
from glasskit.tables import Value, read, sourced_value

__all__ = ["Plate", "Support", "plate", "striker", "support"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Plate:
    """A plate as it is to be had.

    Attributes
    ----------
    glass : Glass
        What it is made of.
    values : mapping of str to Value
        Its ``thickness`` [m]; of a toughened plate the ``squeeze`` at its surface [Pa]; of one
        from a salt bath the depth of its ``skin`` [m]; its ``hardness`` [Pa] where that is not
        the glass's own.

    """

    glass: Glass
    values: Mapping[str, Value]

    def __getitem__(self, name: str) -> float:
        """Return one of its numbers [SI].

        Raises
        ------
        ValueError
            If the plate has no such number.

        """
        one_of("property", name, self.values)
        return self.values[name].value

    @property
    def hardness(self) -> float:
        """Vickers hardness of its surface [Pa]."""
        return self["hardness"] if "hardness" in self.values else self.glass.hardness

    @property
    def profile(self) -> StressProfile:
        """Residual stress through its thickness."""
        return self.squeezed(self["squeeze"] if "squeeze" in self.values else 0.0)

    def squeezed(self, squeeze: float, skin: float | None = None) -> StressProfile:
        """Return the profile of such a plate with another squeeze.

        Parameters
        ----------
        squeeze : float
            Compression at the surface, positive; none leaves plain glass [Pa].
        skin : float, optional
            Depth of the compressed skin, of a plate from a salt bath; its own by default [m].

        Returns
        -------
        StressProfile
            Balanced; a parabola but for plates from a salt bath.

        Raises
        ------
        ValueError
            If `squeeze` is negative, or the skin too deep for the plate.

        Warns
        -----
        OutsideValidityWarning
            If `squeeze` is more than a quench leaves; the profile is then imagined.

        """
        if not non_negative("squeeze", squeeze, "Pa"):
            return annealed(self["thickness"])
        if "skin" not in self.values:
            usual = self.values.get("squeeze")
            if usual and squeeze > usual.high:
                most = show(usual.high, "stress", digits=2)
                said = f"a quench in air leaves at most about {most}"
                warnings.warn(said, OutsideValidityWarning, stacklevel=2)
            return tempered(squeeze, self["thickness"])
        return exchanged(squeeze, self["skin"] if skin is None else skin, self["thickness"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """What the edges of a plate lie on.

    Attributes
    ----------
    bedding : float
        Force per sinking and length of edge [N/m^2].
    damping : float
        Damping of every mode over critical [-].

    """

    bedding: float
    damping: float


@cache
def _shelf(table: str, column: str) -> dict[str, dict[str, Value]]:
    """Return the numbers of every thing of a table, by name and property."""
    things: dict[str, dict[str, Value]] = {}
    for row in read(table):
        things.setdefault(row[column], {})[row["property"]] = sourced_value(row)
    return things


@cache
def plate(name: str) -> Plate:
    """Return a ready-made plate.

    Parameters
    ----------
    name : str
        As in ``data/plates.csv``, such as "cover glass, salt bath".

    Returns
    -------
    Plate
        The plate, with the source of every number.

    Raises
    ------
    ValueError
        If there is no such plate.

    Notes
    -----
    Sizes of usual plates, no plate in particular: a maker's own differ by half and more.

    Examples
    --------
    >>> usual = plate("cover glass, salt bath")
    >>> print(f"{usual['squeeze'] / 1e6:.0f} MPa, {usual.values['squeeze'].status}")
    700 MPa, common practice

    """
    plates = _shelf("plates", "plate")
    one_of("plate", name, plates)
    made_of = {row["plate"]: row["glass"] for row in read("plates")}
    return Plate(glass=glass(made_of[name]), values=plates[name])


def support(name: str) -> Support:
    """Return what edges lie on.

    Parameters
    ----------
    name : str
        As in ``data/supports.csv``, such as "hard edge".

    Returns
    -------
    Support
        Stiffness and damping: judgements, good to a factor of three.

    Raises
    ------
    ValueError
        If there is no such support.

    Examples
    --------
    >>> support("frame").damping
    0.03

    """
    supports = _shelf("supports", "support")
    one_of("support", name, supports)
    return Support(**{what: value.value for what, value in supports[name].items()})


def striker(name: str) -> dict[str, float]:
    """Return mass and, where it counts, size of something that falls.

    Parameters
    ----------
    name : str
        As in ``data/strikers.csv``, such as "steel ball".

    Returns
    -------
    dict of str to float
        ``mass`` [kg]; of a device also ``length`` and ``width`` [m].

    Raises
    ------
    ValueError
        If there is no such thing.

    Notes
    -----
    Balls are those of standard tests; a device is a usual one and none in particular.

    Examples
    --------
    >>> striker("steel ball")
    {'mass': 0.227}

    """
    strikers = _shelf("strikers", "striker")
    one_of("striker", name, strikers)
    return {what: value.value for what, value in strikers[name].items()}
