# SPDX-License-Identifier: MIT
"""Say what a floor does to the screen of a device, and which inputs are judgements."""

from collections.abc import Mapping

import numpy as np

from glasskit.impact import FloorDrop
from glasskit.impact.device import inputs
from glasskit.quantities import FloatArray, System, Unit, show, show_number, unit
from glasskit.words.tables import markdown, sure

FLOOR_WORDS = {
    "hardwood": "wood",
    "steel": "steel",
    "tile": "tile",
    "concrete": "concrete",
}
FALL_WORDS = {
    "flat": "flat on its screen",
    "edge": "on an edge",
    "corner": "on a corner",
    "tumble": "tumbling",
}
_INPUT_WORDS = {
    "hold": "how firmly the floor holds a grain",
    "grain_radius": "the size of the grains",
    "grains": "the number of grains",
    "proud": "how far the grains stand out",
    "crushing": "the strength of a grain",
    "sharpness": "the sharpness of a grain",
    "tip": "how worn the tip of a grain is",
    "stiffness": "the stiffness of the device",
    "give": "how far frame and body give way",
    "radius": "the roundness of what touches",
    "slap": "how the screen bends in the blow",
    "start": "the push that starts a crack in squeezed glass",
    "backing": "how firmly the screen is backed",
    "strength": "the flaws that the screen has already",
}
_UNITS = {
    "Pa": unit("stress"),
    "m": unit("length"),
    "N/m": Unit("N/µm", 1e6),
    "-": unit("number"),
    "N": unit("force"),
}


def drop_sentence(drop: FloorDrop, system: System = "metric") -> str:
    """Say how deep a grain cracks the screen beside its skin, and how often that ends it."""
    fall = "Tumbling" if drop.fall == "tumble" else f"Landing {FALL_WORDS[drop.fall]}"
    height = show(drop.height, "height", system)
    low, _, high = drop.loads()
    load = f"{show(low, 'force', system, 2)} to {show(high, 'force', system, 2)}"
    skin = drop.device.screen.case_depth
    against = (
        f"the skin is squeezed {show(skin, 'depth', system, 2)} deep"
        if skin
        else "the glass has no squeezed skin"
    )
    met = (
        f"in {_percent(drop.reached)} of the landings a grain reaches the glass. It presses "
        f"with {load} and {_depths(drop.cracks(), system)}; {against}"
        if drop.reached >= 0.005
        else "hardly a grain reaches the glass"
    )
    band = (
        f" Because we do not know {_decisive(drop)}, the truth may lie anywhere from "
        f"{_ends(drop)}."
        if drop.broken >= 0.01
        else ""
    )
    return (
        f"{fall} on {FLOOR_WORDS[drop.floor]} from {height}: {met}. The screen broke in "
        f"{_hundred(drop.broken)} of 100 trials.{band} This explains; it does not predict."
    )


def _depths(cracks: FloatArray, system: System) -> str:
    least, _, most = cracks
    if not most:
        return "mostly starts no crack"
    low, high = (
        show(depth, "depth", system, 2) if np.isfinite(depth) else "all through"
        for depth in (least, most)
    )
    if not np.isfinite(least):
        return f"cracks the screen {high}"
    if not least:
        reach = high if not np.isfinite(most) else f"up to {high} deep"
        return f"leaves the screen whole or cracks it {reach}"
    return (
        f"cracks the screen {low} " + ("deep to " if not np.isfinite(most) else "to ") + high
    )


def _percent(share: float) -> str:
    return "less than 1%" if share < 0.01 else f"{100 * share:.0f}%"


def _hundred(share: float) -> str:
    return "less than 1" if share < 0.01 else f"{100 * share:.0f}"


def _ends(drop: FloorDrop) -> str:
    span = drop.spread(drop.breaking)
    return f"{100 * span.low:.0f} to {100 * span.high:.0f}"


def _band(drop: FloorDrop, share: FloatArray) -> str:
    span = drop.spread(share)
    return f"{100 * span.low:.0f}% to {100 * span.high:.0f}%"


def _decisive(drop: FloorDrop) -> str:
    return _INPUT_WORDS[drop.decisive()[1]]


def drop_numbers(drop: FloorDrop, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    landing, loads = drop.landing, drop.loads()
    names = ("1 case in 10 less", "middle", "1 case in 10 more")
    return [
        ("speed at the touch", show(landing.speed, "speed", system)),
        ("force on the device, middle", show(np.median(landing.force), "force", system, 2)),
        *(
            (f"load on one grain that is met, {name}", show(load, "force", system, 2))
            for name, load in zip(names, loads, strict=True)
        ),
        ("a grain reaches the glass", _percent(drop.reached)),
        ("a grain gets through the skin", _percent(drop.pierced)),
        ("with what is not known", _band(drop, drop.piercing)),
        ("the screen breaks", _percent(drop.broken)),
        ("breaks, with what is not known", _band(drop, drop.breaking)),
        ("cases tried", show_number(landing.crack_depth.size, 3)),
    ]


def inputs_table() -> str:
    """Write every input of the drop with its range, source and status."""
    rows = []
    for (subject, name), value in inputs().items():
        to = _UNITS[value.unit]
        middle, low, high = (
            show_number(to.from_si(number), 2)
            for number in (value.value, value.low, value.high)
        )
        rows.append(
            [
                f"{subject}: {name.replace('_', ' ')}",
                f"{middle} ({low} to {high}) {to.symbol}".rstrip(),
                value.conditions,
                value.source,
                sure(value.source, value.status),
            ]
        )
    return markdown(["input", "middle (range)", "what", "source", "how sure"], rows)


def floors_verdict(drops: Mapping[str, FloorDrop], chosen: str, system: System) -> str:
    """Say in six to ten words how often the screen breaks on this floor, and on another.

    Parameters
    ----------
    drops : mapping of str to FloorDrop
        The same drop on every floor.
    chosen : str
        One of the floors; it is set beside wood, and wood beside concrete.
    system : {"metric", "us"}
        Units.

    """
    other = "concrete" if chosen == "hardwood" else "hardwood"
    height = show(drops[chosen].height, "height", system, 2)
    counts = ", ".join(
        f"{FLOOR_WORDS[floor]} {100 * drops[floor].broken:.0f}" for floor in (chosen, other)
    )
    return f"From {height}, of 100 break: {counts}"


def crack_words(drop: FloorDrop, system: System = "metric") -> str:
    """Say how deep the worst grain of ten cracks the screen."""
    deepest = drop.cracks()[-1]
    if not deepest:
        return "no crack"
    if not np.isfinite(deepest):
        return "cracked through"
    kind = "thickness" if deepest >= 0.5e-3 else "depth"
    return f"crack {show(deepest, kind, system, 2)} deep"
