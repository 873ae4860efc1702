# SPDX-License-Identifier: MIT
"""Say what dents at several loads, a dilatometer, a profile and readings by light give."""

import numpy as np

from glasskit.lab import (
    METHODS,
    DentSeries,
    Dilatometry,
    ProfileBalance,
    Reduction,
    analyser_stress,
)
from glasskit.lab import vickers_number as number_of
from glasskit.quantities import System, precise, show_number, to_display, unit

Numbers = list[tuple[str, str]]


def _ends(interval: tuple[float, float], kind: str, system: System, digits: int = 3) -> str:
    return " to ".join(
        precise(end, kind, system, digits) if np.isfinite(end) else "no limit"
        for end in interval
    )


def hardness_number(found: DentSeries, place: int) -> float:
    """Return the Vickers number of the mean hardness of one load [kgf/mm^2]."""
    group = found.groups[place]
    return number_of(group.load, np.sqrt(2 * group.load / group.hardness)).item()


def dents_verdict(found: DentSeries, system: System) -> str:
    """Say in six to ten words whether hardness falls with the load."""
    if found.falls:
        return "Hardness falls with the load: state the load"
    return "No fall with the load is shown; one may be there"


def dents_sentence(found: DentSeries, system: System = "metric") -> str:
    """Say the hardness of each load, and what is left at large ones."""
    loads = [precise(group.load, "force", system) for group in found.groups]
    told = ", ".join(
        f"{show_number(hardness_number(found, place), 3)} at {load}"
        for place, load in enumerate(loads)
    )
    return (
        f"Vickers numbers: {told}. At large loads the mean pressure goes to "
        f"{precise(found.plateau, 'stiffness', system)}, {found.level:.0%} interval "
        f"{_ends(found.plateau_interval, 'stiffness', system)}."
    )


def dents_numbers(found: DentSeries, system: System = "metric") -> Numbers:
    """Return label and text of each load, both laws, and doubts."""
    rows = [
        (
            f"mean pressure at {precise(group.load, 'force', system)}",
            f"{precise(group.hardness, 'stiffness', system)} "
            f"({_ends(group.interval, 'stiffness', system)}), {group.count} dents",
        )
        for group in found.groups
    ]
    low, high = (show_number(end, 3) for end in found.meyer_interval)
    rows += [
        ("left at large loads", precise(found.plateau, "stiffness", system)),
        (
            f"its {found.level:.0%} interval",
            _ends(found.plateau_interval, "stiffness", system),
        ),
        ("Meyer's power (2: no fall)", f"{show_number(found.meyer, 3)} ({low} to {high})"),
    ]
    if len(found.groups) < 3:
        rows.append(("doubt", "two loads do not tell a law: take three or more."))
    if found.diagonal.min() < 20e-6:
        rows.append(("doubt", "a diagonal below 20 µm: half a micrometre is much of it."))
    few = [group for group in found.groups if group.count < 10]
    if few:
        rows.append(("doubt", "fewer than ten dents at a load."))
    return rows


def expansion_verdict(found: Dilatometry, system: System) -> str:
    """Say in six to ten words where the glass turns soft."""
    return f"The tangents meet at {_degrees(found.transition, system)}"


def _degrees(value: float, system: System) -> str:
    """Write a temperature in whole degrees, of which three digits may be ten."""
    number = to_display(value, "temperature", system).item()
    return f"{show_number(round(number), 4)} {unit('temperature', system).symbol}"


def _mean(found: Dilatometry, system: System) -> str:
    half = precise(found.mean.budget.expanded(), "expansion", system, 2)
    return f"{precise(found.mean.value, 'expansion', system)} ± {half}"


def expansion_sentence(found: Dilatometry, system: System = "metric") -> str:
    """Say mean expansion and transition temperature, each with its interval."""
    start, end = (
        _degrees(found.mean.inputs[name].value.item(), system)
        for name in ("start_temperature", "end_temperature")
    )
    low, high = (_degrees(one, system) for one in found.interval)
    return (
        f"Mean expansion from {start} to {end}: {_mean(found, system)}. Transition at "
        f"{_degrees(found.transition, system)}, {found.level:.0%} interval {low} to {high}."
    )


def expansion_numbers(found: Dilatometry, system: System = "metric") -> Numbers:
    """Return label and text of what a dilatometer's curve gives, with its budget."""
    soft = found.softening
    rows = [
        ("mean expansion", _mean(found, system)),
        ("transition", _degrees(found.transition, system)),
        (
            "longest at",
            _degrees(soft, system) if np.isfinite(soft) else "not reached",
        ),
    ]
    rows += [(f"share, {name}", f"{share:.0%}") for name, share in shares(found.mean)]
    rows += [("doubt", f"{limit.words}.") for limit in found.mean.broken]
    rows.append(
        (
            "to know",
            "Other tangents, another heating rate: the transition moves by some degrees.",
        )
    )
    return rows


_SHORT = {
    "cold_length": "length, cold",
    "elongation": "elongation",
    "start_temperature": "start",
    "end_temperature": "end",
    "rod_expansion": "rod",
    "analyser": "turn",
    "wavelength": "wavelength",
    "path": "path",
    "stress_optic": "coefficient",
    "te_first": "along, line 1",
    "te_second": "along, line 2",
    "tm_first": "across, line 1",
    "tm_second": "across, line 2",
    "index_scale": "scale",
}


def balance_verdict(found: ProfileBalance, system: System) -> str:
    """Say in six to ten words whether a profile balances."""
    if found.balanced:
        return "The profile balances, as far as it was read"
    return "This profile does not balance: something is off"


def balance_sentence(found: ProfileBalance, system: System = "metric") -> str:
    """Say what is left over of a profile, and what that tells of."""
    half = precise(found.expanded, "stress", system, 2)
    left = f"{precise(found.mean, 'stress', system)} ± {half}"
    if found.balanced:
        return f"Mean stress {left}, {found.level:.0%} interval: zero lies within."
    return (
        f"Mean stress {left}, {found.level:.0%} interval, and a pane must have zero. "
        "See the zero of the instrument, the depths, and the coefficient."
    )


def balance_numbers(found: ProfileBalance, system: System = "metric") -> Numbers:
    """Return label and text of what a profile shows, and what a shift of its zero would."""
    skin = (found.stress[0] + found.stress[-1]) / 2
    core = found.stress.max()
    rows = [
        ("left over", precise(found.mean, "stress", system)),
        ("explained by the readings", f"± {precise(found.expanded, 'stress', system, 2)}"),
        ("both faces, mean as read", precise(skin, "stress", system)),
        ("largest tension as read", precise(core, "stress", system)),
    ]
    if not found.balanced:
        rows.append(
            (
                "if the zero alone is off",
                f"faces {precise(skin - found.mean, 'stress', system)}, "
                f"core {precise(core - found.mean, 'stress', system)}",
            )
        )
    return rows


def shares(found: Reduction) -> list[tuple[str, float]]:
    """Return what makes a result unsure, and its share of the variance [-]."""
    return [
        (_SHORT[name], float(share))
        for name, share in zip(found.budget.names, found.budget.shares, strict=True)
        if name in _SHORT  # an order is right or wrong: no tolerance tells
    ]


def _stress(found: Reduction, system: System) -> str:
    half = precise(found.budget.expanded(), "stress", system, 2)
    return f"{precise(found.value, 'stress', system)} ± {half}"


def light_verdict(found: Reduction, system: System) -> str:
    """Say a stress read by light with its interval."""
    if METHODS[found.method].signed:
        side = "tension" if found.value > 0 else "compression"
        return f"Stress {_stress(found, system)}: {side}"
    return f"Surface compression {_stress(found, system)}"


def light_sentence(found: Reduction, system: System = "metric") -> str:
    """Say a stress read by light, how sure it is, and what makes it unsure."""
    name, share = max(shares(found), key=lambda pair: pair[1])
    return f"{light_verdict(found, system)}, 95% interval. Most unsure: {name}, {share:.0%}."


def light_numbers(found: Reduction, system: System = "metric") -> Numbers:
    """Return label and text of a stress read by light, its budget, and what is in none."""
    rows = [("95% interval", _ends(tuple(found.budget.interval().tolist()), "stress", system))]
    rows += [
        (words, precise(value, "stress", system)) for words, value in other_readings(found)
    ]
    rows += [(f"share, {name}", f"{share:.0%}") for name, share in shares(found)]
    return rows + [("doubt", f"{limit.words}.") for limit in found.broken]


def other_readings(found: Reduction) -> list[tuple[str, float]]:
    """Return what the same dark fringe gives if it was read in a usual wrong way [Pa]."""
    given = {name: item.value for name, item in found.inputs.items()}
    if found.method == "analyser_turn":
        changed = {
            "if the order is one less": {"fringes": given["fringes"] - 1},
            "if the order is one more": {"fringes": given["fringes"] + 1},
            "if the turn was the other way": {"analyser": -given["analyser"]},
        }
        return [
            (words, analyser_stress(**{**given, **new}).item())
            for words, new in changed.items()
        ]
    first = (
        given["index_scale"] * (given["te_first"] - given["tm_first"]) / given["stress_optic"]
    )
    return [("if the first line is taken for the surface", first.item())]
