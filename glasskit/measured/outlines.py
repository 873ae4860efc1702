# SPDX-License-Identifier: MIT
r"""Find the pieces of a broken pane in a picture taken from straight above.

Cracks are lines, darker or lighter than the glass. A filter of the shape of a short line,
turned into twelve ways, makes them stand out; its response is counted in standard deviations
of the noise. Water that rises over it parts the picture into far too many pieces. Then the
weakest border is taken away, again and again, until all that are left are clearly cracks.
"""

import heapq
from dataclasses import dataclass, replace
from importlib import import_module
from typing import Any, Literal

import numpy as np
from scipy import fft, ndimage
from scipy.special import ndtr

from glasskit.measured.levelled import Levelled
from glasskit.quantities import FloatArray, finite, of_type, one_of
from glasskit.steps import Steps, in_steps

__all__ = ["Correction", "Doubt", "Pieces", "corrected", "find_pieces"]

_HALF_WIDTH, _HALF_LENGTH = 0.13e-3, 0.4e-3  # of the filter, standard deviations [m]
_WAYS = 12
_SHADE = 3e-3  # light that changes over more than this is none of the glass's [m]
_APART = 0.4e-3  # between two starts of the rising water [m]
_FLOOR = 2.6  # noise alone makes borders up to this strong [-]
_SHARE = 0.32  # of the strength of a usual crack, that the faintest has [-]
_CLEAR = 7.0  # strength of a usual crack, below which a photograph tells too little [-]
_VAGUE = 0.06  # how far the limit between crack and none is known, over itself [-]
_TOLD = 0.02  # doubts below this chance are not kept
_WORTH = 0.1  # doubts above this chance are shown
_FEWEST = 4  # pieces, below which there is nothing to count

Labels = np.ndarray[Any, np.dtype[np.intp]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """A place where a border is not clear.

    Attributes
    ----------
    x, y : float
        Where, from the middle of the view, y down [m].
    drawn : bool
        Whether a border is drawn there, which may be none; or none, where one may be.
    chance : float
        That the outlines are wrong there [-].

    Examples
    --------
    >>> Doubt(x=0.01, y=0.0, drawn=True, chance=0.3).drawn
    True

    """

    x: float
    y: float
    drawn: bool
    chance: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Pieces:
    """The pieces of a broken pane, with their outlines.

    Attributes
    ----------
    view : Levelled
        The picture in which they were found.
    labels : ndarray of int, shape (n, n)
        Which piece each pixel belongs to; 0 where there is none.
    clearness : float
        How strong a usual crack is, over the noise [-].
    doubts : tuple of Doubt
        Where the outlines may be wrong.

    Raises
    ------
    ValueError
        If `labels` has not the shape of the picture.

    Examples
    --------
    Two halves of a view, 10 mm wide:

    >>> view = Levelled(picture=np.zeros((40, 40)), resolution=4e3)
    >>> halves = Pieces(view=view, labels=np.arange(1600).reshape(40, 40) // 800 + 1,
    ...                 clearness=20.0)
    >>> halves.number, halves.at(0.0, -0.004)
    (2, 1)

    """

    view: Levelled
    labels: Labels
    clearness: float
    doubts: tuple[Doubt, ...] = ()

    def __post_init__(self) -> None:
        """Make the labels read-only."""
        of_type("view", self.view, Levelled)
        labels = np.array(self.labels, dtype=np.intp)
        if labels.shape != self.view.picture.shape:
            raise ValueError(
                f"labels must have the shape of the picture, got {labels.shape} and "
                f"{self.view.picture.shape}"
            )
        labels.flags.writeable = False
        object.__setattr__(self, "labels", labels)

    @property
    def number(self) -> int:
        """How many pieces there are in the view [-]."""
        return int(np.count_nonzero(np.bincount(self.labels.ravel())[1:]))

    @property
    def unclear(self) -> list[Doubt]:
        """The doubts worth a look, the largest first."""
        worth = [doubt for doubt in self.doubts if doubt.chance > _WORTH]
        return sorted(worth, key=lambda doubt: -doubt.chance)

    def at(self, x: float, y: float) -> int:
        """Return the piece at a place [m]; 0 if there is none.

        Raises
        ------
        ValueError
            If the place lies outside the view.

        """
        row, column = self._pixel(x, y)
        return int(self.labels[row, column])

    def _pixel(self, x: float, y: float) -> tuple[int, int]:
        place = finite("place", [x, y], "m")
        column, row = np.floor((place + self.view.side / 2) * self.view.resolution).astype(int)
        if not (0 <= row < len(self.labels) and 0 <= column < len(self.labels)):
            raise ValueError(
                f"place must lie in the view, {1e3 * self.view.side:.3g} mm wide; got "
                f"{1e3 * place[0]:.3g} mm across and {1e3 * place[1]:.3g} mm down"
            )
        return int(row), int(column)


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What somebody who looked at the picture knows better.

    Attributes
    ----------
    kind : {"join", "split", "remove"}
        The pieces at two places are one; a piece falls in two along the line through two
        places; what lies at a place is no piece.
    places : tuple of tuple of float
        Across and down from the middle of the view [m]: two, two or one.

    Raises
    ------
    ValueError
        If `kind` is unknown, or the number of places not the one for it.

    Examples
    --------
    >>> Correction(kind="remove", places=((0.01, -0.02),)).kind
    'remove'

    """

    kind: Literal["join", "split", "remove"]
    places: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        """Check kind and places."""
        needed = {"join": 2, "split": 2, "remove": 1}
        one_of("kind", self.kind, needed)
        if len(self.places) != needed[self.kind]:
            raise ValueError(
                f"places must be {needed[self.kind]} to {self.kind}, got {len(self.places)}"
            )
        finite("places", self.places, "m")


@in_steps
def find_pieces(view: Levelled) -> Steps[Pieces]:
    """Find the pieces of a broken pane that lies as it broke.

    Parameters
    ----------
    view : Levelled
        The pane from straight above.

    Returns
    -------
    Pieces
        Every part of the view belongs to one of them.

    Raises
    ------
    ValueError
        If cracks do not stand out of the noise, as in a blurred photograph, or there are fewer
        than four pieces.

    Notes
    -----
    Cracks are taken to be all darker or all lighter than the glass, whichever is clearer. The
    faintest counts if it is about a third as strong as the usual one: below lie scratches,
    reflections and noise. Real crumbs have both; look at the outlines.

    Examples
    --------
    >>> from glasskit.measured import VIEW, invented_photo, level
    >>> photo = invented_photo(np.random.default_rng(1), noise=2.0)
    >>> pieces = find_pieces(level(photo.pixels, photo.corners, side=VIEW))
    >>> 110 < pieces.number < 160
    True

    """
    of_type("view", view, Levelled)
    watershed = import_module("skimage.segmentation").watershed

    fine = view.resolution
    yield 0.02, "looking for cracks"
    ridge = yield from _cracks(view.picture, fine)
    yield 0.55, "parting the picture"
    size = 2 * round(_APART * fine) + 1
    smooth = ndimage.gaussian_filter(ridge, max(0.15e-3 * fine, 1.0))
    starts, _ = ndimage.label(smooth == ndimage.minimum_filter(smooth, size), np.ones((3, 3)))
    labels = np.asarray(watershed(ridge, starts))
    yield 0.7, "taking away what is no crack"
    labels, log = _joined(labels, ridge, _FLOOR, np.inf)
    strength, length = _strengths(labels, ridge)
    strong = np.log(strength) > _parted(np.log(strength), length)
    usual = _middle(strength[strong], length[strong])
    limit = _limit(0.9 * usual)  # the stronger half of the cracks may be all that was seen
    labels, more = _joined(labels, ridge, limit, usual)
    log += more
    yield 0.9, "taking away what is no crack"
    usual = _middle(*_strengths(labels, ridge))
    limit = _limit(usual)
    labels, more = _joined(labels, ridge, limit, usual)
    log += more
    if usual < _CLEAR:
        raise ValueError(
            f"view must be sharp: its cracks are {usual:.2g} times as strong as the noise "
            f"where {_CLEAR:g} times are needed; hold the camera still, nearer, in more light"
        )
    _, labels = np.unique(labels, return_inverse=True)
    labels = labels.reshape(view.picture.shape) + 1
    if labels.max() < _FEWEST:
        raise ValueError(f"view must show {_FEWEST} pieces or more, got {labels.max()}")
    left = [
        (total / count, x / count, y / count)
        for total, count, x, y in _borders(labels, np.minimum(ridge, usual))[1]
    ]
    doubts = _doubts(log, limit, False, view) + _doubts(left, limit, True, view)
    return Pieces(view=view, labels=labels, clearness=usual, doubts=tuple(doubts))


def _limit(usual: float) -> float:
    """Return the strength of the faintest border that counts."""
    return max(_FLOOR, 0.9 + _SHARE * usual)


def _cracks(picture: FloatArray, fine: float) -> Steps[FloatArray]:
    """Return how much each pixel looks like a part of a line, over the noise."""
    shade = ndimage.gaussian_filter(picture, _SHADE * fine, mode="nearest")
    even = picture / np.maximum(shade, 1.0) - 1
    edge = round(2e-3 * fine)
    padded = np.pad(even, edge, mode="reflect")
    seen = fft.rfft2(padded)
    down = 2 * np.pi * fft.fftfreq(padded.shape[0])[:, None]
    across = 2 * np.pi * fft.rfftfreq(padded.shape[1])
    width, length = max(_HALF_WIDTH * fine, 1.0), _HALF_LENGTH * fine
    dark, light = np.full((2, *picture.shape), -np.inf)
    noise = 0.0
    for number in range(_WAYS):
        turn = np.pi * number / _WAYS
        over = width * (across * np.cos(turn) + down * np.sin(turn))
        on = length * (down * np.cos(turn) - across * np.sin(turn))
        passed = seen * over**2 * np.exp(-0.5 * (over**2 + on**2))
        bump = fft.irfft2(passed, s=padded.shape)[edge:-edge, edge:-edge]
        noise += float(np.median(np.abs(bump))) / 0.6745 / _WAYS
        np.maximum(dark, -bump, out=dark)
        np.maximum(light, bump, out=light)
        yield 0.02 + 0.5 * (number + 1) / _WAYS, "looking for cracks"
    clearer = max(dark, light, key=lambda ridge: float(np.percentile(ridge, 97)))
    return np.asarray(clearer / max(noise, 1e-9))


_Border = tuple[float, float, float, float]  # total strength, number of places, their sums


def _borders(labels: Labels, ridge: FloatArray) -> tuple[list[tuple[int, int]], list[_Border]]:
    """Return which parts touch, and how strong their border is."""
    size = int(labels.max()) + 1
    keys, values, across, down = [], [], [], []
    for here, there in ((np.s_[:, :-1], np.s_[:, 1:]), (np.s_[:-1], np.s_[1:])):
        first, second = labels[here], labels[there]
        differ = first != second
        rows, columns = np.nonzero(differ)
        low, high = np.minimum(first, second)[differ], np.maximum(first, second)[differ]
        keys.append(low.astype(np.int64) * size + high)
        values.append(np.maximum(ridge[here], ridge[there])[differ])
        across.append(columns)
        down.append(rows)
    pairs, place = np.unique(np.concatenate(keys), return_inverse=True)
    sums = [
        np.bincount(place, weights=np.concatenate(each), minlength=len(pairs))
        for each in (values, across, down)
    ]
    number = np.bincount(place, minlength=len(pairs)).astype(float)
    found = zip(
        sums[0].tolist(), number.tolist(), sums[1].tolist(), sums[2].tolist(), strict=True
    )
    return [divmod(int(pair), size) for pair in pairs], list(found)


def _strengths(labels: Labels, ridge: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return how strong each border is, and how long."""
    _, borders = _borders(labels, ridge)
    if not borders:
        raise ValueError(f"view must show {_FEWEST} pieces or more, got no crack")
    total, number, _, _ = np.array(borders).T
    return np.maximum(total / number, 1e-9), number


def _joined(
    labels: Labels, ridge: FloatArray, limit: float, most: float
) -> tuple[Labels, list[tuple[float, float, float]]]:
    """Take away the weakest border until all left are strong; return which, and where.

    A pixel counts no more than `most`, so that no crossing crack makes a border strong.
    """
    pairs, borders = _borders(labels, np.minimum(ridge, most))
    near: dict[int, dict[int, _Border]] = {}
    for (first, second), border in zip(pairs, borders, strict=True):
        near.setdefault(first, {})[second] = border
        near.setdefault(second, {})[first] = border
    waiting = [(b[0] / b[1], i, j, b) for (i, j), b in zip(pairs, borders, strict=True)]
    heapq.heapify(waiting)
    owner = np.arange(labels.max() + 1)
    log = []
    while waiting:
        strength, first, second, border = heapq.heappop(waiting)
        if near.get(first, {}).get(second) is not border:
            continue  # it has become part of another
        if strength >= limit:
            break
        log.append((strength, border[2] / border[1], border[3] / border[1]))
        if len(near[first]) < len(near[second]):
            first, second = second, first
        owner[second] = first
        del near[first][second]
        for other, more in near.pop(second).items():
            if other == first:
                continue
            del near[other][second]
            was = near[first].get(other, (0.0, 0.0, 0.0, 0.0))
            both = (was[0] + more[0], was[1] + more[1], was[2] + more[2], was[3] + more[3])
            near[first][other] = near[other][first] = both
            low, high = sorted((first, other))
            heapq.heappush(waiting, (both[0] / both[1], low, high, both))
    while (owner != owner[owner]).any():
        owner = owner[owner]
    return owner[labels], log


def _parted(values: FloatArray, weights: FloatArray) -> float:
    """Return what parts values in two groups best: the variance between them is greatest."""
    order = np.argsort(values)
    value, weight = values[order], weights[order] / weights.sum()
    below = np.cumsum(weight)[:-1]
    sums = np.cumsum(weight * value)
    if not below.size:
        return -np.inf
    between = (sums[-1] * below - sums[:-1]) ** 2 / np.maximum(below * (1 - below), 1e-12)
    return float(value[between.argmax()])


def _middle(values: FloatArray, weights: FloatArray) -> float:
    """Return the median of values that count as much as they weigh."""
    order = np.argsort(values)
    weight = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(weight, weight[-1] / 2)])


def _doubts(
    borders: list[tuple[float, float, float]], limit: float, drawn: bool, view: Levelled
) -> list[Doubt]:
    """Return which borders are so near to the limit that they may lie on its other side."""
    if not borders:
        return []
    strength, across, down = np.array(borders).T
    off = (limit - strength) if not drawn else (strength - limit)
    chance = ndtr(-off / (_VAGUE * limit))
    places = (np.column_stack([across, down]) + 0.5) / view.resolution - view.side / 2
    return [
        Doubt(x=float(x), y=float(y), drawn=drawn, chance=float(odds))
        for (x, y), odds in zip(places, chance, strict=True)
        if odds > _TOLD
    ]


def corrected(pieces: Pieces, corrections: tuple[Correction, ...]) -> Pieces:
    """Return the pieces with what somebody who looked knows better.

    Parameters
    ----------
    pieces : Pieces
        As they were found.
    corrections : tuple of Correction
        One after the other.

    Returns
    -------
    Pieces
        Doubts that were settled are gone.

    Raises
    ------
    ValueError
        If a place lies outside the view or on no piece, two places to join lie on one piece,
        or a line to split does not cross the piece at its middle.

    Examples
    --------
    >>> view = Levelled(picture=np.zeros((40, 40)), resolution=4e3)
    >>> one = Pieces(view=view, labels=np.ones((40, 40), dtype=int), clearness=20.0)
    >>> cut = Correction(kind="split", places=((0.0, -0.004), (0.0, 0.004)))
    >>> corrected(one, (cut,)).number
    2

    """
    of_type("pieces", pieces, Pieces)
    found = pieces
    for each in corrections:
        of_type("corrections", each, Correction)
        labels = {"join": _join, "split": _split, "remove": _remove}[each.kind](found, each)
        found = replace(found, labels=labels)
    if found is pieces:
        return pieces
    left = tuple(doubt for doubt in found.doubts if _stands(found, doubt))
    return replace(found, doubts=left)


def _on_piece(pieces: Pieces, place: tuple[float, float]) -> int:
    label = pieces.at(*place)
    if not label:
        raise ValueError("place must lie on a piece; there is none any more")
    return label


def _join(pieces: Pieces, correction: Correction) -> Labels:
    first, second = (_on_piece(pieces, place) for place in correction.places)
    if first == second:
        raise ValueError("places to join must lie on two pieces; both lie on one")
    return np.where(pieces.labels == second, first, pieces.labels)


def _split(pieces: Pieces, correction: Correction) -> Labels:
    start, end = np.array(correction.places)
    label = _on_piece(pieces, tuple((start + end) / 2))
    rows, columns = np.nonzero(pieces.labels == label)
    places = (np.column_stack([columns, rows]) + 0.5) / pieces.view.resolution
    rest = places - pieces.view.side / 2 - start
    way = end - start
    beyond = way[0] * rest[:, 1] - way[1] * rest[:, 0] > 0
    if beyond.all() or not beyond.any():
        raise ValueError("places to split must lie on a line through the piece between them")
    labels = pieces.labels.copy()
    labels[rows[beyond], columns[beyond]] = labels.max() + 1
    return labels


def _remove(pieces: Pieces, correction: Correction) -> Labels:
    label = _on_piece(pieces, correction.places[0])
    return np.where(pieces.labels == label, 0, pieces.labels)


def _stands(pieces: Pieces, doubt: Doubt) -> bool:
    """Tell whether a doubt is still one: nobody has drawn or taken away a border there."""
    row, column = pieces._pixel(doubt.x, doubt.y)
    reach = round(0.5e-3 * pieces.view.resolution)
    near = pieces.labels[
        max(row - reach, 0) : row + reach + 1, max(column - reach, 0) : column + reach + 1
    ]
    return bool(near.min() > 0) and doubt.drawn == bool(np.ptp(near))
