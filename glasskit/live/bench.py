# SPDX-License-Identifier: MIT
"""Panels of notebook 43: dents at loads, a dilatometer, fringes, guided light, a profile."""

import numpy as np

from glasskit.draw.bench import (
    BalanceScene,
    DentsScene,
    ExpansionScene,
    GuidedScene,
    LightScene,
)
from glasskit.lab import (
    Columns,
    DentSeries,
    Dilatometry,
    ProfileBalance,
    Reduction,
    dilatometry,
    from_tolerance,
    parse_dents,
    profile_balance,
    reduce,
)
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.live.lab import PastedColumns
from glasskit.live.results import Pasted
from glasskit.training import invented
from glasskit.words.bench import (
    balance_numbers,
    balance_sentence,
    dents_numbers,
    dents_sentence,
    expansion_numbers,
    expansion_sentence,
    light_numbers,
    light_sentence,
)


class PastedDents(Pasted):
    """A control that holds dents: load, two diagonals, and why one was set aside."""

    def __init__(self) -> None:
        header = "load [gf]; first diagonal [µm]; second diagonal [µm]; aside\n"
        example = invented.dents_at_loads(np.random.default_rng(invented.SEED))
        super().__init__("found", example, header)
        self.area.description = "dents: type or paste; load, diagonals, why one is set aside"

    @property
    def value(self) -> DentSeries:
        """The dents and their laws.

        Raises
        ------
        ValueError
            If the first row cannot be understood, or too few dents are left.

        """
        return parse_dents(self.area.value)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many dents are used, and line, text and trouble of each one set aside."""
        found = self.value
        used = f"{found.load.size} dents are used, {len(found.troubles)} set aside."
        return used, [(str(one.line), one.text, f"{one.words}.") for one in found.troubles]


def _read(found: DentSeries) -> DentSeries:
    return found


def dents_explorer() -> Explorer[DentSeries]:
    """Return an explorer of notebook 43: hardness over loads."""
    return Explorer(
        [PastedDents()],
        _read,
        DentsScene(),
        dents_sentence,
        dents_numbers,
        title="Does hardness fall with the load?",
    )


def _heated(
    columns: Columns,
    length: float,
    hard_from: float,
    hard_to: float,
    soft_from: float,
    soft_to: float,
    gauge: float,
    thermometer: float,
) -> Dilatometry:
    return dilatometry(
        columns.values["temperature"],
        columns.values["depth"],
        length,
        (hard_from, hard_to),
        (soft_from, soft_to),
        sizes=gauge,
        thermometer=thermometer,
    )


def expansion_explorer() -> Explorer[Dilatometry]:
    """Return an explorer of notebook 43: a dilatometer's curve."""
    example = invented.heated_rod(np.random.default_rng(invented.SEED))
    header = "temperature [°C]; elongation [µm]\n"
    ends = {
        "hard_from": ("hard tangent from", 573.15),
        "hard_to": ("hard tangent to", 773.15),
        "soft_from": ("soft tangent from", 848.15),
        "soft_to": ("soft tangent to", 873.15),
    }
    return Explorer(
        [
            PastedColumns(example, header, "one heating", "temperature", "depth"),
            Slider("length", "length, cold", "length", 10e-3, 100e-3, 50e-3, 0.1e-3),
            *(
                Slider(name, label, "temperature", 293.15, 1273.15, start, 5.0)
                for name, (label, start) in ends.items()
            ),
            Slider("gauge", "elongation within ±", "depth", 0.0, 5e-6, 1e-6, 0.1e-6),
            Slider(
                "thermometer", "thermometer ±", "temperature_difference", 0.0, 10.0, 2.0, 0.1
            ),
        ],
        _heated,
        ExpansionScene(),
        expansion_sentence,
        expansion_numbers,
        title="How does this glass grow, and when does it soften?",
    )


def _turned(
    order: float, turn: float, wavelength: float, path: float, off: float
) -> Reduction:
    given = {
        "fringes": from_tolerance(order, 0.0),
        "analyser": from_tolerance(turn, off),
        "wavelength": from_tolerance(wavelength, 5e-9),
        "path": from_tolerance(path, 0.02e-3),
    }
    return reduce("analyser_turn", given)


def analyser_explorer() -> Explorer[Reduction]:
    """Return an explorer of notebook 43: fringes and a turned analyser."""
    degree = np.pi / 180
    return Explorer(
        [
            Slider("order", "whole fringes (− squeezed)", "number", -5, 5, -1, 1),
            Slider("turn", "turn (+ more)", "angle", -90 * degree, 90 * degree, -32 * degree),
            Slider("wavelength", "wavelength", "nanometre", 450e-9, 680e-9, 565e-9, 1e-9),
            Slider("path", "way of the light", "thickness", 1e-3, 25e-3, 6e-3, 0.05e-3),
            Slider("off", "turn within ±", "angle", 0.0, 10 * degree, 3 * degree),
        ],
        _turned,
        LightScene(),
        light_sentence,
        light_numbers,
        title="Which stress do the fringes tell of?",
    )


def _guided(
    te_first: float,
    te_second: float,
    tm_first: float,
    tm_second: float,
    scale: float,
    off: float,
) -> Reduction:
    lines = {
        "te_first": te_first,
        "te_second": te_second,
        "tm_first": tm_first,
        "tm_second": tm_second,
    }
    given = {name: from_tolerance(place, off) for name, place in lines.items()}
    return reduce(
        "guided_light", {**given, "index_scale": from_tolerance(scale, 0.01 * scale)}
    )


def guided_explorer() -> Explorer[Reduction]:
    """Return an explorer of notebook 43: surface compression by guided light."""
    places = {
        "te_first": ("along the face, line 1", 6.94e-3),
        "te_second": ("along the face, line 2", 11.21e-3),
        "tm_first": ("across the face, line 1", 2.5e-3),
        "tm_second": ("across the face, line 2", 7.78e-3),
    }
    return Explorer(
        [
            *(
                Slider(name, label, "thickness", 0.0, 20e-3, start, 0.01e-3)
                for name, (label, start) in places.items()
            ),
            Slider("scale", "index for each length", "index_scale", 0.1, 1.0, 0.35, 0.001),
            Slider("off", "a line within ±", "thickness", 0.0, 0.2e-3, 0.02e-3, 0.005e-3),
        ],
        _guided,
        GuidedScene(),
        light_sentence,
        light_numbers,
        title="How strong is the squeeze at this surface?",
    )


def _summed(columns: Columns, thickness: float, uncertainty: float) -> ProfileBalance:
    values = columns.values
    return profile_balance(values["length"], values["stress"], thickness, uncertainty)


def balance_explorer() -> Explorer[ProfileBalance]:
    """Return an explorer of notebook 43: whether a stress profile balances."""
    example = invented.profile_of_pane(np.random.default_rng(invented.SEED))
    header = "depth [mm]; stress [MPa]\n"
    return Explorer(
        [
            PastedColumns(example, header, "profile in order of depth", "length", "stress"),
            Slider("thickness", "thickness", "thickness", 0.3e-3, 25e-3, 6e-3, 0.01e-3),
            Slider("uncertainty", "a reading, standard ±", "stress", 0, 30e6, 2e6, 0.5e6),
        ],
        _summed,
        BalanceScene(),
        balance_sentence,
        balance_numbers,
        title="Does this profile balance?",
    )
