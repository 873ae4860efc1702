# SPDX-License-Identifier: MIT
"""Residual stress through the thickness of a plate, and loads on top of it.

Signs: tension is positive, compression negative; `surface_compression` arguments are positive
numbers. Depth is measured from one face inwards, from 0 to the thickness. All profiles are the
same in both directions of the plane (equibiaxial) and hold away from the edges of the plate.

A plate that nobody pushes on is in balance: what its skin is squeezed, its core is stretched,
so the stress sums to zero through the thickness and has no moment.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq
from scipy.special import erfc

from glasskit.quantities import (
    FloatArray,
    doubt,
    finite,
    in_range,
    positive,
    read_only,
    require,
)

PARABOLA_CASE = (1 - 1 / np.sqrt(3)) / 2  # zero of a balanced parabola, as share of thickness

_GAUSS_NODES, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(16)


class Elastic(Protocol):
    """What stored energy needs to know of a glass."""

    @property
    def modulus(self) -> float:
        """Young's modulus [Pa]."""

    @property
    def poisson(self) -> float:
        """Poisson ratio [-]."""


# Shapes are small classes and not lambdas, so that profiles can be compared and sent to
# another process.


@dataclass(frozen=True, slots=True)
class _Parabola:
    squeeze: float
    size: float

    def __call__(self, depth: FloatArray) -> FloatArray:
        return np.asarray(self.squeeze / 2 * (1 - 3 * (1 - 2 * depth / self.size) ** 2))


@dataclass(frozen=True, slots=True)
class _Swapped:
    """Share of swapped ions less its mean, scaled to what the faces are squeezed."""

    squeeze: float
    size: float
    length: float
    level: float
    rise: float

    def __call__(self, depth: FloatArray) -> FloatArray:
        share = _swapped(depth, self.length, self.size)
        return np.asarray(-self.squeeze * (share - self.level) / self.rise)


@dataclass(frozen=True, slots=True)
class _Curve:
    """Curve through points, less the mean and the tilt that its sampling left."""

    points: tuple[tuple[float, float], ...]
    mean: float
    tilt: float
    through: PchipInterpolator = field(compare=False)

    def __call__(self, depth: FloatArray) -> FloatArray:
        place = depth / self.points[-1][0]
        return np.asarray(self.through(depth) - self.mean - self.tilt * (1 - 2 * place))


@dataclass(frozen=True, slots=True)
class _Loaded:
    """Another shape under uniform tension."""

    base: Callable[[FloatArray], FloatArray]
    tension: float

    def __call__(self, depth: FloatArray) -> FloatArray:
        return np.asarray(self.base(depth) + self.tension)


def _swapped(depth: FloatArray, length: float, size: float) -> FloatArray:
    return np.asarray(erfc(depth / length) + erfc((size - depth) / length))


@dataclass(frozen=True, slots=True, kw_only=True)
class StressProfile:
    """Stress in the plane of a plate as a function of depth; call it with a depth.

    Attributes
    ----------
    kind : str
        How the profile came about, in a word or two.
    thickness : float
        Thickness of the plate [m].
    shape : callable
        Stress [Pa] at an array of depths [m].
    edges : ndarray
        Ascending depths from 0 to `thickness` between which `shape` is smooth [m]; sums
        through the thickness are taken piece by piece.

    """

    kind: str
    thickness: float
    shape: Callable[[FloatArray], FloatArray]
    edges: FloatArray = field(compare=False)  # where the shape has its joints

    def __call__(self, depth: ArrayLike) -> FloatArray:
        """Return the stress at `depth` [Pa], of the shape of `depth` [m]."""
        place = in_range("depth", depth, 0.0, self.thickness, "m")
        return np.asarray(self.shape(place))

    @property
    def surface(self) -> float:
        """Stress at the face where depth is zero [Pa]."""
        return self(0.0).item()

    @property
    def centre(self) -> float:
        """Stress half-way through the thickness [Pa]."""
        return self(self.thickness / 2).item()

    @property
    def case_depth(self) -> float:
        """Depth of the compressed skin: where the stress first rises through zero [m].

        Zero where the face is not in compression.
        """
        depth, _ = self._nodes()
        depth = np.concatenate(([0.0], depth[depth <= self.thickness / 2]))
        stress = self.shape(depth)
        if stress[0] >= 0:
            return 0.0
        stretched = np.flatnonzero(stress >= 0)
        if not stretched.size:
            return self.thickness / 2
        first = stretched[0]
        return float(brentq(self.shape, depth[first - 1], depth[first], xtol=1e-15))

    def net_force(self) -> float:
        """Sum of the stress through the thickness: force for each metre of width [N/m]."""
        depth, weight = self._nodes()
        return float(weight @ self.shape(depth))

    def net_moment(self) -> float:
        """Moment about the mid-plane for each metre of width [N].

        Positive where it stretches the face at depth zero.
        """
        depth, weight = self._nodes()
        return float(weight @ (self.shape(depth) * (self.thickness / 2 - depth)))

    def stored_energy(self, glass: Elastic) -> float:
        r"""Elastic energy stored for each square metre of plate [J/m^2].

        .. math:: U = \frac{1 - \nu}{E} \int_0^t \sigma^2\,dx

        the equibiaxial plane-stress energy; away from the edges only.
        """
        depth, weight = self._nodes()
        compliance = (1 - glass.poisson) / glass.modulus
        return float(compliance * (weight @ self.shape(depth) ** 2))

    def with_tension(self, tension: float) -> "StressProfile":
        """Return this profile with a uniform stress added, tension positive [Pa]."""
        return StressProfile(
            kind=f"{self.kind}, loaded",
            thickness=self.thickness,
            shape=_Loaded(self.shape, finite("tension", tension, "Pa").item()),
            edges=self.edges,
        )

    def _nodes(self) -> tuple[FloatArray, FloatArray]:
        """Gauss points and weights through the thickness, piece by piece."""
        half = np.diff(self.edges)[:, None] / 2
        middle = (self.edges[1:, None] + self.edges[:-1, None]) / 2
        return (middle + half * _GAUSS_NODES).ravel(), (half * _GAUSS_WEIGHTS).ravel()


def annealed(thickness: float) -> StressProfile:
    """Return the profile of a slowly cooled plate: no residual stress.

    Parameters
    ----------
    thickness : float
        Thickness [m].

    Returns
    -------
    StressProfile
        Zero stress at every depth.

    Raises
    ------
    ValueError
        If `thickness` is not finite and positive.

    Notes
    -----
    Real annealed panes keep a few megapascals (common practice, no source).

    Examples
    --------
    >>> annealed(4e-3).surface
    0.0

    """
    size = positive("thickness", thickness, "m").item()
    doubt("thickness", size, "thickness")
    return StressProfile(
        kind="annealed", thickness=size, shape=np.zeros_like, edges=read_only([0.0, size])[0]
    )


def tempered(surface_compression: float, thickness: float) -> StressProfile:
    r"""Return the parabola left by a quench that cools both faces alike.

    .. math:: \sigma(x) = \frac{S}{2}\left[1 - 3\left(1 - \frac{2x}{t}\right)^2\right]

    Parameters
    ----------
    surface_compression : float
        Compression at the faces :math:`S`, a positive number [Pa].
    thickness : float
        Thickness :math:`t` [m].

    Returns
    -------
    StressProfile
        In balance by its form: the core is stretched by half of what the face is squeezed,
        and the skin ends at 21.1 % of the thickness.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    The parabola is the limit of mild cooling; a hard quench is steeper at the face. Surface
    compression of 69 MPa or more counts as fully tempered, 24 to 52 MPa as heat-strengthened
    [ASTMC1048]_.

    Examples
    --------
    A 6 mm pane with 100 MPa at its faces carries 50 MPa of tension in its core:

    >>> tempered(100e6, 6e-3).centre
    50000000.0

    """
    squeeze = positive("surface_compression", surface_compression, "Pa").item()
    size = positive("thickness", thickness, "m").item()
    doubt("surface_compression", squeeze, "stress")
    doubt("thickness", size, "thickness")
    return StressProfile(
        kind="tempered",
        thickness=size,
        shape=_Parabola(squeeze, size),
        edges=read_only([0.0, size])[0],
    )


def exchanged(
    surface_compression: float, case_depth: float, thickness: float
) -> StressProfile:
    r"""Return the profile of a plate whose two faces took in bigger ions from a salt bath.

    .. math:: \sigma(x) = -S\,\frac{c(x) - \bar c}{c(0) - \bar c}, \qquad
              c(x) = \operatorname{erfc}\frac{x}{\ell} + \operatorname{erfc}\frac{t - x}{\ell}

    The stress follows the swapped share of ions :math:`c`, less its mean through the plate.

    Parameters
    ----------
    surface_compression : float
        Compression at the faces :math:`S`, a positive number [Pa].
    case_depth : float
        Depth of the compressed skin, where the stress passes through zero [m].
    thickness : float
        Thickness :math:`t` [m].

    Returns
    -------
    StressProfile
        In balance; the diffusion length :math:`\ell` is solved for so that the skin ends at
        `case_depth`.

    Raises
    ------
    ValueError
        If an argument is not finite and positive, or `case_depth` is over 0.21 of the
        thickness (a diffusing layer cannot be balanced with a deeper skin).

    Notes
    -----
    Constant diffusivity, constant share of ions at the face [Crank1975]_, stress in
    proportion to the swapped share [Cooper1969]_, no relaxation. Real baths depart from it:
    see `glasskit.toughening.salt_bath`.

    Examples
    --------
    A cover glass 0.7 mm thick, 700 MPa at the face, compressed 40 µm deep: its core is
    stretched by

    >>> round(exchanged(700e6, 40e-6, 0.7e-3).centre / 1e6, 1)
    33.5

    """
    squeeze = positive("surface_compression", surface_compression, "Pa").item()
    skin = positive("case_depth", case_depth, "m").item()
    size = positive("thickness", thickness, "m").item()
    doubt("surface_compression", squeeze, "stress")
    doubt("thickness", size, "thickness")
    require(skin <= 0.21 * size, "case_depth", skin, f"be at most {0.21 * size:g} m", "m")

    def mean(length: float) -> float:
        ratio = size / length
        one_face = erfc(ratio) + (1 - np.exp(-(ratio**2))) / (np.sqrt(np.pi) * ratio)
        return float(2 * one_face)

    def excess_at_skin(length: float) -> float:
        return float(_swapped(np.asarray(skin), length, size) - mean(length))

    # Below, the skin would lie deeper than five diffusion lengths; above, it is a parabola.
    length = float(brentq(excess_at_skin, skin / 5, 4 * size, xtol=1e-14))
    level = mean(length)
    rise = (_swapped(np.asarray(0.0), length, size) - level).item()
    layers = length * np.array([0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0])
    layers = layers[layers < 0.49 * size]
    return StressProfile(
        kind="exchanged",
        thickness=size,
        shape=_Swapped(squeeze, size, length, level, rise),
        edges=read_only(
            np.concatenate(([0], layers, [size / 2], size - layers[::-1], [size]))
        )[0],
    )


def sampled(depth: ArrayLike, stress: ArrayLike, *, kind: str = "sampled") -> StressProfile:
    """Return a profile through computed or measured points.

    Parameters
    ----------
    depth : array_like, shape (n,)
        Ascending depths from zero to the thickness [m], at least three.
    stress : array_like, shape (n,)
        Stress at those depths, tension positive [Pa].
    kind : str
        How the profile came about.

    Returns
    -------
    StressProfile
        Shape-preserving cubic between the points, brought into balance: the mean and the
        tilt that sampling left are taken off. The two faces need not be alike.

    Raises
    ------
    ValueError
        If the depths do not ascend from zero, the lengths differ, a number is not finite, or
        the points are out of balance by more than 2 % of the largest stress.

    Notes
    -----
    Monotone cubics between the points. What is out of balance by less is taken off as a mean
    and a tilt, so a coarse or crooked reading moves by up to 2 % of its largest stress.

    References
    ----------
    Definition.

    Examples
    --------
    >>> depth = np.linspace(0, 6e-3, 41)
    >>> parabola = tempered(100e6, 6e-3)
    >>> round(sampled(depth, parabola(depth)).case_depth / 6e-3, 3)
    0.211

    """
    place = finite("depth", depth, "m")
    level = finite("stress", stress, "Pa")
    require(
        place.ndim == 1 and place.size >= 3, "depth", place.size, "hold three points or more"
    )
    require(level.shape == place.shape, "stress", level.size, f"hold {place.size} points")
    require(place[0] == 0, "depth", place[0], "start at zero", "m")
    require(np.diff(place) > 0, "depth", place[1:], "ascend", "m")
    curve = PchipInterpolator(place, level)
    points = tuple(zip(place.tolist(), level.tolist(), strict=True))
    edges, size = read_only(place)[0], float(place[-1])
    raw = StressProfile(kind=kind, thickness=size, shape=curve, edges=edges)
    mean = raw.net_force() / size
    tilt = 6 * raw.net_moment() / size**2
    most = float(np.abs(level).max())
    require(
        max(abs(mean), abs(tilt)) <= 0.02 * most,
        "stress",
        max(mean, tilt, key=abs),
        f"balance through the thickness to within {0.02 * most:g} Pa",
        "Pa",
    )
    return StressProfile(
        kind=kind,
        thickness=size,
        shape=_Curve(points, mean, tilt, curve),
        edges=edges,
    )
