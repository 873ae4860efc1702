# SPDX-License-Identifier: MIT
"""Explorer of two panes that break under the same blow, in slow motion."""

from glasskit.breaking import SIDE, SlowMotion, slow_motion
from glasskit.draw.breaking import BreakingScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.plates import plate
from glasskit.words.breaking import moment_numbers, moment_sentence

_PANE = plate("thin pane, quenched")
_LAST = 9e-4  # by then the ball has let go and all cracks rest [s]
_RIM = 0.02  # a ball is not let fall nearer to an edge [m]


def breaking_explorer() -> Explorer[SlowMotion]:
    """Return the explorer of a break in slow motion: moment, blow, place and pane.

    Returns
    -------
    Explorer
        Its panes break once for each setting; moving the time only looks at another moment.

    """
    panes = {f"pane {seed}": seed for seed in range(1, 7)}
    return Explorer(
        [
            Slider("time", "time since the touch", "microtime", 0.0, _LAST, 5e-5, 1e-6),
            Slider("squeeze", "squeeze of the toughened", "stress", 30e6, 130e6, 100e6, 5e6),
            Slider("height", "height of fall", "height", 0.05, 3.0, 0.8, 0.05),
            Slider(
                "thickness", "thickness", "thickness", 3e-3, 10e-3, _PANE["thickness"], 0.5e-3
            ),
            Slider("along", "hit, from the left", "length", _RIM, SIDE - _RIM, SIDE / 2, 5e-3),
            Slider("across", "hit, from below", "length", _RIM, SIDE - _RIM, SIDE / 2, 5e-3),
            Choice("seed", "which panes", panes, "pane 1"),
        ],
        slow_motion,
        BreakingScene(),
        moment_sentence,
        moment_numbers,
        title="A break in slow motion",
    )
