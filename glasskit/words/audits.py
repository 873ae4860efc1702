# SPDX-License-Identifier: MIT
"""Say how an audit of a file or a report stands, line by line."""

from glasskit.training import Audit, Marked

TITLES = {
    "file": "Which lines may not enter the fit as they stand?",
    "report": "Which lines would you not sign?",
}
"""What is asked, by kind of audit."""


def audit_sentence(told: Audit, marked: Marked) -> str:
    """Say how many faults were found, missed, and seen where there are none."""
    if marked.right:
        return (
            f"All {len(told.faults)} found, and nothing sound was blamed."
            if told.faults
            else "Right: nothing here is wrong, and you blamed nothing."
        )
    said = f"{len(marked.found)} of {len(told.faults)} found"
    return f"{said}, {len(marked.missed)} missed, {len(marked.blamed)} sound lines blamed."


def audit_rows(told: Audit, marked: Marked) -> list[tuple[int, str]]:
    """Return place from 0 and what is to be said of each line that is faulty or was blamed."""
    said = {place: f"found: {told.faults[place]}" for place in marked.found}
    said |= {place: f"missed: {told.faults[place]}" for place in marked.missed}
    said |= dict.fromkeys(marked.blamed, "this line is sound")
    return sorted(said.items())
