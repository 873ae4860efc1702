# SPDX-License-Identifier: MIT
r"""Ask what a gauge adds to a reading: by itself, and by who holds it.

Several people read the same pieces, each more than once. The analysis of variance parts the
scatter into that of the gauge in one hand (repeatability), that between hands
(reproducibility, also where one hand reads one piece otherwise), and that of the pieces.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from glasskit.lab.budgets import Input, budget, from_readings, from_tolerance
from glasskit.quantities import (
    FloatArray,
    finite,
    non_negative,
    plain_number,
    require,
    units_of,
    whole,
)
from glasskit.rows import Line, Trouble, cells, heading, rows


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gauge:
    """Scatter of a gauge, and of the hands that hold it.

    Attributes
    ----------
    readings : ndarray, shape (hands, pieces, repeats)
        As read [SI].
    repeatability, reproducibility, pieces : float
        Standard deviations: in one hand, between hands, and of the pieces [SI].
    degrees : float
        Degrees of freedom of the scatter of a single reading [-].
    hands, names : tuple of str
        Who read, and which pieces; empty if not given.
    troubles, remarks : tuple
        Lines set aside, and lines taken for remarks.

    """

    readings: FloatArray
    repeatability: float
    reproducibility: float
    pieces: float
    degrees: float
    hands: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    remarks: tuple[Line, ...] = ()

    def __post_init__(self) -> None:
        self.readings.flags.writeable = False

    @property
    def combined(self) -> float:
        """Standard deviation of a single reading by anybody [SI]."""
        return float(np.hypot(self.repeatability, self.reproducibility))

    def input(self, value: ArrayLike, repeats: int = 1) -> Input:
        """Return a reading for a budget: the mean of some repeats by one hand.

        Parameters
        ----------
        value : array_like
            What was read [SI].
        repeats : int
            How often, by the same hand [-].

        Returns
        -------
        Input
            With the gauge's own scatter and Student's distribution.

        """
        often = whole("repeats", repeats, 1, 1000)
        own = np.hypot(self.reproducibility, self.repeatability / np.sqrt(often))
        centre = finite("value", value)
        return Input(value=centre, uncertainty=np.full_like(centre, own), degrees=self.degrees)


def gauge(readings: ArrayLike) -> Gauge:
    r"""Part the scatter of readings by the analysis of variance.

    .. math:: s_r^2 = M_E, \quad
        s_R^2 = \left[\frac{M_{HP} - M_E}{r}\right]_+
        + \left[\frac{M_H - M_{HP}}{p\,r}\right]_+

    Parameters
    ----------
    readings : array_like, shape (hands, pieces, repeats)
        Two of each or more [SI].

    Returns
    -------
    Gauge
        Repeatability, reproducibility, and the scatter of the pieces.

    Raises
    ------
    ValueError
        If there are not two hands, two pieces and two repeats, or a reading is not finite.

    Notes
    -----
    Hands and pieces count as drawn from many. With two or three hands reproducibility is
    hardly known, which the degrees of freedom (Satterthwaite) say.

    References
    ----------
    [Burdick2003]

    Examples
    --------
    Two hands, three pieces, two readings each, in mm:

    >>> found = gauge([[[4.00, 4.02], [5.01, 4.99], [6.0, 6.02]],
    ...                [[4.05, 4.05], [5.06, 5.04], [6.06, 6.04]]])
    >>> round(found.repeatability, 4), round(found.reproducibility, 4)
    (0.0129, 0.0306)

    """
    values = np.array(finite("readings", readings))
    require(
        values.ndim == 3 and min(values.shape) >= 2,
        "readings",
        values.size,
        "hold two hands, two pieces and two repeats or more",
    )
    h, p, r = values.shape
    mean = values.mean()
    hand, piece = values.mean((1, 2)), values.mean((0, 2))
    cell = values.mean(2)
    of_hand = p * r * ((hand - mean) ** 2).sum() / (h - 1)
    of_piece = h * r * ((piece - mean) ** 2).sum() / (p - 1)
    rest = cell - hand[:, None] - piece + mean
    of_both = r * (rest**2).sum() / ((h - 1) * (p - 1))
    own = ((values - cell[..., None]) ** 2).sum() / (h * p * (r - 1))
    between = max(of_both - own, 0.0) / r + max(of_hand - of_both, 0.0) / (p * r)
    parts = (
        (own * (1 - 1 / r), h * p * (r - 1)),
        (of_both * (1 / r - 1 / (p * r)), (h - 1) * (p - 1)),
        (of_hand / (p * r), h - 1),
    )
    total = sum(part for part, _ in parts)
    spread = sum(part**2 / freedom for part, freedom in parts)
    return Gauge(
        readings=values,
        repeatability=float(np.sqrt(own)),
        reproducibility=float(np.sqrt(between)),
        pieces=float(np.sqrt(max(of_piece - of_both, 0.0) / (h * r))),
        degrees=float(total**2 / spread) if spread > 0 else np.inf,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPiece:
    """A gauge beside a piece that is known.

    Attributes
    ----------
    bias : float
        Mean of the readings, less what is known [SI].
    expanded : float
        Half width of the 95 % interval of that difference [SI].

    """

    bias: float
    expanded: float

    @property
    def agrees(self) -> bool:
        """Whether chance and the piece's own uncertainty explain the difference."""
        return abs(self.bias) <= self.expanded


def known_piece(
    readings: ArrayLike, value: float, uncertainty: float = 0.0, resolution: float = 0.0
) -> KnownPiece:
    r"""Check a calliper, a balance or a load cell against a piece that is known.

    Parameters
    ----------
    readings : array_like, shape (n,)
        Two or more of the same piece [SI].
    value, uncertainty : float
        Of the piece, and its standard uncertainty [SI].
    resolution : float
        Last step of the gauge's display, which counts as an even range [SI].

    Returns
    -------
    KnownPiece
        Difference, its interval, and whether they agree.

    Raises
    ------
    ValueError
        If there are fewer than two readings, or an uncertainty is negative.

    Notes
    -----
    Agreement at one size does not speak for another. Too few readings agree with anything.

    References
    ----------
    [GUM]

    Examples
    --------
    A block of 10 mm, known to a micrometre, read four times with a calliper:

    >>> found = known_piece([10.02e-3, 10.02e-3, 10.03e-3, 10.02e-3], 10e-3, 0.5e-6, 0.01e-3)
    >>> round(found.bias * 1e3, 4), round(found.expanded * 1e3, 4), found.agrees
    (0.0225, 0.0081, False)

    """
    many = np.atleast_1d(finite("readings", readings))
    require(many.size >= 2, "readings", many.size, "hold two or more")
    known = finite("value", value).item()
    given = {
        "mean": from_readings(many),
        "block": Input(value=np.asarray(known), uncertainty=np.asarray(uncertainty)),
        "step": from_tolerance(0.0, non_negative("resolution", resolution).item() / 2),
    }
    non_negative("uncertainty", uncertainty)
    found = budget(lambda mean, block, step: mean + step - block, given)
    return KnownPiece(bias=found.value.item(), expanded=found.expanded().item())


def parse_gauge(text: str) -> Gauge:
    r"""Read a table of who read which piece: hand, piece, reading with its unit.

    Parameters
    ----------
    text : str
        First row the names of three columns, the last with a unit of thickness. What parts the
        cells and what is a remark: see `glasskit.rows.Rows`.

    Returns
    -------
    Gauge
        As from `gauge`, with lines set aside.

    Raises
    ------
    ValueError
        If there are not three columns, the unit is unknown, or not every hand has read every
        piece equally often.

    Examples
    --------
    >>> lines = [f"{who}; {piece}; {size}" for who, add in (("Ada", 0.0), ("Ben", 0.1))
    ...          for piece in (1, 2) for size in (piece + add, piece + add + 0.02)]
    >>> found = parse_gauge("\n".join(["who; piece; width [mm]", *lines]))
    >>> found.hands, round(1e3 * found.repeatability, 4)
    (('Ada', 'Ben'), 0.0141)

    """
    table = rows(text)
    heads = [heading(cell) for cell in cells(table.first.text, table.mark)]
    known = units_of("thickness")
    if len(heads) != 3 or heads[2][1] not in known:
        named = ", ".join(f"{name} [{unit}]" if unit else name for name, unit in heads)
        units = ", ".join(filter(None, known))
        raise ValueError(
            f"header must name hand, piece and reading with a unit among {units}; got {named}"
        )
    read: dict[tuple[str, str], list[float]] = {}
    troubles = []
    for line in table.lines:
        try:
            told = cells(line.text, table.mark)
            if len(told) != 3 or not told[0] or not told[1]:
                raise ValueError(f"line must name hand, piece and reading; got {line.text}")
            value = known[heads[2][1]].to_si(plain_number(told[2]))
            read.setdefault((told[0], told[1]), []).append(value)
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
    hands, pieces = (tuple(dict.fromkeys(pair[side] for pair in read)) for side in (0, 1))
    often = max((len(item) for item in read.values()), default=0)
    for hand in hands:
        for piece in pieces:
            count = len(read.get((hand, piece), ()))
            if count != often:
                raise ValueError(
                    f"{hand} must read piece {piece} as often as others were read, {often} "
                    f"times; got {count}"
                )
    found = gauge([[read[hand, piece] for piece in pieces] for hand in hands])
    return replace(
        found, hands=hands, names=pieces, troubles=tuple(troubles), remarks=table.remarks
    )
