# SPDX-License-Identifier: MIT
"""Let a device with a thin glass screen fall on wood, steel, tile or concrete.

A hard grain between screen and floor drives a crack. It bears the least of three loads: its
share of the blow, what the floor under it bears, and what it bears itself; a soft floor
swallows grains, a hard one does not. A crack deeper than the compressed layer leaves the
screen in danger. The blow also stretches the screen, at the rim of the contact and by bending
as it slaps down; the screen breaks where that tension is more than the cracked layer bears.

Most inputs are judgements: how many grains lie there, how sharp they are, how stiff a device
is. They are carried as ranges with their status (`inputs`), all of them are tried, and the
answer is a share of the cases. It tells why wood and concrete differ; it does not tell whether
a given device survives.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.stats import qmc

from glasskit.crack import breaking_stress
from glasskit.damage import SODA_LIME_WEDGE, radial_crack_in
from glasskit.impact.contact import contact_modulus
from glasskit.impact.falls import drop_speed
from glasskit.impact.ringing import slap_stress
from glasskit.materials import Glass, solid
from glasskit.quantities import FloatArray, in_range, of_type, one_of, positive, read_only
from glasskit.tables import Value, read, sourced_value

__all__ = [
    "ATTITUDES",
    "FLOORS",
    "Device",
    "Landing",
    "attitude_odds",
    "inputs",
    "land",
    "tumble",
]

ATTITUDES = ("flat", "edge", "corner")
FLOORS = ("hardwood", "steel", "tile", "concrete")
_SAMPLES = 512
_INPUTS = (
    ("floor", "hold"),
    ("floor", "grain_radius"),
    ("floor", "grains"),
    ("grain", "crushing"),
    ("grain", "sharpness"),
    ("attitude", "stiffness"),
    ("attitude", "touch"),
    ("attitude", "radius"),
    ("attitude", "slap"),
    ("screen", "strength"),
)


class Residual(Protocol):
    """A stress through the thickness, such as a `glasskit.stress.StressProfile`."""

    @property
    def thickness(self) -> float:
        """Thickness of the screen [m]."""

    @property
    def surface(self) -> float:
        """Stress at the face, negative in compression [Pa]."""

    @property
    def case_depth(self) -> float:
        """Depth at which the compression ends [m]."""

    def __call__(self, depth: ArrayLike) -> FloatArray:
        """Return the stress at a depth [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A slab with a screen for a face.

    Attributes
    ----------
    mass : float
        Mass [kg].
    length, width : float
        Sides of the face [m].
    glass : Glass
        What the screen is made of.
    screen : Residual
        Residual stress in the screen.

    """

    mass: float
    length: float
    width: float
    glass: Glass
    screen: Residual

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        positive("length", self.length, "m")
        positive("width", self.width, "m")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Landing:
    """One landing, for every case tried; s cases along the last axis.

    Attributes
    ----------
    speed : ndarray
        Speed at touch [m/s].
    force : ndarray
        Peak force on the device [N], shape (..., s).
    grain_load : ndarray
        Load on one grain, if one is met [N], shape (..., s).
    crack_depth : ndarray
        Depth of the crack under that grain, infinite if it goes through [m], shape (..., s).
    tension : ndarray
        Tension that the blow itself puts on the screen [Pa], shape (..., s).
    meets : ndarray
        Chance of meeting a grain at all [-], shape (..., s).
    pierced : ndarray
        Share of cases in which a grain is met and cracks through the compressed layer [-].
    broken : ndarray
        Share of cases in which the tension of the same blow beats what is left [-].
    chance : ndarray
        Chance in each case that it does, a grain being met or not [-], shape (..., s).
    upper_half : mapping of ndarray of bool
        For each input, (subject, property), the cases in the upper half of its range.

    """

    speed: FloatArray
    force: FloatArray
    grain_load: FloatArray
    crack_depth: FloatArray
    tension: FloatArray
    meets: FloatArray
    pierced: FloatArray
    broken: FloatArray
    chance: FloatArray
    upper_half: Mapping[tuple[str, str], NDArray[np.bool_]]


@cache
def inputs() -> Mapping[tuple[str, str], Value]:
    """Return every input with its range, source and status.

    Returns
    -------
    mapping
        (subject, property) to `glasskit.tables.Value`; subjects are floors, attitudes,
        "grain" and "screen".

    Examples
    --------
    >>> grit = inputs()["concrete", "grain_radius"]
    >>> round(1e6 * grit.low), round(1e6 * grit.high), grit.status
    (100, 1000, 'common practice')

    """
    rows = read("drops")
    return MappingProxyType({(r["subject"], r["property"]): sourced_value(r) for r in rows})


def _cases(floor: str, attitude: str) -> dict[str, FloatArray]:
    """Spread every input over its range, evenly in the logarithm, all of them at once."""
    spread = qmc.Halton(len(_INPUTS), scramble=False).random(_SAMPLES + 1)[1:].T
    named = {"floor": floor, "attitude": attitude}
    cases = {}
    for (subject, name), share in zip(_INPUTS, spread, strict=True):
        value = inputs()[named.get(subject, subject), name]
        # The chosen value is the median of the cases, the ends are the ends.
        below = value.low * (value.value / value.low) ** (2 * share)
        above = value.value * (value.high / value.value) ** (2 * share - 1)
        cases[name] = np.where(share < 0.5, below, above)
    return cases


def _force(
    device: Device, floor: str, attitude: str, speed: FloatArray, stiffness: FloatArray
) -> FloatArray:
    """Return the peak force of a mass on the device's and the floor's springs in a row."""
    # Radius of a round spot as wide as what touches: face, strip 5 mm wide, corner.
    reach = {
        "flat": np.sqrt(device.length * device.width / np.pi),
        "edge": np.sqrt(device.length * 5e-3 / np.pi),
        "corner": 2e-3,
    }[attitude]
    bed = 2.0 * solid(floor).plane_strain_modulus * reach  # a punch on a half-space
    spring = 1.0 / (1.0 / bed + 1.0 / stiffness)
    return np.asarray(speed * np.sqrt(device.mass * spring))


def land(device: Device, floor: str, height: ArrayLike, attitude: str = "flat") -> Landing:
    """Let a device fall and land in one attitude.

    Parameters
    ----------
    device : Device
        What falls.
    floor : str
        One of `FLOORS`.
    height : array_like
        Height fallen through [m].
    attitude : str
        One of `ATTITUDES`; "flat" is screen down.

    Returns
    -------
    Landing
        Every case tried, and the shares pierced and broken.

    Raises
    ------
    ValueError
        If `floor` or `attitude` is unknown or `height` is not positive.

    Notes
    -----
    Air drag is left out (4 % of the speed for a flat device from 4.6 m). Whether a grain is
    met is a matter of chance (Poisson) around the number that lies there. Frames and cases
    that stand proud of the glass are left out and protect it. A crack counts as long, which
    overstates what a single grain does. Flaws that the edge already has are in the strength.

    References
    ----------
    [Johnson1985] for contact; `glasskit.damage.dents` for the crack.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> from glasskit.stress import exchanged
    >>> screen = exchanged(700e6, 40e-6, 0.7e-3)
    >>> phone = Device(mass=0.2, length=0.15, width=0.07, glass=glass("aluminosilicate"),
    ...                screen=screen)
    >>> land(phone, "hardwood", 2.4).pierced.item() < 0.1
    True
    >>> land(phone, "concrete", 4.6).pierced.item() > 0.5
    True

    """
    of_type("device", device, Device)
    one_of("floor", floor, FLOORS)
    one_of("attitude", attitude, ATTITUDES)
    speed = drop_speed(positive("height", height, "m"))
    case = _cases(floor, attitude)
    force = _force(device, floor, attitude, speed[..., None], case["stiffness"])
    met = case["grains"] * case["touch"]
    size = case["grain_radius"]
    bears = np.minimum(case["hold"] * np.pi * size**2, case["crushing"] * (2 * size) ** 2)
    load = np.minimum(force / np.maximum(met, 1.0), bears)
    crack = radial_crack_in(
        device.screen,
        load * case["sharpness"],
        device.glass.toughness,
        thickness=device.screen.thickness,
        wedge=SODA_LIME_WEDGE,
    )
    tension = np.maximum(
        _rim_tension(device, floor, force, case),
        case["slap"] * slap_stress(speed, device.glass)[..., None],
    )
    meets = -np.expm1(-met)  # chance of a grain at all
    sound = tension > case["strength"] - device.screen.surface
    cracked = sound | (tension > _bearable(device, crack))
    breaks = meets * cracked + (1.0 - meets) * sound
    shares = (meets * (crack > device.screen.case_depth), breaks)
    singles = read_only(speed, *(np.mean(share, axis=-1) for share in shares))
    cases = read_only(force, load, crack, tension, meets, breaks)
    names = ("speed", "pierced", "broken", "force", "grain_load", "crack_depth", "tension")
    found = dict(zip((*names, "meets", "chance"), singles + cases, strict=True))
    return Landing(**found, upper_half=_upper_half(floor, attitude, case))


def _upper_half(
    floor: str, attitude: str, cases: Mapping[str, FloatArray]
) -> dict[tuple[str, str], NDArray[np.bool_]]:
    """Return which cases are the upper half of each input."""
    named = {"floor": floor, "attitude": attitude}
    half = _SAMPLES // 2
    return {
        (named.get(subject, subject), name): cases[name].argsort().argsort() >= half
        for subject, name in _INPUTS
    }


def _bearable(device: Device, crack: FloatArray) -> FloatArray:
    """Return the tension that a screen with cracks of these depths bears, read off a curve."""
    screen = device.screen
    depths = np.geomspace(2e-6, 0.5 * screen.thickness, 20)
    curve = breaking_stress(screen, depths, device.glass.toughness)
    held = np.interp(np.log(np.clip(crack, 1e-9, 1.0)), np.log(depths), curve)
    return np.asarray(np.where(crack > depths[-1], -np.inf, held))


def _rim_tension(
    device: Device, floor: str, force: FloatArray, case: Mapping[str, FloatArray]
) -> FloatArray:
    """Return the rim tension where glass meets floor, as far as the floor does not yield."""
    modulus = contact_modulus(device.glass, solid(floor))
    elastic = np.cbrt(6.0 * force * modulus**2 / (np.pi**3 * case["radius"] ** 2))
    pressure = np.minimum(elastic, 1.5 * case["hold"])
    return np.asarray((1.0 - 2.0 * device.glass.poisson) / 3.0 * pressure)


def attitude_odds(tolerance: ArrayLike) -> dict[str, FloatArray]:
    r"""Return how often a tumbling box lands on its screen, on an edge, on a corner.

    Every direction is as likely as any other. It lands on a face if that face is within the
    tolerance of level in both directions, on an edge if in one, else on a corner.

    Parameters
    ----------
    tolerance : array_like
        Angle from level that still counts, at most 0.25 [rad].

    Returns
    -------
    dict
        "flat" (screen down, one of six faces), "edge", "corner" and "other" (the five other
        faces), each an ndarray; they add to one [-].

    Raises
    ------
    ValueError
        If `tolerance` is not between 0 and 0.25.

    Notes
    -----
    Good to the fourth power of the tolerance. A guided drop, in which the device is let go
    level for the last stretch, lands flat nearly always.

    Examples
    --------
    Six degrees:

    >>> {name: round(odds.item(), 3) for name, odds in attitude_odds(0.105).items()}
    {'flat': 0.004, 'edge': 0.272, 'corner': 0.707, 'other': 0.018}

    """
    level = np.sin(in_range("tolerance", tolerance, 0.0, 0.25, "rad"))
    # Share of directions with two given components below the level: twice the area of a
    # small square on the sphere.
    pair = 2.0 / np.pi * level**2 * (1.0 + level**2 / 3.0)
    return {
        "flat": np.asarray(pair / 2),
        "edge": np.asarray(3 * level - 6 * pair),
        "corner": np.asarray(1 - 3 * level + 3 * pair),
        "other": np.asarray(2.5 * pair),
    }


def tumble(
    device: Device, floor: str, height: ArrayLike, tolerance: float = 0.1
) -> FloatArray:
    """Return the share of cases in which a freely tumbling device breaks its screen.

    Parameters
    ----------
    device : Device
        What falls.
    floor : str
        One of `FLOORS`.
    height : array_like
        Height fallen through [m].
    tolerance : float
        Angle from level that still counts as flat or on edge [rad].

    Returns
    -------
    ndarray
        Share [-]. Landings on other faces count as safe, every edge and corner as one that
        the glass reaches.

    Raises
    ------
    ValueError
        As for `land` and `attitude_odds`.

    Notes
    -----
    The limits of `land` hold. Real devices do not tumble freely from the height of a hand.

    Examples
    --------
    A handheld device from a table onto concrete:

    >>> from glasskit.materials import glass
    >>> from glasskit.stress import exchanged
    >>> screen = exchanged(700e6, 40e-6, 0.7e-3)
    >>> phone = Device(
    ...     mass=0.2, length=0.15, width=0.07, glass=glass("aluminosilicate"), screen=screen
    ... )
    >>> 0.0 < tumble(phone, "concrete", 0.8).item() < 1.0
    True

    """
    odds = attitude_odds(tolerance)
    parts = [odds[name] * land(device, floor, height, name).broken for name in ATTITUDES]
    return np.asarray(sum(parts))
