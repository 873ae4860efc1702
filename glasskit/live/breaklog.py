# SPDX-License-Identifier: MIT
"""A form for the break log: one blow at a time, added to a file that nothing can spoil."""

import datetime
import html
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

import ipywidgets as widgets

from glasskit.demonstration import Entry, Log, read_log
from glasskit.demonstration.breaklog import add, entry_as_typed
from glasskit.files import named
from glasskit.live.aloud import grouped, status
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.quantities import System, plain_number, unit
from glasskit.words.demonstration import blow_words, log_sentences

_ADD, _CORRECT = "Add this blow to the log", "Correct it"
_OPEN = "not said yet"
_WENT = {_OPEN: None, "it broke": True, "it held": False}


class LogForm:
    """Blows as they happened, and what the file holds.

    Parameters
    ----------
    file : path
        The log; made with its first entry.
    added : callable
        Called when a blow was added or another file named.

    Attributes
    ----------
    file, day, pane, number, height, surface, went, origin : Text or Dropdown
        What the reader fills in; `number` only for a pane struck more than once. It is
        evidence: no plan proposes or changes any of it, and the height stays for the next.
    button : Button
        Adds the blow, or puts it in the place of the one that is being corrected.
    blows : Dropdown
        The blows that count, the newest first.
    correct, take_back : Button
        What can be done with the one that is chosen.
    note, stored, report : HTML
        What is wrong with the form; what was stored last; what the file holds.

    """

    def __init__(self, file: str | Path, added: Callable[[], None]) -> None:
        self._added = added
        self._names: tuple[str, ...] = ()
        self._system: System = "metric"
        self._instead: Entry | None = None  # the blow that is being corrected
        self.file = text_field("log file", str(file))
        self.day = text_field("date", datetime.date.today().isoformat())
        self.pane = widgets.Dropdown(description="pane", options=[])
        self.number = text_field("number of the pane")
        self.surface = text_field("it lay on")
        self.went = widgets.Dropdown(description="what it did", options=list(_WENT))
        self.origin = text_field("broke from")
        self.height = text_field("")
        self.blows = widgets.Dropdown(description="in the log", options=[])
        for menu in (self.pane, self.went, self.blows):
            menu.add_class("glasskit-box")
        self.button = button(_ADD, self.add)
        self.correct = button(_CORRECT, self.start_correction)
        self.take_back = button("Take it back", self.withdraw)
        self.note, self.stored, self.report = message(), message(), status()
        first, last = (self.file, self.day, self.pane, self.number), (self.went, self.origin)
        panel = controls(
            [
                *map(placed, first),
                *map(placed, (self.height, self.surface)),
                *map(placed, last),
            ]
        )
        head = widgets.HTML(
            "<strong>The break log</strong><br>One file for each rig: start another when "
            "ball, support or glass change. Number a pane only if it is struck again."
        )
        self.widget = widgets.VBox(
            [
                *(head, panel, row(self.button), self.note, self.stored, self.report),
                row(placed(self.blows), self.correct, self.take_back),
            ]
        )
        grouped(self.widget)
        self.file.observe(lambda _: self._added(), "value")
        self.use("metric")

    def use(self, system: System) -> None:
        """Show heights in other units; one that was typed stays, with the unit it was in."""
        with suppress(ValueError):  # it has its unit already, or waits to be mended
            plain_number(self.height.value)
            self.height.value += f" {unit('height', self._system).symbol}"
        self._system = system
        self.height.description = f"height / {unit('height', system).symbol}"

    def ask(self, names: Sequence[str]) -> None:
        """Offer the panes of a plan; what is filled in already stays."""
        chosen, self._names = self.pane.value, tuple(names)
        options = [*names] if chosen in (None, *names) else [*names, chosen]
        if options != list(self.pane.options):
            self.pane.options = options
            self.pane.value = chosen or names[0]

    def read(self) -> Log:
        """Read the file, say what it holds, and return it; empty if it cannot be read."""
        log = Log(entries=(), troubles=())
        with failing(self.note, "the log cannot be read"):
            log = read_log(self.file.value.strip())
        rows = "".join(
            f"<li>{html.escape(said)}</li>"
            for said in log_sentences(log, self._names, self._system)
        )
        self.report.value = f"<ul>{rows}</ul>"
        newest = log.entries[::-1]
        # A line from elsewhere moves neither a correction nor an older blow that is chosen.
        held = self._instead or (self.blows.value if self.blows.index else None)
        self.blows.options = [
            (f"{len(newest) - place}: {blow_words(entry, self._system)}", entry)
            for place, entry in enumerate(newest)
        ]
        if newest:
            self.blows.index = newest.index(held) if held in newest else 0
        self._corrects(self._instead)
        return log

    def entry(self) -> Entry:
        """Return the blow as filled in.

        Raises
        ------
        ValueError
            If date or height is none, or it was not said what the pane did.

        """
        return entry_as_typed(
            day=self.day.value,
            pane=str(self.pane.value),
            number=self.number.value,
            height=self.height.value,
            broke=_WENT[self.went.value],
            surface=self.surface.value,
            origin=self.origin.value,
            system=self._system,
        )

    def add(self) -> None:
        """Add the blow to the file, or say why not; what was filled in stays."""
        set_message(self.note, "")
        try:
            with failing(self.note, "the log cannot be written"):
                entry, path = self.entry(), named(self.file.value.strip())
                path.parent.mkdir(parents=True, exist_ok=True)
                add(path, entry, instead_of=[self._instead] if self._instead else [])
                set_message(self.stored, f"stored: {blow_words(entry, self._system)}")
                self.went.value = _OPEN  # so that the next blow is not said to do the same
                self.origin.value = ""
                if entry.broke:
                    self.number.value = ""  # that pane is not struck again
                self._corrects(None)
                self._added()
        except ValueError as refusal:
            set_message(self.note, str(refusal))

    def withdraw(self) -> None:
        """Take back the blow chosen: a line of its own says so, none is struck out."""
        set_message(self.note, "")
        chosen = self.blows.value
        try:
            with failing(self.note, "the log cannot be written"):
                add(named(self.file.value.strip()), instead_of=[chosen])
                set_message(self.stored, f"taken back: {blow_words(chosen, self._system)}")
                self._corrects(None)
                self._added()
        except ValueError as refusal:
            set_message(self.note, str(refusal))

    def start_correction(self) -> None:
        """Fill the form with the blow chosen, to be stored in its place; or leave it."""
        if self._instead is not None:
            self._corrects(None)
            return
        entry = self.blows.value
        kind, _, number = entry.pane.partition("#")
        if entry.kind not in self.pane.options:
            self.pane.options = [*self.pane.options, entry.kind]
        self.pane.value, self.number.value = kind.strip(), number.strip()
        self.day.value, self.height.value = entry.date.isoformat(), f"{entry.height:.9g} m"
        self.surface.value, self.origin.value = entry.surface, entry.origin
        self.went.value = next(said for said, broke in _WENT.items() if broke is entry.broke)
        self._corrects(entry)

    def _corrects(self, entry: Entry | None) -> None:
        """Say whether what is filled in takes the place of a blow in the log."""
        self._instead = entry
        self.button.description = _ADD if entry is None else "Store it in place of that blow"
        self.correct.description = _CORRECT if entry is None else "Leave it as it is"
        self.blows.disabled = entry is not None
        self.correct.disabled = entry is None and not self.blows.options
        self.take_back.disabled = entry is not None or not self.blows.options
