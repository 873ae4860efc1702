# SPDX-License-Identifier: MIT
"""The explorer of time under load: how long a flaw stands a steady pull."""

from glasskit.crack import ENVIRONMENTS, Clock, GrowthLaw, run_clock
from glasskit.draw.clock import PULL, ClockScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.plates import plate
from glasskit.stress import StressProfile
from glasskit.words.clock import AIRS, clock_numbers, clock_sentence

_PANES = {
    "plain: pane of 12 mm": plate("shelf, plain").profile,
    "toughened: pane of 12 mm, 100 MPa": plate("shelf, quenched").profile,
}


def _run(depth: float, tension: float, air: GrowthLaw, pane: StressProfile) -> Clock:
    return run_clock(pane, tension, depth, air)


def clock_explorer() -> Explorer[Clock]:
    """Return the explorer of notebook 12: flaw, pull, air and pane."""
    airs = {AIRS[name]: ENVIRONMENTS[name] for name in AIRS}
    return Explorer(
        [
            Slider("depth", "depth of flaw", "depth", 5e-6, 200e-6, 50e-6, log=True),
            Slider("tension", "steady pulling stress", "stress", 1e6, PULL, 20e6, 1e6),
            Choice("air", "surroundings", airs, AIRS["design"]),
            Choice("pane", "pane", _PANES, "plain: pane of 12 mm"),
        ],
        _run,
        ClockScene(),
        clock_sentence,
        clock_numbers,
        title="Under load for years",
    )
