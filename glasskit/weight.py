# SPDX-License-Identifier: MIT
r"""Weight function of a straight-fronted crack that starts at the face of a plate.

.. math:: m(x, a) = \frac{2}{\sqrt{2\pi(a - x)}}
          \left[1 + M_1 s^{1/2} + M_2 s + M_3 s^{3/2}\right], \qquad s = 1 - x/a

A stress :math:`\sigma(x)` on the line of the crack gives the stress intensity
:math:`K = \int_0^a \sigma\,m\,dx`. The form is that of [GlinkaShen1991]_; its three
coefficients follow from the known answers for uniform tension and for pure bending and from
the mouth of the crack opening with zero slope.

With :math:`x = a(1 - y^2)` every integral here is over a polynomial in :math:`y`.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.linalg import cholesky
from scipy.special import beta

from glasskit.quantities import FloatArray

__all__ = [
    "DEEPEST",
    "Compliance",
    "coefficients",
    "compliance",
    "moment_factor",
    "tension_factor",
]

DEEPEST = 0.6  # crack depth over thickness up to which the polynomials below are published

# Half-plane, K/(stress sqrt(pi a)) for uniform stress and for stress rising as x/a:
# Koiter 1965 and [Tada2000], integral equation solved.
HALF_PLANE_UNIFORM = 1.12152
HALF_PLANE_LINEAR = 0.682863

# Finite plate, [Tada2000], 0.5 % and 0.2 % up to DEEPEST; the first number of each, printed
# as 1.122, is replaced by the half-plane value.
_TENSION = np.polynomial.Polynomial([HALF_PLANE_UNIFORM, -0.231, 10.550, -21.710, 30.382])
_BENDING = np.polynomial.Polynomial([HALF_PLANE_UNIFORM, -1.40, 7.33, -13.08, 14.0])


def tension_factor(ratio: FloatArray) -> FloatArray:
    """Return K/(stress sqrt(pi a)) under uniform tension for depth over thickness `ratio`."""
    return np.asarray(_TENSION(ratio))


@lru_cache(maxsize=1)
def _moment_polynomial() -> np.polynomial.Polynomial:
    """Fit K/(stress sqrt(pi a)) under stress x/a to the difference of tension and bending.

    Their plain difference, divided by the depth ratio, misses the half-plane value for
    shallow cracks, where the published polynomials differ by less than their error. So that
    value is held, and the far face is let in from the second power on, as its distance asks.
    """
    ratio = np.linspace(0, DEEPEST, 61)[1:]
    wanted = (_TENSION(ratio) - _BENDING(ratio)) / (2 * ratio) - HALF_PLANE_LINEAR
    weight = 2 * ratio / _BENDING(ratio)
    powers = ratio[:, None] ** [2, 3, 4]
    rise, *_ = np.linalg.lstsq(powers * weight[:, None], wanted * weight, rcond=None)
    return np.polynomial.Polynomial([HALF_PLANE_LINEAR, 0.0, *rise])


def moment_factor(ratio: FloatArray) -> FloatArray:
    """Return K/(stress sqrt(pi a)) under the stress x/a for depth over thickness `ratio`."""
    return np.asarray(_moment_polynomial()(ratio))


# Conditions on M1, M2, M3: uniform stress, stress x/a, zero slope at the mouth.
_CONDITIONS = np.linalg.inv(
    [[1, 2 / 3, 1 / 2], [1 / 2, beta(2, 3 / 2), beta(2, 2)], [0, 1 / 2, 1]]
)


def coefficients(ratio: FloatArray) -> FloatArray:
    """Return 1, M1, M2, M3 of the weight function.

    Parameters
    ----------
    ratio : ndarray
        Crack depth over thickness, 0 to `DEEPEST`; zero is the half-plane [-].

    Returns
    -------
    ndarray, shape (..., 4)
        The coefficients of the powers 0 to 3 of the square root of ``1 - x/a`` [-].

    """
    uniform = np.pi / np.sqrt(2) * tension_factor(ratio) - 2
    linear = np.pi / np.sqrt(2) * moment_factor(ratio) - beta(2, 1 / 2)
    known = np.stack([uniform, linear, np.full_like(uniform, 0.5)], axis=-1)
    return np.concatenate([np.ones_like(known[..., :1]), known @ _CONDITIONS.T], axis=-1)


@dataclass(frozen=True, slots=True, eq=False)
class Compliance:
    """How the faces of a crack of unit depth give way, for one depth over thickness.

    Attributes
    ----------
    pressed : ndarray, shape (q, n)
        Stress intensity at `q` depths on the way to the full one, times the root of the
        quadrature weight, for a unit pressure at each of the `n` places.
    loaded : ndarray, shape (q, m)
        The same for a unit stress at each of the `m` finer places where stress is read.
    tip : ndarray, shape (n,)
        Stress intensity at the full depth for a unit pressure at each place.
    gram : ndarray, shape (n, n)
        Opening summed around each place for a unit pressure at each other.
    factor : ndarray, shape (n, n)
        Upper triangle whose square is `gram`.

    """

    pressed: FloatArray
    loaded: FloatArray
    tip: FloatArray
    gram: FloatArray
    factor: FloatArray


_CELLS = 40  # a doubling moves K by less than 0.1 % (tests/test_crack.py)
_FINER = 4


def _crowded(cells: int) -> FloatArray:
    """Places from mouth (0) to tip (1) that crowd at both ends."""
    return np.asarray((1 - np.cos(np.pi * np.linspace(0, 1, cells + 1))) / 2)


PRESSED_AT = _crowded(_CELLS)
LOADED_AT = _crowded(_CELLS * _FINER)
HAT_AREA = np.convolve(np.diff(PRESSED_AT), [0.5, 0.5])  # share of the depth at each place


@lru_cache(maxsize=1)
def _powers() -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Stress intensity for each power of the weight function, valid for any thickness."""
    nodes, weights = np.polynomial.legendre.leggauss(4)
    half = np.diff(PRESSED_AT)[:, None] / 2
    depth = (PRESSED_AT[1:, None] - half + half * nodes).ravel()
    root_weight = np.sqrt((half * weights).ravel())[:, None]
    full = np.ones(1)
    return (
        depth,
        root_weight * _hat_intensity(depth, PRESSED_AT),
        root_weight * _hat_intensity(depth, LOADED_AT),
        _hat_intensity(full, PRESSED_AT)[:, 0],
    )


def _hat_intensity(depth: FloatArray, places: FloatArray) -> FloatArray:
    """Stress intensity at `depth` for hat-shaped stresses at `places`, power by power.

    Returns shape (4, depths, places).
    """
    nodes, weights = np.polynomial.legendre.leggauss(3)  # exact: the integrands are quintic
    root = np.sqrt(np.maximum(1 - places / depth[:, None], 0.0))
    high, low = root[:, :-1, None], root[:, 1:, None]
    y = (high + low) / 2 + (high - low) / 2 * nodes
    step = (high - low) / 2 * weights
    x = depth[:, None, None] * (1 - y**2)
    rise = (x - places[:-1, None]) / np.diff(places)[:, None]
    scale = np.sqrt(8 * depth / np.pi)[:, None]
    out = np.zeros((4, depth.size, places.size))
    for power in range(4):
        moment = step * y**power
        out[power, :, :-1] += scale * (moment * (1 - rise)).sum(-1)
        out[power, :, 1:] += scale * (moment * rise).sum(-1)
    return out


@lru_cache(maxsize=64)
def compliance(ratio: float) -> Compliance:
    """Return the compliance of a crack whose depth is `ratio` of the thickness."""
    depth, pressed, loaded, tip = _powers()
    on_the_way = coefficients(ratio * depth).T[:, :, None]
    opened = (on_the_way * pressed).sum(0)
    gram = opened.T @ opened
    return Compliance(
        pressed=opened,
        loaded=(on_the_way * loaded).sum(0),
        tip=coefficients(np.asarray(ratio)) @ tip,
        gram=gram,
        factor=cholesky(gram, check_finite=False),
    )
