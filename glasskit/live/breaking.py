# SPDX-License-Identifier: MIT
"""Explorer and film of two panes that break in the same way, in slow motion."""

from importlib.util import find_spec
from pathlib import Path

from glasskit.breaking import SIDE, SlowMotion, slow_motion
from glasskit.draw.breaking import BreakingScene
from glasskit.live.controls import Choice, Slider, give_say
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button
from glasskit.live.saving import SavingPanel
from glasskit.plates import plate
from glasskit.sheets.film import slow_motion_film
from glasskit.steps import Steps, part
from glasskit.words.breaking import moment_numbers, moment_sentence

_PANE = plate("thin pane, quenched")
_LAST = 9e-4  # by then the ball has let go and all cracks rest [s]
_RIM = 0.02  # a ball is not let fall nearer to an edge [m]


def breaking_explorer() -> Explorer[SlowMotion]:
    """Return the explorer of a break in slow motion: moment, start, place and pane.

    Returns
    -------
    Explorer
        Its panes break once for each setting; moving the time only looks at another moment.

    """
    panes = {f"pane {seed}": seed for seed in range(1, 7)}
    start = Choice(
        "start",
        "how it starts",
        {
            "a steel ball falls on it": "ball",
            "a centre punch in its face": "punch",
            "a chip at its edge": "chip",
        },
        "a steel ball falls on it",
    )
    height = Slider("height", "height of fall", "height", 0.05, 3.0, 0.8, 0.05)
    across = Slider("across", "place, from below", "length", _RIM, SIDE - _RIM, SIDE / 2, 5e-3)
    say = {"ball": ("height", "across"), "punch": ("across",), "chip": ()}
    give_say(start, (height, across), say.__getitem__)
    return Explorer(
        [
            Slider("time", "time since the touch", "microtime", 0.0, _LAST, 5e-5, 1e-6),
            Slider("squeeze", "squeeze of the toughened", "stress", 25e6, 130e6, 100e6, 5e6),
            start,
            height,
            Slider(
                "thickness", "thickness", "thickness", 3e-3, 10e-3, _PANE["thickness"], 0.5e-3
            ),
            Slider(
                "along", "place, from the left", "length", _RIM, SIDE - _RIM, SIDE / 2, 5e-3
            ),
            across,
            Choice("seed", "which panes", panes, "pane 1"),
        ],
        slow_motion,
        BreakingScene(),
        moment_sentence,
        moment_numbers,
        title="A break in slow motion",
    )


class SlowFilm(SavingPanel):
    """Writes the film of a break, for slides.

    Attributes
    ----------
    write : Button
        Writes a GIF and, where PyAV is installed, a video; older ones stay.

    """

    def __init__(self) -> None:
        self.write = button("Save the film of a break", self.save)
        super().__init__("pictures", [], [self.write])

    def save(self) -> None:
        """Write the film under the next free name, and say where."""
        endings = (".gif", ".mp4") if find_spec("av") else (".gif",)

        def write(made: Path) -> Steps[None]:
            for number, end in enumerate(endings, 1):
                film = slow_motion_film.steps(made / f"break{end}")
                yield from part(film, (number, len(endings)), f"film {end}")

        self.keep(["break"], write, "It is 100,000 times slower than the break.")
