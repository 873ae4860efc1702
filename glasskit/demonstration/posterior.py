# SPDX-License-Identifier: MIT
r"""Let every known drop teach what is the same in all glass.

Each record of `glasskit.demonstration.drop_records`, and the struck plates of 1876, has a
chance in every world: held or broke, a rule as "at least n of m hold", blows on one piece as
one history, for its worst flaw is the same in each. What is of its own lot and rig is averaged
out, so that no record is fitted by itself; what is left weighs the inputs of the world,

.. math:: p(w \mid \text{all}) \propto p(w) \prod_k \int p(\text{record}_k \mid w, l) p(l)\,dl

and the result is told as a normal distribution (`glasskit.demonstration.worlds.Belief`). Three
of the inputs of the world are free in the sense that nobody has measured them for such panes:
how strong flaws are, how much the furnace heals, how true the theory of the blow is.

The sum takes a minute. ``python -m glasskit.demonstration.teach`` makes it and writes
``data/learned.csv``; a test makes it again.
"""

from dataclasses import dataclass
from functools import cache
from itertools import product
from math import isnan

import numpy as np
from scipy.special import bdtr, logsumexp

from glasskit import plates
from glasskit.demonstration.breaking import break_chance, ring_chance
from glasskit.demonstration.chances import Odds, inputs_of
from glasskit.demonstration.drop_records import KnownDrop, Rule, known_drops
from glasskit.demonstration.rigs import DroppedBall, FallingPane, Specimen, annealed, toughened
from glasskit.demonstration.worlds import (
    NINE_IN_TEN,
    WORLD,
    Belief,
    Worlds,
    draw_worlds,
    learned,
)
from glasskit.impact import Pane
from glasskit.impact.falls_1876 import BRONZE, Fall, measured_falls
from glasskit.materials import glass, solid
from glasskit.quantities import FloatArray, one_of, whole
from glasskit.tables import read, sourced_value

FREE = ("flaw strength", "healing", "theory of the blow")
"""Inputs of the world that nobody has measured for panes under a ball."""

_VAGUE = 2.0  # how much wider the blow is known where the support is not told
_WORLDS, _LOTS = 512, 64
_CURVE = np.geomspace(0.05, 6.0, 40)  # heights of a curve [m]
_CURVE.flags.writeable = False
_NONE = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One blow of a record.

    Attributes
    ----------
    rig : DroppedBall or FallingPane
        What struck.
    height : float
        Height fallen through [m].
    broke : bool
        Whether the piece broke.

    """

    rig: DroppedBall | FallingPane
    height: float
    broke: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """One record, ready to be reckoned with.

    Attributes
    ----------
    name : str
        Short name of the record.
    label : str
        Where it stands, in a few words that a reader can look for.
    specimen : Specimen
        The panes, at the likeliest of what is told of them.
    pieces : tuple of tuple of Hit
        Blows on each piece in their order; of a rule the one blow that it asks for.
    rule : Rule or None
        What approval asks, if it is a rule.
    squeeze : tuple of float
        Low end and high end of the surface compression [Pa]; zero for ordinary glass.
    told : bool
        Whether it is told how the edges lay.
    source, status : str
        Where it was published, and how sure that is.

    """

    name: str
    label: str
    specimen: Specimen
    pieces: tuple[tuple[Hit, ...], ...]
    rule: Rule | None
    squeeze: tuple[float, float]
    told: bool
    source: str
    status: str

    @property
    def hits(self) -> tuple[Hit, ...]:
        """Blows of all pieces."""
        return tuple(hit for piece in self.pieces for hit in piece)

    def said(self, chance: FloatArray) -> FloatArray:
        """Return the logarithm of the chance of the record.

        Parameters
        ----------
        chance : ndarray, shape (n, hits)
            Chance in each world that a fresh pane breaks at each of `hits` [-].

        Returns
        -------
        ndarray, shape (n,)
            A piece withstood the worst of the blows that it held, and no more than the one
            that broke it: its worst flaw is the same in each.

        """
        if self.rule is not None:
            failures = self.rule.panes - self.rule.least
            tail = bdtr(failures, self.rule.panes, chance[:, 0])
            return np.asarray(np.log(np.maximum(tail, _NONE)))
        total, start = np.zeros(len(chance)), 0
        for piece in self.pieces:
            mine = chance[:, start : start + len(piece)]
            start += len(piece)
            held = [at for at, hit in enumerate(piece) if not hit.broke]
            least = mine[:, held].max(axis=1, initial=0.0)
            most = mine[:, -1] if piece[-1].broke else np.ones(len(chance))
            total += np.log(np.maximum(most - least, _NONE))
        return total


@cache
def cases() -> tuple[Case, ...]:
    """Return every record that can be reckoned with: known drops, then the plates of 1876.

    Returns
    -------
    tuple of Case
        Drops in the order of their table.

    """
    found = [_of_drop(drop) for drop in known_drops() if drop.complete]
    found += [case for case in plates_of_1876() if isinstance(case.hits[0].rig, DroppedBall)]
    return tuple(found)


@cache
def plates_of_1876() -> tuple[Case, ...]:
    """Return the plates of `measured_falls`, struck and fallen flat, as records.

    Returns
    -------
    tuple of Case
        Struck ones first, the ordinary before the toughened.

    """
    found = []
    for struck, kind in product((True, False), ("ordinary", "toughened")):
        falls = [
            fall
            for fall in measured_falls()
            if (fall.glass, fall.ball_mass > 0) == (kind, struck)
        ]
        squeeze = (0.0, 0.0) if kind == "ordinary" else _range("1876")
        first = falls[0]
        found.append(
            Case(
                name=f"barff_{1000 * first.thickness:.0f}_{kind}",
                label="Barff 1876",
                specimen=_panes(
                    kind, (first.length, first.width, first.thickness), "frame", squeeze
                ),
                pieces=(tuple(_hit(fall) for fall in falls),),
                rule=None,
                squeeze=squeeze,
                told=False,
                source="Barff, Glass and silicates, London 1876, pages 20 and 21 of a copy",
                status="found",
            )
        )
    return tuple(found)


def _hit(fall: Fall) -> Hit:
    ball = DroppedBall(mass=fall.ball_mass, solid=BRONZE) if fall.ball_mass else FallingPane()
    return Hit(rig=ball, height=fall.height, broke=fall.broke)


def _of_drop(drop: KnownDrop) -> Case:
    solid_of = BRONZE if drop.striker.startswith("bronze") else solid("steel")
    rig = DroppedBall(mass=drop.mass, solid=solid_of)
    rule = drop.outcome if isinstance(drop.outcome, Rule) else None
    if isinstance(drop.outcome, Rule):
        pieces: tuple[tuple[Hit, ...], ...] = (
            (Hit(rig=rig, height=drop.outcome.height, broke=False),),
        )
    else:
        pieces = tuple(
            tuple(Hit(rig=rig, height=blow.height, broke=blow.broke) for blow in piece)
            for piece in drop.outcome
        )
    squeeze = (0.0, 0.0)
    if drop.kind != "ordinary":
        squeeze = (drop.compression_low, drop.compression_high)
        if isnan(squeeze[1]):
            # A rule tells the least that it allows; what makers deliver is more.
            squeeze = _range("approved")
    size = (drop.length, drop.width, drop.thickness)
    return Case(
        name=drop.name,
        label=drop.label,
        specimen=_panes(drop.kind, size, drop.support, squeeze),
        pieces=pieces,
        rule=rule,
        squeeze=squeeze,
        told=drop.support == "strip",
        source=drop.source,
        status=drop.status,
    )


def _range(which: str) -> tuple[float, float]:
    """Return the ends of the compression of panes that nobody measured [Pa]."""
    rows = [row for row in read("planner") if row["subject"] == "unmeasured"]
    span = sourced_value(next(row for row in rows if row["property"] == which))
    return span.low, span.high


def _panes(
    kind: str, size: tuple[float, float, float], support: str, squeeze: tuple[float, float]
) -> Specimen:
    length, width, thickness = size
    held = plates.support(support)
    pane = Pane(
        length=length,
        width=width,
        thickness=thickness,
        glass=glass("soda-lime"),
        support_stiffness=2 * (length + width) * held.bedding,
        damping=held.damping,
    )
    if kind == "ordinary":
        return annealed("panes", pane)
    return toughened("panes", pane, float(np.sqrt(squeeze[0] * squeeze[1])))


def judged(case: Case, world: FloatArray, *, lots: int = _LOTS, seed: int = 0) -> FloatArray:
    """Return the chance of each blow of a record in some worlds, each with many lots and rigs.

    Parameters
    ----------
    case : Case
        The record.
    world : ndarray, shape (n, w)
        Places of the inputs of `glasskit.demonstration.worlds.WORLD` [standard deviations].
    lots : int
        Lots and rigs in each world, the same for all worlds; a power of two [-].
    seed : int
        The same seed gives the same lots.

    Returns
    -------
    ndarray, shape (n, lots, hits)
        Chance that a fresh pane breaks [-].

    """
    drawn = _lots(case, Belief.before(), lots, seed)
    own = drawn.white[:, len(WORLD) :]
    white = np.concatenate(
        [np.repeat(world, lots, axis=0), np.tile(own, (len(world), 1))], axis=1
    )
    factors = _factors(case, drawn.moved(white))
    found = np.empty((len(white), len(case.hits)))
    for striker in {hit.rig for hit in case.hits}:
        at = [number for number, hit in enumerate(case.hits) if hit.rig == striker]
        heights = np.array([case.hits[number].height for number in at])
        found[:, at] = break_chance(case.specimen, striker, heights, factors)
    return found.reshape(len(world), lots, -1)


def _lots(case: Case, belief: Belief, count: int, seed: int) -> Worlds:
    return draw_worlds(["panes"], inputs_of(case.hits[0].rig), belief, count, seed)


def _factors(case: Case, worlds: Worlds) -> dict[str, FloatArray]:
    """Return the factors of a record: as of any panes, but for what it tells or leaves out."""
    factors = worlds.factors("panes")
    if case.specimen.kind != "annealed":
        at = [name for _, name in worlds.columns].index("compression")
        place = worlds.white[:, at] / NINE_IN_TEN
        factors["compression"] = (case.squeeze[1] / case.squeeze[0]) ** (place / 2)
    if not case.told and "aim" in factors:
        factors["aim"] = factors["aim"] ** _VAGUE
    return factors


def odds_of(case: Case, belief: Belief, heights: FloatArray) -> Odds:
    """Return the odds of the panes of a record under the last ball that struck them.

    Parameters
    ----------
    case : Case
        The record.
    belief : Belief
        `Belief.before()` or `learned()`.
    heights : ndarray, shape (h,)
        Heights [m].

    Returns
    -------
    Odds
        What a fresh pane would do.

    """
    factors = _factors(case, _lots(case, belief, 1024, 0))
    struck = (case.specimen, case.hits[-1].rig, heights, factors)
    return Odds(
        heights=heights,
        chances=np.maximum.accumulate(break_chance(*struck), axis=1),
        rings=ring_chance(*struck).mean(axis=0),
    )


def likelihoods(world: FloatArray, *, lots: int = _LOTS, seed: int = 0) -> FloatArray:
    """Return the logarithm of the chance of every record in every world, shape (n, cases)."""
    columns = []
    for case in cases():
        found = judged(case, world, lots=lots, seed=seed)
        said = case.said(found.reshape(-1, found.shape[-1])).reshape(found.shape[:2])
        columns.append(logsumexp(said, axis=1) - np.log(lots))
    return np.stack(columns, axis=1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Study:
    """Worlds with the chance of every record in each.

    Attributes
    ----------
    world : ndarray, shape (n, w)
        Places of the inputs of the world.
    offset : ndarray, shape (n,)
        Logarithm of what is held before any record over the density they were drawn from.
    said : ndarray, shape (n, cases)
        Logarithm of the chance of each record.

    """

    world: FloatArray
    offset: FloatArray
    said: FloatArray

    def weight(self, without: int | None = None) -> FloatArray:
        """Return the weight of every world after all records, or all but one [-]."""
        total = self.offset + self.said.sum(axis=1)
        if without is not None:
            total = total - self.said[:, without]
        weight = np.exp(total - total.max())
        return np.asarray(weight / weight.sum())

    def belief(self, without: int | None = None) -> Belief:
        """Return mean and covariance of the worlds by that weight."""
        weight = self.weight(without)
        mean = weight @ self.world
        about = self.world - mean
        spread = about.T @ (weight[:, None] * about)
        return Belief(mean=mean, root=np.asarray(np.linalg.cholesky(spread), dtype=np.float64))


def study(*, count: int = _WORLDS, lots: int = _LOTS, rounds: int = 3, seed: int = 0) -> Study:
    """Weigh worlds by all records, each round drawn from what the last one found.

    Parameters
    ----------
    count, lots : int
        Worlds, and lots and rigs in each; powers of two [-].
    rounds : int
        Rounds; in each the worlds are drawn a little wider than the last found them [-].
    seed : int
        The same seed gives the same worlds.

    Returns
    -------
    Study
        The last round.

    Raises
    ------
    ValueError
        If a count is none, or `count` or `lots` no power of two.

    """
    count, lots = whole("count", count, 1, 2**20), whole("lots", lots, 1, 2**12)
    rounds, seed = whole("rounds", rounds, 1, 20), whole("seed", seed)
    guess = Belief.before()
    for turn in range(rounds):
        drawn = draw_worlds([], [], guess, count, seed + turn)
        world = drawn.places
        offset = -0.5 * (world**2).sum(axis=1) + 0.5 * (drawn.white**2).sum(axis=1)
        found = Study(
            world=world, offset=offset, said=likelihoods(world, lots=lots, seed=seed)
        )
        exact = found.belief()
        guess = Belief(mean=exact.mean, root=1.3 * exact.root)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What is said of one record.

    Attributes
    ----------
    held, broke : float
        Chance that a fresh pane breaks at the highest fall that was held, zero for none, and
        at the one that broke it, one for none [-].
    record : float
        Chance of the record as a whole: that a lot passes the rule, or that the pieces break
        where they did [-].

    """

    held: float
    broke: float
    record: float

    @property
    def expected(self) -> bool:
        """Whether nine in ten of what was thought possible holds the record."""
        return self.held < 0.95 and self.broke > 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoning:
    """One record before and after all records, and after all but itself.

    Attributes
    ----------
    case : Case
        The record.
    before, after, left_out : View
        From the ranges alone; after all records; after all but this one.

    """

    case: Case
    before: View
    after: View
    left_out: View


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Knowledge:
    """One record on the odds of its own panes, among all records.

    Attributes
    ----------
    reckoning : Reckoning
        The record.
    before, after : Odds
        Odds from the ranges alone, and after all records.
    all_of_them : tuple of Reckoning
        Every record.

    """

    reckoning: Reckoning
    before: Odds
    after: Odds
    all_of_them: tuple[Reckoning, ...]


def knowledge(record: str) -> Knowledge:
    """Return what is known of one record.

    Parameters
    ----------
    record : str
        Name of one of `cases`.

    Returns
    -------
    Knowledge
        Its odds, and all others.

    Raises
    ------
    ValueError
        If there is no such record.

    Examples
    --------
    >>> knowledge(cases()[0].name).reckoning.case == cases()[0]
    True

    """
    everything = {one.case.name: one for one in reckonings()}
    one_of("record", record, everything)
    found = everything[record]
    return Knowledge(
        reckoning=found,
        before=odds_of(found.case, Belief.before(), _CURVE),
        after=odds_of(found.case, learned(), _CURVE),
        all_of_them=tuple(everything.values()),
    )


VIEWS = ("before", "after", "left_out")
PARTS = ("held", "broke", "record")


def reckoned(found: Study, *, lots: int = _LOTS, seed: int = 0) -> tuple[Reckoning, ...]:
    """Return what is said of every record, its own evidence left out and let in.

    Parameters
    ----------
    found : Study
        From `study`.
    lots, seed : int
        As for `study`.

    Returns
    -------
    tuple of Reckoning
        In the order of `cases`.

    """
    rows = []
    for at, case in enumerate(cases()):
        chance = judged(case, found.world, lots=lots, seed=seed).mean(axis=1)
        held = [number for number, hit in enumerate(case.hits) if not hit.broke]
        least = chance[:, held].max(axis=1, initial=0.0)
        most = chance[:, -1] if case.hits[-1].broke else np.ones(len(chance))
        prior = np.exp(found.offset - found.offset.max())
        weights = (prior / prior.sum(), found.weight(), found.weight(at))
        views = [
            View(
                held=float(weight @ least),
                broke=float(weight @ most),
                record=float(weight @ np.exp(found.said[:, at])),
            )
            for weight in weights
        ]
        rows.append(Reckoning(case=case, before=views[0], after=views[1], left_out=views[2]))
    return tuple(rows)


@cache
def reckonings() -> tuple[Reckoning, ...]:
    """Return what is said of every record, from ``data/reckoned.csv``.

    Returns
    -------
    tuple of Reckoning
        One for each of `cases`, in their order.

    """
    rows = {row["record"]: row for row in read("reckoned")}
    return tuple(
        Reckoning(
            case=case,
            **{
                view: View(
                    **{part: float(rows[case.name][f"{view}_{part}"]) for part in PARTS}
                )
                for view in VIEWS
            },
        )
        for case in cases()
    )
