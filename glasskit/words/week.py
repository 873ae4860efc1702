# SPDX-License-Identifier: MIT
"""Say how far somebody has come in the first week."""

from glasskit.training import Week, tasks

DAYS = {
    "0": "Before the first day",
    "1": "Day 1",
    "2": "Day 2",
    "3": "Day 3",
    "4": "Day 4",
    "5": "Day 5",
    "any": "Any day",
}
"""What stands over the tasks of a day."""


def week_sentence(week: Week) -> str:
    """Say how many tasks have evidence, on how many days, and what that is no proof of."""
    every = len(tasks())
    if not week.entries:
        return f"No task has evidence yet; {every} wait."
    said = f"{len(week.done)} of {every} tasks have evidence, filed on {week.days} "
    said += "day." if week.days == 1 else "days."
    if week.days == 1 and len(week.done) > 6:
        said += " So much on one day: whoever signs will ask."
    unseen = sum(not entry.seen_by for entry in week.entries)
    return f"{said} Seen by nobody: {unseen}." if unseen else said


def week_rows(week: Week) -> list[tuple[str, str, str, str, str]]:
    """Return day of the week, task, what shows it, dates with evidence, and who saw it."""
    rows = []
    for key, task in tasks().items():
        mine = [entry for entry in week.entries if entry.task == key]
        told = "; ".join(f"{entry.day.isoformat()}: {entry.evidence}" for entry in mine)
        seen = ", ".join(dict.fromkeys(entry.seen_by for entry in mine if entry.seen_by))
        rows.append((DAYS[task.day], task.words, task.evidence, told, seen))
    return rows
