# SPDX-License-Identifier: MIT
r"""Say what a ball does to the far face of a pane, for flaws to meet: height by height.

Each place remembers the largest pull that the waves of the blow brought it, along the radius
and around it (`glasskit.impact.wavefield`). A flaw there counts by how far that pull exceeds
the squeeze :math:`c` of a toughened pane. The effective area

.. math:: A = \int \sum_i \left(\frac{\sigma_i - c}{\sigma_{max} - c}\right)^m dA,
    \qquad \sigma_i > c

is the area under an even pull in one direction, as high as the highest net pull, that breaks
as often. It is far smaller than under a load at rest.
"""

import warnings
from dataclasses import dataclass
from functools import lru_cache
from types import SimpleNamespace
from typing import cast

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.interpolate import RegularGridInterpolator

from glasskit.bending.panes import LINEAR_LIMIT
from glasskit.impact.ball import Impact, Striker, ball_on_pane
from glasskit.impact.falls import drop_speed
from glasskit.impact.ringing import Pane
from glasskit.impact.wavefield import felt, rim_squeeze
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    having,
    in_range,
    non_negative,
    of_type,
    positive,
    read_only,
    require,
)

SWEEP = tuple(np.geomspace(0.01, 20.0, 7))
"""Heights that are computed; between them logarithms are straight to 0.5 % [m]."""


_MODULI = np.geomspace(2.0, 30.0, 24)
_SHARES = 5.0 * np.linspace(0.0, 1.0, 25) ** 2  # minus the logarithm of the share left
AREA_GRID = (np.log(_MODULI), _SHARES)
"""Logarithm of the Weibull modulus, and minus that of the share of the pull left over the
squeeze, at which areas are tabulated."""

_STEPS, _HIGHEST = 20, 40.0  # half a per cent of the peaks, beside finer ones
_TINY = 1e-12  # length or area below which none is told apart from another [m], [m^2]
_CREEP = 16.0  # power of the pull that counts in its pulse, as in the growth of flaws


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FarFace:
    """What blows from some heights do to one pane; n heights.

    Every method takes heights in any shape and goes on straight beyond those computed.

    Attributes
    ----------
    heights : ndarray
        Heights computed, ascending [m], shape (n,).
    peaks : ndarray
        Largest tension of the far face [Pa], shape (n,).
    pulses : ndarray
        How long a steady pull of that size would let flaws creep as far [s], shape (n,).
    sags : ndarray
        How far the middle has sunk at that moment, over the thickness [-], shape (n,).
    rims : ndarray
        Largest tension of the struck face at the rim of the contact, less its bending
        squeeze [Pa], shape (n,).
    contacts : ndarray
        Radius of the contact at that moment [m], shape (n,).
    forces : ndarray
        Largest force of the blow [N], shape (n,).
    request : tuple
        Numbers of ball and pane, from which the areas are computed when first asked for.

    """

    heights: FloatArray
    peaks: FloatArray
    pulses: FloatArray
    sags: FloatArray
    rims: FloatArray
    contacts: FloatArray
    forces: FloatArray
    request: "_Request"

    def tension(self, height: ArrayLike) -> FloatArray:
        """Return the largest tension of the far face under the ball [Pa]."""
        return self._at(height, self.peaks)

    def pulse(self, height: ArrayLike) -> FloatArray:
        """Return how long a steady pull of that size would let flaws creep as far [s]."""
        return self._at(height, self.pulses)

    def sag(self, height: ArrayLike) -> FloatArray:
        """Return how far the middle has sunk then, over the thickness [-]."""
        return self._at(height, self.sags)

    def stretches(self, height: ArrayLike) -> NDArray[np.bool_]:
        """Return whether the pane stretches at that moment, so that tension is overstated."""
        return np.asarray(self.sag(height) > LINEAR_LIMIT)

    def rim(self, height: ArrayLike) -> FloatArray:
        """Return the largest tension around the contact, less the bending [Pa]."""
        return self._at(height, self.rims)

    def contact(self, height: ArrayLike) -> FloatArray:
        """Return the radius of the contact at that moment [m]."""
        return self._at(height, self.contacts)

    def force(self, height: ArrayLike) -> FloatArray:
        """Return the largest force of the blow [N]."""
        return self._at(height, self.forces)

    def area(
        self, height: ArrayLike, modulus: ArrayLike, compression: ArrayLike = 0.0
    ) -> FloatArray:
        """Return the effective area of the far face.

        Parameters
        ----------
        height : array_like
            Height fallen through [m].
        modulus : array_like
            Weibull modulus, 2 to 30 [-].
        compression : array_like
            Squeeze of the far face, positive [Pa]; 0 for an ordinary pane.

        Returns
        -------
        ndarray
            Area at the highest net tension [m^2], broadcast. Where the squeeze leaves less
            than a hundredth of the pull, that at a hundredth.

        Raises
        ------
        ValueError
            If an argument is out of its range.

        """
        fall, power, squeeze = np.broadcast_arrays(
            positive("height", height, "m"),
            in_range("modulus", modulus, _MODULI[0], _MODULI[-1]),
            non_negative("compression", compression, "Pa"),
        )
        net = np.clip(1.0 - squeeze / self.tension(fall), np.exp(-_SHARES[-1]), 1.0)
        inside = np.clip(fall, self.heights[0], self.heights[-1])
        places = np.stack([np.log(inside), np.log(power), -np.log(net)], axis=-1)
        return np.asarray(np.exp(_areas(self.request)(places)))

    def _at(self, height: ArrayLike, values: FloatArray) -> FloatArray:
        """Interpolate in logarithms, going on straight beyond the heights computed."""
        fall = np.log(positive("height", height, "m"))
        known, logs = np.log(self.heights), np.log(np.maximum(values, 1e-300))
        low, high = ((logs[i + 1] - logs[i]) / (known[i + 1] - known[i]) for i in (0, -2))
        beyond = np.minimum(fall - known[0], 0.0) * low
        beyond = beyond + np.maximum(fall - known[-1], 0.0) * high
        return np.asarray(np.exp(np.interp(fall, known, logs) + beyond))


def far_face(ball: Striker, pane: Pane, heights: ArrayLike = SWEEP) -> FarFace:
    """Let a ball fall on the middle of a pane and look at the far face.

    Parameters
    ----------
    ball : Striker
        What falls, a ball or the rounded head of a hammer.
    pane : Pane
        What it falls on.
    heights : array_like
        Two or more ascending heights [m].

    Returns
    -------
    FarFace
        For these heights, and between them by interpolation. The same request again costs
        nothing.

    Raises
    ------
    ValueError
        If `heights` do not ascend or are not positive.

    Notes
    -----
    Leaves out what `glasskit.impact.ball_on_pane` leaves out. The largest pull of a place may
    come at another moment than that of its neighbour: a flaw does not mind.

    References
    ----------
    [Weibull1951] for the area; the waves are those of `glasskit.impact.wavefield`.

    Examples
    --------
    227 g of steel from 2 m on 300 by 300 by 4 mm: peak in MPa, and the areas that count for
    flaws of modulus 6, ordinary and toughened to 100 MPa, in square millimetres

    >>> from glasskit.impact.ball import ball_of_mass
    >>> from glasskit.materials.glasses import glass, solid
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"),
    ...             damping=0.05)
    >>> face = far_face(ball_of_mass(0.227, solid("steel")), pane)
    >>> round(face.tension(2.0).item() / 1e6)
    362
    >>> (1e6 * face.area(2.0, 6.0, [0.0, 100e6])).round()
    array([50., 19.])

    """
    having("ball", ball, "mass", "radius", "solid")
    of_type("pane", pane, Pane)
    falls = positive("heights", heights, "m")
    require(
        falls.ndim == 1 and falls.size > 1, "heights", falls.size, "be a row of two or more"
    )
    require(np.diff(falls) > 0, "heights", falls[1:], "ascend", "m")
    body = (ball.mass, ball.radius, ball.solid.plane_strain_modulus)
    return _cached(_Request(heights=tuple(falls.tolist()), ball=body, pane=pane.plain()))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Request:
    """Ball and pane as numbers that can be told apart, whatever objects they came from."""

    heights: tuple[float, ...]
    ball: tuple[float, float, float]
    pane: Pane

    def struck(self) -> Impact:
        """Strike the pane from every height."""
        mass, radius, stiff = self.ball
        solid = SimpleNamespace(plane_strain_modulus=stiff)
        ball = cast(Striker, SimpleNamespace(mass=mass, radius=radius, solid=solid))
        speed = drop_speed(self.heights)
        with warnings.catch_warnings():
            # Stretching is handed on; a ball still at rest does not change the peak.
            warnings.simplefilter("ignore", OutsideValidityWarning)
            return ball_on_pane(ball, self.pane, speed, steps=_STEPS, highest=_HIGHEST)


@lru_cache(maxsize=1024)
def _cached(request: _Request) -> FarFace:
    pane, impact = request.pane, request.struck()
    # Radius and tension of the contact go with the cube root of the force (Hertz).
    root = np.cbrt(impact.blow.force / impact.peak_force[:, None])
    left = impact.rim_tension[:, None] * root - rim_squeeze(pane, impact)
    ringing = left.argmax(axis=-1)[:, None]
    root = np.take_along_axis(root, ringing, -1)[:, 0]
    fields: dict[str, ArrayLike] = {
        "heights": request.heights,
        "peaks": impact.stress,
        "pulses": pulse(impact),
        "sags": np.maximum(impact.sag / pane.thickness, _TINY),
        "rims": np.maximum(np.take_along_axis(left, ringing, -1)[:, 0], 1.0),
        "contacts": np.maximum(impact.contact_radius * root, _TINY),
        "forces": impact.peak_force,
    }
    fixed = {name: read_only(value)[0] for name, value in fields.items()}
    return FarFace(**fixed, request=request)


def pulse(impact: Impact) -> FloatArray:
    """Return how long a steady pull of the peak's size would let flaws creep as far [s].

    The integral of the tension over its peak to the power of the law of creep, shape (n,) or
    () as the blows.
    """
    share = np.maximum(impact.tension / impact.stress[..., None], 0.0)
    return np.asarray((share**_CREEP).sum(axis=-1) * impact.time[1])


@lru_cache(maxsize=256)
def _areas(request: _Request) -> RegularGridInterpolator:
    """Tabulate the effective area over height, modulus and net share, all in logarithms."""
    tables = area_table(request.pane, request.struck())
    return RegularGridInterpolator((np.log(request.heights), *AREA_GRID), tables)


def area_table(pane: Pane, impact: Impact) -> FloatArray:
    """Return logarithms of effective areas of some blows over `AREA_GRID`, shape (n, m, u)."""
    found = felt(pane, impact)
    pull = found.pull / np.atleast_1d(impact.stress)
    cells = np.broadcast_to(found.cells[..., None], pull.shape)
    table = np.empty((pull.shape[-1], _MODULI.size, _SHARES.size))
    for blow in range(pull.shape[-1]):
        here, area = pull[..., blow].ravel(), cells[..., blow].ravel()
        for place, share in enumerate(np.exp(-_SHARES)):
            over = (here - 1.0 + share) / share
            counts = over > 0
            logs = np.log(np.minimum(over[counts], 1.0))
            table[blow, :, place] = np.exp(np.multiply.outer(_MODULI, logs)) @ area[counts]
    return np.log(np.maximum(table, _TINY))
