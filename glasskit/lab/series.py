# SPDX-License-Identifier: MIT
"""Reduce a series of specimens: each one with its budget, each kind of origin by itself."""

import csv
import os
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from glasskit.lab.bend_tests import BENCHES
from glasskit.lab.budgets import Input, from_readings, from_tolerance
from glasskit.lab.origins import UNBROKEN, UNKNOWN
from glasskit.lab.records import Record, Series
from glasskit.lab.reducing import METHODS, Reduction, exact, reduce
from glasskit.lab.shown import headed, listed, spanned
from glasskit.quantities import FloatArray, non_negative, of_type, one_of, show
from glasskit.rows import Trouble, safe_cell
from glasskit.strength import WeibullFit, fit_masked, fit_weibull

FEWEST = 5
"""Breaks from one kind of origin from which it is fitted by itself [-]; five already leave the
modulus open by a factor of three."""

COUNTED, LEFT = ", unknown counted in", ", unknown left out"
"""What the names of two fits end in that bound one kind of origin, see `Outcome`."""

FAR = 6.0
"""Robust standard deviations off the median of its like from which a size or a result is named
as doubtful [-]; by chance alone some one in a thousand strengths is."""

_FINEST = 0.005  # least of such a deviation, as a share: sizes that are all alike


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
        Key of `glasskit.lab.METHODS`.
    records : tuple of Record
        Specimens that were reduced.
    reduction : Reduction
        Their results, one entry a specimen.
    fits : mapping of str to WeibullFit
        By origin; only for strengths, and only origins with `FEWEST` known breaks or more.
        Where one kind is known and some breaks are of unknown origin there are two, the
        bounds: with all of these counted to it, and with none.
    aside : tuple of Record
        Specimens whose origin makes them no result of the test, as their method says.
    untold : tuple of str
        Readings without a stated tolerance.
    doubts : tuple of tuple of str
        What is odd about each record, in words; it is used all the same.
    troubles : tuple of Trouble
        Lines of the file that were set aside, of this method or not to be told of which.
    tolerances : mapping of str to Tolerance
        As stated.
    file, checksum : str
        Of the raw file, see `Series`.
    read_as : tuple of tuple of str
        Headings that were taken for the kit's names, see `Series`.

    """

    method: str
    records: tuple[Record, ...]
    reduction: Reduction
    fits: Mapping[str, WeibullFit]
    aside: tuple[Record, ...]
    untold: tuple[str, ...]
    doubts: tuple[tuple[str, ...], ...]
    troubles: tuple[Trouble, ...]
    tolerances: Mapping[str, Tolerance]
    file: str
    checksum: str
    read_as: tuple[tuple[str, str], ...] = ()

    @property
    def origins(self) -> dict[str, int]:
        """Number of specimens by origin."""
        named = [record.origin for record in self.records]
        return {name: named.count(name) for name in dict.fromkeys(named)}

    def table(self) -> dict[str, list[str] | list[float]]:
        """Return one entry for each specimen by column, in SI: feeds a data frame or a CSV.

        Examples
        --------
        >>> from glasskit.lab.records import parse_records
        >>> series = parse_records('''specimen,method,load [N],diagonal [µm]
        ... 1,vickers,9.81,57.6
        ... 2,vickers,9.81,58.1''')
        >>> table = reduce_series(series, "vickers").table()
        >>> list(table)
        ['specimen', 'origin', 'load', 'diagonal', 'result', 'uncertainty', 'doubt']

        """
        columns: dict[str, list[str] | list[float]] = {
            "specimen": [record.specimen for record in self.records],
            "origin": [record.origin for record in self.records],
        }
        shape = self.reduction.value.shape
        for name, item in self.reduction.inputs.items():
            columns[name] = np.broadcast_to(item.value, shape).tolist()
        columns["result"] = self.reduction.value.tolist()
        columns["uncertainty"] = self.reduction.budget.standard.tolist()
        columns["doubt"] = ["; ".join(words) for words in self.doubts]
        return columns

    def to_frame(self) -> Any:
        """Return `table` as a pandas ``DataFrame``, one specimen a row, in SI.

        Raises
        ------
        ImportError
            If pandas is not installed; it is an extra, and nothing else needs it.

        """
        try:
            from pandas import DataFrame
        except ImportError:
            raise ImportError(
                "to_frame needs pandas; got none: python -m pip install pandas, or use table()"
            ) from None
        return DataFrame(self.table())

    def to_csv(self, path: str | os.PathLike[str]) -> None:
        """Write `table` to a file: SI numbers, one specimen a line, standard uncertainties.

        Raises
        ------
        OSError
            If it cannot be written.

        """
        columns = self.table()
        with open(path, "w", encoding="utf-8-sig", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(columns)
            for row in zip(*columns.values(), strict=True):
                writer.writerow([safe_cell(c) if isinstance(c, str) else c for c in row])

    def __repr__(self) -> str:
        """Return what it is, in a line."""
        return (
            f"<Outcome: {self.method}, {len(self.records)} specimens, "
            f"{len(self.troubles)} lines set aside, fits: {', '.join(self.fits) or 'none'}>"
        )

    def _repr_html_(self) -> str:
        """Show fits and specimens in a notebook."""
        kind = METHODS[self.method].kind
        fits = [
            (
                name,
                f"{fit.failures:.0f} of {len(self.records)}",
                spanned(fit.modulus, fit.interval(), "number", 2),
                spanned(fit.scale, fit.scale_interval(), kind),
            )
            for name, fit in self.fits.items()
        ]
        half = self.reduction.budget.expanded()
        specimens = [
            (
                one.specimen,
                one.origin,
                show(value, kind),
                show(wide, kind, digits=2),
                "; ".join(odd),
            )
            for one, value, wide, odd in zip(
                self.records, self.reduction.value, half, self.doubts, strict=True
            )
        ]
        title = (
            f"{METHODS[self.method].title}: {len(self.records)} specimens, "
            f"{len(self.troubles)} lines set aside"
        )
        return headed(
            title,
            listed(["origin", "breaks", "modulus (95%)", "scale (95%)"], fits),
            listed(["specimen", "origin", "result", "± (95%)", "doubt"], specimens),
        )

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
        From `glasskit.lab.read_records`.
    method : str
        Key of `glasskit.lab.METHODS`.
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
    For each kind of flaw, what broke from another kind or did not break is censored: this
    kind bore at least as much. So does the face tested where an origin makes the specimen no
    result of the test. What broke from an unknown origin did break from one of the kinds
    fitted: see `glasskit.strength.fit_masked`.

    References
    ----------
    [GUM] for the uncertainty of each specimen; censoring by origin as in [C1239]; unknown
    origins as in [Flehinger1998].

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
    every = series.of(method)
    excluded = METHODS[method].aside if method in METHODS else {}
    aside = tuple(record for record in every if record.origin in excluded)
    records = tuple(record for record in every if record.origin not in excluded)
    if len(records) < 2:
        others = Counter(record.method for record in series.records if record.method != method)
        held = "".join(f", and {count} of {name}" for name, count in others.items())
        got = f"got {len(records)}{held}"
        raise ValueError(f"series must hold two specimens of {method}; {got}")
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
        repeats = [record.repeats.get(name, (0.0,)) for record in records]
        if any(len(values) > 1 for values in repeats):
            readings[name] = _with_repeats(readings[name], repeats)
    reduction = reduce(method, readings)
    bore = [reduce(method, record.readings).value.item() for record in aside]
    return Outcome(
        method=method,
        records=records,
        reduction=reduction,
        fits=_fits(method, records, np.append(reduction.value, bore)),
        aside=aside,
        untold=tuple(name for name in names if name not in stated),
        doubts=_doubts(reduction, names),
        troubles=series.troubles_of(method),
        tolerances=MappingProxyType(dict(stated)),
        file=series.file,
        checksum=series.checksum,
        read_as=series.read_as,
    )


def _with_repeats(reading: Input, repeats: Sequence[Sequence[float]]) -> Input:
    """Return a reading with what its repeats scatter, pooled over all specimens, beside it."""
    counts = [len(values) for values in repeats]
    degrees = sum(len(values) - 1 for values in repeats)
    squares = sum(np.var(values) * len(values) for values in repeats)
    mean = np.sqrt(squares / degrees / np.array(counts))
    total = np.hypot(mean, reading.uncertainty)
    share = np.divide(mean, total, out=np.zeros_like(total), where=total > 0).max()
    effective = degrees / share**4 if share > 0 else np.inf  # Welch and Satterthwaite
    return Input(value=reading.value, uncertainty=total, degrees=effective)


def _doubts(reduction: Reduction, names: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Return what is odd about each specimen: a size, or a result, far off the others."""
    found: list[list[str]] = [[] for _ in range(reduction.value.size)]
    method = METHODS[reduction.method]
    for name in names:
        item, reading = reduction.inputs[name], method.readings[name]
        if reading.kind == "force" or reading.signed:
            continue  # scatters with the strength, or about zero: the result tells
        for place in np.flatnonzero(_far_off(item.value, item.uncertainty)):
            times = item.value[place] / np.median(item.value)
            found[place].append(f"{name} is {times:.3g} times the median of its like")
    if not method.signed and (reduction.value > 0).all():
        for place in np.flatnonzero(_far_off(reduction.value, reduction.budget.standard)):
            times = reduction.value[place] / np.median(reduction.value)
            found[place].append(f"the result is {times:.3g} times the median")
    return tuple(map(tuple, found))


def _far_off(value: FloatArray, uncertainty: FloatArray) -> NDArray[np.bool_]:
    """Return which of a group lie more than `FAR` robust deviations off its middle."""
    height = np.log(np.abs(value))
    away = np.abs(height - np.median(height))
    spread = np.maximum(1.4826 * np.median(away), uncertainty / np.abs(value))
    return np.asarray(away > FAR * np.maximum(spread, _FINEST))


def _fits(
    method: str, records: tuple[Record, ...], strengths: FloatArray
) -> Mapping[str, WeibullFit]:
    """Fit each origin with enough breaks; strengths beyond the records' are of those aside."""
    if method not in BENCHES:
        return MappingProxyType({})
    origins = np.array([record.origin for record in records])
    origins = np.append(origins, np.full(len(strengths) - len(records), ""))
    counts = Counter(origins.tolist())
    kinds = [
        name
        for name, many in counts.items()
        if name not in (UNKNOWN, UNBROKEN, "") and many >= FEWEST
    ]
    lost = origins == UNKNOWN
    if not lost.any():
        return MappingProxyType(
            {name: fit_weibull(strengths, origins != name) for name in kinds}
        )
    if len(kinds) == 1:
        [name] = kinds
        return MappingProxyType(
            {
                name + COUNTED: fit_weibull(strengths, (origins != name) & ~lost),
                name + LEFT: fit_weibull(strengths, origins != name),
            }
        )
    fits = fit_masked(strengths, [(origins == name) | lost for name in kinds]) if kinds else ()
    return MappingProxyType(dict(zip(kinds, fits, strict=True)))
