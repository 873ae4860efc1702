# SPDX-License-Identifier: MIT
"""Set the theory of the blow beside falls that were shown to an audience in 1876.

Ordinary and toughened (quenched in a hot bath) plates, struck in the middle by bronze balls or
dropped flat on wood, from rising heights until they broke [Barff1876]. One piece each, struck
again and again: enough to ask whether a predicted stress is sane, not to fit anything.
"""

import warnings
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

import numpy as np

from glasskit.damage import Range
from glasskit.impact.ball import ball_of_mass, ball_on_pane
from glasskit.impact.falls import drop_speed
from glasskit.impact.ringing import Pane, slap_stress
from glasskit.materials import glass
from glasskit.quantities import OutsideValidityWarning, of_type
from glasskit.tables import read


class _Metal(NamedTuple):
    density: float
    plane_strain_modulus: float


BRONZE = _Metal(density=8700.0, plane_strain_modulus=110e9 / (1 - 0.34**2))
"""Bronze: 8700 kg/m^3, 110 GPa and 0.34, all three from memory."""

_FIFTH_OF_AN_INCH = 5.08e-3  # [m]; printed beside 6 mm, which it is not
_SUPPORTS = (1e6, 1e7, np.inf)  # [N/m]: frame on the ground, from loose to hard; a judgement


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """One fall as printed.

    Attributes
    ----------
    glass : str
        "ordinary" or "toughened".
    length, width, thickness : float
        Size of the plate [m]; the thickness is uncertain by a millimetre.
    ball_mass : float
        Mass of the ball; zero where the plate itself fell [kg].
    height : float
        Height fallen through [m].
    broke : bool
        Whether the plate broke.
    page : int
        Page of the copy.

    """

    glass: str
    length: float
    width: float
    thickness: float
    ball_mass: float
    height: float
    broke: bool
    page: int


def measured_falls() -> tuple[Fall, ...]:
    """Return the falls of 1876 in the order in which they were made.

    Returns
    -------
    tuple of Fall
        Fifteen falls.

    References
    ----------
    [Barff1876]

    """
    found = []
    for row in read("falls_1876"):
        length, width = (float(side) for side in row["size_m"].split(" x "))
        found.append(
            Fall(
                glass=row["glass"],
                length=length,
                width=width,
                thickness=float(row["thickness_m"]),
                ball_mass=float(row["sphere_mass_kg"] or 0.0),
                height=float(row["height_m"]),
                broke=row["outcome"] == "broke",
                page=int(row["page_of_copy"]),
            )
        )
    return tuple(found)


def far_face_stress(fall: Fall) -> Range:
    """Return the bending tension that the theory of today gives for one of the falls.

    Parameters
    ----------
    fall : Fall
        From `measured_falls`.

    Returns
    -------
    Range
        For a ball, lowest and highest over the two thicknesses that the text allows and over
        supports from loose to hard. For a falling plate
        `glasskit.impact.ringing.slap_stress`, halved and doubled, for how it met the floor is
        not known [Pa].

    Raises
    ------
    TypeError
        If `fall` is no Fall.

    Notes
    -----
    The plate is taken as simply supported along its edges; the frame may have held it in.

    References
    ----------
    [Barff1876]

    Examples
    --------
    The first fall, in MPa:

    >>> band = far_face_stress(measured_falls()[0])
    >>> round(band.low.item() / 1e6), round(band.high.item() / 1e6)
    (84, 149)

    """
    of_type("fall", fall, Fall)
    speed, ordinary = drop_speed(fall.height), glass("soda-lime")
    if not fall.ball_mass:
        slap = slap_stress(speed, ordinary)
        return Range(low=np.asarray(slap / 2), high=np.asarray(slap * 2))
    ball = ball_of_mass(fall.ball_mass, BRONZE)
    found = []
    for thickness, support in product((_FIFTH_OF_AN_INCH, fall.thickness), _SUPPORTS):
        pane = Pane(
            length=fall.length,
            width=fall.width,
            thickness=thickness,
            glass=ordinary,
            support_stiffness=support,
        )
        with warnings.catch_warnings():
            # Whether the ball has left in the end does not change the peak.
            warnings.simplefilter("ignore", OutsideValidityWarning)
            found.append(ball_on_pane(ball, pane, speed).stress.item())
    return Range(low=np.array(min(found)), high=np.array(max(found)))
