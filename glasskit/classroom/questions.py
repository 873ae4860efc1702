# SPDX-License-Identifier: MIT
"""Questions to ask a class: one idea each, wrong answers that name the idea behind them.

They stand in two plain tables, ``glasskit/data/questionbank.csv`` (a row for each answer) and
``ideas.csv`` (the wrong ideas in one sentence each), that a teacher can edit with a
spreadsheet or a text editor. What is wrong with an edited table is said line by line, and
every line is either asked or reported. Questions answered by a number with its unit, typed as
people type it, stand in ``numberquestions.csv`` with a tolerance each.
"""

import csv
import io
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from itertools import groupby
from typing import Literal

import numpy as np

from glasskit.quantities import one_of, require, show, typed, whole
from glasskit.rows import Trouble, load
from glasskit.tables import read

LEVELS = (1, 2)
"""1 asks for an idea, 2 for a number or for two ideas at once."""

_COLUMNS = (
    "key",
    "notebook",
    "topic",
    "level",
    "question",
    "option",
    "idea",
    "reply",
    "correct",
)
_MOST_OPTIONS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One answer to choose.

    Attributes
    ----------
    text : str
        The answer.
    reply : str
        What to say to whoever chose it; names the idea behind it where there is one.
    idea : str
        Key of that idea in ``ideas.csv``, or empty.
    correct : bool
        Whether it is what happens.

    """

    text: str
    reply: str
    idea: str = ""
    correct: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question about one idea.

    Attributes
    ----------
    key : str
        Its name in the table.
    notebook : str
        The page it belongs to.
    topic : str
        What it is about, in a word.
    level : int
        One of `LEVELS`.
    text : str
        The question.
    options : tuple of Option
        Exactly one of them correct.

    """

    key: str
    notebook: str
    topic: str
    level: int
    text: str
    options: tuple[Option, ...]

    @property
    def correct(self) -> int:
        """Which option is what happens, counted from 0."""
        return [option.correct for option in self.options].index(True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """What a table holds: questions that can be asked, and lines that cannot.

    Attributes
    ----------
    questions : tuple of Question
        In the order of the table.
    troubles : tuple of Trouble
        In the order of the table; empty for a sound one.

    """

    questions: tuple[Question, ...]
    troubles: tuple[Trouble, ...] = ()

    def select(self, notebook: str = "", topic: str = "", level: int = 0) -> "Bank":
        """Return the questions of one page, topic or level; all where it is left empty."""
        kept = [
            item
            for item in self.questions
            if notebook in ("", item.notebook)
            and topic in ("", item.topic)
            and level in (0, item.level)
        ]
        return replace(self, questions=tuple(kept))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """A show of hands, before and after talking it over.

    Attributes
    ----------
    question : Question
        What was asked.
    before, after : tuple of int
        Hands for each option.
    revealed : bool
        Whether the room has been told what happens.
    size : int
        Pupils in the room; 0 if nobody has said.

    Examples
    --------
    >>> hands = Tally(question=question("nick"), before=(3, 14, 8, 3), after=(1, 5, 21, 1))
    >>> hands.right
    (8, 21)

    """

    question: Question
    before: tuple[int, ...]
    after: tuple[int, ...]
    revealed: bool = False
    size: int = 0

    def __post_init__(self) -> None:
        for name, hands in (("before", self.before), ("after", self.after)):
            number = len(self.question.options)
            require(len(hands) == number, name, len(hands), f"hold {number} counts")
            require(np.array(hands) >= 0, name, np.array(hands), "not be negative")
        whole("size", self.size)

    @property
    def right(self) -> tuple[int, int]:
        """Hands for what happens, before and after."""
        place = self.question.correct
        return self.before[place], self.after[place]


@dataclass(frozen=True, slots=True)
class _Row:
    line: int
    text: str
    cells: dict[str, str]


def read_bank(path: str | os.PathLike[str]) -> Bank:
    r"""Read a table of questions, and say what is wrong with it line by line.

    Parameters
    ----------
    path : path
        CSV with the columns of ``questionbank.csv``: a row for each answer, the rows of one
        question together, its text in the first of them. Comma or semicolon between cells;
        UTF-8, or what older spreadsheets write.

    Returns
    -------
    Bank
        Every question without a fault, and a `Trouble` for every other line. A question with
        one faulty line is left out as a whole: it would be asked with an answer missing.

    Raises
    ------
    OSError
        If the file cannot be read.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder) / "mine.csv"
    ...     _ = path.write_text("key\n")
    ...     mine = read_bank(path)
    >>> len(mine.questions), len(mine.troubles) > 0
    (0, True)

    """
    return _parsed(load(path), _ideas())


@cache
def bank() -> Bank:
    """Return the questions that come with the package.

    Returns
    -------
    Bank
        All questions; a table of the package has no troubles.

    """
    text = files("glasskit").joinpath("data", "questionbank.csv").read_text(encoding="utf-8")
    return _parsed(text, _ideas())


def question(key: str) -> Question:
    """Return one question of the package.

    Parameters
    ----------
    key : str
        As in the table of questions.

    Returns
    -------
    Question
        With its answers, the right one first.

    Raises
    ------
    ValueError
        If there is no question of that name.

    Examples
    --------
    >>> question("holes").text
    'A pane lies in molten potassium salt. For each potassium ion that goes in …'

    """
    known = {item.key: item for item in bank().questions}
    one_of("question", key, known)
    return known[key]


def shuffled(questions: Iterable[Question], seed: int) -> tuple[Question, ...]:
    """Return questions in another order, each with its answers in another order.

    Parameters
    ----------
    questions : iterable of Question
        From `bank`.
    seed : int
        Same seed, same form; zero or more.

    Returns
    -------
    tuple of Question
        All of them.

    Raises
    ------
    ValueError
        If `seed` is negative.

    Examples
    --------
    The same seed gives the same form:

    >>> form = bank().questions
    >>> shuffled(form, 1) == shuffled(form, 1), shuffled(form, 1) == shuffled(form, 2)
    (True, False)

    """
    rng = np.random.default_rng(whole("seed", seed))
    form = list(questions)
    return tuple(
        replace(form[place], options=_mixed(form[place].options, rng))
        for place in rng.permutation(len(form))
    )


def _mixed(options: Sequence[Option], rng: np.random.Generator) -> tuple[Option, ...]:
    return tuple(options[place] for place in rng.permutation(len(options)))


@cache
def _ideas() -> dict[str, str]:
    return {row["idea"]: row["text"] for row in read("ideas")}


def _parsed(text: str, ideas: dict[str, str]) -> Bank:
    first = text.split("\n", 1)[0]
    mark = next((one for one in "\t;" if one in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark)
    try:  # an answer may run over several lines, so that lines are not read one by one
        lines = [(reader.line_num, cells) for cells in reader if any(map(str.strip, cells))]
    except csv.Error as fault:
        what = f"the file cannot be read on from here: {fault}"
        return Bank(
            questions=(), troubles=(Trouble(line=reader.line_num, text="", words=what),)
        )
    header = [cell.strip() for cell in lines[0][1]] if lines else []
    missing = [name for name in _COLUMNS if name not in header]
    if missing:
        what = f"the first line must name the columns {', '.join(missing)}"
        return Bank(questions=(), troubles=(Trouble(line=1, text=first, words=what),))
    rows = [
        _Row(line, mark.join(cells), dict(zip(header, map(str.strip, cells), strict=False)))
        for line, cells in lines[1:]
    ]
    counts = [len(cells) for _, cells in lines[1:]]
    wrong = {
        row.line: f"{count} cells where the first line names {len(header)}; text with the "
        f"separator {mark} in it stands in quotation marks"
        for row, count in zip(rows, counts, strict=True)
        if count != len(header)
    }
    return _grouped(rows, wrong, ideas)


def _grouped(rows: list[_Row], wrong: dict[int, str], ideas: dict[str, str]) -> Bank:
    questions: list[Question] = []
    troubles: list[Trouble] = []
    seen: set[str] = set()
    for key, together in groupby(rows, lambda row: row.cells.get("key", "")):
        group = list(together)
        found = {row.line: wrong[row.line] for row in group if row.line in wrong}
        found = found or _faults(group, ideas)
        if key in seen:
            found.setdefault(group[0].line, f"{key!r} stands further up already")
        seen.add(key)
        if not found:
            questions.append(_question(group, ideas))
            continue
        other = f"left out with line {min(found)} of the same question"
        troubles += [
            Trouble(line=row.line, text=row.text, words=found.get(row.line, other))
            for row in group
        ]
    return Bank(questions=tuple(questions), troubles=tuple(troubles))


def _faults(group: list[_Row], ideas: dict[str, str]) -> dict[int, str]:
    """Return what is wrong with the rows of one question, by line."""
    head = group[0].cells
    found = {}
    for row in group:
        cells = row.cells
        if not cells["option"] or not cells["reply"]:
            found[row.line] = "an answer needs words in the columns option and reply"
        elif cells["idea"] and cells["idea"] not in ideas:
            found[row.line] = f"no idea {cells['idea']!r} in ideas.csv: {', '.join(ideas)}"
        elif cells["correct"] not in ("", "yes"):
            found[row.line] = f"correct must be yes or empty; got {cells['correct']!r}"
        elif cells["idea"] and cells["correct"]:
            found[row.line] = "what happens is no wrong idea: leave idea or correct empty"
        elif row is not group[0] and cells["question"]:
            found[row.line] = "the question stands once, in its first line; give others a key"
    if found:
        return found
    right = sum(row.cells["correct"] == "yes" for row in group)
    texts = [row.cells["option"] for row in group]
    whole = (
        (bool(head["key"]), "a question needs a word in the column key"),
        (bool(head["question"]), "a question needs its text in its first line"),
        (head["level"] in map(str, LEVELS), f"level must be 1 or 2; got {head['level']!r}"),
        (right == 1, f"one answer must be marked correct with yes; {right} are"),
        (2 <= len(group) <= _MOST_OPTIONS, f"two to six answers are wanted; got {len(group)}"),
        (len(set(texts)) == len(texts), "two answers read the same"),
    )
    for good, what in whole:
        if not good:
            found.setdefault(group[0].line, what)
    return found


def _question(group: list[_Row], ideas: dict[str, str]) -> Question:
    head = group[0].cells
    return Question(
        key=head["key"],
        notebook=head["notebook"],
        topic=head["topic"],
        level=int(head["level"]),
        text=head["question"],
        options=tuple(_option(row.cells, ideas) for row in group),
    )


def _option(cells: dict[str, str], ideas: dict[str, str]) -> Option:
    idea = cells["idea"]
    named = f" Many people think that {ideas[idea]}." if idea else ""
    return Option(
        text=cells["option"],
        reply=cells["reply"] + named,
        idea=idea,
        correct=cells["correct"] == "yes",
    )


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
