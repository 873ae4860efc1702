# SPDX-License-Identifier: MIT
"""Say what a series of drops, a set of mirrors, a lot or a trend shows, and how sure it is."""

import numpy as np

from glasskit.lab import (
    Gauge,
    Lasting,
    LotGrade,
    MirrorSet,
    PowerLine,
    Reduction,
    UpAndDown,
)
from glasskit.quantities import System, precise, show_number
from glasskit.strength import ProofPlan
from glasskit.words.clock import time_words

Numbers = list[tuple[str, str]]


def between(low: float, high: float, kind: str, system: System) -> str:
    """Write an interval; an end that the data leave open is said to be open.

    Examples
    --------
    >>> between(0.3, 0.45, "height", "metric"), between(0.3, np.inf, "height", "metric")
    ('0.300 m to 0.450 m', '0.300 m to no limit')

    """
    ends = [
        precise(end, kind, system) if np.isfinite(end) else "no limit" for end in (low, high)
    ]
    return " to ".join(ends)


def drops_verdict(found: UpAndDown, system: System) -> str:
    """Say in six to ten words what a series of drops shows."""
    return f"Half of such specimens break from {precise(found.half, 'height', system)}"


def drops_sentence(found: UpAndDown, system: System = "metric") -> str:
    """Say from where half break, how sure that is, and what it does not mean."""
    low, high = found.interval
    tail = (
        f"At the lower end about {found.chance(low).item():.0%} still break: "
        "it is no safe height."
        if low > 0
        else "No lower limit is known: no height here is safe."
    )
    return (
        f"Half of such specimens break from {precise(found.half, 'height', system)}. "
        f"{found.found.level:.0%} interval: {between(low, high, 'height', system)}. {tail}"
    )


def drops_numbers(found: UpAndDown, system: System = "metric") -> Numbers:
    """Return label and text of what a series of drops gives."""
    low, high = found.interval
    spread, ends = found.found.spread, found.found.spread_interval
    if found.by_factor:
        factors = [show_number(np.exp(one).item(), 3) if one < 5 else "open" for one in ends]
        scatter = f"factor {show_number(np.exp(spread).item(), 3)} ({' to '.join(factors)})"
    else:
        around = between(ends[0], ends[1], "height", system)
        scatter = f"{precise(spread, 'height', system)} ({around})"
    count = found.broke.size
    rows = [
        ("half break from", precise(found.half, "height", system)),
        (f"its {found.found.level:.0%} interval", between(low, high, "height", system)),
        ("spread between specimens", scatter),
        ("drops", f"{count}, of which {found.broke.sum()} broke"),
    ]
    if found.by_hand is not None and found.half_by_hand is not None:
        held = found.by_hand.mean_coverage
        rows.append(
            (
                "the sum done by hand",
                f"{precise(found.half_by_hand, 'height', system)}; its own interval would "
                f"hold the truth in {held:.0%} of such series, not in {found.found.level:.0%}",
            )
        )
    return rows + [("doubt", f"{said}.") for said in found.found.cautions]


def mirrors_verdict(found: MirrorSet, system: System) -> str:
    """Say in six to ten words what the mirrors show."""
    squeeze = found.likely.compression.item()
    low, high = found.likely.interval
    if low <= 0 <= high:
        return "The mirrors show no squeeze that chance could not"
    return f"The mirrors tell of {precise(squeeze, 'stress', system)} squeeze at the surface"


def mirrors_sentence(found: MirrorSet, system: System = "metric") -> str:
    """Say what compression the mirrors tell of, and how sure that is."""
    low, high = found.likely.interval
    squeeze = precise(found.likely.compression, "stress", system)
    constant = precise(found.likely.constant, "toughness", system)
    least = precise(low, "stress", system) if np.isfinite(low) else "no limit"
    return (
        f"{found.stress.size} mirrors: surface compression {squeeze}, "
        f"{found.likely.level:.0%} interval {least} to {precise(high, 'stress', system)}. "
        f"Mirror constant {constant}."
    )


def mirrors_numbers(found: MirrorSet, system: System = "metric") -> Numbers:
    """Return label and text of what a set of mirrors gives."""
    low, high = found.likely.interval
    rows = [
        ("surface compression", precise(found.likely.compression, "stress", system)),
        (f"its {found.likely.level:.0%} interval", between(low, high, "stress", system)),
        ("mirror constant", precise(found.likely.constant, "toughness", system)),
        ("scatter of a radius", f"{show_number(200 * found.likely.scatter.item(), 2)}%"),
        (
            "usual straight line",
            f"{precise(found.line.compression, 'stress', system)}: for comparison only",
        ),
    ]
    if low <= 0 <= high:
        rows.append(("doubt", "plain glass would show as much: the interval holds zero."))
    if found.stress.max() < 1.3 * found.stress.min():
        rows.append(
            ("doubt", "the stresses hardly differ: break some more, weaker or stronger.")
        )
    return rows


def lot_verdict(found: LotGrade, system: System) -> str:
    """Say in six to ten words which class a lot is in."""
    name = max(found.odds, key=lambda key: found.odds[key])
    sure = "most likely" if found.odds[name] < 0.95 else "very likely"
    return f"The mean of this lot is {sure} {name}"


def lot_sentence(found: LotGrade, system: System = "metric") -> str:
    """Say the mean of a lot, how sure it is, and the odds of its class."""
    name = max(found.odds, key=lambda key: found.odds[key])
    return (
        f"Mean of {found.readings.size} pieces: {precise(found.mean, 'stress', system)}, "
        f"{found.level:.0%} interval {between(*found.interval, 'stress', system)}. "
        f"Odds that the mean is {name}: {_odds(found.odds[name])}."
    )


def _odds(chance: float) -> str:
    """Write a chance without claiming certainty.

    Examples
    --------
    >>> _odds(0.842), _odds(0.9999), _odds(1e-4)
    ('84%', 'over 99%', 'under 1%')

    """
    if chance > 0.995:
        return "over 99%"
    return f"{chance:.0%}" if chance >= 0.005 else "under 1%"


def lot_numbers(found: LotGrade, system: System = "metric") -> Numbers:
    """Return label and text of the odds of each class, and of the pieces."""
    rows = [
        ("mean", precise(found.mean, "stress", system)),
        (f"its {found.level:.0%} interval", between(*found.interval, "stress", system)),
        (
            "standard uncertainty",
            f"{precise(found.standard_uncertainty, 'stress', system, 2)}, instrument included",
        ),
    ]
    rows += [
        (f"odds of {name}", _odds(chance))
        for name, chance in found.odds.items()
        if chance > 1e-6
    ]
    pieces = "; ".join(f"{count} {name}" for name, count in found.classes.items())
    return [*rows, ("pieces as read", pieces)]


def trend_verdict(found: PowerLine, system: System) -> str:
    """Say in six to ten words whether strength goes with a factor."""
    low, high = found.interval
    if low <= 0 <= high:
        return "No trend is shown; one may be there"
    return f"Strength {'rises' if found.power > 0 else 'falls'} as the size grows"


def trend_sentence(found: PowerLine, system: System = "metric") -> str:
    """Say what twice the size does, how sure that is, and whether it is a finding."""
    low, high = (100 * (2**power - 1) for power in found.interval)
    low, high = sorted((low, high))
    middle = 100 * (2**found.power - 1)
    finding = (
        "No finding, and no proof of none."
        if found.interval[0] <= 0 <= found.interval[1]
        else "More than chance explains."
    )
    return (
        f"Twice the size changes the strength by {_percent(middle)}; "
        f"{found.level:.0%} interval {_percent(low)} to {_percent(high)}. {finding}"
    )


def _percent(value: float) -> str:
    """Write a signed change in percent.

    Examples
    --------
    >>> _percent(-6.53), _percent(123.4)
    ('−6.5%', '+123%')

    """
    sign = "−" if value < 0 else "+"
    return f"{sign}{show_number(abs(value), 2 if abs(value) < 100 else 3)}%"


def trend_numbers(found: PowerLine, system: System = "metric") -> Numbers:
    """Return label and text of a trend."""
    low, high = (show_number(end, 2) for end in found.interval)
    rows = [
        ("power of the size", show_number(found.power, 2)),
        (f"its {found.level:.0%} interval", f"{low} to {high}"),
        ("specimens", str(found.factor.size)),
    ]
    if found.interval[1] < 0:
        ends = " to ".join(show_number(-1 / end, 2) for end in found.interval)
        rows.append(("flaws along the size would have the modulus", ends))
    if found.factor.size < 15:
        rows.append(("doubt", "below 15 specimens the interval is rough."))
    return rows


def fatigue_verdict(asked: Lasting, system: System) -> str:
    """Say in six to ten words what strengths at several rates show."""
    low, high = asked.found.interval
    if not np.isfinite(high):
        return "These rates do not tell how fast flaws creep"
    return f"Flaws creep with the power {show_number(low, 2)} to {show_number(high, 2)}"


def fatigue_sentence(asked: Lasting, system: System = "metric") -> str:
    """Say the exponent, how sure it is, and how long a steady stress is borne."""
    found = asked.found
    low, high = found.interval
    if not np.isfinite(high):
        return (
            f"Exponent at least {show_number(low, 2)}: no upper limit. "
            "Strength does not clearly rise with the rate; test more, or rates further apart."
        )
    middle, early, late = found.life(asked.steady)
    return (
        f"Exponent n = {show_number(found.exponent, 3)}, {found.level:.0%} interval "
        f"{show_number(low, 2)} to {show_number(high, 2)}. "
        f"Under a steady stress of {precise(asked.steady, 'stress', system)} half last about "
        f"{time_words(middle)}; {found.level:.0%} interval {time_words(early)} to "
        f"{time_words(late)}."
    )


def fatigue_numbers(asked: Lasting, system: System = "metric") -> Numbers:
    """Return label and text of what strengths at several rates give."""
    found = asked.found
    low, high = found.interval
    ends = [show_number(end, 2) if np.isfinite(end) else "no limit" for end in (low, high)]
    gain = 100 * (10**found.line.power - 1)
    rows = [
        ("exponent n", show_number(found.exponent, 3) if np.isfinite(high) else "not known"),
        (f"its {found.level:.0%} interval", " to ".join(ends)),
        ("ten times the rate gives", _percent(gain)),
        (
            f"strength at {precise(1e6, 'stress', system)} each second, D",
            precise(found.line.at(1e6), "stress", system),
        ),
        ("specimens, rates", f"{found.line.factor.size}, {found.rates}"),
    ]
    if asked.inert > 0 and np.isfinite(high):
        constant = found.creep_constant(asked.inert) / 1e12
        rows.append(("B of the standard", f"{constant:.2g} MPa² s"))
    if asked.inert and asked.inert < found.line.strengths.max():
        rows.append(("doubt", "a test was stronger than the strength without creep."))
    if found.rates < 4 or found.line.factor.size < 10 * found.rates:
        rows.append(("doubt", "the standard asks for four rates or more, ten bars each."))
    if asked.steady < 0.5 * found.line.strengths.min():
        rows.append(("doubt", "far below every test: creep may stop, or another law rule."))
    return rows


def proof_verdict(plan: ProofPlan, system: System) -> str:
    """Say in six to ten words what a proof test costs and brings."""
    if plan.proof_stress <= plan.stress:
        return "A proof below the service stress promises nothing"
    return f"The proof breaks {_odds(plan.lost)}; the rest bear the service stress at once"


def proof_sentence(plan: ProofPlan, system: System = "metric") -> str:
    """Say what breaks in the test, what is left to fear, and for how long that holds."""
    if plan.proof_stress <= plan.stress:
        after = (
            f"Of those that pass, {_odds(plan.after)} still break at once under "
            f"{precise(plan.stress, 'stress', system)}: the proof must lie above it."
        )
    else:
        after = (
            f"Those that pass bear {precise(plan.stress, 'stress', system)} at once, and "
            f"{_while(plan.life)} if the test did no harm."
        )
    return f"The test breaks {_odds(plan.lost)} of the panes. {after}"


def _while(life: float) -> str:
    """Write how long a steady stress is borne at least.

    Examples
    --------
    >>> _while(7200.0), _while(np.inf), _while(0.0)
    ('for 2 hours at least', 'without end, by this law of creep', 'not for a second')

    """
    if life < 0.95:
        return "not for a second"
    if not np.isfinite(life):
        return "without end, by this law of creep"
    return f"for {time_words(life)} at least"


def proof_numbers(plan: ProofPlan, system: System = "metric") -> Numbers:
    """Return label and text of what a proof test costs and promises."""
    return [
        ("breaks in the test", _odds(plan.lost)),
        ("untested, breaks in service at once", _odds(plan.before)),
        ("passed, breaks in service at once", _odds(plan.after) if plan.after else "none"),
        ("what passed bears it", _while(plan.life)),
        ("proof over service stress", show_number(plan.proof_stress / plan.stress, 3)),
    ]


def gauge_shares(found: Gauge) -> list[tuple[str, float]]:
    """Return what makes readings differ, and its share of the variance [-]."""
    parts = [
        ("one hand, twice", found.repeatability),
        ("hand to hand", found.reproducibility),
        ("piece to piece", found.pieces),
    ]
    total = sum(spread**2 for _, spread in parts) or 1.0
    return [(name, spread**2 / total) for name, spread in parts]


def gauge_verdict(found: Gauge, system: System) -> str:
    """Say in six to ten words which part of a gauge's scatter is the largest."""
    if found.reproducibility > found.repeatability:
        return "Who reads matters more than reading it twice"
    return "Reading it twice matters more than who reads"


def gauge_sentence(found: Gauge, system: System = "metric") -> str:
    """Say how unsure one reading is, and what makes it so."""
    hands, pieces, often = found.readings.shape
    return (
        f"{hands} people read {pieces} pieces, {often} times each. One reading by anybody is "
        f"good to {precise(found.combined, 'thickness', system, 2)} (standard deviation). "
        f"The same hand repeats to {precise(found.repeatability, 'thickness', system, 2)}; "
        f"hands differ by {precise(found.reproducibility, 'thickness', system, 2)}."
    )


def gauge_numbers(found: Gauge, system: System = "metric") -> Numbers:
    """Return label and text of what a study of a gauge gives."""
    rows = [
        ("repeatability", precise(found.repeatability, "thickness", system, 2)),
        ("reproducibility", precise(found.reproducibility, "thickness", system, 2)),
        ("one reading, both", precise(found.combined, "thickness", system, 2)),
        ("its degrees of freedom", show_number(found.degrees, 2)),
        ("pieces scatter by", precise(found.pieces, "thickness", system, 2)),
    ]
    rows += [(f"share, {name}", f"{share:.0%}") for name, share in gauge_shares(found)]
    if found.combined > 0.3 * found.pieces:
        rows.append(("doubt", "the gauge hides a good part of how the pieces differ."))
    if found.readings.shape[0] < 5:
        rows.append(("doubt", "few hands: how they differ is hardly known."))
    return rows


_READ = {
    "mass": "weight in air",
    "immersed": "weight in water",
    "temperature": "temperature of the water",
    "air": "density of the air",
}


def density_shares(found: Reduction) -> list[tuple[str, float]]:
    """Return what makes a density unsure, and its share of the variance [-]."""
    return [
        (_READ[name], float(share))
        for name, share in zip(found.budget.names, found.budget.shares, strict=True)
    ]


def _density(found: Reduction, system: System) -> str:
    half = precise(found.budget.expanded(), "density", system, 2)
    return f"{precise(found.value, 'density', system, 5)} ± {half}"


def density_verdict(found: Reduction, system: System) -> str:
    """Say a density with its interval."""
    return f"Density {_density(found, system)}"


def density_sentence(found: Reduction, system: System = "metric") -> str:
    """Say a density, how sure it is, and what makes it unsure."""
    name, share = max(density_shares(found), key=lambda pair: pair[1])
    said = f"Density {_density(found, system)}, 95% interval. "
    return said + f"The {name} makes {share:.0%} of the variance."


def density_numbers(found: Reduction, system: System = "metric") -> Numbers:
    """Return label and text of a density and its budget."""
    low, high = found.budget.interval()
    ends = [precise(end, "density", system, 5) for end in (low, high)]
    rows = [
        ("density", precise(found.value, "density", system, 5)),
        ("its 95% interval", " to ".join(ends)),
    ]
    rows += [(f"share, {name}", f"{share:.0%}") for name, share in density_shares(found)]
    return rows + [("doubt", f"{limit.words}.") for limit in found.broken]
