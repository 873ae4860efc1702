# SPDX-License-Identifier: MIT
"""A panel to practise with: find the planted mistake, put the number right, keep a record."""

import datetime
import html
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.files import named
from glasskit.live.aloud import name_aloud, status
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import (
    Panel,
    button,
    controls,
    enlarge,
    framed,
    placed,
    row,
    text_field,
)
from glasskit.live.style import STYLE
from glasskit.quantities import typed
from glasskit.sheets.page import save
from glasskit.sheets.training import practice_record
from glasskit.training import Attempt, Progress, open_progress, practice_set, save_progress
from glasskit.training.cases import name_of
from glasskit.words.training import choice_reply, number_reply, progress_sentence

_UNWRITTEN = "the file cannot be written"


class PracticePanel(Panel):
    """Cases by number, five answers to choose from, a box for the number, hints, a record.

    Parameters
    ----------
    file : path
        The trainee's own file; made with the first try.
    seed : int
        Number of the set.

    Attributes
    ----------
    progress : Progress
        What the file holds.
    case : Case
        The one on the page.
    picks, choices : list of Button
        One for each case, and for each mistake to choose from.
    file, name, number : Text
        Where the file is, whose it is, the answer.
    check, hint, other, harder, record, larger : Button
        Mark the number, give a hint, draw another set, show numbers only or words again, save
        the record, larger type.
    reply, note, state : HTML
        What is said to the last try; troubles with the file; how far the trainee is.
    widget : VBox
        The whole.

    """

    def __init__(self, file: str | Path = "my_practice.json", seed: int = 1) -> None:
        self.progress = Progress()
        self._seed, self._level = seed, 1
        self._recorded = ""  # what was said of the record saved last
        self.file, self.name = text_field("my file", str(file)), text_field("my name")
        self.picks: list[Any] = []
        self.choices: list[Any] = []
        self._pick_row, self._choice_box = row(), widgets.VBox()
        self.story, self.reply, self.hints = (status() for _ in range(3))
        self.state, self.note = status(), message()
        self.number = widgets.Text(continuous_update=True)
        self.number.add_class("glasskit-box")
        self.check = button("Check my number", self.answer)
        self.hint = button("Give me a hint", self.give_hint)
        self.other = button("Another set of cases", self.next_set)
        self.harder = button("Numbers only", self.switch_level)
        self.record = button("Save my record", self.save_record)
        self.larger = button("Larger type", self.switch_type)
        self._large = False
        self.widget = self._laid_out()
        self.file.observe(lambda _: self.open(), "value")
        self.name.observe(lambda _: self._named(), "value")
        self._deal()
        self.open()

    def _laid_out(self) -> Any:
        mine = controls([placed(self.file), placed(self.name)])
        heading = widgets.HTML(f"{STYLE}<strong>Find the mistake</strong>")
        return framed(
            *(heading, mine, self.state, self._pick_row, self.story, self._choice_box),
            *(row(self.number, self.check, self.hint), self.reply, self.hints),
            *(row(self.other, self.harder, self.record, self.larger), self.note),
        )

    # --- cases ------------------------------------------------------------------------------

    def _deal(self) -> None:
        self._cases = practice_set(self._seed, self._level)
        self.picks = [
            button(str(place), partial(self.pick, place - 1))
            for place in range(1, len(self._cases) + 1)
        ]
        for pick, one in zip(self.picks, self._cases, strict=True):
            name_aloud(pick, f"case {pick.description}: {one.title}")
        self._pick_row.children = self.picks
        self.pick(0)

    def next_set(self) -> None:
        """Draw the cases anew with other numbers."""
        self._seed += 1
        self._deal()
        self._show_state()

    def switch_level(self) -> None:
        """Show numbers only in the workings, or words again; the case stays."""
        self._level = 2 if self._level == 1 else 1
        self.harder.description = "Numbers only" if self._level == 1 else "Words again"
        place = self._place
        self._deal()
        self.pick(place)

    def pick(self, place: int) -> None:
        """Put a case on the page, counted from 0."""
        self._place = place
        self.case = one = self._cases[place]
        parts = (one.story, f"The working: {one.working}", f"{one.question}")
        said = "".join(f"<p>{html.escape(part)}</p>" for part in parts)
        title = html.escape(f"Case {place + 1}: {one.title}")
        self.story.value = f"<strong>{title}</strong>{said}"
        self.choices = [self._choice(kind) for kind in one.choices]
        asked = widgets.HTML("<strong>Which mistake was made, if any?</strong>")
        self._choice_box.children = [asked, *self.choices]
        self.number.value = ""
        self.number.description = f"right number / {one.unit}".rstrip(" /")
        self._say("")
        self._show_state()
        self._show_hints()

    def _choice(self, mistake: str) -> Any:
        words = name_of(mistake)
        choice = button(words[0].upper() + words[1:], lambda: self.choose(mistake))
        choice.add_class("glasskit-choice")
        return choice

    # --- tries ------------------------------------------------------------------------------

    def choose(self, mistake: str) -> None:
        """Name a mistake."""
        old, right = self._attempt, mistake == self.case.mistake
        if not old.named:
            self._keep(replace(old, guesses=old.guesses + 1, named=right))
        self._say(choice_reply(self.case, self.case.mistake if old.named else mistake))

    def answer(self) -> None:
        """Mark the number in the box."""
        try:
            number = typed(self.number.value, self.case.quantity, "metric")
        except ValueError as refusal:
            self._say(f"{refusal}.")
            return
        old, verdict = self._attempt, self.case.mark(number)
        if not old.solved:
            self._keep(replace(old, tries=old.tries + 1, solved=verdict == "right"))
        said = number_reply(self.case, number)
        if verdict == "right" and not old.named:
            said += " Now say which mistake it was, if any: that is still missing."
        self._say(said)

    def give_hint(self) -> None:
        """Show one more hint."""
        old = self._attempt
        if old.hints < len(self.case.hints):
            self._keep(replace(old, hints=old.hints + 1))
        self._show_hints()

    @property
    def _attempt(self) -> Attempt:
        today = datetime.date.today()
        found = self.progress.of(self.case.mistake, self.case.seed, today, self._level)
        return replace(found, day=today)

    def _say(self, words: str) -> None:
        self.reply.value = f"<strong>{html.escape(words)}</strong>"

    def _show_hints(self) -> None:
        given = self.case.hints[: self._attempt.hints]
        rows = "".join(f"<li>{html.escape(hint)}</li>" for hint in given)
        self.hints.value = f"<ol>{rows}</ol>" if rows else ""
        self.hint.disabled = len(given) == len(self.case.hints)

    def _show_state(self) -> None:
        here = self._attempt
        for choice, kind in zip(self.choices, self.case.choices, strict=True):
            choice.icon = "check" if here.named and kind == self.case.mistake else ""
        for pick, one in zip(self.picks, self._cases, strict=True):
            done = self.progress.of(one.mistake, one.seed, here.day, one.level).done
            pick.icon = "check" if done else ""
        for place, pick in enumerate(self.picks):
            pick.button_style = "info" if place == self._place else ""
        said = html.escape(f"Set {self._seed}. {progress_sentence(self.progress)}")
        self.state.value = said

    # --- the trainee's file -----------------------------------------------------------------

    def open(self) -> None:
        """Read the trainee's file; a damaged one is kept aside and reported."""
        set_message(self.note, "")
        self.progress = Progress()  # of another file, maybe: it must not get into this one
        with failing(self.note, "the file cannot be read"):
            opened = open_progress(self.file.value.strip())
            self.progress = opened.progress
            if opened.trouble:
                set_message(self.note, opened.trouble)
        self.name.value = self.progress.trainee
        self._show_state()
        self._show_hints()

    def _named(self) -> None:
        if self.name.value != self.progress.trainee:
            self.progress = replace(self.progress, trainee=self.name.value)
            self._write()

    def _keep(self, attempt: Attempt) -> None:
        self.progress = self.progress.with_attempt(attempt)
        if self.note.value == self._recorded:  # the record that was saved lacks this attempt
            set_message(self.note, "")
        self._write()
        self._show_state()

    def _write(self) -> None:
        with failing(self.note, f"copy your answers, {_UNWRITTEN}"):
            opened = save_progress(self.progress, self.file.value.strip())
            self.progress = opened.progress
            if opened.trouble:
                set_message(self.note, opened.trouble)
            elif _UNWRITTEN in self.note.value:
                set_message(self.note, "the file is written again, with all your answers")

    def save_record(self) -> Path | None:
        """Save the record to be signed beside the trainee's file; an older one is replaced."""
        path = None
        with failing(self.note, "the record cannot be saved"):
            mine = named(self.file.value.strip())
            place = mine.with_name(f"{mine.stem}-record.html")  # never the trainee's file
            path = save(practice_record(self.progress), place)
            set_message(self.note, f"saved {path}: print it and have it signed")
            self._recorded = self.note.value
        return path

    def switch_type(self) -> None:
        """Show larger type, or ordinary type again."""
        self._large = not self._large
        self.larger.description = "Smaller type" if self._large else "Larger type"
        enlarge(self.widget, self._large)


def practice_panel(file: str | Path = "my_practice.json", seed: int = 1) -> PracticePanel:
    """Return the panel of notebook 42."""
    return PracticePanel(file, seed)
