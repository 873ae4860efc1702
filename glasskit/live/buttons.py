# SPDX-License-Identifier: MIT
"""One button for each thing to choose, so that Tab and Enter reach it.

On radio buttons the notebook takes the arrow keys for itself.
"""

import html
from collections.abc import Mapping
from functools import partial
from typing import Any

import ipywidgets as widgets

from glasskit.live.aloud import grouped, pressed
from glasskit.live.controls import Control
from glasskit.live.panel import button, row
from glasskit.quantities import one_of


class Buttons(Control):
    """A choice among a few named things: a control of an explorer.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the value.
    label : str
        What the reader calls it.
    options : mapping of str to object
        What stands on each button, and the value it stands for.
    start : str
        The option chosen at the start.

    Attributes
    ----------
    choices : dict of str to Button
        The buttons by what stands on them; the chosen one has a tick.

    Raises
    ------
    ValueError
        If `start` is not among the options.

    """

    def __init__(self, name: str, label: str, options: Mapping[str, Any], start: str) -> None:
        one_of("start", start, options)
        super().__init__(name)
        self._options = dict(options)
        self._start = self._chosen = start
        self.choices = {text: button(text, partial(self.choose, text)) for text in options}
        self.widget = widgets.VBox(
            [widgets.HTML(html.escape(label)), row(*self.choices.values())]
        )
        grouped(self.widget)
        self.widget.add_class("glasskit-across")
        self._tick()

    def _tick(self) -> None:
        for text, shown in self.choices.items():
            pressed(shown, text == self._chosen)

    @property
    def value(self) -> Any:
        """What the chosen option stands for."""
        return self._options[self._chosen]

    def choose(self, text: str) -> None:
        """Choose an option by what stands on its button."""
        one_of("option", text, self._options)
        self._chosen = text
        self._tick()
        self._tell()

    def reset(self) -> None:
        """Go back to the option at the start."""
        self.choose(self._start)
