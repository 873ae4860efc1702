# SPDX-License-Identifier: MIT
"""Say what a salt bath did to glass."""

from glasskit.quantities import FloatArray, System, Unit, show, show_number, unit
from glasskit.toughening import SaltBath, bath_glass
from glasskit.words.tables import SURE, markdown

GLASS_NAMES = {
    "soda-lime": "window glass",
    "aluminosilicate": "cover glass",
}
# Property: name, and the unit shown.
_SHOWN = {
    "diffusivity": ("diffusivity", Unit("m²/s", 1.0)),
    "reference": ("at the temperature", unit("temperature")),
    "activation_energy": ("its activation energy", Unit("kJ/mol", 1e3)),
    "dilation": ("dilation for each mol% of K₂O", Unit("10⁻³", 0.1)),
    "slowness": ("relaxation time over that of the frozen melt", unit("number")),
    "alkali": ("Na₂O to be swapped", Unit("mol%", 0.01)),
}


def sentence(bath: SaltBath, system: System = "metric") -> str:
    """Say how deep the potassium squeezes, what has relaxed, and how sure that is.

    Examples
    --------
    >>> bath = SaltBath(glass="soda-lime", time=8 * 3600, temperature=723.15, thickness=4e-3)
    >>> print(sentence(bath))
    After 8 h at 450 °C the skin of window glass is 17 µm deep. At the face it is squeezed
    by a stress of 490 MPa. 23% of what the first ions gave has relaxed. What is known of glass
    and bath allows 9.3 to 21 µm and 310 to 670 MPa.

    """
    outcome = bath.outcome
    spent = show(bath.time, "hours", system, 2).replace(".0 ", " ")
    heat = show(bath.temperature, "temperature", system)
    lost = show(1 - outcome.remaining.item(), "percent", system, 2)
    name = GLASS_NAMES[bath.glass]
    if outcome.case_depth <= 0:
        return (
            f"After {spent} at {heat} the face of {name} has let go of its squeeze: "
            "the bath was too long or too hot."
        )
    face = show(outcome.surface_compression, "stress", system, 2)
    deep = show(outcome.case_depth, "depth", system, 2)
    return (
        f"After {spent} at {heat} the skin of {name} is {deep} deep. At the face it is "
        f"squeezed by a stress of {face}. {lost} of what the first ions gave has relaxed. "
        f"What is known of glass and bath allows {_span(bath.depth_range, 'depth', system)} "
        f"and {_span(bath.squeeze_range(0.0), 'stress', system)}."
    )


def _span(ends: tuple[FloatArray, FloatArray], quantity: str, system: System) -> str:
    low, high = (show(end, quantity, system, 2) for end in ends)
    return f"{low.split()[0]} to {high}" if ends[0] > 0 else f"up to {high}"


def numbers(bath: SaltBath, system: System = "metric") -> list[tuple[str, str]]:
    """Return what the bath gave, label and text, with how sure the coefficients are."""
    outcome, own = bath.outcome, bath.coefficients
    known = own.values["diffusivity"]
    face = show(outcome.surface_compression, "stress", system, 2)
    deep = show(outcome.case_depth, "depth", system, 2)
    return [
        ("squeeze at the face (surface compression)", face),
        ("in eight cases of ten", _span(bath.squeeze_range(0.0), "stress", system)),
        ("depth of the squeezed skin (case depth)", deep),
        ("in eight cases of ten ", _span(bath.depth_range, "depth", system)),
        ("wanted, stress and depth", wanted(bath, system)),
        (
            "stretch of the core (centre tension)",
            show(outcome.centre_tension, "stress", system, 2),
        ),
        (
            "diffusivity",
            f"{show_number(bath.diffusivity, 2)} m²/s ({known.source}, {SURE[known.status]})",
        ),
        (
            "mean time in which the glass relaxes",
            show(bath.relaxation_time, "hours", system, 2),
        ),
        ("strain of the first ions left", show(outcome.remaining, "percent", system, 2)),
    ]


def wanted(bath: SaltBath, system: System = "metric") -> str:
    """Say what is asked of the bath.

    Examples
    --------
    >>> cook = {"time": 8 * 3600, "temperature": 723.15, "thickness": 4e-3}
    >>> wanted(SaltBath(glass="soda-lime", **cook, wanted_squeeze=4e8, wanted_depth=2e-5))
    '400 MPa, 20 µm or more'

    """
    squeeze = show(bath.wanted_squeeze, "stress", system, 2)
    return f"{squeeze}, {show(bath.wanted_depth, 'depth', system, 2)} or more"


def coefficient_table() -> str:
    """Return the coefficients of all glasses with range, source and status, in Markdown."""
    rows = []
    for glass, name in GLASS_NAMES.items():
        for key, value in bath_glass(glass).values.items():
            label, to = _SHOWN[key]
            used, low, high = (
                f"{to.from_si(number):.3g}" for number in (value.value, value.low, value.high)
            )
            spread = f"{low} to {high}" if low != high else ""
            rows.append(
                [name, label, f"{used} {to.symbol}", spread, value.source, SURE[value.status]]
            )
    return markdown(["glass", "coefficient", "used", "range", "source", "how sure"], rows)


def bath_verdict(bath: SaltBath, system: System) -> str:
    """Say in six to ten words whether the bath gives what is wanted."""
    outcome = bath.outcome
    if not outcome.case_depth:
        return "Too long or too hot: the squeeze is gone"
    face = show(outcome.surface_compression, "stress", system, 2)
    deep = show(outcome.case_depth, "depth", system, 2)
    if bath.hard_enough and bath.deep_enough:
        return f"As wanted: {deep} deep, a stress of {face}"
    if not bath.hard_enough and not bath.deep_enough:
        return f"Too weak, too shallow: {deep}, stress {face}"
    fault = "shallow" if bath.hard_enough else "weak"
    return f"Too {fault}: {deep} deep, a stress of {face}"
