# SPDX-License-Identifier: MIT
"""The record of a first week: tasks by day, evidence to file, and what the file holds."""

import datetime
import html
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.files import named
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import Panel, button, controls, framed, placed, row, text_field
from glasskit.live.style import STYLE
from glasskit.sheets.page import save
from glasskit.sheets.training import week_record
from glasskit.training import Entry, Week, add_entry, open_week, tasks
from glasskit.words.week import DAYS, week_rows, week_sentence

FILE = "my_week.csv"
"""Where the record lies at the start, beside the notebook."""


def file_result(file: str | Path, task: str, evidence: str, note: Any) -> None:
    """Add what an exercise gave to the record; say so, or what went wrong."""
    today = datetime.date.today()
    with failing(note, "the record of the week cannot be written"):
        add_entry(file, Entry(day=today, task=task, evidence=evidence, seen_by="the kit"))
        set_message(note, f"filed in {Path(file).name}: {evidence}")


class WeekPanel(Panel):
    """Tasks of a first week, and a line of evidence for each.

    Parameters
    ----------
    file : path
        The record; made with its first entry.

    Attributes
    ----------
    file, day, evidence, seen_by, name : Text
        Where the record is; when, what shows it, who saw it; whose record it is.
    task : Dropdown
        What was done.
    add, again, print : Button
        File it, read the file again, save the page to sign.
    note, state : HTML
        What went wrong or was done; every task and its evidence.
    widget : VBox
        The whole.

    """

    def __init__(self, file: str | Path = FILE) -> None:
        self.file, self.name = text_field("my record", str(file)), text_field("my name")
        self.day = text_field("date", datetime.date.today().isoformat())
        self.evidence, self.seen_by = text_field("what shows it"), text_field("seen by")
        options = [(f"{DAYS[one.day]}: {one.words}", key) for key, one in tasks().items()]
        self.task = widgets.Dropdown(description="task", options=options)
        self.task.add_class("glasskit-box")
        self.task.add_class("glasskit-wide")
        self.add = button("File it", self.file_it)
        self.again = button("Read the record again", self.show)
        self.print = button("Save the page to sign", self.save_page)
        self.note, self.state = message(), widgets.HTML()
        first, last = (self.file, self.name), (self.day, self.evidence, self.seen_by)
        self.widget = framed(
            widgets.HTML(f"{STYLE}<strong>The record of my week</strong>"),
            controls(map(placed, first)),
            self.task,
            controls(map(placed, last)),
            row(self.add, self.again, self.print),
            self.note,
            self.state,
        )
        self.file.observe(lambda _: self.show(), "value")
        self.show()

    @property
    def week(self) -> Week:
        """What the file holds; nothing, with a message, if it cannot be read."""
        found = Week()
        with failing(self.note, "the record cannot be read"):
            try:
                found = open_week(self.file.value.strip())
            except ValueError as refusal:
                set_message(self.note, str(refusal))
        return found

    def file_it(self) -> None:
        """Add a line to the record."""
        with failing(self.note, "the record cannot be written"):
            try:
                entry = Entry(
                    day=datetime.date.fromisoformat(self.day.value.strip()),
                    task=self.task.value,
                    evidence=self.evidence.value,
                    seen_by=self.seen_by.value,
                )
                self._tell(add_entry(self.file.value.strip(), entry))
                set_message(self.note, f"filed in {self.file.value}")
                self.evidence.value = ""
            except ValueError as refusal:
                set_message(self.note, str(refusal))

    def show(self) -> None:
        """Read the file and show what it holds."""
        set_message(self.note, "")
        self._tell(self.week)

    def _tell(self, week: Week) -> None:
        rows = "".join(
            f'<tr><th scope="row">{html.escape(day)}</th><th>{html.escape(words)}</th>'
            f"{_evidence(told, wanted)}<td>{html.escape(seen)}</td></tr>"
            for day, words, wanted, told, seen in week_rows(week)
        )
        troubles = "".join(
            f"<p>Line {one.line} is not understood and stays: {html.escape(one.words)}.</p>"
            for one in week.troubles
        )
        heads = "<tr><th>when</th><th>task</th><th>what shows it</th><th>seen by</th></tr>"
        self.state.value = (
            f'<div role="status">{html.escape(week_sentence(week))}</div>{troubles}'
            f'<table class="glasskit-numbers">{heads}{rows}</table>'
        )

    def save_page(self) -> Path | None:
        """Save the page to sign beside the record; none of a record that cannot be read."""
        path = None
        with failing(self.note, "the page cannot be saved"):
            try:
                mine = named(self.file.value.strip())
                page = week_record(open_week(mine), {"trainee": self.name.value})
                path = save(page, mine.with_name(f"{mine.stem}-page.html"))
                set_message(self.note, f"saved {path}: print it and have it signed")
            except ValueError as refusal:
                set_message(self.note, f"no page is saved: {refusal}")
        return path


def _evidence(told: str, wanted: str) -> str:
    """Return the cell of what shows a task; what is still wanted stands in ordinary type."""
    if told:
        return f"<td>✓ {html.escape(told)}</td>"
    return f"<th>wanted: {html.escape(wanted)}</th>"


def week_panel(file: str | Path = FILE) -> WeekPanel:
    """Return the record of notebook 40."""
    return WeekPanel(file)
