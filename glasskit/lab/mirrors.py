# SPDX-License-Identifier: MIT
r"""Read residual stress from the mirrors of many broken specimens.

Specimens of one toughened lot, broken at different stresses, leave mirrors with

.. math:: \sigma\sqrt{r} = A + \sigma_R\sqrt{r}

so that :math:`\sigma\sqrt{r}` against :math:`\sqrt{r}` is a line: its slope is the surface
compression, its height at zero the mirror constant. The radius scatters far more than the
stress and stands on both axes, which tilts the line upwards. `likely_mirrors` puts the scatter
where it is.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import fdtri, stdtrit

from glasskit.quantities import FloatArray, positive, require, within

_STEPS = 60  # halvings towards an end of an interval
_GOLDEN = (np.sqrt(5) - 1) / 2
_WIDEST = 50.0  # of the range of stresses, how far below them the compression is sought


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MirrorFit:
    """Surface compression and mirror constant of one or many sets of specimens.

    Attributes
    ----------
    compression : ndarray, shape (...)
        Surface compression, positive; negative stands for tension [Pa].
    constant : ndarray, shape (...)
        Mirror constant [Pa sqrt(m)].
    interval : ndarray, shape (..., 2)
        Confidence interval of the compression [Pa]; minus infinity where there is no limit.
    scatter : ndarray, shape (...)
        Standard deviation about the fit: of the logarithm of the root of the radius for
        `likely_mirrors` [-], of stress times root for `mirror_line` [Pa sqrt(m)].
    level : float
        Confidence [-].

    """

    compression: FloatArray
    constant: FloatArray
    interval: FloatArray
    scatter: FloatArray
    level: float

    def __post_init__(self) -> None:
        for array in (self.compression, self.constant, self.interval, self.scatter):
            array.flags.writeable = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MirrorSet:
    """Mirrors of one lot, fitted in both ways.

    Attributes
    ----------
    stress, radius : ndarray, shape (n,)
        Applied tension at the break [Pa], mirror radius [m].
    likely, line : MirrorFit
        By `likely_mirrors`, and by the usual straight line.

    """

    stress: FloatArray
    radius: FloatArray
    likely: MirrorFit
    line: MirrorFit

    def __post_init__(self) -> None:
        self.stress.flags.writeable = False
        self.radius.flags.writeable = False


def mirror_set(stress: ArrayLike, radius: ArrayLike, level: float = 0.95) -> MirrorSet:
    """Fit the mirrors of one lot in both ways.

    Parameters
    ----------
    stress : array_like, shape (n,)
        Applied tension at the break [Pa].
    radius : array_like, shape (n,)
        Mirror radius [m].
    level : float
        Confidence [-].

    Returns
    -------
    MirrorSet
        The specimens and both fits.

    Raises
    ------
    ValueError
        As for `likely_mirrors` and `mirror_line`.

    Notes
    -----
    As for `likely_mirrors`, which is the one to trust.

    References
    ----------
    [ConwayMecholsky1989] for the relation

    Examples
    --------
    >>> found = mirror_set([150e6, 200e6, 300e6], [1.6e-3, 0.4e-3, 0.1e-3])
    >>> found.likely.compression.round(-6).item(), found.likely.constant.round(-4).item()
    (100000000.0, 2000000.0)

    """
    applied = np.array(positive("stress", stress, "Pa"))
    size = np.array(positive("radius", radius, "m"))
    return MirrorSet(
        stress=applied,
        radius=size,
        likely=likely_mirrors(applied, size, level),
        line=mirror_line(applied, size, level),
    )


def _checked(
    stress: ArrayLike, radius: ArrayLike, level: float
) -> tuple[FloatArray, FloatArray]:
    within("level", level, 0, 1)
    applied = np.atleast_1d(positive("stress", stress, "Pa"))
    root = np.sqrt(np.atleast_1d(positive("radius", radius, "m")))
    require(root.shape == applied.shape, "radius", root.size, f"hold {applied.size} items")
    count = applied.shape[-1]
    require(count >= 3, "stress", count, "hold three specimens or more")
    return applied, root


def mirror_line(stress: ArrayLike, radius: ArrayLike, level: float = 0.95) -> MirrorFit:
    """Fit the usual straight line by least squares.

    Parameters
    ----------
    stress : array_like, shape (..., n)
        Applied tension at the break [Pa].
    radius : array_like, shape (..., n)
        Mirror radius [m].
    level : float
        Confidence [-].

    Returns
    -------
    MirrorFit
        Slope, height at zero, and the interval of a line through exact roots.

    Raises
    ------
    ValueError
        If there are fewer than three specimens, the radii are all equal or a number is not
        positive.

    Notes
    -----
    Radii that scatter by a tenth tilt the line: the compression comes out too large and the
    interval holds the truth less often than it says (tests). Use `likely_mirrors`.

    References
    ----------
    [ConwayMecholsky1989]

    Examples
    --------
    Four bars, invented; compression and constant in MPa and MPa√m:

    >>> stress, radius = [60e6, 80e6, 100e6, 120e6], [1.9e-3, 0.9e-3, 0.55e-3, 0.36e-3]
    >>> line = mirror_line(stress, radius)
    >>> line.compression.item() / 1e6, line.constant.item() / 1e6
    (13.56, 2.016)

    """
    applied, root = _checked(stress, radius, level)
    height = applied * root
    away = root - root.mean(-1, keepdims=True)
    square = (away**2).sum(-1)
    require(square > 0, "radius", root[..., 0] ** 2, "not all be equal", "m")
    slope = (away * height).sum(-1) / square
    constant = height.mean(-1) - slope * root.mean(-1)
    left = height - constant[..., None] - slope[..., None] * root
    freedom = root.shape[-1] - 2
    scatter = np.sqrt((left**2).sum(-1) / freedom)
    half = stdtrit(freedom, (1 + level) / 2) * scatter / np.sqrt(square)
    return MirrorFit(
        compression=np.asarray(slope),
        constant=np.asarray(constant),
        interval=np.stack([slope - half, slope + half], axis=-1),
        scatter=np.asarray(scatter),
        level=level,
    )


def likely_mirrors(stress: ArrayLike, radius: ArrayLike, level: float = 0.95) -> MirrorFit:
    r"""Fit compression and constant with the scatter in the radii.

    .. math:: \ln\sqrt{r_i} = \ln A - \ln(\sigma_i - \sigma_R) + \varepsilon_i

    Parameters
    ----------
    stress : array_like, shape (..., n)
        Applied tension at the break, well known [Pa].
    radius : array_like, shape (..., n)
        Mirror radius; its relative scatter is the same for all [m].
    level : float
        Confidence [-].

    Returns
    -------
    MirrorFit
        Likeliest pair, and the interval by the ratio of sums of squares after Fisher.

    Raises
    ------
    ValueError
        If there are fewer than three specimens, the stresses are all equal or a number is
        not positive.

    Notes
    -----
    The stresses must differ: specimens abraded in several ways, or plain and deep flaws. One
    surface compression for all specimens and flaws small against the case; mirrors well below
    the thickness.

    References
    ----------
    [ConwayMecholsky1989] for the relation

    Examples
    --------
    Five bars of a lot, stress in MPa and mirror in mm; compression and interval in MPa:

    >>> stress = np.array([150, 170, 200, 240, 290]) * 1e6
    >>> radius = np.array([1.47, 0.85, 0.38, 0.21, 0.11]) * 1e-3
    >>> found = likely_mirrors(stress, radius)
    >>> (found.compression / 1e6).round().item(), (found.interval / 1e6).round()
    (98.0, array([ 89., 105.]))

    """
    applied, root = _checked(stress, radius, level)
    lowest, highest = applied.min(-1), applied.max(-1)
    reach = highest - lowest
    require(reach > 0, "stress", lowest, "not all be equal", "Pa")

    def level_of(gap: FloatArray) -> FloatArray:
        """Return ln(root) + ln(net stress) with a compression this far below the lowest."""
        return np.asarray(np.log(root * (applied - lowest[..., None] + gap[..., None])))

    def unrest(place: FloatArray) -> FloatArray:
        """Return the sum of squares about the mean, by the logarithm of the gap over reach."""
        return np.asarray(level_of(np.exp(place) * reach).var(-1) * root.shape[-1])

    low = np.full(reach.shape, np.log(1e-9))
    high = np.full(reach.shape, np.log(_WIDEST))
    best = _least(unrest, low, high)
    freedom = root.shape[-1] - 2
    limit = unrest(best) * (1 + fdtri(1, freedom, level) / freedom)
    near, far = _crossing(unrest, best, low, limit), _crossing(unrest, best, high, limit)
    farthest = np.where(unrest(high) > limit, lowest - np.exp(far) * reach, -np.inf)
    gap = np.exp(best) * reach
    return MirrorFit(
        compression=np.asarray(lowest - gap),
        constant=np.asarray(np.exp(level_of(gap).mean(-1))),
        interval=np.stack([farthest, lowest - np.exp(near) * reach], axis=-1),
        scatter=np.asarray(np.sqrt(unrest(best) / freedom)),
        level=level,
    )


def _least(
    curve: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray
) -> FloatArray:
    """Find the least of a curve with one valley, by the golden section."""
    for _ in range(_STEPS):
        inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        left = curve(inner) < curve(outer)
        low, high = np.where(left, low, inner), np.where(left, outer, high)
    return np.asarray((low + high) / 2)


def _crossing(
    curve: Callable[[FloatArray], FloatArray],
    inside: FloatArray,
    outside: FloatArray,
    limit: FloatArray,
) -> FloatArray:
    """Find where a curve passes a limit between two places, by halving."""
    for _ in range(_STEPS):
        middle = (inside + outside) / 2
        within = curve(middle) < limit
        inside, outside = np.where(within, middle, inside), np.where(within, outside, middle)
    return np.asarray((inside + outside) / 2)
