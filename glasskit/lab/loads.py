# SPDX-License-Identifier: MIT
r"""Ask whether hardness falls with the load, from dents at several loads.

.. math:: P = a_1 d + a_2 d^2, \qquad H_0 = 2 a_2; \qquad \ln P = \ln A + n \ln d

The first law has a hardness that is left at large loads, the second a single power, Meyer's,
which is 2 where hardness does not fall.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from glasskit.lab.formulas import vickers_hardness
from glasskit.quantities import FloatArray, plain_number, positive, require, units_of, within
from glasskit.rows import Line, Trouble, cells, heading, rows

_ASKEW = 1.05  # ratio of the two diagonals from which a dent is set aside; from memory


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadGroup:
    """Dents at one load.

    Attributes
    ----------
    load : float
        Force [N].
    count : int
        Dents [-].
    hardness : float
        Mean of load over projected area [Pa].
    interval : tuple of float
        Its confidence interval; open where there is one dent [Pa].

    """

    load: float
    count: int
    hardness: float
    interval: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DentSeries:
    """Dents at several loads, and how hardness goes with the load.

    Attributes
    ----------
    load, diagonal : ndarray, shape (n,)
        Force [N] and mean diagonal [m] of each dent.
    groups : tuple of LoadGroup
        By load, the smallest first.
    coefficients : tuple of float
        The two of the first law [N/m], [Pa].
    plateau : float
        Hardness left at large loads, load over projected area [Pa].
    plateau_interval : tuple of float
        Its confidence interval [Pa].
    meyer : float
        Meyer's power [-].
    meyer_interval : tuple of float
        Its confidence interval [-].
    level : float
        Confidence of all intervals [-].
    troubles, remarks : tuple
        Lines set aside, and lines taken for remarks.

    """

    load: FloatArray
    diagonal: FloatArray
    groups: tuple[LoadGroup, ...]
    coefficients: tuple[float, float]
    plateau: float
    plateau_interval: tuple[float, float]
    meyer: float
    meyer_interval: tuple[float, float]
    level: float
    troubles: tuple[Trouble, ...] = ()
    remarks: tuple[Line, ...] = ()

    def __post_init__(self) -> None:
        self.load.flags.writeable = False
        self.diagonal.flags.writeable = False

    @property
    def falls(self) -> bool:
        """Whether Meyer's power is shown to be below 2."""
        return self.meyer_interval[1] < 2


def dent_series(load: ArrayLike, diagonal: ArrayLike, level: float = 0.95) -> DentSeries:
    """Fit how hardness goes with the load.

    Parameters
    ----------
    load, diagonal : array_like, shape (n,)
        Force [N] and mean diagonal [m] of each dent, at two loads or more.
    level : float
        Confidence [-].

    Returns
    -------
    DentSeries
        Hardness by load, both laws with Student's intervals.

    Raises
    ------
    ValueError
        If a number is not positive, the lengths differ, or there are not two loads and four
        dents.

    Notes
    -----
    The scatter is put into the diagonals, all alike in relation to their size. Intervals hold
    for scatter alone: an edge of a dent that the eye always sets too far out shifts all.

    References
    ----------
    [LiBradt1993], [C1327]

    Examples
    --------
    >>> found = dent_series([1, 1, 3, 3, 10, 10], [17.6e-6, 17.8e-6, 31.2e-6, 31.1e-6,
    ...                                             58.4e-6, 58.2e-6])
    >>> round(found.meyer, 2), round(found.plateau / 1e9, 2)
    (1.93, 5.7)

    """
    within("level", level, 0, 1)
    force = np.atleast_1d(np.array(positive("load", load, "N")))
    size = np.atleast_1d(np.array(positive("diagonal", diagonal, "m")))
    require(size.shape == force.shape, "diagonal", size.size, f"hold {force.size} items")
    loads = np.unique(force)
    require(loads.size >= 2, "load", loads.size, "hold two loads or more")
    require(force.size >= 4, "load", force.size, "hold four dents or more")
    return DentSeries(
        load=force,
        diagonal=size,
        groups=tuple(_group(one, size[force == one], level) for one in loads.tolist()),
        level=level,
        **_laws(force, size, level),
    )


def _group(load: float, sizes: FloatArray, level: float) -> LoadGroup:
    pressures = vickers_hardness(load, sizes)
    mean, count = float(pressures.mean()), pressures.size
    ends = (0.0, np.inf)
    if count > 1:
        error = pressures.std(ddof=1) / np.sqrt(count)
        half = float(stdtrit(count - 1, (1 + level) / 2) * error)
        ends = (mean - half, mean + half)
    return LoadGroup(load=load, count=count, hardness=mean, interval=ends)


def _laws(force: FloatArray, size: FloatArray, level: float) -> dict[str, Any]:
    """Return both laws with their intervals, by the names of `DentSeries`."""
    freedom = force.size - 2
    reach = stdtrit(freedom, (1 + level) / 2)
    design = np.stack([size / force, size**2 / force], axis=-1)
    square = np.linalg.inv(design.T @ design)
    one, two = square @ design.T @ np.ones(force.size)
    left = 1 - design @ [one, two]
    half = 2 * reach * np.sqrt((left @ left) / freedom * square[1, 1])
    x, y = np.log(force), np.log(size)
    x, y = x - x.mean(), y - y.mean()
    slope = (x @ y) / (x @ x)
    off = y - slope * x
    wide = reach * np.sqrt((off @ off) / freedom / (x @ x))
    steep = 1 / (slope - wide) if slope > wide else np.inf
    return {
        "coefficients": (float(one), float(two)),
        "plateau": float(2 * two),
        "plateau_interval": (float(2 * two - half), float(2 * two + half)),
        "meyer": float(1 / slope),
        "meyer_interval": (float(1 / (slope + wide)), float(steep)),
    }


def parse_dents(text: str, level: float = 0.95) -> DentSeries:
    r"""Read dents from a table: load, one or two diagonals, and why one was set aside.

    Parameters
    ----------
    text : str
        First row the names with units: one column of force, one or two of a short length. What
        stands in a column called ``aside`` sets that dent aside, for this reason. What parts
        the cells and what is a remark: see `glasskit.rows.Rows`.
    level : float
        Confidence [-].

    Returns
    -------
    DentSeries
        As from `dent_series`, with lines set aside.

    Raises
    ------
    ValueError
        If the columns are not these, or too few dents are left.

    Notes
    -----
    A dent whose diagonals differ by more than 5 % is set aside.

    References
    ----------
    [C1327], from memory.

    Examples
    --------
    >>> lines = ["1;17,6;17,8;", "1;17,7;17,7;", "10;58,4;58,0;", "10;58,3;58,3;",
    ...          "10;58;62;", "10;57;57;crushed"]
    >>> found = parse_dents("\n".join(["P [N];d1 [µm];d2 [µm];aside", *lines]))
    >>> found.load.size, [trouble.line for trouble in found.troubles]
    (4, [6, 7])

    """
    table = rows(text)
    heads = [heading(cell) for cell in cells(table.first.text, table.mark)]
    forces, lengths = units_of("force"), units_of("depth")
    pushed = [at for at, (_, unit) in enumerate(heads) if unit in forces]
    across = [at for at, (_, unit) in enumerate(heads) if unit in lengths]
    if len(pushed) != 1 or len(across) not in (1, 2):
        named = ", ".join(f"{name} [{unit}]" if unit else name for name, unit in heads)
        raise ValueError(
            f"header must name one column of force and one or two of diagonals; got {named}"
        )
    aside = next((at for at, (name, _) in enumerate(heads) if name.lower() == "aside"), None)
    loads, sizes, troubles = [], [], []
    for line in table.lines:
        try:
            told = cells(line.text, table.mark)
            if len(told) != len(heads):
                raise ValueError(f"line must have {len(heads)} cells; got {len(told)}")
            if aside is not None and told[aside]:
                raise ValueError(f"set aside at the bench: {told[aside]}")
            load = forces[heads[pushed[0]][1]].to_si(plain_number(told[pushed[0]]))
            both = [lengths[heads[at][1]].to_si(plain_number(told[at])) for at in across]
            positive("load", load, "N")
            positive("diagonal", both, "m")
            if max(both) > _ASKEW * min(both):
                raise ValueError("the diagonals of a dent must not differ by more than 5%")
        except ValueError as fault:
            troubles.append(Trouble(line=line.number, text=line.text, words=str(fault)))
            continue
        loads.append(load)
        sizes.append(float(np.mean(both)))
    found = dent_series(loads, sizes, level)
    return replace(found, troubles=tuple(troubles), remarks=table.remarks)
