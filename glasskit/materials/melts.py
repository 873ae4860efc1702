# SPDX-License-Identifier: MIT
r"""Say how stiffly glass flows at any temperature.

The melt follows the Vogel-Fulcher-Tammann law
:math:`\log_{10}\eta = A + B / (T - T_0)`, with published constants for each glass. The law
belongs to the liquid in equilibrium: it runs to infinity at :math:`T_0`, about 250 °C, where
nothing happens to a real glass. A glass that has cooled keeps the structure it had near the
strain point, and from there the viscosity of this *frozen* structure climbs on a straight
Arrhenius line [Narayanaswamy1971]. At room temperature the two pictures differ without
bound, and published estimates for frozen glass still differ by sixteen decades: quote a
range, never one number (see `flow`).
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike
from scipy.constants import R, zero_Celsius

from glasskit import tables
from glasskit.quantities import FloatArray, one_of, positive, require

GAS_CONSTANT = R  # [J/(mol K)], exact since 2019
SHEAR_MODULUS = 30e9  # [Pa], float glass, maker's bulletin of 2013 (found)

# Viscosity that defines each fixed point [Pa s]; tables in dPa s show ten times as much.
FIXED_POINTS = {
    "melting": 1e1,
    "working": 1e3,
    "softening": 10**6.6,
    "annealing": 1e12,
    "strain": 10**13.5,
}
# Share of the activation energy that stays when the structure is frozen: 0.4 to 0.6 for
# silicates, from memory.
FROZEN_FRACTION = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Melt:
    """Constants of the Vogel-Fulcher-Tammann law of one glass.

    Attributes
    ----------
    name, label : str
        Key, and the name to show.
    log_limit : float
        Base-ten logarithm of the viscosity at infinite temperature in Pa s, A [-].
    slope : float
        B [K].
    divergence : float
        Temperature at which the law runs to infinity, T0 [K].
    as_printed, source, status : str
        The constants as the source gives them, the source, and how it is known.

    """

    name: str
    label: str
    log_limit: float
    slope: float
    divergence: float
    as_printed: str
    source: str
    status: str

    def viscosity(self, temperature: FloatArray) -> FloatArray:
        """Return the viscosity by the law, unchecked: for loops that know where they are.

        Parameters
        ----------
        temperature : ndarray
            Absolute temperature, above `divergence` [K].

        Returns
        -------
        ndarray
            Viscosity [Pa s].

        """
        return np.asarray(
            10.0 ** (self.log_limit + self.slope / (temperature - self.divergence))
        )


@cache
def _melts() -> dict[str, Melt]:
    return {
        row["name"]: Melt(
            name=row["name"],
            label=row["label"],
            log_limit=float(row["log_limit"]),
            slope=float(row["slope_K"]),
            divergence=float(row["divergence_C"]) + zero_Celsius,
            as_printed=row["as_printed"],
            source=row["source"],
            status=row["status"],
        )
        for row in tables.read("melts")
    }


def melt_names() -> tuple[str, ...]:
    """Return the names of the glasses whose viscosity is known.

    Returns
    -------
    tuple of str
        In the order of the table.

    """
    return tuple(_melts())


def melt(name: str) -> Melt:
    """Return the viscosity constants of one glass.

    Parameters
    ----------
    name : str
        One of `melt_names`.

    Returns
    -------
    Melt
        Constants with source and status.

    Raises
    ------
    ValueError
        If the glass is unknown.

    Examples
    --------
    >>> melt("window").divergence > 0
    True

    """
    one_of("glass", name, _melts())
    return _melts()[name]


def equilibrium_viscosity(temperature: ArrayLike, glass: str = "window") -> FloatArray:
    r"""Return the viscosity of the liquid in equilibrium.

    .. math:: \log_{10}\eta = A + \frac{B}{T - T_0}

    Parameters
    ----------
    temperature : array_like
        Absolute temperature :math:`T` [K].
    glass : str
        One of `melt_names`.

    Returns
    -------
    ndarray of float
        Viscosity [Pa s]; infinite at and below :math:`T_0`, where the law has no meaning.

    Raises
    ------
    ValueError
        If `temperature` is not finite and positive or the glass is unknown.

    Notes
    -----
    The constants were fitted between the annealing and the melting point. Below the strain
    point a glass does not reach equilibrium in any practical time: use `viscosity`.

    Examples
    --------
    Window glass at its softening point, 722 °C, written as a power of ten:

    >>> np.log10(equilibrium_viscosity(722 + 273.15)).item()
    6.6

    """
    law = melt(glass)
    kelvin = positive("temperature", temperature, "K")
    with np.errstate(divide="ignore", over="ignore"):
        return np.asarray(np.where(kelvin > law.divergence, law.viscosity(kelvin), np.inf))


def temperature_at(viscosity: ArrayLike, glass: str = "window") -> FloatArray:
    """Return the temperature at which the equilibrium liquid has a viscosity.

    Parameters
    ----------
    viscosity : array_like
        Viscosity [Pa s].
    glass : str
        One of `melt_names`.

    Returns
    -------
    ndarray of float
        Absolute temperature [K].

    Raises
    ------
    ValueError
        If `viscosity` is not finite, or not above the limit for infinite temperature.

    Notes
    -----
    The limits of `equilibrium_viscosity` hold: above the annealing point.

    Examples
    --------
    The annealing point of window glass, in °C:

    >>> (temperature_at(1e12, "window") - 273.15).item()
    552.0

    """
    law = melt(glass)
    value = positive("viscosity", viscosity, "Pa s")
    limit = 10**law.log_limit
    require(value > limit, "viscosity", value, f"exceed {limit:.2g} Pa s", "Pa s")
    return np.asarray(law.divergence + law.slope / (np.log10(value) - law.log_limit))


def fixed_point(name: str, glass: str = "window") -> float:
    """Return the temperature of a fixed point of a glass.

    Parameters
    ----------
    name : str
        A key of `FIXED_POINTS`.
    glass : str
        One of `melt_names`.

    Returns
    -------
    float
        Absolute temperature [K].

    Raises
    ------
    ValueError
        If the point or the glass is unknown.

    Examples
    --------
    >>> round(fixed_point("strain", "window") - 273.15)
    525

    """
    one_of("name", name, FIXED_POINTS)
    return float(temperature_at(FIXED_POINTS[name], glass))


def activation_energy(temperature: ArrayLike, glass: str = "window") -> FloatArray:
    r"""Return the apparent activation energy of flow of the equilibrium liquid.

    .. math:: Q = R \frac{d \ln\eta}{d(1/T)} = R \ln 10 \; B \frac{T^2}{(T - T_0)^2}

    Parameters
    ----------
    temperature : array_like
        Absolute temperature above :math:`T_0` [K].
    glass : str
        One of `melt_names`.

    Returns
    -------
    ndarray of float
        Energy [J/mol].

    Raises
    ------
    ValueError
        If a temperature is not finite and above :math:`T_0`.

    Notes
    -----
    Of the fit, which holds between the annealing and the melting point; it grows without bound
    towards the fit's divergence.

    Examples
    --------
    Window glass at the softening point, in kJ/mol:

    >>> round(activation_energy(995.0).item() / 1e3)
    379

    """
    law = melt(glass)
    kelvin = positive("temperature", temperature, "K")
    above = kelvin - law.divergence
    require(above > 0, "temperature", kelvin, f"exceed {law.divergence:.5g} K", "K")
    return np.asarray(GAS_CONSTANT * np.log(10) * law.slope * (kelvin / above) ** 2)


def viscosity(
    temperature: ArrayLike,
    glass: str = "window",
    frozen_at: ArrayLike | None = None,
    frozen_fraction: ArrayLike = FROZEN_FRACTION,
) -> FloatArray:
    r"""Return the viscosity of glass: liquid when hot, frozen structure when cold.

    Above the freezing temperature :math:`T_f` the equilibrium law holds. Below it

    .. math:: \ln\eta = \ln\eta(T_f) + \frac{x Q(T_f)}{R}
              \left(\frac{1}{T} - \frac{1}{T_f}\right)

    Parameters
    ----------
    temperature : array_like
        Absolute temperature [K].
    glass : str
        One of `melt_names`.
    frozen_at : array_like, optional
        Temperature at which the structure froze, :math:`T_f` [K]; the strain point if left
        out. A quenched glass froze higher.
    frozen_fraction : array_like
        Share :math:`x` of the activation energy left in the frozen glass, above 0 to 1 [-].

    Returns
    -------
    ndarray of float
        Viscosity [Pa s], the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive, `frozen_fraction` exceeds one, or
        `frozen_at` lies at or below :math:`T_0`.

    Notes
    -----
    Good to a few kelvin above the strain point. Within 150 K below it the error is of the
    order of one decade; at room temperature :math:`x` from 0.4 to 0.6 alone spans sixteen
    decades, and the published estimates for old windows, 10^24 to 10^41 Pa s, lie below this
    line: it is carried 500 K past the last measured point. The structure is held fixed: slow
    settling towards equilibrium is left out.

    References
    ----------
    [Narayanaswamy1971], [SewardVascott2005], [Fluegel2007].

    Examples
    --------
    In a salt bath at 450 °C, and the equilibrium law at the same place, as powers of ten:

    >>> [np.log10(f(723.15)).round(1).item() for f in (viscosity, equilibrium_viscosity)]
    [16.0, 20.0]

    """
    kelvin = positive("temperature", temperature, "K")
    share = positive("frozen_fraction", frozen_fraction)
    require(share <= 1, "frozen_fraction", share, "be at most 1")
    freezing = fixed_point("strain", glass) if frozen_at is None else frozen_at
    frozen = positive("frozen_at", freezing, "K")
    end = melt(glass).divergence
    require(frozen > end, "frozen_at", frozen, f"exceed {end:.5g} K", "K")
    slope = share * activation_energy(frozen, glass) / (GAS_CONSTANT * np.log(10))
    power = np.log10(equilibrium_viscosity(np.maximum(kelvin, frozen), glass))
    colder = np.maximum(1 / kelvin - 1 / frozen, 0.0)
    with np.errstate(over="ignore"):
        return np.asarray(10.0 ** (power + slope * colder))


def relaxation_time(temperature: ArrayLike, glass: str = "window") -> FloatArray:
    r"""Return the Maxwell time in which a held stress falls to 37 %.

    .. math:: \tau = \eta / G

    Parameters
    ----------
    temperature, glass
        As for `viscosity` [K], [-].

    Returns
    -------
    ndarray of float
        Time [s].

    Raises
    ------
    ValueError
        As for `viscosity`.

    Notes
    -----
    One time stands for a spectrum that spans about two decades, and the limits of
    `viscosity` apply. The modulus is that of the cold glass; near the softening point it is
    some 20 % lower.

    Examples
    --------
    Hours to relax in a salt bath at 450 °C:

    >>> (relaxation_time(723.15, "window") / 3600).round(-1).item()
    100.0

    """
    return np.asarray(viscosity(temperature, glass) / SHEAR_MODULUS)
