# SPDX-License-Identifier: MIT
"""Questions answered by a number with its unit, typed as people type it.

They stand in ``glasskit/data/numberquestions.csv`` with a tolerance each.
"""

import re
from dataclasses import dataclass
from typing import Literal

from glasskit.quantities import UNITS, from_display, one_of, show
from glasskit.tables import read

__all__ = ["NumberQuestion", "Verdict", "number_question", "number_questions", "typed"]

Verdict = Literal["right", "close", "low", "high"]

_ALIKE = (  # kinds of one dimension: an answer in any of their units is understood
    ("nanometre", "atom", "depth", "thickness", "height"),
    ("stress", "stiffness"),
    ("force", "large_force"),
    ("small_mass", "mass"),
    ("millitime", "microtime", "time", "hours", "years"),
    ("percent",),
    ("energy",),
    ("speed",),
    ("number",),
)
_NUMBER = re.compile(r"\s*([-−+]?\d+(?:[.,]\d+)?|[-−+]?[.,]\d+)(?:[eE]([-+]?\d+))?\s*(.*)")


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


def typed(text: str, kind: str) -> float:
    """Return a typed number with its unit in SI.

    Parameters
    ----------
    text : str
        Such as "2,5 mm" or "0.0025 m"; a decimal comma will do.
    kind : str
        Kind of quantity; any unit of its dimension is understood.

    Returns
    -------
    float
        The number [SI].

    Raises
    ------
    ValueError
        If there is no number, no unit where one is wanted, or an unknown unit. The sentence
        says what would be understood.

    Examples
    --------
    >>> typed("2,5 mm", "height"), typed("2 kN", "force")
    (0.0025, 2000.0)

    """
    units = _units(kind)
    parts = _NUMBER.fullmatch(text)
    wanted = f"a number and one of {', '.join(units)}" if any(units) else "a number"
    if parts is None:
        raise ValueError(f"type {wanted}; got {text!r}")
    digits, power, symbol = parts.groups()
    symbol = symbol.strip().replace("μ", "µ")
    symbol = f"µ{symbol[1:]}" if symbol in ("um", "us") else symbol
    if symbol not in units:
        raise ValueError(f"type {wanted}; got {symbol or 'no unit'} after the number")
    number = float(digits.replace(",", ".").replace("−", "-")) * 10.0 ** int(power or 0)
    name, system = units[symbol]
    return float(from_display(number, name, system))


def _units(kind: str) -> dict[str, tuple[str, Literal["metric", "us"]]]:
    kinds = next((family for family in _ALIKE if kind in family), (kind,))
    systems: tuple[Literal["metric", "us"], ...] = ("metric", "us")
    units = {
        UNITS[system][name].symbol: (name, system) for system in systems for name in kinds
    }
    return units


def number_questions() -> tuple[NumberQuestion, ...]:
    """Return the number questions that come with the package."""
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

    Raises
    ------
    ValueError
        If there is none of that name.

    """
    known = {item.key: item for item in number_questions()}
    one_of("question", key, known)
    return known[key]
