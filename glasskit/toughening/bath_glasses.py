# SPDX-License-Identifier: MIT
"""Give the coefficients with which glasses take up potassium from a molten salt.

Diffusivity is known to about a factor of two or three, the dilation coefficient to about a
half, the relaxation time to a decade. Each keeps its range, source and status; `cases` spreads
them over their ranges. The dilation coefficient is the *effective* one:
measured squeeze is 3 to 5 times below what the molar volumes of melted glasses predict
[Varshneya2001], and why is still argued.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from glasskit import materials, tables
from glasskit.materials import melts
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    doubt,
    finite,
    in_range,
    of_type,
    one_of,
    positive,
    require,
)
from glasskit.toughening.relaxation import SODA_LIME

COLDEST, HOTTEST = 350 + 273.15, 520 + 273.15  # [K], between which the coefficients are used
_MELTS = {"soda-lime": "window", "aluminosilicate": "aluminosilicate"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BathGlass:
    """What a salt bath does to one glass.

    Attributes
    ----------
    name : str
        Name in `materials`.
    diffusivity : float
        Interdiffusion coefficient at `reference` [m^2/s].
    reference : float
        Temperature of `diffusivity` [K].
    activation_energy : float
        Of the diffusivity [J/mol].
    dilation : float
        Effective linear strain for a mole fraction one of potassium oxide, B [-].
    slowness : float
        Mean relaxation time over the Maxwell time of the frozen melt in `viscosity` [-].
    alkali : float
        Mole fraction of exchangeable alkali oxide, C [-].
    modulus, poisson : float
        Young's modulus [Pa] and Poisson ratio [-].
    melt : str
        Name in `viscosity`, for the relaxation time.
    values : mapping
        Every number as published, with range, source and status.

    """

    name: str
    diffusivity: float
    reference: float
    activation_energy: float
    dilation: float
    slowness: float
    alkali: float
    modulus: float
    poisson: float
    melt: str
    values: Mapping[str, tables.Value] = field(compare=False, repr=False)

    def __post_init__(self) -> None:
        for name in ("diffusivity", "reference", "activation_energy", "dilation"):
            positive(name, getattr(self, name))
        positive("slowness", self.slowness)
        positive("modulus", self.modulus)
        share = finite("alkali", self.alkali)
        require((share > 0) & (share <= 1), "alkali", share, "lie in 0 < alkali <= 1")
        in_range("poisson", self.poisson, 0.0, 0.499)

    @property
    def full_squeeze(self) -> float:
        """Surface compression of a thick plate, fully swapped and not relaxed [Pa]."""
        return self.modulus * self.dilation * self.alkali / (1 - self.poisson)


@cache
def _known() -> Mapping[str, Mapping[str, tables.Value]]:
    rows = tables.read("baths")
    return {
        name: MappingProxyType(
            {
                row["property"]: tables.sourced_value(row)
                for row in rows
                if row["glass"] == name
            }
        )
        for name in dict.fromkeys(row["glass"] for row in rows)
    }


@cache
def bath_glass(name: str) -> BathGlass:
    """Return the exchange coefficients of a glass; `dataclasses.replace` makes your own.

    Parameters
    ----------
    name : str
        One of those in ``glasskit/data/baths.csv``.

    Returns
    -------
    BathGlass
        Coefficients in SI, with range, source and status in `values`.

    Raises
    ------
    ValueError
        If the glass is unknown.

    Examples
    --------
    >>> bath_glass("soda-lime").alkali
    0.133

    """
    one_of("glass", name, _known())
    values = _known()[name]
    solid = materials.glass(name)
    return BathGlass(
        name=name,
        **{key: value.value for key, value in values.items()},
        modulus=solid.modulus,
        poisson=solid.poisson,
        melt=_MELTS[name],
        values=values,
    )


def resolve(glass: str | BathGlass) -> BathGlass:
    """Return the coefficients of a glass given by name or by its coefficients."""
    if isinstance(glass, str):
        return bath_glass(glass)
    of_type("glass", glass, BathGlass)
    return glass


@cache
def cases(glass: str, count: int = 32) -> tuple[BathGlass, ...]:
    """Return a glass with every uncertain coefficient spread over its range.

    Parameters
    ----------
    glass : str
        One of those in ``glasskit/data/baths.csv``.
    count : int
        How many cases.

    Returns
    -------
    tuple of BathGlass
        Diffusivity, dilation and relaxation spread together, evenly in the logarithm, with
        the values of `bath_glass` as medians.

    Raises
    ------
    ValueError
        If the glass is unknown.

    """
    from scipy.stats import qmc  # slow to load, and most pages need no other glasses

    own = bath_glass(glass)
    places = qmc.Halton(3, scramble=False).random(count + 1)[1:].T
    names = ("diffusivity", "dilation", "slowness")
    spread = (own.values[name].at(place) for name, place in zip(names, places, strict=True))
    return tuple(
        replace(own, diffusivity=float(d), dilation=float(b), slowness=float(s))
        for d, b, s in zip(*spread, strict=True)
    )


def diffusivity(temperature: ArrayLike, glass: str | BathGlass = "soda-lime") -> FloatArray:
    r"""Return the interdiffusion coefficient of potassium for sodium.

    .. math:: D = D_0 \exp\left[-\frac{Q}{R}
              \left(\frac{1}{T} - \frac{1}{T_0}\right)\right]

    Parameters
    ----------
    temperature : array_like
        Absolute temperature of the bath [K].
    glass : str or BathGlass
        Name, or coefficients of your own.

    Returns
    -------
    ndarray of float
        Coefficient [m^2/s].

    Raises
    ------
    ValueError
        If `temperature` is not finite and positive, or the glass is unknown.

    Warns
    -----
    OutsideValidityWarning
        Outside 350 to 520 °C, where the coefficients were not measured.

    References
    ----------
    [Karlsson2010] for the energy in float glass.

    Examples
    --------
    Window glass at 450 °C, in nm^2/s:

    >>> diffusivity(723.15).item() * 1e18
    550.0

    """
    kelvin = positive("temperature", temperature, "K")
    if np.any((kelvin < COLDEST - 1e-6) | (kelvin > HOTTEST + 1e-6)):
        doubt("temperature", kelvin, "temperature")
        warnings.warn(
            "temperature lies outside 623 to 793 K: diffusivity and relaxation are a guess",
            OutsideValidityWarning,
            stacklevel=2,
        )
    own = resolve(glass)
    colder = 1 / kelvin - 1 / own.reference
    energy = own.activation_energy / melts.GAS_CONSTANT
    return np.asarray(own.diffusivity * np.exp(-energy * colder))


def relaxation_time(
    temperature: ArrayLike, glass: str | BathGlass = "soda-lime"
) -> FloatArray:
    """Return the mean Maxwell time of the glass in the bath [s], from `viscosity`.

    One mean stands for a spectrum of shear elements; see `fading` for what it makes of a
    squeezed skin.

    Parameters
    ----------
    temperature : array_like
        Absolute temperature of the bath [K].
    glass : str or BathGlass
        Name, or coefficients of your own.

    Returns
    -------
    ndarray of float
        Time [s]; uncertain by about a decade.

    Raises
    ------
    ValueError
        If `temperature` is not finite and positive, or the glass is unknown.

    Notes
    -----
    Of the glass as it was drawn; the swapped skin relaxes faster, which is not counted.

    Examples
    --------
    Window glass at 450 °C, in hours:

    >>> f"{relaxation_time(723.15).item() / 3600:.0f}"
    '102'

    """
    own = resolve(glass)
    return np.asarray(own.slowness * melts.relaxation_time(temperature, own.melt))


def fading(
    temperature: ArrayLike, glass: str | BathGlass = "soda-lime"
) -> tuple[FloatArray, FloatArray]:
    """Return the elements with which the squeeze of a skin fades in the bath.

    Parameters
    ----------
    temperature : array_like
        Absolute temperature of the bath [K].
    glass : str or BathGlass
        Name, or coefficients of your own.

    Returns
    -------
    shares : ndarray, shape (n,)
        Share of a sudden squeeze that each element bears [-].
    times : ndarray, shape (..., n)
        Time in which that share fades to 37 % [s].

    Raises
    ------
    ValueError
        If `temperature` is not finite and positive, or the glass is unknown.

    Notes
    -----
    The spectrum was measured on soda-lime near its annealing point; it is used for every
    glass, and far below, where measured relaxation is not linear [Shen2003].

    Examples
    --------
    How much of a squeeze is left after eight hours at 450 °C?

    >>> shares, times = fading(450 + 273.15)
    >>> (shares @ np.exp(-8 * 3600 / times)).round(2).item()
    0.77

    """
    own = resolve(glass)
    shares, times = SODA_LIME.skin(own.poisson)
    return shares, relaxation_time(temperature, own)[..., None] * times
