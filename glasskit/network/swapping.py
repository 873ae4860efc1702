# SPDX-License-Identifier: MIT
"""Swaps in ready-made flat glasses, fast enough to follow a slider.

Making a glass takes a tenth of a second and is done once for each seed. A swap starts from the
glass at rest and takes a fiftieth.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from glasskit.materials import misfit
from glasskit.network import network
from glasskit.network.network import LayerStress, Network
from glasskit.quantities import in_range, whole

DEEPEST = 3.5e-9  # [m], so that undisturbed glass remains beneath
OUTGOING = "Na"
_SITES, _LAYERS = 320, 10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swap:
    """One swap and what came of it.

    Attributes
    ----------
    incoming : str
        Element that took the place of sodium.
    fraction : float
        Share of the layer's ions that were swapped [-].
    layer : float
        Depth to which ions were swapped [m].
    result : LayerStress
        The glass before and after, and its stress by layers.
    most : float
        Largest stress, of either sign, of a full and deepest swap in this glass [-].

    """

    incoming: str
    fraction: float
    layer: float
    result: LayerStress
    most: float

    @property
    def misfit(self) -> float:
        """How much larger the newcomer is than sodium, in parts of sodium [-]."""
        return misfit(OUTGOING, self.incoming)

    @property
    def inside(self) -> int:
        """Number of ions in the layer [-]."""
        return int((self.result.before.ion_depths <= self.layer).sum())

    @property
    def count(self) -> int:
        """Number of ions swapped [-]."""
        return round(self.fraction * self.inside)

    @property
    def stress(self) -> float:
        """Mean change of stress in the swapped layer, tension positive [-]."""
        edges = np.minimum(self.result.edges, self.layer)
        return float((np.diff(edges) * self.result.stress).sum() / self.layer)

    @property
    def rise(self) -> float:
        """How far the surface rose: mean over the topmost points [m]."""
        before = self.result.before
        top = before.positions[:, 1] > before.surface - 1e-10
        return float(self.result.displacement[top, 1].mean())


def glass(seed: int = 1) -> Network:
    """Return a flat soda glass of about 320 formers, made at the first call.

    Parameters
    ----------
    seed : int
        Same seed, same glass [-].

    Returns
    -------
    Network
        At rest, a block of about 6.5 nm by 7 nm.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up.

    Examples
    --------
    >>> len(glass().elements) == len(glass().radii)
    True

    """
    return _glass(whole("seed", seed))


@cache
def _glass(seed: int) -> Network:
    return network.make(sites=_SITES, seed=seed, ion=OUTGOING)


def swap_ions(incoming: str, fraction: float, layer: float, seed: int = 1) -> Swap:
    """Swap sodium ions near the surface of a ready-made glass and let it find its rest.

    Parameters
    ----------
    incoming : {"Li", "Na", "K", "Rb", "Cs"}
        What takes the place of sodium.
    fraction : float
        Share of the layer's ions that are swapped, 0 to 1 [-].
    layer : float
        Depth to which ions are swapped, up to `DEEPEST` [m].
    seed : int
        Which glass [-].

    Returns
    -------
    Swap
        The glass before and after, and what changed.

    Raises
    ------
    ValueError
        If an argument is out of range or the ion unknown.

    Notes
    -----
    A flat illustration: compare its stresses with each other only.

    References
    ----------
    [Shannon1976] for the radii; forces invented.

    Examples
    --------
    >>> swap = swap_ions("K", fraction=1.0, layer=3e-9)
    >>> swap.count, bool(swap.stress < 0), bool(swap.rise > 0)
    (37, True, True)

    """
    share, depth = (
        in_range("fraction", fraction, 0.0, 1.0).item(),
        in_range("layer", layer, 0.0, DEEPEST, "m").item(),
    )
    seed = whole("seed", seed)
    return Swap(
        incoming=incoming,
        fraction=share,
        layer=depth,
        result=_swapped(incoming, share, depth, seed),
        most=_most(incoming, seed),
    )


def _swapped(incoming: str, fraction: float, layer: float, seed: int) -> LayerStress:
    before = glass(seed)
    after = network.relax(network.swap(before, incoming, fraction, layer, seed))
    return network.layer_stress(before, after, _LAYERS)


@cache
def _most(incoming: str, seed: int) -> float:
    return float(np.abs(_swapped(incoming, 1.0, DEEPEST, seed).stress).max())
