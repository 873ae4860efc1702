# SPDX-License-Identifier: MIT
"""Take panes as a supplier or a stamp describes them, where nobody measured the squeeze.

Each description stands for a range of the surface compression, with its source in
``data/planner.csv``, ``data/classes.csv`` or ``data/plates.csv``. A wide range makes wide
odds: that is what a stamp is worth beside a measurement.
"""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from glasskit.demonstration.drop_records import KnownDrop, Rule, known_drops
from glasskit.demonstration.rigs import (
    DroppedBall,
    Passed,
    Specimen,
    annealed,
    chemically,
    toughened,
)
from glasskit.impact import Pane
from glasskit.lab import CLASSES
from glasskit.materials import solid
from glasskit.plates import plate, support
from glasskit.quantities import in_range, of_type, one_of, show
from glasskit.tables import read, sourced_value

WAYS: Mapping[str, str] = MappingProxyType(
    {
        "window": "soda-lime",
        "stamped": "soda-lime",
        "passed": "soda-lime",
        "half": "soda-lime",
        "classed": "soda-lime",
        "cover plain": "aluminosilicate",
        "cover": "aluminosilicate",
        "laminated": "soda-lime",
    }
)
"""How panes are described, and the glass that is meant.

Window glass; toughened by heat, by its stamp; toughened and its make passes a named drop test;
heat-strengthened; chemically strengthened with its classes; cover glass of a screen, plain or
from the usual bath; laminated, which is refused.
"""

COVER = (0.4e-3, 2e-3)
"""Thicknesses in which cover glass is sold [m], common practice."""

LEAST_QUENCHED = 2e-3
"""Thickness below which no pane is sold as toughened by heat [m], common practice."""

_ALIKE = 0.06  # relative difference up to which a thickness is the one that a rule is for
_OPEN = 1.5  # a class without an upper end is taken to reach so much higher, a judgement
_NONE = 0.2  # one that begins at nothing is taken to begin at this part of its end, likewise


def drop_tests() -> tuple[str, ...]:
    """Return the names of the drop tests that a make of panes can have passed."""
    return tuple(dict.fromkeys(drop.label for drop in _rules()))


def classes(quantity: str) -> tuple[str, ...]:
    """Return the classes of chemically strengthened glass, the weakest first.

    Parameters
    ----------
    quantity : {"surface_compression", "case_depth"}
        What is classed.

    Returns
    -------
    tuple of str
        Names of [ASTMC1422].

    Raises
    ------
    ValueError
        If nothing of that name is classed.

    Examples
    --------
    >>> classes("case_depth")[0]
    'level A'

    """
    found = [(one.quantity, one.name) for one in CLASSES if one.standard == "C1422"]
    one_of("quantity", quantity, [what for what, _ in found])
    return tuple(name for what, name in found if what == quantity)


def stated(
    name: str, pane: Pane, way: str, *, test: str = "", level: str = "", depth: str = ""
) -> Specimen:
    """Return panes as they are described.

    Parameters
    ----------
    name : str
        What the kind of pane is called in plans and logs.
    pane : Pane
        Size, glass and support; the glass that `WAYS` names.
    way : str
        One of `WAYS`.
    test : str
        One of `drop_tests`, for "passed".
    level, depth : str
        Classes of surface compression and of its depth, for "classed".

    Returns
    -------
    Specimen
        With the middle of the range, and how wide that is.

    Raises
    ------
    ValueError
        If the pane is laminated, too thin to be toughened by heat or for the class, too thick
        for cover glass, or the test is not for panes of this thickness.

    Notes
    -----
    The middle is the geometric mean of the ends. A class that is open above is taken to reach
    half as high again, one that begins at nothing to begin at a fifth of its end: judgements.
    A make that passed a drop test is weighed world by world with the chance of passing; its
    own inputs of the rig count as chosen.

    References
    ----------
    [ASTMC1048] for heat-strengthened panes; classes from memory of ASTM C1422.

    Examples
    --------
    A stamped pane of 4 mm may be squeezed by anything from 85 to 150 MPa:

    >>> from glasskit.materials import glass
    >>> pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> made = stated("toughened", pane, "stamped")
    >>> [round(end / 1e6) for end in made.squeezes]
    [85, 150]

    """
    of_type("pane", pane, Pane)
    one_of("way", way, WAYS)
    if way == "laminated":
        raise ValueError(
            "laminated panes cannot be planned here: two panes share the blow through a film, "
            "and no known drop tells how; ask for single panes"
        )
    if way.startswith("cover"):
        in_range("thickness of cover glass", pane.thickness, *COVER, "m")
    if way in ("window", "cover plain"):
        return replace(annealed(name, pane), way=way)
    if way == "classed":
        return _classed(name, pane, level, depth)
    if way == "cover":
        usual = plate("cover glass, salt bath")
        return replace(chemically(name, pane, usual["squeeze"], usual["skin"]), way=way)
    if pane.thickness < LEAST_QUENCHED:
        least = show(LEAST_QUENCHED, "thickness", digits=2)
        raise ValueError(f"glass thinner than {least} is not toughened by heat: choose salt")
    low, high = _range("heat-strengthened" if way == "half" else "approved")
    made = toughened(name, pane, float(np.sqrt(low * high)))
    passed = _passed(test, pane) if way == "passed" else None
    return replace(made, way=way, unsure={"compression": high / low}, passed=passed)


def glued(specimen: Specimen) -> Specimen:
    """Return the same cover glass, glued to a display all over.

    Parameters
    ----------
    specimen : Specimen
        Cover glass as it would be laid free on its edges.

    Returns
    -------
    Specimen
        The tension of a blow is known only within a factor of three either way.

    Raises
    ------
    ValueError
        If the glass has not the thickness of cover glass.

    Notes
    -----
    The glue lessens the bending and hardens the blow, and no known drop tells which wins. All
    that can be planned is what rehearsals on glued pieces of the day shall tell: their log
    narrows the odds.

    References
    ----------
    Judgement; its row, with what can be said for it, is in ``data/planner.csv``.

    Examples
    --------
    >>> from glasskit.materials import glass
    >>> sheet = Pane(length=0.15, width=0.07, thickness=0.7e-3, glass=glass("aluminosilicate"))
    >>> print(f"{glued(stated('screen', sheet, 'cover')).unsure['aim']:.0f}")
    9

    """
    of_type("specimen", specimen, Specimen)
    in_range("thickness of glued glass", specimen.pane.thickness, *COVER, "m")
    low, high = _range("glued")
    return replace(specimen, unsure={**specimen.unsure, "aim": high / low})


def _range(which: str) -> tuple[float, float]:
    """Return the ends of what nobody measured: of a compression [Pa], of a factor [-]."""
    rows = [row for row in read("planner") if row["subject"] == "unmeasured"]
    span = sourced_value(next(row for row in rows if row["property"] == which))
    return span.low, span.high


def _classed(name: str, pane: Pane, level: str, depth: str) -> Specimen:
    ends = []
    for quantity, chosen in (("surface_compression", level), ("case_depth", depth)):
        one_of(quantity, chosen, classes(quantity))
        grade = next(one for one in CLASSES if (one.quantity, one.name) == (quantity, chosen))
        high = grade.to if np.isfinite(grade.to) else _OPEN * grade.above
        ends.append((grade.above or _NONE * high, high))
    (weak, strong), (thin, thick) = ends
    made = chemically(name, pane, float(np.sqrt(weak * strong)), float(np.sqrt(thin * thick)))
    unsure = {"compression": strong / weak, "compressed depth": thick / thin}
    return replace(made, way="classed", unsure=unsure)


def _rules() -> list[KnownDrop]:
    return [drop for drop in known_drops() if drop.complete and isinstance(drop.outcome, Rule)]


def _passed(test: str, pane: Pane) -> Passed:
    """Return what it means to have passed a test at this thickness."""
    one_of("test", test, drop_tests())
    of_test = [drop for drop in _rules() if drop.label == test]
    for drop in of_test:
        if abs(drop.thickness / pane.thickness - 1.0) < _ALIKE:
            held = support(drop.support)
            rule = drop.outcome
            assert isinstance(rule, Rule)
            struck = replace(
                pane,
                length=drop.length,
                width=drop.width,
                support_stiffness=2 * (drop.length + drop.width) * held.bedding,
                damping=held.damping,
            )
            ball = DroppedBall(mass=drop.mass, solid=solid("steel"))
            return Passed(pane=struck, rig=ball, rule=rule)
    known = ", ".join(f"{1000 * drop.thickness:.0f}" for drop in of_test)
    raise ValueError(
        f"what the kit has of {test} is for panes of {known} mm; these are "
        f"{1000 * pane.thickness:.3g} mm"
    )
