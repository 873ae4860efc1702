# SPDX-License-Identifier: MIT
"""A show of hands in front of a class: count before, talk, count after, then tell."""

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from glasskit.classroom import Question, Tally, question
from glasskit.draw.tally import TallyScene
from glasskit.live.controls import Control
from glasskit.live.explorer import Explorer
from glasskit.quantities import System
from glasskit.words.glossary import spoken
from glasskit.words.tally import letters, tally_numbers, tally_sentence

__all__ = ["Counter", "Telling", "example_hands", "show_of_hands"]

_MOST = 999  # hands in a hall


class Counter:
    """A count with one button more and one less, and a box to type in.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the count.
    label : str
        What the reader calls it.

    """

    def __init__(self, name: str, label: str) -> None:
        self.name = name
        self.box = widgets.BoundedIntText(min=0, max=_MOST, description=label)
        self.box.add_class("glasskit-box")
        self.less = widgets.Button(description="−", tooltip=f"one less: {label}")
        self.more = widgets.Button(description="+", tooltip=f"one more: {label}")
        self.less.on_click(lambda _: self._step(-1))
        self.more.on_click(lambda _: self._step(1))
        self.widget = widgets.HBox([self.box, self.less, self.more])
        self.widget.add_class("glasskit-control")

    @property
    def value(self) -> int:
        """The count."""
        return int(self.box.value)

    def _step(self, step: int) -> None:
        self.box.value = min(max(self.value + step, 0), _MOST)

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the count has changed."""
        self.box.observe(lambda _: callback(), "value")

    def reset(self) -> None:
        """Go back to none."""
        self.box.value = 0

    def use(self, system: System) -> None:
        """Do nothing: a count has no unit."""

    def settle(self) -> None:
        """Do nothing: the box is the count."""


class Telling:
    """A button that tells what happens, and takes it back.

    A button, for the notebook takes the arrow keys of a menu for itself.

    Parameters
    ----------
    name : str
        Argument of the computation that takes whether it is told.

    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.value = False
        self._callbacks: list[Callable[[], None]] = []
        self.button = widgets.Button()
        self.button.on_click(lambda _: self._set(not self.value))
        self.widget = widgets.HBox([self.button])
        self.widget.add_class("glasskit-control")
        self._set(False)

    def _set(self, told: bool) -> None:
        self.value = told
        self.button.description = "Take it back" if told else "Tell what happens"
        for callback in self._callbacks:
            callback()

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever it is told or taken back."""
        self._callbacks.append(callback)

    def reset(self) -> None:
        """Take it back."""
        self._set(False)

    def use(self, system: System) -> None:
        """Do nothing: there is no unit."""

    def settle(self) -> None:
        """Do nothing: there is one part."""


def show_of_hands(asked: str | Question, age: str = "11-14") -> Explorer[Tally]:
    """Return a panel to count hands for each answer, before and after talking it over.

    Parameters
    ----------
    asked : str or Question
        Key of a question of the bank, or one that was read from a table.
    age : {"8-11", "11-14", "14-16"}
        The oldest get it in the words that are examined.

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
