# SPDX-License-Identifier: MIT
"""Say what a hands-on likeness of toughened glass will do, for the sizes at hand."""

from functools import singledispatch

from glasskit.classroom import BallTray, BentStick, BookRow, CurledCard, NotchedStrip
from glasskit.damage import Range
from glasskit.quantities import GRAVITY, System, show

_CUTS = (2e-3, 4e-3, 6e-3)  # [m]
_FRACTIONS = (0.25, 0.5, 1.0)


def span(value: Range, kind: str, system: System) -> str:
    """Write a range to two digits, as one number where both ends read alike."""
    ends = [show(end, kind, system, 2) for end in (value.low, value.high)]
    return ends[0] if ends[0] == ends[1] else " to ".join(ends)


@singledispatch
def handson_numbers(likeness: object, system: System) -> list[tuple[str, str]]:
    """List what to expect of a hands-on likeness, as pairs of label and text.

    Raises
    ------
    TypeError
        If it is no such likeness.

    """
    kind = type(likeness).__name__
    raise TypeError(
        f"likeness must come from glasskit.classroom.likenesses or squeezing; got {kind}"
    )


@handson_numbers.register
def _(row: BookRow, system: System) -> list[tuple[str, str]]:
    firm = 2 * row.slip.high
    return [
        ("the row weighs", show(row.weight, "force", system, 2)),
        ("push on each end so that it does not slip", span(row.slip, "force", system)),
        ("so that no joint opens", show(row.opening, "force", system, 2)),
        ("with less push than this it folds", show(row.folding, "force", system, 2)),
        (
            f"pushed with {show(firm, 'force', system, 2)}, the middle opens under a load of",
            show(row.load_to_open(firm), "force", system, 2),
        ),
        ("what falls: the whole row", show(row.count * row.mass, "mass", system, 2)),
    ]


@handson_numbers.register
def _(strip: NotchedStrip, system: System) -> list[tuple[str, str]]:
    rows = [("without a cut", show(strip.force, "force", system, 2))]
    for cut in _CUTS:
        if cut < strip.width:
            lost = show(strip.lost_width(cut), "force", system, 2)
            law = span(strip.crack_law(cut), "force", system)
            rows.append(
                (
                    f"cut of {show(cut, 'length', system, 2)}",
                    f"{law}; {lost} if only lost width counted",
                )
            )
    hung = show(strip.force / GRAVITY, "mass", system, 2)
    return [*rows, ("what would fall, were it hung: hang nothing", hung)]


@handson_numbers.register
def _(stick: BentStick, system: System) -> list[tuple[str, str]]:
    return [
        ("such sticks bear", span(stick.strength, "stress", system)),
        ("hung from the middle, they break at", span(stick.mass, "small_mass", system)),
        ("what falls when one breaks, up to", show(stick.mass.high, "small_mass", system, 2)),
    ]


@handson_numbers.register
def _(tray: BallTray, system: System) -> list[tuple[str, str]]:
    return [
        (
            f"{fraction:.0%} swapped",
            f"{show(tray.growth(fraction), 'length', system, 2)} longer, if free; "
            f"push {span(tray.push(fraction), 'force', system)}",
        )
        for fraction in _FRACTIONS
    ]


@handson_numbers.register
def _(card: CurledCard, system: System) -> list[tuple[str, str]]:
    both = show(card.squeeze_with_bands_on_both_faces, "stress", system, 2)
    return [
        ("bands on one face: the middle rises", span(card.rise, "length", system)),
        ("bands on both faces: it stays flat, squeezed by", both),
    ]
