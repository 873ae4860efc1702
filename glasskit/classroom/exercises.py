# SPDX-License-Identifier: MIT
"""Exercises whose numbers differ from pupil to pupil, with their answers.

Same seed and pupil, same numbers. They are invented, in the range that a class would measure;
answers come from the formulas of the package.
"""

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from glasskit.bending import rod_section, three_point_stress
from glasskit.crack import EDGE_CRACK
from glasskit.materials import glass, ionic_radius
from glasskit.quantities import GRAVITY, FloatArray, whole
from glasskit.strength import fit_line, plotting_positions

_STICKS = 8
_DIAMETER, _SPAN = 1.8e-3, 0.1  # [m], dry spaghetti and a span to reach with a ruler
_STRENGTH, _MODULUS = 30e6, 5.0  # of invented sticks [Pa], [-]
_SHORT, _LONG = 1e-3, 10e-3  # [m], stopping distances
_SCALE = 1e8  # paper over ions


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StickTask:
    """Sticks bent until they broke.

    Attributes
    ----------
    masses : ndarray, shape (n,)
        What hung from each when it broke, as written down, all different [kg].
    diameter, span : float
        Of the sticks, and between the supports [m].

    """

    masses: FloatArray
    diameter: float = _DIAMETER
    span: float = _SPAN

    @property
    def ranked(self) -> FloatArray:
        """Masses, least first [kg]."""
        return np.sort(self.masses)

    @property
    def stress_of_a_gram(self) -> float:
        """Stress of the lower face for each gram hung from the middle [Pa]."""
        return three_point_stress(1e-3 * GRAVITY, self.span, rod_section(self.diameter)).item()

    @property
    def strengths(self) -> FloatArray:
        """Strengths, least first [Pa]."""
        return self.ranked * 1e3 * self.stress_of_a_gram

    @property
    def shares(self) -> FloatArray:
        """Share broken that each rank stands for: median ranks [-]."""
        return plotting_positions(np.zeros(self.masses.size, bool))

    @property
    def line(self) -> tuple[float, float]:
        """Slope of the Weibull line [-], and the strength at which 63.2 % are broken [Pa]."""
        modulus, scale = fit_line(self.strengths)
        return modulus.item(), scale.item()


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceTask:
    """A plate whose two skins are squeezed evenly, to be balanced by its core.

    Attributes
    ----------
    squeeze : float
        Compression of the skins, positive [Pa].
    skin, thickness : float
        Of each skin, and of the whole plate [m].
    bend : float
        Pull that bending adds at the face [Pa].

    """

    squeeze: float
    skin: float
    thickness: float
    bend: float

    @property
    def core(self) -> float:
        """Pull in the core [Pa]."""
        return self.squeeze * 2 * self.skin / (self.thickness - 2 * self.skin)

    @property
    def area(self) -> float:
        """Squeeze times depth of both skins, equal to the pull of the core [N/m]."""
        return self.squeeze * 2 * self.skin

    @property
    def net(self) -> float:
        """Stress of the bent face, tension positive [Pa]."""
        return self.bend - self.squeeze


@dataclass(frozen=True, slots=True, kw_only=True)
class DropTask:
    """Something that falls and is stopped, once over a short distance and once a long one.

    Attributes
    ----------
    mass : float
        What falls [kg].
    height, low : float
        Two heights [m]; `height` is a whole number of times `low`.
    short, long : float
        Stopping distances [m].
    gravity : float
        As the sheet prints it, so that key and pupils reckon alike [N/kg].

    """

    mass: float
    height: float
    low: float
    short: float = _SHORT
    long: float = _LONG
    gravity: float = 9.8

    @property
    def times(self) -> float:
        """How many times the energy of the lower height the higher one gives [-]."""
        return self.height / self.low

    @property
    def energy(self) -> float:
        """Energy of the fall from `height` [J]."""
        return self.mass * self.gravity * self.height

    @property
    def speed(self) -> float:
        """Speed on arrival [m/s]."""
        return sqrt(2 * self.gravity * self.height)

    def force(self, distance: float) -> float:
        """Return energy over the stopping distance [N].

        The weight goes on pushing during the stop, which adds one weight: here left out.
        """
        return self.energy / distance


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapTask:
    """A row of paper ions, some of them swapped for larger ones.

    Attributes
    ----------
    count, swapped : int
        Discs in the row, and how many are swapped [-].
    small, large : float
        Width of a disc of sodium and of potassium on paper [m].

    """

    count: int
    swapped: int
    small: float
    large: float

    @property
    def row(self) -> float:
        """Length of the row before [m]."""
        return self.count * self.small

    @property
    def longer(self) -> float:
        """By how much it is longer after the swap [m]."""
        return self.swapped * (self.large - self.small)


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkTask:
    """Ions that wander into glass, deeper with the square root of time.

    Attributes
    ----------
    hours : float
        Time in the bath [h], as the sheet prints it.
    depth : float
        How deep they are by then [m].

    """

    hours: float
    depth: float

    def depth_after(self, times: float) -> float:
        """Return the depth after so many times `hours` [m]."""
        return self.depth * sqrt(times)

    def hours_for(self, times: float) -> float:
        """Return the time for so many times `depth` [h]."""
        return self.hours * times**2


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkTask:
    """What a scratch costs in strength, and what it costs to break.

    Attributes
    ----------
    depth : float
        Of the scratch [m].
    stored : float
        What each square metre of a toughened pane has stored [J/m^2]; invented.
    toughness, modulus : float
        Of the glass [Pa m^0.5], [Pa].
    shape : float
        Of a long scratch, rounded as the sheet prints it [-].

    """

    depth: float
    stored: float
    toughness: float
    modulus: float
    shape: float = round(EDGE_CRACK, 2)

    def strength(self, times: float = 1.0) -> float:
        """Return the stress that breaks glass with a scratch so many times as deep [Pa]."""
        return self.toughness / (self.shape * sqrt(pi * times * self.depth))

    @property
    def work(self) -> float:
        """Work of breaking: what a square metre of crack costs [J/m^2]."""
        return self.toughness**2 / self.modulus

    @property
    def paid(self) -> float:
        """Area of crack that the stored energy can pay for, for each area of pane [-]."""
        return self.stored / self.work


def _generator(seed: int, pupil: int, task: int) -> np.random.Generator:
    return np.random.default_rng([whole("seed", seed), whole("pupil", pupil), task])


def stick_task(seed: int, pupil: int) -> StickTask:
    """Return invented readings of eight sticks.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    StickTask
        Whole grams, all different.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> bool((stick_task(1, 7).masses == stick_task(1, 7).masses).all())
    True

    """
    rng = _generator(seed, pupil, 1)
    scale = _STRENGTH / StickTask(masses=np.ones(1)).stress_of_a_gram
    while True:
        grams = np.round(scale * rng.weibull(_MODULUS, _STICKS))
        if np.unique(grams).size == _STICKS and grams.min() >= 15:
            masses = grams * 1e-3
            masses.flags.writeable = False
            return StickTask(masses=masses)


def balance_task(seed: int, pupil: int) -> BalanceTask:
    """Return an invented plate to balance.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    BalanceTask
        Squeeze in steps of 50 MPa, bent by 50 or 100 MPa more or less.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> balance_task(1, 7) == balance_task(1, 7)
    True

    """
    rng = _generator(seed, pupil, 2)
    squeeze = rng.integers(6, 17) * 50e6
    return BalanceTask(
        squeeze=float(squeeze),
        skin=float(rng.integers(3, 9) * 10e-6),
        thickness=float(rng.choice([0.7e-3, 0.8e-3, 1.0e-3, 1.1e-3])),
        bend=float(squeeze + rng.choice([-100e6, -50e6, 50e6, 100e6])),
    )


def drop_task(seed: int, pupil: int) -> DropTask:
    """Return an invented fall.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    DropTask
        The greater height is two to four times the lesser.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> drop_task(1, 7) == drop_task(1, 7)
    True

    """
    rng = _generator(seed, pupil, 3)
    low, times = rng.choice([0.3, 0.4, 0.5]), rng.integers(2, 5)
    return DropTask(
        mass=float(rng.integers(14, 25) * 0.01),
        low=float(low),
        height=float(round(low * times, 1)),
    )


def swap_task(seed: int, pupil: int) -> SwapTask:
    """Return a row of paper ions to swap.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    SwapTask
        Discs as wide as those of the true-size sheets, to a tenth of a millimetre.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> swap_task(1, 7) == swap_task(1, 7)
    True

    """
    rng = _generator(seed, pupil, 4)
    count = int(rng.integers(5, 9))  # the true-size page has eight of sodium
    small, large = (round(2 * ionic_radius(ion, 6) * _SCALE, 4) for ion in ("Na", "K"))
    swapped = int(rng.integers(2, count - 1))
    return SwapTask(count=count, swapped=swapped, small=small, large=large)


def walk_task(seed: int, pupil: int) -> WalkTask:
    """Return an invented salt bath.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    WalkTask
        Whole hours and whole micrometres.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> walk_task(1, 7) == walk_task(1, 7)
    True

    """
    rng = _generator(seed, pupil, 5)
    return WalkTask(hours=float(rng.integers(2, 8)), depth=float(rng.integers(8, 21)) * 1e-6)


def work_task(seed: int, pupil: int) -> WorkTask:
    """Return a scratch, and an invented pane.

    Parameters
    ----------
    seed, pupil : int
        Number of the sheet and of the pupil, zero or more [-].

    Returns
    -------
    WorkTask
        In soda-lime glass.

    Raises
    ------
    ValueError
        If `seed` or `pupil` is no whole number from zero up.

    Examples
    --------
    The same pupil gets the same sheet again:

    >>> work_task(1, 7) == work_task(1, 7)
    True

    """
    rng = _generator(seed, pupil, 6)
    pane = glass("soda-lime")
    return WorkTask(
        depth=float(rng.integers(4, 21)) * 5e-6,
        stored=float(rng.integers(6, 31)) * 10.0,
        toughness=pane.toughness,
        modulus=pane.modulus,
    )
