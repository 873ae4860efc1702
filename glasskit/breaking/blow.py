# SPDX-License-Identifier: MIT
r"""Follow the bending that a blow sends out over a pane, from the first touch on.

A push on an unbounded thin plate, summed exactly. With :math:`x = r^2/(4 b t)` and
:math:`b = \sqrt{D/(\rho h)}` a push :math:`F` that stays from time zero on stretches the far
face by

.. math:: \frac{\sigma_r + \sigma_\theta}{2} = -\frac{3 (1+\nu) F}{4 \pi h^2}\,
    \mathrm{Ci}(x), \qquad
    \sigma_\theta - \sigma_r = \frac{3 (1-\nu) F}{2 \pi h^2}\,\frac{\sin x}{x}

and a push that swells is a sum of such steps. Near the ball this is the handbook's pane whose
edge stands where the waves have come to.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import sici

from glasskit.bending.panes import equivalent_radius
from glasskit.impact import Impact, Pane
from glasskit.quantities import (
    FloatArray,
    non_negative,
    of_type,
    positive,
    read_only,
    require,
)

_BEFORE, _AFTER = 6, 14  # steps in which a push is followed, up to the break and from then on


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blow:
    """What pushes on a pane while it breaks.

    Attributes
    ----------
    time : ndarray
        Instants since the first touch, from zero on until the ball lets go [s], shape (k,).
    force : ndarray
        Push at those instants; between them it changes evenly [N], shape (k,).
    begins : float
        Time from the first touch to the break [s].

    """

    time: FloatArray
    force: FloatArray
    begins: float

    def __post_init__(self) -> None:
        time = non_negative("time", self.time, "s")
        force = non_negative("force", self.force, "N")
        begins = positive("begins", self.begins, "s")
        require(time.ndim == 1 and time.size > 1, "time", time.size, "be a row of instants")
        require(np.diff(time) > 0, "time", time[1:], "ascend", "s")
        require(force.shape == time.shape, "force", force.size, f"hold {time.size} numbers")
        require(begins <= time[-1], "begins", begins, "not lie after the last time", "s")
        for name, value in (("time", time), ("force", force)):
            object.__setattr__(self, name, read_only(value)[0])

    @property
    def ends(self) -> float:
        """Time from the first touch until the ball lets go [s]."""
        return float(self.time[-1])

    def push(self, time: ArrayLike) -> FloatArray:
        """Return the push at a time since the first touch [N]; none once the ball is off."""
        moment = non_negative("time", time, "s")
        return np.asarray(np.interp(moment, self.time, self.force, right=0.0))


def blow_at(impact: Impact, tension: float) -> Blow:
    """Return the blow of a ball on a pane that breaks when its far face comes to a tension.

    Parameters
    ----------
    impact : Impact
        One blow on a whole pane, from `glasskit.impact.ball_on_pane`.
    tension : float
        Bending tension of the far face at which the pane breaks; of a toughened pane its
        squeeze is part of it [Pa].

    Returns
    -------
    Blow
        The push of the first touch, and when the pane breaks.

    Raises
    ------
    ValueError
        If `tension` is not positive or more than the blow reaches.

    Notes
    -----
    A pane with cracks pushes back less than a whole one: after the break the push is the most
    that it can be.

    References
    ----------
    [Zener1941]; see `glasskit.impact.ball_on_pane`.

    Examples
    --------
    Half a metre of fall, and a pane that breaks at 60 MPa; time in microseconds:

    >>> from glasskit.impact import ball_of_mass, ball_on_pane, drop_speed
    >>> from glasskit.materials import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> knock = ball_on_pane(ball_of_mass(0.227, solid("steel")), pane, drop_speed(0.5))
    >>> round(1e6 * blow_at(knock, 60e6).begins)
    8

    """
    of_type("impact", impact, Impact)
    wanted = positive("tension", tension, "Pa").item()
    trace, force = np.atleast_2d(impact.tension)[0], np.atleast_2d(impact.force)[0]
    most = float(trace.max())
    require(wanted <= most, "tension", wanted, f"be at most {most:.4g} Pa in this blow", "Pa")
    after = max(int(np.argmax(trace >= wanted)), 1)
    share = (wanted - trace[after - 1]) / (trace[after] - trace[after - 1])
    begins = float(impact.time[after - 1] + share * impact.time[1])
    free = np.flatnonzero(force[1:] <= 0)
    last = max(int(free[0]) + 1 if free.size else len(force) - 1, after)
    ends = max(float(impact.time[last]), begins)
    before, after_it = np.linspace(0, begins, _BEFORE), np.geomspace(begins, ends, _AFTER)
    time = np.unique(np.concatenate([before, after_it[1:-1], [ends]]))
    return Blow(time=time, force=np.interp(time, impact.time, force), begins=begins)


def bending_tension(
    distance: ArrayLike, time: float, blow: Blow, pane: Pane
) -> tuple[FloatArray, FloatArray]:
    """Return how far a blow stretches the far face, along the radius and around it.

    Parameters
    ----------
    distance : array_like
        Distance from the blow [m].
    time : float
        Time since the first touch [s].
    blow : Blow
        The push.
    pane : Pane
        Thickness and glass; its size is left out.

    Returns
    -------
    tuple of ndarray
        Tension along the radius and around it [Pa]; negative where the struck face is
        stretched by as much.

    Raises
    ------
    ValueError
        If `distance` or `time` is negative or not finite.

    Notes
    -----
    A thin plate without edges, without cracks; waves shorter than the pane is thick are wrong.
    Under the ball the handbook's equivalent radius of a point load stands in.

    References
    ----------
    [Zener1941] for the plate, [Roark] for the radius under the push; the closed form is an
    own method.

    Examples
    --------
    A push that swells to two kilonewtons in a tenth of a millisecond, 10 mm away, in MPa:

    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> push = Blow(time=[0.0, 1e-4], force=[0.0, 2e3], begins=2e-5)
    >>> [(pull / 1e6).round().item() for pull in bending_tension(0.01, 1e-4, push, pane)]
    [45.0, 93.0]

    """
    of_type("blow", blow, Blow)
    of_type("pane", pane, Pane)
    away = non_negative("distance", distance, "m")
    moment = non_negative("time", time, "s").item()
    along, across = read_only(*bending_around(away, blow, pane)(moment))
    return along, across


def bending_around(
    away: FloatArray, blow: Blow, pane: Pane
) -> Callable[[float], tuple[FloatArray, FloatArray]]:
    """Return `bending_tension` at these distances as a function of time, in seconds.

    For one moment after another: nothing is checked again.
    """
    core = equivalent_radius(0.0, pane.thickness)
    squared = np.asarray(away**2 + core**2)[..., None]
    # Each change of the push counts from the middle of the time that it takes.
    starts = np.concatenate([[0.0], (blow.time[1:] + blow.time[:-1]) / 2, [blow.ends]])
    changes = np.diff(np.concatenate([[0.0], blow.force, [0.0]]))
    spread = 4.0 * wave_spread(pane)
    ratio = pane.glass.poisson
    size = 1.5 / (np.pi * pane.thickness**2)

    def at(moment: float) -> tuple[FloatArray, FloatArray]:
        begun = starts[starts < moment]
        place = squared / (spread * (moment - begun))
        mean = -0.5 * (1.0 + ratio) * sici(place)[1]
        half = 0.5 * (1.0 - ratio) * np.sinc(place / np.pi)
        scale = size * changes[: len(begun)]
        return (mean - half) @ scale, (mean + half) @ scale

    return at


def wave_spread(pane: Pane) -> float:
    """Return how bending spreads: the area within 4 b t has been bent after a time t.

    Parameters
    ----------
    pane : Pane
        Thickness and glass.

    Returns
    -------
    float
        The number b, root of stiffness over mass for each area [m^2/s].

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> round(wave_spread(pane), 2)
    6.24

    """
    of_type("pane", pane, Pane)
    return float(np.sqrt(pane.rigidity / (pane.glass.density * pane.thickness)))
