# SPDX-License-Identifier: MIT
"""Say how many crumbs a photograph shows, how sure that is, and what it suggests."""

from glasskit.breakage import SQUARE
from glasskit.measured import Doubt, PieceCount
from glasskit.plates import plate
from glasskit.quantities import System, show, show_number
from glasskit.words.tables import SURE

_MOST = 3  # doubts that are told one by one
_LIMIT = 6450e-6  # area of pane that the ten heaviest may weigh as much as [m^2]

PLANNED = plate("window pane, quenched")["squeeze"]
"""Squeeze that the planner takes for a quenched pane, unless told another [Pa]."""


def count_said(result: PieceCount) -> str:
    """Return the count as a whole number or with its half."""
    return f"{result.count:.1f}".removesuffix(".0")


def count_verdict(result: PieceCount, system: System) -> str:
    """Say in six to ten words how many pieces there are, and what squeeze they suggest."""
    _, middle, _ = _squeezes(result, system)
    return f"{count_said(result)} pieces in the square: a squeeze near {middle}"


def count_sentence(result: PieceCount, system: System) -> str:
    """Say count, interval and the squeeze that they suggest."""
    side = show(SQUARE, "thickness", system, 2)
    low, high = (show_number(end, 2) for end in result.interval)
    counted = (
        f"The square of {side} holds {count_said(result)} pieces: {result.whole_pieces} "
        f"whole, {result.cut_pieces} cut by its border, each a half. "
        f"95% interval: {low} to {high}."
    )
    least, middle, most = _squeezes(result, system)
    suggests = (
        f"So many suggest a squeeze (compressive stress) of about {middle}, from {least} to "
        f"{most}."
    )
    return f"{counted} {suggests} {_planned(result, system)}{_asked(result)}{_bare(result)}"


def _squeezes(result: PieceCount, system: System) -> tuple[str, str, str]:
    """Return least, middle and most squeeze, in whole megapascals."""
    least, middle, most = (
        show(end, "stress", system, 3 if end >= 100e6 else 2) for end in result.squeeze
    )
    return least, middle, most


def _planned(result: PieceCount, system: System) -> str:
    least, _, most = result.squeeze
    planned = show(PLANNED, "stress", system, 2)
    if least > PLANNED:
        return f"That is more than the {planned} of the planner."
    if most < PLANNED:
        return f"That is less than the {planned} of the planner."
    return f"The {planned} of the planner lies within."


def _asked(result: PieceCount) -> str:
    """Say how the count compares with what the rules ask."""
    asked = sorted({row.count for row in result.minimum})
    low, high = result.interval
    if not asked:
        return " No rule known here asks for a count at this thickness."
    if low >= asked[-1]:
        return " Every rule known here asks for fewer pieces."
    if high < asked[0]:
        return " Every rule known here asks for more pieces."
    return " Whether it is as many as the rules ask, this count leaves open."


def _bare(result: PieceCount) -> str:
    if result.bare < 0.02:
        return ""
    share = show(result.bare, "percent", "metric", 1)
    return f" But {share} of the square holds no piece, so the count is too low."


def _doubt_said(doubt: Doubt, system: System) -> str:
    across, down = (show(place, "length", system, 2) for place in (doubt.x, doubt.y))
    kind = "a border drawn, perhaps none" if doubt.drawn else "no border, perhaps one"
    chance = show(doubt.chance, "percent", system, 1)
    return f"at {across} across, {down} down: {kind} ({chance})"


def count_numbers(result: PieceCount, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    low, high = (show_number(end, 3) for end in result.interval)
    doubts = result.pieces.unclear
    rows = [
        ("pieces, as the standards count", count_said(result)),
        ("95% interval, for this square", f"{low} to {high}"),
        ("whole, and cut by the border", f"{result.whole_pieces} and {result.cut_pieces}"),
        ("a usual crack, over the noise", f"{show_number(result.pieces.clearness, 2)} times"),
        ("borders that are in doubt", f"{len(doubts)}"),
    ]
    rows += [("in doubt", _doubt_said(doubt, system)) for doubt in doubts[:_MOST]]
    if result.areas.size:
        rows += _sizes(result, system)
    least, middle, most = _squeezes(result, system)
    rows += [
        ("squeeze that the count suggests", f"{middle} ({least} to {most})"),
        ("squeeze that the planner takes", show(PLANNED, "stress", system, 2)),
    ]
    return rows + [
        (f"{row.rule}: at least ({SURE[row.status]})", f"{row.count}")
        for row in result.minimum
    ]


def _sizes(result: PieceCount, system: System) -> list[tuple[str, str]]:
    widths = result.areas**0.5
    small, mean, large = (
        show(width, "thickness", system, 2)
        for width in (widths.min(), result.areas.mean() ** 0.5, widths.max())
    )
    number = min(result.areas.size, 10)
    limit = _LIMIT * result.thickness * result.glass.density
    return [
        ("pieces wholly in the view", f"{result.areas.size}"),
        ("width of the smallest, mean and largest", f"{small}, {mean}, {large}"),
        ("longest of them", show(result.longest, "length", system, 2)),
        (
            f"the {number} heaviest in the view together",
            show(result.heaviest, "small_mass", system, 2),
        ),
        (
            "a rule on the ten heaviest of the whole pane: at most (from memory)",
            show(limit, "small_mass", system, 2),
        ),
    ]
