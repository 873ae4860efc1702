# SPDX-License-Identifier: MIT
"""The panels of notebook 43: series of drops, mirrors, the class of a lot, a trend."""

from glasskit.draw.sure import DropsScene, LotScene, MirrorsScene, TrendScene
from glasskit.lab import (
    Columns,
    LotGrade,
    MirrorSet,
    PowerLine,
    UpAndDown,
    grade_lot,
    mirror_set,
    power_line,
    up_and_down,
)
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.live.lab import PastedColumns
from glasskit.tables import read
from glasskit.words.sure import (
    drops_numbers,
    drops_sentence,
    lot_numbers,
    lot_sentence,
    mirrors_numbers,
    mirrors_sentence,
    trend_numbers,
    trend_sentence,
)

_BROKE = ("broke", "broken", "yes", "1", "x")
_HELD = ("held", "no", "0", "o")
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
    if plain in _BROKE or plain in _HELD:
        return plain in _BROKE
    raise ValueError(f"the first column must say broke or held; got {word!r} in line {line}")


def _drops(columns: Columns, by_factor: bool) -> UpAndDown:
    words = zip(columns.labels, columns.lines, strict=True)
    broke = [_outcome(word, line) for word, line in words]
    return up_and_down(columns.values["height"], broke, by_factor)


def drops_explorer() -> Explorer[UpAndDown]:
    """Return the first explorer of notebook 43: an up-and-down series."""
    steps = {"by equal heights": False, "by equal factors": True}
    return Explorer(
        [
            PastedColumns(PUBLISHED_DROPS, "result; height [m]\n", "drops in order", "height"),
            Buttons("by_factor", "steps and scatter", steps, "by equal factors"),
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
