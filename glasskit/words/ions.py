# SPDX-License-Identifier: MIT
"""Say how an ion fits into the place of another."""

from collections.abc import Sequence

from glasskit.materials import Radius, Swap, ions
from glasskit.quantities import System, show, to_display
from glasskit.words.tables import SURE, markdown

NAMES = {
    "Li+": "lithium",
    "Na+": "sodium",
    "K+": "potassium",
    "Rb+": "rubidium",
    "Cs+": "caesium",
    "Ag+": "silver",
    "Ca2+": "calcium",
    "Mg2+": "magnesium",
    "Al3+": "aluminium",
    "Si4+": "silicon",
    "O2-": "oxygen",
}
_FITS = 5e-3  # misfit that is none [-]
_RAISED = str.maketrans("+-0123456789", "⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_COUNTS = [
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
]


def symbol(ion: str) -> str:
    """Write an ion with its charge raised.

    Examples
    --------
    >>> symbol("Ca2+")
    'Ca²⁺'

    """
    element = ion.rstrip("+-0123456789")
    return element + ion[len(element) :].translate(_RAISED)


def size(radius: Radius) -> str:
    """Write a radius in picometres as it is published.

    Examples
    --------
    >>> size(ions.swap("Li", "Al").outgoing), size(ions.swap("Li", "Al").incoming)
    ('76 pm', '53.5 pm')

    """
    picometres = round(to_display(radius.value.value, "atom").item(), 1)
    return f"{picometres:g} pm"


def verdict(swap: Swap) -> str:
    """Say in a few words how the newcomer fits.

    Examples
    --------
    >>> verdict(ions.swap("Na", "K")), verdict(ions.swap("Na", "Li"))
    ('35% too wide', '25% too narrow')

    """
    if fits(swap):
        return "a good fit"
    word = "wide" if swap.misfit > 0 else "narrow"
    return f"{show(abs(swap.misfit), 'percent', digits=2)} too {word}"


def fits(swap: Swap) -> bool:
    """Tell whether the newcomer is as wide as its place, to half a percent."""
    return abs(swap.misfit) < _FITS


def longer(swap: Swap) -> str:
    """Say how a row of newcomers compares with as many of the ions they replace.

    Examples
    --------
    >>> longer(ions.swap("Na", "K")), longer(ions.swap("Na", "Li"))
    ('35% longer', '25% shorter')

    """
    if fits(swap):
        return "just as long"
    percent = show(abs(swap.misfit), "percent", digits=2)
    return f"{percent} {'longer' if swap.misfit > 0 else 'shorter'}"


def network_gives_way(swap: Swap) -> str:
    """Say that glass does not grow as a row of its ions would; nothing where all fits.

    Examples
    --------
    >>> network_gives_way(ions.swap("Na", "K"))
    'The glass itself grows far less: its network gives way.'

    """
    if fits(swap):
        return ""
    change = "grows" if swap.misfit > 0 else "shrinks"
    return f"The glass itself {change} far less: its network gives way."


def sentence(swap: Swap, system: System = "metric") -> str:
    """Say what the swap does to the neighbours.

    Examples
    --------
    >>> print(sentence(ions.swap("Na", "K")))
    With six neighbours, potassium (138 pm) is 35% too wide for the place that sodium (102 pm)
    leaves. It takes up 2.5 times the volume: it presses on its neighbours.

    """
    old, new = swap.outgoing, swap.incoming
    place = f"the place that {_sized(old)} leaves"
    start = f"With {_neighbours(new.coordination)}, {_sized(new)} is "
    if fits(swap):
        return f"{start}as wide as {place}: its neighbours feel no change."
    volume = show(swap.volume_ratio, "number", digits=2)
    then = (
        "it presses on its neighbours" if swap.misfit > 0 else "its neighbours close in on it"
    )
    return (
        f"{start}{verdict(swap)} for {place}. It takes up {volume} times the volume: {then}."
    )


def _neighbours(number: float) -> str:
    if number == int(number):
        return f"{_COUNTS[int(number)]} neighbours"
    return f"{number:.1f} neighbours on average"


def _sized(radius: Radius) -> str:
    return f"{NAMES[radius.ion]} ({size(radius)})"


def numbers(swap: Swap, system: System = "metric") -> list[tuple[str, str]]:
    """Return radii with how sure they are, then ratios, label and text."""
    span, metres = ("1 inch", 0.0254) if system == "us" else ("1 mm", 1e-3)
    count = metres / (2 * swap.incoming.value.value) / 1e6
    radii = [
        (
            f"radius of {NAMES[row.ion]}, {symbol(row.ion)}",
            f"{size(row)} ({row.value.note or SURE[row.value.status]})",
        )
        for row in (swap.outgoing, swap.incoming)
    ]
    return [
        *radii,
        ("newcomer over place, width", show(swap.size_ratio, "number", digits=3)),
        ("newcomer over place, volume", show(swap.volume_ratio, "number", digits=3)),
        (f"newcomers side by side in {span}", f"{count:.3g} million"),
        ("misfit", show(swap.misfit, "percent", digits=3)),
    ]


def radius_table(names: Sequence[str] = ("Li+", "Na+", "K+", "Rb+", "Cs+", "Ag+")) -> str:
    """Write the radii of some ions with six neighbours, in all three sets.

    Parameters
    ----------
    names : sequence of str
        Ions, with or without charge.

    Returns
    -------
    str
        Markdown table, radii in picometres.

    Raises
    ------
    ValueError
        If an ion is unknown or has no six-fold radius.

    """
    rows = [
        [
            f"{NAMES[six[0].ion]} {symbol(six[0].ion)}",
            *(size(row).removesuffix(" pm") for row in six),
            _how_sure(six),
        ]
        for six in (
            [ions.swap(name, name, 6, scale).outgoing for scale in ions.SCALES]
            for name in names
        )
    ]
    head = ["ion", *(f"{scale} / pm" for scale in ions.SCALES), "how sure"]
    return markdown(head, rows)


def _how_sure(radii: Sequence[Radius]) -> str:
    scales: dict[str, list[str]] = {}
    for row in radii:
        scales.setdefault(SURE[row.value.status], []).append(row.scale)
    if len(scales) == 1:
        return next(iter(scales))
    return "; ".join(f"{', '.join(names)}: {sure}" for sure, names in scales.items())


def swap_verdict(swap: Swap, system: System) -> str:
    """Say in six to ten words how the newcomer fits."""
    old, new = NAMES[swap.outgoing.ion], NAMES[swap.incoming.ion]
    return f"{new.capitalize()} is {verdict(swap)} for the place of {old}"
