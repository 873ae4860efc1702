# SPDX-License-Identifier: MIT
"""Say how many panes a run of shows uses up, how many to bring, what rehearsals prove.

Each pane counts as a fresh draw from its kind. A pane that withstood a blow is as strong as
before unless the blow made new flaws: another blow from the same height tells nothing new, so
the count never relies on it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import betainc

from glasskit.quantities import FloatArray, finite, in_range, require, whole, within

MOST = 10_000
"""Panes beyond which no number to bring is given."""

_HALF = 0.005


def expected_panes(chance: ArrayLike, wanted: ArrayLike) -> FloatArray:
    r"""Return how many panes are struck on average until enough did as asked, n/p.

    Parameters
    ----------
    chance : array_like
        Chance that one pane does as asked [-].
    wanted : array_like
        How many shall do so [-].

    Returns
    -------
    ndarray
        Mean of the negative binomial distribution, those that do as asked among them [-].

    Raises
    ------
    ValueError
        If `chance` is not above 0 and up to 1, or `wanted` below 1.

    Notes
    -----
    A mean: about half of all days need more. `panes_to_bring` says what is enough.

    References
    ----------
    Definition: the negative binomial distribution.

    Examples
    --------
    Six shows, three panes in four break:

    >>> expected_panes(0.75, 6).item()
    8.0

    """
    share = in_range("chance", chance, 0.0, 1.0)
    require(share > 0, "chance", share, "be above 0")
    return np.asarray(in_range("wanted", wanted, 1, MOST) / share)


def enough(count: ArrayLike, chance: ArrayLike, wanted: int) -> FloatArray:
    """Return the chance that at least `wanted` of `count` panes do as asked [-].

    Parameters
    ----------
    count : array_like
        Panes brought [-].
    chance : array_like
        Chance that one pane does as asked [-]; broadcasts against `count`.
    wanted : int
        How many shall do so, 1 or more [-].

    Returns
    -------
    ndarray
        Upper tail of the binomial distribution [-].

    Raises
    ------
    ValueError
        If `chance` does not lie in 0 to 1 or `wanted` is below 1.

    Notes
    -----
    Panes break independently of each other. Where the chance itself is not known, average over
    it.

    References
    ----------
    Definition: the binomial distribution.

    Examples
    --------
    Eight panes for six shows, three panes in four do as asked:

    >>> enough(8, 0.75, 6).item()
    0.6785

    """
    share = in_range("chance", chance, 0.0, 1.0)
    wanted = whole("wanted", wanted, 1, MOST)
    number, share = np.broadcast_arrays(finite("count", count), share)
    tail = betainc(wanted, np.maximum(number - wanted, 0.0) + 1.0, share)
    return np.asarray(np.where(number < wanted, 0.0, tail))


def panes_to_bring(chance: ArrayLike, wanted: int, confidence: float = 0.95) -> int | None:
    """Return the least number of panes that suffices with the confidence asked for.

    Parameters
    ----------
    chance : array_like, shape () or (sets,)
        Chance that one pane does as asked; a row stands for what is not known, all its
        entries equally likely [-].
    wanted : int
        How many shall do so [-].
    confidence : float
        Confidence that the panes suffice [-].

    Returns
    -------
    int or None
        Panes to bring, with those that do as asked; None where more than `MOST` are needed.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Over a row the chance of sufficing is averaged, not the chance of one pane: what is
    unknown is the same for every pane of the day, and bad luck does not average out.

    References
    ----------
    Definition: the binomial distribution.

    Examples
    --------
    One break wanted, 99 times in 100, from panes that break half of the time:

    >>> panes_to_bring(0.5, 1, 0.99)
    7

    """
    share = np.atleast_1d(in_range("chance", chance, 0.0, 1.0))
    confidence = within("confidence", confidence, 0, 1).item()
    wanted = whole("wanted", wanted, 1, MOST)
    sure = confidence - 1e-12  # a chance met exactly counts as met
    low, high = wanted - 1, wanted
    while enough(high, share, wanted).mean() < sure:
        low, high = high, 2 * high
        if low > MOST:
            return None
    while high - low > 1:
        middle = (low + high) // 2
        if enough(middle, share, wanted).mean() < sure:
            low = middle
        else:
            high = middle
    return high if high <= MOST else None


def panes_for_all(
    chances: Sequence[FloatArray], wanted: int, confidence: float, most: int
) -> tuple[tuple[int, ...] | None, float]:
    """Return the fewest panes of every kind that suffice together, and how surely they do.

    Parameters
    ----------
    chances : sequence of ndarray, shape (worlds,)
        For each kind the chance in each world that one pane does as asked [-].
    wanted : int
        How many of each kind shall do so [-].
    confidence : float
        Confidence that the panes of all kinds suffice [-].
    most : int
        Panes of one kind beyond which no number is given [-].

    Returns
    -------
    tuple of int or None
        Panes of each kind; None where even `most` of each do not suffice.
    float
        Confidence reached; that of `most` of each where there is no number [-].

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Met in whole per cent. World by world, for what is unknown is the same for all kinds and
    all shows of the day. One pane after the other is added where it helps most.

    References
    ----------
    Definition: the binomial distribution, world by world.

    Examples
    --------
    Three shows; ordinary panes break nine times in ten, toughened ones hold four in five:

    >>> panes_for_all([np.array([0.9]), np.array([0.8])], 3, 0.95, 30)[0]
    (5, 6)

    """
    confidence = within("confidence", confidence, 0, 1).item()
    wanted, most = whole("wanted", wanted, 1, MOST), whole("most", most, 1, MOST)
    number = np.arange(wanted, max(most, wanted) + 1)
    tails = [enough(number[:, None], share, wanted) for share in chances]
    full = float(np.prod([tail[-1] for tail in tails], axis=0).mean())
    asked = confidence - _HALF  # met once it is met in whole per cent, as it is shown
    if full < asked:
        return None, full
    at = [0] * len(tails)

    def suffices(steps: Sequence[int]) -> float:
        together = [tail[step] for tail, step in zip(tails, steps, strict=True)]
        return float(np.prod(together, axis=0).mean())

    sure = suffices(at)
    while sure < asked:
        room = [kind for kind, step in enumerate(at) if step < len(number) - 1]
        tried = [[*at[:kind], at[kind] + 1, *at[kind + 1 :]] for kind in room]
        reached = [suffices(steps) for steps in tried]
        at, sure = tried[int(np.argmax(reached))], max(reached)
    return tuple(int(number[step]) for step in at), sure


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """What can be done with the panes that one can bring.

    Attributes
    ----------
    panes : tuple of int
        Panes of each kind [-].
    at : int
        Number of the height at which the whole evening works most often.
    works : float
        Chance that all shows go right there with these panes [-].
    one_more : tuple of float
        The same with one more pane of each kind in turn, each at its own best height [-].

    """

    panes: tuple[int, ...]
    at: int
    works: float
    one_more: tuple[float, ...]


def budget_for(chances: Sequence[FloatArray], wanted: int, panes: Sequence[int]) -> Budget:
    """Return the height at which given panes serve all shows most often.

    Parameters
    ----------
    chances : sequence of ndarray, shape (worlds, heights)
        For each kind the chance in each world that one pane does as asked [-].
    wanted : int
        How many of each kind shall do so [-].
    panes : sequence of int
        Panes of each kind that can be brought [-].

    Returns
    -------
    Budget
        Zero chance where there are fewer panes of a kind than shows.

    Raises
    ------
    ValueError
        If there is not one number for each kind, or one is below 1.

    Notes
    -----
    World by world, as `panes_for_all`.

    References
    ----------
    Definition: the binomial distribution, world by world.

    Examples
    --------
    Two shows, every second pane does as asked: two panes suffice in a quarter of all evenings,
    three in half of them.

    >>> half = np.array([[0.5]])
    >>> found = budget_for([half], 2, [2])
    >>> round(found.works, 2), [round(one, 2) for one in found.one_more]
    (0.25, [0.5])

    """
    wanted = whole("wanted", wanted, 1, MOST)
    require(
        len(panes) == len(chances), "panes", len(panes), "be one number for each kind; got"
    )
    counts = [whole("panes", count, 1, MOST) for count in panes]
    pairs = list(zip(counts, chances, strict=True))
    now = [enough(count, share, wanted) for count, share in pairs]
    more = [enough(count + 1, share, wanted) for count, share in pairs]
    works = np.prod(now, axis=0).mean(axis=0)
    bought = [
        np.prod([*now[:kind], one, *now[kind + 1 :]], axis=0).mean(axis=0).max()
        for kind, one in enumerate(more)
    ]
    at = int(works.argmax())
    return Budget(
        panes=tuple(counts),
        at=at,
        works=float(works[at]),
        one_more=tuple(float(share) for share in bought),
    )


def proved_share(successes: ArrayLike, confidence: ArrayLike = 0.95) -> FloatArray:
    r"""Return the share that is proved when every rehearsal did as asked.

    .. math:: p \ge (1 - C)^{1/n}

    Parameters
    ----------
    successes : array_like
        Rehearsals, all of which did as asked [-].
    confidence : array_like
        One-sided confidence :math:`C` [-].

    Returns
    -------
    ndarray
        Least share of all panes that does as asked [-].

    Raises
    ------
    ValueError
        If `successes` is below 1 or `confidence` not between 0 and 1.

    Notes
    -----
    Each rehearsal on a fresh pane. How many rehearsals prove a target share is
    `glasskit.strength.sizes.zero_failure_size` of what is left to one.

    References
    ----------
    Definition: the binomial distribution.

    Examples
    --------
    Three in a row prove little:

    >>> proved_share(3).item()
    0.37

    """
    count, sure = finite("successes", successes), within("confidence", confidence, 0, 1)
    require(count >= 1, "successes", count, "be 1 or more")
    return np.asarray((1.0 - sure) ** (1.0 / count))


def rehearsals_needed(share: float, failures: int = 0, confidence: float = 0.95) -> int:
    r"""Return how many rehearsals with so many failures prove a share.

    Parameters
    ----------
    share : float
        Share of all panes that shall do as asked, between 0 and 1 [-].
    failures : int
        Rehearsals that went wrong [-].
    confidence : float
        One-sided confidence :math:`C` [-].

    Returns
    -------
    int
        Least number :math:`n`, failures among them: panes that do as asked only with the
        chance `share` would show no more failures in a share :math:`1 - C` of such series.

    Raises
    ------
    ValueError
        If `share` or `confidence` does not lie between 0 and 1, or `failures` is negative.

    Notes
    -----
    The number is fixed beforehand. Whoever starts the count again after a failure reaches a
    row of 14 with panes of 80 % in four series of ten, if sixty panes are broken.

    References
    ----------
    Definition: the binomial distribution.

    Examples
    --------
    >>> rehearsals_needed(0.8), rehearsals_needed(0.8, failures=1)
    (14, 22)

    """
    share = within("share", share, 0, 1).item()
    confidence = within("confidence", confidence, 0, 1).item()
    failures = whole("failures", failures, 0, MOST)
    count = failures + 1
    while betainc(count - failures, failures + 1, share) > 1.0 - confidence:
        count += 1
    return count
