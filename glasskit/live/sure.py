# SPDX-License-Identifier: MIT
"""The panels of notebook 43: drops, mirrors, classes, trends, creep, proof, gauge, density."""

import numpy as np

from glasskit.crack.growth import ENVIRONMENTS
from glasskit.draw.sure import (
    DensityScene,
    DropsScene,
    FatigueScene,
    GaugeScene,
    LotScene,
    MirrorsScene,
    ProofScene,
    TrendScene,
)
from glasskit.lab import (
    Columns,
    Gauge,
    Lasting,
    LotGrade,
    MirrorSet,
    PowerLine,
    Reduction,
    UpAndDown,
    fatigue,
    from_tolerance,
    grade_lot,
    mirror_set,
    parse_gauge,
    power_line,
    reduce,
    up_and_down,
)
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.live.lab import PastedColumns
from glasskit.live.results import Pasted
from glasskit.rows import BROKE, HELD
from glasskit.strength import ProofPlan, proof_plan
from glasskit.tables import read
from glasskit.training import invented
from glasskit.words.clock import AIRS
from glasskit.words.sure import (
    density_numbers,
    density_sentence,
    drops_numbers,
    drops_sentence,
    fatigue_numbers,
    fatigue_sentence,
    gauge_numbers,
    gauge_sentence,
    lot_numbers,
    lot_sentence,
    mirrors_numbers,
    mirrors_sentence,
    proof_numbers,
    proof_sentence,
    trend_numbers,
    trend_sentence,
)

PUBLISHED_DROPS = """# PUBLISHED: Hamada, Mang and Hoff 2019, table 1
result; height [cm]
held; 25.4
broke; 28.5
held; 25.4
held; 28.5
held; 32.0
broke; 35.9
held; 32.0
held; 35.9
broke; 40.3
broke; 35.9
broke; 32.0
held; 28.5
broke; 32.0
held; 28.5
broke; 32.0
held; 28.5
held; 32.0
held; 35.9
broke; 40.3
broke; 35.9
held; 32.0
held; 35.9
broke; 40.3
held; 35.9
broke; 40.3
"""
"""A weight dropped 25 times; the paper finds that half react from 34.0 cm."""

_GASKETS = {
    "A": "65 60 100 100 85 80 85 95 55 45 100 100 95 95 85 80 100 100 60 70",
    "B": "55 55 105 95 80 75 80 75 40 40 100 105 95 90 75 70 100 95 55 50",
    "C": "50 55 105 100 80 80 80 80 45 50 100 105 95 95 80 80 105 105 85 80",
}
"""Published in hundredths: ten gaskets read twice by three people [MSA1990]."""

_MIRRORS = """# INVENTED: five bars of a toughened lot
bar; stress [MPa]; radius [mm]
A; 150; 1.47
B; 170; 0.85
C; 200; 0.38
D; 240; 0.21
E; 290; 0.11
"""
_LOT = """# INVENTED: five panes of a lot, surface compression
pane; compression [MPa]
1; 71
2; 74
3; 69
4; 76
5; 72
"""


def _outcome(word: str, line: int) -> bool:
    """Tell whether a specimen broke, from the word that stands in the first column."""
    plain = word.casefold()
    if plain in BROKE | HELD:
        return plain in BROKE
    raise ValueError(f"the first column must say broke or held; got {word!r} in line {line}")


def _drops(columns: Columns, by_factor: bool, level: float) -> UpAndDown:
    words = zip(columns.labels, columns.lines, strict=True)
    broke = [_outcome(word, line) for word, line in words]
    return up_and_down(columns.values["height"], broke, by_factor, level)


def drops_explorer() -> Explorer[UpAndDown]:
    """Return the first explorer of notebook 43: an up-and-down series."""
    steps = {"by equal heights": False, "by equal factors": True}
    return Explorer(
        [
            PastedColumns(PUBLISHED_DROPS, "result; height [m]\n", "drops in order", "height"),
            Buttons("by_factor", "steps and scatter", steps, "by equal factors"),
            Slider("level", "confidence", "percent", 0.8, 0.99, 0.95, 0.01),
        ],
        _drops,
        DropsScene(),
        drops_sentence,
        drops_numbers,
        title="From which height do half break?",
    )


def _mirrors(columns: Columns) -> MirrorSet:
    return mirror_set(columns.values["stress"], columns.values["length"])


def mirrors_explorer() -> Explorer[MirrorSet]:
    """Return the second explorer of notebook 43: compression from many mirrors."""
    header = "bar; stress [MPa]; radius [mm]\n"
    return Explorer(
        [PastedColumns(_MIRRORS, header, "mirrors", "stress", "length")],
        _mirrors,
        MirrorsScene(),
        mirrors_sentence,
        mirrors_numbers,
        title="What squeeze do the mirrors tell of?",
    )


def _lot(columns: Columns, standard: str, instrument: float) -> LotGrade:
    return grade_lot(columns.values["stress"], standard, instrument)


def lot_explorer() -> Explorer[LotGrade]:
    """Return the third explorer of notebook 43: the class of a lot."""
    standards = {
        "heat-treated, ASTM C1048": "C1048",
        "chemically strengthened, ASTM C1422": "C1422",
    }
    return Explorer(
        [
            PastedColumns(_LOT, "pane; compression [MPa]\n", "panes", "stress"),
            Buttons("standard", "classes of", standards, next(iter(standards))),
            Slider("instrument", "instrument, standard ±", "stress", 0.0, 30e6, 2e6, 0.5e6),
        ],
        _lot,
        LotScene(),
        lot_sentence,
        lot_numbers,
        title="Which class is this lot in?",
    )


def _plates_of_1900() -> str:
    """Return the wired plates that were bent in 1900, as printed."""
    rows = [row for row in read("bending_1900") if row["glass"].startswith("wired")]
    lines = [f"{row['span_in']}; {row['modulus_of_rupture_psi_as_printed']}" for row in rows]
    return "\n".join(
        ["# PUBLISHED: wired plates bent in 1900", "span [in]; strength [psi]", *lines, ""]
    )


def _trend(columns: Columns) -> PowerLine:
    return power_line(columns.values["stress"], columns.values["length"])


def trend_explorer() -> Explorer[PowerLine]:
    """Return the fourth explorer of notebook 43: whether strength goes with size."""
    header = "span [mm]; strength [MPa]\n"
    return Explorer(
        [PastedColumns(_plates_of_1900(), header, "specimens", "length", "stress")],
        _trend,
        TrendScene(),
        trend_sentence,
        trend_numbers,
        title="Does strength go with size?",
    )


def _lasting(columns: Columns, steady: float, inert: float) -> Lasting:
    found = fatigue(columns.values["stress"], columns.values["stress_rate"])
    return Lasting(found=found, steady=steady, inert=inert)


def fatigue_explorer() -> Explorer[Lasting]:
    """Return the fifth explorer of notebook 43: creep of flaws from several stress rates."""
    example = invented.several_rates(np.random.default_rng(invented.SEED))
    header = "bar; rate [MPa/s]; strength [MPa]\n"
    return Explorer(
        [
            PastedColumns(example, header, "specimens", "stress_rate", "stress"),
            Slider("steady", "steady stress", "stress", 5e6, 100e6, 25e6, 1e6),
            Slider("inert", "strength without creep (0: none)", "stress", 0, 300e6, 0, 1e6),
        ],
        _lasting,
        FatigueScene(),
        fatigue_sentence,
        fatigue_numbers,
        title="How fast do flaws creep?",
    )


def _planned(
    stress: float, proof_stress: float, modulus: float, scale: float, air: str
) -> ProofPlan:
    return proof_plan(stress, proof_stress, modulus, scale, ENVIRONMENTS[air])


def proof_explorer() -> Explorer[ProofPlan]:
    """Return the sixth explorer of notebook 43: a proof test planned."""
    airs = {words: key for key, words in AIRS.items()}
    return Explorer(
        [
            Slider("stress", "steady stress in service", "stress", 1e6, 100e6, 15e6, 1e6),
            Slider(
                "proof_stress", "stress of the proof test", "stress", 1e6, 150e6, 45e6, 1e6
            ),
            Slider("modulus", "Weibull modulus", "number", 2.0, 30.0, 7.0, 0.5),
            Slider("scale", "scale, 63% break", "stress", 20e6, 300e6, 80e6, 1e6),
            Buttons("air", "in service", airs, AIRS["half humid"]),
        ],
        _planned,
        ProofScene(),
        proof_sentence,
        proof_numbers,
        title="What does a proof test promise?",
    )


class PastedGauge(Pasted):
    """A control that holds who read which piece.

    Parameters
    ----------
    example : str
        Shown at the start.

    """

    def __init__(self, example: str) -> None:
        super().__init__("found", example, "hand; piece; thickness [mm]\n")
        self.area.description = "readings: type or paste; who read, which piece, what"

    @property
    def value(self) -> Gauge:
        """The study.

        Raises
        ------
        ValueError
            If the first row cannot be understood, or a reading is missing.

        """
        return parse_gauge(self.area.value)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many lines are used, and line, text and trouble of each one set aside."""
        found = self.value
        used = f"{found.readings.size} readings are used, {len(found.troubles)} set aside."
        return used, [(str(one.line), one.text, f"{one.words}.") for one in found.troubles]


def _gaskets() -> str:
    """Return the published study as a table."""
    lines = [
        f"{hand}; {at // 2 + 1}; {int(read) / 100:.2f}"
        for hand, told in _GASKETS.items()
        for at, read in enumerate(told.split())
    ]
    head = "# PUBLISHED: ten gaskets, three people, twice; a manual of 1990, unit ours"
    return "\n".join([head, "hand; piece; thickness [mm]", *lines, ""])


def _studied(found: Gauge) -> Gauge:
    return found


def _study_of(example: str) -> Explorer[Gauge]:
    return Explorer(
        [PastedGauge(example)],
        _studied,
        GaugeScene(),
        gauge_sentence,
        gauge_numbers,
        title="What does the gauge add?",
    )


def gauge_explorer() -> Explorer[Gauge]:
    """Return the seventh explorer of notebook 43: what a gauge adds to a reading."""
    return _study_of(_gaskets())


def two_hands_explorer() -> Explorer[Gauge]:
    """Return the explorer of notebook 40: ten pieces, measured by trainee and mentor."""
    return _study_of(invented.two_hands(np.random.default_rng(invented.SEED)))


def _weighed(
    mass: float, immersed: float, balance: float, temperature: float, warmth: float
) -> Reduction:
    given = {
        "mass": from_tolerance(mass, balance),
        "immersed": from_tolerance(immersed, balance),
        "temperature": from_tolerance(temperature, warmth),
    }
    return reduce("buoyancy", given)


def density_explorer() -> Explorer[Reduction]:
    """Return the eighth explorer of notebook 43: density by buoyancy, with its budget."""
    kind = "temperature_difference"
    return Explorer(
        [
            Slider("mass", "weight in air", "small_mass", 1e-3, 0.2, 20e-3, 1e-6),
            Slider("immersed", "weight in water", "small_mass", 0.5e-3, 0.15, 12e-3, 1e-6),
            Slider("balance", "balance within ±", "small_mass", 1e-7, 20e-6, 2e-6, 1e-7),
            Slider("temperature", "water", "temperature", 283.15, 308.15, 293.15, 0.1),
            Slider("warmth", "water within ±", kind, 0.01, 2.0, 0.5, 0.01),
        ],
        _weighed,
        DensityScene(),
        density_sentence,
        density_numbers,
        title="How dense is this glass?",
    )
