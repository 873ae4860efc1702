# SPDX-License-Identifier: MIT
"""First predict, then see: the answer waits until the reader has chosen."""

import html
from collections.abc import Sequence
from typing import Any, Protocol

import ipywidgets as widgets

from glasskit.classroom import NumberQuestion
from glasskit.live.aloud import pressed, status
from glasskit.live.panel import Panel, button, fill_button, framed, row
from glasskit.live.style import STYLE
from glasskit.quantities import typed
from glasskit.words.glossary import hover


class _Shown(Protocol):
    widget: Any


_UNANSWERED = "glasskit-unanswered"
# What stands below a question answers it: it opens with the answer. Before the page is run it
# is folded under a heading, which JupyterLab keeps with the page.
_OPEN = f"""
const asked = this.closest('.glasskit-asked'), cell = this.closest('.jp-Cell');
if (!asked || !cell || asked.dataset.watched) return;
asked.dataset.watched = 'yes';
new MutationObserver((_, watching) => {{
  if (asked.classList.contains('{_UNANSWERED}')) return;
  watching.disconnect();
  for (let next = cell.nextElementSibling; next; next = next.nextElementSibling)
    next.querySelector('.jp-collapseHeadingButton.jp-mod-collapsed')?.click();
}}).observe(asked, {{ attributeFilter: ['class'] }});
asked.addEventListener('click', ({{ target }}) => {{  // who skips has no reply to read
  if (!target.closest('.glasskit-skip')) return;
  let whole;
  const coming = new MutationObserver(() => {{
    clearTimeout(whole);
    whole = setTimeout(() => {{
      const then = asked.children[1], first = then?.querySelector('input, select, button');
      if (!first) return;  // more is to come, on a busy machine much later
      coming.disconnect();
      if (then.contains(document.activeElement)) return;  // the reader was quicker
      then.scrollIntoView();
      first.focus({{ preventScroll: true }});
    }}, 100);
  }});
  coming.observe(asked, {{ childList: true, subtree: true }});
}});
"""
_CLOSED = f"""<style onload="{html.escape(_OPEN)}">
.jp-Cell:has(.{_UNANSWERED}) ~ .jp-Cell {{ display: none; }}</style>"""
_BELOW = "<p>What happens, and the rest of this page, opens with your answer.</p>"


class _Asked(Panel):
    """A question, room for answers, and what is shown once one has been given.

    The cells below it stay closed until then.
    """

    def __init__(self, question: str, answers: Sequence[Any], then: _Shown) -> None:
        self._then, self._asked = then, question
        self.shown = False
        asked = widgets.HTML(f"{STYLE}{_CLOSED}<strong>{hover(question)}</strong>")
        self.skip = button("Skip: we have predicted aloud", self.reveal)
        self.skip.add_class("glasskit-skip")
        self.reply = status()
        self.reply.value = _BELOW
        below = row(self.skip, fill_button())
        self.widget = widgets.VBox([framed(asked, *answers, below, self.reply)])
        self.widget.add_class("glasskit-asked")
        self.widget.add_class(_UNANSWERED)

    @property
    def still(self) -> str:
        """The question alone: the picture would give the answer away."""
        return f"<p><strong>{html.escape(self._asked)}</strong></p>"

    def _say(self, words: str) -> None:
        self.reply.value = html.escape(words)

    def reveal(self) -> None:
        """Show the explorer."""
        self.shown = True
        self.widget.remove_class(_UNANSWERED)
        if self.reply.value == _BELOW:
            self.reply.value = ""
        self.skip.layout.display = "none"
        self.widget.children = (*self.widget.children[:1], self._then.widget)


class Prediction(_Asked):
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
        self._options, self._correct = list(options), correct
        self.choices = [self._choice(index, text) for index, (text, _) in enumerate(options)]
        super().__init__(question, self.choices, then)

    def _choice(self, index: int, text: str) -> Any:
        choice = button(text, lambda: self.answer(index))
        choice.add_class("glasskit-choice")
        pressed(choice, False)
        return choice

    def answer(self, index: int) -> None:
        """Reply to the answer chosen, counted from 0, and show the explorer.

        The first answer is marked as the reader's own; the others can still be asked why not.
        """
        verdict = "That is what happens." if index == self._correct else "Not quite."
        self._say(f"{verdict} {self._options[index][1]}")
        right, mine = self.choices[self._correct], self.choices[index]
        if not self.shown:
            pressed(mine, True)
            right.description += " (what happens)"
            right.add_class("glasskit-right")
            mine.description += " (your answer)"
        self.reveal()


class NumberPrediction(_Asked):
    """A question answered by a typed number with its unit.

    Parameters
    ----------
    question : NumberQuestion
        Wording, answer and tolerance.
    then : Explorer
        Shown after a guess, or at once by teachers who have already asked the room.

    Attributes
    ----------
    box : Text
        Where the guess is typed.
    check : Button
        Takes the guess.
    shown, widget
        As for `Prediction`.

    """

    def __init__(self, question: NumberQuestion, then: _Shown) -> None:
        self._question = question
        self.box = widgets.Text(description="I predict", placeholder="number and unit")
        self.box.add_class("glasskit-box")
        self.check = button("That is my prediction", lambda: self.answer(self.box.value))
        super().__init__(question.text, [widgets.HBox([self.box, self.check])], then)

    def answer(self, text: str) -> None:
        """Reply to a typed guess and show the explorer, or say what cannot be read in it."""
        try:
            guess = typed(text, self._question.kind)
        except ValueError as error:
            self._say(f"Please {error}")
            return
        self._say(self._question.say(guess))
        self.box.disabled = self.check.disabled = True
        self.reveal()
