# SPDX-License-Identifier: MIT
"""How fast a crack creeps in one glass and one air: the power law, by name.

Speed laws scatter by a factor of ten and more between sources and weathers; lives follow suit.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from glasskit.materials import Glass, glass
from glasskit.materials.glasses import table
from glasskit.quantities import FloatArray, finite, non_negative, of_type, positive, require

__all__ = ["ENVIRONMENTS", "GrowthLaw", "growth_law"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthLaw:
    """How fast a crack creeps in one glass and one air.

    Attributes
    ----------
    exponent : float
        Steepness of the law, above 2 [-].
    reference_speed : float
        Speed that the law gives at the toughness [m/s].
    toughness : float
        Stress intensity at which the crack runs [Pa sqrt(m)].
    threshold : float
        Stress intensity below which it stands still [Pa sqrt(m)].
    source, status : str
        Where the numbers come from, and whether they were looked up.

    """

    exponent: float
    reference_speed: float
    toughness: float
    threshold: float
    source: str = ""
    status: str = "memory"

    def __post_init__(self) -> None:
        steep = finite("exponent", self.exponent)
        require(steep > 2, "exponent", steep, "be above 2")
        positive("reference_speed", self.reference_speed, "m/s")
        positive("toughness", self.toughness, "Pa√m")
        non_negative("threshold", self.threshold, "Pa√m")
        rule = "be below the toughness"
        require(self.threshold < self.toughness, "threshold", self.threshold, rule, "Pa√m")

    def speed(self, stress_intensity: ArrayLike) -> FloatArray:
        """Return the speed of the crack [m/s] at a stress intensity [Pa sqrt(m)].

        Zero up to the threshold and under pressure. The law holds up to the toughness; the
        plateau where water no longer keeps up with the tip is left out, which costs little
        life since nearly all of it is spent at the start.
        """
        share = np.asarray(stress_intensity, dtype=np.float64) / self.toughness
        pulled = np.maximum(share, 0.0)
        creep = self.reference_speed * pulled**self.exponent
        return np.asarray(np.where(share > self.threshold / self.toughness, creep, 0.0))


def growth_law(glass: Glass) -> GrowthLaw:
    """Return the design law of a glass from the table of materials.

    Parameters
    ----------
    glass : Glass
        From `glasskit.materials.glass`.

    Returns
    -------
    GrowthLaw
        Exponent, speed at the toughness, toughness and threshold.

    Raises
    ------
    ValueError
        If the table has no growth data for this glass.

    Notes
    -----
    The speed at a given stress intensity is uncertain by a factor of ten, and so is every time
    that follows from it.

    References
    ----------
    The sources stand with the values, `glasskit.materials.Glass.values`.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> growth_law(glass("soda-lime")).exponent
    16.0

    """
    of_type("glass", glass, Glass)
    rule = f"have growth data for {glass.name}"
    for name in ("growth_exponent", "growth_speed", "growth_threshold"):
        value = getattr(glass, name)
        require(np.isfinite(value), "glass", value, rule)
    speed = glass.values.get("growth_speed")
    return GrowthLaw(
        exponent=glass.growth_exponent,
        reference_speed=glass.growth_speed,
        toughness=glass.toughness,
        threshold=glass.growth_threshold,
        source=speed.source if speed else "",
        status=speed.status if speed else "memory",
    )


def _measured(surroundings: str, threshold: float) -> GrowthLaw:
    """Soda-lime glass with the exponent and speed that the table has for some surroundings."""
    found = {
        row.property: row.value
        for row in table()
        if row.material == "soda-lime" and row.value.conditions.startswith(surroundings)
    }
    return replace(
        growth_law(glass("soda-lime")),
        exponent=found["growth_exponent"].value,
        reference_speed=found["growth_speed"].value,
        threshold=threshold,
        source=found["growth_speed"].source,
    )


_THRESHOLD = glass("soda-lime").values["growth_threshold"]

ENVIRONMENTS: Mapping[str, GrowthLaw] = MappingProxyType(
    {
        "design": growth_law(glass("soda-lime")),
        "water": _measured("in water", _THRESHOLD.low),
        "half humid": _measured("50 %", _THRESHOLD.value),
    }
)
"""Laws for soda-lime glass by surroundings: a cautious one for design [Haldimann2006], and
measured ones in water and at 50 % relative humidity [Kerkhof1981]; speeds from memory."""
