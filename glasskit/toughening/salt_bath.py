# SPDX-License-Identifier: MIT
"""One run of a salt bath, with all that a picture or a sentence wants to know of it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, positive
from glasskit.toughening import exchange
from glasskit.toughening.bath_glasses import (
    BathGlass,
    bath_glass,
    cases,
    diffusivity,
    relaxation_time,
)
from glasskit.toughening.exchange import TradeOff

__all__ = ["SaltBath"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaltBath:
    """Settings of a salt bath and what they give.

    Attributes
    ----------
    glass : str
        One of `bath_glasses.bath_glass_names`.
    time : float
        Time in the bath [s].
    temperature : float
        Absolute temperature [K].
    thickness : float
        Thickness of the plate, both faces in the bath [m].

    Examples
    --------
    >>> bath = SaltBath(glass="soda-lime", time=8 * 3600, temperature=723.15, thickness=4e-3)
    >>> round(bath.outcome.case_depth.item() * 1e6)
    17

    """

    glass: str
    time: float
    temperature: float
    thickness: float

    def __post_init__(self) -> None:
        bath_glass(self.glass)
        positive("time", self.time, "s")
        positive("temperature", self.temperature, "K")
        positive("thickness", self.thickness, "m")

    @property
    def coefficients(self) -> BathGlass:
        """Coefficients of the glass, with their sources."""
        return bath_glass(self.glass)

    @property
    def outcome(self) -> TradeOff:
        """Surface compression, case depth, centre tension."""
        return exchange.trade_off(self.time, self.temperature, self.thickness, self.glass)

    @property
    def diffusivity(self) -> float:
        """Interdiffusion coefficient [m^2/s]."""
        return diffusivity(self.temperature, self.glass).item()

    @property
    def relaxation_time(self) -> float:
        """Mean Maxwell time in the bath [s]."""
        return relaxation_time(self.temperature, self.glass).item()

    def share(self, depth: ArrayLike) -> FloatArray:
        """Return the swapped share at `depth` [m]; [-]."""
        return exchange.diffuse(depth, self.time, self.temperature, self.glass)

    def squeeze(self, depth: ArrayLike) -> FloatArray:
        """Return the compression at `depth` [m]; [Pa]."""
        return exchange.squeeze(depth, self.time, self.temperature, self.thickness, self.glass)

    def squeeze_range(self, depth: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Return the compression, lowest and highest tenth of `bath_glasses.cases` [Pa]."""
        settings = (self.time, self.temperature, self.thickness)
        squeezes = [exchange.squeeze(depth, *settings, case) for case in cases(self.glass)]
        return _tenths(squeezes)

    @property
    def depth_range(self) -> tuple[FloatArray, FloatArray]:
        """Case depth, lowest and highest tenth of `bath_glasses.cases` [m]."""
        settings = (self.time, self.temperature, self.thickness)
        found = [exchange.trade_off(*settings, case) for case in cases(self.glass)]
        return _tenths([bath.case_depth for bath in found])


def _tenths(values: list[FloatArray]) -> tuple[FloatArray, FloatArray]:
    low, high = np.quantile(values, [0.1, 0.9], axis=0)
    return np.asarray(low), np.asarray(high)
