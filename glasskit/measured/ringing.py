# SPDX-License-Identifier: MIT
r"""Turn the pitch of a tapped bar, rod, disc or pane into its stiffness, or its thickness.

Bars, rods and discs go by the formulas of impulse excitation [ASTME1876], with their
correction for length; discs and panes by thin-plate theory with free edges, solved here for
any Poisson's ratio and any sides [Leissa1973]. Each result carries a budget: how sure it is,
and which reading makes it so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise, product

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import eigh
from scipy.optimize import brentq
from scipy.special import ive, jv
from threadpoolctl import ThreadpoolController

from glasskit.crack import stress_intensity
from glasskit.impact import PaneMaterial
from glasskit.impact.falls import AIR_DENSITY
from glasskit.lab import Budget, Input, budget, from_tolerance
from glasskit.lab.budgets import Model
from glasskit.measured.listening import Peak, Ring
from glasskit.quantities import (
    FloatArray,
    having,
    in_range,
    non_negative,
    of_type,
    one_of,
    positive,
    read_only,
    require,
    whole,
)

SHAPES = ("bar", "rod", "disc", "pane")
"""What can be tapped: a bar or strip, a round rod, a round disc, a rectangular pane."""

_BLAS = ThreadpoolController()  # matrices of fifty rows gain nothing from more threads

_EDGE = 0.315
"""Of the thickness: as broad a strip along a free edge hardly resists twisting. Twice that is
the 0.63 of Saint-Venant's torsion of a thin bar (memory)."""

_HOPS = 15.0  # a pane on foam hops as a whole at up to this [Hz] (a judgement)
_ORDER = 12  # polynomials along each side
_RINGS = 6  # pitches of a free pane that are looked for


@dataclass(frozen=True, eq=False, kw_only=True)
class Tapped:
    """What was tapped, and how well it was measured.

    Attributes
    ----------
    shape : str
        One of `SHAPES`.
    length : float
        Length; of a disc its diameter [m].
    width : float
        Width of a bar, other side of a pane; of a rod its diameter [m].
    thickness : float
        Thickness of a bar, disc or pane [m].
    mass : float
        Mass [kg].
    size_tolerance, thickness_tolerance : float
        How far length and width, and thickness, may be off either way [m].
    mass_tolerance : float
        How far the mass may be off either way [kg].
    poisson : float
        Poisson's ratio of glass; taken as sure to 0.02 [-].

    """

    shape: str
    length: float
    width: float
    thickness: float
    mass: float
    size_tolerance: float = 0.5e-3
    thickness_tolerance: float = 0.02e-3
    mass_tolerance: float = 0.5e-3
    poisson: float = 0.22

    def __post_init__(self) -> None:
        one_of("shape", self.shape, SHAPES)
        for name, unit in (
            ("length", "m"),
            ("width", "m"),
            ("thickness", "m"),
            ("mass", "kg"),
        ):
            positive(name, getattr(self, name), unit)
        for name in ("size_tolerance", "thickness_tolerance", "mass_tolerance"):
            non_negative(name, getattr(self, name))
        in_range("poisson", self.poisson, 0.0, 0.45)
        thick = self.width if self.shape == "rod" else self.thickness
        slender = thick <= (0.2 if self.shape in ("bar", "rod") else 0.1) * self.length
        require(slender, "thickness", thick, "be far below length: a fifth, or a tenth", "m")


@dataclass(frozen=True, eq=False, kw_only=True)
class Rung:
    """Stiffness or thickness from the pitch of something tapped.

    Attributes
    ----------
    tapped : Tapped
        What was tapped.
    ring : Ring
        What was heard.
    peaks : tuple of int
        Numbers of the peaks used, from 1.
    glass : PaneMaterial or None
        The glass that was taken as known.
    frequencies : ndarray, shape (n,)
        Pitches used [Hz].
    factors : ndarray, shape (n,)
        Each pitch over the one that a modulus of 70 GPa gives [-].
    modulus : Budget
        Young's modulus with its budget [Pa].
    thickness : Budget or None
        Thickness that a known modulus would need [m]; None without one.
    friction : float
        Internal friction 1/Q, an upper limit for the glass [-].
    friction_error : float
        Its standard uncertainty [-].

    """

    tapped: Tapped
    ring: Ring
    peaks: tuple[int, ...]
    glass: PaneMaterial | None
    frequencies: FloatArray
    factors: FloatArray
    modulus: Budget
    thickness: Budget | None
    friction: float
    friction_error: float


def bar_modulus(
    frequency: ArrayLike,
    mass: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    poisson: ArrayLike = 0.22,
) -> FloatArray:
    r"""Return Young's modulus of a rectangular bar from its lowest bending pitch.

    .. math:: E = 0.9465\,\frac{m f^2}{b}\,\frac{L^3}{t^3}\,T_1

    Parameters
    ----------
    frequency : array_like
        Lowest bending frequency with both ends free [Hz].
    mass : array_like
        Mass [kg].
    length, width, thickness : array_like
        Sizes; the bar swings along its thickness [m].
    poisson : array_like
        Poisson's ratio [-].

    Returns
    -------
    ndarray
        Young's modulus [Pa], broadcast.

    Raises
    ------
    ValueError
        If a number is not finite and positive, or the ratio not within 0 to 0.5.

    Notes
    -----
    See `bar_correction` for T1. A strip wider than a third of its length is rather a pane.

    References
    ----------
    [ASTME1876], equations for flexure; the constants as open programs give them.

    Examples
    --------
    A strip of window glass, 300 by 30 by 6 mm, 135 g, that rings at 358 Hz, in GPa:

    >>> round(bar_modulus(358.0, 0.135, 0.3, 0.03, 6e-3).item() / 1e9, 1)
    68.4

    """
    long, thick = positive("length", length, "m"), positive("thickness", thickness, "m")
    pitch, heavy = positive("frequency", frequency, "Hz"), positive("mass", mass, "kg")
    slim = 0.9465 * heavy * pitch**2 / positive("width", width, "m") * (long / thick) ** 3
    return np.asarray(slim * bar_correction(thick / long, poisson))


def bar_correction(slenderness: ArrayLike, poisson: ArrayLike = 0.22) -> FloatArray:
    r"""Return T1: by how much a stout bar is stiffer than its pitch says for a thin one.

    Parameters
    ----------
    slenderness : array_like
        Thickness over length [-].
    poisson : array_like
        Poisson's ratio [-].

    Returns
    -------
    ndarray
        T1 [-], broadcast: 1 for a thin bar.

    Raises
    ------
    ValueError
        If the slenderness is not within 0 to 0.35 or the ratio not within 0 to 0.5.

    Notes
    -----
    Shear and turning of the sections; a fit to Pickett's theory.

    References
    ----------
    [ASTME1876]

    Examples
    --------
    >>> bar_correction([0.02, 0.1]).round(4)
    array([1.0028, 1.0685])

    """
    ratio, nu = _slender(slenderness, poisson)
    linear = 6.585 * (1.0 + 0.0752 * nu + 0.8109 * nu**2) * ratio**2 - 0.868 * ratio**4
    above = 8.340 * (1.0 + 0.2023 * nu + 2.173 * nu**2) * ratio**4
    below = 1.0 + 6.338 * (1.0 + 0.1408 * nu + 1.536 * nu**2) * ratio**2
    return np.asarray(1.0 + linear - above / below)


def rod_modulus(
    frequency: ArrayLike,
    mass: ArrayLike,
    length: ArrayLike,
    diameter: ArrayLike,
    poisson: ArrayLike = 0.22,
) -> FloatArray:
    r"""Return Young's modulus of a round rod from its lowest bending pitch.

    .. math:: E = 1.6067\,\frac{L^3}{D^4}\,m f^2\,T_1'

    Parameters
    ----------
    frequency : array_like
        Lowest bending frequency with both ends free [Hz].
    mass : array_like
        Mass [kg].
    length, diameter : array_like
        Sizes [m].
    poisson : array_like
        Poisson's ratio [-].

    Returns
    -------
    ndarray
        Young's modulus [Pa], broadcast.

    Raises
    ------
    ValueError
        If a number is not finite and positive, the rod is stouter than a third, or the ratio
        not within 0 to 0.5.

    Notes
    -----
    As for a bar, with the correction of a round section.

    References
    ----------
    [ASTME1876], from memory.

    Examples
    --------
    A stirring rod, 250 mm long and 8 mm thick, 31.4 g, that rings at 600 Hz, in GPa:

    >>> round(rod_modulus(600.0, 0.0314, 0.25, 8e-3).item() / 1e9, 1)
    69.7

    """
    long, thick = positive("length", length, "m"), positive("diameter", diameter, "m")
    pitch, heavy = positive("frequency", frequency, "Hz"), positive("mass", mass, "kg")
    ratio, nu = _slender(thick / long, poisson)
    linear = 4.939 * (1.0 + 0.0752 * nu + 0.8109 * nu**2) * ratio**2 - 0.4883 * ratio**4
    above = 4.691 * (1.0 + 0.2023 * nu + 2.173 * nu**2) * ratio**4
    below = 1.0 + 4.754 * (1.0 + 0.1408 * nu + 1.536 * nu**2) * ratio**2
    corrected = 1.0 + linear - above / below
    return np.asarray(1.6067 * long**3 / thick**4 * heavy * pitch**2 * corrected)


def free_disc_factors(poisson: float = 0.22, slenderness: float = 0.0) -> FloatArray:
    r"""Return the two lowest factors of a free round disc.

    .. math:: \lambda = \omega r^2 \sqrt{\rho h/D}

    Parameters
    ----------
    poisson : float
        Poisson's ratio [-].
    slenderness : float
        Thickness over radius [-].

    Returns
    -------
    ndarray, shape (2,)
        Of two nodal diameters, and of one nodal circle [-].

    Raises
    ------
    ValueError
        If `poisson` is not within 0 to 0.45 or `slenderness` not within 0 to 0.2.

    Notes
    -----
    Exact for thin plates (roots of Bessel functions). For the first the strip along the edge
    that hardly resists twisting is taken off, and the turning of the sections put on, both to
    first order.

    References
    ----------
    [Leissa1969]

    Examples
    --------
    >>> free_disc_factors(0.33).round(3)
    array([5.262, 9.069])

    """
    nu = in_range("poisson", poisson, 0.0, 0.45).item()
    thin = in_range("slenderness", slenderness, 0.0, 0.2).item()
    saddle, circle = _disc_root(2, nu), _disc_root(0, nu)
    # Shape close to r^2 cos 2 theta: mean square twist 2 along the edge, pi/6 over the disc.
    twist = 48.0 * (1.0 - nu) * _EDGE * thin
    first = np.sqrt((saddle**4 - twist) / (1.0 + thin**2))
    return np.array([first, circle**2 / np.sqrt(1.0 + (thin * circle) ** 2 / 3.0)])


def free_pane_factors(
    aspect: float = 1.0, poisson: float = 0.22, slenderness: float = 0.0
) -> FloatArray:
    r"""Return the lowest factors of a rectangular pane with free edges.

    .. math:: \lambda = \omega a^2 \sqrt{\rho h/D}

    Parameters
    ----------
    aspect : float
        Side a over the other side [-].
    poisson : float
        Poisson's ratio [-].
    slenderness : float
        Thickness over side a; 0 for the thin plate of the tables [-].

    Returns
    -------
    ndarray, shape (6,)
        Factors in rising order, without those of the pane that moves as a whole [-].

    Raises
    ------
    ValueError
        If `aspect` is not within 0.2 to 5, `poisson` within 0 to 0.45 or `slenderness` within
        0 to 0.1.

    Notes
    -----
    Ritz's method with products of Legendre polynomials, good to 0.01 % for a square. With a
    thickness, the strip along each edge that hardly resists twisting is taken off to first
    order.

    References
    ----------
    [Leissa1973] for the tables; the method is Ritz's.

    Examples
    --------
    >>> free_pane_factors(1.0, 0.3).round(2)
    array([13.47, 19.6 , 24.27, 34.8 , 34.8 , 61.09])

    """
    ratio = in_range("aspect", aspect, 0.2, 5.0).item()
    nu = in_range("poisson", poisson, 0.0, 0.45).item()
    thin = in_range("slenderness", slenderness, 0.0, 0.1).item()
    squares, lost = _pane_squares(round(ratio, 9), round(nu, 9))
    return np.asarray(np.sqrt(squares - thin * lost))


@cache
def _pane_squares(ratio: float, nu: float) -> tuple[FloatArray, FloatArray]:
    """Return squared factors of a thin pane and what each loses per slenderness.

    Sides are 1 and 1/ratio, coordinates run from -1 to 1. Shapes even and odd along either
    side do not mix.
    """
    other = 1.0 / ratio
    along, across, area = 2.0, 2.0 * ratio, other / 4.0
    twist = 2.0 * (1.0 - nu) * (along * across) ** 2
    found = []
    for one, two in product((0, 1), repeat=2):
        mass, slope, bend, mixed, edges = (part[one::2, one::2] for part in _sides())
        mass2, slope2, bend2, mixed2, edges2 = (part[two::2, two::2] for part in _sides())
        stiff = along**4 * np.kron(bend, mass2) + across**4 * np.kron(mass, bend2)
        crossed = np.kron(mixed, mixed2.T) + np.kron(mixed.T, mixed2)
        stiff += nu * (along * across) ** 2 * crossed + twist * np.kron(slope, slope2)
        strips = (0.5 * np.kron(slope, edges2) + 0.5 * other * np.kron(edges, slope2)) / area
        with _BLAS.limit(limits=1):
            squares, shapes = eigh(stiff, np.kron(mass, mass2))
        # To first order: as part of the energy the strips would ask for ever finer shapes.
        lost = twist * _EDGE * np.einsum("ij,ij->j", shapes, strips @ shapes)
        rigid = one + two < 2
        found += list(zip(squares[rigid:], lost[rigid:], strict=True))
    lowest = np.array(sorted(found)[:_RINGS]).T
    return read_only(lowest[0])[0], read_only(lowest[1])[0]


@cache
def _sides() -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Return integrals of Legendre polynomials and their slopes, and slopes at the ends."""
    legendre = np.polynomial.legendre
    place, weight = legendre.leggauss(_ORDER + 2)
    one = np.eye(_ORDER + 1)
    shape, first, second = (
        np.stack([legendre.legval(place, legendre.legder(row, order)) for row in one])
        for order in (0, 1, 2)
    )
    ends = np.stack([legendre.legval([-1.0, 1.0], legendre.legder(row)) for row in one])
    return (
        (shape * weight) @ shape.T,
        (first * weight) @ first.T,
        (second * weight) @ second.T,
        (second * weight) @ shape.T,
        ends @ ends.T,
    )


@cache
def _disc_root(diameters: int, nu: float) -> float:
    """Return the lowest root of a free thin disc with so many nodal diameters."""

    def unbalanced(root: float) -> float:
        rows = []
        for sign in (1.0, -1.0):  # J solves with the one sign, I with the other
            near, here, far = (
                jv(order, root) if sign > 0 else ive(order, root)
                for order in (diameters - 1, diameters, diameters + 1)
            )
            steep = 0.5 * (near - sign * far)
            turn = root**2 * (-steep / root - (sign - diameters**2 / root**2) * here)
            moment = turn + nu * (root * steep - diameters**2 * here)
            shear = (1.0 - nu) * diameters**2 * (here - root * steep) - sign * root**3 * steep
            rows.append((moment, shear))
        (one, two), (three, four) = rows
        return float(one * four - two * three)

    trial = np.linspace(1.0, 4.5, 141)
    values = [unbalanced(root) for root in trial]
    start, end = next(
        pair
        for pair, (left, right) in zip(pairwise(trial), pairwise(values), strict=True)
        if left * right < 0.0
    )
    return float(brentq(unbalanced, start, end, xtol=1e-13))


def expected_pitches(tapped: Tapped, modulus: float = 70e9) -> FloatArray:
    """Return the lowest bending pitches of something with free edges.

    Parameters
    ----------
    tapped : Tapped
        What it is.
    modulus : float
        Young's modulus [Pa].

    Returns
    -------
    ndarray
        Frequencies in rising order [Hz]: one of a bar or rod, two of a disc, six of a pane.

    Raises
    ------
    ValueError
        If `modulus` is not finite and positive.

    Notes
    -----
    The formulas of `bar_modulus`, `rod_modulus` and of thin plates, without the air.

    References
    ----------
    [ASTME1876]; [Leissa1973]

    Examples
    --------
    A pane of 300 by 300 by 4 mm:

    >>> pane = Tapped(shape="pane", length=0.3, width=0.3, thickness=4e-3, mass=0.9)
    >>> expected_pitches(pane).round()
    array([156., 226., 264., 397., 397., 680.])

    """
    of_type("tapped", tapped, Tapped)
    stiff = positive("modulus", modulus, "Pa").item()
    known = {name: np.asarray(getattr(tapped, name)) for name in _SIZES[tapped.shape]}
    pitches = np.ones(_COUNT[tapped.shape])
    each = _moduli(tapped.shape, pitches, **known, poisson=np.asarray(tapped.poisson))
    return np.asarray(np.sqrt(stiff / each))


def crack_drop(depth: ArrayLike, thickness: float, length: float) -> FloatArray:
    r"""Return the share by which a crack across the middle lowers a bar's lowest pitch.

    Parameters
    ----------
    depth : array_like
        Depth of a crack that runs across the whole width and stays open [m].
    thickness, length : float
        Of the bar [m].

    Returns
    -------
    ndarray
        Share of the pitch that is lost [-], the shape of `depth`.

    Raises
    ------
    ValueError
        If a size is not positive, or the crack deeper than 0.6 of the thickness.

    Notes
    -----
    To first order: the energy that the crack sets free in bending, by its stress intensity,
    against the bending energy of the swing. A crack that is squeezed shut, shorter than the
    width or off the middle lowers it less.

    References
    ----------
    Griffith's energy balance; stress intensity of `glasskit.crack`.

    Examples
    --------
    Cracks of 60 µm and 3 mm in a strip 6 mm thick and 300 mm long:

    >>> [f"{drop:.1g}" for drop in crack_drop([60e-6, 3e-3], 6e-3, 0.3)]
    ['3e-05', '0.1']

    """
    size = np.atleast_1d(positive("depth", depth, "m"))
    thick, long = positive("thickness", thickness, "m"), positive("length", length, "m")
    require(size <= 0.6 * thick, "depth", size, "be at most 0.6 of the thickness", "m")
    steps = np.linspace(0.0, 1.0, 61)[1:] - 0.5 / 60
    cracks = size[..., None] * steps
    half = 0.5 * thick.item()
    factors = stress_intensity(
        lambda place: 1.0 - np.asarray(place) / half, cracks.ravel(), thick.item()
    ).reshape(cracks.shape)
    # Energy set free per width: K^2/E' at a bending stress of 1; the swing keeps 0.397 of the
    # energy that its largest moment would store along the whole length.
    freed = np.square(factors).mean(-1) * size
    kept = 0.397 * long.item() * thick.item() / 6.0
    return np.asarray(0.5 * freed / kept).reshape(np.shape(depth))


_SIZES = {
    "bar": ("mass", "length", "width", "thickness"),
    "rod": ("mass", "length", "width"),
    "disc": ("mass", "length", "thickness"),
    "pane": ("mass", "length", "width", "thickness"),
}
_COUNT = {"bar": 1, "rod": 1, "disc": 2, "pane": _RINGS}


def _moduli(shape: str, pitches: FloatArray, **known: FloatArray) -> FloatArray:
    """Return the modulus that each pitch says; of a plate in the order of its modes."""
    nu = known["poisson"]
    if shape == "bar":
        mass, length = known["mass"], known["length"]
        return bar_modulus(pitches, mass, length, known["width"], known["thickness"], nu)
    if shape == "rod":
        return rod_modulus(pitches, known["mass"], known["length"], known["width"], nu)
    side, thick = known["length"].item(), known["thickness"].item()
    if shape == "disc":
        side /= 2.0
        area = np.pi * side**2
        factors = free_disc_factors(nu.item(), thick / side)
    else:
        area = side * known["width"].item()
        ratio = side / known["width"].item()
        factors = free_pane_factors(ratio, nu.item(), thick / side)
    rigidity = np.square(2 * np.pi * pitches * side**2 / factors) * known["mass"] / area
    return np.asarray(12.0 * (1.0 - nu**2) * rigidity / thick**3)


def likely_peaks(tapped: Tapped, ring: Ring) -> tuple[int, ...]:
    """Return which peaks of a recording are likely the lowest pitches of what was tapped.

    Parameters
    ----------
    tapped : Tapped
        What was tapped.
    ring : Ring
        What rang.

    Returns
    -------
    tuple of int
        Numbers of the peaks, counted from 1, in rising order; of a bar, rod or disc one.

    Raises
    ------
    ValueError
        If no peak lies where such a thing could ring.

    Notes
    -----
    The strongest peak within a sixth of the pitch that 70 GPa leads to expect; of a pane the
    peaks whose ratios fit those of a free pane best. The expectation chooses among peaks, it
    moves none.

    References
    ----------
    Own method.

    Examples
    --------
    >>> from glasskit.measured.listening import hear_ring
    >>> from glasskit.measured.invented_sounds import ringing_sound
    >>> strip = Tapped(shape="bar", length=0.3, width=0.03, thickness=6e-3, mass=0.135)
    >>> sound = ringing_sound([366.0, 1008.0], [6.0, 20.0], [1.0, 1.0],
    ...                       np.random.default_rng(1))
    >>> likely_peaks(strip, hear_ring(sound))
    (1,)

    """
    of_type("ring", ring, Ring)
    pitches = np.array([peak.frequency for peak in ring.peaks])
    strengths = np.array([_loudness(ring, pitch) for pitch in pitches])
    wanted = expected_pitches(tapped, 70e9)
    if tapped.shape != "pane":
        near = np.abs(np.log(pitches / wanted[0])) < 1.0 / 6.0
        if not near.any():
            closest = pitches[np.argmin(np.abs(np.log(pitches / wanted[0])))]
            raise ValueError(
                f"ring must hold a pitch near {wanted[0]:.0f} Hz, where this {tapped.shape} "
                f"should ring; got {closest:.0f} Hz as the nearest: check the sizes, "
                "or choose a peak by its number"
            )
        return (int(np.flatnonzero(near)[np.argmax(strengths[near])]) + 1,)
    chosen = _matched(pitches, strengths, wanted)
    if len(chosen) < 2:
        raise ValueError(
            f"ring must hold two or more pitches of a free pane, from {wanted[0]:.0f} Hz up; "
            "got none that fit together: check the sizes, or choose peaks by their numbers"
        )
    return chosen


def rung(
    tapped: Tapped,
    ring: Ring,
    peaks: Sequence[int],
    glass: PaneMaterial | None = None,
) -> Rung:
    """Return the stiffness, and the thickness, that chosen peaks say.

    Parameters
    ----------
    tapped : Tapped
        What was tapped.
    ring : Ring
        What rang.
    peaks : sequence of int
        Numbers of the peaks, counted from 1; of a pane one or more of its six lowest pitches.
    glass : PaneMaterial, optional
        A known glass: the thickness follows too.

    Returns
    -------
    Rung
        Modulus with its budget, thickness of a known glass, internal friction.

    Raises
    ------
    ValueError
        If a number of a peak is unknown, or two peaks of a pane would be the same pitch.

    Notes
    -----
    In the budget stand the readings, Poisson's ratio, the air that swings with it (up to a
    moving strip's or plate's own, half of that taken off) and what it lies on (foam lifts the
    pitch of a pane that hops at up to 15 Hz; both our judgement). What the thickness of a
    known glass rests on is its modulus, taken as sure to 3 %, and its density, to 1 %.

    References
    ----------
    [ASTME1876]; [Leissa1973]; [GUM]

    Examples
    --------
    >>> from glasskit.measured.listening import hear_ring
    >>> from glasskit.measured.invented_sounds import ringing_sound
    >>> strip = Tapped(shape="bar", length=0.3, width=0.03, thickness=6e-3, mass=0.135)
    >>> sound = ringing_sound([366.0, 1008.0], [6.0, 20.0], [1.0, 1.0],
    ...                       np.random.default_rng(1))
    >>> found = rung(strip, hear_ring(sound), [1])
    >>> round(found.modulus.value.item() / 1e9, 1)
    71.6

    """
    of_type("tapped", tapped, Tapped)
    of_type("ring", ring, Ring)
    numbers = sorted({whole("peaks", number, 1, len(ring.peaks)) for number in peaks})
    require(len(numbers) >= 1, "peaks", len(numbers), "name one peak or more; their count")
    chosen = [ring.peaks[number - 1] for number in numbers]
    pitches = np.array([peak.frequency for peak in chosen])
    modes = _modes(tapped, pitches)
    inputs = _inputs(tapped, chosen, modes)
    first = chosen[0]
    thickness = None
    if glass is not None:
        having("glass", glass, "modulus", "poisson", "density", "plane_strain_modulus")
        thickness = budget(_thickness_model(tapped, modes), _known(glass, inputs))
    return Rung(
        tapped=tapped,
        ring=ring,
        peaks=tuple(numbers),
        glass=glass,
        frequencies=read_only(pitches)[0],
        factors=read_only(pitches / expected_pitches(tapped)[modes])[0],
        modulus=budget(_modulus_model(tapped, modes), inputs),
        thickness=thickness,
        friction=first.friction,
        friction_error=first.friction * first.decay_error / first.decay,
    )


def _loudness(ring: Ring, pitch: float) -> float:
    near = np.abs(ring.frequency - pitch) <= 3.0
    return float(ring.level[near].max()) if near.any() else -100.0


def _matched(
    pitches: FloatArray, strengths: FloatArray, wanted: FloatArray
) -> tuple[int, ...]:
    """Return the numbers of peaks whose ratios fit a free pane best."""
    best: tuple[float, tuple[int, ...]] = (0.0, ())
    distinct = wanted[np.r_[True, np.diff(wanted) > 0.01 * wanted[0]]][:4]
    for scale in np.geomspace(0.84, 1.2, 241):
        off = np.abs(np.log(pitches[:, None] / (scale * distinct)))
        fits = off < 0.015
        worth, taken = 0.0, set()
        for mode in range(distinct.size):
            able = np.flatnonzero(fits[:, mode])
            if able.size:
                place = able[np.argmax(strengths[able])]
                taken.add(int(place) + 1)
                worth += 1.0 - off[place, mode] / 0.03 + 0.005 * max(strengths[place], -40.0)
        if worth > best[0]:
            best = worth, tuple(sorted(taken))
    return best[1]


def _modes(tapped: Tapped, pitches: FloatArray) -> list[int]:
    """Return to which of its lowest pitches each peak belongs."""
    wanted = expected_pitches(tapped)
    if tapped.shape != "pane":
        require(pitches.size == 1, "peaks", pitches.size, "name one peak; their count")
        return [0]
    best: tuple[float, list[int]] = (np.inf, [])
    for first in range(wanted.size - pitches.size + 1):
        scaled = wanted * pitches[0] / wanted[first]
        modes = [int(np.argmin(np.abs(np.log(pitch / scaled)))) for pitch in pitches]
        off = float(np.square(np.log(pitches / scaled[modes])).mean())
        off += 0.03 * np.log(pitches[0] / wanted[first]) ** 2
        if len(set(modes)) == len(modes) and off < best[0]:
            best = off, modes
    if not best[1]:
        raise ValueError("peaks must be different pitches of the pane, got two for the same")
    return best[1]


def _inputs(tapped: Tapped, chosen: list[Peak], modes: list[int]) -> dict[str, Input]:
    """Return what the modulus depends on, with how sure each is."""
    inputs = {
        f"pitch {number}": Input(
            value=np.asarray(p.frequency), uncertainty=np.asarray(p.error)
        )
        for number, p in enumerate(chosen, 1)
    }
    tolerances = {
        "mass": tapped.mass_tolerance,
        "length": tapped.size_tolerance,
        "width": tapped.size_tolerance,
        "thickness": tapped.thickness_tolerance,
    }
    for name in _SIZES[tapped.shape]:
        inputs[name] = from_tolerance(getattr(tapped, name), tolerances[name])
    if tapped.shape == "rod":
        inputs["width"] = from_tolerance(tapped.width, tapped.thickness_tolerance)
    inputs["poisson"] = from_tolerance(tapped.poisson, 0.02)
    air = 0.5 * _air(tapped, modes[0])
    inputs["air"] = from_tolerance(air, air)
    lifted = 0.0
    if tapped.shape in ("disc", "pane"):
        lifted = min(0.5 * (_HOPS / chosen[0].frequency) ** 2, 0.05)
    inputs["support"] = from_tolerance(0.5 * lifted, 0.5 * lifted + 1e-3)
    return inputs


def _air(tapped: Tapped, mode: int) -> float:
    """Return the air that swings along at most, over the mass [-]."""
    if tapped.shape == "rod":
        volume = np.pi / 4.0 * tapped.width**2 * tapped.length
        return float(AIR_DENSITY * volume / tapped.mass)
    if tapped.shape == "bar":
        beside = np.pi / 4.0 * tapped.width**2 * tapped.length
        return float(AIR_DENSITY * beside / tapped.mass)
    if tapped.shape == "disc":
        radius = 0.5 * tapped.length
        area, waves = np.pi * radius**2, np.sqrt(free_disc_factors(tapped.poisson)[0]) / radius
    else:
        factors = free_pane_factors(tapped.length / tapped.width, tapped.poisson)
        area, waves = tapped.length * tapped.width, np.sqrt(factors[mode]) / tapped.length
    return float(2.0 * AIR_DENSITY / waves * area / tapped.mass)


def _modulus_model(tapped: Tapped, modes: list[int]) -> Model:
    def model(**read: FloatArray) -> FloatArray:
        pitches = np.array([float(read[f"pitch {n}"]) for n in range(1, len(modes) + 1)])
        all_pitches = np.ones(_COUNT[tapped.shape])
        all_pitches[modes] = pitches * (1.0 - float(read["support"]))
        known = {name: read[name] for name in (*_SIZES[tapped.shape], "poisson")}
        known["mass"] = known["mass"] * (1.0 + read["air"])
        each = _moduli(tapped.shape, all_pitches, **known)
        return np.asarray(np.exp(np.log(each[modes]).mean()))

    return model


def _known(glass: PaneMaterial, inputs: Mapping[str, Input]) -> dict[str, Input]:
    """Return what the thickness of a known glass depends on: its stuff, not its mass."""
    kept = {name: item for name, item in inputs.items() if name not in ("mass", "thickness")}
    kept["modulus"] = from_tolerance(glass.modulus, 0.03 * glass.modulus)
    kept["density"] = from_tolerance(glass.density, 0.01 * glass.density)
    return kept


def _thickness_model(tapped: Tapped, modes: list[int]) -> Model:
    """Return the model of the thickness (of a rod its diameter) of a known glass."""
    name = "width" if tapped.shape == "rod" else "thickness"
    modulus = _modulus_model(tapped, modes)

    def model(**read: FloatArray) -> FloatArray:
        thick = np.asarray(getattr(tapped, name))
        for _ in range(12):  # the modulus that a thickness says falls with its square
            sizes = {**read, name: thick}
            sizes["mass"] = read["density"] * _volume(tapped.shape, **sizes)
            said = modulus(**sizes)
            thick = thick * np.sqrt(said / read["modulus"])
        return np.asarray(thick)

    return model


def _volume(shape: str, **read: FloatArray) -> FloatArray:
    if shape == "rod":
        return np.asarray(np.pi / 4.0 * read["width"] ** 2 * read["length"])
    if shape == "disc":
        return np.asarray(np.pi / 4.0 * read["length"] ** 2 * read["thickness"])
    return np.asarray(read["length"] * read["width"] * read["thickness"])


def _slender(slenderness: ArrayLike, poisson: ArrayLike) -> tuple[FloatArray, FloatArray]:
    ratio = in_range("slenderness", slenderness, 0.0, 0.35)
    return ratio, in_range("poisson", poisson, 0.0, 0.5)
