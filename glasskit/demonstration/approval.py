# SPDX-License-Identifier: MIT
"""Put the drops of approval tests on the height axis of another ball.

A rule asks that toughened panes hold a certain ball from a certain height. With another ball,
or a pane that lies otherwise, the height that pulls the far face just as hard stands for it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from glasskit.demonstration.posterior import Case, cases
from glasskit.demonstration.rigs import DroppedBall, Rig, Specimen
from glasskit.quantities import FloatArray, of_type

_ALIKE = 0.06  # relative difference up to which a thickness is the one that a rule is for


@dataclass(frozen=True, slots=True, kw_only=True)
class Approval:
    """What a rule asks, told in falls of the plan's own ball.

    Attributes
    ----------
    case : Case
        The record; its `rule` says how many must hold, its `hits` from where.
    height : float
        Fall of the plan's ball that pulls the far face as hard [m].
    same : bool
        Whether ball and height are the rule's own.

    """

    case: Case
    height: float
    same: bool


def approvals(
    panes: Sequence[Specimen], rig: Rig, heights: FloatArray
) -> tuple[Approval, ...]:
    """Return the rules for the thickness of the toughened panes of a plan, lowest first.

    Parameters
    ----------
    panes : sequence of Specimen
        Kinds of pane; rules are for those toughened by heat.
    rig : Rig
        What strikes; a ball, or nothing is returned.
    heights : ndarray
        Heights looked at, ascending [m].

    Returns
    -------
    tuple of Approval
        Those within the heights.

    Notes
    -----
    Approved glass is good glass: what a rule asks is a bound, and no share of breaks.

    Examples
    --------
    What is asked of panes of 4 mm under a ball of 227 g, up to 5 m:

    >>> from glasskit.demonstration.rigs import toughened
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> found = approvals([toughened("safe", pane)], ball, np.geomspace(0.1, 5.0, 20))
    >>> [one.height for one in found]
    [2.5, 3.05]

    """
    of_type("rig", rig, Rig)
    found = []
    for pane in panes:
        half = pane.way == "half"  # heat-strengthened panes need pass no such test
        if pane.kind != "toughened" or half or not isinstance(rig, DroppedBall):
            continue
        pull = rig.blow(pane.pane, heights).stress
        for case in cases():
            off = abs(case.specimen.pane.thickness / pane.pane.thickness - 1.0)
            if case.rule is None or off > _ALIKE:
                continue
            ball = case.hits[0].rig
            asked = ball.blow(case.specimen.pane, [case.rule.height]).stress.item()
            same = isinstance(ball, DroppedBall) and abs(ball.mass / rig.mass - 1) < _ALIKE
            height = case.rule.height if same else _height(asked, pull, heights)
            if heights[0] < height <= heights[-1]:
                found.append(Approval(case=case, height=height, same=same))
    return tuple(sorted(found, key=lambda one: one.height))


def _height(asked: float, pull: FloatArray, heights: FloatArray) -> float:
    rising = np.maximum.accumulate(pull)
    at = np.interp(np.log(asked), np.log(rising), np.log(heights), right=np.inf)
    return float(np.exp(at))
