# SPDX-License-Identifier: MIT
"""Quench a hot plate and follow the stress that freezes in.

While hot, glass relaxes: whatever stress uneven cooling makes flows away. The surface sets
first and the core, still hotter, has further to shrink; when the plate is cold that difference
stays as compression in the skin and tension in the core.

Two models of setting stand side by side. `freeze_in` is the viscoelastic one: a row of Maxwell
elements on one clock that the viscosity drives, and a fictive temperature that lags behind
when the glass sets. `instant_freezing` is the simple one: fluid above one temperature, elastic
below it. `slow_limit` is what both tend to in a mild quench, the parabola, as a formula.

Tension is positive. Depth runs from the surface (0) to the centre plane in histories, and
through the whole thickness in the residual profile.
"""

import math
import warnings
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    having,
    of_type,
    positive,
    require,
)
from glasskit.stress import StressProfile, sampled
from glasskit.toughening.cooling import Cooling, Property, cool_plate
from glasskit.toughening.relaxation import SODA_LIME, Relaxation

_THIN = 3e-3  # [m]; below, air hardly tempers and the faces see more than the air


class Quenchable(Protocol):
    """What a quench needs to know of a glass."""

    @property
    def modulus(self) -> float:
        """Young's modulus [Pa]."""

    @property
    def poisson(self) -> float:
        """Poisson ratio [-]."""

    @property
    def expansion(self) -> float:
        """Linear expansion coefficient of the solid [1/K]."""

    @property
    def density(self) -> float:
        """Density [kg/m^3]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Quench:
    """A quench from furnace to cold plate, and what it left.

    Attributes
    ----------
    cooling : Cooling
        Temperatures that were followed.
    stress : ndarray
        Stress in the plane at the cooling's times and depths, shape (steps + 1, nodes) [Pa].
    fictive : ndarray
        Fictive temperature, same shape [K].
    profile : StressProfile
        What stays when the whole plate has come to the temperature of the air.

    """

    cooling: Cooling
    stress: FloatArray
    fictive: FloatArray
    profile: StressProfile

    def __post_init__(self) -> None:
        for array in (self.stress, self.fictive):
            array.flags.writeable = False

    @property
    def surface_tension(self) -> float:
        """Highest tension that the surface passes through, early in the quench [Pa]."""
        return float(self.stress[:, 0].max())


def quench(
    thickness: float,
    start_temperature: float,
    heat_transfer: Property,
    glass: Quenchable,
    air_temperature: float = 293.15,
    *,
    emissivity: float = 0.0,
    relaxation: Relaxation = SODA_LIME,
) -> Quench:
    """Return the stress that an air quench of both faces leaves in a plate.

    Parameters
    ----------
    thickness : float
        Whole thickness of the plate [m].
    start_temperature : float
        Temperature of the plate when the air hits it [K].
    heat_transfer : float or callable
        Convection coefficient, or a function of the surface temperature [W/(m^2 K)].
    glass : Glass
        Its modulus, Poisson ratio, expansion and density are used.
    air_temperature : float
        Temperature of the air [K].
    emissivity : float
        Radiation from the faces, where `heat_transfer` does not lump it in [-].
    relaxation : Relaxation
        How the glass sets.

    Returns
    -------
    Quench
        Histories through the half plate and the residual profile through the whole.

    Raises
    ------
    ValueError
        As `glasskit.toughening.cooling.cool_plate` and `freeze_in`.

    Warns
    -----
    OutsideValidityWarning
        Below 3 mm, where air quenching as modelled here is hardly done.

    Notes
    -----
    Plates without edges, holes or corners, where stress is another. One coefficient for the
    whole face: real jets blow in spots, so that a real pane differs from place to place by
    ten megapascals and more (common practice, no source). The coefficient is the weakly
    known input: hold the result to a quarter, not to a digit.

    Examples
    --------
    A 6 mm pane from 650 °C, blown with 200 W/(m² K), ends fully tempered, beyond 69 MPa:

    >>> from glasskit.materials import glass
    >>> pane = quench(6e-3, 923.15, 200.0, glass("soda-lime"))
    >>> bool(pane.profile.surface < -69e6)
    True

    """
    having("glass", glass, "modulus", "poisson", "expansion", "density")
    cooling = cool_plate(
        thickness,
        start_temperature,
        heat_transfer,
        air_temperature,
        density=glass.density,
        emissivity=emissivity,
    )
    if thickness < _THIN:
        warnings.warn(
            f"a plate {thickness:g} m thick is below {_THIN:g} m: it takes more than air to "
            "temper it, and radiation from inside counts; hold the stress to a factor of two",
            OutsideValidityWarning,
            stacklevel=2,
        )
    return freeze_in(cooling, glass, relaxation=relaxation)


def freeze_in(
    cooling: Cooling,
    glass: Quenchable,
    *,
    relaxation: Relaxation = SODA_LIME,
    structural: bool = True,
) -> Quench:
    r"""Return the stress that a cooling leaves, by the viscoelastic model.

    .. math:: \sigma = 2 \int G(\xi - \xi')\, d(\epsilon_x - \epsilon_z), \qquad
              \tfrac23 \sigma = K (2\epsilon_x + \epsilon_z - 3\theta), \qquad
              \int \sigma\,dz = 0

    with the plate free to shrink in its plane (:math:`\epsilon_x` the same at every depth),
    no stress across it, and :math:`\theta` the free strain, which follows the temperature
    with the solid's expansion and the fictive temperature with the liquid's excess over it.

    Parameters
    ----------
    cooling : Cooling
        Temperatures, from the furnace until the plate has set.
    glass : Glass
        Its modulus, Poisson ratio and expansion are used.
    relaxation : Relaxation
        How the glass sets.
    structural : bool
        Whether the structure lags behind (fictive temperature); without it the free strain
        is the solid's and the clock follows the temperature alone.

    Returns
    -------
    Quench
        Histories and residual profile.

    Raises
    ------
    ValueError
        If the plate is still warm enough to relax when `cooling` ends.

    Notes
    -----
    The lag of the structure adds in proportion to what the liquid shrinks more than the
    solid: 41 to 43 % of the surface compression with the liquid expansion of `SODA_LIME`, 2.7
    times the solid's, from memory. [Narayanaswamy1978] says typically about 24 %, which a
    ratio of 1.8 would give: a quarter of the total is not sure.

    Shear relaxes, dilatation is elastic; moduli do not depend on temperature. Both are usual
    simplifications. Relaxation is stepped exactly for strain that grows evenly on the
    glass's clock during a step; second order in time and depth.

    References
    ----------
    [NarayanaswamyGardon1969] (viscoelastic model), [Narayanaswamy1971] (fictive
    temperature), [CarreDaudeville1999], [Nielsen2010].

    Examples
    --------
    A pane 6 mm thick in a strong blast, in MPa:

    >>> from glasskit.materials import glass
    >>> from glasskit.toughening.cooling import cool_plate
    >>> blast = cool_plate(6e-3, 923.15, 200.0)
    >>> round(freeze_in(blast, glass("soda-lime")).profile.surface / 1e6)
    -89

    """
    of_type("cooling", cooling, Cooling)
    having("glass", glass, "modulus", "poisson", "expansion", "density")
    of_type("relaxation", relaxation, Relaxation)
    warmest = float(cooling.temperature[-1].max())
    limit = relaxation.still_below
    require(warmest < limit, "cooling", warmest, f"end below {limit:g} K, the glass set", "K")
    shear = glass.modulus / (2 * (1 + glass.poisson))
    strain = glass.expansion * np.diff(cooling.temperature, axis=0)
    if structural:
        fictive, elapsed = _follow_structure(cooling, relaxation, shear)
        excess = relaxation.liquid_expansion - glass.expansion
        strain += excess * np.diff(fictive, axis=0)
    else:
        fictive = cooling.temperature.copy()
        middle = (fictive[1:] + fictive[:-1]) / 2
        elapsed = np.diff(cooling.time)[:, None] * np.exp(-relaxation.clock(middle, shear))
    return _cooled(
        cooling, glass, _relax(cooling, glass, relaxation, elapsed, strain), fictive
    )


def _follow_structure(
    cooling: Cooling, relaxation: Relaxation, shear: float
) -> tuple[FloatArray, FloatArray]:
    """Return the fictive temperature, and the time of each step in mean relaxation times."""
    temperature, steps = cooling.temperature, np.diff(cooling.time).tolist()
    own = relaxation.partition
    slowness = own * relaxation.clock((temperature[1:] + temperature[:-1]) / 2, shear)
    pace = 1 / (relaxation.structural_delay * relaxation.times[:, None])
    fictive, elapsed = temperature.copy(), np.empty_like(slowness)
    drops = np.diff(temperature, axis=0)
    behind = np.zeros((relaxation.times.size, temperature.shape[1]))  # of each element
    before, earlier = fictive[0], math.inf
    for n, step in enumerate(steps):
        # At the half step, so that a step stays second order without iterating.
        ahead = fictive[n] + (fictive[n] - before) * (step / (2 * earlier))
        lag = slowness[n] + (1 - own) * relaxation.clock(ahead, shear)
        elapsed[n] = step * np.exp(-lag)
        kept, gained = _decay(elapsed[n] * pace)
        behind = behind * kept + drops[n] * gained
        fictive[n + 1] -= relaxation.weights @ behind
        before, earlier = fictive[n], step
    return fictive, elapsed


def _decay(spent: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return what is left after `spent` relaxation times, and its mean on the way."""
    lost = np.expm1(-spent)
    return lost + 1, -lost / spent


def _relax(
    cooling: Cooling,
    glass: Quenchable,
    relaxation: Relaxation,
    elapsed: FloatArray,
    strain: FloatArray,
) -> FloatArray:
    """Step the Maxwell elements through the free strains of all steps; return the stress."""
    share = cooling.share
    kept, gained = _decay(elapsed[:, None, :] / relaxation.times[:, None])
    stiff = gained * relaxation.weights[:, None] * (glass.modulus / (1 + glass.poisson))
    soft = 2 * (1 - 2 * glass.poisson) / glass.modulus  # 2 / (3 bulk modulus)
    total = stiff.sum(axis=1)
    damp = 1 / (1 + soft * total)
    pull = 3 * total * damp
    stretched = (pull @ share).tolist()
    squeezed, bound = pull * strain, soft * total
    history = np.zeros((len(elapsed) + 1, share.size))
    parts = np.zeros(stiff.shape[1:])
    for n, weight in enumerate(stretched):
        parts *= kept[n]
        free = damp[n] * (parts.sum(axis=0) + bound[n] * history[n]) - squeezed[n]
        stretch = -(share @ free).item() / weight  # the plane strain that keeps the balance
        history[n + 1] = free + pull[n] * stretch
        change = 3 * (stretch - strain[n]) - soft * (history[n + 1] - history[n])
        parts += stiff[n] * change
    return history


def instant_freezing(
    cooling: Cooling, glass: Quenchable, freezing_temperature: float
) -> Quench:
    """Return the stress that a cooling leaves if glass set all at once at one temperature.

    Parameters
    ----------
    cooling : Cooling
        Temperatures, from above `freezing_temperature` at every depth to below.
    glass : Glass
        Its modulus, Poisson ratio and expansion are used.
    freezing_temperature : float
        Fluid without stress above, elastic below; about the annealing point [K].

    Returns
    -------
    Quench
        Histories and residual profile; the fictive temperature stops at
        `freezing_temperature`.

    Raises
    ------
    ValueError
        If some depth starts below or ends above `freezing_temperature`.

    Notes
    -----
    No tension at the surface early on, and no effect of where above freezing the quench
    starts: it has neither, which real quenches do. It leaves out the structure too, and so
    gives some 40 % less stress than `freeze_in` with its lag, but within about 15 % of
    `freeze_in` without.

    References
    ----------
    [Bartenev1949], from memory.

    Examples
    --------
    A pane 6 mm thick in a strong blast, in MPa:

    >>> from glasskit.toughening import cool_plate
    >>> from glasskit.materials import glass
    >>> blast = cool_plate(6e-3, 923.15, 200.0)
    >>> pane = instant_freezing(blast, glass("soda-lime"), 833.15).profile
    >>> round(pane.surface / 1e6)
    -54

    """
    of_type("cooling", cooling, Cooling)
    having("glass", glass, "modulus", "poisson", "expansion", "density")
    temperature = cooling.temperature
    setting = positive("freezing_temperature", freezing_temperature, "K").item()
    low, high = float(temperature[-1].max()), float(temperature[0].min())
    rule = f"lie between the plate's last {low:g} and first {high:g} K"
    require(low < setting < high, "freezing_temperature", setting, rule, "K")
    change = np.diff(temperature, axis=0)
    drop = np.diff(np.minimum(temperature, setting), axis=0)
    # Share of each step that a depth spends solid.
    solid = np.divide(drop, change, out=np.zeros_like(drop), where=change != 0)
    shrunk = (glass.expansion * drop) @ cooling.share
    held = solid @ cooling.share
    stretch = np.divide(shrunk, held, out=np.zeros_like(held), where=held > 0)
    stiffness = glass.modulus / (1 - glass.poisson)
    grown = stiffness * (solid * stretch[:, None] - glass.expansion * drop)
    history = np.concatenate((np.zeros((1, cooling.depth.size)), np.cumsum(grown, axis=0)))
    return _cooled(cooling, glass, history, np.maximum(temperature, setting))


def _cooled(
    cooling: Cooling, glass: Quenchable, history: FloatArray, fictive: FloatArray
) -> Quench:
    """Let the last differences of temperature die out elastically; mirror the half plate."""
    left = cooling.temperature[-1]
    stiffness = glass.modulus / (1 - glass.poisson)
    cold = history[-1] + stiffness * glass.expansion * (left - cooling.share @ left)
    depth = np.concatenate((cooling.depth, cooling.thickness - cooling.depth[-2::-1]))
    profile = sampled(depth, np.concatenate((cold, cold[-2::-1])), kind="quenched")
    return Quench(cooling=cooling, stress=history, fictive=fictive, profile=profile)


def slow_limit(
    thickness: ArrayLike,
    heat_transfer: ArrayLike,
    glass: Quenchable,
    freezing_temperature: ArrayLike,
    conductivity: ArrayLike,
    air_temperature: ArrayLike = 293.15,
) -> FloatArray:
    r"""Return the surface compression that a mild quench leaves, as a formula.

    .. math:: S = \frac{E \alpha}{1 - \nu}\,\frac{h\,(T_f - T_a)\,t}{6 k}

    Parameters
    ----------
    thickness : array_like
        Thickness of the plate :math:`t` [m].
    heat_transfer : array_like
        Convection coefficient :math:`h` [W/(m^2 K)].
    glass : Glass
        Its modulus, Poisson ratio and expansion are used.
    freezing_temperature : array_like
        Temperature at which the glass sets :math:`T_f` [K].
    conductivity : array_like
        Thermal conductivity :math:`k` at that temperature [W/(m K)].
    air_temperature : array_like
        Temperature of the air :math:`T_a` [K].

    Returns
    -------
    ndarray
        Compression at the surface, a positive number; the centre is stretched by half of it
        [Pa].

    Raises
    ------
    ValueError
        If an argument is not positive, or the glass would set below the air's temperature.

    Notes
    -----
    Every depth cools at the same pace through the set point, the surface ahead of the centre
    by the drop of a parabola; two thirds of that drop, frozen in, press on the surface and
    one third pulls on the centre. Holds for a Biot number ``h t / (2 k)`` well below one.

    References
    ----------
    [Bartenev1949], from memory.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> mild = slow_limit(6e-3, 20.0, glass("soda-lime"), 833.15, 1.46)
    >>> f"{mild / 1e6:.1f} MPa"
    '5.8 MPa'

    """
    having("glass", glass, "modulus", "poisson", "expansion", "density")
    size = positive("thickness", thickness, "m")
    blow = positive("heat_transfer", heat_transfer, "W/(m^2 K)")
    leads = positive("conductivity", conductivity, "W/(m K)")
    setting = positive("freezing_temperature", freezing_temperature, "K")
    fall = setting - positive("air_temperature", air_temperature, "K")
    require(fall > 0, "freezing_temperature", setting, "exceed air_temperature", "K")
    rigid = glass.modulus * glass.expansion / (1 - glass.poisson)
    return np.asarray(rigid * blow * fall * size / (6 * leads))
