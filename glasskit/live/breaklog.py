# SPDX-License-Identifier: MIT
"""A form for the break log: one blow at a time, added to a file that nothing can spoil."""

import datetime
import html
from collections.abc import Callable, Sequence
from pathlib import Path

import ipywidgets as widgets

from glasskit.demonstration import Entry, Log, read_log
from glasskit.demonstration.breaklog import add
from glasskit.files import named
from glasskit.live.controls import Slider, failing, message, set_message
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.quantities import System
from glasskit.words.demonstration import log_sentences

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
    file, day, pane, number, surface, went, origin : Text or Dropdown
        What the reader fills in; `number` only for a pane struck more than once.
    height : Slider
        Height of the blow.
    button : Button
        Adds the blow.
    note, report : HTML
        What is wrong with the form; what the file holds.

    """

    def __init__(self, file: str | Path, added: Callable[[], None]) -> None:
        self._added = added
        self._names: tuple[str, ...] = ()
        self.file = text_field("log file", str(file))
        self.day = text_field("date", datetime.date.today().isoformat())
        self.pane = widgets.Dropdown(description="pane", options=[])
        self.number = text_field("number of the pane")
        self.surface = text_field("it lay on")
        self.went = widgets.Dropdown(description="what it did", options=list(_WENT))
        self.origin = text_field("broke from")
        self.height = Slider("height", "height", "height", 0.05, 10.0, 1.0, log=True)
        for menu in (self.pane, self.went):
            menu.add_class("glasskit-box")
        self.button = button("Add this blow to the log", self.add)
        self.note, self.report = message(), widgets.HTML()
        first, last = (self.file, self.day, self.pane, self.number), (self.went, self.origin)
        panel = controls(
            [
                *map(placed, first),
                self.height.widget,
                placed(self.surface),
                *map(placed, last),
            ]
        )
        head = widgets.HTML(
            "<strong>The break log</strong><br>One file for each rig: start another when "
            "ball, support or glass change. Number a pane only if it is struck again."
        )
        self.widget = widgets.VBox([head, panel, row(self.button), self.note, self.report])
        self.file.observe(lambda _: self._added(), "value")

    def use(self, system: System) -> None:
        """Show the height in other units."""
        self.height.use(system)

    def ask(self, names: Sequence[str], height: float) -> None:
        """Offer the panes of a plan, and its height."""
        chosen = self.pane.value
        self._names = tuple(names)
        self.pane.options = list(names)
        self.pane.value = chosen if chosen in names else names[0]
        self.height.value = float(f"{height:.3g}")

    def read(self) -> Log:
        """Read the file, say what it holds, and return it; empty if it cannot be read."""
        log = Log(entries=(), troubles=())
        with failing(self.note, "the log cannot be read"):
            log = read_log(self.file.value.strip())
        rows = "".join(
            f"<li>{html.escape(said)}</li>" for said in log_sentences(log, self._names)
        )
        self.report.value = f'<div role="status"><ul>{rows}</ul></div>'
        return log

    def entry(self) -> Entry:
        """Return the blow as filled in.

        Raises
        ------
        ValueError
            If the date is none, or it was not said what the pane did.

        """
        broke = _WENT[self.went.value]
        try:
            day = datetime.date.fromisoformat(self.day.value.strip())
        except ValueError:
            said = self.day.value.strip()
            raise ValueError(f"date must be written 2030-05-31; got “{said}”") from None
        if broke is None:
            raise ValueError("say whether it broke or held")
        number = self.number.value.strip().lstrip("#").strip()
        return Entry(
            date=day,
            pane=f"{self.pane.value} #{number}" if number else str(self.pane.value),
            height=self.height.value,
            surface=self.surface.value,
            broke=broke,
            origin=self.origin.value,
        )

    def add(self) -> None:
        """Add the blow to the file, or say why not; what was filled in stays."""
        set_message(self.note, "")
        try:
            with failing(self.note, "the log cannot be written"):
                entry, path = self.entry(), named(self.file.value.strip())
                path.parent.mkdir(parents=True, exist_ok=True)
                add(path, entry)
                self.went.value = _OPEN  # so that the next blow is not said to do the same
                self.origin.value = ""
                self._added()
        except ValueError as refusal:
            set_message(self.note, str(refusal))
