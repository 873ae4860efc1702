# SPDX-License-Identifier: MIT
"""Plan a demonstration: which height, how sure that is, how many panes to bring.

A planning aid. The odds hang on numbers that nobody knows well before the day, the flaws of
the panes first of all; the plan says what is most worth learning. Rehearse with the very panes
of the day, keep the break log (`glasskit.demonstration.breaklog`), and let it overrule the
odds. Safety is decided by local codes, the employer's risk assessment and licensed practice.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np

from glasskit.demonstration.advice import Change, candidates, heavier
from glasskit.demonstration.breaking import Striking
from glasskit.demonstration.breaklog import Entry
from glasskit.demonstration.chances import Odds, odds_in, thinnest_known, worlds_of
from glasskit.demonstration.learning import Lesson, lessons
from glasskit.demonstration.prospects import Prospect, Target, prospect, rights
from glasskit.demonstration.reach import WAIST, Place
from glasskit.demonstration.rehearsal import NextBlow, Told, next_blow, told
from glasskit.demonstration.rigs import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Rig,
    Specimen,
)
from glasskit.demonstration.screening import REACH
from glasskit.demonstration.spares import (
    MOST,
    Budget,
    budget_for,
    panes_for_all,
    rehearsals_needed,
)
from glasskit.demonstration.worlds import Worlds, learned
from glasskit.impact import Pane
from glasskit.quantities import FloatArray, in_range, of_type, require, whole
from glasskit.steps import Steps, in_steps
from glasskit.tables import standing

PROOF = 0.95
"""Confidence with which rehearsals shall prove the target share [-]."""

LEAST_FALL, STEPS = 0.05, 40  # least fall looked at [m], and heights looked at

Reason = Literal["", "scatter", "ignorance", "reach"]

_FINE = 400  # heights between which the chosen one is looked for
_FEW = 4  # one world in so many is enough to try a change
_LIKELY = 0.5  # share of the worlds with a height from which ignorance is to blame
_HARDLY = 0.9  # width of the band of a chance that tells next to nothing, a judgement
_AS_WELL = 0.02  # loss of the joint chance at which a heavier ball still does as well


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Plan:
    """What to do, how sure it is, and what is worth learning.

    Attributes
    ----------
    prospects : tuple of Prospect
        One for each kind of pane, in the order given.
    rig : Rig
        What strikes.
    place : Place
        Where the pane lies and how high the rig lets go.
    shows : int
        Number of shows [-].
    target : Target
        What was asked for.
    heights : ndarray
        Heights looked at, up to what rig and ceiling allow [m], shape (h,).
    height : float
        Height to use [m]: the lowest that meets the target, or where none does the nearest;
        another one if the plan was `moved`.
    best : float
        The height that the plan advises [m].
    surest : float
        Height at which a show goes right most often [m].
    window : tuple of float or None
        Lowest and highest height that meet the target [m]; None if there is no such height.
    joint : float
        Chance that a show goes right: one fresh pane of each kind, all as asked [-].
    joint_low, joint_high : float
        Band of that chance that holds nine worlds in ten [-].
    kept : float
        Share of the worlds in which every kind does at least its target share [-].
    suffices : float
        Chance that the panes brought suffice for all shows, all kinds together [-]; of the
        most that is sensible where no number does.
    reason : str
        Why there is no window. "ignorance": in half of the worlds or more a height would do,
        but which is not known: rehearse. "reach": ordinary panes do not break often enough
        even from the greatest height. "scatter": the flaws of the panes scatter so much that
        the kinds overlap. Empty if there is one.
    change : Change or None
        Nearest change that would make one; None if none is needed or none was found.
    heavier : Change or None
        A heavier ball that does as well from waist height; None if that is no gain.
    knowable : float
        Chance that the panes have a height that meets the target: share of the worlds in which
        one does [-].
    next_blow : NextBlow
        The rehearsal that would tell most of whether a show goes right.
    told : Told
        The worlds behind all this, and what the log did to them.
    cautions : tuple of str
        Keys of what to heed, see `CAUTIONS`.
    budget : Budget or None
        What the panes that one can bring are good for; None if nobody said how many.

    """

    prospects: tuple[Prospect, ...]
    rig: Rig
    place: Place
    shows: int
    target: Target
    heights: FloatArray
    height: float
    best: float
    surest: float
    window: tuple[float, float] | None
    joint: float
    joint_low: float
    joint_high: float
    kept: float
    suffices: float
    reason: Reason
    change: Change | None
    heavier: Change | None
    knowable: float
    next_blow: NextBlow
    told: Told
    cautions: tuple[str, ...]
    budget: Budget | None = None

    @property
    def served(self) -> int:
        """Shows for which the most panes that anybody would bring suffice at this height [-].

        With the confidence asked for; fewer than `shows` where no number does, perhaps none.
        """
        right = [rights(item.specimen, item.odds.at(self.height)) for item in self.prospects]
        most = most_sensible(self.shows)
        return next(
            (
                shows
                for shows in range(self.shows, 0, -1)
                if panes_for_all(right, shows, self.target.confidence, most)[0]
            ),
            0,
        )

    @property
    def release(self) -> float:
        """Height above the floor at which it is let go [m]."""
        return self.place.release(self.rig, self.height)

    @property
    def rehearsals(self) -> tuple[int, int, int]:
        """Rehearsals of each kind that prove its target share, with 0, 1 and 2 failures [-].

        On fresh panes, and decided beforehand.
        """
        share = max(self.target.break_share, self.target.survive_share)
        first, second, third = (
            rehearsals_needed(share, failures, PROOF) for failures in range(3)
        )
        return first, second, third

    @property
    def lessons(self) -> tuple[Lesson, ...]:
        """What could be learned, and what that would change; what changes most first."""
        return _lessons(self)

    @property
    def fits(self) -> bool:
        """Whether the height meets the target."""
        return self.window is not None and self.window[0] <= self.height <= self.window[1]

    @property
    def hardly_known(self) -> bool:
        """Whether some kind may as well break nearly always there as hardly ever."""
        return any(item.high - item.low > _HARDLY for item in self.prospects)


CAUTIONS: Mapping[str, str] = MappingProxyType(
    {
        "rehearse": "This is a planning aid: rehearse with the very panes of the day.",
        "assess": "Local codes, the employer's risk assessment and licensed practice decide "
        "what is safe; screens, distance and eye protection come before any height.",
        "high": "The release lies above what a standing person reaches. Somebody on steps can "
        "fall, and what is up there can fall on heads: release by pin or magnet from the "
        "floor, nothing loose above, nobody below.",
        "again": "A pane that withstood a blow is weakened only by new flaws. Do not count on "
        "a second blow from the same height to break it, nor on a pane that survived to "
        "survive again: take a fresh one.",
        "unbroken": standing("live pane"),
        "stretches": "From this height the pane has sunk so far when it is pulled most that "
        "it also stretches: the stress, and the chance of breaking, are overstated.",
        "thin": "This glass is thinner than any that known drops struck, and stretches more "
        "than the odds know: begin rehearsals at half the height.",
        "glued": "Glue lessens the bending and hardens the blow, and no known drop tells "
        "which wins: these odds only say how little is known. Rehearse on glued pieces of the "
        "day, from low to high; their log narrows the odds.",
        "ring": "A hard ball can crack a ring into the face that it hits.",
        "edge": "Breaks from edges and corners are not in the odds: look at the edges.",
        "judged": "Grains, floor and stiffness of the device are judgements: the odds rank "
        "floors, they do not tell whether a given device survives.",
        "slap": "How a pane meets the floor is hardly known: the stress is good to a factor "
        "of two.",
        "close": "The height is not sure to be on target: have words ready for either end.",
    }
)
"""What a plan may have to say, by key."""


@in_steps
def plan(
    panes: Sequence[Specimen],
    rig: Rig,
    shows: int,
    target: Target | None = None,
    *,
    place: Place | None = None,
    have: Sequence[int] = (),
    seed: int = 0,
    log: Sequence[Entry] = (),
) -> Steps[Plan]:
    """Plan a demonstration.

    Parameters
    ----------
    panes : sequence of Specimen
        Kinds of pane, each with a name of its own; ordinary ones shall break, toughened ones
        survive.
    rig : Rig
        What strikes.
    shows : int
        In each show one pane of each kind shall do as asked [-].
    target : Target, optional
        Shares and confidence.
    place : Place, optional
        Where the pane lies and how high the rig lets go.
    have : sequence of int
        Panes of each kind that one can bring, if that is to be looked at [-].
    seed : int
        The same seed gives the same plan.
    log : sequence of Entry
        What happened so far with this rig; all kinds that it names speak together.

    Returns
    -------
    Plan
        Height, odds, panes to bring, and what is worth learning.

    Raises
    ------
    ValueError
        If there is no pane, two share a name, `shows` is below 1, or `have` is not one number
        from 1 up for each kind.

    Notes
    -----
    The height advised is the lowest at which every kind does its target share on average over
    all that is not known; where there is none, the one whose worst kind misses it by least.

    Examples
    --------
    A 227 g ball on panes of 300 by 300 by 4 mm, ordinary and toughened in salt:

    >>> from glasskit.demonstration import annealed, chemically
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> made = plan([annealed("ordinary", pane), chemically("salt", pane)], ball, 6)
    >>> made.window is not None, 0.3 < made.height < 3.0
    (True, True)

    """
    target = Target() if target is None else target
    place = Place() if place is None else place
    of_type("rig", rig, Rig)
    of_type("target", target, Target)
    of_type("place", place, Place)
    names = [pane.name for pane in panes]
    require(len(names) > 0, "panes", len(names), "hold one kind or more; number")
    require(len(set(names)) == len(names), "panes", len(names), "have names of their own; of")
    shows, seed = whole("shows", shows, 1, MOST), whole("seed", seed)
    yield 0.0, "what other drops have taught"
    before = worlds_of(names, rig, learned(), seed=seed)
    yield 0.2, "the log" if log else "odds"
    after = told(before, panes, rig, log, seed=seed)
    heights = np.geomspace(LEAST_FALL, place.most(rig), STEPS)
    heights.flags.writeable = False
    found = [odds_in(after.worlds, pane, rig, heights) for pane in panes]
    yield 0.5, "heights"
    height, window = _advised(panes, found, target)
    draft = _at(
        Plan(
            prospects=(),
            rig=rig,
            place=place,
            shows=shows,
            target=target,
            heights=heights,
            height=height,
            best=height,
            surest=_surest(panes, found),
            window=window,
            joint=0.0,
            joint_low=0.0,
            joint_high=0.0,
            kept=0.0,
            suffices=0.0,
            reason="" if window else _reason(panes, found, target),
            change=None,
            heavier=None,
            knowable=_knowable(panes, found, target),
            next_blow=_NOTHING,
            told=after,
            cautions=(),
            budget=_budget(panes, found, shows, have) if have else None,
        ),
        panes,
        found,
        height,
    )
    if window is None:
        return replace(draft, change=(yield from _change(panes, draft)))
    return replace(draft, heavier=(yield from _heavier(panes, draft)))


_NOTHING = NextBlow(kind="", height=np.nan, breaks=np.nan, narrows=0.0)


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
        Chances, panes to bring, lessons and cautions are those of the height.

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

    >>> from glasskit.demonstration import annealed
    >>> from glasskit.materials import glass, solid
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
    return _at(made, panes, [item.odds for item in made.prospects], height)


def _at(made: Plan, panes: Sequence[Specimen], found: Sequence[Odds], height: float) -> Plan:
    """Return the plan with all that hangs on the height worked out."""
    target, shows = made.target, made.shows
    right = [rights(pane, odds.at(height)) for pane, odds in zip(panes, found, strict=True)]
    show = np.prod(right, axis=0)
    bring, suffices = panes_for_all(right, shows, target.confidence, most_sensible(shows))
    least = [share >= target.share(pane) for pane, share in zip(panes, right, strict=True)]
    numbers = bring or (None,) * len(panes)
    there = replace(
        made,
        height=height,
        prospects=tuple(
            prospect(pane, odds, height, shows, target, number)
            for pane, odds, number in zip(panes, found, numbers, strict=True)
        ),
        joint=float(show.mean()),
        joint_low=float(np.quantile(show, 0.05)),
        joint_high=float(np.quantile(show, 0.95)),
        kept=float(np.all(least, axis=0).mean()),
        suffices=suffices,
        next_blow=next_blow(found, [pane.name for pane in panes], show),
    )
    return replace(there, cautions=_cautions(panes, there))


def most_sensible(shows: int) -> int:
    """Return how many panes of one kind anybody would bring at most.

    Parameters
    ----------
    shows : int
        How often they are shown [-].

    Returns
    -------
    int
        Four a show, and never fewer than 20.

    Raises
    ------
    ValueError
        If `shows` is no such whole number.

    Notes
    -----
    A judgement: what fits in a car and a budget.

    Examples
    --------
    >>> most_sensible(2), most_sensible(10)
    (20, 40)

    """
    return max(4 * whole("shows", shows, 1, MOST), 20)


@lru_cache(maxsize=16)
def _lessons(made: Plan) -> tuple[Lesson, ...]:
    right = [rights(item.specimen, item.odds.at(made.height)) for item in made.prospects]
    show = np.asarray(np.prod(right, axis=0))
    return lessons(made.told.worlds, made.rig, made.prospects[0].specimen, show)


def _margins(
    panes: Sequence[Specimen], chances: Sequence[FloatArray], target: Target
) -> FloatArray:
    """Return by how much the worst kind exceeds its target share; shape of one `chances`."""
    over = [
        rights(pane, chance) - target.share(pane)
        for pane, chance in zip(panes, chances, strict=True)
    ]
    return np.asarray(np.min(over, axis=0))


def _advised(
    panes: Sequence[Specimen], found: Sequence[Odds], target: Target
) -> tuple[float, tuple[float, float] | None]:
    """Return the height to advise, and the window of those that meet the target."""
    known = np.log(found[0].heights)
    fine = np.linspace(known[0], known[-1], _FINE)
    margin = _margins(panes, [np.interp(fine, known, item.chance) for item in found], target)
    fits = np.exp(fine[margin >= 0])
    if fits.size:
        return _round_up(fits), (float(fits[0]), float(fits[-1]))
    nearest = np.flatnonzero(margin >= margin.max() - 1e-9)
    height = float(f"{np.exp(fine[nearest[nearest.size // 2]]):.2g}")  # nobody knows it finer
    return float(np.clip(height, *found[0].heights[[0, -1]])), None


def _surest(panes: Sequence[Specimen], found: Sequence[Odds]) -> float:
    """Return the height at which a show goes right most often [m]."""
    right = [rights(pane, odds.chances) for pane, odds in zip(panes, found, strict=True)]
    joint = np.prod(right, axis=0).mean(axis=0)
    return float(found[0].heights[int(joint.argmax())])


def _budget(
    panes: Sequence[Specimen], found: Sequence[Odds], shows: int, have: Sequence[int]
) -> Budget:
    right = [rights(pane, odds.chances) for pane, odds in zip(panes, found, strict=True)]
    return budget_for(right, shows, have)


def _round_up(fits: FloatArray) -> float:
    """Return the lowest height rounded up to two digits, if that still meets the target."""
    digit = 10.0 ** (np.floor(np.log10(fits[0])) - 1)
    round_one = float(np.round(np.ceil(fits[0] / digit - 1e-9) * digit, 6))
    return round_one if round_one <= fits[-1] else float(fits[0])


def _knowable(panes: Sequence[Specimen], found: Sequence[Odds], target: Target) -> float:
    """Return the share of the worlds in which some height meets the target."""
    margin = _margins(panes, [item.chances for item in found], target)
    return float((margin.max(axis=1) >= 0).mean())


def _reason(panes: Sequence[Specimen], found: Sequence[Odds], target: Target) -> Reason:
    if _knowable(panes, found, target) >= _LIKELY:
        return "ignorance"
    ordinary = [
        item for pane, item in zip(panes, found, strict=True) if pane.kind == "annealed"
    ]
    if any(item.chance.max() < target.break_share for item in ordinary):
        return "reach"
    return "scatter"


def _tried(
    change: Change, made: Plan, like: tuple[Pane, Striking] | None
) -> tuple[float, tuple[float, float] | None, float]:
    """Return the advised height after a change, the window, and the chance of a show."""
    white = made.told.worlds.white[::_FEW]
    worlds: Worlds = made.told.worlds.moved(white)
    found = [
        odds_in(worlds, pane, change.rig, made.heights, like=like) for pane in change.panes
    ]
    height, window = _advised(change.panes, found, made.target)
    right = [
        rights(pane, item.at(height)) for pane, item in zip(change.panes, found, strict=True)
    ]
    return height, window, float(np.prod(right, axis=0).mean())


def _like(panes: Sequence[Specimen], rig: Rig) -> tuple[Pane, Striking] | None:
    return None if isinstance(rig, GuidedDrop) else (panes[0].pane, rig)


def _change(panes: Sequence[Specimen], made: Plan) -> Steps[Change | None]:
    """Return the nearest change that meets the target."""
    worth = candidates(panes, made.rig)
    for done, change in enumerate(worth):
        yield 0.5 + 0.5 * done / len(worth), f"another {change.what}"
        height, window, _ = _tried(change, made, _like(panes, made.rig))
        if window:
            return change.at(height)
    return None


def _heavier(panes: Sequence[Specimen], made: Plan) -> Steps[Change | None]:
    """Return the lightest heavier ball that does as well from waist height."""
    rig = made.rig
    if not isinstance(rig, DroppedBall) or made.release <= WAIST:
        return None
    for change in heavier(panes, rig):
        yield 0.8, "a heavier ball"
        height, window, joint = _tried(change, made, _like(panes, rig))
        low_enough = made.place.release(rig, height) <= WAIST
        if window and low_enough and joint >= made.joint - _AS_WELL:
            return change.at(height)
    return None


def _cautions(panes: Sequence[Specimen], made: Plan) -> tuple[str, ...]:
    rig = made.rig
    keys = ["rehearse", "assess", "again", "unbroken", "edge"]
    if made.release > REACH:
        keys.insert(2, "high")
    if isinstance(rig, GuidedDrop):
        keys.append("judged")
    elif isinstance(rig, FallingPane):
        keys.append("slap")
    else:
        keys.append("ring")
        if any("aim" in item.unsure for item in panes):
            keys.append("glued")
        elif any(item.pane.thickness < thinnest_known() for item in panes):
            keys.append("thin")
        elif any(rig.blow(item.pane, made.height).stretches.any() for item in panes):
            keys.append("stretches")
    return tuple(keys if made.fits else [*keys, "close"])
