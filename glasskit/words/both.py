# SPDX-License-Identifier: MIT
"""Say what the same fall does to an ordinary and a toughened pane."""

import numpy as np

from glasskit.demonstration import BothPanes
from glasskit.quantities import System, show, show_number
from glasskit.words.stopping import time_kind


def both_verdict(both: BothPanes) -> str:
    """Say the outcome in a few words."""
    plain, tough = (np.isfinite(moment) for moment in both.breaks)
    if plain and not tough:
        return "Same ball, same height: ordinary breaks, toughened holds"
    return f"Same ball, same height: here both panes {'break' if plain else 'hold'}"


def both_sentence(both: BothPanes, system: System = "metric") -> str:
    """Say what fell, what happened, and how often it does.

    Examples
    --------
    >>> from glasskit.demonstration import drop_both
    >>> from glasskit.impact import Pane, ball_of_mass
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> print(both_sentence(drop_both(ball_of_mass(0.227, solid("steel")), pane, 1.4, 100e6)))
    From 1.4 m a ball of 227 g falls on two panes that look alike. The blow pulls the far face
    with a stress of 300 MPa. The ordinary pane breaks 15 µs after the touch. The toughened
    one bends and throws the ball back.

    """
    struck = both.struck
    height = show(struck.height, "height", system, 2)
    ball = show(struck.ball.mass, "small_mass", system)
    said = [
        f"From {height} a ball of {ball} falls on two panes that look alike.",
        f"The blow pulls the far face with a stress of "
        f"{show(struck.stress, 'stress', system, 2)}.",
    ]
    names = ("The ordinary pane", "The toughened one")
    for name, moment in zip(names, both.breaks, strict=True):
        if np.isfinite(moment):
            after = show(moment - both.touch, time_kind(moment - both.touch), system, 2)
            said.append(f"{name} breaks {after} after the touch.")
        else:
            said.append(f"{name} bends and throws the ball back.")
    if both.chances:
        plain, tough = (f"{100 * chance:.0f}" for chance in both.chances)
        said.append(f"Of 100 such panes, {plain} ordinary and {tough} toughened break.")
    return " ".join(said)


def phase_words(both: BothPanes, time: float, slower: float) -> str:
    """Say which part of the story a moment belongs to, and how slowly it is shown."""
    if time < both.touch:
        part = "the fall"
    elif time <= both.parted:
        part = f"the blow, {show(time - both.touch, 'millitime', digits=2)} after the touch"
    else:
        part = "afterwards"
    return f"{part}; shown about {show_number(slower, 1)} times slower"
