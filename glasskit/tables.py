# SPDX-License-Identifier: MIT
"""Read the published numbers of the package, each with its source, into SI.

The tables are CSV files in ``glasskit/data``. A row prints a number in the unit of its source;
it is converted here, once. Every row says where its number comes from and how sure that is:
`found` (seen in a public source that its row leads back to), `trade` (seen, but only with a
maker, a trader or in an unsigned table, and the kit names none), `memory` (not looked up) or
`common practice`.
"""

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, in_range, one_of, positive

__all__ = ["STATUSES", "Value", "read", "sourced_value", "standing"]

STATUSES = ("found", "trade", "memory", "common practice")

# Unit as printed: (SI unit, scale, offset), with SI = printed * scale + offset.
_UNITS: dict[str, tuple[str, float, float]] = {
    "1": ("-", 1.0, 0.0),
    "pm": ("m", 1e-12, 0.0),
    "cm2": ("m^2", 1e-4, 0.0),
    "mm/s": ("m/s", 1e-3, 0.0),
    "m/s": ("m/s", 1.0, 0.0),
    "um": ("m", 1e-6, 0.0),
    "mm": ("m", 1e-3, 0.0),
    "kg": ("kg", 1.0, 0.0),
    "N": ("N", 1.0, 0.0),
    "N/um": ("N/m", 1e6, 0.0),
    "MPa": ("Pa", 1e6, 0.0),
    "GPa": ("Pa", 1e9, 0.0),
    "1/TPa": ("1/Pa", 1e-12, 0.0),
    "MPa m^0.5": ("Pa m^0.5", 1e6, 0.0),
    "J/m2": ("J/m^2", 1.0, 0.0),
    "kg/m3": ("kg/m^3", 1.0, 0.0),
    "1e-6/K": ("1/K", 1e-6, 0.0),
    "W/(m K)": ("W/(m K)", 1.0, 0.0),
    "J/(kg K)": ("J/(kg K)", 1.0, 0.0),
    "m2/s": ("m^2/s", 1.0, 0.0),
    "kJ/mol": ("J/mol", 1e3, 0.0),
    "mol%": ("-", 1e-2, 0.0),
    "1/mol%": ("-", 1e2, 0.0),
    "K": ("K", 1.0, 0.0),
    "C": ("K", 1.0, 273.15),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One published number with its spread and its source.

    Attributes
    ----------
    value : float
        The number to use; for a range printed without one, its middle [`unit`].
    low, high : float
        Ends of the published range, equal to `value` where only one number is known [`unit`].
    unit : str
        SI unit, "-" for a pure number.
    conditions : str
        What the number holds for.
    source : str
        Where it was published.
    status : str
        How sure the source is, one of `STATUSES`.
    where : str
        What leads back to it: a key of ``data/references.csv``, a DOI, a standard or a page;
        empty where nothing does.
    note : str
        Why this number was chosen, or how it was printed.

    """

    value: float
    low: float
    high: float
    unit: str
    conditions: str = ""
    source: str
    status: str
    where: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        one_of("status", self.status, STATUSES)
        if not self.low <= self.value <= self.high:
            raise ValueError(
                f"value must lie in low <= value <= high; got {self.value:g} "
                f"outside {self.low:g} to {self.high:g} {self.unit}"
            )

    def at(self, share: ArrayLike) -> FloatArray:
        """Return the number at a share of the range, even in the logarithm on either side.

        Parameters
        ----------
        share : array_like
            0 at the low end, one half at `value`, 1 at the high end [-].

        Returns
        -------
        ndarray of float
            Numbers, of the shape of `share` [`unit`].

        Raises
        ------
        ValueError
            If `share` lies outside 0 to 1 or the range holds zero or less.

        """
        place = in_range("share", share, 0.0, 1.0)
        positive("low", self.low, self.unit)
        below = self.low * (self.value / self.low) ** (2 * place)
        above = self.value * (self.high / self.value) ** (2 * place - 1)
        return np.asarray(np.where(place < 0.5, below, above))


def read(name: str) -> list[dict[str, str]]:
    """Return the rows of one table in ``glasskit/data``, standing sentences filled in.

    Parameters
    ----------
    name : str
        File name without ``.csv``.

    Returns
    -------
    list of dict
        One dictionary a row, column name to text. Where a cell says ``{{key}}`` the sentence
        of that key stands, see `standing`.

    """
    return [
        {
            column: _STANDING.sub(lambda found: standing(found[1]), cell or "")
            for column, cell in row.items()
        }
        for row in _rows(name)
    ]


_STANDING = re.compile(r"\{\{(.+?)\}\}")


def _rows(name: str) -> list[dict[str, str]]:
    text = files("glasskit").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def _sentences() -> Mapping[str, str]:
    return {row["key"]: row["text"] for row in _rows("standing")}


def standing(key: str) -> str:
    """Return a sentence that reads the same wherever its matter comes up.

    Parameters
    ----------
    key : str
        Key in ``glasskit/data/standing.csv``, such as "live pane" or "floor".

    Returns
    -------
    str
        One or more sentences.

    Raises
    ------
    ValueError
        If there is no such key.

    Examples
    --------
    >>> standing("first-aider")
    'Your first-aider decides.'

    """
    one_of("key", key, _sentences())
    return _sentences()[key]


def sourced_value(row: Mapping[str, str]) -> Value:
    """Return one row of a table as a number in SI with its source.

    Parameters
    ----------
    row : mapping
        Columns ``value`` or ``low`` and ``high`` or all three, ``unit``, ``source``,
        ``status``, and where there are any ``conditions``, ``where``, ``note``.

    Returns
    -------
    Value
        The number, its range and its source.

    Raises
    ------
    ValueError
        If the row holds no number, or its unit or status is unknown.

    Examples
    --------
    A range printed without a choice keeps its ends, and its middle stands for it:

    >>> row = {"low": "7", "high": "8", "unit": "GPa", "source": "a book", "status": "memory"}
    >>> sourced_value(row).value / 1e9
    7.5

    """
    one_of("unit", row["unit"], _UNITS)
    unit, scale, offset = _UNITS[row["unit"]]
    printed = [float(row[key]) for key in ("value", "low", "high") if row.get(key)]
    if not printed:
        raise ValueError(f"row must hold a value or a range; got {dict(row)}")
    low, high = min(printed), max(printed)
    value = float(row.get("value") or (low + high) / 2)
    return Value(
        value=value * scale + offset,
        low=low * scale + offset,
        high=high * scale + offset,
        unit=unit,
        conditions=row.get("conditions", ""),
        source=row["source"],
        status=row["status"],
        where=row.get("where", ""),
        note=row.get("note", ""),
    )
