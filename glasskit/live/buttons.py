# SPDX-License-Identifier: MIT
"""One button for each thing to choose, so that Tab and Enter reach it.

On radio buttons and menus the notebook takes the arrow keys for itself.
"""

import html
from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets

from glasskit.quantities import System, one_of

__all__ = ["Buttons"]


class Buttons:
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
        self.name, self._options = name, dict(options)
        self._start = self._chosen = start
        self._callbacks: list[Callable[[], None]] = []
        self.choices = {text: self._button(text) for text in options}
        row = widgets.HBox(list(self.choices.values()))
        row.add_class("glasskit-buttons")
        row.layout.flex_flow = "row wrap"
        self.widget = widgets.VBox([widgets.HTML(html.escape(label)), row])
        self.widget.layout.flex = "1 1 100%"
        self._tick()

    def _button(self, text: str) -> Any:
        button = widgets.Button(description=text)
        button.on_click(lambda _: self.choose(text))
        return button

    def _tick(self) -> None:
        for text, button in self.choices.items():
            button.icon = "check" if text == self._chosen else ""

    @property
    def value(self) -> Any:
        """What the chosen option stands for."""
        return self._options[self._chosen]

    def choose(self, text: str) -> None:
        """Choose an option by what stands on its button."""
        one_of("option", text, self._options)
        self._chosen = text
        self._tick()
        for callback in self._callbacks:
            callback()

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever an option has been chosen."""
        self._callbacks.append(callback)

    def reset(self) -> None:
        """Go back to the option at the start."""
        self.choose(self._start)

    def use(self, system: System) -> None:
        """Do nothing: a choice has no unit."""

    def settle(self) -> None:
        """Do nothing: the tick follows at once."""
