# SPDX-License-Identifier: MIT
"""Say what a class found: rows set aside, strengths, their scatter, how sure that is."""

import numpy as np

from glasskit.classroom import LEAST, ClassResult, ClassSheet, Cut, Pair
from glasskit.quantities import System, show, show_number


def row_sentences(sheet: ClassSheet) -> list[tuple[str, str, str]]:
    """List the rows that were set aside: line, the row as typed, one sentence."""
    advice = {
        "doubtful": "Mend it, or write ! after the number if it is right.",
        "unreadable": "Mend it.",
    }
    return [
        (f"line {row.line}", row.text.strip(), f"{_sentence(row.note)} {advice[row.status]}")
        for row in sheet.to_check
    ]


def _sentence(note: str) -> str:
    return note[:1].upper() + note[1:]


def remarks_sentence(count: int) -> str:
    """Say how many lines of a table are taken for remarks, after a blank; nothing for none.

    Examples
    --------
    >>> remarks_sentence(0), remarks_sentence(1)
    ('', ' 1 begins with # and is taken for a remark.')

    """
    if count == 1:
        return " 1 begins with # and is taken for a remark."
    return f" {count} begin with # and are taken for remarks." if count else ""


def set_aside(sheet: ClassSheet) -> str:
    """Say how many rows are used and how many are not."""
    used = len(sheet.with_status("used"))
    odd, bad = (len(sheet.with_status(status)) for status in ("doubtful", "unreadable"))
    remarks = sum(row.text.lstrip().startswith("#") for row in sheet.with_status("blank"))
    taken = remarks_sentence(remarks)
    if not odd + bad and not used:
        return f"There is no row with numbers yet.{taken}"
    if not odd + bad:
        return f"All {used} rows are used.{taken}"
    parts = []
    if bad:
        parts.append(f"{bad} cannot be read")
    if odd:
        parts.append(f"{odd} {'looks like a slip' if odd == 1 else 'look like slips'}")
    return f"{used} of {used + odd + bad} rows are used; {' and '.join(parts)}."


def class_sentence(result: ClassResult, system: System) -> str:
    """Say what the class found, and how sure that is."""
    counted = set_aside(result.sheet)
    if result.fit is None or result.cut is None:
        return f"{counted} A line through the points needs {LEAST} different sticks or more."
    ends = result.strengths[[0, -1]]
    weakest, strongest = (show(end, "stress", system, 2) for end in ends)
    times = show_number(ends[1] / ends[0], 2)
    spread = (
        f"The strongest stick bore {times} times as much as the weakest, "
        f"{strongest} against {weakest}"
    )
    low, high = (show_number(end, 2) for end in result.fit.interval(0.9))
    sure = (
        f"The Weibull modulus is {show_number(result.fit.modulus.item(), 2)}, somewhere "
        f"between {low} and {high} (nine times in ten)"
    )
    said = [f"{counted} {spread}.", f"{sure}.", _more(result), _kinds(result.cut, system)]
    return " ".join([*said, *_groups(result.pair)])


def _groups(pair: Pair | None) -> list[str]:
    """Say how two groups differ, and how sure that is; nothing where there are none."""
    if pair is None:
        return []
    weak, strong = (f"“{name}”" for name in pair.names)
    if np.isnan(pair.ratio):
        few = " and ".join(str(count) for count in pair.counts)
        return [
            f"Sticks marked {weak} and {strong}, {few} of them, are too few to compare: "
            f"{LEAST} of each at least."
        ]
    low, high = (show_number(end, 2) for end in pair.interval)
    said = (
        f"Sticks marked {weak} bore {show_number(pair.ratio, 2)} times as much as those "
        f"marked {strong}, somewhere between {low} and {high} (nine times in ten)."
    )
    doubt = (
        "Chance alone hardly makes that: what else differed between the groups?"
        if pair.shown
        else "That is no more than chance makes; a difference may be there all the same."
    )
    return [said, doubt]


def _more(result: ClassResult) -> str:
    wanted = f"pin it down to a factor of {result.factor:g}"
    if not result.more:
        return f"That is enough to {wanted}."
    return f"About {result.more} more sticks would {wanted}."


def _kinds(cut: Cut, system: System) -> str:
    if not cut.seen:
        return "One kind of stick explains it; that does not prove there is only one."
    below, above = (show(middle, "stress", system, 2) for middle in (cut.below, cut.above))
    return (
        f"The sticks fall into two kinds, one about {below}, the other about {above}: one "
        "line through both means nothing. Look for what differs."
    )


def class_numbers(result: ClassResult, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = [("sticks used", f"{result.strengths.size}")]
    fit, cut = result.fit, result.cut
    if fit is None or cut is None:
        return rows
    low, high = fit.interval(0.9)
    tenth = fit.quantile_interval(0.1, 0.9)
    ends = [show(end, "stress", system) for end in tenth]
    rows += [
        ("mean strength", show(result.strengths.mean(), "stress", system)),
        ("standard deviation", show(result.strengths.std(ddof=1), "stress", system)),
        ("strength that 63% do not reach", show(fit.scale, "stress", system)),
        ("Weibull modulus", f"{show_number(fit.modulus.item())}"),
        ("… nine times in ten between", f"{show_number(low)} and {show_number(high)}"),
        ("one stick in ten breaks below", show(fit.quantile(0.1), "stress", system)),
        ("… nine times in ten between", " and ".join(ends)),
        (f"sticks for the modulus within a factor {result.factor:g}", f"{result.needed}"),
        (
            "chance of a worse fit if the line is right",
            show(fit.goodness(), "percent", digits=2),
        ),
        (
            "chance that one kind of stick looks this split",
            show(cut.significance, "percent", digits=2),
        ),
    ]
    if result.pair and not np.isnan(result.pair.ratio):
        low, high = result.pair.interval
        weak, strong = result.pair.names
        rows += [
            (f"strength, “{weak}” over “{strong}”", show_number(result.pair.ratio)),
            ("… nine times in ten between", f"{show_number(low)} and {show_number(high)}"),
        ]
    return rows


def class_verdict(result: ClassResult, system: System) -> str:
    """Say in six to ten words what the class found."""
    if result.fit is None or result.cut is None:
        return f"Too few sticks: a line needs at least {LEAST}"
    if result.cut.seen:
        return "Two kinds of stick: one line means nothing"
    modulus = show_number(result.fit.modulus.item(), 2)
    return f"Weibull modulus {modulus}: one kind of stick explains it"
