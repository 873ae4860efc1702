# SPDX-License-Identifier: MIT
"""How large ions are, and how badly one fits into the place of another.

Chemical strengthening swaps small ions of the glass for larger ones of the salt. A radius is
not a hard edge: it depends on the number of neighbours (the coordination) and on the scale.
`effective` is Shannon's usual set [Shannon1976]_, with 140 pm for six-fold oxygen; `crystal`
is his second set, in which cations are 14 pm larger and anions 14 pm smaller, nearer to the
outline of the electron cloud; `pauling` is the older set [Pauling1960]_, six-fold only.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from glasskit.quantities import finite, one_of, require, whole
from glasskit.tables import Value, read, sourced_value

SCALES = ("effective", "crystal", "pauling")
_BETWEEN = "between two published radii"
_CRYSTAL_SHIFT = 14e-12  # [m], [Shannon1976]: cations gain what anions lose


@dataclass(frozen=True, slots=True, kw_only=True)
class Radius:
    """One published ionic radius.

    Attributes
    ----------
    ion : str
        Symbol and charge, such as "Na+".
    coordination : float
        Number of nearest neighbours, a mean if it is not whole [-].
    scale : str
        One of `SCALES`.
    value : Value
        The radius [m] and its source.

    """

    ion: str
    coordination: float
    scale: str
    value: Value


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """One ion in the place of another; see `swap`.

    Attributes
    ----------
    outgoing, incoming : Radius
        The ion that leaves the glass, and the one that takes its place.

    """

    outgoing: Radius
    incoming: Radius

    @property
    def size_ratio(self) -> float:
        """Radius of the incoming ion over that of the outgoing one [-]."""
        return self.incoming.value.value / self.outgoing.value.value

    @property
    def volume_ratio(self) -> float:
        """Volume of the incoming ion, as a ball, over that of the outgoing one [-]."""
        return self.size_ratio**3

    @property
    def misfit(self) -> float:
        """Radius difference over the outgoing radius, positive if too large [-]."""
        return self.size_ratio - 1


def _crystal(radius: Radius) -> Radius:
    shift = -_CRYSTAL_SHIFT if radius.ion.endswith("-") else _CRYSTAL_SHIFT
    metres = radius.value.value + shift
    value = replace(radius.value, value=metres, low=metres, high=metres)
    return replace(radius, scale="crystal", value=value)


def _radii() -> Iterator[Radius]:
    for row in read("ions"):
        radius = Radius(
            ion=row["ion"],
            coordination=int(row["coordination"]),
            scale=row["scale"],
            value=sourced_value(row),
        )
        yield radius
        if radius.scale == "effective":
            yield _crystal(radius)


@cache
def table() -> tuple[Radius, ...]:
    """Return every radius of every scale with its source and status.

    Returns
    -------
    tuple of Radius
        In the order of the file, each effective radius followed by its crystal radius.

    """
    return tuple(_radii())


@cache
def names() -> tuple[str, ...]:
    """Return the ions in the table, with their charges.

    Examples
    --------
    >>> names()
    ('Li+', 'Na+', 'K+', 'Rb+', 'Cs+', 'Ag+', 'Ca2+', 'Mg2+', 'Al3+', 'Si4+', 'O2-')

    """
    return tuple(dict.fromkeys(radius.ion for radius in table()))


def _ion(name: str, ion: str) -> str:
    by_element = {known.rstrip("+-0123456789"): known for known in names()}
    full = by_element.get(ion, ion)
    one_of(name, full, names())
    return full


def coordinations(ion: str, scale: str = "effective") -> tuple[int, ...]:
    """Return the coordinations for which an ion has a radius.

    Parameters
    ----------
    ion : str
        Symbol with or without charge, "Na" or "Na+".
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    tuple of int
        Numbers of nearest neighbours, ascending [-].

    Raises
    ------
    ValueError
        If `ion` or `scale` is unknown.

    Examples
    --------
    >>> coordinations("Si")
    (4, 6)

    """
    return tuple(int(row.coordination) for row in _known(_ion("ion", ion), scale))


def _known(ion: str, scale: str) -> list[Radius]:
    """Return the radii of an ion on one scale, by growing coordination."""
    one_of("scale", scale, SCALES)
    rows = (row for row in table() if (row.ion, row.scale) == (ion, scale))
    return sorted(rows, key=lambda row: row.coordination)


def _between(name: str, ion: str, coordination: float, scale: str) -> Radius:
    """Return a radius of the table, or one on the straight line between two of them."""
    full = _ion(name, ion)
    known = _known(full, scale)
    numbers = [row.coordination for row in known]
    low, high = numbers[0], numbers[-1]
    rule = f"lie in {low} <= coordination <= {high}" if low < high else f"be {low}"
    ok = low <= coordination <= high
    require(ok, f"coordination of {full} ({scale} radii)", coordination, rule)
    if coordination in numbers:
        return known[numbers.index(coordination)]
    after = next(place for place, number in enumerate(numbers) if number > coordination)
    pair = known[after - 1 : after + 1]
    radii = [row.value.value for row in pair]
    metres = float(np.interp(coordination, numbers[after - 1 : after + 1], radii))
    value = replace(pair[0].value, value=metres, low=radii[0], high=radii[1], note=_BETWEEN)
    return replace(pair[0], coordination=coordination, value=value)


def ionic_radius(ion: str, coordination: int = 6, scale: str = "effective") -> float:
    """Return the published radius of an ion.

    Parameters
    ----------
    ion : str
        Symbol with or without charge, "Na" or "Na+".
    coordination : int
        Number of nearest neighbours; six is the common ground of both authors [-].
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    float
        Radius [m].

    Raises
    ------
    ValueError
        If `ion` or `scale` is unknown, or the ion has no radius at this coordination.

    Notes
    -----
    Values are means over many crystals, good to a few picometres. In glass sodium and
    potassium have six to nine neighbours at scattered distances.

    References
    ----------
    .. [Shannon1976] R. D. Shannon, Acta Cryst. A32 (1976) 751, table 1.
    .. [Pauling1960] L. Pauling, The Nature of the Chemical Bond, 3rd ed., 1960, ch. 13.

    Examples
    --------
    Sodium and potassium, in picometres:

    >>> ionic_radius("Na") * 1e12, ionic_radius("K") * 1e12
    (102.0, 138.0)

    """
    full, neighbours = _ion("ion", ion), whole("coordination", coordination, 1, 14)
    allowed = coordinations(full, scale)
    one_of(f"coordination of {full} ({scale} radii)", neighbours, allowed)
    return _between("ion", full, neighbours, scale).value.value


def swap(
    outgoing: str, incoming: str, coordination: float = 6, scale: str = "effective"
) -> Swap:
    """Return what it means for one ion to take the place of another.

    Parameters
    ----------
    outgoing : str
        Ion that leaves the glass, symbol with or without charge.
    incoming : str
        Ion that takes its place.
    coordination : float
        Number of nearest neighbours of both; a mean, as in glass, may lie between those with
        a published radius [-].
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    Swap
        Both radii with their sources, and how they compare.

    Raises
    ------
    ValueError
        If an ion or `scale` is unknown, or `coordination` lies outside those
        with a published radius.

    Notes
    -----
    Between published radii the line is straight. Leaving any of them out and drawing the line
    across misses it by 5 pm at most for the alkali ions and silver.

    The misfit is not the strain of the glass. Only part of the sites are swapped and the
    network gives way: the strain measured in strengthened glass is many times smaller.

    Examples
    --------
    Potassium in the place of sodium is a third wider and has two and a half times the volume:

    >>> found = swap("Na", "K")
    >>> found.size_ratio, found.volume_ratio
    (1.353, 2.48)

    """
    neighbours = finite("coordination", coordination).item()
    return Swap(
        outgoing=_between("outgoing", outgoing, neighbours, scale),
        incoming=_between("incoming", incoming, neighbours, scale),
    )


def misfit(outgoing: str, incoming: str) -> float:
    """Return by what fraction the incoming ion is larger than the place it is pressed into.

    Parameters
    ----------
    outgoing : str
        Ion that leaves the glass.
    incoming : str
        Ion that takes its place.

    Returns
    -------
    float
        Radius difference over the outgoing radius, positive if the incoming ion is
        larger [-].

    Raises
    ------
    ValueError
        As `swap`.

    Notes
    -----
    Ions as hard balls whose size goes with the number of neighbours: good for which way, not
    for how much.

    Examples
    --------
    Potassium for sodium presses outwards, silver for sodium hardly, lithium pulls inwards:

    >>> misfit("Na", "K"), misfit("Na", "Ag"), misfit("Na", "Li")
    (0.353, 0.127, -0.255)

    """
    return swap(outgoing, incoming).misfit
