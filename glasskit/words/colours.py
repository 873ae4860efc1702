# SPDX-License-Identifier: MIT
"""Say what lag and stress the colours of a photograph stand for, and how sure that is."""

from glasskit.light.polariscope import WAVE
from glasskit.measured import ColourStress, EdgeLine
from glasskit.plates import plate
from glasskit.quantities import System, show, show_number
from glasskit.words.light import colour_name
from glasskit.words.sure import between

TOUGHENED = 69e6
"""Squeeze from which a pane counts as fully tempered [ASTMC1048] [Pa]."""

_PLANNED = plate("window pane, quenched")["squeeze"]


def _lagging(lag: float, system: System) -> str:
    """Write a lag with its order and colour."""
    order = show_number(lag / WAVE, 2)
    return f"{show(lag, 'nanometre', system)}, order {order}, {colour_name(lag)}"


def _either(lags: tuple[float, ...], kind: str, system: System) -> str:
    said = [show(lag, kind, system, 2) for lag in lags]
    return " or ".join([", ".join(said[:-1]), said[-1]]) if len(said) > 1 else said[0]


def read_verdict(result: ColourStress, system: System) -> str:
    """Say in six to ten words what was read."""
    said = show(result.stress, "stress", system)
    if isinstance(result.found, EdgeLine):
        return f"By its colours the skin is squeezed by {said}"
    if len(result.lags.others) > 1:
        return f"The order is open: {len(result.lags.others)} stresses fit these colours"
    return f"By its colours the largest stress difference is {said}"


def read_sentence(result: ColourStress, system: System) -> str:
    """Say stress, interval and what they rest on."""
    low, high = result.interval
    sure = f"95% interval: {between(low, high, 'stress', system)}."
    said = show(result.stress, "stress", system)
    if isinstance(result.found, EdgeLine):
        core = _lagging(result.found.core, system)
        return (
            f"The skin is squeezed by {said}. {sure} In the middle of the core one wave lags "
            f"by {core}; at the faces by twice as much. {_classed(low, high, system)}"
        )
    if len(result.lags.others) > 1:
        lags = _either(result.lags.others, "nanometre", system)
        stresses = _either(result.others, "stress", system)
        return (
            f"No place on the line is dark, so the order is open. The largest lag may be "
            f"{lags}. That stands for {stresses}. Let the line cross a dark place."
        )
    lag = _lagging(result.lag, system)
    return (
        f"At most one wave lags by {lag}. That stands for a stress difference of {said}. "
        f"{sure} Colours do not tell squeeze from pull."
    )


def _classed(low: float, high: float, system: System) -> str:
    """Say on which side of the limit for toughened glass the interval lies."""
    limit = show(TOUGHENED, "stress", system, 2)
    if low >= TOUGHENED:
        return f"That is above the {limit} from which a pane counts as fully tempered."
    if high < TOUGHENED:
        return f"That is below the {limit} from which a pane counts as fully tempered."
    return f"The {limit} from which a pane counts as fully tempered lie within."


def read_numbers(result: ColourStress, system: System) -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    edge = isinstance(result.found, EdgeLine)
    optic = result.glass.values["stress_optic"]
    low, high = result.interval
    lag = 1.96 * result.lag_uncertainty
    flat = (optic.high - optic.low) / (2 * 3**0.5) / optic.value
    named = "squeeze at the faces" if edge else "largest stress difference"
    found = f"{show(result.stress, 'stress', system)} ({between(low, high, 'stress', system)})"
    rows = [(named, found)]
    if len(result.lags.others) > 1:
        rows = [("stresses that fit", _either(result.others, "stress", system))]
    rows += [
        (
            "lag at the faces" if edge else "largest lag",
            f"{_lagging(result.lag, system)} (± {show(lag, 'nanometre', system, 2)})",
        ),
        (
            "share in the doubt: reading, path, coefficient",
            ", ".join(
                show(part, "percent", digits=2)
                for part in (
                    result.lag_uncertainty / result.lag,
                    result.spread / result.path,
                    flat,
                )
            ),
        ),
        ("stress for one order along this path", _order(result, system)),
        (
            "stress-optic coefficient, published",
            f"{optic.value * 1e12:g} (from {optic.low * 1e12:g} to {optic.high * 1e12:g}) "
            "per TPa",
        ),
    ]
    if isinstance(result.found, EdgeLine):
        first, last = result.found.faces
        rows += [
            (
                "thickness that the parabola spans, of the line",
                show(last - first, "percent", digits=3),
            ),
            ("stress that pulls the core", show(result.stress / 2, "stress", system)),
            ("planner's quenched pane", show(_PLANNED, "stress", system)),
        ]
    return rows


def _order(result: ColourStress, system: System) -> str:
    return show(WAVE / (result.glass.stress_optic * result.path), "stress", system)
