# SPDX-License-Identifier: MIT
r"""Turn a class's readings into strengths, a Weibull line, and what they do and do not show.

Two kinds of stick in one bundle are looked for by cutting the ranked strengths in two where
the halves are tightest. How tight they must be is known exactly: with one Weibull population
the share of the spread of :math:`\ln\sigma` that such a cut takes away depends on nothing but
the number of sticks, so it is simulated once.
"""

import csv
import io
import os
import warnings
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from glasskit.bending import bar_section, rod_section, three_point_stress
from glasskit.classroom.readings import ClassSheet, Reading
from glasskit.files import replace_file
from glasskit.quantities import (
    FloatArray,
    OutsideValidityWarning,
    finite,
    of_type,
    positive,
    require,
)
from glasskit.rows import safe_cell
from glasskit.strength import WeibullFit, fit_weibull, sample_size, scale_ratio

LEAST = 5
"""Sticks needed for a line that says anything."""

_SURE = 0.9  # confidence of the ratio of two groups
_SEED, _TRIALS = 31, 2000  # of the simulation behind a cut
_SLENDER = 10.0  # span over depth, below which the formula of a slender bar is off
_SANE = (1e4, 1e9)  # strength of what a class can bend [Pa], generously


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """Ranked strengths cut in two where the halves are tightest.

    Attributes
    ----------
    stress : float
        Where the cut lies, halfway between its neighbours on a logarithmic axis [Pa].
    below, above : float
        Medians of the halves [Pa].
    count_below : int
        How many lie below [-].
    share : float
        Share of the variance of the logarithms that the cut takes away [-].
    significance : float
        How often one Weibull population of so many sticks is cut as cleanly [-].

    """

    stress: float
    below: float
    above: float
    count_below: int
    share: float
    significance: float

    @property
    def seen(self) -> bool:
        """Whether two kinds are seen: one kind would look so in fewer than 1 of 20 classes."""
        return self.significance < 0.05


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pair:
    """Two groups of sticks, told apart by a column.

    Attributes
    ----------
    heading : str
        Of the column.
    names : tuple of str
        Of the weaker and the stronger group.
    counts : tuple of int
        Sticks in each [-].
    ratio : float
        Strength of the weaker over that of the stronger, by the fitted scales; NaN where a
        group has fewer than `LEAST` different sticks [-].
    interval : ndarray, shape (2,)
        Where the true ratio lies, nine times in ten [-].

    """

    heading: str
    names: tuple[str, str]
    counts: tuple[int, int]
    ratio: float
    interval: FloatArray

    @property
    def shown(self) -> bool:
        """Whether a difference is shown: 1 lies outside the interval."""
        return bool(self.interval[1] < 1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClassResult:
    """What the usable rows of a class come to.

    Attributes
    ----------
    sheet : ClassSheet
        All rows.
    strengths : ndarray, shape (n,)
        Of the rows used, ascending [Pa].
    fit : WeibullFit or None
        None where there are fewer than `LEAST` different sticks.
    cut : Cut or None
        None where there is no fit.
    pair : Pair or None
        None where no column parts the sticks into two groups.
    factor : float
        Within which the modulus is wanted either way, nine times in ten [-].

    """

    sheet: ClassSheet
    strengths: FloatArray
    fit: WeibullFit | None
    cut: Cut | None
    pair: Pair | None
    factor: float

    @property
    def needed(self) -> int:
        """Sticks needed to know the modulus within `factor` either way, 90 % [-]."""
        return int(sample_size(self.factor**2, 0.9))

    @property
    def more(self) -> int:
        """Sticks still to break for that [-]."""
        return max(self.needed - self.strengths.size, 0)


def strength_of(row: Reading) -> float:
    r"""Return the strength of one stick from its row.

    Parameters
    ----------
    row : Reading
        With the load, the span and the size.

    Returns
    -------
    float
        Far-face tension when it broke [Pa]; NaN if a value is missing.

    Examples
    --------
    A rod of 1.8 mm that broke under 60 g hung from a span of 100 mm, in MPa:

    >>> from glasskit.classroom import read_sheet
    >>> sheet = read_sheet("mass / g; span / mm; diameter / mm\n60; 100; 1.8")
    >>> strength_of(sheet.rows[0]) / 1e6
    25.7

    """
    of_type("row", row, Reading)
    known = row.values
    if {"load", "span", "diameter"} <= known.keys():
        section = rod_section(known["diameter"])
    elif {"load", "span", "width", "height"} <= known.keys():
        section = bar_section(known["width"], known["height"])
    else:
        return float("nan")
    return three_point_stress(known["load"], known["span"], section).item()


def find_cut(strengths: ArrayLike) -> Cut:
    """Cut ranked strengths in two where the halves are tightest, and say how odd that is.

    Parameters
    ----------
    strengths : array_like, shape (n,)
        Five sticks or more, not all alike [Pa].

    Returns
    -------
    Cut
        With two sticks or more on either side.

    Raises
    ------
    ValueError
        If a strength is not positive, or there are fewer than five or they are all alike.

    Notes
    -----
    Against one Weibull population, whatever its modulus and scale. A clean cut may come from
    two kinds of flaw, two bundles, two groups that measured differently; it does not say
    which. Two kinds, half of the sticks of 55 and half of 100 MPa, both of modulus 10, were
    seen in 50 % of 400 simulated classes of 8, 76 % of 12 and 99 % of 28; of 70 and 100 MPa in
    14, 20 and 46 %. Not seen does not mean not there.

    References
    ----------
    Own method: Weibull populations of the same number, drawn and cut in the same way.

    Examples
    --------
    >>> find_cut([20e6, 21e6, 22e6, 23e6, 60e6, 62e6, 63e6, 66e6]).count_below
    4

    """
    values = np.sort(positive("strengths", strengths, "Pa").ravel())
    require(values.size >= LEAST, "strengths", values.size, f"hold {LEAST} sticks or more")
    require(values[0] < values[-1], "strengths", values[0], "not all be equal", "Pa")
    height = np.log(values)
    shares = _shares(height)
    place = int(np.argmax(shares)) + 2
    odd = np.count_nonzero(_usual_shares(values.size) >= shares.max())
    return Cut(
        stress=float(np.exp((height[place - 1] + height[place]) / 2)),
        below=float(np.median(values[:place])),
        above=float(np.median(values[place:])),
        count_below=place,
        share=float(shares.max()),
        significance=(odd + 1) / (_TRIALS + 1),
    )


def _shares(height: FloatArray) -> FloatArray:
    """Return the share of the variance that each cut takes away, shape (..., n - 3)."""
    away = height - height.mean(-1, keepdims=True)
    count = height.shape[-1]
    below = np.arange(2, count - 1)
    summed = np.cumsum(away, axis=-1)[..., 1 : count - 2]
    between = summed**2 * (1 / below + 1 / (count - below))
    return np.asarray(between / (away**2).sum(-1, keepdims=True))


@cache
def _usual_shares(count: int) -> FloatArray:
    """Return the best share of each of many simulated classes of one population."""
    rng = np.random.default_rng(_SEED)
    height = np.log(np.sort(rng.weibull(1.0, (_TRIALS, count)), axis=-1))
    return np.asarray(_shares(height).max(-1))


def class_result(sheet: ClassSheet, factor: float = 1.2) -> ClassResult:
    r"""Work out what the usable rows of a class come to.

    Parameters
    ----------
    sheet : ClassSheet
        From `glasskit.classroom.readings.read_sheet`.
    factor : float
        Within which the modulus is wanted either way, nine times in ten; above 1 [-].

    Returns
    -------
    ClassResult
        Without a fit where there are too few sticks.

    Raises
    ------
    ValueError
        If `factor` is not above 1.

    Warns
    -----
    OutsideValidityWarning
        If a bar is short against its depth, or the strengths belong to no material.

    Examples
    --------
    Six rods, invented; scale of their strength in MPa:

    >>> from glasskit.classroom import read_sheet
    >>> rows = "\n".join(f"{grams}; 100; 1.8" for grams in (45, 52, 58, 63, 70, 81))
    >>> sheet = read_sheet("mass / g; span / mm; diameter / mm\n" + rows)
    >>> class_result(sheet).fit.scale.item() / 1e6
    28.45

    """
    of_type("sheet", sheet, ClassSheet)
    require(finite("factor", factor) > 1, "factor", factor, "be above 1")
    used = sheet.with_status("used")
    strengths = np.sort(np.array([strength_of(row) for row in used]))
    strengths.flags.writeable = False
    _warn(used, strengths)
    enough = strengths.size >= LEAST and strengths[0] < strengths[-1]
    return ClassResult(
        sheet=sheet,
        strengths=strengths,
        fit=fit_weibull(strengths) if enough else None,
        cut=find_cut(strengths) if enough else None,
        pair=_pair(sheet),
        factor=factor,
    )


def _pair(sheet: ClassSheet) -> Pair | None:
    """Compare the two groups that a column names."""
    if sheet.halves is None:
        return None
    heading, halves = sheet.halves
    groups = {
        name: np.array([strength_of(row) for row in rows]) for name, rows in halves.items()
    }
    weak, strong = sorted(groups, key=lambda name: float(np.median(groups[name])))
    counts = (groups[weak].size, groups[strong].size)
    if any(np.unique(groups[name]).size < LEAST for name in (weak, strong)):
        ratio, interval = float("nan"), np.full(2, np.nan)
    else:
        below, above = fit_weibull(groups[weak]), fit_weibull(groups[strong])
        ratio = (below.scale / above.scale).item()
        interval = scale_ratio(above, below, _SURE)
    return Pair(
        heading=heading, names=(weak, strong), counts=counts, ratio=ratio, interval=interval
    )


def _warn(used: tuple[Reading, ...], strengths: FloatArray) -> None:
    if not used:
        return
    deep = [row.values.get("diameter") or row.values["height"] for row in used]
    slender = min(row.values["span"] / depth for row, depth in zip(used, deep, strict=True))
    if slender < _SLENDER:
        warnings.warn(
            f"a span of {slender:.2g} depths is short: below ten, stresses come out too high",
            OutsideValidityWarning,
            stacklevel=3,
        )
    middle = float(np.median(strengths))
    if not _SANE[0] <= middle <= _SANE[1]:
        warnings.warn(
            f"half of the sticks would be stronger than {middle / 1e6:.2g} MPa, which nothing "
            "bent in class is: are the units in the first row right?",
            OutsideValidityWarning,
            stacklevel=3,
        )


def save_table(sheet: ClassSheet, path: str | os.PathLike[str]) -> Path:
    r"""Write every row as typed, what was made of it, and its strength; whole or not at all.

    Parameters
    ----------
    sheet : ClassSheet
        All rows.
    path : path
        Where to; an old file of that name is replaced.

    Returns
    -------
    Path
        The file written: CSV, UTF-8, numbers with a decimal point.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from glasskit.classroom.readings import read_sheet
    >>> sheet = read_sheet("mass / g; span / mm; diameter / mm\n60; 100; 1.8")
    >>> with TemporaryDirectory() as folder:
    ...     path = save_table(sheet, f"{folder}/class.csv")
    >>> path.name
    'class.csv'

    """
    of_type("sheet", sheet, ClassSheet)
    sizes = ("diameter",) if sheet.rod else ("width", "height")
    names = ["load_N", "span_mm", *(f"{size}_mm" for size in sizes)]
    file = io.StringIO()
    write = csv.writer(file, lineterminator="\n").writerow
    write(["line", "status", *names, "strength_MPa", "note", f"as typed: {sheet.header}"])
    for row in sheet.rows:
        shown = [_plain(row.values.get("load"), 1.0)]
        shown += [_plain(row.values.get(name), 1e-3) for name in ("span", *sizes)]
        strength = strength_of(row)
        shown.append(_plain(None if np.isnan(strength) else strength, 1e6))
        write([row.line, row.status, *shown, row.note, safe_cell(row.text)])
    return replace_file(path, file.getvalue().encode("utf-8-sig"))


def _plain(value: float | None, scale: float) -> str:
    return "" if value is None else f"{value / scale:.6g}"
