# SPDX-License-Identifier: MIT
"""Say what a series of specimens shows, how sure it is, and where it left the rules."""

import numpy as np

from glasskit.lab import FEWEST, METHODS, Outcome, Series
from glasskit.quantities import System, show, show_number
from glasskit.strength import sample_size

_WANTED = 30  # specimens from which a modulus is of use for design; common practice


def words_of(name: str) -> str:
    """Return the name of a reading as a reader writes it."""
    return name.replace("_", " ")


def outcome_sentence(outcome: Outcome, system: System = "metric") -> str:
    """Say in one or two sentences what the series shows."""
    kind = METHODS[outcome.method].kind
    mean = outcome.mean
    count = len(outcome.records)
    low, high = np.quantile(outcome.reduction.value, [0, 1])
    said = (
        f"{count} specimens, {METHODS[outcome.method].title}: mean "
        f"{show(mean.value, kind, system)}, from {show(low, kind, system)} to "
        f"{show(high, kind, system)}."
    )
    if len(outcome.fits) > 1:
        said += " They broke from more than one kind of flaw: one mean describes none of them."
    return said


def result_rows(
    outcome: Outcome, system: System = "metric"
) -> list[tuple[str, str, str, str]]:
    """Return name, breaks, modulus and scale of each fitted origin, with 95% limits."""
    rows = []
    for name, fit in outcome.fits.items():
        low, high = fit.interval()
        below, above = fit.scale_interval()
        rows.append(
            (
                name,
                f"{fit.failures:.0f} of {len(outcome.records)}",
                f"{show_number(fit.modulus.item(), 2)} "
                f"({show_number(low, 2)} to {show_number(high, 2)})",
                f"{show(fit.scale, 'stress', system)} ({show(below, 'stress', system)} to "
                f"{show(above, 'stress', system)})",
            )
        )
    return rows


def budget_rows(outcome: Outcome) -> list[tuple[str, str, str]]:
    """Return one row for each uncertain input: name, typical size, share of the variance.

    Sizes are standard uncertainties relative to the reading, of the middle specimen.
    """
    found = outcome.reduction.budget
    middle = np.argsort(found.value)[found.value.size // 2]
    rows = []
    for place, name in enumerate(found.names):
        item = outcome.reduction.inputs[name]
        value, spread = (
            np.broadcast_to(part, found.value.shape)[middle]
            for part in (item.value, item.uncertainty)
        )
        if spread > 0:
            size = show(spread / abs(value), "percent", digits=2) if value else "absolute"
            share = show(found.shares[middle, place], "percent", digits=2)
            rows.append((words_of(name), size, share))
    return rows


def deviations(outcome: Outcome) -> list[str]:
    """List in words all that a supervisor must know before signing."""
    said = [f"Line {item.line} set aside: {item.words}." for item in outcome.troubles]
    names = np.array([record.specimen for record in outcome.records])
    for broken in outcome.reduction.broken:
        which = names[np.broadcast_to(broken.where, names.shape)]
        said.append(f"Limit of the method: {broken.words} ({', '.join(which)}).")
    said += [
        f"{words_of(name).capitalize()}: no tolerance was stated, so it counts as exact."
        for name in outcome.untold
    ]
    said += _on_origins(outcome)
    return said


def _on_origins(outcome: Outcome) -> list[str]:
    counts, fits = outcome.origins, outcome.fits
    said = []
    if counts.get("unknown"):
        said.append(f"Origin unknown, counted as censored: {counts['unknown']}.")
    rare = [name for name, many in counts.items() if name != "unknown" and many < FEWEST]
    if rare and METHODS[outcome.method].kind == "stress":
        said.append(
            f"Fewer than {FEWEST} breaks from {', '.join(rare)}: censored, not fitted."
        )
    for name, fit in fits.items():
        if fit.failures < _WANTED:
            low, high = fit.interval(0.9)
            need = sample_size(1.2**2).item()
            said.append(
                f"{name.capitalize()}: {fit.failures:.0f} breaks leave the modulus open from "
                f"{show_number(low, 2)} to {show_number(high, 2)} (90%); a fifth either way "
                f"takes {need:.0f}."
            )
    return said


def outcome_numbers(outcome: Outcome, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of fits, budget, and what to read before signing."""
    rows = [
        (f"broke from {name}", f"{breaks}; modulus {modulus}; 63% broken at {scale}")
        for name, breaks, modulus, scale in result_rows(outcome, system)
    ]
    rows += [
        (f"{name} good to", f"{size}, {share} of the variance")
        for name, size, share in budget_rows(outcome)
    ]
    beyond = deviations(outcome)[len(outcome.troubles) :]  # those stand beside the text
    return rows + [("read before signing", said) for said in beyond]


def aside_sentence(series: Series) -> str:
    """Say how many lines of a file are used and how many are set aside."""
    used, left = len(series.records), len(series.troubles)
    remarks = len(series.remarks)
    taken = f" {remarks} begin with # and are taken for remarks." if remarks else ""
    if not left:
        return f"All {used} lines are used.{taken}"
    total = used + left
    return f"{used} of {total} lines are used.{taken} {left} set aside, each with its reason:"


def outcome_verdict(outcome: Outcome, system: System) -> str:
    """Say in six to ten words what the series shows."""
    if len(outcome.fits) > 1:
        return "Several kinds of flaw: one mean describes none"
    mean = show(outcome.mean.value, METHODS[outcome.method].kind, system)
    return f"The mean of {len(outcome.records)} specimens is {mean}"
