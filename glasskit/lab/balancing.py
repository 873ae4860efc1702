# SPDX-License-Identifier: MIT
r"""Ask whether a stress profile that was read through the thickness can be true.

.. math:: \bar\sigma = \frac1h \int_0^h \sigma\,dz = 0

A pane that nobody pushes on balances: what its skins are squeezed, its core is stretched. A
mean that is not zero tells of a wrong zero of the instrument, depth or coefficient.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtri

from glasskit.quantities import FloatArray, finite, non_negative, positive, require, within

_FEWEST = 5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ProfileBalance:
    """A profile as read, and what is left over of it.

    Attributes
    ----------
    depth, stress : ndarray, shape (n,)
        Readings, from one face to the other [m], [Pa].
    thickness : float
        Of the pane [m].
    mean : float
        Mean stress through the thickness [Pa].
    expanded : float
        Half width of its confidence interval [Pa].
    level : float
        Confidence [-].

    """

    depth: FloatArray
    stress: FloatArray
    thickness: float
    mean: float
    expanded: float
    level: float

    def __post_init__(self) -> None:
        self.depth.flags.writeable = False
        self.stress.flags.writeable = False

    @property
    def balanced(self) -> bool:
        """Whether the readings' own uncertainty explains what is left over."""
        return abs(self.mean) <= self.expanded


def profile_balance(
    depth: ArrayLike,
    stress: ArrayLike,
    thickness: float,
    uncertainty: float,
    level: float = 0.95,
) -> ProfileBalance:
    """Sum a profile through the thickness.

    Parameters
    ----------
    depth, stress : array_like, shape (n,)
        Depth from one face, ascending [m], and stress, negative in compression [Pa].
    thickness : float
        Of the pane [m].
    uncertainty : float
        Standard uncertainty of each reading by itself [Pa].
    level : float
        Confidence [-].

    Returns
    -------
    ProfileBalance
        Mean stress, and how far from zero chance brings it.

    Raises
    ------
    ValueError
        If there are fewer than five readings, they do not ascend, or lie outside the pane.

    Notes
    -----
    Straight lines from reading to reading, level beyond the first and the last. What that
    misses is judged by leaving out every second reading. A thin skin that falls between two
    readings is not seen: chemically strengthened glass needs readings inside its skin.

    References
    ----------
    Own method on the definition of balance; the sum is the trapezoidal rule.

    Examples
    --------
    A parabola read to 2 MPa at nine depths of a pane of 6 mm:

    >>> z = np.linspace(0, 6e-3, 9)
    >>> read = 50e6 - 150e6 * (2 * z / 6e-3 - 1) ** 2
    >>> found = profile_balance(z, read, 6e-3, 2e6)
    >>> round(found.mean / 1e6, 2), round(found.expanded / 1e6, 2), found.balanced
    (-1.56, 3.34, True)

    """
    within("level", level, 0, 1)
    z = np.atleast_1d(np.array(finite("depth", depth, "m")))
    values = np.atleast_1d(np.array(finite("stress", stress, "Pa")))
    h = positive("thickness", thickness, "m").item()
    require(values.shape == z.shape, "stress", values.size, f"hold {z.size} items")
    require(z.size >= _FEWEST, "depth", z.size, f"hold {_FEWEST} readings or more")
    require(np.diff(z) > 0, "depth", z[1:], "ascend", "m")
    require((z >= 0) & (z <= h * (1 + 1e-9)), "depth", z, "lie inside the pane", "m")
    own = non_negative("uncertainty", uncertainty, "Pa").item()
    weights = _weights(z, h)
    mean = float(weights @ values)
    thinned = np.unique([*range(0, z.size, 2), z.size - 1])
    coarse = float(_weights(z[thinned], h) @ values[thinned])
    missed = (mean - coarse) / 3  # the rule's error falls with the square of the step
    error = np.hypot(own * np.sqrt(weights @ weights), missed)
    return ProfileBalance(
        depth=z,
        stress=values,
        thickness=h,
        mean=mean,
        expanded=float(ndtri((1 + level) / 2) * error),
        level=level,
    )


def _weights(depth: FloatArray, thickness: float) -> FloatArray:
    """Return the share of the thickness that each reading speaks for."""
    borders = np.concatenate([[0.0], (depth[1:] + depth[:-1]) / 2, [thickness]])
    return np.asarray(np.diff(borders) / thickness)
