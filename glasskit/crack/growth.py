# SPDX-License-Identifier: MIT
r"""Let cracks grow slowly: why a load that glass bears today may break it next year.

In damp air water cuts the stretched bonds at a crack tip one by one. The crack creeps at

.. math:: v = v_0 \left(\frac{K}{K_{Ic}}\right)^n, \qquad K > K_{th}

until :math:`K` reaches the toughness and it runs. With :math:`n` near 16, half the stress buys
some sixty thousand times the life, and a doubled life costs 4 % of the stress: the rule of the
sixteenth root in the standards. The clock needs tension at the tip. While a surface stays
compressed nothing pulls at its flaws, and a toughened pane has no such clock.

Speed laws scatter by a factor of ten and more between sources and weathers; lives follow suit.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import cumulative_trapezoid

from glasskit.crack.intensity import Stress
from glasskit.crack.pressed import open_crack
from glasskit.crack.weight import EDGE_CRACK
from glasskit.materials import Glass, glass
from glasskit.materials.glasses import table
from glasskit.quantities import (
    FloatArray,
    finite,
    non_negative,
    of_type,
    positive,
    read_only,
    require,
)
from glasskit.stress import Elastic, StressProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthLaw:
    """How fast a crack creeps in one glass and one air.

    Attributes
    ----------
    exponent : float
        Steepness of the law, above 2 [-].
    reference_speed : float
        Speed that the law gives at the toughness [m/s].
    toughness : float
        Stress intensity at which the crack runs [Pa sqrt(m)].
    threshold : float
        Stress intensity below which it stands still [Pa sqrt(m)].
    source, status : str
        Where the numbers come from, and whether they were looked up.

    """

    exponent: float
    reference_speed: float
    toughness: float
    threshold: float
    source: str = ""
    status: str = "memory"

    def __post_init__(self) -> None:
        steep = finite("exponent", self.exponent)
        require(steep > 2, "exponent", steep, "be above 2")
        positive("reference_speed", self.reference_speed, "m/s")
        positive("toughness", self.toughness, "Pa√m")
        non_negative("threshold", self.threshold, "Pa√m")
        rule = "be below the toughness"
        require(self.threshold < self.toughness, "threshold", self.threshold, rule, "Pa√m")

    def speed(self, stress_intensity: ArrayLike) -> FloatArray:
        """Return the speed of the crack [m/s] at a stress intensity [Pa sqrt(m)].

        Zero up to the threshold and under pressure. The law holds up to the toughness; the
        plateau where water no longer keeps up with the tip is left out, which costs little
        life since nearly all of it is spent at the start.
        """
        share = np.asarray(stress_intensity, dtype=np.float64) / self.toughness
        pulled = np.maximum(share, 0.0)
        creep = self.reference_speed * pulled**self.exponent
        return np.asarray(np.where(share > self.threshold / self.toughness, creep, 0.0))


def growth_law(glass: Glass) -> GrowthLaw:
    """Return the design law of a glass from the table of materials.

    Parameters
    ----------
    glass : Glass
        From `glasskit.materials.glass`.

    Returns
    -------
    GrowthLaw
        Exponent, speed at the toughness, toughness and threshold.

    Raises
    ------
    ValueError
        If the table has no growth data for this glass.

    Notes
    -----
    The speed at a given stress intensity is uncertain by a factor of ten, and so is every time
    that follows from it.

    References
    ----------
    The sources stand with the values, `glasskit.materials.Glass.values`.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> growth_law(glass("soda-lime")).exponent
    16.0

    """
    of_type("glass", glass, Glass)
    rule = f"have growth data for {glass.name}"
    for name in ("growth_exponent", "growth_speed", "growth_threshold"):
        value = getattr(glass, name)
        require(np.isfinite(value), "glass", value, rule)
    speed = glass.values.get("growth_speed")
    return GrowthLaw(
        exponent=glass.growth_exponent,
        reference_speed=glass.growth_speed,
        toughness=glass.toughness,
        threshold=glass.growth_threshold,
        source=speed.source if speed else "",
        status=speed.status if speed else "memory",
    )


def _measured(surroundings: str, threshold: float) -> GrowthLaw:
    """Soda-lime glass with the exponent and speed that the table has for some surroundings."""
    found = {
        row.property: row.value
        for row in table()
        if row.material == "soda-lime" and row.value.conditions.startswith(surroundings)
    }
    return replace(
        growth_law(glass("soda-lime")),
        exponent=found["growth_exponent"].value,
        reference_speed=found["growth_speed"].value,
        threshold=threshold,
        source=found["growth_speed"].source,
    )


_THRESHOLD = glass("soda-lime").values["growth_threshold"]

ENVIRONMENTS: Mapping[str, GrowthLaw] = MappingProxyType(
    {
        "design": growth_law(glass("soda-lime")),
        "water": _measured("in water", _THRESHOLD.low),
        "half humid": _measured("50 %", _THRESHOLD.value),
    }
)
"""Laws for soda-lime glass by surroundings: a cautious one for design [Haldimann2006], and
measured ones in water and at 50 % relative humidity [Kerkhof1981]; speeds from memory."""


_OPEN_DEPTHS = 120  # 4 % apart: between them K is straight in the logarithm to 1e-4
_TEST_RATE = 2e6  # tension gained in a slow test [Pa/s]
_DEPTHS = 4001  # evenly in the logarithm; trapezoids good to 1e-4 for n = 16


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CrackHistory:
    """A crack creeping inwards.

    Attributes
    ----------
    depth : ndarray, shape (n,)
        Depths passed [m].
    time : ndarray, shape (n,)
        When each was reached [s]; infinite beyond the depth where it stands still.
    breaks : bool
        Whether the crack reaches the toughness within the depths given.

    """

    depth: FloatArray
    time: FloatArray
    breaks: bool

    def __post_init__(self) -> None:
        self.depth.flags.writeable = False
        self.time.flags.writeable = False

    @property
    def time_to_failure(self) -> float:
        """When the crack runs [s]; infinite if it never does."""
        return float(self.time[-1]) if self.breaks else np.inf


def time_to_failure(
    stress: ArrayLike, depth: ArrayLike, law: GrowthLaw, geometry_factor: float = EDGE_CRACK
) -> FloatArray:
    r"""Return how long a surface crack stands a steady, even tension.

    .. math:: t = \frac{2a}{(n-2)\,v_0}\,k^{-n}\left(1-k^{n-2}\right), \qquad
        k = \frac{Y\sigma\sqrt{\pi a}}{K_{Ic}}

    Parameters
    ----------
    stress : array_like
        Tension at the crack, :math:`\sigma`; compression is negative [Pa].
    depth : array_like
        Depth of the crack at the start, :math:`a` [m].
    law : GrowthLaw
        How fast it creeps.
    geometry_factor : float
        Shape of the crack, :math:`Y`: 1.1215 long and shallow, about 0.66 half-penny [-].

    Returns
    -------
    ndarray of float
        Time [s], the inputs' broadcast shape: zero if the crack runs at once, infinite below
        the threshold and in compression.

    Raises
    ------
    ValueError
        If `depth` or `geometry_factor` is not positive, or `stress` not finite.

    Notes
    -----
    The crack must stay shallow beside the thickness. Speed laws scatter by a factor of ten
    between sources, and so does the time.

    References
    ----------
    [Haldimann2006]

    Examples
    --------
    A flaw 100 µm deep under 10, 20 and 30 MPa, in seconds:

    >>> law = ENVIRONMENTS["design"]
    >>> seconds = time_to_failure([10e6, 20e6, 30e6], 100e-6, law)
    >>> [f"{number:.2g}" for number in seconds]
    ['inf', '61', '0.09']

    """
    of_type("law", law, GrowthLaw)
    pull = finite("stress", stress, "Pa")
    crack = positive("depth", depth, "m")
    factor = positive("geometry_factor", geometry_factor)
    share = np.asarray(factor * pull * np.sqrt(np.pi * crack) / law.toughness)
    creeps = share > law.threshold / law.toughness
    k = np.where(creeps, np.minimum(share, 1.0), 1.0)
    n = law.exponent
    life = 2 * crack / ((n - 2) * law.reference_speed) * k**-n * (1 - k ** (n - 2))
    return np.asarray(np.where(creeps, life, np.inf))


def sustained_stress(
    time: ArrayLike, depth: ArrayLike, law: GrowthLaw, geometry_factor: float = EDGE_CRACK
) -> FloatArray:
    r"""Return the steady tension that breaks a surface crack in a given time.

    The inverse of `time_to_failure`; never below the threshold, under which no time is enough.

    Parameters
    ----------
    time : array_like
        Time under load [s]; zero gives the strength without growth.
    depth : array_like
        Depth of the crack at the start [m].
    law : GrowthLaw
        How fast it creeps.
    geometry_factor : float
        Shape of the crack [-].

    Returns
    -------
    ndarray of float
        Tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `time` is negative, or `depth` or `geometry_factor` not positive.

    Notes
    -----
    As for `time_to_failure`: the time scatters by a factor of ten, the stress therefore by 15
    % at an exponent of 16.

    References
    ----------
    [Haldimann2006]

    Examples
    --------
    The same 100 µm flaw for an instant, a minute and a year, in MPa:

    >>> (sustained_stress([0, 60, 31557600], 100e-6, ENVIRONMENTS["design"]) / 1e6).round(1)
    array([37.7, 20. , 12.6])

    """
    of_type("law", law, GrowthLaw)
    crack = positive("depth", depth, "m")
    n = law.exponent
    wanted = non_negative("time", time, "s") * (n - 2) * law.reference_speed / (2 * crack)
    # Solve exp(n u) - exp(2 u) = wanted for u = -ln k: convex, so Newton's steps settle from
    # the right after the first.
    u = np.log1p(wanted) / n
    for _ in range(30):
        most, least = np.exp(n * u), np.exp(2 * u)
        u = u - (most - least - wanted) / (n * most - 2 * least)
    share = np.maximum(np.exp(-u), law.threshold / law.toughness)
    factor = positive("geometry_factor", geometry_factor)
    return np.asarray(share * law.toughness / (factor * np.sqrt(np.pi * crack)))


def quick_strength(
    slow: ArrayLike, pulse: ArrayLike, law: GrowthLaw = ENVIRONMENTS["design"]
) -> FloatArray:
    """Return what a flaw bears in a blow, from what it bears in a slow test.

    Parameters
    ----------
    slow : array_like
        Tension that breaks it in a test that pulls 2 MPa more every second [Pa].
    pulse : array_like
        How long a steady pull of the size of the blow's peak would let it creep as far [s];
        zero if it has no time to creep at all.
    law : GrowthLaw
        How fast it creeps; the design law is that of damp air.

    Returns
    -------
    ndarray of float
        Tension that breaks it in the blow [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `slow` is not positive or `pulse` negative.

    Notes
    -----
    The flaw's depth follows from its slow strength. The gain is the larger the smaller the
    flaw is, down to a few micrometres: it creeps through itself in a slow test.

    References
    ----------
    [Haldimann2006]; the rate is that of [EN1288].

    Examples
    --------
    Flaws that bear 40, 80 and 150 MPa slowly, in a blow of a tenth of a millisecond:

    >>> slow = np.array([40e6, 80e6, 150e6])
    >>> (quick_strength(slow, 1e-4) / slow).round(2)
    array([1.56, 1.76, 1.91])

    """
    of_type("law", law, GrowthLaw)
    return _swapped(positive("slow", slow, "Pa"), pulse, law, back=False)


def slow_strength(
    quick: ArrayLike, pulse: ArrayLike, law: GrowthLaw = ENVIRONMENTS["design"]
) -> FloatArray:
    """Return what a flaw bears in a slow test, from what it bears in a blow.

    Parameters
    ----------
    quick : array_like
        Tension that breaks it in the blow [Pa].
    pulse, law
        As for `quick_strength`.

    Returns
    -------
    ndarray of float
        Tension that breaks it in a test that pulls 2 MPa more every second [Pa].

    Raises
    ------
    ValueError
        If `quick` is not positive or `pulse` negative.

    Notes
    -----
    As for `quick_strength`: a power law of growth, and a flaw that stays open.

    References
    ----------
    [Haldimann2006] for the law.

    Examples
    --------
    There and back:

    >>> (slow_strength(quick_strength(50e6, 1e-4), 1e-4) / 1e6).round(3).item()
    50.0

    """
    of_type("law", law, GrowthLaw)
    return _swapped(positive("quick", quick, "Pa"), pulse, law, back=True)


def _swapped(strength: FloatArray, pulse: ArrayLike, law: GrowthLaw, back: bool) -> FloatArray:
    """Read slow strengths off quick ones or the reverse, pulse by pulse."""
    of_type("law", law, GrowthLaw)
    lasting = non_negative("pulse", pulse, "s")
    shape = np.broadcast_shapes(strength.shape, lasting.shape)
    # One row for each pulse, however many strengths it meets.
    own = lasting.reshape((1,) * (len(shape) - lasting.ndim) + lasting.shape)
    varies = [axis for axis, size in enumerate(own.shape) if size > 1]
    first = range(len(varies))
    moved = np.moveaxis(np.broadcast_to(np.log(strength), shape), varies, first)
    rows = moved.reshape(own.size, moved.size // own.size).copy()
    for length in np.unique(own):
        slow, gain = _gains(float(length), law)
        known = slow + gain if back else slow
        here = own.ravel() == length
        added = np.interp(rows[here], known, gain)
        rows[here] += -added if back else added
    found = np.moveaxis(rows.reshape(moved.shape), first, varies)
    return np.asarray(np.exp(np.ascontiguousarray(found).reshape(shape)))


@lru_cache(maxsize=1024)
def _gains(pulse: float, law: GrowthLaw) -> tuple[FloatArray, FloatArray]:
    """Return logarithms of slow strength, ascending, and of the gain of a blow."""
    slow = _slow_strengths(law)
    return np.log(slow), np.log(sustained_stress(pulse, _FLAWS, law) / slow)


_FLAWS = np.geomspace(1e-1, 1e-8, 400)  # depths of flaws, from weak to strong [m]


@lru_cache(maxsize=64)
def _slow_strengths(law: GrowthLaw) -> FloatArray:
    """Return what flaws of these depths bear in a slow test [Pa]."""
    rate = _TEST_RATE * (law.exponent + 1.0)
    slow = sustained_stress(1.0, _FLAWS, law)
    for _ in range(8):  # the time moves the strength by its sixteenth root: soon settled
        slow = sustained_stress(slow / rate, _FLAWS, law)
    return read_only(slow)[0]


def grow(
    stress_intensity: Callable[[FloatArray], FloatArray],
    depth: float,
    deepest: float,
    law: GrowthLaw,
) -> CrackHistory:
    r"""Follow a crack that creeps in any stress, from the stress intensity at each depth.

    .. math:: t(a) = \int_{a_0}^{a} \frac{da'}{v(K(a'))}

    Parameters
    ----------
    stress_intensity : callable
        Stress intensity [Pa sqrt(m)] at an array of depths [m], under the load and the
        residual stress together, such as
        ``lambda a: crack.stress_intensity(profile.with_tension(20e6), a, thickness)``.
    depth : float
        Depth at the start [m].
    deepest : float
        Where to stop looking, such as nine tenths of the thickness [m].
    law : GrowthLaw
        How fast the crack creeps.

    Returns
    -------
    CrackHistory
        Depths and the times at which they are reached, up to where the crack runs.

    Raises
    ------
    ValueError
        If a depth is not positive or `deepest` is not deeper than `depth`.

    Notes
    -----
    In a toughened pane whose net stress at the flaw is a compression the stress intensity is
    negative: every time is infinite, whatever the years. Once the load outweighs the
    compression the clock runs on the difference alone.

    References
    ----------
    [Haldimann2006] for the law; the integral is own method.

    Examples
    --------
    Even tension of 20 MPa on a 100 µm flaw, in seconds:

    >>> pull = lambda a: 1.1215 * 20e6 * np.sqrt(np.pi * a)
    >>> history = grow(pull, 100e-6, 2e-3, ENVIRONMENTS["design"])
    >>> round(history.time_to_failure, 1)
    61.3

    """
    of_type("law", law, GrowthLaw)
    start = positive("depth", depth, "m").item()
    end = positive("deepest", deepest, "m").item()
    require(end > start, "deepest", end, f"lie deeper than {start:g} m", "m")
    place = np.geomspace(start, end, _DEPTHS)
    intensity = np.asarray(stress_intensity(place), dtype=np.float64)
    runs = np.flatnonzero(intensity >= law.toughness)
    if runs.size and runs[0] == 0:
        return CrackHistory(depth=place[:1].copy(), time=np.zeros(1), breaks=True)
    if runs.size:
        place, intensity = _stop_at(place, intensity, runs[0].item(), law.toughness)
    speed = law.speed(intensity)
    stands = np.flatnonzero(speed == 0)
    moving = max(stands[0].item(), 1) if stands.size else speed.size
    time = np.full(place.shape, np.inf)
    time[0] = 0.0
    # In the logarithm of the depth, where the steps are even.
    slowness = place[:moving] / np.where(speed > 0, speed, 1.0)[:moving]
    time[1:moving] = cumulative_trapezoid(slowness, np.log(place[:moving]))
    return CrackHistory(depth=place, time=time, breaks=bool(runs.size and not stands.size))


def grow_in(
    stress: Stress,
    depth: float,
    law: GrowthLaw,
    glass: Elastic,
    thickness: float = np.inf,
) -> CrackHistory:
    """Follow a crack that creeps in residual stress and load, its faces free to touch.

    Parameters
    ----------
    stress : array_like, callable or StressProfile
        Stress on the line of the crack with the load added, such as
        ``profile.with_tension(20e6)`` [Pa].
    depth : float
        Depth at the start [m].
    law : GrowthLaw
        How fast the crack creeps.
    glass : Elastic
        Anything with Young's `modulus` [Pa] and `poisson` ratio [-].
    thickness : float
        Thickness of the plate [m]; infinite for a thick block. A profile brings its own.

    Returns
    -------
    CrackHistory
        Up to where the crack runs, or to a hundred times its depth or 0.6 of the thickness.

    Raises
    ------
    ValueError
        As for `glasskit.crack.open_crack`.

    Notes
    -----
    A flaw that lies in net compression never moves. One that reaches past the compressed skin
    may be opened by the core even while its mouth is shut, and then the clock runs.

    References
    ----------
    [Haldimann2006] for the law; see `open_crack` for the crack.

    Examples
    --------
    A 50 µm flaw in a 6 mm tempered pane, 100 MPa at its faces, under 60 and under 130 MPa:

    >>> from glasskit.materials import glass
    >>> from glasskit.stress import tempered
    >>> pane, law = tempered(100e6, 6e-3), ENVIRONMENTS["design"]
    >>> grow_in(pane.with_tension(60e6), 50e-6, law, glass("soda-lime")).time_to_failure
    inf
    >>> grow_in(pane.with_tension(130e6), 50e-6, law, glass("soda-lime")).time_to_failure
    2.1

    """
    of_type("law", law, GrowthLaw)
    size = stress.thickness if isinstance(stress, StressProfile) else thickness
    end = min(100 * positive("depth", depth, "m").item(), 0.599 * size)
    place = np.geomspace(depth, end, _OPEN_DEPTHS)
    opened = open_crack(stress, place, glass, thickness).stress_intensity
    return grow(lambda a: np.interp(np.log(a), np.log(place), opened), depth, end, law)


def _stop_at(
    place: FloatArray, intensity: FloatArray, first: int, toughness: float
) -> tuple[FloatArray, FloatArray]:
    """Cut both at the depth where the stress intensity just reaches the toughness."""
    below, above = intensity[first - 1], intensity[first]
    part = (toughness - below) / (above - below)
    last = place[first - 1] + part * (place[first] - place[first - 1])
    return np.append(place[:first], last), np.append(intensity[:first], toughness)
