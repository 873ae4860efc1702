# SPDX-License-Identifier: MIT
"""How hot glass forgets stress, and how its structure follows the temperature.

Glass relaxes over two decades of time at once; a row of Maxwell elements stands for that. The
elements keep their ratios at every temperature and share one clock, which the viscosity drives
(a thermorheologically simple glass). In a quench the structure cannot keep up: the fictive
temperature, at which the present structure would be in equilibrium, lags behind and stops.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from glasskit.materials import melt
from glasskit.quantities import FloatArray, in_range, positive, require
from glasskit.tables import read


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Relaxation:
    """How a glass forgets: Maxwell elements on a clock, and a structure slower still.

    Attributes
    ----------
    weights : ndarray
        Share of the shear modulus in each Maxwell element; scaled to sum to one [-].
    times : ndarray
        Relaxation times of the elements; only their ratios count, and they are scaled to a
        weighted mean of one. At every temperature that mean is viscosity over shear
        modulus, which makes the glass thermorheologically simple [-].
    viscosity : callable
        Viscosity [Pa s] at an array of temperatures [K].
    structural_delay : float
        Structure relaxes with the same elements, each this many times slower [-].
    liquid_expansion : float
        Linear expansion coefficient of the equilibrium liquid [1/K].
    partition : float
        Share of the clock's logarithm that follows the temperature; the rest follows the
        fictive temperature [-].
    still_below : float
        Temperature below which nothing relaxes within hours [K].

    Examples
    --------
    A glass with one relaxation time:

    >>> simple = Relaxation(
    ...     weights=np.ones(1), times=np.ones(1), viscosity=lambda kelvin: 1e12 + 0 * kelvin,
    ...     structural_delay=9.0, liquid_expansion=25e-6, partition=0.5, still_below=650.0
    ... )
    >>> simple.weights
    array([1.])

    """

    weights: FloatArray
    times: FloatArray
    viscosity: Callable[[FloatArray], FloatArray]
    structural_delay: float
    liquid_expansion: float
    partition: float
    still_below: float

    def __post_init__(self) -> None:
        weights = positive("weights", self.weights)
        times = positive("times", self.times)
        require(times.shape == weights.shape, "times", times.size, f"be {weights.size} long")
        positive("structural_delay", self.structural_delay)
        positive("liquid_expansion", self.liquid_expansion, "1/K")
        in_range("partition", self.partition, 0.0, 1.0)
        positive("still_below", self.still_below, "K")
        share = weights / weights.sum()
        for name, array in (("weights", share), ("times", times / (share @ times))):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    def clock(self, temperature: FloatArray, shear: float) -> FloatArray:
        """Return the logarithm of the mean relaxation time in seconds.

        Parameters
        ----------
        temperature : ndarray
            Temperature, taken as `still_below` where it is lower [K].
        shear : float
            Shear modulus [Pa].

        Returns
        -------
        ndarray
            Natural logarithm of viscosity over shear modulus in seconds [-].

        """
        warm = np.maximum(temperature, self.still_below)
        return np.asarray(np.log(self.viscosity(warm) / shear))

    def skin(self, poisson: float) -> tuple[FloatArray, FloatArray]:
        r"""Return how a skin squeezed both ways in its plane, free across it, relaxes.

        Only shear relaxes; the elastic bulk shares the load, and so the stress fades more
        slowly than the shear elements do. With :math:`\kappa = 4G/3K` its elements
        :math:`T_j` are the roots of :math:`\kappa \sum w_i \tau_i/(T - \tau_i) = 1`.

        Parameters
        ----------
        poisson : float
            Poisson ratio, from 0 up to but not including 0.5 [-].

        Returns
        -------
        shares, times : ndarray, shape (n,)
            Share of the stress in each element, one in sum, and its relaxation time in mean
            times of the shear elements [-].

        Raises
        ------
        ValueError
            If `poisson` lies outside its range.

        """
        ratio = in_range("poisson", poisson, 0.0, 0.499).item()
        kappa = 2 * (1 - 2 * ratio) / (1 + ratio)
        pull = self.weights * self.times
        root = np.sqrt(pull)
        times = np.linalg.eigvalsh(np.diag(self.times) + kappa * np.outer(root, root))
        slope = (pull / (times[:, None] - self.times) ** 2).sum(-1)
        return np.asarray((1 + kappa) / (kappa**2 * times * slope)), np.asarray(times)


def _soda_lime() -> Relaxation:
    rows = read("relaxation")
    return Relaxation(
        weights=np.array([float(row["weight"]) for row in rows]),
        times=np.array([float(row["time"]) for row in rows]),
        viscosity=melt("window").viscosity,
        structural_delay=9.0,
        liquid_expansion=25.1e-6,
        partition=0.5,
        still_below=690.0,
    )


SODA_LIME = _soda_lime()
"""Soda-lime-silica glass [CarreDaudeville1999], [Nielsen2010]; constants from memory."""
