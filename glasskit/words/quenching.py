# SPDX-License-Identifier: MIT
"""Say what a quench did to a pane, and how it differs from a salt bath."""

from glasskit.lab import class_of
from glasskit.materials import glass
from glasskit.quantities import System, show
from glasskit.stress import StressProfile
from glasskit.toughening import Quench

SKIN, CORE = "squeezed skin", "stretched core"

_NO_GRADE = "too little to count as heat-strengthened"
_GRADES = {
    "below all classes": _NO_GRADE,
    "heat-strengthened (HS)": "heat-strengthened",
    "between the kinds": "between heat-strengthened and fully toughened",
    "fully tempered (FT)": "fully toughened",
}


def grade(squeeze: float) -> str:
    """Say what trade a surface compression [Pa] belongs to.

    Examples
    --------
    >>> grade(90e6), grade(35e6)
    ('fully toughened', 'heat-strengthened')

    """
    return _GRADES[class_of(squeeze, "C1048")] if squeeze > 0 else _NO_GRADE


def sentence(quench: Quench, system: System = "metric") -> str:
    """Say what the quench left, and the pull on the way."""
    left = quench.profile
    size = left.thickness
    squeeze, skin = show(-left.surface, "stress", system, 2), left.case_depth
    pull = quench.surface_tension
    said = (
        f"The {show(size, 'thickness', system, 2)} pane ends with a skin "
        f"{show(skin, 'thickness', system, 2)} deep ({show(skin / size, 'percent', digits=2)} "
        f"of its thickness) squeezed by a stress of {squeeze} at the surface. Its core is "
        f"stretched by a stress of {show(left.centre, 'stress', system, 2)}: "
        f"{grade(-left.surface)}. "
    )
    early = f"Early on its surface felt a pulling stress of {show(pull, 'stress', system, 2)}"
    if pull < glass("soda-lime").values["design_strength"].value:
        return f"{said}{early}."
    return f"{said}{early}, enough to crack a scratched pane in the blast."


def numbers(quench: Quench, system: System = "metric") -> list[tuple[str, str]]:
    """Return the numbers of a quench, label and text."""
    left, history = quench.profile, quench.cooling
    lag = (history.temperature[:, -1] - history.temperature[:, 0]).max()
    ratio = -left.surface / left.centre
    return [
        ("Squeeze (compressive stress) at the surface",
         show(-left.surface, "stress", system, 2)),
        ("Stretch (tensile stress) in the middle", show(left.centre, "stress", system, 2)),
        ("Surface over middle (parabola: 2)", show(ratio, "number", digits=2)),
        ("Skin, share of the thickness (parabola: 21%)",
         show(left.case_depth / left.thickness, "percent", digits=2)),
        ("Most pulling stress on the surface, early",
         show(quench.surface_tension, "stress", system, 2)),
        ("Middle hotter than surface, most", show(lag, "temperature_difference", system, 2)),
        ("Structure set at, surface", show(quench.fictive[-1, 0], "temperature", system)),
    ]  # fmt: skip


def kinds_sentence(
    kinds: tuple[StressProfile, StressProfile], system: System = "metric"
) -> str:
    """Say how the skin of a salt bath and that of a quench compare."""
    bath, quench = kinds
    times = show(quench.case_depth / bath.case_depth, "number", digits=2)
    return (
        f"In the same {show(bath.thickness, 'thickness', system, 2)} pane the salt bath "
        f"squeezes a skin of {show(bath.case_depth, 'depth', system, 2)} by a stress of "
        f"{show(-bath.surface, 'stress', system, 2)}, the quench a skin of "
        f"{show(quench.case_depth, 'depth', system, 2)}, {times} times as deep, by "
        f"{show(-quench.surface, 'stress', system, 2)}."
    )


def kinds_numbers(
    kinds: tuple[StressProfile, StressProfile], system: System = "metric"
) -> list[tuple[str, str]]:
    """Return the numbers of bath and quench, label and text."""
    rows = []
    for name, left in zip(("Salt bath", "Quench"), kinds, strict=True):
        share = show(left.case_depth / left.thickness, "percent", digits=2)
        rows += [
            (f"{name}: squeeze at the surface", show(-left.surface, "stress", system, 2)),
            (f"{name}: skin", f"{show(left.case_depth, 'depth', system, 2)} ({share})"),
            (f"{name}: stretch in the middle", show(left.centre, "stress", system, 2)),
        ]
    return rows


def quench_verdict(quench: Quench, system: System) -> str:
    """Say in six to ten words how hard the skin is squeezed, and what that counts as."""
    squeeze = -quench.profile.surface
    amount = show(max(squeeze, 0.0), "stress", system, 2)
    named = grade(squeeze)
    short = named if len(named.split()) < 3 else "between grades"
    if named == _NO_GRADE:
        short = "no grade"
    return f"Skin squeezed by {amount} of stress: {short}"


def kinds_verdict(kinds: tuple[StressProfile, StressProfile], system: System) -> str:
    """Say in six to ten words how much deeper the skin of a quench is than that of a bath."""
    bath, quench = kinds
    times = show(quench.case_depth / bath.case_depth, "number", digits=2)
    return f"The quenched skin is {times} times as deep"
