# SPDX-License-Identifier: MIT
"""Explorer of a device that falls on a floor: mass, height, frame, floor, fall and skin."""

from glasskit.draw.floors import Floors, FloorScene
from glasskit.impact import FALLS, Device, drop_on
from glasskit.impact.device import FLOORS
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.plates import plate, striker
from glasskit.stress import StressProfile
from glasskit.words.floors import FALL_WORDS, FLOOR_WORDS, drop_numbers, drop_sentence

_PLAIN = plate("cover glass, plain")
SKINS = {
    "salt bath, 40 µm deep": plate("cover glass, salt bath").profile,
    "long salt bath, 80 µm deep": plate("cover glass, long salt bath").profile,
    "plain glass": _PLAIN.profile,
}
_DEVICE = striker("device")


def _drop(
    mass: float, height: float, rim: float, floor: str, fall: str, screen: StressProfile
) -> Floors:
    device = Device(
        mass=mass,
        length=_DEVICE["length"],
        width=_DEVICE["width"],
        glass=_PLAIN.glass,
        screen=screen,
        rim=rim,
    )
    drops = {name: drop_on(device, name, height, fall) for name in FLOORS}
    return Floors(chosen=floor, drops=drops)


def floor_explorer() -> Explorer[Floors]:
    """Return the explorer of notebook 10: why wood and not concrete."""
    return Explorer(
        [
            Slider("height", "height of fall", "height", 0.05, 4.0, 2.0, 0.05),
            Slider(
                "mass", "mass of the device", "small_mass", 0.05, 0.6, _DEVICE["mass"], 0.01
            ),
            Slider(
                "rim", "frame stands above the glass by", "thickness", 0, 1.5e-3, 0, 0.1e-3
            ),
            Choice("floor", "floor", {v: k for k, v in FLOOR_WORDS.items()}, "concrete"),
            Choice(
                "fall", "lands", {FALL_WORDS[fall]: fall for fall in FALLS}, FALL_WORDS["flat"]
            ),
            Choice("screen", "screen", SKINS, next(iter(SKINS))),
        ],
        _drop,
        FloorScene(),
        lambda floors, system: drop_sentence(floors.drop, system),
        lambda floors, system: drop_numbers(floors.drop, system),
        title="Wood, steel, concrete",
    )
