# SPDX-License-Identifier: MIT
"""Blow on a hot pane and see the stress that stays; lay a salt bath's beside it."""

from glasskit import stress
from glasskit.draw.quenching import KindsScene, QuenchScene
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.plates import plate
from glasskit.quantities import from_display
from glasskit.stress import StressProfile
from glasskit.toughening import quenching
from glasskit.words.quenching import kinds_numbers, kinds_sentence, numbers, sentence

_BATHED, _PANE = plate("cover glass, salt bath"), plate("window pane, quenched")


def _celsius(value: float) -> float:
    return from_display(value, "temperature").item()


def quench_explorer() -> Explorer[quenching.Quench]:
    """Return an explorer of the air quench of a soda-lime pane.

    Returns
    -------
    Explorer
        Sliders for thickness, blast and temperature at the start.

    """

    def compute(
        thickness: float, heat_transfer: float, start_temperature: float
    ) -> quenching.Quench:
        return quenching.quench(thickness, start_temperature, heat_transfer, _PANE.glass)

    thick = _PANE["thickness"]
    return Explorer(
        [
            Slider("thickness", "thickness", "thickness", 3e-3, 12e-3, thick, 0.5e-3),
            Slider(
                "heat_transfer", "blast", "heat_transfer", 20, 300, 200, step=10
            ),
            Slider(
                "start_temperature", "hot at the start", "temperature",
                _celsius(560), _celsius(680), _celsius(650), step=5,
            ),
        ],
        compute,
        QuenchScene(),
        sentence,
        numbers,
        title="Quench a pane in air",
    )  # fmt: skip


def kinds_explorer() -> Explorer[tuple[StressProfile, StressProfile]]:
    """Return an explorer of both kinds of toughening in one pane, to one scale.

    Returns
    -------
    Explorer
        Sliders for the thickness, the salt bath's skin and squeeze, and the blast.

    """

    def compute(
        thickness: float, case_depth: float, squeeze: float, heat_transfer: float
    ) -> tuple[StressProfile, StressProfile]:
        bath = stress.exchanged(squeeze, case_depth, thickness)
        blown = quenching.quench(thickness, _celsius(650), heat_transfer, _PANE.glass)
        return bath, blown.profile

    return Explorer(
        [
            Slider("thickness", "thickness", "thickness", 3e-3, 12e-3, 4e-3, 0.5e-3),
            Slider("case_depth", "bath's skin", "depth", 10e-6, 80e-6, _BATHED["skin"], 5e-6),
            Slider(
                "squeeze", "bath's squeeze", "stress", 200e6, 850e6, _BATHED["squeeze"], 25e6
            ),
            Slider("heat_transfer", "blast", "heat_transfer", 20, 300, 300, step=10),
        ],
        compute,
        KindsScene(),
        kinds_sentence,
        kinds_numbers,
        title="Two kinds of toughening in one pane",
    )
