# SPDX-License-Identifier: MIT
"""Explorer of a fall and its stop: mass, height, and what stops it."""

from glasskit.draw.stopping import StopScene
from glasskit.impact import Stop, stop_on, stop_within
from glasskit.live.controls import Choice, Slider, give_say
from glasskit.live.explorer import Explorer
from glasskit.materials import Body, glass, solid
from glasskit.plates import striker
from glasskit.words.stopping import stop_numbers, stop_sentence

_STRIKERS: dict[str, Body] = {
    "a steel ball": solid("steel"),
    "a stone ball": solid("granite"),
    "a wooden ball": solid("hardwood"),
}
_BLOCKS: dict[str, Body | None] = {
    "a thick block of glass": glass("soda-lime"),
    "a thick block of steel": solid("steel"),
    "a thick block of concrete": solid("concrete"),
    "a thick block of wood": solid("hardwood"),
    "a thick block of rubber": solid("rubber"),
    "a distance that you choose": None,
}


def _stop(mass: float, height: float, striker: Body, block: Body | None, way: float) -> Stop:
    if block is None:
        return stop_within(mass, height, way, striker)
    return stop_on(mass, height, striker, block)


def stop_explorer() -> Explorer[Stop]:
    """Return the explorer of notebook 04: mass, height, and what stops the fall."""
    block = Choice("block", "stopped by", _BLOCKS, "a thick block of glass")
    way = Slider("way", "stopping distance", "length", 0.1e-3, 0.3, 10e-3, log=True)
    give_say(block, (way,), lambda body: () if body else ("way",))
    return Explorer(
        [
            Slider(
                "mass",
                "mass",
                "small_mass",
                5e-3,
                5.0,
                striker("steel ball")["mass"],
                log=True,
            ),
            Slider("height", "height of fall", "height", 0.05, 5.0, 1.2, 0.05),
            Choice("striker", "what falls", _STRIKERS, "a steel ball"),
            block,
            way,
        ],
        _stop,
        StopScene(),
        stop_sentence,
        stop_numbers,
        title="From height to force",
    )
