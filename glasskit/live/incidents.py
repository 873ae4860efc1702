# SPDX-License-Identifier: MIT
"""Moments at the bench: what do you do first? One after the other, each answered."""

import html
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.live.controls import message
from glasskit.live.panel import Panel, button, framed, row
from glasskit.live.style import STYLE
from glasskit.live.week import FILE, file_result
from glasskit.training import incidents


class IncidentPanel(Panel):
    """A moment, four things to do first, and what is to be said to each.

    Parameters
    ----------
    file : path
        The record of the week, which gets the first answer to each incident.

    Attributes
    ----------
    choices : list of Button
        What one might do.
    other : Button
        The next incident.
    story, reply, filed : HTML
        What happens; what is to be said; what was filed.
    widget : VBox
        The whole.

    """

    def __init__(self, file: str | Path = FILE) -> None:
        self._file, self._place = file, 0
        self._answered: set[int] = set()
        self.story, self.reply, self.filed = widgets.HTML(), widgets.HTML(), message()
        self.other = button("Another moment", self.next_incident)
        self.choices: list[Any] = []
        self._options = widgets.VBox()
        self.widget = framed(
            widgets.HTML(f"{STYLE}<strong>What do you do first?</strong>"),
            *(self.story, self._options, self.reply, row(self.other), self.filed),
        )
        self._set()

    def _set(self) -> None:
        self.incident = incidents()[self._place]
        self.story.value = (
            f'<div role="status"><p>{html.escape(self.incident.story)}</p></div>'
        )
        self.choices = [
            button(option, partial(self.choose, place))
            for place, option in enumerate(self.incident.options)
        ]
        for choice in self.choices:
            choice.add_class("glasskit-choice")
        self._options.children = self.choices
        self.reply.value = ""

    def choose(self, place: int) -> None:
        """Answer; the first answer to each incident is filed."""
        right = place == self.incident.right
        said = html.escape(self.incident.replies[place])
        self.reply.value = f'<div role="status"><strong>{said}</strong></div>'
        self.choices[place].icon = "check" if right else "times"
        if self._place not in self._answered:
            self._answered.add(self._place)
            stood = "right at once" if right else "not at once"
            evidence = f"{self.incident.key}: {stood}"
            file_result(self._file, "incident", evidence, self.filed)

    def next_incident(self) -> None:
        """Go on to the next one, after the last to the first."""
        self._place = (self._place + 1) % len(incidents())
        self._set()


def incident_panel(file: str | Path = FILE) -> IncidentPanel:
    """Return the panel of notebook 40 with moments to stop and ask."""
    return IncidentPanel(file)
