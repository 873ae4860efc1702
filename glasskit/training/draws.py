# SPDX-License-Identifier: MIT
"""Draw invented readings as they are printed: rounded first, computed with afterwards."""

import numpy as np

from glasskit.quantities import FloatArray, from_display, show, to_display, unit

__all__ = ["Draws"]


class Draws:
    """Readings drawn at random, and how they are printed.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of all numbers.

    Attributes
    ----------
    shown : dict
        Printed text of each reading by name.

    """

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng
        self.shown: dict[str, str] = {}

    def __call__(
        self, name: str, kind: str, low: float, high: float, decimals: int = 0
    ) -> float:
        """Draw a reading between two ends in its display unit; return it [SI]."""
        number = round(float(self.rng.uniform(low, high)), decimals)
        self.shown[name] = f"{number:.{decimals}f} {unit(kind).symbol}".rstrip()
        return from_display(number, kind).item()

    def tell(self, name: str, kind: str, value: float) -> None:
        """Print a number that follows from the readings [SI]."""
        self.shown[name] = show(value, kind)

    def strengths(self, name: str, count: int, modulus: float, scale: float) -> FloatArray:
        """Draw Weibull strengths, print them to 0.1 MPa, return them as printed [Pa]."""
        drawn = np.round(to_display(scale * self.rng.weibull(modulus, count), "stress"), 1)
        self.shown[name] = ", ".join(f"{number:.1f}" for number in drawn)
        return from_display(drawn, "stress")
