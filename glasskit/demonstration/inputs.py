# SPDX-License-Identifier: MIT
"""Say how well the inputs of a plan are known: ranges, each with source and status.

Most are judgements, written down in ``data/planner.csv`` to be quarrelled with.
"""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import numpy as np

from glasskit.quantities import FloatArray
from glasskit.tables import Value, read, sourced_value

__all__ = ["STRENGTH", "factor", "inputs", "short_load"]

STRENGTH = (
    "flaw modulus",
    "flaw strength",
    "flaw area",
    "short load",
    "toughness",
    "compression",
    "compressed depth",
)
"""Inputs on which the strength of a pane hangs."""


@cache
def inputs() -> Mapping[str, Value]:
    """Return the range of every uncertain input, as a factor, with source and status."""
    rows = [row for row in read("planner") if row["subject"] == "input"]
    return MappingProxyType({row["property"]: sourced_value(row) for row in rows})


@cache
def short_load() -> float:
    """Return the strength in a blow over the strength in a slow test [-]."""
    row = next(row for row in read("planner") if row["subject"] == "short_load")
    return sourced_value(row).value


def factor(name: str, place: FloatArray) -> FloatArray:
    """Return the factor on an input [-] at a place between -1, low end, and 1, high end."""
    span = inputs()[name]
    end = np.where(place < 0, span.low, span.high)
    return np.asarray(end ** np.abs(place))
