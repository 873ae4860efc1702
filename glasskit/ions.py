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

from glasskit.quantities import one_of
from glasskit.tables import Value, read, sourced_value

__all__ = [
    "SCALES",
    "Radius",
    "coordinations",
    "ionic_radius",
    "misfit",
    "names",
    "size_ratio",
    "table",
    "volume_ratio",
]

SCALES = ("effective", "crystal", "pauling")
_CRYSTAL_SHIFT = 14e-12  # [m], [Shannon1976]: cations gain what anions lose


@dataclass(frozen=True, slots=True, kw_only=True)
class Radius:
    """One published ionic radius.

    Attributes
    ----------
    ion : str
        Symbol and charge, such as "Na+".
    coordination : int
        Number of nearest neighbours [-].
    scale : str
        One of `SCALES`.
    value : Value
        The radius [m] and its source.

    """

    ion: str
    coordination: int
    scale: str
    value: Value


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
    full = _ion("ion", ion)
    one_of("scale", scale, SCALES)
    return tuple(
        sorted(row.coordination for row in table() if (row.ion, row.scale) == (full, scale))
    )


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
    full = _ion("ion", ion)
    allowed = coordinations(full, scale)
    one_of(f"coordination of {full} ({scale} radii)", coordination, allowed)
    return next(
        row.value.value
        for row in table()
        if (row.ion, row.coordination, row.scale) == (full, coordination, scale)
    )


def size_ratio(
    outgoing: str, incoming: str, coordination: int = 6, scale: str = "effective"
) -> float:
    """Return the radius of the incoming ion over that of the outgoing one.

    Parameters
    ----------
    outgoing : str
        Ion that leaves the glass.
    incoming : str
        Ion that takes its place.
    coordination : int
        Number of nearest neighbours of both [-].
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    float
        Ratio of radii [-].

    Raises
    ------
    ValueError
        As `ionic_radius`, naming the ion.

    Examples
    --------
    Potassium in the place of sodium:

    >>> size_ratio("Na", "K")
    1.353

    """
    large = ionic_radius(_ion("incoming", incoming), coordination, scale)
    return large / ionic_radius(_ion("outgoing", outgoing), coordination, scale)


def volume_ratio(
    outgoing: str, incoming: str, coordination: int = 6, scale: str = "effective"
) -> float:
    """Return the volume of the incoming ion, as a ball, over that of the outgoing one.

    Parameters, errors and meaning as in `size_ratio`.

    Parameters
    ----------
    outgoing : str
        Ion that leaves the glass.
    incoming : str
        Ion that takes its place.
    coordination : int
        Number of nearest neighbours of both [-].
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    float
        Ratio of volumes [-].

    Raises
    ------
    ValueError
        As `ionic_radius`, naming the ion.

    Examples
    --------
    >>> volume_ratio("Na", "K")
    2.48

    """
    return size_ratio(outgoing, incoming, coordination, scale) ** 3


def misfit(
    outgoing: str, incoming: str, coordination: int = 6, scale: str = "effective"
) -> float:
    """Return by what fraction the incoming ion is larger than the place it is pressed into.

    Parameters
    ----------
    outgoing : str
        Ion that leaves the glass.
    incoming : str
        Ion that takes its place.
    coordination : int
        Number of nearest neighbours of both [-].
    scale : {"effective", "crystal", "pauling"}
        Set of radii.

    Returns
    -------
    float
        Radius difference over the outgoing radius, positive if the incoming ion is
        larger [-].

    Raises
    ------
    ValueError
        As `ionic_radius`, naming the ion.

    Notes
    -----
    This is not the strain of the glass. Only part of the sites are swapped and the network
    gives way: the strain measured in strengthened glass is many times smaller.

    Examples
    --------
    Potassium for sodium presses outwards, silver for sodium hardly, lithium pulls inwards:

    >>> misfit("Na", "K"), misfit("Na", "Ag"), misfit("Na", "Li")
    (0.353, 0.127, -0.255)

    """
    return size_ratio(outgoing, incoming, coordination, scale) - 1
