# SPDX-License-Identifier: MIT
"""A lesson to print: plan, hazards, worksheets with numbers for each pupil, key, exit tickets.

What stands on the plan comes from plain tables in ``glasskit/data``: ``lesson_phases`` (who
does what, and for how long), ``lesson_notes``, ``lesson_materials`` and ``lesson_hazards``.
Numbers come from `glasskit.classroom.exercises`, questions from
`glasskit.classroom.questions`.
"""

import datetime
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil
from pathlib import Path

from glasskit.classroom import (
    Question,
    balance_task,
    drop_task,
    question,
    shuffled,
    stick_task,
)
from glasskit.draw.papers import balance_paper, dot_paper, weibull_paper
from glasskit.draw.printables import MASSES, save_printables
from glasskit.quantities import in_range, one_of, require, show, show_number
from glasskit.sheets.page import picture, render, save
from glasskit.sheets.pupils import pupils_page
from glasskit.sheets.risk import rules
from glasskit.tables import read
from glasskit.words.glossary import AGES, COURSE, spoken, terms
from glasskit.words.tally import letters

MINUTES = (45, 50, 60)

_GROUP = 3
_MOST = 200  # pupils
_VOTE = "nick"
_TICKETS = {
    "8-11": ("shut", "sand", "floor", "cut", "compare"),
    "11-14": ("holes", "balance", "shut", "floor", "hardness"),
    "14-16": ("net", "deep", "grit", "average", "stop"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ticket:
    number: int
    name: str
    questions: tuple[Question, ...]

    @property
    def answers(self) -> list[tuple[str, str]]:
        return [
            (letters(item.correct + 1)[-1], item.options[item.correct].text)
            for item in self.questions
        ]


def _names(pupils: int | Sequence[str]) -> list[str]:
    names = [""] * pupils if isinstance(pupils, int) else list(pupils)
    require(1 <= len(names) <= _MOST, "pupils", len(names), f"lie in 1 <= pupils <= {_MOST}")
    return names


def _for(age: str, rows: Sequence[dict[str, str]]) -> list[dict[str, str]]:
    one_of("age", age, AGES)
    return [row for row in rows if row["age"] in ("", age)]


def _notes(age: str) -> dict[str, list[str]]:
    notes: dict[str, list[str]] = {}
    for row in _for(age, read("lesson_notes")):
        notes.setdefault(row["part"], []).append(row["text"])
    notes["word"] = [f"{term.both}: {term.line}" for term in terms() if age in term.ages]
    return notes


def _asked(key: str, age: str) -> Question:
    return spoken(question(key), age)


def _signs(age: str) -> tuple[str, str]:
    return ("tension", "compression") if age == COURSE else ("pull", "squeeze")


def phases(age: str = "11-14", minutes: int = 50) -> list[dict[str, str]]:
    """Return who does what, and from which minute to which.

    Parameters
    ----------
    age, minutes
        As for `lesson_plan`.

    Returns
    -------
    list of dict
        Columns of ``lesson_phases.csv``, with "start" and "end".

    Raises
    ------
    ValueError
        If `age` or `minutes` is not among those.

    """
    one_of("minutes", minutes, MINUTES)
    made, start = [], 0
    for row in _for(age, read("lesson_phases")):
        end = start + int(row[f"min{minutes}"])
        made.append({**row, "start": str(start), "end": str(end)})
        start = end
    return made


def lesson_plan(
    age: str = "11-14",
    minutes: int = 50,
    pupils: int | Sequence[str] = 28,
    on: datetime.date | None = None,
) -> str:
    """Return the plan of a lesson.

    Parameters
    ----------
    age : {"8-11", "11-14", "14-16"}
        Years of the pupils.
    minutes : {45, 50, 60}
        Length of the lesson [min].
    pupils : int or sequence of str
        How many, or their names.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    Raises
    ------
    ValueError
        If `age` or `minutes` is not among those, or there are no pupils.

    """
    count = len(_names(pupils))
    groups = ceil(count / _GROUP)
    number = {"pupil": count, "group": groups, "class": 1}
    materials = [
        {**row, "amount": int(row["amount"]) * number[row["per"]]}
        for row in read("lesson_materials")
    ]
    return render(
        "lesson_plan.html",
        on,
        title="Lesson: why toughened glass survives",
        age=age,
        minutes=minutes,
        count=count,
        groups=groups,
        notes=_notes(age),
        phases=phases(age, minutes),
        question=_asked(_VOTE, age),
        materials=materials,
    )


def lesson_hazards(on: datetime.date | None = None) -> str:
    """Return the page of hazards of the hands-on work, to complete and sign, as HTML."""
    return render(
        "lesson_hazards.html",
        on,
        title="Hazards of this lesson",
        hazards=read("lesson_hazards"),
        emergency=rules("bend")["emergency"],
    )


def glossary_page(on: datetime.date | None = None) -> str:
    """Return the words of the kit, lay and trade beside each other, as HTML."""
    return render("glossary.html", on, title="Words", terms=terms())


def worksheets_for_all(age: str = "11-14", on: datetime.date | None = None) -> str:
    """Return the sheets that are the same for everyone: W1 and W6, as HTML."""
    return render(
        "lesson_same.html",
        on,
        title="Worksheets W1 and W6",
        question=_asked(_VOTE, age),
        age=age,
        starters=_notes(age)["starter"],
    )


def _pupil(seed: int, number: int, name: str) -> dict[str, object]:
    """Return what stands on the sheets of one pupil, and the answers."""
    sticks, plate = stick_task(seed, number), balance_task(seed, number)
    drop = drop_task(seed, number)
    slope, scale = sticks.line
    grams = sticks.ranked * 1e3
    return {
        "number": number,
        "name": name,
        "masses": [f"{mass * 1e3:.0f}" for mass in sticks.masses],
        "ranked": [f"{gram:.0f}" for gram in grams],
        "range": f"{grams[-1] - grams[0]:.0f}",
        "mean": f"{grams.mean():.1f}",
        "diameter": show(sticks.diameter, "thickness", digits=2),
        "span": show(sticks.span, "length"),
        "gram": show(sticks.stress_of_a_gram, "stress"),
        "shares": [f"{100 * share:.0f}" for share in sticks.shares],
        "strengths": [f"{stress / 1e6:.1f}" for stress in sticks.strengths],
        "slope": f"{slope:.1f}",
        "scale": f"{scale / 1e6:.1f}",
        "squeeze": show(plate.squeeze, "stress"),
        "skin": f"{plate.skin * 1e3:.2f} mm",
        "thickness": f"{plate.thickness * 1e3:.1f} mm",
        "bend": show(plate.bend, "stress"),
        "area": f"{plate.area / 1e3:.0f}",
        "core_thick": f"{(plate.thickness - 2 * plate.skin) * 1e3:.2f}",
        "core": f"{plate.core / 1e6:.0f}",
        "net": f"{plate.net / 1e6:.0f}".replace("-", "−"),
        "mass": f"{drop.mass:.2f} kg",
        "height": f"{drop.height:.1f} m",
        "low": f"{drop.low:.1f} m",
        "short": show(drop.short, "length", digits=1),
        "long": show(drop.long, "length", digits=2),
        "times": f"{drop.times:.0f}",
        "fewer": f"1/{drop.times:.0f}",
        "gravity": f"{drop.gravity:g}",
        "energy": show_number(drop.energy, 2),
        "speed": show_number(drop.speed, 2),
        "hard": show_number(drop.force(drop.short), 2),
        "soft": show_number(drop.force(drop.long), 2),
    }


def _numbered(seed: int, pupils: int | Sequence[str]) -> list[dict[str, object]]:
    return [_pupil(seed, place, name) for place, name in enumerate(_names(pupils), 1)]


def worksheets(
    age: str = "11-14",
    pupils: int | Sequence[str] = 28,
    seed: int = 1,
    on: datetime.date | None = None,
) -> str:
    """Return worksheets with numbers of their own for each pupil: W3, W4 and W5.

    Parameters
    ----------
    age : {"8-11", "11-14", "14-16"}
        Years of the pupils; the youngest get W3 and W5.
    pupils : int or sequence of str
        How many, or their names.
    seed : int
        Same seed, same numbers; zero or more.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML, two pages for each pupil; answers in `answer_key`.

    Raises
    ------
    ValueError
        If `age` is not among those, there are no pupils or `seed` is negative.

    """
    one_of("age", age, AGES)
    papers = {
        "weibull": picture(weibull_paper()) if age == "14-16" else "",
        "dots": picture(dot_paper()) if age != "14-16" else "",
        "balance": picture(balance_paper(*_signs(age))) if age != "8-11" else "",
    }
    return render(
        "lesson_numbered.html",
        on,
        title=f"Worksheets W3{'' if age == '8-11' else ', W4'} and W5",
        age=age,
        seed=seed,
        pupils=_numbered(seed, pupils),
        papers=papers,
    )


def _tickets(age: str, pupils: int | Sequence[str], seed: int) -> list[_Ticket]:
    one_of("age", age, AGES)
    asked = [_asked(key, age) for key in _TICKETS[age]]
    return [
        _Ticket(number=place, name=name, questions=shuffled(asked, 1000 * seed + place)[:2])
        for place, name in enumerate(_names(pupils), 1)
    ]


def exit_tickets(
    age: str = "11-14",
    pupils: int | Sequence[str] = 28,
    seed: int = 1,
    on: datetime.date | None = None,
) -> str:
    """Return a ticket for each pupil, two questions in a form of their own, as HTML.

    Parameters and errors as for `worksheets`; answers in `answer_key`.
    """
    return render(
        "lesson_tickets.html",
        on,
        title="Exit tickets",
        age=age,
        seed=seed,
        tickets=_tickets(age, pupils, seed),
    )


def answer_key(
    age: str = "11-14",
    pupils: int | Sequence[str] = 28,
    seed: int = 1,
    on: datetime.date | None = None,
) -> str:
    """Return the answers to `worksheets` and `exit_tickets` of the same arguments, as HTML."""
    return render(
        "lesson_key.html",
        on,
        title="Answer key",
        age=age,
        seed=seed,
        pupils=_numbered(seed, pupils),
        tickets=_tickets(age, pupils, seed),
    )


def lesson_pack(
    folder: str | os.PathLike[str],
    *,
    age: str = "11-14",
    minutes: int = 50,
    pupils: int | Sequence[str] = 28,
    seed: int = 1,
    mass: float = 0.2,
    on: datetime.date | None = None,
) -> list[Path]:
    """Write everything for a lesson into a folder.

    Parameters
    ----------
    folder : path
        Made if it is not there; files of the same names are replaced.
    age : {"8-11", "11-14", "14-16"}
        Years of the pupils.
    minutes : {45, 50, 60}
        Length of the lesson [min].
    pupils : int or sequence of str
        How many, or their names.
    seed : int
        Same seed, same numbers; another class gets another.
    mass : float
        Mass for the ruler in joules [kg].
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    list of Path
        HTML files to open and print (A4 or Letter, black and white), the page for pupils
        without Python, and true-size PDF files.

    Raises
    ------
    ValueError
        If an argument is not among those named; nothing is written then.
    OSError
        If the folder cannot be written to.

    """
    in_range("mass", mass, *MASSES, "kg")
    pages: dict[str, Callable[[], str]] = {
        "1_lesson_plan": lambda: lesson_plan(age, minutes, pupils, on),
        "2_hazards": lambda: lesson_hazards(on),
        "3_worksheets_for_all": lambda: worksheets_for_all(age, on),
        "4_worksheets_by_number": lambda: worksheets(age, pupils, seed, on),
        "5_answer_key": lambda: answer_key(age, pupils, seed, on),
        "6_exit_tickets": lambda: exit_tickets(age, pupils, seed, on),
        "7_page_for_pupils": lambda: pupils_page(on, age),
        "8_words": lambda: glossary_page(on),
    }
    made = {name: make() for name, make in pages.items()}
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    paths = [save(html, folder / f"{name}.html") for name, html in made.items()]
    return paths + save_printables(folder, mass)
