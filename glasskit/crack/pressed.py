# SPDX-License-Identifier: MIT
"""Surface cracks whose faces may touch but never overlap.

Adding stresses alone says that a crack whose mouth lies in strong compression has a negative
stress intensity, hence is shut. It is not: its faces press on each other near the mouth, and
so hold the tip open. `open_crack` solves that contact problem.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import solve_triangular
from scipy.optimize import brentq, nnls

from glasskit.crack import weight
from glasskit.crack.intensity import Stress, checked_crack, stress_intensity
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, doubt, finite, having, of_type, positive
from glasskit.stress import Elastic, StressProfile


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
        As for `stress_intensity`; `depth` may be an array and the thickness infinite.
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
    Plane strain; smooth faces without friction or debris. Beside an independent solution by
    a singular integral equation, in a half-plane and in a plate (tests): stress intensity
    within 0.5 %, openings within 3 % of the widest but for the place next to the tip (4 %),
    contact depth within a cell.

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
    0.829

    """
    having("glass", glass, "modulus", "poisson")
    overlapping = stress_intensity(stress, depth, thickness)
    size, ratio = np.broadcast_arrays(*checked_crack(stress, depth, thickness), overlapping)[
        :2
    ]
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
        Thickness of the plate [m]; infinite for a thick block. A profile brings its own.

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

    References
    ----------
    Own method; [Petroski1978] for the opening, see `open_crack`.

    Examples
    --------
    A flaw 20 µm deep in plain glass, and in a pane tempered to 100 MPa:

    >>> from glasskit.stress import tempered
    >>> breaking_stress(0.0, 20e-6, 0.75e6).item() / 1e6
    84.4
    >>> breaking_stress(tempered(100e6, 6e-3), 20e-6, 0.75e6).item() / 1e6
    183.2

    """
    if not callable(profile):
        profile = finite("profile", profile, "Pa")
    limit = positive("toughness", toughness, "Pa m^0.5")
    doubt("toughness", limit, "toughness")
    held = stress_intensity(profile, depth, thickness)
    unit = stress_intensity(1.0, depth, getattr(profile, "thickness", thickness))
    size, ratio = checked_crack(profile, depth, thickness)
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadedCrack:
    """A surface crack in a residual stress, pulled from outside; from `load_crack`.

    Attributes
    ----------
    profile : StressProfile
        Residual stress through the thickness.
    tension : float
        Applied uniform tension [Pa].
    depth : float
        Depth of the crack [m].
    glass : Glass
        What the plate is made of.
    overlapping_intensity : float
        What adding stresses says, faces free to overlap [Pa m^0.5].
    shape : OpenCrack
        The contact-true answer.

    """

    profile: StressProfile
    tension: float
    depth: float
    glass: Glass
    overlapping_intensity: float
    shape: OpenCrack

    @property
    def net(self) -> StressProfile:
        """Residual and applied stress together."""
        return self.profile.with_tension(self.tension)

    @property
    def intensity(self) -> float:
        """Contact-true stress intensity [Pa m^0.5]."""
        return self.shape.stress_intensity.item()

    @property
    def runs(self) -> bool:
        """Whether the crack runs."""
        return self.intensity >= self.glass.toughness

    @property
    def contact_depth(self) -> float:
        """Depth down to which the faces press on each other [m]."""
        return self.depth * (1 - self.shape.open_fraction.item())


def load_crack(
    profile: StressProfile, tension: float, depth: float, glass: Glass
) -> LoadedCrack:
    """Return one crack in a residual stress under an applied tension, both ways of reckoning.

    Parameters
    ----------
    profile : StressProfile
        Residual stress.
    tension : float
        Applied uniform tension [Pa].
    depth : float
        Depth of the crack [m].
    glass : Glass
        What the plate is made of.

    Returns
    -------
    LoadedCrack
        Both stress intensities and the shape of the crack.

    Raises
    ------
    ValueError
        As for `open_crack`.

    Notes
    -----
    As for `open_crack`: smooth faces without friction, plane strain.

    References
    ----------
    [Petroski1978]

    Examples
    --------
    >>> from glasskit import materials, stress
    >>> cover = materials.glass("aluminosilicate")
    >>> skin = stress.exchanged(700e6, 40e-6, 0.7e-3)
    >>> load_crack(skin, 100e6, 60e-6, cover).runs
    True

    """
    of_type("profile", profile, StressProfile)
    of_type("glass", glass, Glass)
    net = profile.with_tension(tension)
    return LoadedCrack(
        profile=profile,
        tension=tension,
        depth=depth,
        glass=glass,
        overlapping_intensity=stress_intensity(net, depth).item(),
        shape=open_crack(net, depth, glass),
    )
