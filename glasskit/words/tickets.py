# SPDX-License-Identifier: MIT
"""Say what a class's exit tickets tell, and what to teach again."""

from glasskit.classroom import TicketResult

_FEW = 8  # answers: fewer of them tell little of a class
_WELL = 0.8  # right: nothing to repeat


def tickets_sentence(result: TicketResult) -> str:
    """Return which idea to teach again, and how sure that is."""
    given = sum(one.given for one in result.asked)
    if not given:
        return "No answers yet."
    right = sum(one.right for one in result.asked)
    said = [f"{right} of {given} answers are right."]
    if result.ideas:
        idea, count = result.ideas[0]
        held = "once" if count == 1 else f"{count} times"
        said.append(f"Teach again: the idea that {idea} was chosen {held}.")
    worst = result.asked[0]
    if worst.right < _WELL * worst.given:
        text = worst.question.text.rstrip(" …")
        said.append(f"Least was right on “{text}”: {worst.right} of {worst.given}.")
    else:
        said.append("Every question went well: nothing to repeat.")
    if result.missing:
        said.append(f"{result.missing} without an answer.")
    if min(one.given for one in result.asked) < _FEW:
        said.append("Some questions have few answers, which tell little.")
    return " ".join(said)


def tickets_numbers(result: TicketResult) -> list[tuple[str, str]]:
    """Return each question with its share of right answers, then each wrong idea."""
    rows = [(one.question.text, f"{one.right} of {one.given} right") for one in result.asked]
    return rows + [(f"the idea that {idea}", f"{count}") for idea, count in result.ideas]
