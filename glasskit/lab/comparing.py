# SPDX-License-Identifier: MIT
"""Compare two lots or treatments: each kind of origin with its like, nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from glasskit.lab.reducing import METHODS
from glasskit.lab.series import COUNTED, LEFT, Outcome
from glasskit.lab.shown import headed, listed, spanned
from glasskit.quantities import FloatArray, of_type, require, within
from glasskit.strength import WeibullFit, lot_size, modulus_ratio, scale_ratio

DIFFERENCE = 1.1
"""Ratio of scales for which `Ratio.needed` counts: ten per cent [-]."""

_LIKE = 0.05  # share by which the sizes of two lots may differ; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ratio:
    """The second lot over the first, for breaks from one kind of origin.

    Attributes
    ----------
    first, second : WeibullFit
        What is compared.
    scale, modulus : float
        Ratio of the fitted scales, of the fitted moduli [-].
    scale_interval, modulus_interval : ndarray, shape (2,)
        Where the true ratios lie, at the level of the comparison, each by itself [-].
    needed : int
        Breaks of this kind in each lot that show a `DIFFERENCE` of the scales four times in
        five, if the fitted moduli are true [-].

    """

    first: WeibullFit
    second: WeibullFit
    scale: float
    modulus: float
    scale_interval: FloatArray
    modulus_interval: FloatArray
    needed: int

    def __post_init__(self) -> None:
        self.scale_interval.flags.writeable = False
        self.modulus_interval.flags.writeable = False

    @property
    def shown(self) -> bool:
        """Whether a difference of the scales is shown: 1 lies outside the interval."""
        low, high = self.scale_interval
        return bool(low > 1 or high < 1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """Two lots, reduced alike.

    Attributes
    ----------
    names : tuple of str
        What the lots are called.
    first, second : Outcome
        Each with its own troubles and doubts.
    ratios : mapping of str to Ratio
        By origin, those that are fitted in both lots. Where breaks of unknown origin leave
        bounds of a fit, each bound is compared, and the truth lies between.
    alone : tuple of str
        Origins fitted in one of them only: there is nothing to compare them with.
    unlike : mapping of str to tuple of float
        Spans and sizes whose medians differ by more than a twentieth, first and second [SI].
    level : float
        Confidence of each interval [-].

    """

    names: tuple[str, str]
    first: Outcome
    second: Outcome
    ratios: Mapping[str, Ratio]
    alone: tuple[str, ...]
    unlike: Mapping[str, tuple[float, float]]
    level: float

    def _repr_html_(self) -> str:
        """Show the ratios in a notebook."""
        rows = [
            (
                origin,
                spanned(ratio.scale, ratio.scale_interval, "number"),
                spanned(ratio.modulus, ratio.modulus_interval, "number", 2),
                "yes" if ratio.shown else "no",
                f"{ratio.needed} in each lot",
            )
            for origin, ratio in self.ratios.items()
        ]
        sure = f"({self.level:.0%})"
        heads = [
            "origin",
            f"ratio of scales {sure}",
            f"ratio of moduli {sure}",
            "difference shown",
            f"breaks that show {DIFFERENCE - 1:.0%}",
        ]
        return headed(f"{self.names[1]} over {self.names[0]}", listed(heads, rows))


def compare(
    first: Outcome,
    second: Outcome,
    names: tuple[str, str] = ("first lot", "second lot"),
    level: float = 0.95,
) -> Comparison:
    r"""Compare the strengths of two lots, each kind of origin with its like.

    Parameters
    ----------
    first, second : Outcome
        From `reduce_series`, of the same method.
    names : tuple of str
        What the lots are called.
    level : float
        Confidence of each interval [-].

    Returns
    -------
    Comparison
        Ratios of the second lot over the first.

    Raises
    ------
    TypeError
        If one is no outcome.
    ValueError
        If the methods differ or break nothing, both are the same specimens, or `level` does
        not lie between 0 and 1.

    Notes
    -----
    Each interval holds by itself; of twenty such ratios between equal lots one shows a
    difference by chance. Strength goes with the loaded area, with the rate and with the air:
    what differs beside the treatment makes a difference of its own.

    References
    ----------
    Intervals: `glasskit.strength.scale_ratio`, own combination of those of [Lawless1982].

    Examples
    --------
    Two lots out of one file, told apart by a column; the second bore twice the force:

    >>> from glasskit.lab import parse_records, reduce_series
    >>> head = "specimen,lot,method,origin,force [N],span [mm],width [mm],thickness [mm]"
    >>> forces = 180, 200, 215, 230, 236
    >>> lines = [f"A{one},plain,three_point_bar,edge,{one},100,20,4" for one in forces]
    >>> lines += [f"B{one},etched,three_point_bar,edge,{2 * one},100,20,4" for one in forces]
    >>> lots = parse_records("\n".join([head, *lines])).parted("lot")
    >>> found = compare(
    ...     *(reduce_series(lots[name], "three_point_bar") for name in ("plain", "etched")),
    ...     names=("plain", "etched"),
    ... )
    >>> edge = found.ratios["edge"]
    >>> round(edge.scale, 3), edge.scale_interval.round(1), edge.shown
    (2.0, array([1.7, 2.4]), True)

    """
    for name, lot in (("first", first), ("second", second)):
        of_type(name, lot, Outcome)
    within("level", level, 0, 1)
    if first.method != second.method:
        raise ValueError(f"second must be of {first.method} too; got {second.method}")
    require(
        METHODS[first.method].kind == "stress" and _apart(first, second),
        "second",
        len(second.records),
        "hold broken specimens other than the first's",
    )
    pairs = {
        _joined(one, other): (first.fits[one], second.fits[other])
        for one in first.fits
        for other in second.fits
        if origin_of(one) == origin_of(other)
    }
    kinds = [dict.fromkeys(map(origin_of, lot.fits)) for lot in (first, second)]
    return Comparison(
        names=names,
        first=first,
        second=second,
        ratios=MappingProxyType({name: _ratio(*pair, level) for name, pair in pairs.items()}),
        alone=tuple(
            name for name in kinds[0] | kinds[1] if not (name in kinds[0] and name in kinds[1])
        ),
        unlike=MappingProxyType(_unlike(first, second)),
        level=level,
    )


def origin_of(fit: str) -> str:
    """Return the origin that a fit of an outcome is of; two bounds are of one.

    Examples
    --------
    >>> origin_of("edge, unknown left out"), origin_of("edge")
    ('edge', 'edge')

    """
    return fit.removesuffix(COUNTED).removesuffix(LEFT)


def _joined(one: str, other: str) -> str:
    """Return what a ratio of two fits of one origin is called; a bound is named."""
    named = [name for name in dict.fromkeys((one, other)) if name != origin_of(name)]
    return " / ".join(named) or one


def _apart(first: Outcome, second: Outcome) -> bool:
    """Tell whether no line of a file stands in both lots."""
    lines = [{record.line for record in lot.records} for lot in (first, second)]
    return first.checksum != second.checksum or not lines[0] & lines[1]


def _ratio(first: WeibullFit, second: WeibullFit, level: float) -> Ratio:
    either = np.sqrt(2 / (first.modulus**-2 + second.modulus**-2))
    return Ratio(
        first=first,
        second=second,
        scale=float(second.scale / first.scale),
        modulus=float(second.modulus / first.modulus),
        scale_interval=scale_ratio(first, second, level),
        modulus_interval=modulus_ratio(first, second, level),
        needed=int(lot_size(DIFFERENCE, either)),
    )


def _unlike(first: Outcome, second: Outcome) -> dict[str, tuple[float, float]]:
    """Return spans and sizes in which the lots differ; the force is what was asked."""
    found = {}
    for name, reading in METHODS[first.method].readings.items():
        one, other = (
            float(np.median(lot.reduction.inputs[name].value)) for lot in (first, second)
        )
        if reading.kind != "force" and abs(other / one - 1) > _LIKE:
            found[name] = one, other
    return found
