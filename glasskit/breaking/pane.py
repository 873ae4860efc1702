# SPDX-License-Identifier: MIT
"""Break a pane from a place, and look at it at any moment: cracks, tips, pieces.

A crack runs both ways from where it starts. How it goes on follows from what drives it
(`glasskit.breaking.drive`); what no source fixes stands as named choices in
`glasskit.breaking.growth` and falls by chance, the same for the same seed.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import ArrayLike

from glasskit.breakage import SQUARE
from glasskit.breaking.blow import Blow, bending_tension
from glasskit.breaking.drive import Drive, run_up, sound_speed
from glasskit.breaking.growth import Grown, IntArray, grow
from glasskit.impact import Pane
from glasskit.materials import Glass
from glasskit.quantities import (
    FloatArray,
    non_negative,
    numbers,
    of_type,
    one_of,
    positive,
    read_only,
    require,
    whole,
)
from glasskit.stress import StressProfile

PLACES = ("centre", "edge", "corner")
"""Usual places of a blow: the middle, the middle of an edge, a corner."""

_LEAST = 1e6  # tension for which the run-up is reckoned, at least [Pa]
_INSET = 1e-3  # how far from an edge a break at the edge starts [m]
_MARGIN = 25e-3  # of a pane, left out when pieces are counted [m]
_AROUND = 80e-3  # around the origin, left out too [m]
_EDGE_SHARE = 0.25  # most of the shorter side that these two may take up


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moment:
    """A breaking pane at one moment; n steps of cracks, m tips.

    Attributes
    ----------
    time : float
        Since the first touch of a ball, or since the break where nothing struck [s].
    cracks : ndarray
        What is cracked: ends of straight pieces of crack [m], shape (n, 2, 2).
    tips : ndarray
        Where cracks are running at this moment [m], shape (m, 2).
    reached : float
        How far the farthest crack has come from the origin [m].
    length : float
        Length of all cracks together [m].
    sound : float
        How far sound has gone along the pane since the break [m].
    touching : bool
        Whether the ball is still in contact.

    """

    time: float
    cracks: FloatArray
    tips: FloatArray
    reached: float
    length: float
    sound: float
    touching: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class BrokenPane:
    """A pane that has broken, from the first crack to the last; n steps of cracks.

    Attributes
    ----------
    profile : StressProfile
        Residual stress that it had.
    glass : Glass
        What it is made of.
    length, width : float
        Its sides [m].
    origin : ndarray
        Where the break started, from a corner [m], shape (2,).
    blow : Blow or None
        What pushed meanwhile.
    seed : int
        Where chance started.
    starts, ends : ndarray
        Steps of the cracks: from where to where [m], shape (n, 2).
    times : ndarray
        When each step began and ended, on the clock of `begins` [s], shape (n, 2).
    cracks : ndarray of int
        Which crack made each step, shape (n,).
    parents : ndarray of int
        Crack from which each crack branched, -1 for the first ones.
    lines : tuple of ndarray
        The cracks from junction to junction, in order [m].

    """

    profile: StressProfile
    glass: Glass
    length: float
    width: float
    origin: FloatArray
    blow: Blow | None
    seed: int
    starts: FloatArray
    ends: FloatArray
    times: FloatArray
    cracks: IntArray
    parents: IntArray
    lines: tuple[FloatArray, ...]

    @property
    def thickness(self) -> float:
        """Thickness [m]."""
        return self.profile.thickness

    @cached_property
    def drive(self) -> Drive:
        """What the pane gave its cracks."""
        return Drive(profile=self.profile, glass=self.glass)

    @property
    def begins(self) -> float:
        """When the first crack starts, from the first touch on; zero without a blow [s]."""
        return self.blow.begins if self.blow else 0.0

    @property
    def over(self) -> float:
        """When the last crack has come to rest [s]."""
        return float(self.times[:, 1].max(initial=self.begins))

    @property
    def mass(self) -> float:
        """Mass of the whole pane [kg]."""
        return self.glass.density * self.thickness * self.length * self.width

    @cached_property
    def arrivals(self) -> FloatArray:
        """How far the farthest crack has come [m] at the end of each step, by time.

        Shape (2, n): times that ascend [s], and distances from the origin.
        """
        order = np.argsort(self.times[:, 1], kind="stable")
        away = np.hypot(*(self.ends[order] - self.origin).T)
        return np.stack([self.times[order, 1], np.maximum.accumulate(away)])

    @cached_property
    def pieces(self) -> tuple[shapely.Polygon, ...]:
        """The pieces: faces between the cracks and the edges, without gap or overlap."""
        return _pieces(self.lines, self.length, self.width)

    @cached_property
    def areas(self) -> FloatArray:
        """Area of each piece [m^2]."""
        return np.asarray(shapely.area(np.array(self.pieces)))

    @property
    def masses(self) -> FloatArray:
        """Mass of each piece [kg]."""
        return self.glass.density * self.thickness * self.areas

    @cached_property
    def spans(self) -> FloatArray:
        """Greatest distance between two points of each piece [m]."""
        hulls = shapely.convex_hull(np.array(self.pieces))
        corners, owner = shapely.get_coordinates(hulls, return_index=True)
        middle = shapely.get_coordinates(shapely.centroid(hulls))
        spans = np.zeros(len(hulls))
        # The longest of the widths in thirty-six directions is short by 0.4 % at most.
        for angle in np.linspace(0.0, np.pi, 36, endpoint=False):
            along = (corners - middle[owner]) @ [np.cos(angle), np.sin(angle)]
            high, low = np.full(len(hulls), -np.inf), np.full(len(hulls), np.inf)
            np.maximum.at(high, owner, along)
            np.minimum.at(low, owner, along)
            spans = np.maximum(spans, high - low)
        return spans

    def at(self, time: float) -> Moment:
        """Return what is to be seen at a moment.

        Parameters
        ----------
        time : float
            Since the first touch, or since the break where nothing struck [s].

        Returns
        -------
        Moment
            Cracks up to there, running tips and how far all has come.

        Raises
        ------
        ValueError
            If `time` is negative or not finite.

        """
        now = non_negative("time", time, "s").item()
        begun = self.times[:, 0] < now
        start, end, times = self.starts[begun], self.ends[begun], self.times[begun]
        lasts = np.maximum(times[:, 1] - times[:, 0], 1e-12)
        share = np.minimum((now - times[:, 0]) / lasts, 1.0)
        to = start + share[:, None] * (end - start)
        running = times[:, 1] > now
        away = np.hypot(*(to - self.origin).T)
        cracks, tips = read_only(np.stack([start, to], axis=1))[0], read_only(to[running])[0]
        return Moment(
            time=now,
            cracks=cracks,
            tips=tips,
            reached=float(away.max(initial=0.0)),
            length=float(np.hypot(*(to - start).T).sum()),
            sound=max(now - self.begins, 0.0) * sound_speed(self.glass),
            touching=self.blow is not None and now <= self.blow.ends,
        )

    def rays(self, radius: float) -> int:
        """Return how many cracks cross a circle around the origin.

        Parameters
        ----------
        radius : float
            Radius of the circle [m].

        Returns
        -------
        int
            Crossings outwards less those back [-].

        Raises
        ------
        ValueError
            If `radius` is not finite and positive.

        """
        circle = positive("radius", radius, "m").item()
        first, then = (
            np.hypot(*(spots - self.origin).T) for spots in (self.starts, self.ends)
        )
        outwards = np.count_nonzero((first < circle) & (then >= circle))
        back = np.count_nonzero((first >= circle) & (then < circle))
        return int(outwards - back)

    def pieces_in_square(self, side: float = SQUARE) -> FloatArray:
        """Count the pieces in squares, as the standards count: those cut by its rim half.

        Parameters
        ----------
        side : float
            Side of the square [m].

        Returns
        -------
        ndarray of float
            Pieces in each square of a row of squares that keep off the edges by 25 mm and off
            the origin by 80 mm, or by a quarter of the shorter side where the pane is small
            [-]; empty if none fits.

        Raises
        ------
        ValueError
            If `side` is not finite and positive.

        Notes
        -----
        The rule of counting is that of a trade page on EN 12150-1 and asks for the square with
        the largest pieces: the least of these numbers comes near it.

        """
        size = positive("side", side, "m").item()
        small = _EDGE_SHARE * min(self.length, self.width)
        margin, around = min(_MARGIN, small / 2), min(_AROUND, small)
        corners = [
            margin + np.arange(max(int((whole_side - 2 * margin) / size + 1e-9), 0)) * size
            for whole_side in (self.length, self.width)
        ]
        x, y = (grid.ravel() for grid in np.meshgrid(*corners, indexing="ij"))
        squares = shapely.box(x, y, x + size, y + size)
        off = shapely.distance(squares, shapely.Point(*self.origin)) >= around
        squares = squares[off]
        tree = shapely.STRtree(self.pieces)
        inside = tree.query(squares, predicate="contains")[0]
        touched = tree.query(squares, predicate="intersects")[0]
        counts = (np.bincount(each, minlength=len(squares)) for each in (inside, touched))
        full, any_part = counts
        return np.asarray((full + any_part) / 2)


def usual_place(name: str, length: float, width: float) -> tuple[float, float]:
    """Return where a usual place lies on a pane.

    Parameters
    ----------
    name : str
        One of `PLACES`.
    length, width : float
        Sides of the pane [m].

    Returns
    -------
    tuple of float
        Distances from a corner, along length and width [m].

    Raises
    ------
    ValueError
        If the name is unknown or a side is not positive.

    Notes
    -----
    A break at an edge or a corner starts a millimetre inside of it.

    References
    ----------
    Definition.

    Examples
    --------
    >>> usual_place("edge", 0.3, 0.2)
    (0.15, 0.001)

    """
    one_of("name", name, PLACES)
    long, wide = positive("length", length, "m").item(), positive("width", width, "m").item()
    inset = min(_INSET, long / 10, wide / 10)
    places = {"centre": (long / 2, wide / 2), "edge": (long / 2, inset)}
    return places.get(name, (inset, inset))


def break_pane(
    profile: StressProfile,
    glass: Glass,
    length: float,
    width: float,
    *,
    place: ArrayLike | None = None,
    blow: Blow | None = None,
    seed: int = 0,
) -> BrokenPane:
    """Break a pane and follow its cracks until they rest.

    Parameters
    ----------
    profile : StressProfile
        Residual stress through the thickness, and the thickness.
    glass : Glass
        What it is made of.
    length, width : float
        Sides of the pane [m].
    place : array_like, optional
        Where the break starts, from a corner [m], shape (2,); the middle by default.
    blow : Blow, optional
        What pushes there on the pane and bends it, from `blow_at`. Without one a crack is only
        started, as a centre punch or a chip at the edge does, and lives on what the pane has.
    seed : int
        Where chance starts: the same seed breaks the same pane in the same way.

    Returns
    -------
    BrokenPane
        Every crack with its times, and the pieces.

    Raises
    ------
    ValueError
        If an argument is out of its range or `place` does not lie on the pane.

    Notes
    -----
    Cracks through the whole thickness, seen from above. Left out: waves that the cracks send
    out, reflections of the bending from the edges, the residual stress being other near the
    edges, pieces that move. What no source fixes is chosen and named in
    `glasskit.breaking.growth`. The number of crumbs is fitted to nothing. For quenched panes
    of 4 to 10 mm it lies within a factor of two of what `glasskit.breakage.Breakage` says, at
    3 mm it is three and a half times that: here the tension alone counts, and thin panes are
    published to need more. Steps a quarter as long give some 40 % more pieces;
    neighbours looked for askew too, a third fewer.

    References
    ----------
    [ConwayMecholsky1989] for branching under residual stress, [Freund1990] for the speed; the
    way they are put together is an own method.

    Examples
    --------
    A toughened pane of 100 by 100 by 6 mm, started in the middle:

    >>> from glasskit.materials import glass
    >>> from glasskit.stress import tempered
    >>> broken = break_pane(tempered(90e6, 6e-3), glass("soda-lime"), 0.1, 0.1, seed=1)
    >>> len(broken.pieces) > 100, broken.over < 1e-4
    (True, True)

    """
    of_type("profile", profile, StressProfile)
    of_type("glass", glass, Glass)
    if blow is not None:
        of_type("blow", blow, Blow)
    pane = Pane(length=length, width=width, thickness=profile.thickness, glass=glass)
    size = np.array([pane.length, pane.width])
    spot = size / 2 if place is None else numbers("place", place, "m")
    require(
        spot.shape == (2,), "place", spot.size, "be two distances from a corner; numbers given"
    )
    inside = (spot > 0) & (spot < size)
    require(inside, "place", spot, "lie inside the pane", "m")
    number = whole("seed", seed)
    drive = Drive(profile=profile, glass=glass)
    first = _heading(spot, size, profile.thickness, np.random.default_rng(number))
    angles = np.array([first, first + np.pi])
    begins = blow.begins if blow else 0.0
    grown = _nothing()
    if blow is not None or drive.given >= drive.cost:
        grown = grow(drive, pane, spot, angles, blow, number)
        bent = max(bending_tension(0.0, begins, blow, pane)[1].item(), 0.0) if blow else 0.0
        pull = max(drive.net_tension(bent).item(), _LEAST)
        begins += run_up(pull, glass)[1]
    starts, ends, times = read_only(grown.starts, grown.ends, grown.times + begins)
    return BrokenPane(
        profile=profile,
        glass=glass,
        length=float(length),
        width=float(width),
        origin=read_only(spot)[0],
        blow=blow,
        seed=number,
        starts=starts,
        ends=ends,
        times=times,
        cracks=grown.cracks,
        parents=grown.parents,
        lines=_lines(grown),
    )


def _heading(
    spot: FloatArray, size: FloatArray, thickness: float, rng: np.random.Generator
) -> float:
    """Return where the first crack runs: any way, but near an edge into the pane."""
    if np.minimum(spot, size - spot).min() > thickness:
        return float(rng.uniform(0.0, 2 * np.pi))
    inwards = size / 2 - spot
    return float(np.arctan2(inwards[1], inwards[0]) + rng.uniform(-0.5, 0.5))


def _nothing() -> Grown:
    """Return cracks that did not start."""
    pairs, names = np.empty((0, 2)), np.empty(0, dtype=np.int64)
    return Grown(
        starts=pairs,
        ends=pairs,
        times=pairs,
        cracks=names,
        parents=names,
        met=names,
        meetings=pairs,
    )


def _lines(grown: Grown) -> tuple[FloatArray, ...]:
    """Cut the cracks where others start from them or end on them."""
    if not len(grown.cracks):
        return ()
    count = len(grown.cracks)
    last = np.ones(count, dtype=bool)
    order = np.lexsort((np.arange(count), grown.cracks))
    last[order[:-1]] = np.diff(grown.cracks[order]) != 0
    final = np.flatnonzero(last)
    # Every vertex: starts of steps, places where others end on them, the end of each crack.
    spots = np.concatenate([grown.starts, grown.meetings, grown.ends[final]])
    step = np.concatenate([np.arange(count), grown.met, final])
    away = np.hypot(*(grown.meetings - grown.starts[grown.met]).T)
    place = np.concatenate([np.zeros(count), away, np.full(len(final), np.inf)])
    cut = np.zeros(len(spots), dtype=bool)
    cut[count : count + len(away)] = True
    order = np.lexsort((place, step, grown.cracks[step]))
    spots, crack, cut = spots[order], grown.cracks[step[order]], cut[order]
    same = np.zeros(len(spots), dtype=bool)
    same[1:] = (spots[1:] == spots[:-1]).all(axis=1) & (crack[1:] == crack[:-1])
    group = np.cumsum(~same) - 1
    cuts = np.zeros(group[-1] + 1, dtype=bool)
    np.logical_or.at(cuts, group, cut)
    spots, crack = spots[~same], crack[~same]
    begins = np.ones(len(spots), dtype=bool)
    begins[1:] = crack[1:] != crack[:-1]
    lines, from_ = [], 0
    stops = np.flatnonzero(begins | cuts)
    for at in stops[1:].tolist():
        to = at if begins[at] else at + 1
        if to - from_ > 1:
            lines.append(spots[from_:to])
        from_ = at
    if len(spots) - from_ > 1:
        lines.append(spots[from_:])
    for line in lines:
        line.flags.writeable = False
    return tuple(lines)


def _pieces(
    lines: tuple[FloatArray, ...], length: float, width: float
) -> tuple[shapely.Polygon, ...]:
    """Return the faces between cracks and edges."""
    pane = shapely.box(0.0, 0.0, length, width)
    if not lines:
        return (pane,)
    counts = [len(line) for line in lines]
    coordinates = np.concatenate(lines)
    drawn = shapely.linestrings(coordinates, indices=np.repeat(np.arange(len(lines)), counts))
    graph = np.concatenate([drawn, _rim(coordinates, length, width)])
    found = shapely.get_parts(shapely.polygonize(graph))
    if abs(shapely.area(found).sum() / pane.area - 1) > 1e-9:
        # Two tips that crossed within one step: let every crossing be a junction.
        found = shapely.get_parts(
            shapely.polygonize(
                shapely.get_parts(shapely.node(shapely.multilinestrings(graph)))
            )
        )
    return tuple(found)


def _rim(spots: FloatArray, length: float, width: float) -> FloatArray:
    """Return the edges of the pane, cut where cracks come to them."""
    corners = np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])
    x, y = spots.T
    on = (x == 0) | (x == length) | (y == 0) | (y == width)
    ring = np.concatenate([corners, spots[on]])
    x, y = ring.T
    around = np.select(
        [y == 0, x == length, y == width],
        [x, length + y, 2 * length + width - x],
        2 * (length + width) - y,
    )
    around[0] = 0.0
    _, kept = np.unique(around, return_index=True)
    ring = ring[kept]
    return np.asarray(shapely.linestrings(np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)))
