# SPDX-License-Identifier: MIT
r"""Weight function of a straight-fronted crack that starts at the face of a plate.

.. math:: m(x, a) = \frac{2}{\sqrt{2\pi(a - x)}}
          \left[1 + M_1 s^{1/2} + M_2 s + M_3 s^{3/2}\right], \qquad s = 1 - x/a

A stress :math:`\sigma(x)` on the line of the crack gives the stress intensity
:math:`K = \int_0^a \sigma\,m\,dx`. The form is that of [GlinkaShen1991]_; its three
coefficients follow from the known answers for the stresses 1, x/a and (x/a)^2. The slope of
the mouth is left free: what is left of a cracked plate bends, so the crack opens like a hinge.

With :math:`x = a(1 - y^2)` every integral here is over a polynomial in :math:`y`.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.linalg import cholesky
from scipy.special import beta

from glasskit.quantities import FloatArray

DEEPEST = 0.6  # crack depth over thickness up to which the polynomials below were fitted
EDGE_CRACK = 1.121522  # K/(stress sqrt(pi depth)) of a crack in a half-plane: Koiter 1965

# K/(stress sqrt(pi a)) times (1 - a/t)^1.5 under the stresses 1, x/a and (x/a)^2 in a long
# plate with ends free to turn, in powers of a/t: own fit to finite elements. The first numbers
# are those of a half-plane, [Tada2000]. Within 0.05 % of an integral equation (tests).
_REFERENCES = np.array(
    [
        [EDGE_CRACK, -1.6312, 7.0706, -16.0599, 20.0651, -10.2816],
        [0.682863, -1.0033, 2.9349, -6.6643, 8.3118, -4.2224],
        [0.525491, -0.7763, 1.7424, -3.9245, 4.9188, -2.4956],
    ]
)


def _factors(ratio: FloatArray, count: int) -> FloatArray:
    """Return K/(stress sqrt(pi a)) under the first stresses, shape (..., count)."""
    rows = np.polynomial.polynomial.polyval(ratio, _REFERENCES[:count].T)
    return np.asarray(np.moveaxis(rows, 0, -1) / (1 - ratio[..., None]) ** 1.5)


def tension_factor(ratio: FloatArray) -> FloatArray:
    """Return K/(stress sqrt(pi a)) under uniform tension for depth over thickness `ratio`."""
    return np.asarray(_factors(ratio, 1)[..., 0])


# What each power of the root of 1 - x/a adds to K under the stress (x/a)^p, scaled.
_MOMENTS = np.array([[beta(p + 1, (k + 1) / 2) for k in range(4)] for p in range(3)])
_SOLVED = np.linalg.inv(_MOMENTS[:, 1:]).T


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
    known = np.pi / np.sqrt(2) * _factors(ratio, 3) - _MOMENTS[:, 0]
    return np.concatenate([np.ones_like(known[..., :1]), known @ _SOLVED], axis=-1)


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
