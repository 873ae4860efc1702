# SPDX-License-Identifier: MIT
"""Swap ions in a flat glass and read how hard its skin is squeezed.

The sheet of `rings` is given forces: every former-oxygen bond and every side of a triangle is
a spring, weaker springs keep the rings open, and in some rings sits a modifier ion, a soft
disc that pushes the oxygens of its ring away. A swap leaves the number of ions as it is; only
their radii change, and the glass finds its rest again. The glass beneath is thick and does not
give way sideways, so the sheet keeps its width: what cannot swell is squeezed.

A flat illustration, not a prediction of MPa. Real glass has three dimensions, its ions carry
charge, its network flows a little in the salt bath, and the exchanged layer is tens of
thousands of ions deep and not a handful. Hence stress is given in parts of the bond stiffness,
to be compared only with itself. What the picture does share with glass: the squeeze vanishes
when the newcomer has the size of the old ion, grows with misfit and with the number swapped,
turns into pull for a smaller ion, and stays in the swapped layer.

Depth is measured from the surface inwards, tension is positive.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from glasskit.materials import ionic_radius
from glasskit.network.annealing import BOND, annealed, reach
from glasskit.network.sheet import IntArray, Sheet, draw_sheet
from glasskit.network.springs import Pairs, pull, settle, sideways
from glasskit.quantities import FloatArray, in_range, of_type, one_of, positive, whole

IONS = ("Li", "Na", "K", "Rb", "Cs")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """A flat glass with its ions.

    Points are numbered formers first, then oxygens, then ions. Arrays are read-only.

    Attributes
    ----------
    positions : ndarray, shape (n, 2)
        Sideways and height above the base [m].
    formers : int
        How many formers there are [-].
    elements : tuple of str
        The ions, in order.
    radii : ndarray, shape (ions,)
        Their ionic radii, sixfold [m].
    hosts : ndarray, shape (ions,)
        Number of the ring that each ion sits in.
    rings : tuple of ndarray
        Oxygens of each closed ring, in order round it.
    bonds : ndarray, shape (m, 2)
        Former and oxygen of each bond.
    width : float
        Sideways period, the same for good once made [m].
    surface : float
        Height of the free surface when made [m].
    pairs : Pairs
        The forces, in bonds and bond stiffnesses [-].

    """

    positions: FloatArray
    formers: int
    elements: tuple[str, ...]
    radii: FloatArray
    hosts: IntArray
    rings: tuple[IntArray, ...]
    bonds: IntArray
    width: float
    surface: float
    pairs: Pairs

    def __post_init__(self) -> None:
        for array in (self.positions, self.radii, self.hosts, self.bonds, *self.rings):
            array.flags.writeable = False

    @property
    def ring_sizes(self) -> IntArray:
        """Number of oxygens in each closed ring [-]."""
        return np.array([len(ring) for ring in self.rings])

    @property
    def oxygens(self) -> int:
        """How many oxygens there are [-]."""
        return len(self.positions) - self.formers - len(self.elements)

    @property
    def ions(self) -> FloatArray:
        """Where the ions are, shape (ions, 2) [m]."""
        return self.positions[len(self.positions) - len(self.elements) :]

    @property
    def ion_depths(self) -> FloatArray:
        """How far the ions lie below the surface [m]."""
        return np.asarray(self.surface - self.ions[:, 1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayerStress:
    """What a swap did, layer by layer.

    Attributes
    ----------
    before, after : Network
        The glass at rest before and after the swap.
    edges : ndarray, shape (layers + 1,)
        Depths between which the layers lie [m].
    stress : ndarray, shape (layers,)
        Change of sideways stress, tension positive, in parts of the bond stiffness [-].

    """

    before: Network
    after: Network
    edges: FloatArray
    stress: FloatArray

    def __post_init__(self) -> None:
        self.edges.flags.writeable = False
        self.stress.flags.writeable = False

    @property
    def depth(self) -> FloatArray:
        """Depth of the middle of each layer [m]."""
        return np.asarray((self.edges[1:] + self.edges[:-1]) / 2)

    @property
    def displacement(self) -> FloatArray:
        """How far every point moved, shape (n, 2) [m]."""
        return self.after.positions - self.before.positions

    @property
    def swapped(self) -> NDArray[np.bool_]:
        """Which ions are new, shape (ions,)."""
        pairs = zip(self.before.elements, self.after.elements, strict=True)
        return np.array([old != new for old, new in pairs], dtype=np.bool_)


def make(
    sites: int = 1000,
    seed: int = 1,
    ion: str = "Na",
    occupancy: float = 0.6,
    disorder: float = 0.23,
) -> Network:
    """Make a flat glass at rest: base held, top free, no squeeze sideways.

    Parameters
    ----------
    sites : int
        Network formers wanted, at least 60 [-]; about half as many rings.
    seed : int
        Same seed, same glass [-].
    ion : {"Li", "Na", "K", "Rb", "Cs"}
        What sits in the openings.
    occupancy : float
        Share of the closed rings that hold an ion, the widest first, 0 to 1 [-].
    disorder : float
        Scatter of the ring centres, 0 to 0.4 of their spacing [-]. The default makes about
        half of the rings six-membered; 0 makes a crystal.

    Returns
    -------
    Network
        With at least `sites` formers.

    Raises
    ------
    ValueError
        If an argument is out of range or the ion unknown.

    Notes
    -----
    The mix of rings resembles a glass's only loosely, and the stiffnesses of the springs are
    invented. Ions push only the oxygens of their own ring, not each other.

    References
    ----------
    .. [Zachariasen1932] The rules of a network glass, drawn in the plane.
    .. [MozziWarren1969] Silicon-oxygen distance in vitreous silica, 0.162 nm.
    .. [Shannon1976] Ionic radii, sixfold.

    Examples
    --------
    >>> glass = make(sites=100, seed=3)
    >>> glass.formers, len(glass.elements), glass.elements[0]
    (112, 26, 'Na')

    """
    one_of("ion", ion, IONS)
    in_range("occupancy", occupancy, 0.0, 1.0)
    rng = np.random.default_rng(whole("seed", seed))
    sheet = draw_sheet(sites, disorder, rng)
    hosts = _widest(sheet, occupancy, rng)
    radii = np.full(len(hosts), ionic_radius(ion))
    pairs, places = annealed(sheet, hosts, radii)
    return Network(
        positions=places * BOND,
        formers=sheet.formers,
        elements=(ion,) * len(hosts),
        radii=radii,
        hosts=hosts,
        rings=sheet.rings,
        bonds=sheet.bonds,
        width=pairs.period * BOND,
        surface=places[sheet.top, 1].mean().item() * BOND,
        pairs=pairs,
    )


def swap(
    network: Network,
    incoming: str = "K",
    fraction: float = 1.0,
    layer: float = 3e-9,
    seed: int = 1,
) -> Network:
    """Swap ions near the surface one for one, and leave everything where it is.

    Parameters
    ----------
    network : Network
        The glass; usually at rest.
    incoming : {"Li", "Na", "K", "Rb", "Cs"}
        What takes the place of the old ions.
    fraction : float
        Share of the layer's ions that are swapped, 0 to 1 [-].
    layer : float
        Depth to which ions are swapped [m].
    seed : int
        Chooses which ions go [-]. With the same seed a larger fraction swaps the same ions
        and more.

    Returns
    -------
    Network
        Same number of ions, same positions; not yet at rest.

    Raises
    ------
    ValueError
        If an argument is out of range or the ion unknown.

    Notes
    -----
    Nothing moves yet: `relax` lets it.

    References
    ----------
    [Shannon1976] for the radii.

    Examples
    --------
    >>> glass = make(sites=100, seed=3)
    >>> strong = swap(glass, "K", fraction=0.5, layer=1.5e-9)
    >>> len(strong.elements), strong.elements.count("K")
    (26, 6)

    """
    of_type("network", network, Network)
    one_of("incoming", incoming, IONS)
    in_range("fraction", fraction, 0.0, 1.0)
    positive("layer", layer, "m")
    # Lots are drawn for all ions, so that a deeper layer keeps the lots of a shallow one.
    lots = np.random.default_rng(whole("seed", seed)).permutation(len(network.elements))
    near = np.flatnonzero(network.ion_depths <= layer)
    chosen = near[np.argsort(lots[near])][: round(fraction * len(near))]
    elements = np.array(network.elements, dtype="U2")
    elements[chosen] = incoming
    radii = network.radii.copy()
    radii[chosen] = ionic_radius(incoming)
    return _with_ions(network, tuple(elements.tolist()), radii)


def relax(network: Network, tolerance: float = 1e-9) -> Network:
    """Let the glass find its rest, at the width it has and with its base held.

    Parameters
    ----------
    network : Network
        The glass, after a swap say.
    tolerance : float
        Largest force left on a point, in bond stiffness times bond length [-].

    Returns
    -------
    Network
        At rest.

    Raises
    ------
    ValueError
        If `tolerance` is not positive.
    RuntimeError
        If no rest is found.

    Notes
    -----
    A flat illustration with invented stiffnesses: compare its stresses with each other only.

    References
    ----------
    Own method: Newton steps on the energy of the pairs.

    Examples
    --------
    The surface rises when larger ions move in:

    >>> glass = make(sites=100, seed=3)
    >>> strong = relax(swap(glass, "K", layer=1.5e-9))
    >>> bool((strong.positions - glass.positions)[:, 1].max() > 0)
    True

    """
    of_type("network", network, Network)
    positive("tolerance", tolerance)
    places = settle(network.pairs, network.positions / BOND, tolerance)
    return replace(network, positions=places * BOND)


def layer_stress(before: Network, after: Network, layers: int = 12) -> LayerStress:
    r"""Read from the virial how the sideways stress changed, layer by layer.

    .. math:: \sigma = \frac{1}{w h} \sum f \frac{\Delta x^2}{r}

    summed over the pairs, each with the share of it that lies in the layer.

    Parameters
    ----------
    before, after : Network
        The same glass at rest before and after a swap.
    layers : int
        Number of equally thick layers from the surface to the base [-].

    Returns
    -------
    LayerStress
        Depths and stresses, surface first.

    Raises
    ------
    ValueError
        If `after` does not come from `before` or `layers` is below 1.

    Notes
    -----
    Layers are made of matter: a pair stays in the layer it was in before the swap, and force
    is divided by the layer's thickness of then. The top layer takes all above it. Its rings
    are open at the surface and hold fewer ions, so it always carries less. A layer should be
    thicker than a ring (about 0.6 nm), or the reading is mostly scatter.

    Examples
    --------
    >>> glass = make(sites=400, seed=3)
    >>> squeeze = layer_stress(glass, relax(swap(glass, "K", layer=2e-9)), layers=4)
    >>> bool(squeeze.stress[0] < 0), bool(abs(squeeze.stress[-1]) < 1e-4)
    (True, True)

    """
    of_type("before", before, Network)
    of_type("after", after, Network)
    layers = whole("layers", layers, 1, 10_000)
    if before.rings is not after.rings:
        raise ValueError("after must be the same glass as before, with ions swapped")
    edges = np.linspace(0.0, before.surface, layers + 1)
    old = pull(before.pairs, before.positions / BOND)
    new = pull(after.pairs, after.positions / BOND)
    depths = (before.surface - before.positions[:, 1])[old.ends]
    gained = _shares(depths, edges).T @ (sideways(new) - sideways(old))
    area = before.width * before.surface / layers / BOND**2
    return LayerStress(before=before, after=after, edges=edges, stress=gained / area)


def _shares(depths: FloatArray, edges: FloatArray) -> FloatArray:
    """Share of each pair in each layer, shape (pairs, layers); outer layers reach on."""
    thin = 1e-3 * BOND  # a level pair must lie somewhere
    low, high = depths.min(axis=1) - thin, depths.max(axis=1) + thin
    ends = np.concatenate([[-np.inf], edges[1:-1], [np.inf]])
    within = np.clip(ends, low[:, None], high[:, None])
    return np.asarray(np.diff(within, axis=1) / (high - low)[:, None])


def _with_ions(network: Network, elements: tuple[str, ...], radii: FloatArray) -> Network:
    pairs = replace(network.pairs, reach=reach(network.pairs.contacts, radii))
    return replace(network, elements=elements, radii=radii, pairs=pairs)


def _widest(sheet: Sheet, occupancy: float, rng: np.random.Generator) -> IntArray:
    """Choose the rings that hold ions: the largest, by lot among equals."""
    sizes = np.array([len(ring) for ring in sheet.rings])
    order = np.lexsort((rng.random(len(sizes)), -sizes))
    return np.sort(order[: round(occupancy * len(sizes))])
