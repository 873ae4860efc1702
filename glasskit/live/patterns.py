# SPDX-License-Identifier: MIT
"""A game: six broken panes from above, find where each began to break."""

from glasskit.breaking import SIDE
from glasskit.draw.patterns import PatternScene
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Slider, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, row
from glasskit.training.patterns import LEVELS, Mark, pattern
from glasskit.words.patterns import (
    mark_numbers,
    mark_reply,
    mark_sentence,
)

_EACH = 2  # panes of each level


class PatternsExplorer(Explorer[Mark]):
    """The explorer of broken panes to read, with a score.

    Parameters
    ----------
    seed : int
        Number of the first set of six.

    Attributes
    ----------
    check, tell, others : Button
        Check the mark; show where it began; take six other panes.
    tries : dict
        Whether the first check of each pane was right, by level and number.
    reply : HTML
        How the mark stands.

    """

    def __init__(self, seed: int = 1) -> None:
        self._seed = seed
        self.tries: dict[tuple[str, int], bool] = {}
        self._told: set[tuple[str, int]] = set()
        super().__init__(
            [
                Buttons("level", "how hard", {level: level for level in LEVELS}, LEVELS[0]),
                Buttons(
                    "number", "pane", {f"pane {n + 1}": n for n in range(_EACH)}, "pane 1"
                ),
                Slider("along", "mark, from the left", "length", 0, SIDE, SIDE / 2, 5e-3),
                Slider("across", "mark, up", "length", 0, SIDE, SIDE / 2, 5e-3),
            ],
            self._mark,
            PatternScene(),
            mark_sentence,
            mark_numbers,
            title="Where did the pane begin to break?",
        )
        self.check = button("Check my mark", self.check_mark)
        self.tell = button("Show where it began", self.show_origin)
        self.others = button("Six others", self.draw_others)
        self.reply = message()
        buttons = row(self.check, self.tell, self.others)
        self.widget.children = (*self.widget.children, self.reply, buttons)

    def _mark(self, level: str, number: int, along: float, across: float) -> Mark:
        seed = _EACH * self._seed + number
        told = (level, seed) in self._told
        return Mark(pattern=pattern(level, seed), along=along, across=across, told=told)

    def _now(self) -> Mark:
        """Return the mark as the controls stand: the picture may be a moment behind."""
        values = {name: control.value for name, control in self.controls.items()}
        return self._mark(**values)

    def check_mark(self) -> None:
        """Say how the mark stands; the first check of a pane counts, before it was told."""
        mark = self._now()
        key = mark.pattern.level, mark.pattern.seed
        self.tries.setdefault(key, mark.right and key not in self._told)
        right, count = sum(self.tries.values()), len(self.tries)
        said = mark_reply(mark, self.look.system)
        all_of = _EACH * len(LEVELS)
        end = f" of {count} right so far." if count < all_of else f" of all {all_of} right."
        set_message(self.reply, f"{said} At the first check {right}{end}")

    def show_origin(self) -> None:
        """Show where this pane began to break; a check made later does not count."""
        mark = self._now()
        key = mark.pattern.level, mark.pattern.seed
        self._told.add(key)
        self._newest.request()

    def draw_others(self) -> None:
        """Take six other panes, and begin to count anew."""
        self._seed += 1
        self.tries, self._told = {}, set()
        set_message(self.reply, "")
        self.reset()
        self._newest.request()


def patterns_explorer(seed: int = 1) -> PatternsExplorer:
    """Return the game of broken panes."""
    return PatternsExplorer(seed)
