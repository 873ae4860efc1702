# SPDX-License-Identifier: MIT
r"""Tell the tension in the core of a pane from its skin, exactly and by the shortcut.

What the two skins are squeezed the core is stretched. The usual shortcut

.. math:: CT = \frac{CS \cdot DOL}{t - 2\,DOL}

is exact for a thin skin whose stress falls in a straight line. A diffused skin sags below the
line and leaves less tension: the shortcut says a third or more too much. It says too little
for a deep straight skin or a quenched pane, and half the truth for a skin of even stress.

`surface_compression` is a positive number, the case ends where the stress passes through zero.
"""

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, one_of, positive, require
from glasskit.stress import profiles

Skin = Literal["even", "straight", "diffused", "quenched"]
SKINS: tuple[Skin, ...] = get_args(Skin)
"""Shapes of the compressed skin: a step, a straight fall, ion diffusion, a parabola."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoreTension:
    """Tension in the core of a pane, by balance and by the shortcut.

    Attributes
    ----------
    exact : ndarray
        Tension at mid-thickness of a balanced pane [Pa].
    shortcut : ndarray
        By `shortcut_tension` [Pa].

    """

    exact: FloatArray
    shortcut: FloatArray

    def __post_init__(self) -> None:
        self.exact.flags.writeable = False
        self.shortcut.flags.writeable = False

    @property
    def error(self) -> FloatArray:
        """How much the shortcut says too much, relative to the exact tension [-]."""
        return np.asarray(self.shortcut / self.exact - 1)


def shortcut_tension(
    surface_compression: ArrayLike, case_depth: ArrayLike, thickness: ArrayLike
) -> FloatArray:
    """Return the core tension by the shortcut, CS DOL/(t - 2 DOL).

    Parameters
    ----------
    surface_compression : array_like
        Compression at the face, positive [Pa].
    case_depth : array_like
        Depth of the compressed skin [m].
    thickness : array_like
        Thickness [m].

    Returns
    -------
    ndarray of float
        Tension [Pa]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not positive or the skins meet.

    Notes
    -----
    Takes each skin as a straight ramp from the face to the case depth; `core_tension` takes
    its shape.

    References
    ----------
    Common practice.

    Examples
    --------
    The example that goes with the convention, in MPa:

    >>> round(shortcut_tension(750e6, 40e-6, 0.7e-3).item() / 1e6, 1)
    48.4

    """
    squeeze = positive("surface_compression", surface_compression, "Pa")
    skin, size = positive("case_depth", case_depth, "m"), positive("thickness", thickness, "m")
    require(2 * skin < size, "case_depth", skin, "be less than half the thickness", "m")
    return np.asarray(squeeze * skin / (size - 2 * skin))


def core_tension(
    surface_compression: ArrayLike,
    case_depth: ArrayLike,
    thickness: ArrayLike,
    skin: Skin = "diffused",
) -> CoreTension:
    r"""Return the core tension that balances two skins of known shape.

    .. math:: \int_0^t \sigma\,dx = 0

    Parameters
    ----------
    surface_compression : array_like
        Compression at the face, positive [Pa].
    case_depth : array_like
        Depth of the compressed skin [m]; for "quenched" the thickness sets it, give 0.2113
        of that.
    thickness : array_like
        Thickness [m].
    skin : {"even", "straight", "diffused", "quenched"}
        "even": full compression down to the case depth, then full tension. "straight": a
        straight rise from face to core, level from there. "diffused": `stress.exchanged`.
        "quenched": the parabola of `stress.tempered`.

    Returns
    -------
    CoreTension
        Exact and by the shortcut; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not positive, `skin` unknown, or no pane of this shape balances:
        the case is over 0.25 (straight), 0.21 (diffused) or not 0.2113 (quenched) of the
        thickness.

    Notes
    -----
    A flat plate alike on both faces, far from its edges.

    References
    ----------
    Definition: the stresses of a plate left alone balance.

    Examples
    --------
    700 MPa, 40 µm deep, in 0.7 mm of glass: balance in MPa, and how much the shortcut adds

    >>> found = core_tension(700e6, 40e-6, 0.7e-3)
    >>> (found.exact / 1e6).round(1).item(), found.error.round(2).item()
    (33.5, 0.35)

    """
    one_of("skin", skin, SKINS)
    shortcut = shortcut_tension(surface_compression, case_depth, thickness)
    squeeze, case, size = np.broadcast_arrays(
        *(np.asarray(item, float) for item in (surface_compression, case_depth, thickness))
    )
    if skin == "even":
        exact = 2 * shortcut
    elif skin == "straight":
        exact = _straight(squeeze, case, size)
    elif skin == "quenched":
        off = np.abs(case / size - profiles.PARABOLA_CASE)
        rule = "be 0.2113 of the thickness in a quenched pane"
        require(off < 5e-4, "case_depth", case, rule, "m")
        exact = squeeze / 2
    else:
        triples = zip(squeeze.flat, case.flat, size.flat, strict=True)
        exact = np.array([profiles.exchanged(*triple).centre for triple in triples])
    return CoreTension(exact=np.array(exact).reshape(shortcut.shape), shortcut=shortcut)


def _straight(squeeze: FloatArray, case: FloatArray, size: FloatArray) -> FloatArray:
    r"""Solve :math:`q^2 - 2 q (t/2 - d)/d + 1 = 0` for the core over the face, :math:`q`.

    Each half balances: squeeze case/2 below zero, and above it a rise over q case to a
    level of q squeeze that lasts to mid-thickness.
    """
    rule = "be at most a quarter of the thickness for a straight skin"
    require(case <= size / 4, "case_depth", case, rule, "m")
    half = (size / 2 - case) / case
    return np.asarray(squeeze / (half + np.sqrt(half**2 - 1)))
