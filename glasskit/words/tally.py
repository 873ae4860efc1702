# SPDX-License-Identifier: MIT
"""Say what a show of hands came to."""

from collections.abc import Sequence

from glasskit.classroom import Tally
from glasskit.quantities import System
from glasskit.tables import read


def letters(count: int) -> list[str]:
    """Return the letters that answers go by, A first."""
    return [chr(ord("A") + place) for place in range(count)]


def tally_sentence(result: Tally, system: System = "metric") -> str:
    """Return what the hands say, before and after, and once told the idea to talk about."""
    total, after = sum(result.before), sum(result.after)
    if not total and not after:
        none = "No hands counted yet: ask, count, talk it over in pairs, count again."
        return " ".join([none, *_told(result)])
    parts = []
    if total:
        parts.append(f"Before, {_favourite(result.before)}{_missing(result.size, total)}.")
    if after:
        left = _missing(result.size, after)
        parts.append(f"After talking it over, {_favourite(result.after)}{left}.")
    if result.size and max(total, after) > result.size:
        parts.append(f"{_hands(max(total, after))} of {result.size}: a slip in counting?")
    elif total and after and total != after:
        parts.append(f"{_hands(total)} before, {after} after: a slip in counting?")
    return " ".join(parts + _told(result))


def _favourite(hands: Sequence[int]) -> str:
    most, total = max(hands), sum(hands)
    names = [name for name, n in zip(letters(len(hands)), hands, strict=True) if n == most]
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]} each"
    got = "has" if len(names) == 1 else "have"
    return f"{listed} {got} {most} of {_hands(total)}"


def _missing(size: int, hands: int) -> str:
    return f"; {size - hands} missing" if size > hands else ""


def _hands(count: int) -> str:
    return "1 hand" if count == 1 else f"{count} hands"


def _told(result: Tally) -> list[str]:
    if not result.revealed:
        return []
    options = result.question.options
    name = letters(len(options))[result.question.correct]
    moved = ""
    if sum(result.before) and sum(result.after):
        was, now = (
            f"{got} of {sum(hands)}"
            for got, hands in zip(result.right, (result.before, result.after), strict=True)
        )
        moved = f", from {was} to {now} hands"
    said = [f"What happens: {name}{moved}. {options[result.question.correct].reply}"]
    hands = result.after if sum(result.after) else result.before
    wrong = [
        (count, option.idea)
        for count, option in zip(hands, options, strict=True)
        if option.idea and count
    ]
    if wrong:
        count, idea = max(wrong)
        text = {row["idea"]: row["text"] for row in read("ideas")}[idea]
        said.append(f"Still to talk about, with {_hands(count)}: the idea that {text}.")
    return said


def tally_numbers(result: Tally, system: System = "metric") -> list[tuple[str, str]]:
    """Return each answer with its hands, before and after."""
    options = result.question.options
    names = letters(len(options))
    rows = zip(names, options, result.before, result.after, strict=True)
    return [
        (f"{name}: {option.text}", f"{was} before, {now} after")
        for name, option, was, now in rows
    ]


def tally_verdict(result: Tally, system: System) -> str:
    """Say in six to ten words how the hands stand."""
    hands = result.after if sum(result.after) else result.before
    total = sum(hands)
    if result.revealed:
        name = letters(len(hands))[result.question.correct]
        return f"What happens is {name}: {hands[result.question.correct]} of {_hands(total)}"
    if not total:
        return "No hands yet: ask, count, talk, count again"
    when = "After talking" if sum(result.after) else "Before talking"
    names = [
        name for name, n in zip(letters(len(hands)), hands, strict=True) if n == max(hands)
    ]
    if len(names) > 1:
        return f"{when}, {len(names)} answers have equally many hands"
    return f"{when}, most hands are for answer {names[0]}"
