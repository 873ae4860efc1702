# SPDX-License-Identifier: MIT
"""Put strengthened glass into the classes of the standards, with the odds of each class.

A measured compression has an uncertainty; next to a border the class is a matter of odds. The
limits stand in ``data/classes.csv`` with their source and status. Editions differ: look at
the standard in force before relying on a class.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtr, ndtri, stdtrit

from glasskit.quantities import FloatArray, non_negative, one_of, positive, require, within
from glasskit.tables import read

_SCALE = {"MPa": 1e6, "um": 1e-6}


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """One class of a standard.

    Attributes
    ----------
    standard, quantity, name : str
        Standard, what is measured ("surface_compression" or "case_depth"), class.
    above, to : float
        Its ends [Pa] or [m]; infinity for none.
    status : str
        How sure the numbers are.

    """

    standard: str
    quantity: str
    name: str
    above: float
    to: float
    status: str


@cache
def _grades() -> tuple[Grade, ...]:
    return tuple(
        Grade(
            standard=row["standard"],
            quantity=row["quantity"],
            name=row["name"],
            above=float(row["above"]) * _SCALE[row["unit"]],
            to=float(row["to"]) * _SCALE[row["unit"]],
            status=row["status"],
        )
        for row in read("classes")
    )


CLASSES = _grades()
"""Every class known here, ascending within a standard and quantity."""


def _choose(standard: str, quantity: str) -> list[Grade]:
    pairs = dict.fromkeys((grade.standard, grade.quantity) for grade in CLASSES)
    one_of("standard, quantity", (standard, quantity), pairs)
    return [
        grade for grade in CLASSES if (grade.standard, grade.quantity) == (standard, quantity)
    ]


def class_of(value: float, standard: str, quantity: str = "surface_compression") -> str:
    """Return the class of one value, "below all classes" if there is none.

    Parameters
    ----------
    value : float
        Surface compression, positive [Pa], or case depth [m].
    standard : {"C1422", "C1048"}
        Chemically strengthened or heat-treated glass.
    quantity : {"surface_compression", "case_depth"}
        What `value` is.

    Returns
    -------
    str
        Name of the class. C1422 counts from above a border, C1048 from the border on.

    Raises
    ------
    ValueError
        If `value` is not positive, or the standard has no classes for the quantity.

    Notes
    -----
    Says nothing of how sure the class is: see `class_odds`.

    References
    ----------
    Definition; the sources of the classes stand with them.

    Examples
    --------
    >>> class_of(450e6, "C1422"), class_of(18e-6, "C1422", "case_depth")
    ('level 3', 'level A')
    >>> class_of(69e6, "C1048")
    'fully tempered (FT)'

    """
    size = positive("value", value).item()
    name = "below all classes"
    for grade in _choose(standard, quantity):
        reached = size >= grade.above * (1 - 1e-12)
        passed = size > grade.above * (1 + 1e-12)
        # Heat-strengthened glass includes its upper end, so its neighbour starts above it.
        if passed or (reached and standard == "C1048" and grade.name != "between the kinds"):
            name = grade.name
    return name


def class_odds(
    value: ArrayLike,
    uncertainty: ArrayLike,
    standard: str,
    quantity: str = "surface_compression",
) -> dict[str, FloatArray]:
    """Return the chance of each class, the measured value being normally uncertain.

    Parameters
    ----------
    value, uncertainty : array_like
        Best estimate and standard uncertainty [Pa] or [m].
    standard, quantity : str
        As for `class_of`.

    Returns
    -------
    dict of str to ndarray
        Chance by class, ascending, "below all classes" first [-]; they sum to one.

    Raises
    ------
    ValueError
        As for `class_of`, or if `uncertainty` is negative.

    Notes
    -----
    Only as true as the uncertainty that is put in; the classes themselves are taken as sharp.

    References
    ----------
    Definition: the normal distribution.

    Examples
    --------
    72 ± 3 MPa: is it fully tempered?

    >>> class_odds(72e6, 3e6, "C1048")["fully tempered (FT)"].round(2).item()
    0.84

    """
    centre = positive("value", value)
    width = np.maximum(non_negative("uncertainty", uncertainty), 1e-12 * centre)
    grades = _choose(standard, quantity)
    borders = [grade.above for grade in grades if grade.above > 0]
    passed = [ndtr((centre - border) / width) for border in borders]
    one = np.ones(np.broadcast_shapes(centre.shape, width.shape))
    reached = [one, *passed] if grades[0].above > 0 else [one, one, *passed]
    ends = [*reached[1:], 0 * one]
    names = ["below all classes", *(grade.name for grade in grades)]
    return {
        name: np.asarray(now - after)
        for name, now, after in zip(names, reached, ends, strict=True)
    }


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LotGrade:
    """The class of a lot, from readings on several pieces.

    Attributes
    ----------
    readings : ndarray, shape (n,)
        Surface compression of each piece [Pa].
    standard : str
        Whose classes.
    mean, standard_uncertainty : float
        Mean of the lot and its standard uncertainty, instrument included [Pa].
    interval : tuple of float
        Where the mean of the lot lies [Pa].
    level : float
        Confidence of `interval` [-].
    odds : dict of str to float
        Chance of each class for the mean, ascending [-].
    classes : dict of str to int
        How many pieces read in each class.

    """

    readings: FloatArray
    standard: str
    mean: float
    standard_uncertainty: float
    interval: tuple[float, float]
    level: float
    odds: dict[str, float]
    classes: dict[str, int]

    def __post_init__(self) -> None:
        self.readings.flags.writeable = False


def grade_lot(
    readings: ArrayLike, standard: str, instrument: float = 0.0, level: float = 0.95
) -> LotGrade:
    r"""Grade a lot by the mean surface compression of its pieces.

    .. math:: u^2 = \frac{s^2}{n} + u_\mathrm{instrument}^2

    Parameters
    ----------
    readings : array_like, shape (n,)
        Surface compression read on each of two pieces or more, positive [Pa].
    standard : {"C1422", "C1048"}
        Chemically strengthened or heat-treated glass.
    instrument : float
        Standard uncertainty that all readings share, such as the calibration [Pa].
    level : float
        Confidence of the interval [-].

    Returns
    -------
    LotGrade
        Mean, interval, odds of each class, and the class of each piece.

    Raises
    ------
    ValueError
        As for `class_odds`, if there are fewer than two readings, or `level` does not lie
        between 0 and 1.

    Notes
    -----
    Student's factor with the degrees of freedom after Welch and Satterthwaite; the odds are
    those of the normal distribution with the same interval. A mean in a class does not put
    every piece there.

    References
    ----------
    [GUM]

    Examples
    --------
    Five panes, in MPa, by an instrument good to 2 MPa:

    >>> lot = grade_lot(np.array([71, 74, 69, 76, 72]) * 1e6, "C1048", 2e6)
    >>> round(lot.mean / 1e6, 1), round(lot.odds["fully tempered (FT)"], 2)
    (72.4, 0.92)

    """
    values = np.array(np.atleast_1d(positive("readings", readings, "Pa")))
    require(values.size >= 2, "readings", values.size, "hold two pieces or more")
    level = within("level", level, 0, 1).item()
    shared = non_negative("instrument", instrument, "Pa").item()
    own = values.std(ddof=1) / np.sqrt(values.size)
    total = float(np.hypot(own, shared))
    freedom = (values.size - 1) * (total / own) ** 4 if own > 0 else np.inf
    half = total * float(
        stdtrit(freedom, (1 + level) / 2) if np.isfinite(freedom) else ndtri((1 + level) / 2)
    )
    mean = float(values.mean())
    odds = class_odds(mean, half / ndtri((1 + level) / 2), standard)
    names = [class_of(value, standard) for value in values]
    return LotGrade(
        readings=values,
        standard=standard,
        mean=mean,
        standard_uncertainty=total,
        interval=(mean - half, mean + half),
        level=level,
        odds={name: chance.item() for name, chance in odds.items()},
        classes={name: names.count(name) for name in odds if name in names},
    )
