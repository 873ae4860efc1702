# SPDX-License-Identifier: MIT
"""First predict, then see: the answer waits until the reader has chosen."""

import html
from collections.abc import Sequence
from typing import Any, Protocol

import ipywidgets as widgets

from glasskit.live.controls import message, set_message
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
    choices : RadioButtons
        The options.
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
        self.choices = widgets.RadioButtons(options=[text for text, _ in options], index=None)
        self.choices.add_class("glasskit-choices")
        answer = widgets.Button(description="This is my prediction")
        answer.on_click(lambda _: self.answer())
        skip = widgets.Button(description="Skip: we have predicted aloud")
        skip.on_click(lambda _: self.reveal())
        skip.add_class("glasskit-skip")
        self.note, self.reply = message(), widgets.HTML()
        self._buttons = widgets.HBox([answer, skip])
        self._buttons.add_class("glasskit-buttons")
        question_box = widgets.VBox(
            [asked, self.choices, self._buttons, self.note, self.reply]
        )
        question_box.add_class("glasskit")
        self.widget = widgets.VBox([question_box])

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return self.widget._repr_mimebundle_(**kwargs)

    def answer(self) -> None:
        """Reply to the choice and show the explorer, or ask for a choice."""
        index = self.choices.index
        if index is None:
            set_message(self.note, "choose one of the answers first")
            return
        verdict = "That is what happens." if index == self._correct else "Not quite."
        reply = html.escape(f"{verdict} {self._options[index][1]}")
        self.reply.value = f'<div role="status">{reply}</div>'
        self.choices.disabled = True
        self.reveal()

    def reveal(self) -> None:
        """Show the explorer."""
        set_message(self.note, "")
        self.shown = True
        self._buttons.layout.display = "none"
        self.widget.children = (*self.widget.children[:1], self._then.widget)
