# SPDX-License-Identifier: MIT
"""The sixteenth root of time: how standards let strength fall with the duration of a load.

The rules follow from slow crack growth, `glasskit.crack.growth`, with an exponent of 16. They
explain; they do not design: local codes and a licensed engineer decide.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, positive


def duration_factor(
    time: ArrayLike, reference_time: ArrayLike, exponent: ArrayLike = 16.0
) -> FloatArray:
    r"""Return the bearable stress for one duration over that for another.

    .. math:: \frac{\sigma(t)}{\sigma(t_0)} = \left(\frac{t_0}{t}\right)^{1/n}

    Parameters
    ----------
    time : array_like
        How long the load lasts [s].
    reference_time : array_like
        The duration for which the strength is known [s].
    exponent : array_like
        Exponent of the growth law; 16 in the standards [-].

    Returns
    -------
    ndarray of float
        Factor on the strength [-]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Holds between seconds and years. For the thousandth of a second of a blow it goes on
    rising while the true strength is capped by the toughness: see `sustained_stress`.

    References
    ----------
    [ASTME1300]

    Examples
    --------
    >>> duration_factor(3.0, 60.0).item()
    1.206

    """
    ratio = positive("reference_time", reference_time, "s") / positive("time", time, "s")
    return np.asarray(ratio ** (1 / positive("exponent", exponent)))


def design_factor(time: ArrayLike) -> FloatArray:
    r"""Return the load-duration factor of the European design rule for annealed glass.

    .. math:: k_{mod} = 0.663\,t^{-1/16}, \quad t \text{ in hours},
        \quad 0.25 \le k_{mod} \le 1

    Parameters
    ----------
    time : array_like
        How long the load lasts [s].

    Returns
    -------
    ndarray of float
        Factor on the strength [-].

    Raises
    ------
    ValueError
        If `time` is not finite and positive.

    Notes
    -----
    It weakens only the strength of the glass itself. What toughening adds is not reduced. To
    explain, not to design with: local codes and a licensed engineer decide.

    References
    ----------
    [EN16612]

    Examples
    --------
    Fifty years:

    >>> design_factor(50 * 365.25 * 86400).item()
    0.294

    """
    hours = positive("time", time, "s") / 3600.0
    return np.asarray(np.clip(0.663 * hours ** (-1 / 16), 0.25, 1.0))
