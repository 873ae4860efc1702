# SPDX-License-Identifier: MIT
"""Let a device with a thin glass screen fall on wood, steel, tile or concrete.

A hard grain between screen and floor drives a crack, if it gets there: frame and rim keep the
glass off the floor, the more so the steeper the device lands, until the blow has pressed them
in. A device that lands on an edge or a corner turns away, and only part of its mass strikes.
The grain bears the least of four loads: its share of the blow, what the screen gives way to,
what the floor under it bears, and what it bears itself; a soft floor swallows grains, a hard
one does not. A worn tip presses without a crack until the glass under it flows. A crack deeper
than the compressed layer leaves the screen in danger; it breaks where the tension that the
same blow puts on it is more than the cracked layer bears.

Most inputs are judgements: how many grains lie there, how sharp they are, how stiff a device
is. They are carried as ranges with their status (`inputs`), all of them are tried, and the
answer is a share of the cases. It tells why wood and concrete differ; it does not tell whether
a given device survives.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from glasskit.crack import breaking_stress
from glasskit.damage import SODA_LIME_WEDGE, radial_crack_in
from glasskit.impact.contact import contact_modulus
from glasskit.impact.falls import drop_speed
from glasskit.impact.ringing import slap_stress
from glasskit.materials import Glass, solid
from glasskit.quantities import (
    FloatArray,
    in_range,
    non_negative,
    of_type,
    one_of,
    positive,
    read_only,
)
from glasskit.tables import Value, read, sourced_value

ATTITUDES = ("flat", "edge", "corner")
FLOORS = tuple(row["subject"] for row in read("floors") if row["property"] == "hold")
_SAMPLES = 512
_INPUTS = (
    ("floor", "hold"),
    ("floor", "grain_radius"),
    ("floor", "grains"),
    ("floor", "proud"),
    ("grain", "crushing"),
    ("grain", "sharpness"),
    ("grain", "tip"),
    ("attitude", "stiffness"),
    ("attitude", "give"),
    ("attitude", "radius"),
    ("attitude", "slap"),
    ("screen", "start"),
    ("screen", "backing"),
    ("screen", "strength"),
)
LEVEL = 0.1  # slope from which a landing is on edge or corner [rad], a judgement
_PLAIN_START = 1.0  # load on a Vickers point that starts a crack in plain glass [N], memory
_SQUEEZED = 700e6 * 40e-6  # squeeze times depth of the skin whose start the table gives [N/m]
_FLOWING = 0.4  # contact over tip radius at which a ball dents like a pyramid: Tabor, memory


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

    def __hash__(self) -> int:
        """Return a hash: what a screen bears is worked out once."""


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
    depth : float
        How thick the whole device is [m].
    rim : float
        How far frame or case stands above the glass; 0 where the glass is flush [m].
    margin : float
        How far the glass ends inside the outline of frame or case [m].

    """

    mass: float
    length: float
    width: float
    glass: Glass
    screen: Residual
    depth: float = 8e-3
    rim: float = 0.0
    margin: float = 1e-3

    def __post_init__(self) -> None:
        positive("mass", self.mass, "kg")
        positive("length", self.length, "m")
        positive("width", self.width, "m")
        positive("depth", self.depth, "m")
        non_negative("rim", self.rim, "m")
        non_negative("margin", self.margin, "m")

    def striking_mass(self, down: FloatArray) -> FloatArray:
        r"""Return the mass that strikes where the lowest corner of the slab touches.

        .. math:: \frac{1}{m_e} = \frac{1}{m} + (r \times n)^T I^{-1} (r \times n)

        Parameters
        ----------
        down : ndarray, shape (..., 3)
            Downward direction along length, width and out of the screen, of length one [-].

        Returns
        -------
        ndarray
            Mass, at most that of the device [kg]. A side that lies level counts as struck
            in its middle.

        """
        sides = np.array([self.length, self.width, self.depth])
        arm = np.cross(np.sign(down) * sides / 2, down)
        squares = sides**2
        return np.asarray(self.mass / (1 + (12 * arm**2 / (squares.sum() - squares)).sum(-1)))


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
        Load on one grain, if one is met; zero where none reaches the glass [N], shape
        (..., s).
    crack_depth : ndarray
        Depth of the crack under that grain, zero where its tip only presses, infinite if it
        goes through [m], shape (..., s).
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
    rows = read("floors")
    return MappingProxyType({(r["subject"], r["property"]): sourced_value(r) for r in rows})


@cache
def _cases(floor: str, attitude: str) -> Mapping[str, FloatArray]:
    """Spread every input over its range, evenly in the logarithm, all of them at once."""
    from scipy.stats import qmc  # slow to load, and most pages of impact need no device

    places = qmc.Sobol(len(_INPUTS) + 2, rng=np.random.default_rng(10)).random(_SAMPLES).T
    named = {"floor": floor, "attitude": attitude}
    cases = {
        name: inputs()[named.get(subject, subject), name].at(share)
        for (subject, name), share in zip(_INPUTS, places[:-2], strict=True)
    }
    cases["down"] = _down(attitude, *places[-2:])
    # Share of a slab's mass behind a place anywhere on its face, which may turn away.
    turning = 3.0 * (places[-2:] ** 2).sum(0) if attitude == "flat" else np.zeros(_SAMPLES)
    cases["off_middle"] = 1 / (1 + turning)
    return MappingProxyType(cases)


def _down(attitude: str, lean: FloatArray, turn: FloatArray) -> FloatArray:
    """Return downward directions of an attitude, as `Device.striking_mass` takes them.

    On an edge every lean counts alike, on a corner every direction; half of them show the
    floor the back.
    """
    if attitude == "flat":
        return np.tile([0.0, 0.0, 1.0], (lean.size, 1))
    if attitude == "edge":
        angle = LEVEL + lean * (np.pi - 2 * LEVEL)
        return np.stack([np.zeros_like(angle), np.sin(angle), np.cos(angle)], axis=-1)
    out = np.sin(LEVEL) + np.abs(2 * lean - 1) * (1 - 2 * np.sin(LEVEL))
    angle = LEVEL + turn * (np.pi / 2 - 2 * LEVEL)
    across = np.sqrt(1 - out**2)
    sign = np.where(lean < 0.5, -1.0, 1.0)
    return np.stack([across * np.cos(angle), across * np.sin(angle), sign * out], axis=-1)


def _bed(device: Device, floor: str, attitude: str) -> float:
    """Return the stiffness of the floor under what touches [N/m]."""
    # Radius of a round spot as wide as what touches: face, strip 5 mm wide, corner.
    reach = {
        "flat": np.sqrt(device.length * device.width / np.pi),
        "edge": np.sqrt(device.length * 5e-3 / np.pi),
        "corner": 2e-3,
    }[attitude]
    return float(2.0 * solid(floor).plane_strain_modulus * reach)  # a punch on a half-space


def _met(
    device: Device, attitude: str, excess: FloatArray, case: Mapping[str, FloatArray]
) -> FloatArray:
    """Return how many grains reach the glass, each by at most `excess`, on average."""
    if attitude == "flat":
        return np.where(excess > 0, case["grains"], 0.0)
    slope = np.maximum(np.abs(case["down"][:, :2]), 1e-9)
    width = np.maximum(excess, 0.0)
    if attitude == "edge":
        area = device.length * np.minimum(width / slope[:, 1], device.width)
    else:
        along = np.minimum(width / slope[:, 0], device.length)
        area = along * np.minimum(width / slope[:, 1], device.width) / 2
    return np.asarray(case["grains"] * area / (device.length * device.width))


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
    met is a matter of chance (Poisson) around the number that lies there. On an edge or a
    corner half of the landings show the floor the back and spare the screen. Spin and second
    blows are left out, and so are the slap of a device that tips over and the bending of its
    frame, which break screens too: edges and corners come out too well. All grains of a case
    are alike, and none bears more than it takes to crush it: above some metres the odds hardly
    rise. A crack counts as long, its own wedge as spent. Flaws that the edge already has are
    in the strength.

    References
    ----------
    [Johnson1985] for contact; `glasskit.damage.dents` for the crack; that a ball dents like a
    pyramid once its contact is 0.4 of its radius wide: Tabor, from memory.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> from glasskit.stress import exchanged
    >>> screen = exchanged(700e6, 40e-6, 0.7e-3)
    >>> phone = Device(mass=0.2, length=0.15, width=0.07, glass=glass("aluminosilicate"),
    ...                screen=screen)
    >>> land(phone, "hardwood", 2.4).pierced.item() < 0.1
    True
    >>> land(phone, "concrete", 2.0).broken.round(1).item()
    0.2

    """
    of_type("device", device, Device)
    one_of("floor", floor, FLOORS)
    one_of("attitude", attitude, ATTITUDES)
    speed = drop_speed(positive("height", height, "m"))
    case = _cases(floor, attitude)
    bed = _bed(device, floor, attitude)
    spring = 1.0 / (1.0 / bed + 1.0 / case["stiffness"])
    mass = device.striking_mass(case["down"])
    force = np.asarray(speed[..., None] * np.sqrt(mass * spring))
    # How much nearer the floor the glass comes than frame and rim would let it.
    nearer = force * (case["give"] / case["stiffness"] + 1.0 / bed) - _stand_off(device, case)
    size = case["grain_radius"]
    excess = nearer + case["proud"] * size
    met = _met(device, attitude, excess, case)
    bears = np.minimum(case["hold"] * np.pi * size**2, case["crushing"] * (2 * size) ** 2)
    load = np.minimum(_pressed(device, speed[..., None], excess, met, bed, case), bears)
    flowing = device.glass.hardness * np.pi * (_FLOWING * case["tip"] * size) ** 2
    held = max(-device.screen.surface, 0.0) * device.screen.case_depth / _SQUEEZED
    start = _PLAIN_START + case["start"] * held
    bites = (load > flowing) & (load * case["sharpness"] > start)
    crack = radial_crack_in(
        device.screen,
        np.where(bites, load * case["sharpness"], 0.0),
        device.glass.toughness,
        thickness=device.screen.thickness,
        wedge=SODA_LIME_WEDGE,
    )
    # What the grains do not bear presses the glass on the floor itself, once it gets there.
    rest = np.minimum(np.maximum(force - met * load, 0.0), case["backing"] * nearer)
    tension = np.maximum(
        _rim_tension(device, floor, np.maximum(rest, 0.0), case),
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


def _pressed(
    device: Device,
    speed: FloatArray,
    excess: FloatArray,
    met: FloatArray,
    bed: float,
    case: Mapping[str, FloatArray],
) -> FloatArray:
    """Return what the blow can put on one grain [N].

    The screen gives way over each grain until it lies on the floor. Fewer than three grains
    do not hold the device level: off the middle it turns away.
    """
    sharing = np.maximum(met, 1.0)
    soft = 1 / (1 / bed + 1 / case["stiffness"] + 1 / (sharing * case["backing"]))
    mass = device.striking_mass(case["down"]) * np.where(sharing < 3, case["off_middle"], 1.0)
    share = speed * np.sqrt(mass * soft) / sharing
    return np.asarray(np.minimum(share, case["backing"] * np.maximum(excess, 0.0)))


def _stand_off(device: Device, case: Mapping[str, FloatArray]) -> FloatArray:
    """Return how far frame and rim keep the glass off an even floor [m], by attitude."""
    down = case["down"]
    gap = device.rim * down[:, 2] + device.margin * np.abs(down[:, :2]).sum(-1)
    return np.asarray(np.where(down[:, 2] > 0, gap, np.inf))


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
    depths, curve = _bearing(device.screen, device.glass.toughness)
    held = np.interp(np.log(np.clip(crack, 1e-9, 1.0)), np.log(depths), curve)
    return np.asarray(np.where(crack > depths[-1], -np.inf, held))


@lru_cache(maxsize=16)
def _bearing(screen: Residual, toughness: float) -> tuple[FloatArray, FloatArray]:
    """Return depths of cracks and the tension that each bears."""
    depths = np.geomspace(2e-6, 0.5 * screen.thickness, 20)
    return depths, breaking_stress(screen, depths, toughness)


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
