# SPDX-License-Identifier: MIT
"""Say what release, screen and room of a drop leave open, and what would be better."""

from glasskit.demonstration import EYES, FOUND_AT, REACH, Doubt, Screening
from glasskit.quantities import System, show

_SAID: dict[Doubt, str] = {
    "ceiling": "Too high: the ball does not fit beneath the ceiling.",
    "steps": "Too high to reach from the floor: lower it.",
    "over": "Screen too low: the ball can fly over it.",
    "room": "Front row too near: the ball can land there.",
    "found": "Front row sits where pieces of windows were found.",
    "eyes": "Within reach, but above the eyes: lower is better.",
}
_NONE = "Nothing here speaks against it; the assessor decides."
_LEAST = 0.1  # drop above the pane from which a heavier ball is of use [m]


def screening_verdict(result: Screening) -> str:
    """Say the worst doubt in six to ten words."""
    return _SAID[result.doubts[0]] if result.doubts else _NONE


def screening_sentence(result: Screening, system: System = "metric") -> str:
    """Say the verdict, the height of release, and what can pass over the screen."""
    release, ball, screen = (
        show(length, "height", system, 2)
        for length in (result.release, result.ball_at_screen, result.screen_top)
    )
    speed = show(result.piece_speed, "speed", system, 2)
    return (
        f"{screening_verdict(result)} The ball is let go {release} above the floor. It can "
        f"meet the screen as high as {ball}; the screen ends at {screen}. A piece of the pane "
        f"can pass over it from about {speed}.{_better(result, system)}"
    )


def _better(result: Screening, system: System) -> str:
    """Propose a heavier ball where the release is above the eyes."""
    lower = min(EYES, result.ceiling)
    if result.release <= lower or result.table + _LEAST > lower:
        return ""
    mass = show(result.heavier(lower), "mass", system, 2)
    height = show(lower, "height", system, 2)
    return f" A ball of {mass} let go at {height} brings the same energy."


def screening_numbers(result: Screening, system: System = "metric") -> list[tuple[str, str]]:
    """List the lengths behind the picture."""
    lengths = [
        ("release above the floor", result.release),
        ("a standing person handles things up to about", REACH),
        ("the ball can meet the screen as high as", result.ball_at_screen),
        ("without a screen the ball can land as far as", result.ball_range),
        ("pieces of plain windows were searched for, and found, out to", FOUND_AT),
        ("front row", result.front_row),
    ]
    rows = [(label, show(length, "height", system, 2)) for label, length in lengths]
    fast = show(result.piece_speed, "speed", system, 2)
    return [*rows, ("a piece can pass over the screen from", fast)]
