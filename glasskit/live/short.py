# SPDX-License-Identifier: MIT
"""Explorers of the short pages: one slider each, all else as it usually is."""

from glasskit.breakage import Breakage
from glasskit.crack import EDGE_CRACK, Flaw, LoadedCrack, load_crack
from glasskit.draw.crack import PressedCrackScene
from glasskit.draw.crumbs import CrumbScene
from glasskit.draw.flaw import FlawScene
from glasskit.draw.stopping import StopScene
from glasskit.impact import Stop, stop_within
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import glass, solid
from glasskit.plates import plate
from glasskit.words import short as words

_COVER, _PANE = plate("cover glass, salt bath"), plate("window pane, quenched")
_SCRATCH = 20e-6  # within the skin [m]
_BALL, _FALL = 0.2, 1.0  # as on the worksheets [kg, m]


def _scratched(depth: float) -> Flaw:
    return Flaw(depth=depth, glass=glass("soda-lime"), geometry_factor=EDGE_CRACK)


def _held(tension: float) -> LoadedCrack:
    return load_crack(_COVER.profile, tension, _SCRATCH, _COVER.glass)


def _stopped(way: float) -> Stop:
    return stop_within(_BALL, _FALL, way, solid("steel"))


def _crumbled(squeeze: float) -> Breakage:
    return Breakage(profile=_PANE.squeezed(squeeze), glass=_PANE.glass, way="quench")


def scratch_explorer() -> Explorer[Flaw]:
    """Return the explorer of the short page 01: how deep the scratch is."""
    return Explorer(
        [Slider("depth", "depth of scratch", "depth", 1e-6, 500e-6, 20e-6, log=True)],
        _scratched,
        FlawScene(),
        words.scratch_sentence,
        words.scratch_numbers,
        title="One scratch",
    )


def held_crack_explorer() -> Explorer[LoadedCrack]:
    """Return the explorer of the short page 02: how hard the outside pulls."""
    return Explorer(
        [Slider("tension", "pulling stress outside", "stress", 0.0, 900e6, 300e6, 10e6)],
        _held,
        PressedCrackScene(),
        words.held_sentence,
        words.held_numbers,
        title="A scratch in a squeezed skin",
    )


def soft_stop_explorer() -> Explorer[Stop]:
    """Return the explorer of the short page 04: over what distance a ball is stopped."""
    return Explorer(
        [Slider("way", "stopping distance", "length", 0.1e-3, 0.3, 10e-3, log=True)],
        _stopped,
        StopScene(),
        words.soft_stop_sentence,
        words.soft_stop_numbers,
        title="Soft and hard stops",
    )


def crumbling_explorer() -> Explorer[Breakage]:
    """Return the explorer of the short page 13: how hard the skin of a pane is squeezed."""
    return Explorer(
        [Slider("squeeze", "squeeze at face, stress", "stress", 10e6, 160e6, 100e6, 1e6)],
        _crumbled,
        CrumbScene(),
        words.crumb_sentence,
        words.crumb_numbers,
        title="Blades or crumbs",
    )
