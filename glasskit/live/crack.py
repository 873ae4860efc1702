# SPDX-License-Identifier: MIT
"""Explorers of cracks: what a flaw costs, and a crack pressed shut."""

import warnings
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from glasskit.crack import EDGE_CRACK, Flaw, LoadedCrack, load_crack
from glasskit.draw.crack import PressedCrackScene
from glasskit.draw.flaw import FlawScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import glass, glass_names
from glasskit.quantities import OutsideValidityWarning
from glasskit.stress import StressProfile, annealed, exchanged, tempered
from glasskit.toughening import quench, residual_stress
from glasskit.words.crack import crack_numbers, crack_sentence, flaw_numbers, flaw_sentence

__all__ = ["flaw_explorer", "pressed_crack_explorer"]

_HALF_DISC = 0.6625  # K/(stress sqrt(pi depth)) at its deepest point, Newman and Raju 1981
_COVER, _PANE = 0.7e-3, 6e-3  # thickness of the two plates [m]
_HARDEST_QUENCH = 250e6  # [Pa], thermally tempered flat glass: common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plate:
    """One way to toughen: the glass, its profile, and the sliders that shape it."""

    material: str
    profile: Callable[[float, float], StressProfile]
    sliders: tuple[str, ...]


def _bathed(squeeze: float, skin: float) -> StressProfile:
    return exchanged(squeeze, skin, _COVER) if squeeze else annealed(_COVER)


def _quenched(squeeze: float, skin: float) -> StressProfile:
    if squeeze > _HARDEST_QUENCH:
        warnings.warn(
            "a quench in air leaves at most about 250 MPa; this pane is imagined",
            OutsideValidityWarning,
            stacklevel=1,
        )
    return tempered(squeeze, _PANE) if squeeze else annealed(_PANE)


@cache
def _bath_of_06() -> StressProfile:
    return residual_stress(16 * 3600.0, 430 + 273.15, _COVER, "aluminosilicate")


@cache
def _quench_of_07() -> StressProfile:
    return quench(_PANE, 650 + 273.15, 200.0, glass("soda-lime")).profile


_PLATES = {
    "salt bath: cover glass, 0.7 mm": _Plate(
        material="aluminosilicate", profile=_bathed, sliders=("squeeze", "skin")
    ),
    "quench in air: window pane, 6 mm": _Plate(
        material="soda-lime", profile=_quenched, sliders=("squeeze",)
    ),
    "bath of notebook 06: 16 h at 430 °C, 0.7 mm": _Plate(
        material="aluminosilicate", profile=lambda squeeze, skin: _bath_of_06(), sliders=()
    ),
    "quench of notebook 07: 650 °C, 6 mm": _Plate(
        material="soda-lime", profile=lambda squeeze, skin: _quench_of_07(), sliders=()
    ),
    "none: window pane, 6 mm": _Plate(
        material="soda-lime", profile=lambda squeeze, skin: annealed(_PANE), sliders=()
    ),
}


def _load(
    toughening: _Plate, squeeze: float, skin: float, depth: float, tension: float
) -> LoadedCrack:
    profile = toughening.profile(squeeze, skin)
    return load_crack(profile, tension, depth, glass(toughening.material))


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
    toughening = Choice("toughening", "toughened by", _PLATES, next(iter(_PLATES)))
    squeeze = Slider("squeeze", "squeeze at surface", "stress", 0.0, 900e6, 700e6, 10e6)
    skin = Slider("skin", "depth of squeeze", "depth", 5e-6, 140e-6, 40e-6, 1e-6)
    depth = Slider("depth", "depth of crack", "depth", 2e-6, 400e-6, 60e-6, log=True)
    tension = Slider("tension", "pulling stress outside", "stress", 0.0, 1000e6, 50e6, 5e6)

    def enable() -> None:
        for slider in (squeeze, skin):
            slider.enable(slider.name in toughening.value.sliders)

    toughening.on_change(enable)
    return Explorer(
        [toughening, squeeze, skin, depth, tension],
        _load,
        PressedCrackScene(),
        crack_sentence,
        crack_numbers,
        title="A crack pressed shut",
    )
