# SPDX-License-Identifier: MIT
"""Glasses, and the solids that hit them or are hit by them, with a source for every number.

`glass` and `solid` hand out plain SI numbers for calculation. Published sources disagree: all
of them stay listed in `table`, and each record carries in `values` the chosen number of every
property with its published range, source and status. A number that is not known is NaN, which
every function of the package refuses. For a material of your own use `dataclasses.replace`.
"""

from dataclasses import dataclass, fields
from functools import cache
from math import isnan, nan

from glasskit.quantities import finite, one_of, positive, require
from glasskit.tables import Value, read, sourced_value

BESIDE = frozenset(
    {
        "bond",
        "crack_speed",
        "design_strength",
        "drop_squeeze",
        "fatal_inclusion",
        "fracture_energy",
        "toughened_strength",
    }
)
"""Properties in a glass's `values` alone: told of, or a check on what is derived."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What glasses and other solids share: isotropic, elastic, brittle.

    Attributes
    ----------
    name : str
        What it is called.
    density : float
        Mass per volume [kg/m^3].
    modulus : float
        Young's modulus [Pa].
    poisson : float
        Poisson ratio, 0 up to but not including 0.5 [-].
    toughness : float
        Fracture toughness in mode I, without help from humid air; NaN if unknown [Pa m^0.5].
    hardness : float
        Indentation hardness (Vickers; for wood Brinell), NaN if unknown [Pa].
    mohs : float
        Place on the Mohs scale, a rank and not a measure; NaN if unknown [-].

    """

    name: str
    density: float
    modulus: float
    poisson: float
    toughness: float = nan
    hardness: float = nan
    mohs: float = nan

    def __post_init__(self) -> None:
        positive("density", self.density, "kg/m^3")
        positive("modulus", self.modulus, "Pa")
        ratio = finite("poisson", self.poisson)
        require((ratio >= 0) & (ratio < 0.5), "poisson", ratio, "lie in 0 <= poisson < 0.5")
        # What else a kind of body has may be unknown, but is otherwise a positive number.
        for field in fields(self):
            value = getattr(self, field.name)
            if field.default is nan and not (isinstance(value, float) and isnan(value)):
                positive(field.name, value)

    @property
    def plane_strain_modulus(self) -> float:
        """Modulus of a body that cannot shrink sideways, E / (1 - nu^2) [Pa]."""
        return self.modulus / (1 - self.poisson**2)

    @property
    def shear_modulus(self) -> float:
        """Shear modulus, E / (2 (1 + nu)) [Pa]."""
        return self.modulus / (2 * (1 + self.poisson))

    @property
    def values(self) -> dict[str, Value]:
        """Every chosen number as published under this name, property to `Value`.

        Empty for a name that is not in the table; a variant keeps the published numbers.
        """
        return {
            row.property: row.value
            for row in table()
            if row.material == self.name and row.chosen
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid(Body):
    """A solid that hits glass or is hit by it; beyond `Body`, how it lets a ball rebound.

    Attributes
    ----------
    restitution : float
        Rebound speed over impact speed of a steel ball on a thick block of this solid, at low
        speed; NaN if unknown [-].

    """

    restitution: float = nan


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass(Body):
    """A glass; beyond `Body`, its answer to heat, light and time. The toughness is needed.

    Attributes
    ----------
    expansion : float
        Linear thermal expansion below the transition, NaN if unknown [1/K].
    conductivity : float
        Thermal conductivity, NaN if unknown [W/(m K)].
    specific_heat : float
        Specific heat, NaN if unknown [J/(kg K)].
    refractive_index : float
        Refractive index in yellow light, NaN if unknown [-].
    stress_optic : float
        Stress-optic coefficient, NaN if unknown [1/Pa].
    strain_point, annealing_point, softening_point : float
        Temperatures at which log10 of the viscosity in Pa s is 13.5, 12.0 and 6.6, NaN if
        unknown [K].
    surface_energy : float
        Thermodynamic surface energy of one face, NaN if unknown [J/m^2].
    practical_strength : float
        Tension at which panes with everyday damage break, NaN if unknown [Pa].
    characteristic_strength : float
        Bending strength that 95 of 100 annealed panes reach, NaN if unknown [Pa].
    intrinsic_strength : float
        Strength of a flawless fibre in inert surroundings, NaN if unknown [Pa].
    growth_exponent : float
        Exponent of the power law of slow crack growth, NaN if unknown [-].
    growth_speed : float
        Speed of that power law where the stress intensity reaches the toughness, NaN if
        unknown [m/s].
    growth_threshold : float
        Stress intensity below which no growth is seen, NaN if unknown [Pa m^0.5].

    Examples
    --------
    A glass of your own, like window glass but stiffer:

    >>> from dataclasses import replace
    >>> mine = replace(glass("soda-lime"), name="mine", modulus=75e9)
    >>> mine.plane_strain_modulus / 1e9
    78.125

    """

    expansion: float = nan
    conductivity: float = nan
    specific_heat: float = nan
    refractive_index: float = nan
    stress_optic: float = nan
    strain_point: float = nan
    annealing_point: float = nan
    softening_point: float = nan
    surface_energy: float = nan
    practical_strength: float = nan
    characteristic_strength: float = nan
    intrinsic_strength: float = nan
    growth_exponent: float = nan
    growth_speed: float = nan
    growth_threshold: float = nan

    def __post_init__(self) -> None:
        Body.__post_init__(self)  # slotted dataclasses cannot use super() before Python 3.14
        positive("toughness", self.toughness, "Pa m^0.5")

    @property
    def fracture_energy(self) -> float:
        """Work of breaking per area of one new face, K_IC^2 (1 - nu^2) / (2 E) [J/m^2].

        Half of the critical energy release rate in plane strain, so that both forms of
        Griffith's criterion agree; measured values stand in ``values["fracture_energy"]``.
        """
        return self.toughness**2 / (2 * self.plane_strain_modulus)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One row of the table of materials.

    Attributes
    ----------
    material : str
        Name of the glass or solid.
    kind : str
        "glass" or "solid".
    property : str
        The attribute that the number belongs to, or a measured check on a derived one.
    chosen : bool
        Whether this number is the one in use; exactly one row a property is.
    value : Value
        The number, its range and its source.

    """

    material: str
    kind: str
    property: str
    chosen: bool
    value: Value


@cache
def table() -> tuple[Entry, ...]:
    """Return every published number of every material, chosen or not.

    Returns
    -------
    tuple of Entry
        In the order of the file; sources that disagree follow one another.

    Examples
    --------
    What the sources say about the stiffness of soda-lime glass, in GPa:

    >>> [
    ...     entry.value.value / 1e9
    ...     for entry in table()
    ...     if (entry.material, entry.property) == ("soda-lime", "modulus")
    ... ]
    [70.0, 71.0, 72.0, 74.0]

    """
    return tuple(
        Entry(
            material=row["material"],
            kind=row["kind"],
            property=row["property"],
            chosen=row["chosen"] == "yes",
            value=sourced_value(row),
        )
        for row in read("materials")
    )


def _names(kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.material for row in table() if row.kind == kind))


def glass_names() -> tuple[str, ...]:
    """Return the names that `glass` knows.

    Returns
    -------
    tuple of str
        In the order of the table.

    Examples
    --------
    >>> glass_names()
    ('soda-lime', 'aluminosilicate', 'borosilicate', 'fused silica')

    """
    return _names("glass")


def solid_names() -> tuple[str, ...]:
    """Return the names that `solid` knows.

    Returns
    -------
    tuple of str
        In the order of the table.

    """
    return _names("solid")


def _numbers(name: str) -> dict[str, float]:
    chosen = (row for row in table() if row.material == name and row.chosen)
    return {row.property: row.value.value for row in chosen}


@cache
def glass(name: str) -> Glass:
    """Return a glass by name.

    Parameters
    ----------
    name : str
        One of `glass_names`: "soda-lime" is window (float) glass, "aluminosilicate" the
        alkali aluminosilicate of cover glasses, before any strengthening.

    Returns
    -------
    Glass
        Chosen numbers in SI; sources and ranges in its `values`.

    Raises
    ------
    ValueError
        If `name` is unknown.

    Notes
    -----
    The elastic constants of soda-lime are the design pair of [EN572]_, 70 GPa and 0.2; most
    laboratories measure one to four gigapascals and 0.02 to 0.03 more. The numbers of the
    aluminosilicate are typical of data sheets, from memory: products differ by a tenth.

    References
    ----------
    .. [EN572] EN 572-1, basic soda-lime silicate glass products.

    Examples
    --------
    >>> window = glass("soda-lime")
    >>> window.modulus, window.values["modulus"].source
    (70000000000.0, 'EN 572-1')

    """
    one_of("name", name, glass_names())
    numbers = {key: value for key, value in _numbers(name).items() if key not in BESIDE}
    return Glass(name=name, **numbers)


@cache
def solid(name: str) -> Solid:
    """Return a solid that hits glass or is hit by it, by name.

    Parameters
    ----------
    name : str
        One of `solid_names`. Plain "hardwood" and "softwood" are hit across the grain, as a
        floor board is; "... end grain" along it.

    Returns
    -------
    Solid
        Chosen numbers in SI; sources and ranges in its `values`.

    Raises
    ------
    ValueError
        If `name` is unknown.

    Notes
    -----
    Wood is not isotropic and rubber not linear; their numbers serve comparisons, not design.

    Examples
    --------
    >>> solid("steel").plane_strain_modulus / solid("rubber").plane_strain_modulus
    33828.

    """
    one_of("name", name, solid_names())
    return Solid(name=name, **_numbers(name))
