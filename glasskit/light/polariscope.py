# SPDX-License-Identifier: MIT
"""Look at one piece of glass between crossed polarisers: what is seen at each place.

Sights, each a plate or bar of soda-lime glass `DEEP` thick: through the edge of a tempered
pane, through the side of a bent bar, and face-on through a tempered pane: an ideal one, where
nothing shows, and one that was quenched unevenly, as real ones are.
"""

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from glasskit.bending import bar_section
from glasskit.light.colour import interference_colour
from glasskit.light.photoelasticity import bent_bar, edge_view, face_view, share_passed
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, in_range, non_negative, one_of, positive
from glasskit.stress import annealed, tempered

View = Literal["edge", "bar", "face", "uneven"]

WAVE = 550e-9
"""Wavelength whose multiples are counted as fringe orders [m]: green, where the eye is most
sensitive. Some use 565 or 575 nm, where purple looks most sudden (common practice)."""

DEEP = 6e-3
"""Thickness of the pane, depth of the bar [m]."""

SPAN = 200e-3
"""Distance between the supports of the bar, loaded in the middle [m]."""

ACROSS = 150e-3
"""Width of the pane that is seen face-on [m]."""

UNEVEN = 0.06
"""Part of the squeeze by which two directions differ where the jets blew [-]: invented."""

JETS = 25e-3
"""Distance between the rows of jets [m]: invented."""

_PLACES = 241
_DARK = 0.01  # of the light of the first polariser at `WAVE`, below which a room hides it


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """One piece of glass between crossed polarisers.

    Attributes
    ----------
    view : {"edge", "bar", "face", "uneven"}
        Through the edge of a tempered pane, the side of a bent bar, or face-on through an
        ideal pane or an unevenly quenched one.
    stress : float
        Compression at the faces of the pane, or tension at the stretched face of the bar [Pa].
    path : float
        Way of the light from edge to edge or across the bar [m]; face-on it is `DEEP`.
    angle : float
        Between the first polariser and the length of the piece, 0 to pi/2 [rad].
    glass : Glass
        What it is made of.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> window = glass("soda-lime")
    >>> sight = Sight(view="edge", stress=100e6, path=10e-3, angle=0.785, glass=window)
    >>> sight.path
    0.01

    """

    view: View
    stress: float
    path: float
    angle: float
    glass: Glass

    def __post_init__(self) -> None:
        one_of("view", self.view, get_args(View))
        non_negative("stress", self.stress, "Pa")
        positive("path", self.path, "m")
        in_range("angle", self.angle, 0.0, np.pi / 2, "rad")

    @property
    def extent(self) -> float:
        """Depth of pane or bar, or width of the pane seen face-on [m]."""
        return DEEP if self.view in ("edge", "bar") else ACROSS

    @property
    def places(self) -> FloatArray:
        """Depth below the upper face, or place on the pane, from 0 to `extent` [m]."""
        return np.linspace(0.0, self.extent, _PLACES)

    @property
    def retardation(self) -> FloatArray:
        """How far one wave lags at each of `places`; negative where squeezed [m]."""
        optic = self.glass.stress_optic
        if self.view == "bar":
            return bent_bar(self.stress, self.places / DEEP, self.path, optic)
        pane = tempered(self.stress, DEEP) if self.stress else annealed(DEEP)
        if self.view == "face":
            return np.full(_PLACES, face_view(pane, pane, DEEP, optic))
        if self.view == "uneven":
            return self._uneven * self.stress * optic * DEEP
        return edge_view(pane, self.places, self.path, optic)

    @property
    def _uneven(self) -> FloatArray:
        """Pull along the edge less pull across it, over the squeeze of the faces [-].

        At an edge nothing pulls across it, and it is squeezed along it about as hard as the
        face ([ASTMC1048] asks for 67 MPa there and 69 on the face); that dies away within
        about a thickness. Further in the differences are invented and smooth.
        """
        inwards = np.minimum(self.places, self.extent - self.places)
        edge = np.exp(-inwards / DEEP)
        return np.asarray((1 - edge) * UNEVEN * np.cos(2 * np.pi * self.places / JETS) - edge)

    @property
    def orders(self) -> FloatArray:
        """Fringe order at each of `places`, with the sign of the retardation [-]."""
        return self.retardation / WAVE

    @property
    def colours(self) -> FloatArray:
        """Red, green and blue at each of `places`, shape (n, 3) [-]."""
        return interference_colour(self.retardation, self.angle)

    @property
    def dark(self) -> bool:
        """Whether no place lets through enough light to be noticed."""
        order = min(np.abs(self.orders).max().item(), 0.5)
        return share_passed(order * WAVE, WAVE, self.angle).item() < _DARK

    @property
    def for_one_order(self) -> float:
        """Stress that makes one fringe order along this path [Pa]."""
        return WAVE / (self.glass.stress_optic * self.path)

    @property
    def load(self) -> float:
        """Load in the middle of the bar that stretches its face so far [N]."""
        return 4 * self.stress * bar_section(self.path, DEEP).item() / SPAN
