# SPDX-License-Identifier: MIT
"""First predict, then see: the answer waits until the reader has chosen."""

import html
from collections.abc import Sequence
from typing import Any, Protocol

import ipywidgets as widgets

from glasskit.live.style import STYLE

__all__ = ["Prediction"]


class _Shown(Protocol):
    widget: Any


class Prediction:
    """A question before an explorer.

    Parameters
    ----------
    question : str
        What will happen?
    options : sequence of (str, str)
        Each with its reply, which names the idea behind that choice and takes it seriously.
    correct : int
        Which option is what happens, counted from 0.
    then : Explorer
        Shown after a choice, or at once by teachers who have already asked the room.

    Attributes
    ----------
    choices : list of Button
        One for each answer, so that Tab and Enter reach it: on radio buttons the notebook
        takes the arrow keys for itself.
    shown : bool
        Whether the explorer is on the page.
    widget : VBox
        The whole, to put into other widgets.

    Raises
    ------
    ValueError
        If `correct` is not the place of an option.

    """

    def __init__(
        self, question: str, options: Sequence[tuple[str, str]], correct: int, then: _Shown
    ) -> None:
        if not 0 <= correct < len(options):
            raise ValueError(
                f"correct must lie in 0 <= correct < {len(options)}; got {correct}"
            )
        self._options, self._correct, self._then = list(options), correct, then
        self.shown = False
        asked = widgets.HTML(f"{STYLE}<strong>{html.escape(question)}</strong>")
        self.choices = [self._choice(index, text) for index, (text, _) in enumerate(options)]
        self.skip = widgets.Button(description="Skip: we have predicted aloud")
        self.skip.on_click(lambda _: self.reveal())
        self.skip.add_class("glasskit-skip")
        self.reply = widgets.HTML()
        question_box = widgets.VBox([asked, *self.choices, self.skip, self.reply])
        question_box.add_class("glasskit")
        self.widget = widgets.VBox([question_box])

    def _choice(self, index: int, text: str) -> Any:
        button = widgets.Button(description=text)
        button.add_class("glasskit-choice")
        button.on_click(lambda _: self.answer(index))
        return button

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return self.widget._repr_mimebundle_(**kwargs)

    def answer(self, index: int) -> None:
        """Reply to the answer chosen, counted from 0, and show the explorer."""
        verdict = "That is what happens." if index == self._correct else "Not quite."
        reply = html.escape(f"{verdict} {self._options[index][1]}")
        self.reply.value = f'<div role="status">{reply}</div>'
        for place, button in enumerate(self.choices):
            button.disabled = True
            if place == index:
                button.icon = "check"
        self.reveal()

    def reveal(self) -> None:
        """Show the explorer."""
        self.shown = True
        self.skip.layout.display = "none"
        self.widget.children = (*self.widget.children[:1], self._then.widget)
