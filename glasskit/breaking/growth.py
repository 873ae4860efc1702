# SPDX-License-Identifier: MIT
"""Let cracks grow step by step: run, turn, split, stop, end on others.

All tips move at once, each by its speed. A grid as fine as half a step remembers which crack
passed where, so that what lies ahead and beside a tip is looked up and not searched for;
coarser copies of it tell of neighbours further off.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from glasskit.breakage import TERMINAL_SPEED
from glasskit.breaking.blow import Blow, bending_around
from glasskit.breaking.drive import Drive, crack_speed
from glasskit.impact import Pane
from glasskit.quantities import FloatArray

IntArray = NDArray[np.int64]

# --- choices: no source fixes these ----------------------------------------------------------

FORK = (np.radians(45.0), np.radians(90.0))
"""Angle between two branches in a pull one way, and in an even pull both ways [rad]: wider in
the latter, as published; these two numbers are from memory."""

FORK_SPREAD = 0.2
"""How far, as a share, the angle of a fork varies from one to the next: a choice [-]."""

WOBBLE = np.radians(6.0)
"""How far a crack strays by chance over a length of half the thickness: a choice [rad]."""

RELIEF = 4.2
"""A balanced stress fades away from a free edge by a factor e within the thickness over this
[-] (theory of elasticity, from memory)."""

SNAPS_AT = (41e6, 100e6)
"""Tension of the struck face at which the blades between radial cracks snap, drawn by chance
between these two [Pa]: the spread of the practical strength of window glass."""

SNAPS_WHERE = (0.5, 0.95)
"""Where along the radial cracks they snap, as a share of their length [-]: a choice, for a
blade that is loaded at its tip is bent alike all along."""

BLADES = 5.0
"""Length of radial cracks over the thickness from which on there are blades: a choice [-]."""

PATIENCE = 1e-4
"""How long a crack waits for bending waves until it is taken to have stopped: a choice [s]."""

WATCHED = 1e-3
"""How long after the break cracks are followed: a choice [s]."""

_STEPS_IN_ROOM = 16  # steps of a tip in the room that a crack needs to split
_STEP = (2e-4, 1.5e-3)  # least and greatest step of cracks that split [m]
_PLAIN_STEP = 1e-3  # of cracks that do not, but where a blow bends the pane [m]
_MOST_CELLS = 4000  # of the grid, along the longer side
_YOUNG = 6.0  # cells run since the fork, within which a branch does not see its siblings
_TAIL = 8  # steps of its own that a crack does not run into
_RIM = 10  # cells around the pane, more than any look from within reaches
_BORDER = -1
_AHEAD, _ALONG = np.linspace(0.0, 1.0, 7), np.linspace(0.0, 1.0, 5)  # looks along a step
_RADII = 96  # at which bending is computed, to be interpolated


@dataclass(slots=True, kw_only=True, eq=False)
class Grown:
    """Every step of every crack, and where cracks end on others; n steps, h such ends.

    Attributes
    ----------
    starts, ends : ndarray
        Where each step begins and ends [m], shape (n, 2).
    times : ndarray
        When it begins and ends, from the break on [s], shape (n, 2).
    cracks : ndarray of int
        Which crack made it, shape (n,).
    parents : ndarray of int
        Crack that each crack branched from, -1 for the first ones, shape (cracks,).
    met : ndarray of int
        The step that was run into, shape (h,).
    meetings : ndarray
        Where, shape (h, 2).

    """

    starts: FloatArray
    ends: FloatArray
    times: FloatArray
    cracks: IntArray
    parents: IntArray
    met: IntArray
    meetings: FloatArray


class _Grid:
    """What passed where: numbers of steps in cells, and coarser and coarser copies.

    The copies lie one after another in one row, so that all are asked at once.
    """

    def __init__(self, length: float, width: float, cell: float, farthest: float) -> None:
        count = 1
        while 4 * cell * 2 ** (count - 1) < farthest:
            count += 1
        sizes = cell * 2.0 ** np.arange(count)
        levels = []
        for size in sizes:
            rows, columns = np.ceil(np.array([length, width]) / size).astype(int)
            taken = np.ones((rows + 2 * _RIM, columns + 2 * _RIM), dtype=bool)
            taken[_RIM:-_RIM, _RIM:-_RIM] = False
            levels.append(taken)
        self.taken = np.concatenate([taken.ravel() for taken in levels])
        self.steps = np.where(levels[0].ravel(), _BORDER, 0).astype(np.int32)
        self.scale = 1 / sizes
        self.columns = np.array([taken.shape[1] for taken in levels], np.int32)
        self.begins = np.cumsum([0, *(taken.size for taken in levels[:-1])], dtype=np.int32)
        # Looks to the side, from near to far: the finest copy sees nearest.
        looks = [np.arange(2.5 if level == 0 else 4.5, 8.0) for level in range(count)]
        self.looked_in = np.repeat(np.arange(count), [len(look) for look in looks])
        self.away = sizes[self.looked_in] * np.concatenate(looks)
        around = self.columns[0] * np.array([1, -1, 0, 0, 0]) + np.array([0, 0, 1, -1, 0])
        self.around = around.astype(np.int32)[:, None, None]
        self.all = np.arange(count)[:, None, None]

    def index(self, x: FloatArray, y: FloatArray, level: Any = 0) -> NDArray[np.int32]:
        """Return the cells of places in or near the pane, in one copy or in several."""
        scale = self.scale[level]
        row = (x * scale + _RIM).astype(np.int32)
        column = (y * scale + _RIM).astype(np.int32)
        return np.asarray(self.begins[level] + row * self.columns[level] + column)

    def passed(self, starts: FloatArray, ways: FloatArray) -> IntArray:
        """Return the steps that passed through places along ways, shape (n, 7)."""
        x = starts[:, :1] + _AHEAD * ways[:, :1]
        y = starts[:, 1:] + _AHEAD * ways[:, 1:]
        return self.steps[self.index(x, y)].astype(np.int64)

    def mark(self, starts: FloatArray, ends: FloatArray, names: IntArray) -> IntArray:
        """Remember steps, one cell to every side of them too.

        Return which of them now pass through five places along each, shape (n, 5).
        """
        way = ends - starts
        x = starts[:, :1] + _ALONG * way[:, :1]
        y = starts[:, 1:] + _ALONG * way[:, 1:]
        home = self.index(x, y)
        # Where several steps claim a cell, the last one holds it, and a home before a rim.
        self.steps[home + self.around] = names[:, None]
        self.taken[self.index(x[:, ::2], y[:, ::2], self.all)] = True
        return self.steps[home].astype(np.int64)

    def beside(self, places: FloatArray, normals: FloatArray) -> FloatArray:
        """Return the free distance from places along directions [m]."""
        x = places[:, :1] + self.away * normals[:, :1]
        y = places[:, 1:] + self.away * normals[:, 1:]
        hit = self.taken[self.index(x, y, self.looked_in)]
        first = hit.argmax(axis=1)
        met = hit[np.arange(len(first)), first]
        return np.where(met, self.away[first], np.inf)


_TIPS = ("at", "angle", "crack", "run", "whole", "share", "idle", "struck")


class _Growth:
    """Cracks that grow in one pane.

    Of each tip: where it is, its heading, which crack it leads, how far it has run since the
    fork and since the origin, its place between the two branching constants, how long it has
    been waiting, and whether it runs in the struck face.
    """

    def __init__(
        self, drive: Drive, pane: Pane, place: FloatArray, blow: Blow | None, seed: int
    ) -> None:
        self.drive, self.pane, self.place, self.blow = drive, pane, place, blow
        self.rng = np.random.default_rng(seed)
        self.size = np.array([pane.length, pane.width])
        self.relief = pane.thickness / RELIEF
        longest = float(self.size.max())
        step, far = _PLAIN_STEP, longest
        if drive.given >= 2 * drive.cost:
            room = drive.room(drive.branching(drive.net_tension())).item()
            step = float(np.clip(room / _STEPS_IN_ROOM, *_STEP))
            far = min(max(2 * room, 4 * drive.reach), longest)
        self.cell = max(step / 2, longest / _MOST_CELLS)
        self.step = 2 * self.cell
        self.tick = self.step / TERMINAL_SPEED
        self.grid = _Grid(pane.length, pane.width, self.cell, far)
        self.radii = np.concatenate([[0.0], np.geomspace(1e-4, 1.5 * longest, _RADII)])
        self.bending = bending_around(self.radii, blow, pane) if blow else None
        self.parents = np.empty(0, dtype=np.int64)
        self.count = 0  # of steps made
        size = 1 << 14
        self.starts, self.ends = np.empty((size, 2)), np.empty((size, 2))
        self.times, self.cracks = np.empty((size, 2)), np.zeros(size, dtype=np.int64)
        self.met: list[IntArray] = []
        self.meetings: list[FloatArray] = []
        self.snaps_at = self.rng.uniform(*SNAPS_AT)
        self.snapped = blow is None

    # --- tips --------------------------------------------------------------------------------

    def begin(self, angles: FloatArray) -> None:
        """Start with tips at the origin, on their way into the pane."""
        count = len(angles)
        self.at, self.angle = np.repeat(self.place[None], count, 0), angles.copy()
        self.crack = self._named(np.full(count, -1))
        self.run, self.idle = np.zeros(count), np.zeros(count)
        self.whole = np.full(count, 2 * self.step)
        self.share = self.rng.random(count)
        self.struck = np.zeros(count, dtype=bool)

    def _named(self, parents: IntArray) -> IntArray:
        """Return numbers for new cracks."""
        first = len(self.parents)
        self.parents = np.concatenate([self.parents, parents])
        return np.arange(first, len(self.parents))

    def _keep(self, alive: NDArray[np.bool_]) -> None:
        for name in _TIPS:
            setattr(self, name, getattr(self, name)[alive])

    def _join(self, tips: dict[str, NDArray[Any]]) -> None:
        for name in _TIPS:
            setattr(self, name, np.concatenate([getattr(self, name), tips[name]]))

    # --- what drives them --------------------------------------------------------------------

    def _bent(self, time: float) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Return the bending at each tip that its face feels, and where it would have it run.

        Tension across the crack and along it [Pa], the angle from its heading to the one that
        is square to the larger tension, and how much larger that is as a share of all tension.
        """
        if self.blow is None or self.bending is None:
            nothing = np.zeros(len(self.at))
            return nothing, nothing, nothing, nothing
        apart, moment = self.at - self.place, time + self.blow.begins
        away = np.hypot(apart[:, 0], apart[:, 1])
        radial, around = (np.interp(away, self.radii, row) for row in self.bending(moment))
        # The blades between radial cracks carry the push alone, bent alike all along.
        blade = 3 * self.blow.push(moment) / (np.pi * self.pane.thickness**2)
        blades = away < away.max(where=~self.struck, initial=0.0)
        radial = np.where(self.struck, blade * blades, np.maximum(radial, 0.0))
        around = np.where(self.struck, 0.0, np.maximum(around, 0.0))
        turn = np.arctan2(apart[:, 1], apart[:, 0]) - self.angle
        sine, cosine = np.sin(turn) ** 2, np.cos(turn) ** 2
        aim = turn + np.where(radial > around, np.pi / 2, 0.0)
        aim = (aim + np.pi / 2) % np.pi - np.pi / 2
        uneven = np.abs(radial - around) / (np.maximum(radial, around) + self.drive.core + 1.0)
        return (
            radial * sine + around * cosine,
            radial * cosine + around * sine,
            aim,
            uneven,
        )

    def advance(self, time: float) -> bool:
        """Move all tips by one tick; return whether any is left."""
        drive = self.drive
        across, along, aim, uneven = self._bent(time)
        far = drive.branching(drive.net_tension(across), self.share)
        young = self.run < np.minimum(far, 8 * self.step)
        left, right = np.full((2, len(self.at)), np.inf)
        old = np.flatnonzero(~young)
        normal = np.stack([-np.sin(self.angle[old]), np.cos(self.angle[old])], axis=-1)
        twice = np.concatenate([self.at[old], self.at[old]])
        sides = self.grid.beside(twice, np.concatenate([normal, -normal]))
        left[old], right[old] = sides[: len(old)], sides[len(old) :]
        width = np.minimum(left + right, 2 * self.whole)
        energy = drive.energy(width, across * self._thinned())
        speed = np.where(young, TERMINAL_SPEED, crack_speed(energy, drive.glass))
        self._turn(speed, left, right, young, uneven * aim)
        self.idle = np.where(speed > 0, 0.0, self.idle + self.tick)
        forks = (speed > 0) & (self.run >= far) & (energy >= 2 * drive.cost)
        forks &= ~self.struck  # a blade lets go of its push as it snaps
        forks &= width >= drive.room(far)
        if forks.any():
            pulls = drive.core + along, drive.core + across
            ratio = np.clip(pulls[0] / np.maximum(pulls[1], 1.0), 0.0, 1.0)
            speed = self._fork(forks, ratio, speed)
        done = self._move(time, speed)
        done |= self.idle > (PATIENCE if self.blow else 0.0)
        self._keep(~done)
        return len(self.at) > 0

    def _thinned(self) -> FloatArray:
        """Return by how much the strip that is left before an edge raises the tension there.

        Root of the secant of a crack amid a strip (from memory: Feddersen); 1 far from edges.
        """
        if self.blow is None:
            return np.ones(len(self.at))
        gone = np.maximum(np.hypot(*(self.at - self.place).T), self.step)
        heading = np.stack([np.cos(self.angle), np.sin(self.angle)], axis=-1)
        left = np.maximum(self._ahead(self.at, heading).min(axis=1), self.step)
        return np.asarray(1 / np.sqrt(np.cos(np.pi / 2 * gone / (gone + left))))

    def _ahead(self, start: FloatArray, heading: FloatArray) -> FloatArray:
        """Return how far ahead the edges lie, along length and along width."""
        safe = np.where(heading == 0, 1.0, heading)
        far = np.where(heading > 0, (self.size - start) / safe, -start / safe)
        return np.where(heading == 0, np.inf, far)

    def _turn(
        self,
        speed: FloatArray,
        left: FloatArray,
        right: FloatArray,
        young: NDArray[np.bool_],
        aim: FloatArray,
    ) -> None:
        """Turn tips: square to the larger bending, towards a near free face, and by chance."""
        way, size = speed * self.tick, self.pane.thickness / 2
        pulled = np.exp(-left / self.relief) - np.exp(-right / self.relief)
        turn = np.where(young, 0.0, pulled) * np.minimum(way / self.relief, 1.0)
        turn += aim * np.minimum(way / size, 1.0)
        turn += WOBBLE * np.sqrt(way / size) * self.rng.standard_normal(len(way))
        self.angle = self.angle + turn

    def _fork(
        self, forks: NDArray[np.bool_], ratio: FloatArray, speed: FloatArray
    ) -> FloatArray:
        """Let some tips split; return the speed of all tips that there are then."""
        count = int(forks.sum())
        angle = FORK[0] + (FORK[1] - FORK[0]) * ratio[forks]
        angle = angle * (1 + FORK_SPREAD * self.rng.uniform(-1, 1, count)) / 2
        both = {name: np.repeat(getattr(self, name)[forks], 2, axis=0) for name in _TIPS}
        both["angle"] = both["angle"] + np.stack([angle, -angle], axis=-1).ravel()
        both["crack"] = self._named(both["crack"])
        both["run"] = np.zeros(2 * count)
        both["share"] = self.rng.random(2 * count)
        self._keep(~forks)
        self._join(both)
        return np.concatenate([speed[~forks], np.repeat(speed[forks], 2)])

    # --- moving and meeting ------------------------------------------------------------------

    def _move(self, time: float, speed: FloatArray) -> NDArray[np.bool_]:
        """Move tips; return which have run into cracks or out of the pane."""
        going = np.flatnonzero(speed > 0)
        gone = np.zeros(len(self.at), dtype=bool)
        if not len(going):
            return gone
        start, pace = self.at[going], speed[going]
        heading = np.stack([np.cos(self.angle[going]), np.sin(self.angle[going])], axis=-1)
        way = (pace * self.tick)[:, None] * heading
        end = start + way
        names = self.grid.passed(start, way + self.cell * heading)
        names[self._own(names, going)] = 0
        hit = names > 0
        first = hit.argmax(axis=1)
        stopped = hit[np.arange(len(first)), first]
        rows = np.flatnonzero(stopped)
        self._meet(rows, names[rows, first[rows]], start, end, heading)
        out = ((end <= 0) | (end >= self.size)).any(axis=1) & ~stopped
        if out.any():
            end[out] = self._edge(start[out], heading[out])
        made = np.hypot(*(end - start).T)
        fresh = self._write(start, end, time + made / pace, going, time)
        names = self.grid.mark(start, end, fresh)
        done = stopped | out
        gone[going] = done | self._crossed(start, end, fresh, going, done, names)
        self.at[going] = end
        self.run[going] += made
        self.whole[going] += made
        return gone

    def _own(self, names: IntArray, tips: IntArray) -> NDArray[np.bool_]:
        """Return which steps ahead are a tip's own tail, or its family's near the fork."""
        found = np.maximum(names, 0)
        theirs, mine = self.cracks[found], self.crack[tips][:, None]
        own = (theirs == mine) & (found > self.count - _TAIL * max(len(self.at), 1))
        parent = self.parents[mine]
        family = (theirs == parent) | (self.parents[theirs] == parent)
        near = (self.run[tips] < _YOUNG * self.cell)[:, None]
        return np.asarray(own | (family & near) | (names <= 0))

    def _meet(
        self,
        rows: IntArray,
        target: IntArray,
        start: FloatArray,
        end: FloatArray,
        heading: FloatArray,
    ) -> None:
        """Let tips end on the steps that they run into."""
        if not len(rows):
            return
        first, last = self.starts[target], self.ends[target]
        side, gap, ahead = last - first, self.starts[target] - start[rows], heading[rows]
        cross = ahead[:, 0] * side[:, 1] - ahead[:, 1] * side[:, 0]
        flat = np.abs(cross) <= 1e-3 * np.hypot(*side.T)
        met = gap[:, 1] * ahead[:, 0] - gap[:, 0] * ahead[:, 1]
        squared = np.maximum((side**2).sum(axis=1), 1e-30)
        nearest = -(gap * side).sum(axis=1) / squared
        share = np.where(flat, nearest, -met / np.where(flat, 1.0, cross))
        share = np.clip(share, 0.0, 1.0)
        spot = first + share[:, None] * side
        spot = np.where((share < 1e-6)[:, None], first, spot)
        spot = np.where((share > 1 - 1e-6)[:, None], last, spot)
        end[rows] = spot
        self.met.append(target)
        self.meetings.append(spot)

    def _edge(self, start: FloatArray, heading: FloatArray) -> FloatArray:
        """Return where tips leave the pane, exactly on its edge."""
        far = self._ahead(start, heading)
        axis, rows = far.argmin(axis=1), np.arange(len(start))
        end = np.clip(start + far[rows, axis][:, None] * heading, 0.0, self.size)
        end[rows, axis] = np.where(heading[rows, axis] > 0, self.size[axis], 0.0)
        return np.asarray(end)

    def _write(
        self,
        start: FloatArray,
        end: FloatArray,
        until: FloatArray,
        tips: IntArray,
        time: float,
    ) -> IntArray:
        """Write steps down; return their numbers, from one on."""
        count = len(start)
        while self.count + count + 1 > len(self.starts):
            for name in ("starts", "ends", "times", "cracks"):
                old = getattr(self, name)
                setattr(self, name, np.concatenate([old, np.empty_like(old)]))
        fresh = np.arange(self.count + 1, self.count + count + 1)
        self.starts[fresh], self.ends[fresh] = start, end
        self.times[fresh, 0], self.times[fresh, 1] = time, until
        self.cracks[fresh] = self.crack[tips]
        self.count += count
        return fresh

    def _crossed(
        self,
        start: FloatArray,
        end: FloatArray,
        fresh: IntArray,
        tips: IntArray,
        done: NDArray[np.bool_],
        names: IntArray,
    ) -> NDArray[np.bool_]:
        """End tips whose new steps run into new steps of others; return which."""
        names[names < fresh[0]] = 0
        names[self._own(names, tips)] = 0
        found = (names > 0).any(axis=1) & ~done
        rows = np.flatnonzero(found)
        target = names[rows].max(axis=1, initial=0)
        # Of two that see each other, and of a row of them, every second one goes on.
        ends = np.zeros(len(found), dtype=bool)
        for row, other in zip(rows.tolist(), (target - fresh[0]).tolist(), strict=True):
            ends[row] = not ends[other]
        keep = ends[rows]
        rows, target = rows[keep], target[keep]
        way = end - start
        heading = way / np.maximum(np.hypot(*way.T), 1e-12)[:, None]
        self._meet(rows, target, start, end, heading)
        self.ends[fresh[rows]] = end[rows]
        return ends

    # --- blades ------------------------------------------------------------------------------

    def snap(self, time: float) -> None:
        """Start a crack across every blade between radial cracks, once, if they are bent so.

        A blade that is loaded at its tip is bent alike all along, so chance says where.
        """
        if self.snapped or self.blow is None:
            return
        moment = time + self.blow.begins
        self.snapped = moment > self.blow.ends
        bent = 3 * self.blow.push(moment).item() / (np.pi * self.pane.thickness**2)
        apart = self.at - self.place
        long = np.hypot(*apart.T)
        leads = long > BLADES * self.pane.thickness
        if bent + self.drive.profile.surface < self.snaps_at or leads.sum() < 3:
            return
        self.snapped = True
        angles = np.arctan2(apart[leads, 1], apart[leads, 0])
        order = np.argsort(angles)
        angles, long = angles[order], long[leads][order]
        gaps = np.diff(np.append(angles, angles[0] + 2 * np.pi))
        turned = angles + gaps * self.rng.uniform(0.3, 0.7, len(gaps))
        blade = np.minimum(long, np.roll(long, -1)) * self.rng.uniform(*SNAPS_WHERE, len(gaps))
        spots = self.place + blade[:, None] * np.stack([np.cos(turned), np.sin(turned)], -1)
        inside = ((spots > self.cell) & (spots < self.size - self.cell)).all(axis=1)
        inside &= gaps < np.pi / 2 * 1.5
        spots, turned = spots[inside], turned[inside]
        free = self.grid.steps[self.grid.index(spots[:, 0], spots[:, 1])] == 0
        spots, turned = spots[free], turned[free]
        origin = self._named(np.full(len(spots), -1))
        count = 2 * len(spots)
        sides = np.stack([turned + np.pi / 2, turned - np.pi / 2], axis=-1).ravel()
        self._join(
            {
                "at": np.repeat(spots, 2, axis=0),
                "angle": sides,
                "crack": self._named(np.repeat(origin, 2)),
                "run": np.zeros(count),
                "whole": np.full(count, self.pane.thickness),
                "share": self.rng.random(count),
                "idle": np.zeros(count),
                "struck": np.ones(count, dtype=bool),
            }
        )


def grow(
    drive: Drive,
    pane: Pane,
    place: FloatArray,
    angles: FloatArray,
    blow: Blow | None,
    seed: int,
) -> Grown:
    """Let cracks grow from a place until none moves, or `WATCHED` is over.

    Parameters
    ----------
    drive : Drive
        What the pane gives.
    pane : Pane
        Size, thickness and glass.
    place : ndarray
        Where the break starts [m], shape (2,).
    angles : ndarray
        Headings of the first cracks [rad].
    blow : Blow or None
        What pushes meanwhile.
    seed : int
        Where chance starts.

    Returns
    -------
    Grown
        All that the cracks did.

    """
    growth = _Growth(drive, pane, place, blow, seed)
    growth.begin(angles)
    for tick in range(int(WATCHED / growth.tick)):
        growth.snap(tick * growth.tick)
        if not growth.advance(tick * growth.tick):
            break
    used = slice(1, growth.count + 1)
    none = np.empty((0, 2))
    return Grown(
        starts=growth.starts[used].copy(),
        ends=growth.ends[used].copy(),
        times=growth.times[used].copy(),
        cracks=growth.cracks[used].copy(),
        parents=growth.parents,
        met=np.concatenate([np.empty(0, np.int64), *growth.met]) - 1,
        meetings=np.concatenate([none, *growth.meetings]),
    )
