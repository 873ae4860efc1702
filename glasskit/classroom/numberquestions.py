# SPDX-License-Identifier: MIT
"""Questions answered by a number with its unit, typed as people type it.

They stand in ``glasskit/data/numberquestions.csv`` with a tolerance each.
"""

from dataclasses import dataclass
from typing import Literal

from glasskit.quantities import one_of, show, typed
from glasskit.tables import read

__all__ = ["NumberQuestion", "Verdict", "number_question", "number_questions"]

Verdict = Literal["right", "close", "low", "high"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberQuestion:
    """A question answered by a number.

    Attributes
    ----------
    key, notebook, topic, text : str
        Its name, page, topic and wording.
    level : int
        1 or 2.
    kind : str
        Kind of quantity, a key of `glasskit.quantities.UNITS`.
    answer : float
        What happens [SI].
    tolerance : float
        Within which share of the answer a guess counts as right [-].
    reply : str
        Why.

    """

    key: str
    notebook: str
    topic: str
    level: int
    text: str
    kind: str
    answer: float
    tolerance: float
    reply: str

    def judge(self, guess: float) -> Verdict:
        """Return how a guess [SI] stands: "close" is within a factor of two."""
        if abs(guess - self.answer) <= self.tolerance * abs(self.answer):
            return "right"
        ratio = guess / self.answer
        if 0.5 <= ratio <= 2:
            return "close"
        return "low" if ratio < 1 else "high"

    def say(self, guess: float) -> str:
        """Return a kind reply to a guess [SI]."""
        words = {
            "right": "Yes, within what we can tell.",
            "close": "Close: the right size.",
            "low": f"It is more: about {_times(self.answer, guess)}.",
            "high": f"It is less: about {_times(guess, self.answer)} too much.",
        }[self.judge(guess)]
        return f"{words} The kit finds {show(self.answer, self.kind, digits=2)}. {self.reply}"


def _times(large: float, small: float) -> str:
    return f"{large / small:.2g} times" if small > 0 else "some"


def number_questions() -> tuple[NumberQuestion, ...]:
    """Return the number questions that come with the package.

    Returns
    -------
    tuple of NumberQuestion
        In the order of the table.

    """
    return tuple(
        NumberQuestion(
            key=row["key"],
            notebook=row["notebook"],
            topic=row["topic"],
            level=int(row["level"]),
            text=row["question"],
            kind=row["kind"],
            answer=typed(row["answer"], row["kind"]),
            tolerance=float(row["tolerance"]),
            reply=row["reply"],
        )
        for row in read("numberquestions")
    )


def number_question(key: str) -> NumberQuestion:
    """Return one number question.

    Parameters
    ----------
    key : str
        As in the table of number questions.

    Returns
    -------
    NumberQuestion
        With its answer [SI] and what counts as near.

    Raises
    ------
    ValueError
        If there is none of that name.

    Examples
    --------
    >>> first = number_questions()[0]
    >>> number_question(first.key) == first
    True

    """
    known = {item.key: item for item in number_questions()}
    one_of("question", key, known)
    return known[key]
