# SPDX-License-Identifier: MIT
"""The teacher's page: from one choice the plan, the vote, what to print and the tickets."""

import html
from collections.abc import Callable, Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.classroom import AGES, Lesson, curriculum, question, read_tickets, topics
from glasskit.classroom.lessons import MINUTES, PAPERS, SERIES
from glasskit.live import gallery
from glasskit.live.aloud import status
from glasskit.live.answers import Report, Screens
from glasskit.live.controls import failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import (
    Panel,
    button,
    controls,
    file_link,
    framed,
    placed,
    row,
    text_field,
)
from glasskit.live.style import STYLE
from glasskit.live.tally import Vote, show_of_hands
from glasskit.live.to_go import sliders_of
from glasskit.live.work import Work
from glasskit.sheets.lesson import lesson_pack
from glasskit.steps import Steps, part
from glasskit.words.glossary import in_course_words
from glasskit.words.tickets import tickets_numbers, tickets_sentence

_LESSONS = {"one lesson": 1, "a series of three": SERIES}
_WORDS = {"by age": "", "lay: squeeze, pull": "lay", "examined: compression": "examined"}
_ALSO = {
    "ordinary print": (),
    "and large print": ("large",),
    "and in words, for a blind pupil": ("words",),
    "and both": ("large", "words"),
}
_ASK = {"Ask": "before", "Close it: talk it over": "talk", "Ask again": "after"}


def _menu(label: str, options: Any, value: Any) -> Any:
    menu = widgets.Dropdown(description=label, options=options, value=value)
    menu.add_class("glasskit-box")
    return menu


def _count(label: str, value: int, least: int, most: int) -> Any:
    box = widgets.BoundedIntText(description=label, value=value, min=least, max=most)
    box.add_class("glasskit-box")
    return box


class LessonPanel(Panel):
    """A choice, and below it all that a lesson needs.

    Attributes
    ----------
    topic, age, minutes, lessons, pupils, named, words, paper, also, folder : Widget
        What is chosen; nicknames with commas between them say how many pupils there are.
    lesson : Lesson
        What follows from it; the last one that could be taught.
    asked : Dropdown
        The questions of this lesson, that of the vote first.
    vote : Vote
        The one that is asked, to count hands.
    screens : Screens
        Lets pupils answer it on their own screens.
    shown : Explorer or None
        The slider of the lesson's first page, once it has been asked for.
    write : Button
        Writes the pages to print.
    work : Work
        How far that is, and how to stop it.
    paths : list of Path
        What was written last.
    look : Button
        Shows the slider of the lesson's first page, once the room has voted.
    first, second : Text
        Letters of the tickets that came back.
    plan, saved, told : HTML
        The plan, what was written, what the tickets tell.
    note : HTML
        What is wrong with the choice, or being done.
    widget : VBox
        The whole, to put into other widgets.

    """

    def __init__(self) -> None:
        self.lesson = Lesson()
        self._report: Report = {"stage": "wait", "key": "", "given": {}}  # the room's last one
        self.shown: Explorer[Any] | None = None
        titles = [(about["title"], key) for key, about in topics().items()]
        self.topic = _menu("topic", titles, self.lesson.topic)
        self.age = _menu("age", AGES, self.lesson.age)
        self.minutes = _count("minutes", self.lesson.minutes, *MINUTES)
        self.lessons = _menu("how many", list(_LESSONS.items()), self.lesson.lessons)
        self.pupils = _count("pupils", len(self.lesson.names), 1, 200)
        self.named = text_field("or nicknames, with commas")
        self.words = _menu("words", list(_WORDS.items()), self.lesson.words)
        self.paper = _menu("paper", PAPERS, self.lesson.paper)
        self.also = _menu("sheets", list(_ALSO.items()), self.lesson.also)
        self.folder = text_field("folder", "lesson")
        chosen = (
            *(self.topic, self.age, self.minutes, self.lessons),
            *(self.pupils, self.named, self.words, self.paper, self.also),
        )
        for one in chosen:
            one.observe(lambda _: self._choose(), "value")
        self.note, self.saved, self.work = message(), status(), Work()
        self.plan, self.told = widgets.HTML(), status()
        self.paths: list[Path] = []
        self.write = button("Write the pages to print", self.save)
        self.look = button("Show what happens", self._see)
        self.first = text_field("letters, first question")
        self.second = text_field("letters, second question")
        self._counted = message()
        count = button("What to teach again?", self.count)
        self._voting, self._seen = widgets.VBox(), widgets.VBox()
        self.vote: Vote
        self.asked = _menu("question", [""], "")
        self.asked.add_class("glasskit-wide")
        self.asked.observe(lambda change: self._put(change["new"]), "value")
        ask = {
            name: lambda stage=stage: {"stage": stage, "question": asdict(self.vote.item)}
            for name, stage in _ASK.items()
        }
        self.screens = Screens(lambda: len(self.lesson.names), ask, self._heard)
        title = widgets.HTML(f"{STYLE}<h3>1. Choose</h3>")
        self.widget = widgets.VBox(
            [
                framed(
                    title,
                    controls(placed(one) for one in (*chosen, self.folder)),
                    row(self.write),
                    self.work.widget,
                    self.note,
                    self.saved,
                    self.plan,
                ),
                framed(
                    widgets.HTML("<h3>3. Ask, count, talk, count again</h3>"),
                    controls([placed(self.asked)]),
                    self.screens.widget,
                ),
                self._voting,
                framed(
                    widgets.HTML("<h3>4. See what happens, once all have answered</h3>"),
                    row(self.look),
                ),
                self._seen,
                framed(
                    widgets.HTML(
                        "<h3>5. Exit tickets</h3><p>Type the letter of each ticket in the "
                        "order of their numbers, such as ABBAC; - for none.</p>"
                    ),
                    controls([placed(self.first), placed(self.second)]),
                    row(count),
                    self._counted,
                    self.told,
                ),
            ]
        )
        self._choose()

    def _choose(self) -> None:
        """Follow the choice; what cannot be taught is said, and the last lesson stays."""
        set_message(self.note, "")
        named = [name for part in self.named.value.split(",") if (name := part.strip())]
        self.pupils.disabled = bool(named)
        try:
            self.lesson = Lesson(
                topic=self.topic.value,
                age=self.age.value,
                minutes=self.minutes.value,
                lessons=self.lessons.value,
                pupils=named or self.pupils.value,
                words=self.words.value,
                paper=self.paper.value,
                also=self.also.value,
            )
        except ValueError as refusal:
            set_message(self.note, f"{refusal}; below still stands the last lesson")
            return
        self.plan.value = plan_of(self.lesson)
        self.saved.value = self.told.value = ""
        self._hide()
        keys = dict.fromkeys([self.lesson.about["vote"], *self.lesson.taught])
        listed = [(question(key).text, key) for key in keys]
        first = listed[0][1]
        if self.asked.value == first:
            self._put(first)
        self.asked.options = listed  # chooses the first

    def _put(self, key: str) -> None:
        """Put up a question; on the pupils' screens it stands once it is asked."""
        former = getattr(self, "vote", None)
        self.vote = show_of_hands(key, self.lesson.spoken_as, len(self.lesson.names))
        self._told = False
        self.vote.controls["revealed"].on_change(self._tell)
        self._voting.children = [self.vote.widget]
        if former:
            former.close()
        self._heard(self._report)

    def _tell(self) -> None:
        """Tell what happens on the pupils' screens, too."""
        told = self.vote.controls["revealed"].value
        if told != self._told:
            self._told = told
            item = asdict(self.vote.item)
            self.screens.ask({"stage": "told" if told else "talk", "question": item})

    def _heard(self, report: Report) -> None:
        """Count what came from screens, once it is closed: nobody shall follow the others."""
        self._report, key = report, self.vote.item.key
        still_open = report["stage"] if report["key"] == key else ""
        given = report["given"].get(key, {})
        self.vote.count(**{when: given[when] for when in given if when != still_open})

    def _hide(self) -> None:
        self._seen.children = []
        if self.shown:
            self.shown.close()
            self.shown = None

    def _see(self) -> None:
        """Show the slider of the first page, without its question: the room has voted."""
        self._hide()
        self.shown = gallery.explorer(self.lesson.pages[0])
        self.shown.speak(self.lesson.spoken_as)
        self._seen.children = [self.shown.widget]

    def save(self) -> None:
        """Write the pages to print, and say where they are."""
        self.work.start(self._written(), [self.write], "stopped: nothing was written")

    def _written(self) -> Steps[None]:
        lesson, self.paths = self.lesson, []
        name = f"{lesson.topic}-{lesson.age}-{lesson.minutes}min"
        folder = Path(self.folder.value.strip() or ".") / name
        set_message(self.note, "")
        with failing(self.note, f"the pages could not be saved in {folder}"):
            steps = sliders_of.steps(lesson)
            sliders = yield from part(steps, (1, 2), "sliders for pupils")
            pack = lesson_pack.steps(folder, lesson, sliders=sliders)
            self.paths = yield from part(pack, (2, 2), "the pages")
            whole, *others = self.paths
            if others[0].stem == whole.stem:
                whole, others = others[0], [whole, *others[1:]]
            how = (
                "print it at 100%"
                if whole.suffix == ".pdf"
                else "open it, then print it, or save it as a PDF"
            )
            listed = ", ".join(map(file_link, others))
            self.saved.value = (
                f"All in one: <b>{file_link(whole)}</b>; {how}. "
                f"Its parts, in {html.escape(str(folder))}: {listed}."
            )

    def count(self) -> None:
        """Say what the letters of the tickets tell."""
        set_message(self._counted, "")
        try:
            result = read_tickets(self.lesson, self.first.value, self.second.value)
        except ValueError as refusal:
            set_message(self._counted, str(refusal))
            return
        say = self._spoken
        rows = "".join(
            f"<tr><th scope='row'>{html.escape(say(label))}</th><td>{text}</td></tr>"
            for label, text in tickets_numbers(result)
        )
        said = html.escape(say(tickets_sentence(result)))
        self.told.value = f"{said}<table>{rows}</table>"

    @property
    def _spoken(self) -> Callable[[str], str]:
        return in_course_words if self.lesson.examined else str


def _map(rows: Iterable[dict[str, str]]) -> str:
    """Return ideas that curricula ask for, each with where it is met, as a table."""
    return (
        "<table class='glasskit-plan'>"
        + "".join(
            f"<tr><th scope='row'>{html.escape(row['idea'])}</th><td>{row['subject']}</td>"
            f"<td>ages {row['ages'].replace(';', ', ')}</td>"
            f"<td>{html.escape(row['done'])}</td>"
            f"<td>{_links(row['pages'].split(';'))}</td></tr>"
            for row in rows
        )
        + "</table>"
    )


def _links(pages: Iterable[str]) -> str:
    links = (f'<a href="{page}.ipynb" target="_blank">{page}</a>' for page in pages)
    return " → ".join(links)


def _list(texts: list[str]) -> str:
    return "<ul>" + "".join(f"<li>{text}</li>" for text in texts) + "</ul>"


def plan_of(lesson: Lesson) -> str:
    """Return the plan of a lesson for the screen, as HTML.

    Parameters
    ----------
    lesson : Lesson
        What was chosen.

    Returns
    -------
    str
        Cautions, minutes, pages in their order, sheets and materials. What answers the
        question of the vote is folded away: the page may be on the wall.

    """
    say = in_course_words if lesson.examined else str

    def told(text: str) -> str:
        return html.escape(say(text))

    parts = ["<h3>2. The lesson</h3>", f"<p><b>{told(' '.join(lesson.cautions))}</b></p>"]
    for number, period in enumerate(lesson.periods, 1):
        name = f"Lesson {number}: " if lesson.lessons > 1 else ""
        free = period.minutes - period.taken
        parts.append(f"<h4>{name}{period.taken} minutes planned, {free} in hand</h4>")
        start, rows = 0, []
        for phase in period.core:
            more = f"{told(phase.more)} ({phase.more_minutes} min)" if phase.more else ""
            rows.append(
                f"<tr><th scope='row'>{start}–{start + phase.minutes}</th>"
                f"<td>{phase.name}</td><td>{told(phase.teacher)}</td><td>{more}</td></tr>"
            )
            start += phase.minutes
        head = "<tr><th>minutes</th><th>phase</th><th>core</th><th>if there is time</th></tr>"
        spare = "; ".join(f"{one.name} ({one.minutes} min)" for one in period.spare)
        parts.append(
            "<details><summary>Who does what: for you, it holds the answers</summary>"
            f"<table class='glasskit-plan'>{head}{''.join(rows)}</table>"
            + (f"<p>If there is time: {spare}.</p>" if spare else "")
            + "</details>"
        )
    materials = [
        html.escape(f"{row['amount']} × {row['item']}" + (row["note"] and f" ({row['note']})"))
        for row in lesson.materials
    ]
    hazards = [
        f"<b>{html.escape(row['activity'])}.</b> {html.escape(row['hazard'])}"
        for row in lesson.hazards
    ]
    others = [page for page in lesson.pages if page not in lesson.planned_pages]
    further = f" For who is done early: {_links(others)}." if others else ""
    parts += [
        f"<p>Pages, in this order: {_links(lesson.planned_pages)}.{further}</p>",
        f"<p>Sheets: {', '.join(lesson.sheets)}, exit tickets with "
        f"{len(lesson.taught)} questions that the core teaches, answer key.</p>",
        f"<details><summary>Materials for {len(lesson.names)} pupils</summary>"
        f"{_list(materials)}</details>",
        "<details><summary>What can hurt; the controls stand on the hazard page</summary>"
        f"{_list(hazards)}</details>",
        "<details><summary>What this lesson serves in your curriculum</summary>"
        f"{_map(lesson.curriculum)}</details>",
        "<details><summary>All ideas, for the whole year, and the pages that serve them"
        f"</summary>{_map(curriculum())}</details>",
    ]
    return "".join(parts)


def run_a_lesson() -> LessonPanel:
    """Return the teacher's page.

    Returns
    -------
    LessonPanel
        Shown by a notebook as the last line of a cell.

    """
    return LessonPanel()
