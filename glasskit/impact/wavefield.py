# SPDX-License-Identifier: MIT
"""Follow the waves of a blow over the far face: the largest pull that each place feels.

The bending of the modes, and under the ball what the thickness of the glass makes of it
(`glasskit.impact.layer`), on circles around the middle.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre
from scipy.interpolate import CubicSpline

from glasskit.impact.ball import Impact
from glasskit.impact.layer import bell_moments, spot_moments
from glasskit.impact.ringing import Modes, Pane, modes
from glasskit.quantities import FloatArray

_OUTWARDS, _AROUND = (legendre.leggauss(count) for count in (18, 3))  # circles, rays
_CORE = 0.1  # radius of the innermost disc, over the thickness
_BELL = 1 / 10  # width of the load whose field at rest is subtracted, over the shorter side
_SPOTS = 8  # contact radii between which the field under the ball is interpolated
_EVERY = 2  # steps between the instants at which all places are looked at


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Felt:
    """What blows leave behind on the far face; n blows, r circles, a rays.

    Attributes
    ----------
    distance : ndarray
        Radii of the circles around the middle [m], shape (r,).
    cells : ndarray
        Area that each place stands for [m^2], shape (r, a).
    pull : ndarray
        Largest tension ever felt along the radius and around it [Pa], shape (2, r, a, n).

    """

    distance: FloatArray
    cells: FloatArray
    pull: FloatArray


def felt(pane: Pane, impact: Impact) -> Felt:
    """Look at every place of the far face after blows on the middle of a pane.

    Parameters
    ----------
    pane : Pane
        What was struck.
    impact : Impact
        The blows, from `glasskit.impact.ball_on_pane`.

    Returns
    -------
    Felt
        Within the circle that fits between the edges; the corners outside it feel little.

    """
    distance, cells, rays = _places(pane)
    pull = _pull(pane, impact, distance, rays)
    return Felt(distance=distance, cells=cells, pull=pull)


def rim_squeeze(pane: Pane, impact: Impact) -> FloatArray:
    """Return how far bending squeezes the struck face at the rim of the contact, in time.

    Parameters
    ----------
    pane, impact
        As for `felt`.

    Returns
    -------
    ndarray, shape (n, k)
        Squeeze along the radius [Pa], positive; the stress of the contact itself left out.

    """
    contact, force = _contact(impact), impact.blow.force
    depth, ratio = pane.thickness, pane.glass.poisson
    known = np.linspace(0.05, 1.0, 2 * _SPOTS) * max(contact.max(), 1e-9)
    rim = np.diagonal(spot_moments(known, known, depth, ratio, "struck")[0])
    middle = spot_moments(known[:1] * 1e-3, known, depth, ratio)[0, 0]
    more = 6.0 / depth**2 * np.interp(contact, known, rim - middle)
    return np.asarray(np.atleast_2d(impact.tension) + force * more)


def _contact(impact: Impact) -> FloatArray:
    """Return the radius of the contact in time (n, k): it goes with the root of Hertz."""
    peak = np.atleast_1d(impact.peak_force)[:, None]
    return np.atleast_1d(impact.contact_radius)[:, None] * np.cbrt(impact.blow.force / peak)


def _places(pane: Pane) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return radii (r,), areas (r, a) and angles (a,) of places in all four quarters."""
    node, weight = _OUTWARDS
    core = _CORE * pane.thickness
    span = np.log(0.5 * min(pane.length, pane.width) / core) / 2
    ring = core * np.exp(span * (node + 1))
    distance = np.concatenate([[core / 2], ring])
    share = np.concatenate([[core**2 / 2], span * weight * ring**2])
    turn, part = _AROUND
    return distance, np.multiply.outer(share, np.pi * part), np.pi * (turn + 1) / 4


def _pull(pane: Pane, impact: Impact, distance: FloatArray, rays: FloatArray) -> FloatArray:
    """Return the largest tension along the radius and around it, shape (2, r, a, n)."""
    blow, contact = impact.blow, _contact(impact)
    found = blow.answer.modes
    swung = blow.swings()[..., ::_EVERY]
    per_shape = _turned(pane, found, distance, rays)
    ringing = per_shape @ found.vectors @ swung.reshape(len(swung), -1)
    hard = replace(pane.plain(), edges="pinned", support_stiffness=np.inf, damping=0.0)
    at_rest = _edges_at_rest(hard) - per_shape @ found.at_rest
    known = np.linspace(0.0, max(contact.max(), 1e-9), _SPOTS)
    table = spot_moments(distance, known, pane.thickness, pane.glass.poisson)
    under = CubicSpline(known, table, axis=-1)(contact[:, ::_EVERY])
    local = at_rest[..., None, None] + 6.0 / pane.thickness**2 * under[:, :, None]
    blows, instants = contact[:, ::_EVERY].shape
    whole = ringing.reshape(*ringing.shape[:-1], blows, instants)
    return np.asarray((whole + blow.force[:, ::_EVERY] * local).max(axis=-1))


def _turned(pane: Pane, found: Modes, distance: FloatArray, rays: FloatArray) -> FloatArray:
    """Return far-face tension along radius and around it per shape, shape (2, r, a, b)."""
    along = np.multiply.outer(distance, np.cos(rays))
    across = np.multiply.outer(distance, np.sin(rays))
    first, second, twist = found.shapes.bending(along, across, pane.glass.poisson)
    cos, sin = np.cos(rays)[:, None], np.sin(rays)[:, None]
    radial = cos**2 * first + sin**2 * second + 2 * sin * cos * twist
    return (
        6.0 * pane.rigidity / pane.thickness**2 * np.stack([radial, first + second - radial])
    )


@lru_cache(maxsize=64)
def _edges_at_rest(pane: Pane) -> FloatArray:
    """Return what held edges add to the far-face tension of an unbounded plate at rest.

    Per central force, shape (2, r, a): a bell-shaped load on the pane less the same on the
    unbounded plate, whose sharp middles cancel.
    """
    distance, _, rays = _places(pane)
    bell = _BELL * min(pane.length, pane.width)
    wave = np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness))
    held = modes(pane, wave * (6.5 / bell) ** 2)
    squared = sum(
        (np.pi * half_waves / side) ** 2
        for half_waves, side in zip(held.shapes.waves, (pane.length, pane.width), strict=True)
    )
    load = held.at_rest * np.exp(-squared * bell**2 / 2)
    unbounded = bell_moments(distance, bell, pane.glass.poisson)[:, :, None]
    bounded = _turned(pane, held, distance, rays) @ load
    return np.asarray(bounded - 6.0 / pane.thickness**2 * unbounded)
