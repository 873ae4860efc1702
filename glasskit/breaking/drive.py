# SPDX-License-Identifier: MIT
r"""Say what drives a running crack, how fast it runs and when it splits.

Two stores pay for new faces: the stretched core of a toughened pane, which gives a lone crack
what `glasskit.breakage.core_energy` says, and the bending of the blow. Neighbours share both.
Between neighbours that stand :math:`w` apart a crack is given

.. math:: G = G_t\,(1 - e^{-w/\ell}) + \frac{w\,\sigma_b^2}{6 E'}, \qquad
    \ell = \frac{2\,G_t}{(1+\nu)\,u_c}

so that close neighbours get what relaxing the strip between them frees (:math:`u_c` is the
energy density of the core, of which cracks one way free :math:`(1+\nu)/2`), and a lone crack
all that the core gives. It runs at :math:`c_R(1 - G_c/G)`, but never faster than cracks in
glass are seen to.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from glasskit.breakage import MIRROR_CONSTANTS, TERMINAL_SPEED, core_energy
from glasskit.crack import semi_elliptical_intensity
from glasskit.materials import Glass
from glasskit.quantities import FloatArray, non_negative, of_type, positive
from glasskit.stress import StressProfile

HALF_DISC = semi_elliptical_intensity(1.0, 1.0, 1.0, angle=0.0).item()
"""Stress intensity of a half-disc at the face, over tension and the root of its radius [-]."""

_DEPTHS = np.linspace(0.0, 1.0, 2001)  # over the thickness


def rayleigh_speed(glass: Glass) -> float:
    r"""Return the speed of waves along a face, which no crack that opens can outrun.

    .. math:: c_R = \frac{0.862 + 1.14\,\nu}{1 + \nu}\,\sqrt{\mu/\rho}

    Parameters
    ----------
    glass : Glass
        Stiffness and density.

    Returns
    -------
    float
        Speed [m/s].

    Notes
    -----
    A fit to the exact root, good to half a per cent.

    References
    ----------
    [Freund1990]

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> round(rayleigh_speed(glass("soda-lime")))
    3103

    """
    of_type("glass", glass, Glass)
    shear = np.sqrt(glass.shear_modulus / glass.density)
    return float((0.862 + 1.14 * glass.poisson) / (1 + glass.poisson) * shear)


def sound_speed(glass: Glass) -> float:
    r"""Return the speed of sound along a pane, :math:`\sqrt{E/(\rho(1-\nu^2))}`.

    Parameters
    ----------
    glass : Glass
        Stiffness and density.

    Returns
    -------
    float
        Speed [m/s].

    References
    ----------
    Common practice: the quickest wave in a plate that is long against its thickness.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> round(sound_speed(glass("soda-lime")))
    5401

    """
    of_type("glass", glass, Glass)
    return float(np.sqrt(glass.plane_strain_modulus / glass.density))


def crack_speed(energy: ArrayLike, glass: Glass) -> FloatArray:
    r"""Return how fast a crack runs on so much energy.

    .. math:: v = \min\left(v_t,\; c_R\,(1 - G_c/G)\right)

    Parameters
    ----------
    energy : array_like
        What the crack is given for each area :math:`G` [J/m^2].
    glass : Glass
        What it runs through.

    Returns
    -------
    ndarray of float
        Speed [m/s]; zero where less than the toughness asks for is given.

    Raises
    ------
    ValueError
        If `energy` is negative or not finite.

    Notes
    -----
    The law of a crack in an unbounded body, cut off where cracks in soda-lime glass are seen
    to level off (1450 to 1580 m/s): from there on what is left over roughens the faces.

    References
    ----------
    [Freund1990]; the greatest speed as for `glasskit.breakage.TERMINAL_SPEED`.

    Examples
    --------
    Just under, a little over and far over what a crack costs:

    >>> from glasskit.materials import glass
    >>> crack_speed([7.0, 9.0, 40.0], glass("soda-lime")).round()
    array([   0.,  443., 1500.])

    """
    of_type("glass", glass, Glass)
    given = non_negative("energy", energy, "J/m²")
    cost = 2 * glass.fracture_energy
    share = np.maximum(1 - cost / np.maximum(given, cost), 0.0)
    return np.asarray(np.minimum(TERMINAL_SPEED, rayleigh_speed(glass) * share))


def run_up(tension: float, glass: Glass) -> tuple[float, float]:
    r"""Return the way and the time in which a crack comes up to its greatest speed.

    With :math:`G \propto a` a crack of depth :math:`a` that started at :math:`a_0` runs at
    :math:`c_R(1 - a_0/a)`.

    Parameters
    ----------
    tension : float
        Net tension at the flaw [Pa].
    glass : Glass
        What it runs through.

    Returns
    -------
    tuple of float
        Depth at which it is as fast as it gets [m], and time until then [s].

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    A half-disc in an even pull, a tenth deeper than just deep enough: one just deep enough
    takes for ever to start. The time changes with the logarithm of this choice.

    References
    ----------
    [Freund1990]

    Examples
    --------
    At 60 MPa, in millimetres and microseconds:

    >>> from glasskit.materials import glass
    >>> way, time = run_up(60e6, glass("soda-lime"))
    >>> round(1e3 * way, 2), round(1e6 * time, 2)
    (0.18, 0.09)

    """
    of_type("glass", glass, Glass)
    pull = positive("tension", tension, "Pa").item()
    start = (glass.toughness / (HALF_DISC * pull)) ** 2
    wave = rayleigh_speed(glass)
    end = 1 / (1 - TERMINAL_SPEED / wave)  # depth over that of the flaw
    first = min(1.1, end)
    way = end - first + np.log((end - 1) / (first - 1))
    return float(start * end), float(start * way / wave)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drive:
    """What a pane gives its cracks.

    Attributes
    ----------
    profile : StressProfile
        Residual stress through the thickness, alike at both faces.
    glass : Glass
        What it is made of.
    given : float
        Energy that the core gives a lone crack, for each area of crack [J/m^2].
    cost : float
        What a crack costs, both faces [J/m^2].
    reach : float
        Distance within which neighbours share the core's energy; zero without a core [m].
    core : float
        Tension of the stretched core, its mean over the height of the core [Pa].

    """

    profile: StressProfile
    glass: Glass
    given: float = field(init=False)
    cost: float = field(init=False)
    reach: float = field(init=False)
    core: float = field(init=False)

    def __post_init__(self) -> None:
        of_type("profile", self.profile, StressProfile)
        of_type("glass", self.glass, Glass)
        given, reach, mean = core_energy(self.profile, self.glass), 0.0, 0.0
        if given > 0:
            residual = self.profile(_DEPTHS * self.profile.thickness)
            core = residual[residual > 0]
            modulus, ratio = self.glass.modulus, self.glass.poisson
            density = (1 - ratio) / modulus * float((core**2).mean())
            reach, mean = 2 * given / ((1 + ratio) * density), float(core.mean())
        cost = 2 * self.glass.fracture_energy
        for name, value in zip(
            ("given", "cost", "reach", "core"), (given, cost, reach, mean), strict=True
        ):
            object.__setattr__(self, name, value)

    def energy(self, width: ArrayLike, bending: ArrayLike = 0.0) -> FloatArray:
        """Return the energy that a crack between neighbours is given.

        Parameters
        ----------
        width : array_like
            Distance between the neighbours on its two sides [m].
        bending : array_like
            Bending tension across it, at either face [Pa].

        Returns
        -------
        ndarray of float
            Energy for each area of crack [J/m^2].

        """
        wide = non_negative("width", width, "m")
        bent = non_negative("bending", bending, "Pa")
        stiff = 6 * self.glass.plane_strain_modulus
        core = -np.expm1(-wide / self.reach) * self.given if self.reach else 0.0
        return np.asarray(core + wide * bent**2 / stiff)

    def net_tension(self, bending: ArrayLike = 0.0) -> FloatArray:
        """Return the tension that splits a crack: of the core, or of the bent face if more.

        Parameters
        ----------
        bending : array_like
            Bending tension at either face [Pa].

        Returns
        -------
        ndarray of float
            Mean tension of the core, or what bending leaves at the face after the squeeze is
            overcome, whichever is more [Pa].

        Notes
        -----
        The front of a crack fills the core, so its mean counts and not the peak in its middle.
        With the peak, half as much again in a parabola, there would be five times the pieces.

        """
        bent = non_negative("bending", bending, "Pa")
        return np.asarray(np.maximum(self.core, self.profile.surface + bent))

    def branching(self, tension: ArrayLike, share: ArrayLike = 0.5) -> FloatArray:
        r"""Return how far a crack runs under a net tension before it may split.

        Parameters
        ----------
        tension : array_like
            Net tension [Pa].
        share : array_like
            Where the branching constant lies between its least and its most published
            value, 0 to 1 [-].

        Returns
        -------
        ndarray of float
            Distance, square of constant over tension [m]; infinite without tension.

        """
        pull = non_negative("tension", tension, "Pa")
        low, high = MIRROR_CONSTANTS["branching"]
        constant = low + non_negative("share", share) * (high - low)
        constant, pull = np.broadcast_arrays(constant, pull)
        root = np.divide(constant, pull, out=np.full(pull.shape, np.inf), where=pull > 0)
        return np.asarray(root**2)

    def room(self, distance: ArrayLike) -> FloatArray:
        r"""Return how far apart its neighbours must stand for a crack to split.

        The constants were read where a half-disc of that radius, alone in its glass, splits. A
        crack between neighbours feels as much only if :math:`\sigma\sqrt{w/2}` is as large as
        :math:`Y\sigma\sqrt{r}` was.

        Parameters
        ----------
        distance : array_like
            Distance from `branching` [m].

        Returns
        -------
        ndarray of float
            Width, twice the square of `HALF_DISC` times the distance [m].

        """
        return np.asarray(2 * HALF_DISC**2 * positive("distance", distance, infinite=True))
