# SPDX-License-Identifier: MIT
"""Write published numbers with their sources as tables that a notebook shows."""

from collections.abc import Iterable, Sequence

from glasskit.materials import glasses
from glasskit.quantities import Unit, one_of, show_number, unit
from glasskit.tables import Value

JUDGED = "our judgement"

SURE = {
    "found": "looked up",
    "trade": "a maker says so",
    "memory": "from memory",
    "common practice": "common practice",
}
"""How sure a number is, by the status of its row; the legend stands on the first page."""


def sure(source: str, status: str) -> str:
    """Return how sure a number is, in one of five marks.

    Parameters
    ----------
    source, status : str
        As the table has them; "no source" and a range of ours are a judgement.

    Returns
    -------
    str
        A mark of the legend.

    Examples
    --------
    >>> sure("EN 572-1", "found"), sure("no source", "common practice")
    ('looked up', 'our judgement')

    """
    return JUDGED if source == "no source" else SURE[status]


# Units in which a reader expects a property.
_SHOWN = {
    **dict.fromkeys(("modulus", "hardness", "intrinsic_strength"), unit("stiffness")),
    **dict.fromkeys(("toughness", "growth_threshold"), unit("toughness")),
    **dict.fromkeys(
        (
            "practical_strength",
            "characteristic_strength",
            "design_strength",
            "toughened_strength",
            "drop_squeeze",
        ),
        unit("stress"),
    ),
    **dict.fromkeys(
        ("strain_point", "annealing_point", "softening_point"), unit("temperature")
    ),
    "fatal_inclusion": unit("depth"),
    "bond": unit("atom"),
    "growth_speed": Unit("mm/s", 1e-3),
    "expansion": Unit("10⁻⁶/K", 1e-6),
    "stress_optic": Unit("10⁻¹²/Pa", 1e-12),
}
_PLAIN = {"-": "", "kg/m^3": "kg/m³", "J/m^2": "J/m²"}


def markdown(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Write a Markdown table.

    Parameters
    ----------
    head : sequence of str
        Column headings.
    rows : iterable of sequence of str
        Cells.

    Returns
    -------
    str
        One line a row; a bar inside a cell is kept as text.

    Examples
    --------
    >>> print(markdown(["ion", "radius / pm"], [["Na⁺", "102"]]))
    | ion | radius / pm |
    | --- | --- |
    | Na⁺ | 102 |

    """
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(
        "| " + " | ".join(cell.replace("|", r"\|") for cell in line) + " |" for line in lines
    )


def number(property_: str, value: Value) -> tuple[str, str]:
    """Write a published number and its range in the unit a reader expects.

    Parameters
    ----------
    property_ : str
        Attribute of a glass or solid.
    value : Value
        Number, range and source.

    Returns
    -------
    tuple of str
        The number with its unit, and the range, empty if there is none.

    Examples
    --------
    >>> number("modulus", glasses.glass("soda-lime").values["modulus"])
    ('70 GPa', '70 to 74 GPa')

    """
    to = _SHOWN.get(property_, Unit(_PLAIN.get(value.unit, value.unit), 1.0))
    shown, low, high = (_short(to.from_si(si)) for si in (value.value, value.low, value.high))
    span = f"{low} to {high} {to.symbol}".rstrip() if low != high else ""
    return f"{shown} {to.symbol}".rstrip(), span


def _short(value: float) -> str:
    text = show_number(value, 4)
    return text.rstrip("0").rstrip(".") if "." in text else text


def material_table(name: str) -> str:
    """Write every published number of one material, and which one is in use.

    Parameters
    ----------
    name : str
        A glass or solid of `glasskit.materials`.

    Returns
    -------
    str
        Markdown table: property, number, range, whether in use, source and how sure it is.

    Raises
    ------
    ValueError
        If `name` is unknown.

    """
    known = (*glasses.glass_names(), *glasses.solid_names())
    one_of("name", name, known)
    rows = [
        [
            entry.property.replace("_", " "),
            *number(entry.property, entry.value),
            "in use" if entry.chosen else "",
            "; ".join(filter(None, (entry.value.conditions, entry.value.note))),
            entry.value.source,
            SURE[entry.value.status],
        ]
        for entry in glasses.table()
        if entry.material == name
    ]
    head = ["property", "value", "published range", "", "holds for", "source", "how sure"]
    return markdown(head, rows)
