# SPDX-License-Identifier: MIT
"""Say what a test method is: a formula with its readings, its limits and its scope.

Limits are tested at the best estimates; what no reading can tell, such as what a standard
does not cover, is the method's `scope` and is always said.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from glasskit.lab.budgets import Input, Model, from_tolerance
from glasskit.quantities import finite


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One thing to read for a method.

    Attributes
    ----------
    kind : str
        Kind of quantity, a key of `quantities.UNITS`.
    words : str
        What it is.
    usual : Input, optional
        What is taken where nothing was read: a constant of the glass or of the method.
    signed : bool
        Whether it may be zero or negative.

    """

    kind: str
    words: str
    usual: Input | None = None
    signed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of a formula that the readings can break.

    Attributes
    ----------
    holds : callable
        Takes the result as `value` and the readings by keyword, returns where it is kept.
    words : str
        What is wrong where it is broken, and with what consequence.

    """

    holds: Callable[..., NDArray[np.bool_]]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A test method: formula, readings, limits, scope.

    Attributes
    ----------
    title : str
        What is measured how.
    formula : str
        As one writes it in a notebook.
    kind : str
        Kind of the result, a key of `quantities.UNITS`.
    model : callable
        Takes the readings by keyword, SI in and out.
    readings : mapping of str to Reading
        By the name that `model` has for them.
    limits : tuple of Limit
        What the readings can break.
    scope : tuple of str
        What no reading tells and is always said.
    reference : str
        Key of the source.
    aside : mapping of str to str
        Origins of a break that make it no result of this test, each with the reason.
    signed : bool
        Whether the result may be zero or negative.

    """

    title: str
    formula: str
    kind: str
    model: Model
    readings: Mapping[str, Reading]
    reference: str
    limits: tuple[Limit, ...] = ()
    scope: tuple[str, ...] = ()
    aside: Mapping[str, str] = field(default_factory=dict)
    signed: bool = False


def read(kind: str, words: str, usual: Input | None = None, signed: bool = False) -> Reading:
    """Return a `Reading`, short to write in a table."""
    return Reading(kind=kind, words=words, usual=usual, signed=signed)


def between(low: float, high: float) -> Input:
    """Return a constant known to lie between two published ends.

    Parameters
    ----------
    low, high : float
        The ends [SI].

    Returns
    -------
    Input
        Every value between the ends equally likely.

    Raises
    ------
    ValueError
        If an end is not finite, or `high` not above `low`.

    Examples
    --------
    >>> between(0.7e6, 0.8e6).value.item() / 1e6
    0.75

    """
    low, high = finite("low", low).item(), finite("high", high).item()
    return from_tolerance((low + high) / 2, (high - low) / 2)


def limit(words: str, holds: Callable[..., NDArray[np.bool_]]) -> Limit:
    """Return a `Limit`, short to write in a table."""
    return Limit(words=words, holds=holds)
