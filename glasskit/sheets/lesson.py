# SPDX-License-Identifier: MIT
"""A lesson to print: plan, hazards, worksheets with numbers for each pupil, key, exit tickets.

What stands on them follows from one `glasskit.classroom.Lesson`; numbers come from
`glasskit.classroom.exercises`, questions from `glasskit.classroom.questions`.
"""

import datetime
import itertools
import os
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from math import log10
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from matplotlib.figure import Figure

from glasskit.classroom import (
    Lesson,
    Question,
    balance_task,
    drop_task,
    question,
    stick_task,
    swap_task,
    walk_task,
    work_task,
)
from glasskit.draw.papers import balance_paper, dot_paper, slope_paper, weibull_paper
from glasskit.draw.printables import (
    PAPERS,
    ion_discs,
    joule_ruler,
    network_tray,
    paper_crack,
    save_printables,
)
from glasskit.draw.touch import touch_page
from glasskit.files import replace_file
from glasskit.quantities import one_of, show, show_number
from glasskit.sheets.bound import bound, printed
from glasskit.sheets.page import picture, render, save
from glasskit.sheets.risk import rules
from glasskit.steps import Steps, in_steps
from glasskit.strength import paper_height
from glasskit.words.glossary import in_course_words, spoken, terms
from glasskit.words.tally import letters

_LEAVES = (("W2",), ("W3",), ("W4", "W5"), ("W7",), ("W8",))  # sheets on one leaf
_NEAR, _NEARER = 0.06, 0.02  # how far from the key an answer may lie and be right [-]
VERSIONS = {
    "": "ordinary print",
    "large": "large print",
    "words": "in words, for blind pupils",
}
"""Worksheets and tickets are made in these."""

_WRITE = 'contenteditable role="textbox" aria-label="answer"'
_SHORT = f'<span class="answer" {_WRITE}></span>'
_LONG = f'<span class="answer long" {_WRITE} aria-multiline="true"></span>'
_BOXES = {  # what is empty on paper, and what a screen reader meets instead
    '<span class="fill"></span>': _SHORT,
    "<td></td>": f"<td>{_SHORT}</td>",
    '<span class="box"></span>': '<input type="checkbox" aria-label="mine: "> ',
}
_ROUGH = (20e-3, 28e-3)  # discs as the youngest measure them [m]


def _said(lesson: Lesson, text: str) -> str:
    return in_course_words(text) if lesson.examined else text


def _vote(lesson: Lesson) -> Question:
    return spoken(question(lesson.about["vote"]), lesson.spoken_as)


def _signs(lesson: Lesson) -> tuple[str, str]:
    return ("tension", "compression") if lesson.examined else ("pull", "squeeze")


def _words(lesson: Lesson) -> list[str]:
    """Return the words of these years that the lesson speaks, each with its line."""
    phases = [phase for period in lesson.periods for phase in (*period.core, *period.spare)]
    text = " ".join(f"{phase.teacher} {phase.pupils} {phase.more}" for phase in phases)
    return [
        f"{term.both}: {term.line}"
        for term in terms()
        if lesson.age in term.ages and term.spoken_in(text)
    ]


def lesson_plan(lesson: Lesson, on: datetime.date | None = None) -> str:
    """Return the plan of a lesson, or of a series.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML; see `glasskit.sheets.save`.

    """
    return render(
        "lesson_plan.html",
        on,
        title=f"Lesson: {lesson.title}",
        lesson=lesson,
        words=_words(lesson),
        question=_vote(lesson),
    )


def lesson_hazards(lesson: Lesson, on: datetime.date | None = None) -> str:
    """Return the hazards of a lesson's hands-on work, to complete and sign, as HTML."""
    return render(
        "lesson_hazards.html",
        on,
        title="Hazards of this lesson",
        lesson=lesson,
        emergency=rules("bend")["emergency"],
    )


def glossary_page(on: datetime.date | None = None) -> str:
    """Return the words of the kit, lay and trade beside each other, as HTML."""
    return render("glossary.html", on, title="Words", terms=terms())


def worksheets_for_all(
    lesson: Lesson, on: datetime.date | None = None, version: str = ""
) -> str:
    """Return the sheets that are the same for everyone: W1 and W6, as HTML.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.
    on : date, optional
        Date in the footer; today by default.
    version : {"", "large", "words"}
        Ordinary, in large print, or in words alone for a screen reader; see `VERSIONS`.

    Returns
    -------
    str
        HTML.

    Raises
    ------
    ValueError
        If there is no such version.

    """
    return _in_version(
        "lesson_same.html",
        on,
        version,
        title="Worksheets " + " and ".join(_of(lesson, "W1", "W6")),
        lesson=lesson,
        question=_vote(lesson),
    )


def _in_version(
    template: str, on: datetime.date | None, version: str, **content: object
) -> str:
    """Return a sheet in a version; in words alone, what is written on is a box with a name."""
    one_of("version", version, VERSIONS)
    sheet = render(template, on, version=version, **content)
    if version != "words":
        return sheet
    sheet = re.sub(r'(?:<div class="rule"></div>)+', _LONG, sheet)
    for empty, box in _BOXES.items():
        sheet = sheet.replace(empty, box)
    count = itertools.count(1)
    return re.sub(
        r'aria-label="answer"', lambda _: f'aria-label="answer {next(count)}"', sheet
    )


def _of(lesson: Lesson, *sheets: str) -> list[str]:
    return [sheet for sheet in sheets if sheet in lesson.sheets]


def numbered(lesson: Lesson) -> list[str]:
    """Return the worksheets of a lesson that bear other numbers for each pupil."""
    return [sheet for leaf in _LEAVES for sheet in _of(lesson, *leaf)]


def _pupil(lesson: Lesson, number: int, name: str) -> dict[str, object]:
    """Return what stands on the sheets of one pupil, and the answers."""
    sticks, plate = stick_task(lesson.seed, number), balance_task(lesson.seed, number)
    drop, walk = drop_task(lesson.seed, number), walk_task(lesson.seed, number)
    swap, work = swap_task(lesson.seed, number), work_task(lesson.seed, number)
    if lesson.age == "8-11":
        swap = replace(swap, small=_ROUGH[0], large=_ROUGH[1])
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
        "heights": [
            f"{height:.2f}".replace("-", "−") for height in paper_height(sticks.shares)
        ],
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
        "count": swap.count,
        "swapped": swap.swapped,
        "small": f"{swap.small * 1e3:.1f}".removesuffix(".0"),
        "large": f"{swap.large * 1e3:.1f}".removesuffix(".0"),
        "row": f"{swap.row * 1e3:.1f}".removesuffix(".0"),
        "longer": f"{swap.longer * 1e3:.1f}".removesuffix(".0"),
        "percent": f"{100 * swap.longer / swap.row:.0f}",
        "hours": f"{walk.hours:.0f}",
        "deep": f"{walk.depth * 1e6:.0f}",
        "deep4": f"{walk.depth_after(4) * 1e6:.0f}",
        "deep9": f"{walk.depth_after(9) * 1e6:.0f}",
        "hours5": f"{walk.hours_for(5):.0f}",
        "logs": [f"{log10(part * walk.hours):.2f}" for part in (1, 4, 9)],
        "deep_logs": [f"{log10(walk.depth_after(part) * 1e6):.2f}" for part in (1, 4, 9)],
        "scratch": f"{work.depth * 1e6:.0f}",
        "stored": f"{work.stored:.0f}",
        "toughness": f"{work.toughness / 1e6:g}",
        "modulus": f"{work.modulus / 1e9:g}",
        "shape": f"{work.shape:g}",
        "strong": [f"{work.strength(times) / 1e6:.0f}" for times in (1, 4, 16)],
        "strong_logs": [f"{log10(work.strength(times) / 1e6):.2f}" for times in (1, 4, 16)],
        "work": show_number(work.work, 2),
        "paid": show_number(work.paid, 2),
    }


def _numbered(lesson: Lesson) -> list[dict[str, object]]:
    return [_pupil(lesson, place, name) for place, name in enumerate(lesson.names, 1)]


def worksheets(lesson: Lesson, on: datetime.date | None = None, version: str = "") -> str:
    """Return worksheets with numbers of their own for each pupil.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.
    on : date, optional
        Date in the footer; today by default.
    version : {"", "large", "words"}
        Ordinary, in large print, or in words alone for a screen reader: sums or beads take the
        place of graphs, boxes that of lines.

    Returns
    -------
    str
        HTML; answers in `answer_key`.

    Raises
    ------
    ValueError
        If the lesson has none: see `numbered`; or if there is no such version.

    """
    wanted = numbered(lesson)
    if not wanted:
        raise ValueError(
            f"lesson must have worksheets by number; {lesson.title!r} for ages {lesson.age} "
            "has none"
        )
    oldest = lesson.age == "16-18"
    large = version == "large"
    signs, sloped = _signs(lesson), {"W7", "W8"} & set(wanted) and oldest
    papers = {
        "weibull": picture(weibull_paper(large)) if "W3" in wanted and oldest else "",
        "dots": picture(dot_paper(large)) if "W3" in wanted and not oldest else "",
        "balance": picture(balance_paper(*signs, large=large)) if "W4" in wanted else "",
        "slope": picture(slope_paper(large)) if sloped else "",
    }
    return _in_version(
        "lesson_numbered.html",
        on,
        version,
        title=f"Worksheets {', '.join(wanted)}",
        lesson=lesson,
        leaves=[leaf for leaf in (_of(lesson, *leaf) for leaf in _LEAVES) if leaf],
        pupils=_numbered(lesson),
        papers=papers,
    )


def _tickets(lesson: Lesson) -> list[dict[str, object]]:
    made = []
    for place, (name, asked) in enumerate(zip(lesson.names, lesson.tickets, strict=True), 1):
        questions = [spoken(one, lesson.spoken_as) for one in asked]
        answers = [
            (letters(one.correct + 1)[-1], one.options[one.correct].text) for one in questions
        ]
        made.append(
            {"number": place, "name": name, "questions": questions, "answers": answers}
        )
    return made


def exit_tickets(lesson: Lesson, on: datetime.date | None = None, version: str = "") -> str:
    """Return a ticket for each pupil, two questions in a form of their own, as HTML.

    They ask what the core of the lesson has taught; answers in `answer_key`.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.
    on : date, optional
        Date in the footer; today by default.
    version : {"", "large", "words"}
        As for `worksheets`.

    Returns
    -------
    str
        HTML.

    Raises
    ------
    ValueError
        If there is no such version.

    """
    return _in_version(
        "lesson_tickets.html",
        on,
        version,
        title="Exit tickets",
        lesson=lesson,
        tickets=_tickets(lesson),
    )


def answer_key(lesson: Lesson, on: datetime.date | None = None) -> str:
    """Return the answers to `worksheets` and `exit_tickets` of the same lesson, as HTML."""
    return render(
        "lesson_key.html",
        on,
        title="Answer key",
        lesson=lesson,
        sheets=numbered(lesson),
        pupils=_numbered(lesson),
        tickets=_tickets(lesson),
    )


def _typed(lesson: Lesson) -> list[dict[str, Any]]:
    """Return the numbers of W3 to W5 that a pupil can check: sheet, label, and what it is.

    What the key rounds to two digits may differ by more.
    """
    young, older = lesson.age == "8-11", lesson.age in ("14-16", "16-18")
    pull = "stress in the core / MPa"
    wanted = [
        ("W3", "largest minus smallest / g", "range", lesson.age != "16-18"),
        ("W3", "mean / g", "mean", lesson.age in ("11-14", "14-16")),
        ("W3", "63.2% are broken at / MPa", "scale", lesson.age == "16-18"),
        ("W4", "squeeze × depth of both skins / MPa·mm", "area", True),
        ("W4", "the core is thick / mm", "core_thick", True),
        ("W4", pull, "core", True),
        ("W4", "the face, bent / MPa", "net", older),
        ("W5", "times as high", "times", young),
        ("W5", "energy / J", "energy", not young),
        ("W5", "speed / m/s", "speed", older),
        ("W5", "force, short stop / N", "hard", not young),
        ("W5", "force, long stop / N", "soft", not young),
    ]
    return [
        {
            "sheet": sheet,
            "label": _said(lesson, label),
            "what": what,
            "near": _NEAR if sheet == "W5" else _NEARER,
        }
        for sheet, label, what, asked in wanted
        if asked and sheet in lesson.sheets
    ]


def pupils_page(
    lesson: Lesson,
    sliders: Sequence[Mapping[str, object]] = (),
    on: datetime.date | None = None,
) -> str:
    """Return one page that needs nothing but a browser, and no network.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.
    sliders : sequence
        Explorers with their questions, see `glasskit.live.to_go.sliders_of`.
    on : date, optional
        Date in the footer; today by default.

    Returns
    -------
    str
        HTML: each question first, then its slider; and boxes in which pupils check the numbers
        of worksheets W3 to W5, if the lesson has them.

    """
    asked = _typed(lesson)
    return render(
        "pupils_page.html",
        on,
        title=lesson.title,
        lesson=lesson,
        parts=sliders,
        asked=[{**field, "place": str(place)} for place, field in enumerate(asked)],
        answers=[
            [float(str(pupil[field["what"]]).replace("−", "-")) for field in asked]
            for pupil in _numbered(lesson)
        ],
    )


def _true_size(lesson: Lesson) -> list[Figure]:
    """Return the pages at true size that the hands-on work of a lesson needs."""
    pages: dict[str, tuple[Callable[[str], Figure], ...]] = {
        "Paper strips": (paper_crack,),
        "Discs and tray": (ion_discs, network_tray),
        "Dropping": (partial(joule_ruler, mass=lesson.mass),),
    }
    return [
        make(lesson.paper)
        for activity in lesson.activities
        for make in pages.get(activity, ())
    ]


@in_steps
def lesson_pack(
    folder: str | os.PathLike[str],
    lesson: Lesson,
    on: datetime.date | None = None,
    sliders: Sequence[Mapping[str, object]] = (),
) -> Steps[list[Path]]:
    """Write everything for a lesson into a folder.

    Parameters
    ----------
    folder : path
        Made if it is not there; files of the same names are replaced.
    lesson : Lesson
        What was chosen.
    on : date, optional
        Date in the footer; today by default.
    sliders : sequence
        As for `pupils_page`.

    Returns
    -------
    list of Path
        One file with all that is printed, as HTML and, where a browser is found that can make
        one, as PDF; its parts and the page for pupils without Python as HTML; pages at true
        size as PDF. They are written when all have been made.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)  # whether it can be written to is said at once
    yield 0.0, "plan, hazards, worksheets and tickets"
    pages = {
        "1_lesson_plan": lesson_plan(lesson, on),
        "2_hazards": lesson_hazards(lesson, on),
        "3_answer_key": answer_key(lesson, on),
        "4_worksheets_for_all": worksheets_for_all(lesson, on),
    }
    if numbered(lesson):
        pages["5_worksheets_by_number"] = worksheets(lesson, on)
    pages["6_exit_tickets"] = exit_tickets(lesson, on)
    whole = bound(
        f"Lesson: {lesson.title}",
        list(pages.values()),
        [picture(figure) for figure in _true_size(lesson)],
        PAPERS[lesson.paper],
    )
    for place, version in enumerate(lesson.also, 9):
        made_so = [worksheets_for_all(lesson, on, version)]
        made_so += [worksheets(lesson, on, version)] if numbered(lesson) else []
        made_so += [exit_tickets(lesson, on, version)]
        name = f"{place}_{VERSIONS[version]}".replace(" ", "_").replace(",", "")
        title = f"Lesson: {lesson.title}, {VERSIONS[version]}"
        outlines = [picture(touch_page(lesson.topic, lesson.paper))] * (version == "words")
        pages[name] = bound(title, made_so, outlines, PAPERS[lesson.paper], version)
    pages["7_page_for_pupils"] = pupils_page(lesson, sliders, on)
    pages["8_words"] = glossary_page(on)
    with TemporaryDirectory() as scratch:
        made = Path(scratch)
        all_in_one = save(whole, made / "0_print_this.html")
        as_pdf = yield from printed.steps(all_in_one)
        paths = [all_in_one, *as_pdf]
        paths += [save(html, made / f"{name}.html") for name, html in pages.items()]
        paths += save_printables(made, lesson.mass, [lesson.paper])
        return [replace_file(folder / path.name, path.read_bytes()) for path in paths]
