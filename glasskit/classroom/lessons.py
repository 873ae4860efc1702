# SPDX-License-Identifier: MIT
"""One lesson from one choice: topic, years, minutes and class decide all that is needed.

What is done, in which minutes, and what it teaches stands in ``lesson_phases.csv``; the names
of its phases have their place and their rank here. A phase of the core is taught; what stands
under "if there is time" is not counted on, and no exit ticket asks for it.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil
from typing import Any

from glasskit.classroom.questions import Question, question, shuffled
from glasskit.quantities import in_range, one_of, whole
from glasskit.tables import read

AGES = ("8-11", "11-14", "14-16", "16-18")
"""Years of pupils that lessons, sheets and questions are made for."""

COURSE = ("14-16", "16-18")
"""Years whose questions and sheets take the words that are examined."""

MINUTES = (30, 90)
"""Shortest and longest lesson [min]."""

SERIES = 3
"""Lessons of a series."""

WORDS = ("lay", "examined")
ALSO = ("large", "words")
PAPERS = ("A4", "Letter")
MASSES = (0.01, 5.0)
"""Least and largest mass that a ruler in joules can be marked for [kg]."""

_LONGEST = 50  # lesson of a series [min]
_GROUP = 3
_MOST = 200  # pupils
# Phases in the order they are taught, each with its rank (what comes first into a short
# lesson; rank 0 is never left out) and the lessons of a series it belongs to.
_PHASES = {
    "Recall": (2, (2, 3)),
    "Predict": (0, (1,)),
    "Observe": (0, (1,)),
    "Explain": (0, (1,)),
    "Draw and tell": (6, (1,)),
    "Do": (1, (2,)),
    "Model": (3, (2,)),
    "Transfer": (4, (3,)),
    "Claim": (5, (3,)),
    "Tell": (7, (3,)),
    "Exit ticket": (0, (3,)),
}
_FOR_ALL = ("W1", "W6")  # copied; the others bear numbers for each pupil


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Part of a lesson.

    Attributes
    ----------
    name : str
        Such as "Predict".
    minutes, more_minutes : int
        What it takes, and what its extra takes [min].
    teacher, pupils, kit, more : str
        Who does what, with what; and what can follow if there is time.
    teaches : tuple of str
        Keys of the questions that can be answered after it.
    sheets, activities : tuple of str
        Worksheets that it needs, and hands-on work that can hurt.

    """

    name: str
    minutes: int
    teacher: str
    pupils: str
    kit: str
    more: str
    more_minutes: int
    teaches: tuple[str, ...]
    sheets: tuple[str, ...]
    activities: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Period:
    """One lesson on the timetable.

    Attributes
    ----------
    minutes : int
        Its length [min].
    core : tuple of Phase
        What is taught, in order; never longer than the lesson.
    spare : tuple of Phase
        What else could be done if there is time.

    """

    minutes: int
    core: tuple[Phase, ...]
    spare: tuple[Phase, ...]

    @property
    def taken(self) -> int:
        """Length of the core [min]."""
        return sum(phase.minutes for phase in self.core)


@dataclass(frozen=True, kw_only=True)
class Lesson:
    """What a teacher chooses, and all that follows from it.

    Parameters
    ----------
    topic : str
        A key of ``lesson_topics.csv``: breaks, shut, ions, bath, quench, energy, flow, crumbs.
    age : {"8-11", "11-14", "14-16", "16-18"}
        Years of the pupils.
    minutes : int
        Length of a lesson [min], 30 to 90; up to 50 in a series.
    lessons : {1, 3}
        One, or a series of three.
    pupils : int or sequence of str
        How many, or their names; 1 to 200.
    words : {"", "lay", "examined"}
        Pull and squeeze, or tension and compression; by default examined from 14 on.
    paper : {"A4", "Letter"}
        Of the printer.
    seed : int
        Same seed, same numbers on the sheets; another class gets another.
    mass : float
        What falls beside the ruler in joules [kg].
    also : sequence of {"large", "words"}
        Versions of the sheets for pupils who see little or nothing, besides the ordinary one.

    Raises
    ------
    ValueError
        If an argument is not among those named.

    Examples
    --------
    >>> lesson = Lesson(topic="ions", age="14-16", minutes=30)
    >>> [phase.name for phase in lesson.periods[0].core]
    ['Recall', 'Predict', 'Observe', 'Explain', 'Exit ticket']
    >>> lesson.taught
    ('holes', 'count')

    """

    topic: str = "breaks"
    age: str = "11-14"
    minutes: int = 50
    lessons: int = 1
    pupils: int | Sequence[str] = 28
    words: str = ""
    paper: str = "A4"
    seed: int = 1
    mass: float = 0.2
    also: Sequence[str] = ()

    def __post_init__(self) -> None:
        one_of("topic", self.topic, topics())
        one_of("age", self.age, AGES)
        one_of("lessons", whole("lessons", self.lessons), (1, SERIES))
        longest = MINUTES[1] if self.lessons == 1 else _LONGEST
        whole("minutes", self.minutes, MINUTES[0], longest)
        one_of("words", self.words, ("", *WORDS))
        one_of("paper", self.paper, PAPERS)
        whole("seed", self.seed)
        in_range("mass", self.mass, *MASSES, "kg")
        for version in self.also:
            one_of("also", version, ALSO)
        given: Any = self.pupils
        listed = isinstance(given, Sequence) and not isinstance(given, str)
        named = listed and all(isinstance(name, str) for name in given)
        whole("pupils", len(given) if named else given, 1, _MOST)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names of the pupils, empty where only their number is known."""
        given = self.pupils
        return tuple(given) if isinstance(given, Sequence) else ("",) * int(given)

    @property
    def groups(self) -> int:
        """How many groups of three [-]."""
        return ceil(len(self.names) / _GROUP)

    @property
    def spoken_as(self) -> str:
        """Years whose words are spoken: those of `age`, unless `words` says otherwise."""
        examined = self.age in COURSE
        if not self.words or (self.words == "examined") == examined:
            return self.age
        return "11-14" if examined else "14-16"

    @property
    def examined(self) -> bool:
        """Whether the words are those that are examined."""
        return self.spoken_as in COURSE

    @property
    def title(self) -> str:
        """Name of the topic."""
        return topics()[self.topic]["title"]

    @property
    def about(self) -> dict[str, str]:
        """Row of the topic in ``lesson_topics.csv``."""
        return topics()[self.topic]

    @property
    def pages(self) -> tuple[str, ...]:
        """Notebooks in the order they are shown; the first opens with the vote."""
        if self.age not in COURSE:
            return (self.about["short"],)
        weibull = (
            ("31_class_results",) if (self.topic, self.age) == ("breaks", "16-18") else ()
        )
        return (*self.about["pages"].split(";"), *weibull)

    @property
    def planned_pages(self) -> tuple[str, ...]:
        """Those of `pages` that the planned minutes use: that of the vote, and those named."""
        kit = re.findall(r"page (\w+)", "; ".join(phase.kit for phase in self.core))
        first = self.pages[0]
        return tuple(page for page in self.pages if page == first or page.split("_")[0] in kit)

    @cached_property
    def periods(self) -> tuple[Period, ...]:
        """The lesson, or the three of a series."""
        fitting = [
            _phase(row)
            for row in read("lesson_phases")
            if row["topic"] in ("", self.topic)
            and (not row["ages"] or self.age in row["ages"].split(";"))
        ]
        fitting.sort(key=lambda phase: list(_PHASES).index(phase.name))
        if self.lessons == 1:
            return (_period(fitting, self.minutes),)
        return tuple(
            _period([one for one in fitting if number in _PHASES[one.name][1]], self.minutes)
            for number in range(1, SERIES + 1)
        )

    @property
    def core(self) -> tuple[Phase, ...]:
        """All phases that are taught, in order."""
        return tuple(phase for period in self.periods for phase in period.core)

    @property
    def taught(self) -> tuple[str, ...]:
        """Keys of the questions that can be answered after the core."""
        return _once(key for phase in self.core for key in phase.teaches)

    @property
    def sheets(self) -> tuple[str, ...]:
        """Worksheets that the lesson needs, such as "W3"."""
        spare = (phase for period in self.periods for phase in period.spare)
        return tuple(
            sorted(_once(one for phase in (*self.core, *spare) for one in phase.sheets))
        )

    @property
    def activities(self) -> tuple[str, ...]:
        """Hands-on work of the lesson, core and spare, by the names of ``lesson_hazards``."""
        spare = (phase for period in self.periods for phase in period.spare)
        return _once(one for phase in (*self.core, *spare) for one in phase.activities)

    @property
    def materials(self) -> tuple[dict[str, str], ...]:
        """Rows of ``lesson_materials.csv`` that the lesson needs, counted for the class."""
        number = {"pupil": len(self.names), "group": self.groups, "class": 1}
        return tuple(
            {**row, "amount": str(int(row["amount"]) * number[row["per"]])}
            for row in read("lesson_materials")
            if set(row["activities"].split(";")) & set(self.activities)
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is said to whoever does the hands-on work."""
        rows = read("lesson_cautions")
        return tuple(row["caution"] for row in rows if row["activity"] in self.activities)

    @property
    def hazards(self) -> tuple[dict[str, str], ...]:
        """Rows of ``lesson_hazards.csv`` that concern the lesson."""
        handled = {row["activity"] for row in read("lesson_cautions")}
        return tuple(
            row
            for row in read("lesson_hazards")
            if row["activity"] in self.activities or row["activity"] not in handled
        )

    def notes(self, part: str) -> list[str]:
        """Return lines of ``lesson_notes.csv``.

        Parts are "aim", "misleads", "starter", "support", "stretch" and "wrong".
        """
        return [
            row["text"]
            for row in read("lesson_notes")
            if row["part"] == part
            and row["topic"] in ("", self.topic)
            and (not row["ages"] or self.age in row["ages"].split(";"))
            and row["activity"] in ("", *self.activities)
        ]

    @property
    def curriculum(self) -> tuple[dict[str, str], ...]:
        """Rows of ``curriculum.csv`` that the lesson serves: what curricula ask for."""
        return tuple(
            row
            for row in curriculum()
            if self.topic in row["topics"].split(";") and self.age in row["ages"].split(";")
        )

    @cached_property
    def tickets(self) -> tuple[tuple[Question, ...], ...]:
        """Two questions for each pupil, on what the core has taught."""
        asked = [question(key) for key in self.taught]
        return tuple(
            shuffled(asked, 1000 * self.seed + place)[:2]
            for place in range(1, len(self.names) + 1)
        )


def topics() -> dict[str, dict[str, str]]:
    """Return what lessons there are.

    Returns
    -------
    dict of str to dict
        Rows of ``lesson_topics.csv`` by their key.

    Examples
    --------
    >>> topics()["flow"]["title"]
    'Does glass flow?'

    """
    return {row["topic"]: row for row in read("lesson_topics")}


def curriculum() -> list[dict[str, str]]:
    """Return what curricula usually ask for, and where it is met here.

    Returns
    -------
    list of dict
        Rows of ``curriculum.csv``: subject, idea, topics, ages, pages, and what is done.

    Notes
    -----
    Common practice, no source: no country's own curriculum has been looked up.

    Examples
    --------
    >>> {row["subject"] for row in curriculum() if "diffusion" in row["idea"]}
    {'chemistry'}

    """
    return read("curriculum")


def _once(items: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(items))


def _phase(row: dict[str, str]) -> Phase:
    return Phase(
        name=row["phase"],
        minutes=int(row["minutes"]),
        teacher=row["teacher"],
        pupils=row["pupils"],
        kit=row["kit"],
        more=row["more"],
        more_minutes=int(row["more_minutes"]),
        teaches=tuple(row["teaches"].split()),
        sheets=tuple(row["sheets"].split()),
        activities=tuple(filter(None, row["activities"].split(";"))),
    )


def _period(phases: Sequence[Phase], minutes: int) -> Period:
    """Take phases by rank as long as they fit; the others are for spare time."""
    core: list[Phase] = []
    for phase in sorted(phases, key=lambda one: _PHASES[one.name][0]):
        if sum(one.minutes for one in core) + phase.minutes <= minutes:
            core.append(phase)
    printed = {*_FOR_ALL, *(sheet for one in core for sheet in one.sheets)}
    return Period(
        minutes=minutes,
        core=tuple(one for one in phases if one in core),
        spare=tuple(one for one in phases if one not in core and printed >= set(one.sheets)),
    )
