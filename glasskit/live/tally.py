# SPDX-License-Identifier: MIT
"""A show of hands in front of a class: count before, talk, count after, then tell."""

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from glasskit.classroom import Question, Tally, question
from glasskit.draw.tally import TallyScene
from glasskit.live.aloud import name_aloud
from glasskit.live.controls import Control
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, fill_button
from glasskit.words.glossary import hover, spoken
from glasskit.words.tally import letters, tally_numbers, tally_sentence

_MOST = 999  # hands in a hall


class Counter(Control):
    """A count with one button more and one less, and a box to type in.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the count.
    label : str
        What the reader calls it.

    """

    def __init__(self, name: str, label: str) -> None:
        super().__init__(name)
        self.box = widgets.BoundedIntText(min=0, max=_MOST, description=label)
        self.box.add_class("glasskit-box")
        self.less = button("−", lambda: self._step(-1))
        self.more = button("+", lambda: self._step(1))
        name_aloud(self.less, f"one less: {label}")
        name_aloud(self.more, f"one more: {label}")
        self.widget = widgets.HBox([self.box, self.less, self.more])
        self.widget.add_class("glasskit-control")
        self.box.observe(lambda _: self._tell(), "value")

    @property
    def value(self) -> int:
        """The count."""
        return int(self.box.value)

    def _step(self, step: int) -> None:
        self.box.value = min(max(self.value + step, 0), _MOST)

    def reset(self) -> None:
        """Go back to none."""
        self.box.value = 0


class Telling(Control):
    """A button that tells what happens, and takes it back.

    A button: one key does it.

    Parameters
    ----------
    name : str
        Argument of the computation that takes whether it is told.

    """

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.button = button("", lambda: self._set(not self.value))
        self.widget = widgets.HBox([self.button])
        self.widget.add_class("glasskit-control")
        self._set(False)

    @property
    def value(self) -> bool:
        """Whether it is told."""
        return self._told

    def _set(self, told: bool) -> None:
        self._told = told
        self.button.description = "Take it back" if told else "Tell what happens"
        self._tell()

    def reset(self) -> None:
        """Take it back."""
        self._set(False)


class Vote(Explorer[Tally]):
    """A question with room for the hands of each answer beside it.

    Parameters
    ----------
    item : Question
        In the words that are spoken.
    size : int
        Pupils in the room; 0 if nobody has said.

    Attributes
    ----------
    item : Question
        As given.

    """

    def __init__(self, item: Question, size: int) -> None:
        self.item = item
        self._from_screens: dict[str, Sequence[int]] = {}
        self._names = letters(len(item.options))
        counters = [
            Counter(f"{when}_{name}", f"{name}, {when}")
            for when in ("before", "after")
            for name in self._names
        ]
        self._size = Counter("size", "in class")
        self._size.box.value = size
        self._bars = [widgets.HTML() for _ in item.options]
        super().__init__(
            [self._size, *counters, Telling("revealed")],
            self._counted,
            TallyScene(),
            tally_sentence,
            tally_numbers,
            title=item.text,
        )
        self.units.layout.display = "none"  # hands have none

    def _counted(self, revealed: bool, size: int, **hands: Any) -> Tally:
        return Tally(
            question=self.item,
            before=tuple(hands[f"before_{name}"] for name in self._names),
            after=tuple(hands[f"after_{name}"] for name in self._names),
            revealed=revealed,
            size=size,
        )

    def _arranged(self) -> Any:
        lines = []
        for name, option, bar in zip(self._names, self.item.options, self._bars, strict=True):
            answer = widgets.HTML(f"<b>{name}</b>&ensp;{hover(option.text)}")
            answer.add_class("glasskit-answer")
            bar.add_class("glasskit-bar")
            counts = [self.controls[f"{when}_{name}"].widget for when in ("before", "after")]
            line = widgets.HBox([answer, *counts, bar])
            line.add_class("glasskit-line")
            lines.append(line)
        below = widgets.HBox(
            [self.controls["size"].widget, self.controls["revealed"].widget, fill_button()]
        )
        below.add_class("glasskit-line")
        rows = widgets.VBox([*lines, below])
        rows.add_class("glasskit-vote")
        return rows

    def count(self, **screens: Sequence[int]) -> None:
        """Add what has come from the pupils' screens to the hands that were counted.

        Parameters
        ----------
        **screens : sequence of int
            All answers from screens so far, ``before`` and ``after``.

        """
        for when, counts in screens.items():
            former = self._from_screens.get(when, (0,) * len(counts))
            self._from_screens[when] = counts
            for name, was, now in zip(self._names, former, counts, strict=True):
                if was != now:
                    box = self.controls[f"{when}_{name}"].box  # type: ignore[attr-defined]
                    box.value += now - was

    def reset(self) -> None:
        """Put all hands back to none; the size of the class and answers from screens stay."""
        size = self._size.value
        super().reset()
        self._size.box.value = size
        screens, self._from_screens = self._from_screens, {}
        self.count(**screens)

    def _show(self) -> None:
        super()._show()
        result = self.result
        most = max(result.size, sum(result.before), sum(result.after), 1)
        for place, bar in enumerate(self._bars):
            was, now = result.before[place] / most, result.after[place] / most
            told = result.revealed and place == result.question.correct
            end = now if result.revealed and any(result.after) else was
            style = f"--from: {was:.1%}; --to: {end:.1%}"
            mark = "<b>✓ what happens</b>" if told else ""
            bar.value = f'<div class="glasskit-grown" style="{style}"></div>{mark}'


def show_of_hands(asked: str | Question, age: str = "11-14", size: int = 0) -> Vote:
    """Return a panel to count hands for each answer, before and after talking it over.

    Parameters
    ----------
    asked : str or Question
        Key of a question of the bank, or one that was read from a table.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get it in the words that are examined.
    size : int
        Pupils in the room; 0 to say it in the panel.

    Returns
    -------
    Vote
        Controls ``before_A``, ``after_A`` and so on, ``size`` and ``revealed``.

    Raises
    ------
    ValueError
        If there is no such question, or `age` is not among those named.

    """
    return Vote(spoken(question(asked) if isinstance(asked, str) else asked, age), size)


def example_hands() -> Vote:
    """Return a panel with invented counts before anyone has talked, for a still picture."""
    panel = show_of_hands("stiffness", size=28)
    for name, before in zip("ABCD", (9, 6, 4, 7), strict=True):
        panel.controls[f"before_{name}"].box.value = before  # type: ignore[attr-defined]
    return panel
