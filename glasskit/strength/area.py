# SPDX-License-Identifier: MIT
r"""Compare load cases by the area that a flaw must lie in to matter.

A large pane is weaker than a small one: it has more flaws to choose the worst from. Under an
uneven stress the places of high stress count most. The effective area

.. math:: A_{eff} = \int \sum_i \left(\frac{\sigma_i}{\sigma_{max}}\right)^m dA, \qquad
    \sigma_i > 0

is the area under an even pull in one direction at the highest stress that breaks as often.
"""

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, positive


def bending_area(width: ArrayLike, span: ArrayLike, modulus: ArrayLike) -> FloatArray:
    r"""Return the effective area of the stretched face of a bar in three points.

    .. math:: A_{eff} = \frac{b L}{m + 1}

    Parameters
    ----------
    width : array_like
        Width of the bar :math:`b`, or 1 for the effective length of an edge [m].
    span : array_like
        Distance between the supports :math:`L` [m].
    modulus : array_like
        Weibull modulus [-].

    Returns
    -------
    ndarray of float
        Area [m^2]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If an argument is not finite and positive.

    Notes
    -----
    Flat face only; the sides add ``thickness/(width (m + 1))`` of it.

    References
    ----------
    [Weibull1951]

    Examples
    --------
    40 mm span, 20 mm wide, in square millimetres:

    >>> (bending_area(0.02, 0.04, 7.0) * 1e6).round().item()
    100.0

    """
    broad, power = positive("width", width, "m"), positive("modulus", modulus)
    return np.asarray(broad * positive("span", span, "m") / (power + 1))
