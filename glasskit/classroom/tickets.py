# SPDX-License-Identifier: MIT
"""Exit tickets that came back: letters in, which idea to teach again out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from glasskit.classroom.lessons import Lesson
from glasskit.classroom.questions import Question
from glasskit.quantities import of_type, require, whole
from glasskit.tables import read

_NONE = "-"


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketAnswers:
    """How one question went.

    Attributes
    ----------
    question : Question
        As it stands in the bank.
    right, given : int
        How many answered it rightly, and at all [-].

    """

    question: Question
    right: int
    given: int

    def __post_init__(self) -> None:
        whole("given", self.given, 1)
        whole("right", self.right, 0, self.given)


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketResult:
    """What the tickets of a class tell.

    Attributes
    ----------
    asked : tuple of TicketAnswers
        Every question that was answered, the one that went worst first.
    ideas : tuple of (str, int)
        Sentence of each wrong idea that was chosen, and by how many; most first.
    missing : int
        Answers not given [-].

    """

    asked: tuple[TicketAnswers, ...]
    ideas: tuple[tuple[str, int], ...]
    missing: int


def read_tickets(lesson: Lesson, first: str, second: str) -> TicketResult:
    """Return what the letters of a class's exit tickets tell.

    Parameters
    ----------
    lesson : Lesson
        The lesson, with the seed, that the tickets were printed for.
    first, second : str
        Letters chosen for the first and the second question, in the order of the tickets'
        numbers, such as "ABBAC"; ``-`` for no answer. Spaces and commas do not count.

    Returns
    -------
    TicketResult
        Questions and ideas, what needs teaching again first.

    Raises
    ------
    TypeError
        If `lesson` is none.
    ValueError
        If there are not as many letters as tickets, or a letter is none of the answers.

    Examples
    --------
    >>> lesson = Lesson(pupils=2, seed=1)
    >>> read_tickets(lesson, "A-", "BC").missing
    1

    """
    of_type("lesson", lesson, Lesson)
    right: Counter[str] = Counter()
    given: Counter[str] = Counter()
    ideas: Counter[str] = Counter()
    missing = 0
    for place, (name, text) in enumerate((("first", first), ("second", second))):
        for ticket, letter in zip(
            lesson.tickets, _letters(lesson, name, text, place), strict=True
        ):
            if letter == _NONE:
                missing += 1
                continue
            asked = ticket[place]
            chosen = asked.options[ord(letter) - ord("A")]
            given[asked.key] += 1
            right[asked.key] += chosen.correct
            if chosen.idea:
                ideas[chosen.idea] += 1
    said = {row["idea"]: row["text"] for row in read("ideas")}
    known = {asked.key: asked for ticket in lesson.tickets for asked in ticket}
    asked_ = [
        TicketAnswers(question=known[key], right=right[key], given=given[key]) for key in given
    ]
    asked_.sort(key=lambda one: one.right / one.given)
    return TicketResult(
        asked=tuple(asked_),
        ideas=tuple((said[idea], count) for idea, count in ideas.most_common()),
        missing=missing,
    )


def _letters(lesson: Lesson, name: str, text: str, place: int) -> Sequence[str]:
    letters = [one for one in text.upper() if one not in " ,;\t\n"]
    wanted = len(lesson.tickets)
    require(len(letters) == wanted, name, len(letters), f"hold {wanted} letters, one a ticket")
    for number, (ticket, letter) in enumerate(zip(lesson.tickets, letters, strict=True), 1):
        last = chr(ord("A") + len(ticket[place].options) - 1)
        if letter != _NONE and not "A" <= letter <= last:
            raise ValueError(
                f"{name} must hold letters from A to {last}, or - for no answer; "
                f"got {letter!r} for ticket {number}"
            )
    return letters
