# SPDX-License-Identifier: MIT
"""Say what a film tells of a fall, beside what its height foretells."""

from glasskit.measured import FilmedFall, Measure
from glasskit.quantities import GRAVITY, System, show, show_number, to_display, unit

_ON_EARTH = (9.76, 9.84)  # least and most at sea level, and a little more [m/s^2]


def _said(measure: Measure, kind: str, system: System) -> str:
    ends = " to ".join(show(end, kind, system) for end in (measure.low, measure.high))
    return f"{show(measure.value, kind, system)} ({ends})"


def is_slow_motion(result: FilmedFall) -> bool:
    """Return whether the film runs at another speed than life, as told by the fall itself."""
    return result.slowed != 1.0 and not result.told


def agrees(result: FilmedFall) -> bool:
    """Return whether the g that fits is that of the earth, within its interval."""
    low, high = _ON_EARTH
    return result.free_fall.low <= high and result.free_fall.high >= low


def fall_verdict(result: FilmedFall, system: System) -> str:
    """Say in a few words what the film shows."""
    if is_slow_motion(result):
        return (
            f"Slow motion: the film runs {show_number(result.slowed)} times slower than life"
        )
    if not agrees(result):
        g = show(result.free_fall.value, "acceleration", system)
        return f"The ball falls with {g}: check scale and places"
    if result.touch == "last":
        return "The ball falls as it must, but its touch was not seen"
    return f"The ball touched at {show(result.speed.value, 'speed', system)}, as foretold"


def fall_sentence(result: FilmedFall, system: System) -> str:
    """Say height, speed and g, what was foretold, and what must be looked at."""
    height = _said(result.height, "height", system)
    speed = _said(result.speed, "speed", system)
    end = {
        "rebound": "touched",
        "pane": "met the marked pane",
        "last": "was seen last, still falling,",
    }[result.touch]
    parts = [f"From rest, {height} higher, the ball {end} at {speed}."]
    g, usual = (
        _said(result.free_fall, "acceleration", system),
        show(GRAVITY, "acceleration", system),
    )
    if is_slow_motion(result):
        own = show(result.apparent.value, "acceleration", system, 2)
        parts += [
            f"By the clock of the film it falls with {own} only, where {usual} is right.",
            f"So the film was slowed, {show_number(result.slowed)} times.",
            "The speed rests on that and proves nothing; the height needs no clock.",
        ]
    elif agrees(result):
        foretold = show(result.predicted.value, "speed", system)
        parts += [f"Its height foretells {foretold}.", f"The film gives g as {g}."]
    else:
        parts += [
            f"The film gives g as {g}, where {usual} is right.",
            "Check the diameter or the marks, and the places that were found.",
        ]
    return " ".join(parts)


def for_the_log(result: FilmedFall, invented: bool, system: System) -> str:
    """Say which height to type into the break log, or why none of this film goes there."""
    if invented:
        return "An invented film is no evidence: nothing of it goes into a break log."
    if result.touch == "last":
        return "The touch was not seen: for the break log measure the height yourself."
    if not agrees(result) and not is_slow_motion(result):
        return "The height is not right yet: mend the scale before it goes into a break log."
    height = show_number(to_display(result.height.value, "height", system).item())
    symbol = unit("height", system).symbol  # not in whole inches, as heights are told else
    return (
        f"In the break log of page 20 type {height} {symbol} as height. "
        "Nothing is stored there until you say what the pane did."
    )


def fall_numbers(result: FilmedFall, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    seen, path = result.path.seen, result.path
    energy = 0.5 * result.mass * result.speed.value**2
    rows = [
        ("height fallen from rest", _said(result.height, "height", system)),
        ("speed at its end", _said(result.speed, "speed", system)),
        (
            "foretold from that height, with drag",
            show(result.predicted.value, "speed", system),
        ),
        ("energy at its end", show(energy, "energy", system)),
        ("g, by the film", _said(result.free_fall, "acceleration", system)),
        ("the film runs slower than life", _slower(result)),
    ]
    if result.rebound is not None and result.restitution is not None:
        e = result.restitution
        rows += [
            ("height of the rebound", _said(result.rebound, "height", system)),
            (
                "speed after over speed before",
                f"{e.value:.3f} ({e.low:.3f} to {e.high:.3f})",
            ),
        ]
    rows += [
        ("drag coefficient, if g is known", _drag(result.drag)),
        ("frames with the ball, falling and rising", f"{path.fall.size} and {path.rise.size}"),
        ("frames a second, by the film's clock", show_number(seen.rate)),
        ("one pixel is", show(1 / result.scale.value, "length", system)),
        ("places lie off the curve by", f"{show_number(result.scatter, 2)} pixels"),
    ]
    return rows


def _slower(result: FilmedFall) -> str:
    """Say how much slower than life the film runs, and at what rate the camera took it."""
    if result.slowed == 1.0:
        return "no"
    camera = show_number(result.path.seen.rate * result.slowed)
    return f"{show_number(result.slowed)} times; the camera took {camera} frames a second"


def _drag(drag: Measure) -> str:
    """Say what the film tells of the drag; of a heavy ball that is next to nothing."""
    if drag.low > 0:
        return f"{drag.value:.2f} ({drag.low:.2f} to {drag.high:.2f})"
    return f"not seen; at most {show_number(max(drag.high, 0.01), 2)}"
