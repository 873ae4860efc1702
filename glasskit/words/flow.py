# SPDX-License-Identifier: MIT
"""Say how long glass takes to flow, in times that people know."""

import numpy as np
from scipy.constants import Julian_year, day, hour, minute

from glasskit.materials import FlowState, flow, melt
from glasskit.quantities import System, show, show_number
from glasskit.words.tables import SURE, markdown

LANDMARKS = {
    "a second": 1.0,
    "a day": day,
    "since the first glass": 4000 * Julian_year,
    "age of the universe": 13.8e9 * Julian_year,
}
_CLOCK = {
    "years": Julian_year,
    "days": day,
    "hours": hour,
    "minutes": minute,
    "s": 1.0,
    "ms": 1e-3,
    "µs": 1e-6,
    "ns": 1e-9,
}
_MILLENNIUM = 1000 * Julian_year
_HEIGHT, _PANE = 1.0, 3e-3  # [m], an old pane


def duration(time: float) -> str:
    """Write a time in the unit that suits it.

    Examples
    --------
    >>> duration(3e-3), duration(7200.0), duration(3.2e10), duration(1e40)
    ('3 ms', '2 hours', '1000 years', '10³³ years')

    """
    if time >= 1e6 * Julian_year:
        return f"10{_raised(np.log10(time / Julian_year))} years"
    unit, size = next((pair for pair in _CLOCK.items() if time >= pair[1]), ("ns", 1e-9))
    return f"{float(f'{time / size:.2g}'):g} {unit}"


def sentence(state: FlowState, system: System = "metric") -> str:
    """Say in one sentence what the glass does at this temperature.

    Examples
    --------
    >>> sentence(FlowState(glass="window", temperature=995.15))
    'At 722 °C window glass sags under its own weight: a stress in it fades in 130 µs.'

    """
    heat = show(state.temperature, "temperature", system)
    name = melt(state.glass).label
    fades = duration(state.relaxation_time)
    if not state.frozen:
        doing = "sags under its own weight" if state.viscosity < 1e9 else "yields slowly"
        return f"At {heat} {name} {doing}: a stress in it fades in {fades}."
    if state.relaxation_time < 100 * Julian_year:
        return f"At {heat} {name} is solid to the hand, yet a stress in it fades in {fades}."
    return (
        f"At {heat} {name} is a solid: a stress in it would take about {fades} to fade, and "
        "nobody can say to within many powers of ten."
    )


def numbers(state: FlowState, system: System = "metric") -> list[tuple[str, str]]:
    """Return viscosity, relaxation time and what an old pane did, label and text."""
    grown = flow.thickening(_MILLENNIUM, state.viscosity, _HEIGHT, _PANE).item()
    liquid = state.equilibrium
    equilibrium = (
        f"{show_number(liquid, 2)} Pa·s" if np.isfinite(liquid) else "no meaning here"
    )
    law = melt(state.glass)
    size = show(_PANE, "thickness", system)
    return [
        ("viscosity", f"{show_number(state.viscosity, 2)} Pa·s"),
        ("viscosity of a liquid in equilibrium", equilibrium),
        ("a stress fades to 37% in", duration(state.relaxation_time)),
        (
            f"foot of a {size} pane grows in 1000 years by",
            "more than itself: it runs down" if grown > _PANE else _grown(grown, system),
        ),
        ("constants of this glass", SURE[law.status]),
    ]


def estimate_table() -> str:
    """Return the published estimates for room temperature as a Markdown table."""
    rows = (
        [
            row.source,
            row.meaning,
            f"about 10{_raised(np.log10(row.viscosity))} Pa·s" if row.flows else "not flow",
            duration(row.relaxation_time),
            row.reason,
            SURE[row.status],
        ]
        for row in flow.flow_estimates()
    )
    head = ["source", "what it is", "viscosity", "a stress fades in", "why", "how sure"]
    return markdown(head, rows)


def _grown(growth: float, system: System) -> str:
    if growth < 1e-13:
        return "less than a thousandth of an atom"
    return show(growth, "thickness" if growth > 1e-6 else "nanometre", system, 2)


def _raised(power: float) -> str:
    return str(round(power)).translate(str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹"))


def flow_verdict(state: FlowState, system: System) -> str:
    """Say in six to ten words whether the glass flows at this temperature."""
    fades = duration(state.relaxation_time)
    if not state.frozen:
        heat = show(state.temperature, "temperature", system)
        way = (
            "sags under its own weight" if state.viscosity < 1e9 else "yields, but only slowly"
        )
        return f"At {heat} it {way}"
    if state.relaxation_time < 100 * Julian_year:
        return f"Solid to the hand, yet stress fades in {fades}"
    return f"A solid: a stress takes {fades} to fade"
