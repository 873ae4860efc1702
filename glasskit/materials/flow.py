# SPDX-License-Identifier: MIT
"""Say whether a window flows: how far in a given time, and what has been published.

A pane sinks under its own weight as any viscous body does, at a rate set by its viscosity.
What viscosity to take at room temperature is disputed by sixteen decades, because frozen
glass cannot be watched for long enough; on every published figure no window has flowed by
as much as the width of an atom since glass was first made.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from glasskit import tables
from glasskit.materials import melts
from glasskit.materials.melts import SHEAR_MODULUS
from glasskit.quantities import GRAVITY, FloatArray, from_display, in_range, one_of, positive


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowEstimate:
    """One published estimate of how slowly glass moves at room temperature.

    Attributes
    ----------
    key, source, status : str
        Reference key, source and how it is known.
    meaning, reason : str
        What was estimated, and why it came out so.
    relaxation_time : float
        [s]
    viscosity : float
        [Pa s]

    """

    key: str
    meaning: str
    relaxation_time: float
    viscosity: float
    reason: str
    source: str
    status: str

    @property
    def flows(self) -> bool:
        """Whether flow was estimated, not a settling that stops by itself."""
        return "volume" not in self.meaning


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowState:
    """Glass at one temperature, and how stiffly it flows there.

    Attributes
    ----------
    glass : str
        One of `melt_names`.
    temperature : float
        Absolute temperature [K].
    frozen_fraction : float
        Share of the activation energy left in frozen glass [-].

    Examples
    --------
    >>> FlowState(glass="window", temperature=723.15).frozen
    True

    """

    glass: str
    temperature: float
    frozen_fraction: float = melts.FROZEN_FRACTION

    def __post_init__(self) -> None:
        one_of("glass", self.glass, melts.melt_names())
        positive("temperature", self.temperature, "K")
        in_range("frozen_fraction", self.frozen_fraction, 0.0, 1.0)

    @property
    def viscosity(self) -> float:
        """Viscosity, of frozen glass below the strain point [Pa s]."""
        return melts.viscosity(
            self.temperature, self.glass, frozen_fraction=self.frozen_fraction
        ).item()

    @property
    def equilibrium(self) -> float:
        """Viscosity of the liquid in equilibrium, infinite where the law diverges [Pa s]."""
        return melts.equilibrium_viscosity(self.temperature, self.glass).item()

    @property
    def relaxation_time(self) -> float:
        """Maxwell time [s]."""
        return self.viscosity / SHEAR_MODULUS

    @property
    def frozen(self) -> bool:
        """Whether the glass is colder than its strain point."""
        return self.temperature < melts.fixed_point("strain", self.glass)


def thickening(
    duration: ArrayLike,
    viscosity: ArrayLike,
    height: ArrayLike,
    thickness: ArrayLike,
) -> FloatArray:
    r"""Return how much thicker the foot of a standing pane grows under its own weight.

    The foot carries the stress :math:`\rho g H`. A viscous body squeezed along one axis and
    free on the others shortens at the rate :math:`\sigma/3\eta` (three times the shear
    viscosity) and, keeping its volume, widens at half of it:

    .. math:: \Delta h = h \, \frac{\rho g H}{6 \eta} \, t

    Parameters
    ----------
    duration : array_like
        Time :math:`t` [s].
    viscosity : array_like
        Viscosity :math:`\eta` [Pa s].
    height, thickness : array_like
        Height :math:`H` and thickness :math:`h` of the pane [m].

    Returns
    -------
    ndarray of float
        Growth of the thickness at the foot [m].

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Soda-lime glass of 2500 kg/m^3, small strain. A frame that holds the width raises the rate
    by half.

    References
    ----------
    Own method: [Gulbiten2018] for the viscosity of cold glass.

    Examples
    --------
    A millennium of the softest published estimate, for one metre of 3 mm glass, in metres:

    >>> f"{thickening(1000 * 3.156e7, 4e24, 1.0, 3e-3):.0e}"
    '1e-13'

    """
    stress = 2500.0 * GRAVITY * positive("height", height, "m")
    rate = stress / (6 * positive("viscosity", viscosity, "Pa s"))
    grown = positive("thickness", thickness, "m") * rate
    return np.asarray(grown * positive("duration", duration, "s"))


@cache
def flow_estimates() -> tuple[FlowEstimate, ...]:
    """Return the published estimates for glass at room temperature, and why they disagree.

    Returns
    -------
    tuple of FlowEstimate
        Each with relaxation time and viscosity; the one not published follows from
        ``time = viscosity / SHEAR_MODULUS``.

    References
    ----------
    [Zanotto1998], [ZanottoGupta1999], [Gulbiten2018], [Welch2013].

    """
    estimates = []
    for row in tables.read("flow_estimates"):
        value = float(row["value"])
        timed = row["quantity"] == "relaxation_time"
        time = from_display(value, "years").item() if timed else value / SHEAR_MODULUS
        estimates.append(
            FlowEstimate(
                key=row["key"],
                meaning=row["meaning"],
                relaxation_time=time,
                viscosity=time * SHEAR_MODULUS,
                reason=row["reason"],
                source=row["source"],
                status=row["status"],
            )
        )
    return tuple(estimates)
