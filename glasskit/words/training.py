# SPDX-License-Identifier: MIT
"""Reply to a trainee: how a number stands, what was found so far."""

from glasskit.quantities import show
from glasskit.training import Attempt, Case, Progress
from glasskit.training.cases import KINDS, Verdict, name_of

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
        return f"Yes: {name_of(mistake)}. Now put the number right."
    return f"Not here: {name_of(mistake)}. Read the working once more, number by number."


def progress_sentence(progress: Progress) -> str:
    """Say how far a trainee has come."""
    learned = len(progress.learned)
    if not progress.attempts:
        return f"No case begun yet; {len(KINDS)} kinds of mistake wait."
    if learned == len(KINDS):
        return f"All {learned} kinds of mistake found and put right."
    return f"{learned} of {len(KINDS)} kinds of mistake found and put right."


def record_rows(progress: Progress) -> list[tuple[str, str, str, str]]:
    """Return case, day, help used and state of each attempt, for the record."""
    return [
        (
            f"{name_of(one.mistake)} (set {one.seed})",
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
