# SPDX-License-Identifier: MIT
"""Take raw readings to a defensible number: what a glass laboratory reduces, in one place.

`reduce` turns readings with uncertainties into a result with its budget, and says in words
which limits of the method are broken. Uncertainty, up-and-down drops, mirrors, core tension
and classes have modules of their own and are gathered here; fits of strengths stand in
`glasskit.strength`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from glasskit.lab.bend_tests import BENCHES
from glasskit.lab.budgets import (
    Budget,
    Input,
    Simulation,
    budget,
    simulate,
)
from glasskit.lab.mark_tests import MARKS
from glasskit.lab.methods import Method
from glasskit.lab.shown import headed, listed
from glasskit.quantities import FloatArray, finite, one_of, show

METHODS: Mapping[str, Method] = MappingProxyType({**BENCHES, **MARKS})
"""Every bench formula by name."""

_REACHES = "the interval to first order reaches zero: too unsure for it; use the simulated one"
_FEW_READINGS = 4  # degrees of freedom: five readings
_RULES = 0.2  # share of the variance from which few readings spoil the interval
_FEW = (
    "fewer than five readings rule the budget: its 95% interval holds the truth in 87 to 94%"
    " of cases; use the simulated one"
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BrokenLimit:
    """A limit that some specimens break.

    Attributes
    ----------
    words : str
        What is wrong, and with what consequence.
    where : ndarray of bool
        Which results it touches, of their shape.

    """

    words: str
    where: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reduction:
    """A reduced measurement.

    Attributes
    ----------
    method : str
        Key of `METHODS`.
    inputs : mapping of str to Input
        All that entered, the usual constants too.
    budget : Budget
        Result with its uncertainty, to first order.
    broken : tuple of BrokenLimit
        Limits that are not kept; empty if all are.

    """

    method: str
    inputs: Mapping[str, Input]
    budget: Budget
    broken: tuple[BrokenLimit, ...]

    @property
    def value(self) -> FloatArray:
        """Result [SI unit of the method's kind]."""
        return self.budget.value

    def _repr_html_(self) -> str:
        """Show results with their expanded uncertainty, the budget of one, broken limits."""
        method = METHODS[self.method]
        half = self.budget.expanded()
        results = [
            (show(value, method.kind), show(wide, method.kind, digits=2))
            for value, wide in zip(self.value.ravel(), half.ravel(), strict=True)
        ]
        shares = np.reshape(self.budget.shares, (-1, len(self.budget.names)))[0]
        budget = [
            (name, show(share, "percent", digits=2))
            for name, share in zip(self.budget.names, shares, strict=True)
        ]
        broken = [(limit.words,) for limit in self.broken]
        return headed(
            method.title,
            listed(["result", "± (95%)"], results),
            listed(["reading", "share of the first one's variance"], budget),
            listed(["limit that is not kept"], broken),
        )

    def simulate(self, rng: np.random.Generator, trials: int = 100_000) -> Simulation:
        """Draw the same model many times over, see `simulate`."""
        method = METHODS[self.method]
        above_zero = [name for name, one in method.readings.items() if not one.signed]
        return simulate(method.model, self.inputs, rng, trials, above_zero)


def reduce(method: str, readings: Mapping[str, Input | ArrayLike]) -> Reduction:
    """Turn readings into a result with budget and warnings.

    Parameters
    ----------
    method : str
        A key of `METHODS`.
    readings : mapping of str to Input or array_like
        Readings by name; a bare number or array counts as exact [SI].

    Returns
    -------
    Reduction
        One result for each entry of the readings' broadcast.

    Raises
    ------
    ValueError
        If the method or a reading is unknown, one is missing, or the formula refuses one.

    Notes
    -----
    Every specimen of an array shares the calibration of the instruments, so a mean of many
    is no surer than that: the budget is that of each specimen by itself. Where two to four
    readings rule the budget, Welch and Satterthwaite's degrees of freedom promise too much,
    and a sentence among `broken` says so.

    Examples
    --------
    A slide broken in three points, calliper good to 0.02 mm, force to 1 %:

    >>> from glasskit.lab import from_tolerance
    >>> result = reduce(
    ...     "three_point_bar",
    ...     {
    ...         "force": from_tolerance(20.0, 0.2),
    ...         "span": from_tolerance(60e-3, 0.5e-3),
    ...         "width": from_tolerance(26e-3, 0.02e-3),
    ...         "thickness": from_tolerance(1e-3, 0.02e-3),
    ...     },
    ... )
    >>> result.value.item() / 1e6, result.budget.standard.item() / 1e6
    (69.2, 1.7)

    """
    one_of("method", method, METHODS)
    chosen = METHODS[method]
    inputs = _complete(chosen, readings)
    found = budget(chosen.model, inputs)
    centre = {name: item.value for name, item in inputs.items()}
    broken = []
    for limit in chosen.limits:
        kept = np.broadcast_to(limit.holds(value=found.value, **centre), found.value.shape)
        if not kept.all():
            broken.append(BrokenLimit(words=limit.words, where=~kept))
    reaches = found.interval()[..., 0] <= 0
    if not chosen.signed and reaches.any():
        broken.append(BrokenLimit(words=_REACHES, where=reaches))
    few = np.array([inputs[one].degrees < _FEW_READINGS for one in found.names])
    ruled = (found.shares * few).sum(-1) > _RULES
    if ruled.any():
        broken.append(BrokenLimit(words=_FEW, where=ruled))
    return Reduction(
        method=method,
        inputs=MappingProxyType(inputs),
        budget=found,
        broken=tuple(broken),
    )


def _complete(method: Method, readings: Mapping[str, Input | ArrayLike]) -> dict[str, Input]:
    """Return every input of a method, the usual one where nothing was read."""
    for name in readings:
        one_of("reading", name, method.readings)
    inputs = {}
    for name, wanted in method.readings.items():
        given = readings.get(name, wanted.usual)
        if given is None:
            raise ValueError(f"readings must hold {name}, the {wanted.words}; got none")
        inputs[name] = given if isinstance(given, Input) else exact(given)
    return inputs


def exact(value: ArrayLike) -> Input:
    """Return a number without uncertainty as an input.

    Parameters
    ----------
    value : array_like
        The number [SI].

    Returns
    -------
    Input
        With an uncertainty of zero.

    Raises
    ------
    ValueError
        If `value` is not finite.

    Notes
    -----
    For constants by definition and for what is held fixed on purpose; a reading is never
    exact.

    References
    ----------
    Definition.

    Examples
    --------
    >>> exact(0.1).uncertainty.item()
    0.0

    """
    number = finite("value", value)
    return Input(value=number, uncertainty=np.zeros_like(number))
