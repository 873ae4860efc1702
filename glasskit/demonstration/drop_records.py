# SPDX-License-Identifier: MIT
"""Read what is known of drops on panes: trials with their outcomes, and rules of approval.

The table ``data/known_drops.csv`` has one row a record, in SI. Its column ``record`` says how
to read its column ``outcome``:

``pieces``
    Blows in the order in which they fell. A comma parts the blows on one piece, a semicolon
    one piece from the next; a blow is ``held`` or ``broke`` and the height [m]:
    ``held 0.1, broke 0.2; broke 0.3`` are two pieces.
``rule``
    What approval asks: ``10 of 12 hold 3.05`` are twelve fresh panes with one blow each from
    3.05 m, of which at least ten must hold. Approved glass is good glass: the rule is a bound.

``use`` is ``fit`` where size, ball and outcome are all known, and ``page`` where a record can
be told but not reckoned with. A range of compression has open ends where nobody said.
"""

from dataclasses import dataclass
from functools import cache
from math import nan

from glasskit.quantities import one_of
from glasskit.tables import STATUSES, read

KINDS = ("ordinary", "heat-strengthened", "toughened", "chemical")
SUPPORTS = ("strip", "frame", "unknown")
"""On a rubber strip in a test frame; in a wooden or other plain frame; not told."""

RECORDS = ("pieces", "rule")


@dataclass(frozen=True, slots=True, kw_only=True)
class Blow:
    """One blow on a piece.

    Attributes
    ----------
    height : float
        Height fallen through [m].
    broke : bool
        Whether the piece broke.

    """

    height: float
    broke: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What a rule of approval asks of fresh panes with one blow each.

    Attributes
    ----------
    height : float
        Height fallen through [m].
    least : int
        How many panes must hold [-].
    panes : int
        How many panes are struck [-].

    """

    height: float
    least: int
    panes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownDrop:
    """One record of blows on panes. A number that nobody told is NaN.

    Attributes
    ----------
    name : str
        Short name of the record.
    label : str
        Where it stands, in a few words that a reader can look for.
    kind : str
        One of `KINDS`.
    length, width, thickness : float
        Size of the pane [m].
    compression_low, compression_high : float
        Surface compression as told or asked for; an end that nobody told is NaN [Pa].
    support : str
        One of `SUPPORTS`.
    striker : str
        What fell.
    mass : float
        Its mass [kg].
    radius : float
        Radius of its rounding [m].
    outcome : Rule or tuple of tuple of Blow
        What a rule asks, or the blows on each piece in their order.
    source : str
        Where it was published.
    where : str
        What leads back to it: a key of ``data/references.csv``, a standard or a page; empty
        where only a maker or trader speaks.
    status : str
        How sure that is, one of `glasskit.tables.STATUSES`.
    complete : bool
        Whether everything is known that a computed chance needs.
    note : str
        What else to know.

    """

    name: str
    label: str
    kind: str
    length: float
    width: float
    thickness: float
    compression_low: float
    compression_high: float
    support: str
    striker: str
    mass: float
    radius: float
    outcome: Rule | tuple[tuple[Blow, ...], ...]
    source: str
    where: str
    status: str
    complete: bool
    note: str


def outcome(record: str, text: str) -> Rule | tuple[tuple[Blow, ...], ...]:
    """Return what a record says happened, or must happen.

    Parameters
    ----------
    record : str
        One of `RECORDS`.
    text : str
        In the words of the table; see above.

    Returns
    -------
    Rule or tuple of tuple of Blow
        What a rule asks, or the blows on each piece in their order.

    Raises
    ------
    ValueError
        If the record is unknown or the text does not follow it.

    Examples
    --------
    >>> outcome("rule", "10 of 12 hold 3.05")
    Rule(height=3.05, least=10, panes=12)
    >>> first, second = outcome("pieces", "held 0.1, broke 0.2; broke 0.3")
    >>> first[-1]
    Blow(height=0.2, broke=True)

    """
    one_of("record", record, RECORDS)
    try:
        if record == "rule":
            return _rule(text)
        return tuple(_piece(piece) for piece in text.split(";"))
    except ValueError as error:
        raise ValueError(
            "outcome must read like 'held 0.1, broke 0.2; broke 0.3' for pieces or "
            f"'10 of 12 hold 3.05' for a rule; got {text!r}"
        ) from error


def _rule(text: str) -> Rule:
    least, of, panes, hold, height = text.split()
    if (of, hold) != ("of", "hold") or not 0 < int(least) <= int(panes):
        raise ValueError(text)
    return Rule(height=_height(height), least=int(least), panes=int(panes))


def _piece(text: str) -> tuple[Blow, ...]:
    blows: list[Blow] = []
    for told in text.split(","):
        how, height = told.split()
        if how not in ("held", "broke") or any(blow.broke for blow in blows):
            raise ValueError(text)
        blows.append(Blow(height=_height(height), broke=how == "broke"))
    return tuple(blows)


def _height(text: str) -> float:
    height = float(text)
    if not 0 < height < 100:
        raise ValueError(text)
    return height


@cache
def known_drops() -> tuple[KnownDrop, ...]:
    """Return every known record of blows on panes, in the order of the table.

    Returns
    -------
    tuple of KnownDrop
        Those with `complete` false are for telling, not for reckoning.

    Raises
    ------
    ValueError
        If a row of the table does not follow its grammar.

    Examples
    --------
    >>> {drop.kind for drop in known_drops() if drop.complete} == {"ordinary", "toughened"}
    True

    """
    return tuple(_known_drop(row) for row in read("known_drops"))


def _known_drop(row: dict[str, str]) -> KnownDrop:
    one_of("kind", row["kind"], KINDS)
    one_of("support", row["support"], SUPPORTS)
    one_of("status", row["status"], STATUSES)
    one_of("use", row["use"], ("fit", "page"))

    def number(column: str) -> float:
        return float(row[column] or nan)

    return KnownDrop(
        name=row["id"],
        label=row["label"],
        kind=row["kind"],
        length=number("length_m"),
        width=number("width_m"),
        thickness=number("thickness_m"),
        compression_low=1e6 * number("compression_low_MPa"),
        compression_high=1e6 * number("compression_high_MPa"),
        support=row["support"],
        striker=row["striker"],
        mass=number("mass_kg"),
        radius=number("radius_m"),
        outcome=outcome(row["record"], row["outcome"]),
        source=row["source"],
        where=row["where"],
        status=row["status"],
        complete=row["use"] == "fit",
        note=row["note"],
    )
