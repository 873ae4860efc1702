# SPDX-License-Identifier: MIT
"""Explorer of a toughened pane that breaks."""

import warnings

from glasskit.breakage import Breakage
from glasskit.draw.crumbs import CrumbScene
from glasskit.live.controls import Choice, Slider, give_say
from glasskit.live.explorer import Explorer
from glasskit.plates import plate
from glasskit.quantities import OutsideValidityWarning
from glasskit.stress import annealed, exchanged, tempered
from glasskit.words.crumbs import breakage_numbers, breakage_sentence

_COVER, _PANE = plate("cover glass, salt bath"), plate("window pane, quenched")
_BATHED, _SKIN = _COVER["squeeze"], _COVER["skin"]
_THINNEST_CHECKED = _PANE.values["thickness"].low
_QUENCH, _BATH, _NONE = (
    "quench in air: window glass",
    f"salt bath: cover glass, {_BATHED / 1e6:g} MPa, {_SKIN * 1e6:g} µm deep",
    "none: window glass",
)


def _break(way: str, squeeze: float, thickness: float) -> Breakage:
    if way == _BATH:
        bathed = exchanged(_BATHED, _SKIN, thickness)
        return Breakage(profile=bathed, glass=_COVER.glass, way="bath")
    if way == _NONE:
        return Breakage(profile=annealed(thickness), glass=_PANE.glass, way="none")
    if thickness < _THINNEST_CHECKED * (1 - 1e-9):
        warnings.warn(
            "below 3 mm a pane needs more stress to crumble than the relations say, and a "
            "quench in air hardly leaves it",
            OutsideValidityWarning,
            stacklevel=1,
        )
    return Breakage(profile=tempered(squeeze, thickness), glass=_PANE.glass, way="quench")


def crumb_explorer() -> Explorer[Breakage]:
    """Return the explorer of notebook 13: way of toughening, squeeze and thickness."""
    way = Choice(
        "way", "toughened by", {name: name for name in (_QUENCH, _BATH, _NONE)}, _QUENCH
    )
    squeeze = Slider(
        "squeeze", "squeeze at surface", "stress", 10e6, 160e6, _PANE["squeeze"], 1e6
    )
    thickness = Slider(
        "thickness", "thickness", "thickness", 0.5e-3, 19e-3, _PANE["thickness"], 1e-4
    )
    give_say(way, (squeeze,), {_QUENCH: ("squeeze",), _BATH: (), _NONE: ()}.__getitem__)
    return Explorer(
        [way, squeeze, thickness],
        _break,
        CrumbScene(),
        breakage_sentence,
        breakage_numbers,
        title="Into crumbs",
    )
