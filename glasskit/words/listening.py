# SPDX-License-Identifier: MIT
"""Say what was heard: a ball that bounces, and something that rings."""

import numpy as np

from glasskit.lab import Budget
from glasskit.materials import Body, glass
from glasskit.measured import Bounced, Rung, Tapped
from glasskit.quantities import FloatArray, System, show, show_number, to_display, unit

_GLASSES = {
    "soda-lime": "window glass",
    "aluminosilicate": "cover glass",
    "borosilicate": "laboratory glass",
    "fused silica": "quartz glass",
}
_READINGS = {
    "mass": "the mass",
    "length": "the length",
    "width": "the width",
    "thickness": "the thickness",
    "poisson": "Poisson's ratio",
    "air": "the air that swings along",
    "support": "what it lies on",
    "modulus": "the stiffness of the glass",
    "density": "the density of the glass",
}


def glass_words(name: str) -> str:
    """Name a glass as a passer-by would."""
    return _GLASSES.get(name, name)


def span(ends: FloatArray, kind: str, system: System, digits: int = 3) -> str:
    """Write two ends with one unit, such as "0.82 to 0.86"."""
    low, high = (show_number(to_display(end, kind, system).item(), digits) for end in ends)
    return f"{low} to {high} {unit(kind, system).symbol}".rstrip().replace(" %", "%")


# --- bounces --------------------------------------------------------------------------------


def bounce_verdict(result: Bounced, system: System) -> str:
    """Say in a few words how much speed the ball keeps, and what was predicted."""
    kept = show(result.heard.restitution, "percent", system, 2)
    told = show(result.pane_mean, "percent", system, 2)
    return f"The ball keeps {kept} of its speed; {told} is predicted"


def bounce_sentence(result: Bounced, system: System = "metric") -> str:
    """Say what the clicks tell, and whether it is what was predicted for ball and pane."""
    heard = result.heard
    kept = show(heard.restitution, "percent", system, 2)
    ends = span(heard.interval, "percent", system, 2)
    energy = show(heard.restitution**2, "percent", system, 2)
    bounces = "bounce tells" if heard.each.size == 1 else "bounces tell"
    said = [
        f"{heard.each.size} {bounces}: the ball keeps {kept} of its speed, {ends} 95 times in "
        f"100. So {energy} of its energy comes back each time.",
        _compared(result, system),
    ]
    if not heard.fall_given:
        fall = show(heard.fall, "height", system, 2)
        reach = span(heard.fall_interval, "height", system, 2)
        said.append(f"By that it first fell {fall}, {reach} 95 times in 100.")
    limit = glass("soda-lime").values["practical_strength"].low
    if result.pull > 0.5 * limit:
        pull, low = (show(stress, "stress", system, 2) for stress in (result.pull, limit))
        said.append(
            f"Take care: the first blow pulls the far face with a stress of {pull}. "
            f"Weathered panes bear {low} on average, many less."
        )
    return " ".join(said)


def _compared(result: Bounced, system: System) -> str:
    told = show(result.pane_mean, "percent", system, 2)
    low, high = result.heard.interval
    start = f"For this ball on this pane {told} is predicted:"
    if low - 0.03 <= result.pane_mean <= high + 0.03:  # good to some hundredths
        return f"{start} waves in the pane carry off what is missing."
    if result.pane_mean < low:
        return f"{start} less than was heard. Is the pane thicker, or does it lie flat?"
    return f"{start} more than was heard. Is the pane thinner, or does the ball spin or dent?"


def bounce_numbers(result: Bounced, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    heard = result.heard
    speeds = np.array([heard.speeds.min(), heard.speeds.max()])
    fall = show(heard.fall, "height", system)
    if not heard.fall_given:
        fall = f"{fall} ({span(heard.fall_interval, 'height', system)})"
    return [
        ("clicks", str(heard.clicks.size)),
        ("first flight", show(heard.flights[0], "millitime", system)),
        ("height after the first bounce", show(heard.heights[0], "height", system)),
        ("height of the first fall", fall),
        ("speeds at touch", span(speeds, "speed", system, 2)),
        ("share of speed kept (restitution)", show_number(heard.restitution, 3)),
        ("95 times in 100", span(heard.interval, "number", system, 3)),
        ("predicted for this ball on this pane", show_number(result.pane_mean, 3)),
        ("predicted on a pane without edges", show_number(result.wide_mean, 3)),
        (
            "stress that pulls the far face at the first blow",
            show(result.pull, "stress", system, 2),
        ),
        ("mass of the ball", show(result.ball.mass, "small_mass", system, 2)),
    ]


# --- ringing --------------------------------------------------------------------------------


def ring_verdict(result: Rung, system: System) -> str:
    """Say in a few words how stiff the pitch says it is."""
    middle = show(result.modulus.value, "stiffness", system)
    half = show(result.modulus.expanded(), "stiffness", system, 2)
    return f"By its pitch it is as stiff as {middle}, give or take {half}"


def ring_sentence(result: Rung, system: System = "metric") -> str:
    """Say at what it rings, how stiff that makes it, what is least sure."""
    tapped = result.tapped
    pitch = show(result.frequencies[0], "frequency", system)
    more = result.frequencies.size - 1
    also = f" and {more} more {'pitch' if more == 1 else 'pitches'}" if more else ""
    ends = span(result.modulus.interval(), "stiffness", system)
    said = [
        f"The {tapped.shape} rings at {pitch}{also}. With its sizes and mass that makes "
        f"it as stiff as {ends}, 95 times in 100.",
        f"Most of the doubt comes from {least_sure(result.modulus)}.",
    ]
    if isinstance(result.glass, Body) and result.thickness is not None:
        name = "diameter" if tapped.shape == "rod" else "thickness"
        known = show(result.glass.modulus, "stiffness", system, 2)
        thick = span(result.thickness.interval(), "thickness", system)
        kind = glass_words(result.glass.name)
        said.append(f"If it is {kind} of {known}, its {name} is {thick}.")
    return " ".join(said)


def least_sure(budget: Budget) -> str:
    """Name the reading that makes the largest part of the doubt."""
    name = budget.names[int(np.argmax(budget.shares))]
    return _READINGS.get(name, f"the {name}")


def ring_numbers(result: Rung, system: System = "metric") -> list[tuple[str, str]]:
    """List the numbers behind the picture."""
    rows = [
        (
            f"peak {number}",
            show(result.ring.peaks[number - 1].frequency, "frequency", system, 5),
        )
        for number in result.peaks
    ]
    friction, error = result.friction, 2 * result.friction_error
    rows += [
        ("stiffness (modulus of elasticity)", show(result.modulus.value, "stiffness", system)),
        ("95 times in 100", span(result.modulus.interval(), "stiffness", system)),
    ]
    order = np.argsort(result.modulus.shares)[::-1][:4]
    rows += [
        (
            f"share of the doubt: {_READINGS.get(name, name)}",
            show(result.modulus.shares[place], "percent", system, 2),
        )
        for place in order
        if result.modulus.shares[place] > 0.005
        for name in [result.modulus.names[place]]
    ]
    if result.thickness is not None:
        thick = show(result.thickness.value, "thickness", system)
        ends = span(result.thickness.interval(), "thickness", system)
        rows.append(("thickness of a known glass", f"{thick} ({ends})"))
    per_mille = f"{1e3 * friction:.2g} ± {1e3 * error:.1g} thousandths"
    return [*rows, ("energy lost in a radian (1/Q), of glass and rest", per_mille)]


def expected_words(tapped: Tapped) -> str:
    """Say what the dashed lines of the spectrum are."""
    return f"dashed: a free {tapped.shape} of 70 GPa"
