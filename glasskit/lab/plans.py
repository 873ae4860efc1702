# SPDX-License-Identifier: MIT
"""Plan a series before the first break: how many, in which order, which face up.

What is tested in the order in which it was cut mixes the glass with the day, the air and the
tester's hand. An order drawn by lot does not.
"""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO

import numpy as np

from glasskit.quantities import in_range, require, whole
from glasskit.strength import sample_size


@dataclass(frozen=True, slots=True, kw_only=True)
class SeriesPlan:
    """A series that is planned.

    Attributes
    ----------
    rows : tuple of (str, str)
        Piece, and face up, in the order in which they are to be broken.
    spare : int
        Pieces beyond those that are wanted, for what must be set aside [-].

    """

    rows: tuple[tuple[str, str], ...]
    spare: int

    def to_csv(self) -> str:
        """Return the order as a table to fill in at the rig."""
        table = StringIO()
        lines = csv.writer(table, delimiter=";", lineterminator="\n")
        lines.writerow(["order", "specimen", "face up", "force [N]", "origin", "remarks"])
        lines.writerows(
            [place, piece, face, "", "", ""]
            for place, (piece, face) in enumerate(self.rows, start=1)
        )
        return table.getvalue()


def plan_series(
    factor: float,
    rng: np.random.Generator,
    faces: Sequence[str] = ("air", "tin"),
    spare: float = 0.1,
) -> SeriesPlan:
    """Return an order drawn by lot, of as many pieces as a modulus takes.

    Parameters
    ----------
    factor : float
        Within which factor either way the Weibull modulus is wanted, nine times in ten,
        1.05 to 10 [-].
    rng : numpy.random.Generator
        Source of the lots.
    faces : sequence of str
        Faces that take turns; each comes up equally often, or once more.
    spare : float
        Share of pieces beyond those wanted, 0 to 1 [-].

    Returns
    -------
    SeriesPlan
        Pieces by number, in the order in which they are to be broken.

    Raises
    ------
    ValueError
        If `factor` or `spare` lies outside its range, or there is no face.

    Notes
    -----
    One kind of flaw. Where pieces break from two kinds, each needs as many.

    References
    ----------
    Common practice: as many as the width of the interval asks for, in an order by lot.

    Examples
    --------
    >>> plan = plan_series(1.3, np.random.default_rng(1))
    >>> len(plan.rows), plan.spare, plan.to_csv().splitlines()[1]
    (29, 3, '1;P23;tin;;;')

    """
    near = in_range("factor", factor, 1.05, 10.0).item()
    share = in_range("spare", spare, 0.0, 1.0).item()
    require(len(faces) > 0, "faces", len(faces), "name one face or more")
    wanted = whole("count", sample_size(near**2).item(), 1)
    extra = int(np.ceil(share * wanted))
    total = wanted + extra
    up = rng.permutation(np.resize(np.array(faces), total))
    pieces = rng.permutation(total) + 1
    rows = [(f"P{piece:02d}", str(face)) for piece, face in zip(pieces, up, strict=True)]
    return SeriesPlan(rows=tuple(rows), spare=extra)
