# SPDX-License-Identifier: MIT
"""Reply to a trainee: how a number stands, what was found so far."""

from glasskit.quantities import show
from glasskit.training import Attempt, Case, Progress
from glasskit.training.cases import HOLDS, KINDS, LEVELS, Verdict, name_of

_REPLIES: dict[Verdict, str] = {
    "near": "Near, but off by more than rounding does. Carry more digits to the end.",
    "planted": "Your number still contains the mistake.",
    "power of ten": "The digits are right, the decimal point is not: look at the units.",
    "low": "Too low.",
    "high": "Too high.",
}


def number_reply(case: Case, answer: float) -> str:
    """Say how an answer [SI] stands."""
    verdict = case.mark(answer)
    if verdict == "right":
        return f"Right: {show(case.truth, case.quantity)}. {case.lesson}"
    return _REPLIES[verdict]


def choice_reply(case: Case, mistake: str) -> str:
    """Say whether the mistake named is the planted one."""
    if mistake == case.mistake:
        then = "write down the number" if mistake in HOLDS else "put the number right"
        return f"Yes: {name_of(mistake)}. Now {then}."
    return f"Not here: {name_of(mistake)}. Read the working once more, number by number."


def progress_sentence(progress: Progress) -> str:
    """Say how far a trainee has come."""
    learned = len(progress.learned)
    if not progress.attempts:
        return f"No case begun yet; {len(KINDS)} kinds of case wait."
    if learned == len(KINDS):
        return f"All {learned} kinds of case named and put right."
    said = f"{learned} of {len(KINDS)} kinds of case named and put right."
    unnamed = sum(one.solved and not one.named for one in progress.attempts)
    return f"{said} The mistake is still to be named in {unnamed}." if unnamed else said


def record_rows(progress: Progress) -> list[tuple[str, str, str, str]]:
    """Return case, day, help used and state of each attempt, for the record."""
    return [
        (
            f"{name_of(one.mistake)} (set {one.seed}, {LEVELS[one.level]})",
            one.day.isoformat(),
            _help_used(one),
            "found and put right" if one.done else _open(one),
        )
        for one in progress.attempts
    ]


def _help_used(one: Attempt) -> str:
    return f"{one.guesses} named, {one.tries} numbers, {one.hints} hints"


def _open(one: Attempt) -> str:
    if one.named:
        return "found, number open"
    return "number right, mistake not named" if one.solved else "open"
