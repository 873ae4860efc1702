# SPDX-License-Identifier: MIT
"""What a class has answered: counted for each question, held in memory and nowhere else.

A pupil is a word that a browser keeps for the lesson, drawn by chance: no name, no account.
An answer that is sent again takes the place of the one before.
"""

import math
import secrets
from collections.abc import Sequence
from dataclasses import dataclass, field

from glasskit.classroom import Question, Tally, read_sheet

STAGES = ("wait", "before", "talk", "after", "told", "readings")
"""Nothing is asked; a question, before and after talking it over; its answer; own readings."""

OPEN = ("before", "after")
"""Stages in which answers count."""

STICKS = {
    "round": "mass / g; span / mm; diameter / mm",
    "flat": "mass / g; span / mm; width / mm; height / mm",
}
"""First rows of a class's readings, as page 31 takes them."""

GROUP = "kind"
"""Heading of the column whose words the teacher gives, such as whole and nicked."""

MOST_READINGS = 12
"""Sticks of one pupil."""

_LONGEST = 24  # letters of a cell
_LEAST_SPARE = 5


class Full(Exception):  # noqa: N818, said to whoever is at the door, no fault of the program
    """More browsers than the class has pupils; the text says so."""


@dataclass(frozen=True, slots=True)
class Sent:
    """A reading that a pupil has sent."""

    pupil: str
    once: str
    text: str


@dataclass(kw_only=True)
class Poll:
    """A class that answers, each on the own screen.

    Parameters
    ----------
    size : int
        Pupils of the class. A quarter more browsers may come in, five at least: some run out
        of power, others are closed.
    questions : sequence of Question
        What is asked, in this order.

    Attributes
    ----------
    place : int
        Which question.
    stage : str
        One of `STAGES`.
    sticks : str
        A key of `STICKS`.
    kinds : tuple of str
        Words of the column `GROUP`; empty without such a column.
    pupils : set of str
        Who has come in.
    version : int
        Grows whenever pupils see something else.

    """

    size: int
    questions: Sequence[Question]
    place: int = 0
    stage: str = "wait"
    sticks: str = "round"
    kinds: tuple[str, ...] = ()
    pupils: set[str] = field(default_factory=set)
    version: int = 0
    _asked: list[int] = field(default_factory=list)
    _answers: dict[tuple[Question, str], dict[str, int]] = field(default_factory=dict)
    _readings: list[Sent] = field(default_factory=list)

    @property
    def most(self) -> int:
        """Browsers that may come in."""
        return self.size + max(_LEAST_SPARE, math.ceil(self.size / 4))

    @property
    def question(self) -> Question:
        """What is asked."""
        return self.questions[self.place]

    @property
    def number(self) -> int:
        """Which question this is among those that were asked, from 1."""
        return self._asked.index(self.place) + 1 if self.place in self._asked else 0

    @property
    def task(self) -> str:
        """Name of what is open now: a form for another one comes too late."""
        return f"{self.place}-{self.stage}"

    def come_in(self) -> str:
        """Return the word of another pupil.

        Raises
        ------
        Full
            If as many have come in as may.

        """
        if len(self.pupils) >= self.most:
            raise Full(
                f"the room is full: {len(self.pupils)} browsers have come in for a class of "
                f"{self.size}; go on in the one that you began with, or tell your teacher"
            )
        pupil = secrets.token_urlsafe(9)
        self.pupils.add(pupil)
        return pupil

    def show(self, stage: str, place: int | None = None) -> None:
        """Go to another stage, or to another question.

        Parameters
        ----------
        stage : str
            One of `STAGES`.
        place : int, optional
            Which question; the same by default.

        Raises
        ------
        ValueError
            If there is no such stage or question.

        """
        place = self.place if place is None else place
        if stage not in STAGES or not 0 <= place < max(len(self.questions), 1):
            raise ValueError(f"there is no {stage!r} of question {place + 1}")
        if (stage, place) != (self.stage, self.place):
            self.stage, self.place = stage, place
            self.version += 1
        if stage in OPEN and place not in self._asked:
            self._asked.append(place)

    # --- answers ----------------------------------------------------------------------------

    def answer(self, pupil: str, task: str, option: str) -> None:
        """Count an answer, in the place of the one this pupil gave before.

        Parameters
        ----------
        pupil : str
            From `come_in`.
        task : str
            What the form was for.
        option : str
            Number of the answer, from 0, as the form sends it.

        Raises
        ------
        ValueError
            If nothing was chosen, or the question is not open any more.

        """
        if task != self.task or self.stage not in OPEN:
            raise ValueError("that question is closed: this answer was not counted")
        known = [str(place) for place in range(len(self.question.options))]
        if option not in known:
            raise ValueError("choose one of the answers")
        self._given(self.stage)[pupil] = known.index(option)

    def _given(self, when: str) -> dict[str, int]:
        return self._answers.setdefault((self.question, when), {})

    def answered(self, pupil: str, when: str) -> int | None:
        """Return what a pupil has answered, before or after; None if nothing."""
        return self._given(when).get(pupil)

    @property
    def tally(self) -> Tally:
        """The answers to the question, before and after."""
        return self.tally_of(self.question)

    def tally_of(self, question: Question) -> Tally:
        """Return the answers to a question, before and after."""
        counts = {}
        for when in OPEN:
            given = list(self._answers.get((question, when), {}).values())
            counts[when] = tuple(given.count(n) for n in range(len(question.options)))
        told = self.stage == "told" and question == self.question
        return Tally(question=question, **counts, revealed=told, size=self.size)

    @property
    def given(self) -> dict[str, dict[str, tuple[int, ...]]]:
        """What was answered before and after, by the key of each question that was asked."""
        # In other words the same question has the same key: what stands on screens counts.
        asked = [self.questions[place] for place in sorted(self._asked, key=self.place.__eq__)]
        tallies = {one.key: self.tally_of(one) for one in asked}
        return {
            key: {when: getattr(one, when) for when in OPEN} for key, one in tallies.items()
        }

    @property
    def said(self) -> str:
        """How many have come in and answered."""
        came = len(self.pupils)
        parts = [f"Come in: {came} of {self.size}"]
        if self.stage == "readings":
            senders = len({one.pupil for one in self._readings})
            parts.append(f"sticks sent: {len(self._readings)}, by {senders} of them")
        elif self.stage != "wait":
            when = "before" if self.stage in ("before", "talk") else "after"
            parts.append(f"answered, {when}: {len(self._given(when))}")
        if came > self.size:
            parts.append("more than the class has: some answer on two screens")
        return "; ".join(parts) + "."

    # --- readings ---------------------------------------------------------------------------

    @property
    def columns(self) -> list[str]:
        """Headings of a reading."""
        return [*([GROUP] if self.kinds else []), *STICKS[self.sticks].split("; ")]

    @property
    def sheet(self) -> str:
        """All readings as page 31 takes them, in the order they came, not told from whom."""
        rows = [one.text for one in self._readings]
        return "\n".join(["; ".join(self.columns), *rows, ""])

    def ask_for_readings(self, sticks: str, kinds: Sequence[str] = ()) -> None:
        """Let pupils send readings; other columns than before begin anew.

        Parameters
        ----------
        sticks : str
            A key of `STICKS`.
        kinds : sequence of str
            Words that part the sticks into groups.

        Raises
        ------
        ValueError
            If there are no such sticks, or a word cannot stand in a table.

        """
        if sticks not in STICKS:
            raise ValueError(f"sticks must be one of {', '.join(STICKS)}; got {sticks!r}")
        if any(not word.isalnum() or len(word) > _LONGEST for word in kinds):
            raise ValueError(f"kinds must be single words of up to {_LONGEST} letters")
        if (sticks, tuple(kinds)) != (self.sticks, self.kinds):
            self.sticks, self.kinds = sticks, tuple(kinds)
            self._readings.clear()
            self.version += 1
        self.show("readings")

    def readings(self, pupil: str) -> list[Sent]:
        """Return what a pupil has sent."""
        return [one for one in self._readings if one.pupil == pupil]

    def send(self, pupil: str, once: str, cells: Sequence[str], sure: bool) -> None:
        """Take a reading; one that is sent twice counts once.

        Parameters
        ----------
        pupil : str
            From `come_in`.
        once : str
            What tells one form from another.
        cells : sequence of str
            As typed, a cell for each of `columns`.
        sure : bool
            Whether the pupil vouches for odd numbers.

        Raises
        ------
        ValueError
            If a number cannot be read or looks like a slip, or there are too many of them.

        """
        sent = self.readings(pupil)
        if once in [one.once for one in sent]:
            return
        if self.stage != "readings":
            raise ValueError("readings are not asked for any more: this one was not counted")
        if len(sent) >= MOST_READINGS:
            raise ValueError(f"{MOST_READINGS} sticks are enough: take one back first")
        self._readings.append(Sent(pupil, once, self._row(cells, sure)))

    def _row(self, cells: Sequence[str], sure: bool) -> str:
        plain = [" ".join(cell.split()) for cell in cells]
        group, numbers = plain[: bool(self.kinds)], plain[bool(self.kinds) :]
        if group and group[0] not in self.kinds:
            raise ValueError(f"say which kind it was: {' or '.join(self.kinds)}")
        if any(len(cell) > _LONGEST for cell in plain):
            raise ValueError(f"a number has at most {_LONGEST} signs")
        if sure:
            numbers = [f"{cell.rstrip('!')}!" for cell in numbers]
        # A group stands in front, so that no number begins a line and is taken for a remark.
        text = "; ".join([*(group or ["stick"]), *numbers])
        [row] = read_sheet(f"{GROUP}; {STICKS[self.sticks]}\n{text}").rows
        if row.status == "unreadable":
            raise ValueError(row.note)
        if row.status == "doubtful":
            raise ValueError(f"{row.note} Mend it, or say that you have checked it")
        return text if group else "; ".join(numbers)

    def take_back(self, pupil: str, once: str) -> None:
        """Take a reading back that this pupil has sent."""
        kept = [one for one in self._readings if (one.pupil, one.once) != (pupil, once)]
        self._readings = kept
