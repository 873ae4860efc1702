# SPDX-License-Identifier: MIT
"""Check arguments, and turn SI numbers into the units a reader wants.

Inside the package every number is SI. Only the edges (panels, pictures, sentences, tables)
convert, and they do it here. The metric and US customary units of one kind of quantity stand
side by side in `UNITS`, so a picture asks for a kind and a system and never for a factor.
"""

import re
import warnings
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from numbers import Real
from types import UnionType
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.constants import Julian_year, g

__all__ = [
    "GRAVITY",
    "SYSTEMS",
    "UNITS",
    "FloatArray",
    "OutsideValidityWarning",
    "System",
    "Unit",
    "doubt",
    "finite",
    "from_display",
    "having",
    "in_range",
    "in_units",
    "non_negative",
    "numbers",
    "of_type",
    "one_of",
    "plain_number",
    "positive",
    "precise",
    "read_only",
    "require",
    "rounded",
    "show",
    "show_number",
    "to_display",
    "typed",
    "unit",
    "units_of",
    "whole",
    "within",
]

FloatArray = NDArray[np.float64]

GRAVITY = g
"""Standard acceleration of free fall, 9.80665 m/s^2 [CODATA through scipy.constants]."""
System = Literal["metric", "us"]
SYSTEMS: tuple[System, ...] = ("metric", "us")


class OutsideValidityWarning(UserWarning):
    """The arguments are possible, but outside the range where the model was checked."""


# --- checks ---------------------------------------------------------------------------------


def require(ok: ArrayLike, name: str, value: ArrayLike, rule: str, unit: str = "") -> None:
    """Raise ``ValueError`` naming the argument, the rule and the first bad value.

    Parameters
    ----------
    ok : array_like of bool
        Where the rule holds; broadcasts against `value`.
    name : str
        The argument as the caller spells it.
    value : array_like
        What was given, in `unit`.
    rule : str
        What the argument must do, to follow the word "must".
    unit : str
        Unit of `value`, empty for a pure number.

    Raises
    ------
    ValueError
        If `ok` is false anywhere.

    """
    if ok is np.True_:  # one number that is right: most calls, so no array is made
        return
    good = np.asarray(ok)
    if good.all():
        return
    bad = np.broadcast_to(np.asarray(value), good.shape)[~good].flat[0]
    raise ValueError(f"{name} must {rule}; got {f'{bad:g} {unit}'.rstrip()}")


def numbers(name: str, value: ArrayLike, unit: str = "") -> FloatArray:
    """Return `value` as a float array, refusing what is no number; NaN and infinity pass."""
    wanted = f"a number in {unit}" if unit else "a number"
    if np.ma.isMaskedArray(value):  # the masked readings would be computed with
        raise ValueError(
            f"{name} must be {wanted}; got a masked array, so pass its .compressed() values"
        )
    try:
        array = np.asarray(value)
        if array.dtype.kind in "iuf" or (
            array.dtype.kind == "O" and _all_real(array.ravel().tolist())
        ):
            return array.astype(np.float64, copy=False)
    except OverflowError:
        raise ValueError(f"{name} must be {wanted}; got one beyond 1.8e308") from None
    except (TypeError, ValueError):  # rows of unequal length
        pass
    raise ValueError(f"{name} must be {wanted}; got {_brief(value)}")


def _all_real(items: list[object]) -> bool:
    return all(isinstance(item, Real) and not isinstance(item, bool) for item in items)


def _brief(value: object) -> str:
    text = " ".join(repr(value).split())
    return text if len(text) <= 60 else f"{text[:57]}..."


def finite(name: str, value: ArrayLike, unit: str = "") -> FloatArray:
    """Return `value` as a float array, refusing NaN and infinity."""
    array = numbers(name, value, unit)
    require(np.isfinite(array), name, array, "be finite", unit)
    return array


def positive(
    name: str, value: ArrayLike, unit: str = "", *, infinite: bool = False
) -> FloatArray:
    """Return `value` as a float array, refusing zero, negatives, NaN and infinity.

    With ``infinite`` true infinity passes.
    """
    array = numbers(name, value, unit)
    if infinite:
        require(array > 0, name, array, "be positive", unit)
    else:
        require((array > 0) & np.isfinite(array), name, array, "be finite and positive", unit)
    return array


def non_negative(name: str, value: ArrayLike, unit: str = "") -> FloatArray:
    """Return `value` as a float array, refusing negatives, NaN and infinity."""
    array = numbers(name, value, unit)
    rule = "be finite and zero or more"
    require((array >= 0) & np.isfinite(array), name, array, rule, unit)
    return array


def in_range(
    name: str, value: ArrayLike, low: float, high: float, unit: str = ""
) -> FloatArray:
    """Return `value` as a float array, refusing whatever lies outside `low` to `high`."""
    array = numbers(name, value, unit)
    rule = f"lie in {low:g} <= {name} <= {high:g}"
    require((array >= low) & (array <= high), name, array, rule, unit)
    return array


def within(name: str, value: ArrayLike, low: float, high: float, unit: str = "") -> FloatArray:
    """Return `value` as a float array, refusing all but what lies between `low` and `high`."""
    array = numbers(name, value, unit)
    rule = f"lie in {low:g} < {name} < {high:g}"
    require((array > low) & (array < high), name, array, rule, unit)
    return array


def whole(name: str, value: float, low: int = 0, high: int = 2**32 - 1) -> int:
    """Return a count or a seed as an int, refusing fractions and what lies outside.

    Parameters
    ----------
    name : str
        The argument as the caller spells it.
    value : int
        What was given; a float without a fraction will do (1e4).
    low, high : int
        Least and greatest that is allowed; for a seed leave them out. The upper bound keeps
        a slip of the finger from filling the memory.

    Returns
    -------
    int
        The number.

    Raises
    ------
    ValueError
        If `value` is no whole number from `low` to `high`.

    Examples
    --------
    >>> whole("panes", 1e4, 1, 100_000)
    10000
    >>> whole("panes", 2.5, 1, 100_000)
    Traceback (most recent call last):
    ValueError: panes must be a whole number, 1 <= panes <= 100000; got 2.5

    """
    number = isinstance(value, (int, float, np.integer, np.floating))
    odd = isinstance(value, (bool, np.timedelta64))  # whole numbers to Python and numpy
    if number and not odd and low <= value <= high and value == int(value):
        return int(value)
    rule = f"{name} must be a whole number, {low} <= {name} <= {high}"
    raise ValueError(f"{rule}; got {_brief(value)}")


def one_of(name: str, value: object, allowed: Iterable[object]) -> None:
    """Refuse a `value` that is not among `allowed`, listing what is."""
    known = list(allowed)
    if value not in known:
        listed = ", ".join(map(str, known))
        raise ValueError(f"{name} must be one of {listed}; got {value!r}")


_USUAL = {  # wide: nothing made of glass or that hits it lies outside; a judgement
    "toughness": (1e4, 1e9),
    "stress": (1e3, 1e12),
    "depth": (1e-10, 0.1),
    "thickness": (1e-6, 1.0),
    "length": (1e-3, 20.0),  # of a side of a pane
    "small_mass": (1e-6, 100.0),
    "temperature": (560.0, 2000.0),  # no bath and no furnace is below 290 °C
}


def doubt(name: str, value: ArrayLike, kind: str) -> None:
    """Warn of a number that is possible but looks like one of another unit.

    Parameters
    ----------
    name : str
        The argument as the caller spells it.
    value : array_like
        What was given [SI].
    kind : {"toughness", "stress", "depth", "thickness", "length", "small_mass", "temperature"}
        Kind of quantity; a length is a side of a pane, a temperature that of hot glass.

    Warns
    -----
    OutsideValidityWarning
        If a number is far from usual and would not be in another unit of its kind.

    Examples
    --------
    >>> import warnings
    >>> with warnings.catch_warnings(record=True) as said:
    ...     warnings.simplefilter("always")
    ...     doubt("toughness", 0.75, "toughness")
    >>> print(said[0].message)
    toughness is 0.75 Pa√m: was 0.75 MPa√m meant?

    """
    low, high = _USUAL[kind]
    array = np.asarray(value)
    if array.ndim == 0 and low <= array.item() <= high:  # nearly always, and soon told
        return
    odd = (array < low) | (array > high)
    if not odd.any():
        return
    number, units = float(array[odd].flat[0]), units_of(kind)
    plain = next(shown.symbol for shown in units.values() if shown.to_si(1.0) == 1.0)
    meant = (s for s, shown in units.items() if low <= shown.to_si(number) <= high)
    if unit_meant := next(meant, None):
        warnings.warn(
            f"{name} is {number:g} {plain}: was {number:g} {unit_meant} meant?",
            OutsideValidityWarning,
            stacklevel=3,
        )


def of_type(name: str, value: object, kind: type | UnionType) -> None:
    """Refuse what is not of a kind, in words, with ``TypeError``."""
    if not isinstance(value, kind):
        wanted = " or ".join(item.__name__ for item in get_args(kind) or (kind,))
        article = "an" if wanted[0] in "AEIOU" else "a"
        raise TypeError(f"{name} must be {article} {wanted}; got {_brief(value)}")


def having(name: str, value: object, *attributes: str) -> None:
    """Refuse what lacks one of the `attributes`, in words, with ``TypeError``."""
    if not all(hasattr(value, attribute) for attribute in attributes):
        raise TypeError(f"{name} must have {', '.join(attributes)}; got {_brief(value)}")


def read_only(*values: ArrayLike) -> tuple[FloatArray, ...]:
    """Return copies of `values`, broadcast to one shape, that nobody can change."""
    copies = tuple(np.array(item) for item in np.broadcast_arrays(*values))
    for item in copies:
        item.flags.writeable = False
    return copies


# --- display units --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Unit:
    """A display unit: ``SI value = displayed * scale + offset``."""

    symbol: str
    scale: float
    offset: float = 0.0

    def to_si(self, number: float) -> float:
        """Return a number in this unit as SI."""
        return number * self.scale + self.offset

    def from_si(self, number: float) -> float:
        """Return a number in SI in this unit."""
        return (number - self.offset) / self.scale


_POUND = 0.45359237  # [kg], exact: international yard and pound agreement, 1959
_FOOT = 0.3048  # [m], exact, same agreement
_INCH = _FOOT / 12
_POUND_FORCE = _POUND * GRAVITY  # [N], with standard gravity, CGPM 1901
_PSI = _POUND_FORCE / _INCH**2
_BTU_RATE = 1055.05585262 / 3600 / (_FOOT**2 * 5 / 9)  # [W/(m^2 K)], IT British thermal unit
_FAHRENHEIT = Unit("°F", 5 / 9, 459.67 * 5 / 9)

_BOTH: dict[str, tuple[Unit, Unit]] = {
    "stress": (Unit("MPa", 1e6), Unit("ksi", 1e3 * _PSI)),
    "stress_rate": (Unit("MPa/s", 1e6), Unit("ksi/s", 1e3 * _PSI)),
    "pressure": (Unit("MPa", 1e6), Unit("psi", _PSI)),
    "stiffness": (Unit("GPa", 1e9), Unit("Msi", 1e6 * _PSI)),
    "toughness": (Unit("MPa√m", 1e6), Unit("ksi√in", 1e3 * _PSI * _INCH**0.5)),
    "atom": (Unit("pm", 1e-12), Unit("pm", 1e-12)),
    "nanometre": (Unit("nm", 1e-9), Unit("nm", 1e-9)),
    "depth": (Unit("µm", 1e-6), Unit("mil", 1e-3 * _INCH)),
    "thickness": (Unit("mm", 1e-3), Unit("in", _INCH)),
    "length": (Unit("mm", 1e-3), Unit("in", _INCH)),
    "height": (Unit("m", 1.0), Unit("ft", _FOOT)),
    "speed": (Unit("m/s", 1.0), Unit("ft/s", _FOOT)),
    "acceleration": (Unit("m/s²", 1.0), Unit("ft/s²", _FOOT)),
    "small_mass": (Unit("g", 1e-3), Unit("oz", _POUND / 16)),
    "mass": (Unit("kg", 1.0), Unit("lb", _POUND)),
    "force": (Unit("N", 1.0), Unit("lbf", _POUND_FORCE)),
    "large_force": (Unit("kN", 1e3), Unit("lbf", _POUND_FORCE)),
    "energy": (Unit("J", 1.0), Unit("ft·lbf", _FOOT * _POUND_FORCE)),
    "area_energy": (Unit("J/m²", 1.0), Unit("ft·lbf/ft²", _POUND_FORCE / _FOOT)),
    "density": (Unit("kg/m³", 1.0), Unit("lb/ft³", _POUND / _FOOT**3)),
    "temperature": (Unit("°C", 1.0, 273.15), _FAHRENHEIT),
    "temperature_difference": (Unit("K", 1.0), Unit("°F", 5 / 9)),
    "expansion": (Unit("10⁻⁶/K", 1e-6), Unit("10⁻⁶/°F", 1.8e-6)),
    "index_scale": (Unit("1/m", 1.0), Unit("1/in", 1 / _INCH)),
    "heat_transfer": (Unit("W/(m²·K)", 1.0), Unit("Btu/(h·ft²·°F)", _BTU_RATE)),
    "microtime": (Unit("µs", 1e-6), Unit("µs", 1e-6)),
    "millitime": (Unit("ms", 1e-3), Unit("ms", 1e-3)),
    "time": (Unit("s", 1.0), Unit("s", 1.0)),
    "hours": (Unit("h", 3600.0), Unit("h", 3600.0)),
    "frequency": (Unit("Hz", 1.0), Unit("Hz", 1.0)),
    "years": (Unit("years", Julian_year), Unit("years", Julian_year)),
    "stress_optic": (Unit("1/TPa", 1e-12), Unit("1/TPa", 1e-12)),
    "percent": (Unit("%", 1e-2), Unit("%", 1e-2)),
    "angle": (Unit("°", np.pi / 180), Unit("°", np.pi / 180)),
    "number": (Unit("", 1.0), Unit("", 1.0)),
}
UNITS: dict[System, dict[str, Unit]] = {
    "metric": {kind: pair[0] for kind, pair in _BOTH.items()},
    "us": {kind: pair[1] for kind, pair in _BOTH.items()},
}


_DIMENSIONS = (  # kinds of one dimension: a number in any of their units is understood
    ("atom", "nanometre", "depth", "thickness", "length", "height"),
    ("stress", "stiffness"),
    ("small_mass", "mass"),
    ("force", "large_force"),
    ("microtime", "millitime", "time", "hours", "years"),
)
_ALSO = {  # units that people write beside those that the kit shows
    "length": {"cm": 1e-2, "um": 1e-6},
    "stress": {"Pa": 1.0, "kPa": 1e3, "psi": _PSI, "N/mm²": 1e6, "N/mm2": 1e6},
    "stress_rate": {"Pa/s": 1.0, "psi/s": _PSI, "N/mm²/s": 1e6, "N/(mm²·s)": 1e6},
    "toughness": {"Pa√m": 1.0, "MPa m^0.5": 1e6, "Pa m^0.5": 1.0},
    "force": {"mN": 1e-3, "gf": 1e-3 * GRAVITY, "kgf": GRAVITY},
    "microtime": {"us": 1e-6, "min": 60.0},
    "temperature": {"K": 1.0},
    "expansion": {"1/K": 1.0, "ppm/K": 1e-6, "1e-6/K": 1e-6},
    "angle": {"deg": np.pi / 180, "rad": 1.0},
    "number": {"1": 1.0, "-": 1.0},
}


def units_of(kind: str) -> Mapping[str, Unit]:
    """Return every unit that is understood for a kind of quantity, by its symbol.

    Parameters
    ----------
    kind : str
        A key of `UNITS`; kinds of one dimension understand the same units.

    Returns
    -------
    mapping of str to Unit
        Those shown first, then others in use.

    Raises
    ------
    ValueError
        If `kind` is unknown.

    Examples
    --------
    >>> units_of("depth")["in"].scale, "psi" in units_of("stress")
    (0.0254, True)

    """
    unit(kind)
    family = next((kinds for kinds in _DIMENSIONS if kind in kinds), (kind,))
    found = {
        UNITS[system][name].symbol: UNITS[system][name]
        for system in SYSTEMS
        for name in (kind, *family)
    }
    for name in family:
        found |= {symbol: Unit(symbol, scale) for symbol, scale in _ALSO.get(name, {}).items()}
    return found


# Full-width digits and those of other alphabets are not guessed at but said to be no number.
_PLAIN = r"[-+]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][-+]?[0-9]+)?"
_TYPED = re.compile(rf"({_PLAIN})\s*(.*)")


def plain_number(text: str) -> float:
    """Return a bare number as people write it, with a point or a comma.

    Parameters
    ----------
    text : str
        Such as "2,5", "-3" or "1e-3"; the long minus sign counts as one.

    Returns
    -------
    float
        The number, infinite if it is too large.

    Raises
    ------
    ValueError
        If `text` is no number.

    Examples
    --------
    >>> plain_number("2,5"), plain_number(" −1e3 ")
    (2.5, -1000.0)

    """
    plain = text.strip().replace("−", "-")
    if not re.fullmatch(_PLAIN, plain):
        raise ValueError(f"write a number; got “{plain}”")
    return float(plain.replace(",", "."))


def typed(text: str, kind: str, system: System | None = None) -> float:
    """Return a number as people type it, with its unit, in SI.

    Parameters
    ----------
    text : str
        Such as "2,5 mm" or "0.0025 m": decimal point or comma, any unit of the dimension.
    kind : str
        A key of `UNITS`.
    system : {"metric", "us"}, optional
        A number without a unit is in the unit shown in this system; without it only a pure
        number may stand bare.

    Returns
    -------
    float
        The number [SI], finite.

    Raises
    ------
    ValueError
        If `text` is no such number. The sentence says what would be understood.

    Examples
    --------
    >>> typed("2,5 mm", "height"), typed("2 kN", "force"), typed("48,5", "stress", "metric")
    (0.0025, 2000.0, 48500000.0)
    >>> typed("much", "number")
    Traceback (most recent call last):
    ValueError: write a number; got “much”

    """
    units = units_of(kind)
    plain = " ".join(text.replace("−", "-").replace("μ", "µ").split())
    parts = _TYPED.fullmatch(plain)
    bare = system is not None or "" in units
    if parts and (parts[2] or bare):
        shown = unit(kind, system or "metric") if not parts[2] else units.get(parts[2])
        number = plain_number(parts[1])
        if shown is not None and np.isfinite(number):
            return shown.to_si(number)
    wanted = "a number"
    if "" not in units and system is not None:
        wanted = f"a number in {unit(kind, system).symbol}, or one with its unit"
    elif "" not in units:
        wanted = f"a number with one of the units {', '.join(units)}"
    raise ValueError(f"write {wanted}; got “{text.strip()}”")


def unit(kind: str, system: System = "metric") -> Unit:
    """Return the display unit of one kind of quantity.

    Parameters
    ----------
    kind : str
        A key of `UNITS`, such as "stress" or "depth".
    system : {"metric", "us"}
        Metric or US customary.

    Returns
    -------
    Unit
        Symbol, scale and offset.

    Raises
    ------
    ValueError
        If `kind` or `system` is unknown.

    Examples
    --------
    >>> unit("stress", "us").symbol
    'ksi'

    """
    one_of("system", system, SYSTEMS)
    one_of("kind", kind, UNITS[system])
    return UNITS[system][kind]


def to_display(value: ArrayLike, kind: str, system: System = "metric") -> FloatArray:
    """Return SI numbers in the display unit of their kind.

    Examples
    --------
    One hundred megapascals in thousands of pounds per square inch:

    >>> to_display(100e6, "stress", "us").item()
    14.504

    """
    shown = unit(kind, system)
    return np.asarray((np.asarray(value, dtype=np.float64) - shown.offset) / shown.scale)


def from_display(value: ArrayLike, kind: str, system: System = "metric") -> FloatArray:
    """Return numbers given in a display unit as SI.

    Examples
    --------
    >>> from_display(450.0, "temperature").item()
    723.15

    """
    shown = unit(kind, system)
    return np.asarray(np.asarray(value, dtype=np.float64) * shown.scale + shown.offset)


def show_number(value: float, digits: int = 3) -> str:
    """Write a number to some significant digits, as a reader expects to see it.

    Plain digits between a ten-thousandth and a million, powers of ten outside; a true minus
    sign.

    Examples
    --------
    >>> show_number(1234.5), show_number(-0.00012345), show_number(2.5e30)
    ('1230', '−0.000123', '2.50 × 10³⁰')

    """
    if not np.isfinite(value):
        return "no number" if np.isnan(value) else ("−∞" if value < 0 else "∞")
    if value == 0:
        return "0"
    mantissa, exponent = f"{abs(value):.{digits - 1}e}".split("e")
    power = int(exponent)
    sign = "−" if value < 0 else ""
    if -4 <= power < 6:
        rounded = float(f"{mantissa}e{power}")
        return f"{sign}{rounded:.{max(digits - 1 - power, 0)}f}"
    raised = str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
    return f"{sign}{mantissa} × 10{raised}"


# Kinds that a US reader rounds: to two digits where that changes hardly anything, with a
# smaller unit below a size in the larger.
_ROUND: dict[str, tuple[str, float]] = {
    "height": ("thickness", 3.0),  # inches below three feet
    "length": ("", 0.0),
    "thickness": ("", 0.0),
    "depth": ("", 0.0),
    "mass": ("small_mass", 1.0),  # ounces below a pound
    "small_mass": ("", 0.0),
    "stress": ("pressure", 1.0),  # psi below a ksi
}


_ROUND_OFF = 0.02  # share by which rounding may change a number [-]


def _rounded(value: ArrayLike, kind: str, digits: int) -> str:
    """Write a number as a US reader rounds it: 12 in, 8 oz, 0.8 mil, 730 psi."""
    smaller, least = _ROUND[kind]
    number = to_display(value, kind, "us").item()
    if smaller and 0 < abs(number) < least:
        kind = smaller
        number = to_display(value, kind, "us").item()
    return f"{rounded(number, digits)} {unit(kind, 'us').symbol}"


def rounded(number: float, digits: int = 3) -> str:
    """Write a converted number: with two digits where that changes hardly anything.

    Parameters
    ----------
    number : float
        In the unit shown.
    digits : int
        Significant digits where two would not do.

    Returns
    -------
    str
        The number, without a zero after the point at its end.

    Examples
    --------
    >>> rounded(8.00719), rounded(0.984252), rounded(104.3)
    ('8', '0.98', '104')

    """
    round_number = float(f"{number:.1e}")
    near = abs(round_number - number) < _ROUND_OFF * abs(number)
    return show_number(number, min(digits, 2) if near else digits).removesuffix(".0")


def show(value: ArrayLike, kind: str, system: System = "metric", digits: int = 3) -> str:
    """Write one SI number with its display unit.

    Parameters
    ----------
    value : array_like
        One number, SI.
    kind : str
        A key of `UNITS`.
    system : {"metric", "us"}
        Metric or US customary.
    digits : int
        Significant digits.

    Returns
    -------
    str
        Number, thin gap, unit.

    Examples
    --------
    >>> show(-700e6, "stress")
    '−700 MPa'

    US lengths, masses and small stresses are rounded as their readers round them:

    >>> show(0.3, "height", "us"), show(0.227, "small_mass", "us"), show(5e6, "stress", "us")
    ('12 in', '8 oz', '730 psi')

    """
    if system == "us" and kind in _ROUND:
        return _rounded(value, kind, digits)
    return precise(value, kind, system, digits)


def precise(value: ArrayLike, kind: str, system: System = "metric", digits: int = 3) -> str:
    """Write one measured SI number with its display unit, with all its digits.

    Parameters
    ----------
    value, kind, system, digits
        As for `show`, which rounds US numbers as their readers do; an interval of two such
        numbers would change its width.

    Returns
    -------
    str
        Number, thin gap, unit.

    Examples
    --------
    >>> show(97.7e6, "stress", "us"), precise(97.7e6, "stress", "us")
    ('14 ksi', '14.2 ksi')

    """
    number = show_number(to_display(value, kind, system).item(), digits)
    symbol = unit(kind, system).symbol
    gap = "" if symbol in ("%", "°") else " "
    return f"{number}{gap}{symbol}".rstrip()


_SIZED = re.compile(r"(\d+(?:\.\d+)?) (mm|µm|MPa|°C|kg|g|m)\b")
_OF_SYMBOL = {
    "mm": "thickness",
    "µm": "depth",
    "MPa": "stress",
    "°C": "temperature",
    "kg": "mass",
    "g": "small_mass",
    "m": "height",
}


def in_units(text: str, system: System) -> str:
    """Return a text with the metric sizes in it said in another system.

    Parameters
    ----------
    text : str
        With numbers such as "6 mm" or "430 °C".
    system : {"metric", "us"}
        Metric leaves the text as it is.

    Returns
    -------
    str
        Each size with two digits, temperatures with three.

    Examples
    --------
    >>> in_units("salt bath: 0.7 mm, 16 h at 430 °C, 700 MPa", "us")
    'salt bath: 0.028 in, 16 h at 806 °F, 100 ksi'

    """
    if system == "metric":
        return text

    def said(found: re.Match[str]) -> str:
        kind = _OF_SYMBOL[found[2]]
        size = from_display(float(found[1]), kind)
        return show(size, kind, system, 3 if kind == "temperature" else 2)

    return _SIZED.sub(said, text)
