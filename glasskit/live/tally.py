# SPDX-License-Identifier: MIT
"""A show of hands in front of a class: count before, talk, count after, then tell."""

from typing import Any

import ipywidgets as widgets

from glasskit.classroom import Question, Tally, question
from glasskit.draw.tally import TallyScene
from glasskit.live.controls import Control
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button
from glasskit.words.glossary import spoken
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
        self.less.tooltip, self.more.tooltip = f"one less: {label}", f"one more: {label}"
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


def show_of_hands(asked: str | Question, age: str = "11-14") -> Explorer[Tally]:
    """Return a panel to count hands for each answer, before and after talking it over.

    Parameters
    ----------
    asked : str or Question
        Key of a question of the bank, or one that was read from a table.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get it in the words that are examined.

    Returns
    -------
    Explorer
        Controls ``before_A``, ``after_A`` and so on, and ``revealed``.

    Raises
    ------
    ValueError
        If there is no such question, or `age` is not among those named.

    """
    item = spoken(question(asked) if isinstance(asked, str) else asked, age)
    names = letters(len(item.options))
    counters: list[Control] = [
        Counter(f"{when}_{name}", f"{name}, {when}")
        for name in names
        for when in ("before", "after")
    ]
    told = Telling("revealed")

    def counted(revealed: bool, **hands: Any) -> Tally:
        return Tally(
            question=item,
            before=tuple(hands[f"before_{name}"] for name in names),
            after=tuple(hands[f"after_{name}"] for name in names),
            revealed=revealed,
        )

    panel = Explorer(
        [*counters, told],
        counted,
        TallyScene(),
        tally_sentence,
        tally_numbers,
        title=item.text,
    )
    panel.units.layout.display = "none"  # hands have none
    return panel


def example_hands() -> Explorer[Tally]:
    """Return a panel with invented counts, for a still picture."""
    panel = show_of_hands("nick")
    for name, before, after in zip("ABCD", (3, 14, 8, 3), (1, 5, 21, 1), strict=True):
        panel.controls[f"before_{name}"].box.value = before  # type: ignore[attr-defined]
        panel.controls[f"after_{name}"].box.value = after  # type: ignore[attr-defined]
    return panel
