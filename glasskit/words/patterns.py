# SPDX-License-Identifier: MIT
"""Say what a broken pane asks, and how a mark on it stands."""

from glasskit.quantities import System, show
from glasskit.training.patterns import LEVELS, Mark
from glasskit.words.breaking import counted, in_microseconds
from glasskit.words.demonstration import percent

_ASKED = {
    LEVELS[0]: "Few cracks: follow them back to where they meet.",
    LEVELS[1]: "Crumbs: forks open away from where it began, and long crumbs point back.",
    LEVELS[2]: "Pieces are missing at five places. At one of them it began: look to which of "
    "them long crumbs point.",
}


def mark_verdict(mark: Mark) -> str:
    """Say in six to ten words what is to be done, or where it began."""
    return "Here it began, and from here cracks ran" if mark.told else "Mark where it began"


def mark_sentence(mark: Mark, system: System = "metric") -> str:
    """Say what the pane shows and where the mark lies; of the answer only once it is told."""
    along, across = (show(side, "length", system, 2) for side in (mark.along, mark.across))
    said = f"{_ASKED[mark.pattern.level]} Your mark: {along} from the left, {across} up."
    return f"{said} {mark_reply(mark, system)}" if mark.told else said


def mark_numbers(mark: Mark, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of what can be counted on the pane."""
    pane = mark.pattern.pane
    rows = [
        ("pieces", counted(len(pane.pieces))),
        ("longest piece", show(pane.spans.max(), "length", system, 2)),
    ]
    if mark.told:
        count, share = mark.pattern.forks
        rows.append(("branches", counted(count)))
        rows.append(("of them set out away from the origin", percent(share)))
        rows.append(
            ("the last crack came to rest after", in_microseconds(pane.over - pane.begins))
        )
    return rows


def mark_reply(mark: Mark, system: System = "metric") -> str:
    """Say how a mark stands, and why."""
    away = show(mark.away, "length", system, 2)
    count, share = mark.pattern.forks
    if mark.pattern.level == LEVELS[0]:
        why = "Cracks meet where they began, and end where they met others."
    else:
        why = f"Of {count} branches {percent(share)} set out away from it."
    if mark.right:
        return f"Right, {away} off. {why}"
    return f"Not yet: {away} off. {why}"
