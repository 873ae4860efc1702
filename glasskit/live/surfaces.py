# SPDX-License-Identifier: MIT
"""Six fracture surfaces to read: origin, mirror, and what it broke from, scored."""

from pathlib import Path

import numpy as np

from glasskit.draw.surfaces import ReadingScene
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Slider, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, row
from glasskit.live.week import FILE, file_result
from glasskit.training import ANSWERS, SURFACES, Reading, surface
from glasskit.training.surfaces import WIDTH, Answer
from glasskit.words.surfaces import reading_numbers, reading_reply, reading_sentence


class SurfacesExplorer(Explorer[Reading]):
    """The explorer of six surfaces, with a score.

    Parameters
    ----------
    file : path
        The record of the week, which gets the score of six.
    seed : int
        Number of the six.

    Attributes
    ----------
    check, others : Button
        Check the marks on this surface; draw six others.
    tries : dict of str to bool
        Whether the first check of each surface was right.
    reply, filed : HTML
        How the marks stand; what was filed.

    """

    def __init__(self, file: str | Path = FILE, seed: int = 1) -> None:
        self._file, self._seed = file, seed
        self.tries: dict[str, bool] = {}
        letters = {chr(ord("A") + place): place for place in range(len(SURFACES))}
        answers: dict[str, Answer] = {answer: answer for answer in ANSWERS}
        super().__init__(
            [
                Buttons("place", "surface", letters, "A"),
                Slider("across", "mark, from the left", "length", 0, WIDTH, WIDTH / 2, 0.1e-3),
                Slider("up", "mark, from below", "length", 0, WIDTH, 2e-3, 0.1e-3),
                Slider("radius", "mirror radius", "thickness", 0, 4e-3, 0, 0.05e-3),
                Buttons("answer", "it broke from", answers, "cannot tell"),
            ],
            self._read,
            ReadingScene(),
            reading_sentence,
            reading_numbers,
            title="Where did it begin?",
        )
        self.check = button("Check my marks", self.check_marks)
        self.others = button("Six others", self.draw_others)
        self.reply, self.filed = message(), message()
        self.widget.children = (
            *self.widget.children,
            row(self.check, self.others),
            self.reply,
            self.filed,
        )

    def _read(
        self, place: int, across: float, up: float, radius: float, answer: Answer
    ) -> Reading:
        order = np.random.default_rng(self._seed).permutation(list(SURFACES))
        piece = surface(str(order[place]), self._seed)
        return Reading(surface=piece, across=across, up=up, radius=radius, answer=answer)

    def check_marks(self) -> None:
        """Say how the marks stand; the first check of each surface counts."""
        values = {name: control.value for name, control in self.controls.items()}
        reading = self._read(**values)  # the picture may be a moment behind
        kind = reading.surface.kind
        first = kind not in self.tries
        self.tries.setdefault(kind, reading.right)
        right = sum(self.tries.values())
        said = reading_reply(reading, self.look.system)
        counted = f"At the first check {right} of {len(self.tries)} right so far."
        set_message(self.reply, f"{said} {counted}")
        if first and len(self.tries) == len(SURFACES):
            score = f"{right} of {len(SURFACES)} at the first check, set {self._seed}"
            file_result(self._file, "surfaces", score, self.filed)

    def draw_others(self) -> None:
        """Draw six others, and begin to count anew."""
        self._seed += 1
        self.tries = {}
        set_message(self.reply, "")
        set_message(self.filed, "")
        self.reset()


def surfaces_explorer(file: str | Path = FILE, seed: int = 1) -> SurfacesExplorer:
    """Return the explorer of notebook 40: six surfaces to read."""
    return SurfacesExplorer(file, seed)
