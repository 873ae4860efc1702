# SPDX-License-Identifier: MIT
"""Explorers of cracks: what a flaw costs, and a crack pressed shut."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from glasskit.crack import (
    EDGE_CRACK,
    Flaw,
    LoadedCrack,
    load_crack,
    semi_elliptical_intensity,
)
from glasskit.draw.crack import PressedCrackScene
from glasskit.draw.flaw import FlawScene
from glasskit.live.controls import Choice, Slider, give_say
from glasskit.live.explorer import Explorer
from glasskit.materials import glass, glass_names
from glasskit.plates import Plate, plate
from glasskit.stress import StressProfile
from glasskit.toughening import quench, residual_stress
from glasskit.words.crack import crack_numbers, crack_sentence, flaw_numbers, flaw_sentence

_HALF_DISC = semi_elliptical_intensity(1.0, 1.0, 1.0).item() / math.sqrt(math.pi)
_COVER, _PANE = plate("cover glass, salt bath"), plate("window pane, quenched")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """One way to toughen: the plate, its profile, and the sliders that shape it."""

    plate: Plate
    profile: Callable[[float, float], StressProfile]
    sliders: tuple[str, ...]


@cache
def _bath_of_06() -> StressProfile:
    return residual_stress(16 * 3600.0, 430 + 273.15, _COVER["thickness"], _COVER.glass.name)


@cache
def _quench_of_07() -> StressProfile:
    return quench(_PANE["thickness"], 650 + 273.15, 200.0, _PANE.glass).profile


_WAYS = {
    "salt bath: cover glass, 0.7 mm": _Way(
        plate=_COVER, profile=_COVER.squeezed, sliders=("squeeze", "skin")
    ),
    "quench in air: window pane, 6 mm": _Way(
        plate=_PANE, profile=_PANE.squeezed, sliders=("squeeze",)
    ),
    "bath of notebook 06: 16 h at 430 °C, 0.7 mm": _Way(
        plate=_COVER, profile=lambda squeeze, skin: _bath_of_06(), sliders=()
    ),
    "quench of notebook 07: 650 °C, 6 mm": _Way(
        plate=_PANE, profile=lambda squeeze, skin: _quench_of_07(), sliders=()
    ),
    "none: window pane, 6 mm": _Way(
        plate=_PANE, profile=lambda squeeze, skin: _PANE.squeezed(0.0), sliders=()
    ),
}


def _load(
    toughening: _Way, squeeze: float, skin: float, depth: float, tension: float
) -> LoadedCrack:
    profile = toughening.profile(squeeze, skin)
    return load_crack(profile, tension, depth, toughening.plate.glass)


def flaw_explorer() -> Explorer[Flaw]:
    """Return the explorer of notebook 01: depth and shape of a flaw, and the glass."""
    glasses = {name: glass(name) for name in glass_names()}
    shapes = {"long scratch": EDGE_CRACK, "half-disc, as deep as half its length": _HALF_DISC}
    return Explorer(
        [
            Slider("depth", "depth of flaw", "depth", 1e-8, 2e-3, 20e-6, log=True),
            Choice("glass", "glass", glasses, "soda-lime"),
            Choice("geometry_factor", "shape of flaw", shapes, "long scratch"),
        ],
        Flaw,
        FlawScene(),
        flaw_sentence,
        flaw_numbers,
        title="What a flaw costs",
    )


def pressed_crack_explorer() -> Explorer[LoadedCrack]:
    """Return the explorer of notebook 02: squeeze, skin, crack and pull as sliders."""
    toughening = Choice("toughening", "toughened by", _WAYS, next(iter(_WAYS)))
    squeeze = Slider(
        "squeeze", "squeeze at surface", "stress", 0.0, 900e6, _COVER["squeeze"], 10e6
    )
    skin = Slider("skin", "depth of squeeze", "depth", 5e-6, 140e-6, _COVER["skin"], 1e-6)
    depth = Slider("depth", "depth of crack", "depth", 2e-6, 400e-6, 60e-6, log=True)
    tension = Slider("tension", "pulling stress outside", "stress", 0.0, 1000e6, 50e6, 5e6)

    give_say(toughening, (squeeze, skin), lambda way: way.sliders)
    return Explorer(
        [toughening, squeeze, skin, depth, tension],
        _load,
        PressedCrackScene(),
        crack_sentence,
        crack_numbers,
        title="A crack pressed shut",
    )
