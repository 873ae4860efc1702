# SPDX-License-Identifier: MIT
"""Cracks that start at a surface: what pulls them open, and when they run.

Signs: tension positive; depth from the face inwards; the crack lies square to the face and to
the stress, and is long compared with its depth (`semi_elliptical_intensity` apart).

Adding stresses alone says that a crack whose mouth lies in strong compression has a negative
stress intensity K, hence is shut. It is not: its faces press on each other near the mouth, and
they hold the tip open. Faces may touch, never overlap; `open_crack` solves that problem.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import solve_triangular
from scipy.optimize import brentq, nnls

from glasskit import weight
from glasskit.quantities import FloatArray, finite, in_range, positive, require
from glasskit.stress import Elastic, StressProfile

__all__ = [
    "EDGE_CRACK",
    "OpenCrack",
    "Stress",
    "breaking_stress",
    "energy_strength",
    "griffith_depth",
    "griffith_strength",
    "open_crack",
    "semi_elliptical_intensity",
    "stress_intensity",
    "theoretical_strength",
]

EDGE_CRACK = 1.1215  # K/(stress sqrt(pi depth)), shallow straight crack: Koiter 1965
Stress = ArrayLike | Callable[[FloatArray], FloatArray] | StressProfile

_ROOTS, _ROOT_WEIGHTS = np.polynomial.legendre.leggauss(64)
_ROOTS, _ROOT_WEIGHTS = (_ROOTS + 1) / 2, _ROOT_WEIGHTS / 2


# --- Griffith -------------------------------------------------------------------------------


def griffith_strength(
    depth: ArrayLike, toughness: ArrayLike, geometry_factor: ArrayLike = EDGE_CRACK
) -> FloatArray:
    r"""Return the tension at which a crack runs in glass without residual stress.

    .. math:: \sigma = \frac{K_{Ic}}{Y \sqrt{\pi a}}

    Parameters
    ----------
    depth : array_like
        Depth of the crack :math:`a` [m].
    toughness : array_like
        Fracture toughness :math:`K_{Ic}` [Pa m^0.5].
    geometry_factor : array_like
        :math:`Y`, 1.1215 for a long shallow crack, about 0.66 for a half-disc [-].

    Returns
    -------
    ndarray of float
        Uniform tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Fast loading; under a load that lasts, humid air lets the crack creep at much less.
    Below a depth of some nanometres the glass is not a continuum and the formula overstates.

    References
    ----------
    .. [1] [Griffith1921]; [Irwin1957] for the form with K.

    Examples
    --------
    A scratch 20 µm deep in window glass:

    >>> griffith_strength(20e-6, 0.75e6).item() / 1e6
    84.4

    """
    size = positive("depth", depth, "m")
    limit = positive("toughness", toughness, "Pa m^0.5")
    factor = positive("geometry_factor", geometry_factor)
    return np.asarray(limit / (factor * np.sqrt(np.pi * size)))


def griffith_depth(
    strength: ArrayLike, toughness: ArrayLike, geometry_factor: ArrayLike = EDGE_CRACK
) -> FloatArray:
    r"""Return the depth of the crack that explains a strength.

    The inverse of `griffith_strength`: :math:`a = (K_{Ic}/(Y\sigma))^2/\pi`.

    Parameters
    ----------
    strength : array_like
        Tension at which the glass broke [Pa].
    toughness, geometry_factor : array_like
        As for `griffith_strength`.

    Returns
    -------
    ndarray of float
        Depth [m]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Examples
    --------
    >>> griffith_depth(45e6, 0.75e6).item() * 1e6
    70.3

    """
    tension = positive("strength", strength, "Pa")
    limit = positive("toughness", toughness, "Pa m^0.5")
    factor = positive("geometry_factor", geometry_factor)
    return np.asarray((limit / (factor * tension)) ** 2 / np.pi)


def energy_strength(
    half_length: ArrayLike, surface_energy: ArrayLike, modulus: ArrayLike
) -> FloatArray:
    r"""Return the tension at which a crack inside a thin sheet runs, from energy alone.

    .. math:: \sigma = \sqrt{\frac{2 E \gamma}{\pi a}}

    Parameters
    ----------
    half_length : array_like
        Half the length of the through crack :math:`a` [m].
    surface_energy : array_like
        Energy for each square metre of new surface :math:`\gamma` [J/m^2].
    modulus : array_like
        Young's modulus :math:`E` [Pa].

    Returns
    -------
    ndarray of float
        Uniform tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Plane stress. With the thermodynamic surface energy (about 0.3 J/m^2) it falls short of
    measured strengths; the fracture surface energy (about 4 J/m^2) includes all that the
    running crack spends.

    References
    ----------
    .. [1] [Griffith1921].

    Examples
    --------
    >>> energy_strength(0.4e-3, 0.3, 69e9).item() / 1e6
    5.74

    """
    size = positive("half_length", half_length, "m")
    cost = positive("surface_energy", surface_energy, "J/m^2")
    stiffness = positive("modulus", modulus, "Pa")
    return np.asarray(np.sqrt(2 * stiffness * cost / (np.pi * size)))


def theoretical_strength(
    modulus: ArrayLike, surface_energy: ArrayLike, spacing: ArrayLike
) -> FloatArray:
    r"""Return the tension that parts atoms all at once, in glass without a flaw.

    .. math:: \sigma = \sqrt{E \gamma / a_0}

    Parameters
    ----------
    modulus : array_like
        Young's modulus :math:`E` [Pa].
    surface_energy : array_like
        Energy for each square metre of new surface :math:`\gamma` [J/m^2].
    spacing : array_like
        Distance between neighbouring atoms :math:`a_0`, 0.16 nm for silicon and oxygen [m].

    Returns
    -------
    ndarray of float
        Strength [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    An estimate to within a factor of two or three: 15 to 41 GPa for the surface energies in
    use, against 10 to 14 GPa measured on pristine fibres.

    References
    ----------
    .. [1] [Orowan1949].

    Examples
    --------
    >>> theoretical_strength(70e9, 0.5, 0.16e-9).item() / 1e9
    14.8

    """
    stiffness = positive("modulus", modulus, "Pa")
    cost = positive("surface_energy", surface_energy, "J/m^2")
    gap = positive("spacing", spacing, "m")
    return np.asarray(np.sqrt(stiffness * cost / gap))


# --- stress intensity -----------------------------------------------------------------------


def stress_intensity(
    stress: Stress, depth: ArrayLike, thickness: float = np.inf
) -> FloatArray:
    r"""Return the stress intensity of a surface crack whose faces are free to overlap.

    .. math:: K = \int_0^a \sigma(x)\,m(x, a)\,dx

    Parameters
    ----------
    stress : array_like, callable or StressProfile
        Stress on the line of the crack, tension positive [Pa]: a number, or a function that
        takes an array of depths [m].
    depth : array_like
        Depth of the crack :math:`a` [m].
    thickness : float
        Thickness of the plate [m]; infinite for a thick block. A profile brings its own.

    Returns
    -------
    ndarray of float
        Stress intensity [Pa m^0.5]; the shape of `depth`, broadcast with a number `stress`.

    Raises
    ------
    ValueError
        If `depth` or `thickness` is not positive, a number `stress` is not finite, or the
        crack is deeper than 0.6 of the thickness.

    Notes
    -----
    The textbook superposition. Where it comes out negative, or where the mouth is in
    compression, ask `open_crack`. Within 0.4 % in a half-plane and 1 % in a plate for stresses
    that vary smoothly over the crack; 64 Gauss points resolve a skin down to about 1/100 of
    the crack. The ends of the plate are free to rotate.

    References
    ----------
    .. [1] Weight function: see `glasskit.weight`.

    Examples
    --------
    A 20 µm scratch under 100 MPa, in plain glass and in a tempered 6 mm pane:

    >>> from glasskit.stress import tempered
    >>> stress_intensity(100e6, 20e-6).item() / 1e6
    0.889
    >>> stress_intensity(tempered(100e6, 6e-3), 20e-6).item() / 1e6
    -0.877

    """
    size, ratio = _crack(stress, depth, thickness)
    if not callable(stress):
        load = finite("stress", stress, "Pa")
        return np.asarray(load * weight.tension_factor(ratio) * np.sqrt(np.pi * size))
    series = weight.coefficients(ratio) @ (_ROOTS ** np.arange(4)[:, None] * _ROOT_WEIGHTS)
    along = stress(size[..., None] * (1 - _ROOTS**2))
    return np.asarray(np.sqrt(8 * size / np.pi) * (series * along).sum(-1))


def _crack(
    stress: Stress, depth: ArrayLike, thickness: float
) -> tuple[FloatArray, FloatArray]:
    """Check a crack; return its depth and its depth over thickness."""
    size = positive("depth", depth, "m")
    if isinstance(stress, StressProfile):
        thickness = stress.thickness
    require(thickness > 0, "thickness", thickness, "be positive", "m")
    deepest = weight.DEEPEST * thickness
    require(size <= deepest, "depth", size, f"be at most {deepest:g} m, 0.6 of thickness", "m")
    return size, size / thickness


def semi_elliptical_intensity(
    tension: ArrayLike,
    depth: ArrayLike,
    half_length: ArrayLike,
    thickness: ArrayLike = np.inf,
    *,
    bending: ArrayLike = 0.0,
    angle: ArrayLike = np.pi / 2,
) -> FloatArray:
    r"""Return the stress intensity along the front of a half-elliptical surface crack.

    .. math:: K = (\sigma_t + H \sigma_b) \sqrt{\pi a/Q}\; F(a/t,\, a/c,\, \varphi)

    Parameters
    ----------
    tension, bending : array_like
        Uniform stress, and stress at the face from bending [Pa].
    depth : array_like
        Depth of the crack :math:`a` [m].
    half_length : array_like
        Half its length on the face :math:`c`, at least the depth [m].
    thickness : array_like
        Thickness of the plate [m].
    angle : array_like
        Place on the front: 0 at the face, pi/2 at the deepest point [rad].

    Returns
    -------
    ndarray of float
        Stress intensity [Pa m^0.5]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If a size is not positive, the crack is deeper than half its length or than 0.8 of
        the thickness, or the angle lies outside 0 to pi.

    Notes
    -----
    A fit to finite-element answers, within about 5 %, for a plate much wider than the crack.

    References
    ----------
    .. [1] [NewmanRaju1981]; the terms M3 and g from memory.

    Examples
    --------
    A half-disc 100 µm deep under 50 MPa:

    >>> semi_elliptical_intensity(50e6, 100e-6, 100e-6).item() / 1e6
    0.587

    """
    a, c = positive("depth", depth, "m"), positive("half_length", half_length, "m")
    t = np.asarray(thickness, dtype=np.float64)
    phi = in_range("angle", angle, 0.0, np.pi, "rad")
    require(t > 0, "thickness", t, "be positive", "m")
    require(a <= c, "depth", a, "be at most half_length", "m")
    require(a <= 0.8 * t, "depth", a, "be at most 0.8 of thickness", "m")
    shape, ratio = a / c, a / t
    q = 1 + 1.464 * shape**1.65
    m1 = 1.13 - 0.09 * shape
    m2 = -0.54 + 0.89 / (0.2 + shape)
    m3 = 0.5 - 1 / (0.65 + shape) + 14 * (1 - shape) ** 24
    g = 1 + (0.1 + 0.35 * ratio**2) * (1 - np.sin(phi)) ** 2
    ellipse = (shape**2 * np.cos(phi) ** 2 + np.sin(phi) ** 2) ** 0.25
    h1 = 1 - 0.34 * ratio - 0.11 * shape * ratio
    slope = -1.22 - 0.12 * shape
    h2 = 1 + slope * ratio + (0.55 - 1.05 * shape**0.75 + 0.47 * shape**1.5) * ratio**2
    h = h1 + (h2 - h1) * np.sin(phi) ** (0.2 + shape + 0.6 * ratio)
    load = finite("tension", tension, "Pa") + h * finite("bending", bending, "Pa")
    rise = (m1 + m2 * ratio**2 + m3 * ratio**4) * g * ellipse
    return np.asarray(load * np.sqrt(np.pi * a / q) * rise)


# --- faces that touch -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenCrack:
    """A surface crack with faces that may touch but not overlap.

    Attributes
    ----------
    stress_intensity : ndarray, shape (...)
        At the tip; zero where the tip is pressed shut [Pa m^0.5].
    position : ndarray, shape (..., n)
        Depths from the mouth (0) to the tip [m].
    opening : ndarray, shape (..., n)
        Distance between the faces, averaged around each position; zero in contact [m].
    contact_pressure : ndarray, shape (..., n)
        Pressure of the faces on each other, zero where they part [Pa].

    """

    stress_intensity: FloatArray
    position: FloatArray
    opening: FloatArray
    contact_pressure: FloatArray

    @property
    def open_fraction(self) -> FloatArray:
        """Share of the crack's depth over which the faces part, shape (...) [-]."""
        return np.asarray((self.contact_pressure == 0) @ weight.HAT_AREA)


def open_crack(
    stress: Stress, depth: ArrayLike, glass: Elastic, thickness: float = np.inf
) -> OpenCrack:
    r"""Return how a surface crack stands open, its faces touching but never overlapping.

    Contact pressure :math:`p \ge 0`, opening :math:`\delta \ge 0` and :math:`p\,\delta = 0`
    everywhere: the least elastic energy over all non-negative pressures. Both sides of that
    energy, :math:`\int_0^a [K_\sigma(a') - K_p(a')]^2 da'/E'`, follow from the weight
    function, so it is a non-negative least-squares problem.

    Parameters
    ----------
    stress, depth, thickness
        As for `stress_intensity`; `depth` may be an array.
    glass : Elastic
        Anything with Young's `modulus` [Pa] and `poisson` ratio [-].

    Returns
    -------
    OpenCrack
        Arrays of the broadcast shape of `stress` and `depth`, with a last axis along the
        crack.

    Raises
    ------
    ValueError
        As for `stress_intensity`.

    Notes
    -----
    Plane strain; smooth faces without friction or debris. Within 1 % of an independent
    solution by a singular integral equation (tests).

    References
    ----------
    .. [1] Opening from the weight function: [Petroski1978].

    Examples
    --------
    A crack 60 µm deep whose mouth is squeezed by 700 MPa fading over 50 µm, pulled by
    150 MPa. Adding stresses calls it shut; in truth it is about to run:

    >>> from types import SimpleNamespace
    >>> glass = SimpleNamespace(modulus=70e9, poisson=0.22)
    >>> stress = lambda x: 150e6 - 700e6 * np.clip(1 - x / 50e-6, 0, None)
    >>> stress_intensity(stress, 60e-6).item() / 1e6
    -1.07
    >>> open_crack(stress, 60e-6, glass).stress_intensity.item() / 1e6
    0.783

    """
    overlapping = stress_intensity(stress, depth, thickness)
    size, ratio = np.broadcast_arrays(*_crack(stress, depth, thickness), overlapping)[:2]
    position = size[..., None] * weight.PRESSED_AT
    opening, pressure = np.zeros_like(position), np.zeros_like(position)
    intensity = np.zeros(size.shape)
    for place in np.ndindex(size.shape):
        along = _along(stress, size, place)
        pressure[place], gap, push = _press(along, float(ratio[place]))
        opening[place] = 2 * (1 - glass.poisson**2) / glass.modulus * size[place] * gap
        if pressure[place][-1] == 0:
            intensity[place] = max(overlapping[place] + np.sqrt(size[place]) * push, 0.0)
    for array in (intensity, position, opening, pressure):
        array.flags.writeable = False
    return OpenCrack(
        stress_intensity=intensity,
        position=position,
        opening=opening,
        contact_pressure=pressure,
    )


def _along(stress: Stress, depth: FloatArray, place: tuple[int, ...]) -> FloatArray:
    """Stress at `weight.LOADED_AT` of the crack at one place of a broadcast array."""
    if callable(stress):
        return stress(depth[place] * weight.LOADED_AT)
    return np.full(weight.LOADED_AT.shape, np.broadcast_to(stress, depth.shape)[place])


def _press(along: FloatArray, ratio: float) -> tuple[FloatArray, FloatArray, float]:
    """Press the faces of a crack of unit depth together until none overlap.

    Returns the contact pressure, the opening in units of ``2 depth / E'`` and the stress
    intensity that the contact adds, in units of the root of the depth.
    """
    shape = weight.compliance(ratio)
    pulled = shape.pressed.T @ (shape.loaded @ along)
    target = solve_triangular(shape.factor, -pulled, trans="T", check_finite=False)
    pressure, _ = nnls(shape.factor, target)
    gap = (pulled + shape.gram @ pressure) / weight.HAT_AREA
    gap = np.where(pressure > 0, 0.0, np.maximum(gap, 0.0))
    gap[-1] = 0.0  # the faces meet at the tip
    return pressure, gap, float(shape.tip @ pressure)


def breaking_stress(
    profile: Stress, depth: ArrayLike, toughness: ArrayLike, thickness: float = np.inf
) -> FloatArray:
    """Return the uniform applied tension at which a crack of this depth runs.

    Parameters
    ----------
    profile : array_like, callable or StressProfile
        Residual stress on the line of the crack, tension positive [Pa].
    depth : array_like
        Depth of the crack [m].
    toughness : array_like
        Fracture toughness [Pa m^0.5].
    thickness : float
        Thickness of the plate [m]; a profile brings its own.

    Returns
    -------
    ndarray of float
        Applied tension [Pa]; the inputs' broadcast shape. Negative where the crack runs
        unaided: so much squeeze would be needed to hold it.

    Raises
    ------
    ValueError
        As for `stress_intensity`, or if `toughness` is not finite and positive.

    Notes
    -----
    Where the whole crack stands open at that load, stresses simply add. Where its mouth is
    still pressed together, less tension is enough than adding says, and the contact problem
    is solved at each trial load (some milliseconds each).

    Examples
    --------
    A flaw 20 µm deep in plain glass, and in a pane tempered to 100 MPa:

    >>> from glasskit.stress import tempered
    >>> breaking_stress(0.0, 20e-6, 0.75e6).item() / 1e6
    84.4
    >>> breaking_stress(tempered(100e6, 6e-3), 20e-6, 0.75e6).item() / 1e6
    183.2

    """
    limit = positive("toughness", toughness, "Pa m^0.5")
    held = stress_intensity(profile, depth, thickness)
    unit = stress_intensity(1.0, depth, getattr(profile, "thickness", thickness))
    size, ratio = _crack(profile, depth, thickness)
    adding = np.asarray((limit - held) / unit)
    size, ratio, limit = (np.broadcast_to(item, adding.shape) for item in (size, ratio, limit))
    out = np.array(adding)
    for place in np.ndindex(adding.shape):
        along = _along(profile, size, place)
        if along.min() + adding[place] < 0:  # else the faces cannot touch
            scaled = limit[place].item() / size[place].item() ** 0.5
            out[place] = _tension(along, ratio[place].item(), scaled, adding[place].item())
    return out


def _tension(along: FloatArray, ratio: float, toughness: float, adding: float) -> float:
    """Find the tension at which a pressed crack of unit depth runs.

    `adding` is what adding stresses says, never too little: contact only helps the crack.
    """
    unit = weight.tension_factor(np.asarray(ratio)).item() * np.pi**0.5

    def excess(tension: float) -> float:
        return float((tension - adding) * unit + _press(along + tension, ratio)[2])

    if excess(adding) <= 1e-9 * toughness:
        return adding
    return float(brentq(excess, -along.max(), adding, rtol=1e-6))
