# SPDX-License-Identifier: MIT
"""One drop of a device on one floor, and how far the answer hangs on what is not known."""

from dataclasses import dataclass

import numpy as np

from glasskit.damage import Range
from glasskit.impact.device import ATTITUDES, LEVEL, Device, Landing, attitude_odds, land
from glasskit.quantities import FloatArray, of_type, one_of

FALLS = (*ATTITUDES, "tumble")
"""Ways to fall: guided so that it lands in one attitude, or tumbling freely."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FloorDrop:
    """A drop, and what came of it in every case tried.

    Attributes
    ----------
    device : Device
        What fell.
    floor : str
        One of `glasskit.impact.device.FLOORS`.
    height : float
        Height fallen through [m].
    fall : str
        One of `FALLS`.
    landing : Landing
        The landing shown: of a free tumble the one on a corner, the likeliest.
    piercing, breaking : ndarray
        Chance in each case that a grain gets through the compressed layer, and that the
        screen breaks; of a free tumble weighed over its attitudes [-], shape (s,).

    """

    device: Device
    floor: str
    height: float
    fall: str
    landing: Landing
    piercing: FloatArray
    breaking: FloatArray

    @property
    def pierced(self) -> float:
        """Share pierced over all cases [-]."""
        return float(self.piercing.mean())

    @property
    def broken(self) -> float:
        """Share broken over all cases [-]."""
        return float(self.breaking.mean())

    def spread(self, share: FloatArray) -> Range:
        """Return how far a share hangs on what is not known of the inputs.

        Parameters
        ----------
        share : ndarray
            `piercing` or `breaking`.

        Returns
        -------
        Range
            Least and greatest mean over half of the cases, halved by one input at a time [-].

        """
        means = list(self._halves(share).values())
        return Range(low=np.asarray(np.min(means)), high=np.asarray(np.max(means)))

    def decisive(self) -> tuple[str, str]:
        """Return the input, subject and property, that moves the share broken most."""
        halves = self._halves(self.breaking)
        return max(halves, key=lambda name: abs(halves[name][1] - halves[name][0]))

    def _halves(self, share: FloatArray) -> dict[tuple[str, str], tuple[float, float]]:
        """Return the means over the lower and the upper half of each input."""
        return {
            name: (float(share[~upper].mean()), float(share[upper].mean()))
            for name, upper in self.landing.upper_half.items()
        }

    @property
    def reached(self) -> float:
        """Share of the landings in which a grain reaches the glass [-]."""
        return float(self.landing.meets.mean())

    def cracks(self) -> FloatArray:
        """Return the crack depths that 1, 5 and 9 grains in 10 do not exceed [m].

        Of the grains that reach the glass; zero where a tip only presses or none reaches it,
        infinite where the crack goes through.
        """
        return self._tenths(self.landing.crack_depth)

    def loads(self) -> FloatArray:
        """Return the loads that 1, 5 and 9 in 10 of the grains met do not exceed [N]."""
        return self._tenths(self.landing.grain_load)

    def _tenths(self, values: FloatArray) -> FloatArray:
        """Return three values, each case counted as often as a grain reaches the glass."""
        order = np.argsort(values)
        counted = np.cumsum(self.landing.meets[order])
        if not counted[-1]:
            return np.zeros(3)
        places = np.searchsorted(counted, np.array([0.1, 0.5, 0.9]) * counted[-1])
        return np.asarray(values[order][places])


def drop_on(device: Device, floor: str, height: float, fall: str) -> FloorDrop:
    """Let a device fall on a floor, guided or tumbling.

    Parameters
    ----------
    device : Device
        What falls.
    floor : str
        One of `glasskit.impact.device.FLOORS`.
    height : float
        Height fallen through [m].
    fall : str
        One of `FALLS`.

    Returns
    -------
    FloorDrop
        Every case tried.

    Raises
    ------
    ValueError
        If `floor` or `fall` is unknown or `height` is not positive.

    Notes
    -----
    The limits of `glasskit.impact.device.land` hold. A tumbling device lands on its screen,
    an edge or a corner as often as solid angles say; other faces count as safe.

    References
    ----------
    Ranges with their sources in ``data/floors.csv``; own method.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> from glasskit.stress import exchanged
    >>> screen = exchanged(700e6, 40e-6, 0.7e-3)
    >>> phone = Device(mass=0.2, length=0.15, width=0.07, glass=glass("aluminosilicate"),
    ...                screen=screen)
    >>> wood, concrete = (drop_on(phone, floor, 2.4, "flat") for floor in
    ...                   ("hardwood", "concrete"))
    >>> wood.pierced < 0.01 < 0.1 < concrete.pierced
    True

    """
    of_type("device", device, Device)
    one_of("fall", fall, FALLS)
    tumbles = fall == "tumble"
    odds = attitude_odds(LEVEL)
    weights = {name: odds[name].item() for name in ATTITUDES} if tumbles else {fall: 1.0}
    landings = {name: land(device, floor, height, name) for name in weights}
    deep = device.screen.case_depth
    return FloorDrop(
        device=device,
        floor=floor,
        height=height,
        fall=fall,
        landing=landings["corner" if tumbles else fall],
        piercing=np.sum(
            [
                w * landings[n].meets * (landings[n].crack_depth > deep)
                for n, w in weights.items()
            ],
            axis=0,
        ),
        breaking=np.sum([w * landings[n].chance for n, w in weights.items()], axis=0),
    )
