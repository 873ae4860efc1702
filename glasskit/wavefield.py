# SPDX-License-Identifier: MIT
"""Follow the waves of a blow over the far face: the largest pull that each place feels.

The bending of the modes, and under the ball what the thickness of the glass makes of it
(`glasskit.layer`), on circles around the middle.
"""

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from scipy.interpolate import CubicSpline

from glasskit.contact import contact_modulus, contact_stiffness, hertz_contact, knock_duration
from glasskit.knock import Knock, knock
from glasskit.layer import bell_moments, spot_moments
from glasskit.pane import Modes, Pane, modes
from glasskit.pane_impact import far_tension
from glasskit.quantities import FloatArray

__all__ = ["Felt", "Striker", "felt"]

_RINGS, _RAYS = 22, 4
_CORE = 0.1  # radius of the innermost disc, over the thickness
_BELL = 1 / 24  # width of the load whose field at rest is subtracted, over the shorter side
_SPOTS = 8  # contact radii between which the field under the ball is interpolated
_EVERY = 2  # steps between the instants at which all places are looked at
_LONGEST = 1500  # steps


class Striker(Protocol):
    """Whatever strikes with a round face: a ball, the head of a hammer."""

    @property
    def mass(self) -> float:
        """Mass [kg]."""

    @property
    def radius(self) -> float:
        """Radius of the face [m]."""

    @property
    def solid(self) -> "StrikerMaterial":
        """What it is made of."""


class StrikerMaterial(Protocol):
    """Whatever has a plane-strain modulus."""

    @property
    def plane_strain_modulus(self) -> float:
        """Young's modulus over one less Poisson's ratio squared [Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Felt:
    """What blows leave behind on the far face; n blows, k instants, r circles, a rays.

    Attributes
    ----------
    distance : ndarray
        Radii of the circles around the middle [m], shape (r,).
    cells : ndarray
        Area that each place stands for [m^2], shape (r, a).
    rays : ndarray
        Angles of the rays from the length [rad], shape (a,).
    time : ndarray
        Instants [s], shape (k,).
    tension : ndarray
        Tension in the middle, in the direction where it peaks [Pa], shape (n, k).
    squeeze : ndarray
        Bending squeeze of the struck face along the radius, at the rim of the contact [Pa],
        shape (n, k).
    contact_radius : ndarray
        Radius of the contact [m], shape (n, k).
    rim_tension : ndarray
        Tension of the struck face at that rim, of the contact alone [Pa], shape (n, k).
    blow : Knock
        Force and movement.
    pane : Pane
        What was struck.

    """

    distance: FloatArray
    cells: FloatArray
    rays: FloatArray
    time: FloatArray
    tension: FloatArray
    squeeze: FloatArray
    contact_radius: FloatArray
    rim_tension: FloatArray
    blow: Knock
    pane: Pane

    def pull(self) -> FloatArray:
        """Return the largest tension each place felt [Pa], shape (2, r, a, n).

        Along the radius and around it.
        """
        return _pull(self.pane, self.blow, self.contact_radius, self.distance, self.rays)


def felt(
    ball: Striker,
    pane: Pane,
    speed: FloatArray,
    *,
    steps: int = 20,
    highest: float = 40.0,
    follow: float | None = None,
) -> Felt:
    """Strike the middle of a pane and follow its far face.

    Parameters
    ----------
    ball : Striker
        What strikes.
    pane : Pane
        What it strikes.
    speed : ndarray
        Speeds at touch [m/s], shape (n,).
    steps, highest, follow
        As for `glasskit.impact.ball_on_pane`, coarser.

    Returns
    -------
    Felt
        Within the circle that fits between the edges; the corners outside it feel little.

    """
    modulus = contact_modulus(ball.solid, pane.glass)
    stiffness = contact_stiffness(ball.radius, modulus).item()
    brief = knock_duration(ball.mass, speed.max(), stiffness).item()
    if follow is None:
        swing = 2 * np.pi * np.sqrt((ball.mass + pane.mass / 4) * pane.compliance())
        follow = min(3 * brief + swing, _LONGEST * brief / steps)
    step = brief / steps
    blow = knock(
        ball.mass, stiffness, pane, speed, step, int(follow / step) + 1, highest / brief
    )
    pressed = hertz_contact(blow.force, ball.radius, modulus, pane.glass.poisson)
    tension = far_tension(pane, blow, pressed.contact_radius)
    distance, cells, rays = _places(pane)
    return Felt(
        distance=distance,
        cells=cells,
        rays=rays,
        time=np.arange(tension.shape[-1]) * np.float64(step),
        tension=tension,
        squeeze=tension + blow.force * _rim_less_middle(pane, pressed.contact_radius),
        contact_radius=pressed.contact_radius,
        rim_tension=pressed.rim_tension,
        blow=blow,
        pane=pane,
    )


def _places(pane: Pane) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return radii (r,), areas (r, a) and angles (a,) of places in all four quarters."""
    node, weight = np.polynomial.legendre.leggauss(_RINGS)
    core = _CORE * pane.thickness
    span = np.log(0.5 * min(pane.length, pane.width) / core) / 2
    ring = core * np.exp(span * (node + 1))
    distance = np.concatenate([[core / 2], ring])
    share = np.concatenate([[core**2 / 2], span * weight * ring**2])
    turn, part = np.polynomial.legendre.leggauss(_RAYS)
    return distance, np.multiply.outer(share, np.pi * part), np.pi * (turn + 1) / 4


def _pull(
    pane: Pane, blow: Knock, contact: FloatArray, distance: FloatArray, rays: FloatArray
) -> FloatArray:
    """Return the largest tension along the radius and around it, shape (2, r, a, n)."""
    found = blow.answer.modes
    per_shape = _turned(pane, found, distance, rays)
    ringing = per_shape @ found.vectors @ _every_other(blow)
    at_rest = _smooth(pane, distance, rays) - per_shape @ found.at_rest
    known = np.linspace(0.0, max(contact.max(), 1e-9), _SPOTS)
    table = spot_moments(distance, known, pane.thickness, pane.glass.poisson)
    under = CubicSpline(known, table, axis=-1)(contact[:, ::_EVERY])
    local = at_rest[..., None, None] + 6.0 / pane.thickness**2 * under[:, :, None]
    blows, instants = contact[:, ::_EVERY].shape
    whole = ringing.reshape(*ringing.shape[:-1], blows, instants)
    return np.asarray((whole + blow.force[:, ::_EVERY] * local).max(axis=-1))


def _every_other(blow: Knock) -> FloatArray:
    """Return amplitudes at every second instant, shape (m, n k/2)."""
    found = blow.answer.modes
    swung = blow.carried(np.eye(found.frequency.size))[..., ::_EVERY]
    return swung.reshape(len(swung), -1)


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


def _smooth(pane: Pane, distance: FloatArray, rays: FloatArray) -> FloatArray:
    """Return what held edges add to the far-face tension of an unbounded plate at rest.

    Per central force, shape (2, r, a): a bell-shaped load on the pane less the same on the
    unbounded plate, whose sharp middles cancel.
    """
    bell = _BELL * min(pane.length, pane.width)
    wave = np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness))
    hard = replace(pane, edges="pinned", support_stiffness=np.inf)
    held = modes(hard, wave * (6.5 / bell) ** 2)
    squared = sum(
        (np.pi * half_waves / side) ** 2
        for half_waves, side in zip(held.shapes.waves, (pane.length, pane.width), strict=True)
    )
    load = held.at_rest * np.exp(-squared * bell**2 / 2)
    unbounded = bell_moments(distance, bell, pane.glass.poisson)[:, :, None]
    bounded = _turned(pane, held, distance, rays) @ load
    return np.asarray(bounded - 6.0 / pane.thickness**2 * unbounded)


def _rim_less_middle(pane: Pane, contact: FloatArray) -> FloatArray:
    """Return by how much the struck face's rim is bent more than the far face's middle."""
    depth, ratio = pane.thickness, pane.glass.poisson
    known = np.linspace(0.05, 1.0, 2 * _SPOTS) * max(contact.max(), 1e-9)
    rim = np.diagonal(spot_moments(known, known, depth, ratio, "struck")[0])
    middle = spot_moments(known[:1] * 1e-3, known, depth, ratio)[0, 0]
    return np.asarray(6.0 / depth**2 * np.interp(contact, known, rim - middle))
