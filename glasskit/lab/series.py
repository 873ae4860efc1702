# SPDX-License-Identifier: MIT
"""Reduce a series of specimens: each one with its budget, each kind of origin by itself."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from glasskit.lab.bend_tests import BENCHES
from glasskit.lab.budgets import Input, from_readings, from_tolerance
from glasskit.lab.records import Record, Series
from glasskit.lab.reducing import Reduction, exact, reduce
from glasskit.quantities import non_negative, of_type, one_of
from glasskit.rows import Trouble
from glasskit.strength import WeibullFit, fit_weibull

FEWEST = 5
"""Breaks from one kind of origin from which it is fitted by itself [-]; five already leave the
modulus open by a factor of three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How far a reading may be off: it lies evenly within the two taken together.

    Attributes
    ----------
    absolute : float
        Half width of the same unit as the reading [SI].
    relative : float
        Half width as a share of the reading [-].

    """

    absolute: float = 0.0
    relative: float = 0.0

    def __post_init__(self) -> None:
        non_negative("absolute", self.absolute)
        non_negative("relative", self.relative)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """A reduced series of one method.

    Attributes
    ----------
    method : str
        Key of `laboratory.METHODS`.
    records : tuple of Record
        Specimens that were reduced.
    reduction : Reduction
        Their results, one entry a specimen.
    fits : mapping of str to WeibullFit
        By origin, the others censored; only for strengths, and only origins with `FEWEST`
        breaks or more.
    untold : tuple of str
        Readings without a stated tolerance.
    troubles : tuple of Trouble
        Lines of the file that were set aside, of all methods.

    """

    method: str
    records: tuple[Record, ...]
    reduction: Reduction
    fits: Mapping[str, WeibullFit]
    untold: tuple[str, ...]
    troubles: tuple[Trouble, ...]

    @property
    def origins(self) -> dict[str, int]:
        """Number of specimens by origin, "unknown" where none was written."""
        named = [record.origin or "unknown" for record in self.records]
        return {name: named.count(name) for name in dict.fromkeys(named)}

    @property
    def mean(self) -> Input:
        """Mean of the results with the uncertainty that their scatter gives [SI]."""
        return from_readings(self.reduction.value)


def reduce_series(
    series: Series, method: str, tolerances: Mapping[str, Tolerance] | None = None
) -> Outcome:
    """Reduce all specimens of one method.

    Parameters
    ----------
    series : Series
        From `records.read_records`.
    method : str
        Key of `laboratory.METHODS`.
    tolerances : mapping of str to Tolerance, optional
        How far each reading may be off, by its name.

    Returns
    -------
    Outcome
        Results, fits, and what was set aside.

    Raises
    ------
    ValueError
        If the method or a tolerance is unknown, the series holds fewer than two specimens of
        the method, or a formula refuses a reading.

    Notes
    -----
    Specimens of unknown origin, and of origins too rare to fit, count as censored: each kind
    of flaw would have held at least as long.

    References
    ----------
    [GUM] for the uncertainty of each specimen; censoring by origin as in [C1239].

    Examples
    --------
    Three dents, invented; hardness in GPa:

    >>> from glasskit.lab.records import parse_records
    >>> series = parse_records('''specimen,method,origin,load [N],diagonal [µm]
    ... 1,vickers,,9.81,57.6
    ... 2,vickers,,9.81,58.1
    ... 3,vickers,,9.81,58.4''')
    >>> (reduce_series(series, "vickers").reduction.value / 1e9).round(2)
    array([5.91, 5.81, 5.75])

    """
    of_type("series", series, Series)
    records = series.of(method)
    if len(records) < 2:
        raise ValueError(f"series must hold two specimens of {method}; got {len(records)}")
    names = dict.fromkeys(name for record in records for name in record.readings)
    stated = tolerances or {}
    for name in stated:
        one_of("tolerance", name, names)
    readings = {}
    for name in names:
        given = [record.readings.get(name) for record in records]
        if None in given:
            lines = [r.line for r, one in zip(records, given, strict=True) if one is None]
            raise ValueError(f"{name} must be given on every line or none; missing on {lines}")
        value = np.array(given, dtype=np.float64)
        within = stated.get(name, Tolerance())
        half = within.absolute + within.relative * np.abs(value)
        readings[name] = from_tolerance(value, half) if name in stated else exact(value)
    reduction = reduce(method, readings)
    return Outcome(
        method=method,
        records=records,
        reduction=reduction,
        fits=_fits(method, records, reduction),
        untold=tuple(name for name in names if name not in stated),
        troubles=series.troubles,
    )


def _fits(
    method: str, records: tuple[Record, ...], reduction: Reduction
) -> Mapping[str, WeibullFit]:
    if method not in BENCHES:
        return MappingProxyType({})
    origins = np.array([record.origin for record in records])
    known = [name for name in dict.fromkeys(origins.tolist()) if name]
    return MappingProxyType(
        {
            name: fit_weibull(reduction.value, origins != name)
            for name in known
            if (origins == name).sum() >= FEWEST
        }
    )
