# SPDX-License-Identifier: MIT
"""Plan a demonstration: which height, how sure that is, how many panes to bring.

A planning aid. The odds hang on numbers that nobody knows well before the day, the flaws of
the panes first of all; the plan says which one it hangs on most. Rehearse with the very panes
of the day, keep the break log (`glasskit.demonstration.breaklog`), and let it overrule the
odds. Safety is decided by local codes, the employer's risk assessment and licensed practice.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np

from glasskit.demonstration.advice import Change, candidates
from glasskit.demonstration.breaklog import Entry, updated
from glasskit.demonstration.chances import Odds, chosen_odds, odds, swings
from glasskit.demonstration.prospects import Prospect, Wish, prospect
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Rig,
    Specimen,
    SwungHammer,
    annealed,
    chemically,
    everyday_flaws,
    toughened,
)
from glasskit.demonstration.spares import MOST, panes_to_bring, proved_share
from glasskit.quantities import FloatArray, in_range, of_type, require, whole
from glasskit.strength import zero_failure_size
from glasskit.tables import standing

__all__ = [
    "Change",
    "DroppedBall",
    "FallingPane",
    "GuidedDrop",
    "Odds",
    "Plan",
    "Prospect",
    "Rig",
    "Specimen",
    "SwungHammer",
    "Wish",
    "annealed",
    "chemically",
    "everyday_flaws",
    "moved",
    "odds",
    "panes_to_bring",
    "plan",
    "proved_share",
    "swings",
    "toughened",
]

HEIGHTS = np.geomspace(0.05, 10.0, 40)
"""Heights that a plan looks at [m]."""

Reason = Literal["", "scatter", "ignorance", "reach"]

_FINE = 400  # heights between which the chosen one is looked for


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Plan:
    """What to do, how sure it is, and what it hangs on.

    Attributes
    ----------
    prospects : tuple of Prospect
        One for each kind of pane, in the order given.
    rig : Rig
        What strikes.
    shows : int
        Number of shows [-].
    wish : Wish
        What was wished.
    heights : ndarray
        Heights looked at [m], shape (h,).
    height : float
        Height to use [m]; `best` unless the plan was `moved`.
    best : float
        Height that does best, or where the wish cannot be met comes nearest [m].
    window : tuple of float or None
        Lowest and highest height that meet the wish [m]; None if there is no such height.
    reason : str
        Why there is none. "scatter": the flaws of the panes scatter so much that the kinds
        overlap, even if every input had its chosen value. "ignorance": at the chosen values
        a height would do, but they are not known well enough: rehearse. "reach": ordinary
        panes do not break often enough even from the greatest height. Empty if there is one.
    change : Change or None
        Nearest change that would make one; None if none is needed or none was found.
    knowable : float
        Chance that some height meets the wish once rehearsals have told the truth about the
        panes: share of the sets of inputs in which one does [-].
    rehearsals : int
        Rehearsals in a row as wished, of each kind on fresh panes, that prove the wished
        share with the wished confidence [-].
    cautions : tuple of str
        Keys of what to heed, see `CAUTIONS`.
    seed : int
        The same seed gives the same plan.
    logged : int
        Blows of the log that corrected the odds; `swings` are those of the model alone [-].

    """

    prospects: tuple[Prospect, ...]
    rig: Rig
    shows: int
    wish: Wish
    heights: FloatArray
    height: float
    best: float
    window: tuple[float, float] | None
    reason: Reason
    change: Change | None
    knowable: float
    rehearsals: int
    cautions: tuple[str, ...]
    seed: int
    logged: int

    @property
    def swings(self) -> Mapping[str, tuple[float, float]]:
        """Input to the chances of breaking with it at its low and its high end [-].

        At the plan's height, largest swing first; of the first kind that shall break.
        """
        return _swings(self)

    @property
    def main_input(self) -> str:
        """Input on which the odds hang most."""
        return next(iter(self.swings))

    @property
    def fits(self) -> bool:
        """Whether the height meets the wish."""
        return self.window is not None and self.window[0] <= self.height <= self.window[1]


CAUTIONS: Mapping[str, str] = MappingProxyType(
    {
        "rehearse": "This is a planning aid: rehearse with the very panes of the day.",
        "assess": "Local codes, the employer's risk assessment and licensed practice decide "
        "what is safe; screens, distance and eye protection come before any height.",
        "again": "A pane that withstood a blow is weakened only by new flaws. Do not count on "
        "a second blow from the same height to break it, nor on a pane that survived to "
        "survive again: take a fresh one.",
        "unbroken": standing("live pane"),
        "stretches": "From this height the pane sinks so far that it also stretches: the "
        "stress, and the chance of breaking, are overstated.",
        "ring": "A hard ball can crack a ring into the face that it hits; such breaks are "
        "not in the odds.",
        "edge": "Breaks from edges and corners are not in the odds: look at the edges.",
        "judged": "Grains, floor and stiffness of the device are judgements: the odds rank "
        "floors, they do not tell whether a given device survives.",
        "slap": "How a pane meets the floor is hardly known: the stress is good to a factor "
        "of two.",
        "close": "The height is not sure to do as wished: have words ready for either end.",
    }
)
"""What a plan may have to say, by key."""


def plan(
    panes: Sequence[Specimen],
    rig: Rig,
    shows: int,
    wish: Wish | None = None,
    *,
    seed: int = 0,
    log: Sequence[Entry] = (),
    progress: Callable[[float, str], None] | None = None,
) -> Plan:
    """Plan a demonstration.

    Parameters
    ----------
    panes : sequence of Specimen
        Kinds of pane, each with a name of its own; ordinary ones shall break, toughened ones
        survive.
    rig : Rig
        What strikes.
    shows : int
        In each show one pane of each kind shall do as wished [-].
    wish : Wish, optional
        Shares and confidence.
    seed : int
        The same seed gives the same plan.
    log : sequence of Entry
        What happened so far with this rig; it corrects the odds of the panes it names, not
        those of the changes.
    progress : callable, optional
        Told the share of the work that is done [-] and what is done next.

    Returns
    -------
    Plan
        Height, odds, panes to bring, and what they hang on.

    Raises
    ------
    ValueError
        If there is no pane, two share a name, or `shows` is below 1.

    Notes
    -----
    The height chosen is the one whose worst kind exceeds its wished share by most.

    Examples
    --------
    A 227 g ball on panes of 300 by 300 by 4 mm, ordinary and toughened in salt:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.impact import Pane
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> made = plan([annealed("ordinary", pane), chemically("salt", pane)], ball, 6)
    >>> made.window is not None, 0.5 < made.height < 3.0
    (True, True)

    """
    of_type("rig", rig, Rig)
    if wish is not None:
        of_type("wish", wish, Wish)
    wish = wish or Wish()
    tell = progress or (lambda share, doing: None)
    names = [pane.name for pane in panes]
    require(len(names) > 0, "panes", len(names), "hold one kind or more; number")
    require(len(set(names)) == len(names), "panes", len(names), "have names of their own; of")
    shows, seed = whole("shows", shows, 1, MOST), whole("seed", seed)
    found = []
    for done, pane in enumerate(panes):
        tell(0.5 * done / len(panes), f"odds of {pane.name}")
        found.append(updated(odds(pane, rig, HEIGHTS, seed=seed), log, pane.name))
    tell(0.5, "heights")
    height, window = _best(panes, found, wish)
    return Plan(
        prospects=tuple(
            prospect(*pair, height, shows, wish) for pair in zip(panes, found, strict=True)
        ),
        rig=rig,
        shows=shows,
        wish=wish,
        heights=found[0].heights,
        height=height,
        best=height,
        window=window,
        reason="" if window else _reason(panes, rig, found, wish, seed),
        change=None if window else _change(panes, rig, wish, seed, tell),
        knowable=_knowable(panes, found, wish),
        rehearsals=_rehearsals(wish),
        cautions=_cautions(panes, rig, height, window is not None),
        seed=seed,
        logged=sum(entry.kind in names for entry in log),
    )


def moved(made: Plan, height: float) -> Plan:
    """Return a plan with another height: same panes, odds and window.

    Parameters
    ----------
    made : Plan
        From `plan`.
    height : float
        Height within those of the plan [m].

    Returns
    -------
    Plan
        Chances, panes to bring, swings and cautions are those of the height.

    Raises
    ------
    ValueError
        If the height lies outside those looked at.

    Notes
    -----
    The odds are not drawn anew: between the heights tried they are interpolated.

    References
    ----------
    Own method, see `plan`.

    Examples
    --------
    The same panes from a metre:

    >>> from glasskit.materials import glass, solid
    >>> from glasskit.impact import Pane
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> made = plan([annealed("ordinary", pane)], ball, 6)
    >>> moved(made, 1.0).height
    1.0

    """
    of_type("made", made, Plan)
    low, high = made.heights[[0, -1]]
    height = in_range("height", height, low, high, "m").item()
    panes = [item.specimen for item in made.prospects]
    there = replace(
        made,
        height=height,
        prospects=tuple(
            prospect(item.specimen, item.odds, height, made.shows, made.wish)
            for item in made.prospects
        ),
    )
    return replace(there, cautions=_cautions(panes, made.rig, height, there.fits))


def _rehearsals(wish: Wish) -> int:
    least = min(1.0 - wish.break_share, 1.0 - wish.survive_share)
    return int(zero_failure_size(least, wish.confidence))


@lru_cache(maxsize=16)
def _swings(made: Plan) -> Mapping[str, tuple[float, float]]:
    first = next((item for item in made.prospects if item.shall_break), made.prospects[0])
    found = swings(first.specimen, made.rig, made.height, seed=made.seed)
    return MappingProxyType(found)


def _margins(
    panes: Sequence[Specimen], chances: Sequence[FloatArray], wish: Wish
) -> FloatArray:
    """Return by how much the worst kind exceeds its wished share; shape of one `chances`."""
    over = [
        chance - wish.break_share
        if pane.kind == "annealed"
        else 1.0 - chance - wish.survive_share
        for pane, chance in zip(panes, chances, strict=True)
    ]
    return np.asarray(np.min(over, axis=0))


def _best(
    panes: Sequence[Specimen], found: Sequence[Odds], wish: Wish
) -> tuple[float, tuple[float, float] | None]:
    """Return the height with the largest margin, and the window of those that have one."""
    known = np.log(found[0].heights)
    fine = np.linspace(known[0], known[-1], _FINE)
    margin = _margins(panes, [np.interp(fine, known, item.chance) for item in found], wish)
    best = np.flatnonzero(margin >= margin.max() - 1e-9)
    height = float(np.exp(fine[best[best.size // 2]]))
    fits = np.exp(fine[margin >= 0])
    return height, (float(fits[0]), float(fits[-1])) if fits.size else None


def _knowable(panes: Sequence[Specimen], found: Sequence[Odds], wish: Wish) -> float:
    """Return the share of the sets of inputs in which some height meets the wish."""
    margin = _margins(panes, [item.chances for item in found], wish)
    return float((margin.max(axis=1) >= 0).mean())


def _scatter_fits(panes: Sequence[Specimen], rig: Rig, wish: Wish, seed: int) -> bool:
    """Say whether some height meets the wish with every input at its chosen value."""
    chances = [chosen_odds(pane, rig, HEIGHTS, seed=seed) for pane in panes]
    return bool(_margins(panes, chances, wish).max() >= 0)


def _reason(
    panes: Sequence[Specimen], rig: Rig, found: Sequence[Odds], wish: Wish, seed: int
) -> Reason:
    ordinary = [
        item for pane, item in zip(panes, found, strict=True) if pane.kind == "annealed"
    ]
    if any(item.chance.max() < wish.break_share for item in ordinary):
        return "reach"
    return "ignorance" if _scatter_fits(panes, rig, wish, seed) else "scatter"


def _change(
    panes: Sequence[Specimen],
    rig: Rig,
    wish: Wish,
    seed: int,
    tell: Callable[[float, str], None],
) -> Change | None:
    """Return the nearest change that meets the wish, those that cannot left out early."""
    worth = candidates(panes, rig)
    for done, change in enumerate(worth):
        tell(0.5 + 0.5 * done / len(worth), f"another {change.what}")
        if not _scatter_fits(change.panes, change.rig, wish, seed):
            continue
        found = [odds(pane, change.rig, HEIGHTS, seed=seed) for pane in change.panes]
        height, window = _best(change.panes, found, wish)
        if window:
            return change.at(height)
    return None


def _cautions(
    panes: Sequence[Specimen], rig: Rig, height: float, meets: bool
) -> tuple[str, ...]:
    keys = ["rehearse", "assess", "again", "unbroken", "edge"]
    if isinstance(rig, GuidedDrop):
        keys.append("judged")
    elif isinstance(rig, FallingPane):
        keys.append("slap")
    else:
        keys.append("ring")
        if any(rig.blow(item.pane, height).stretches.any() for item in panes):
            keys.append("stretches")
    return tuple(keys if meets else [*keys, "close"])
