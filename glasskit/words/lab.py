# SPDX-License-Identifier: MIT
"""Say what a series of specimens shows, how sure it is, and where it left the rules."""

from collections import Counter
from collections.abc import Container, Iterable, Mapping, Sequence

import numpy as np

from glasskit import __version__
from glasskit.lab import (
    BENCHES,
    DIFFERENCE,
    FEWEST,
    METHODS,
    RATES,
    RUN,
    UNBROKEN,
    UNKNOWN,
    Columns,
    Comparison,
    ControlChart,
    CurveResult,
    Outcome,
    Ratio,
    Record,
    Review,
    Series,
    Simulation,
    look_alikes,
    reduce,
)
from glasskit.lab.comparing import origin_of
from glasskit.quantities import FloatArray, System, precise, show_number, to_display, unit
from glasskit.strength import WeibullFit, sample_size
from glasskit.words.results import remarks_sentence

_WANTED = 30  # specimens from which a modulus is of use for design; common practice
_READ = 15  # specimens down to which the interval of kappa was counted


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
        f"{precise(mean.value, kind, system)}, from {precise(low, kind, system)} to "
        f"{precise(high, kind, system)}."
    )
    if _several(outcome):
        said += " They broke from more than one kind of flaw: one mean describes none of them."
    return said


def _several(outcome: Outcome) -> bool:
    """Tell whether more than one kind of flaw is fitted; two bounds of one are not."""
    return sum(name in outcome.origins for name in outcome.fits) > 1


def result_rows(
    outcome: Outcome, system: System = "metric"
) -> list[tuple[str, str, str, str]]:
    """Return name, breaks, modulus and scale of each fitted origin, with 95% limits."""
    rows = []
    for name, fit in outcome.fits.items():
        low, high = fit.interval()
        complete = fit.failures == len(outcome.records)  # for others the factor is too small
        unbiased = f"; {show_number(fit.unbiased_modulus.item(), 2)} unbiased"
        below, above = (precise(end, "stress", system) for end in fit.scale_interval())
        rows.append(
            (
                name,
                f"{fit.failures:.0f} of {len(outcome.records)}",
                f"{show_number(fit.modulus.item(), 2)} "
                f"({show_number(low, 2)} to {show_number(high, 2)})"
                + (unbiased if complete else ""),
                f"{precise(fit.scale, 'stress', system)} ({below} to {above})",
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
            size = precise(spread / abs(value), "percent", digits=2) if value else "absolute"
            share = precise(found.shares[middle, place], "percent", digits=2)
            rows.append((words_of(name), size, share))
    return rows


def _same(outcome: Outcome, name: str) -> bool:
    """Tell whether all specimens share a reading, to be stated once."""
    value = outcome.reduction.inputs[name].value
    others = [one.readings[name] for one in outcome.aside if name in one.readings]
    return bool((np.append(value, others) == value.flat[0]).all())


def _number(value: float, kind: str, system: System) -> str:
    """Write a reading so that a result can be computed from it again."""
    return f"{to_display(value, kind, system).item():.6g}"


def stated_rows(outcome: Outcome, system: System = "metric") -> list[tuple[str, str, str]]:
    """Return what was entered for each reading: name, value if all share it, tolerance.

    Notes that all specimens share stand below.
    """
    rows = []
    for name, reading in METHODS[outcome.method].readings.items():
        item, kind = outcome.reduction.inputs[name], reading.kind
        symbol = unit(kind, system).symbol
        value = item.value.flat[0]
        within = outcome.tolerances.get(name)
        if within is None and item.uncertainty.any():
            standard = _number(item.uncertainty.flat[0], kind, system)
            source = "from repeats" if name in outcome.untold else "the kit's own"
            said = f"{f'standard uncertainty {standard} {symbol}'.strip()}, {source}"
        elif within is None:
            said = "none stated"
        else:
            parts = [f"± {_number(within.absolute, kind, system)} {symbol}"] * bool(
                within.absolute
            )
            parts += [f"± {100 * within.relative:g}%"] * bool(within.relative)
            said = " and ".join(parts) or "none"
            if any(name in record.repeats for record in outcome.records):
                standard = _number(item.uncertainty.flat[0], kind, system)
                said += (
                    f"; with what repeats scatter, standard uncertainty {standard} {symbol}, "
                    f"{item.degrees:.0f} degrees of freedom"
                )
        own = "see each specimen"
        shared = f"{_number(value, kind, system)} {symbol}".strip()
        rows.append((words_of(name), shared if _same(outcome, name) else own, said))
    notes = _shared_notes(outcome).items()
    return rows + [(name, cell, "a note, the same for all") for name, cell in notes]


def _shared_notes(outcome: Outcome) -> dict[str, str]:
    """Return the notes that all specimens share."""
    first, *others = (*outcome.records, *outcome.aside)
    return {
        name: cell
        for name, cell in first.notes.items()
        if all(one.notes.get(name) == cell for one in others)
    }


def _own_notes(record: Record, shared: Container[str]) -> list[str]:
    """Return the notes of a specimen that not all share."""
    return [f"{name} {cell}" for name, cell in record.notes.items() if name not in shared]


def specimen_table(
    outcome: Outcome, system: System = "metric"
) -> tuple[list[str], list[list[str]]]:
    """Return the headings and one row for each specimen, from which it can be reduced again.

    Those whose origin makes them no result come last: the fits count what they bore.
    Readings that all share are left to `stated_rows`; results are in full digits.
    """
    readings = METHODS[outcome.method].readings
    names = [name for name in readings if not _same(outcome, name)]
    kind = METHODS[outcome.method].kind
    symbol = unit(kind, system).symbol
    heads = [
        "specimen",
        "line",
        *(f"{words_of(name)} / {unit(readings[name].kind, system).symbol}" for name in names),
        "origin",
        f"result / {symbol}",
        f"± / {symbol} (95%)",
        "doubt, note",
    ]
    columns = [(outcome.reduction.inputs[name].value, readings[name].kind) for name in names]
    half = outcome.reduction.budget.expanded()
    rows, shared = [], _shared_notes(outcome)
    for place, record in enumerate(outcome.records):
        limits = [
            limit.words.split(":")[0]
            for limit in outcome.reduction.broken
            if np.broadcast_to(limit.where, half.shape)[place]
        ]
        noted = _own_notes(record, shared)
        doubts = [words_of(doubt) for doubt in outcome.doubts[place]]
        rows.append(
            [
                record.specimen,
                str(record.line),
                *(_number(values[place], its, system) for values, its in columns),
                record.origin,
                _number(outcome.reduction.value[place], kind, system),
                show_number(to_display(half[place], kind, system).item(), 2),
                "; ".join(filter(None, [*doubts, *limits, record.note, *noted])),
            ]
        )
    for record in outcome.aside:
        bore = reduce(outcome.method, record.readings).value.item()
        noted = _own_notes(record, shared)
        rows.append(
            [
                record.specimen,
                str(record.line),
                *(
                    _number(record.readings[name], readings[name].kind, system)
                    if name in record.readings
                    else ""
                    for name in names
                ),
                record.origin,
                _number(bore, kind, system),
                "",
                "; ".join(filter(None, ["no result: it bore at least this", *noted])),
            ]
        )
    return heads, rows


def provenance(outcome: Outcome) -> str:
    """Say from which file, by which version, and how many of the lines were used."""
    named = outcome.file or "pasted text"
    used, aside, lost = len(outcome.records), len(outcome.aside), len(outcome.troubles)
    return (
        f"Raw data: {named}, SHA-256 {outcome.checksum}. Reduced by glasskit {__version__}. "
        f"Lines for this test: {used + aside + lost}; used {used}, no result {aside}, "
        f"set aside {lost}.{_read_as(outcome)}"
    )


def deviations(outcome: Outcome) -> list[str]:
    """List in words all that a supervisor must know before signing."""
    said = [
        f"Line {item.line} set aside: {item.words}. It reads: {item.text}"
        for item in outcome.troubles
    ]
    names = np.array([record.specimen for record in outcome.records])
    for broken in outcome.reduction.broken:
        which = names[np.broadcast_to(broken.where, names.shape)]
        said.append(f"Limit of the method: {broken.words} ({', '.join(which)}).")
    said += [
        f"Doubtful, yet used: {record.specimen}, for {words_of('; '.join(doubts))}."
        for record, doubts in zip(outcome.records, outcome.doubts, strict=True)
        if doubts
    ]
    said += [
        f"{words_of(name).capitalize()}: no tolerance was stated, so it counts as exact."
        for name in outcome.untold
    ]
    said += _on_origins(outcome)
    return said


def origin_sentence(records: Iterable[Record]) -> str:
    """List the origins of specimens, with other words that were taken for the same."""
    words: dict[str, Counter[str]] = {}
    for record in records:
        words.setdefault(record.origin, Counter())[record.written or "left empty"] += 1
    listed = []
    for name, found in words.items():
        other = [f"{word} {many}" for word, many in found.items() if word != name]
        also = f" (in the file: {', '.join(other)})" if other else ""
        listed.append(f"{name} {found.total()}{also}")
    return f"Origins: {'; '.join(listed)}."


def _on_origins(outcome: Outcome) -> list[str]:
    if outcome.method not in BENCHES:
        return []
    counts, fits = outcome.origins, outcome.fits
    said = [origin_sentence((*outcome.records, *outcome.aside))]
    said += [
        f"{one.capitalize()} and {other} look alike: if they are one origin, give it one word."
        for one, other in look_alikes(counts)
    ]
    reasons = METHODS[outcome.method].aside
    for origin in dict.fromkeys(record.origin for record in outcome.aside):
        names = [record.specimen for record in outcome.aside if record.origin == origin]
        they = "It is no result" if len(names) == 1 else "They are no results"
        said.append(
            f"{', '.join(names)} broke at: {origin}. {they}, for {reasons[origin]}; the fits "
            "know that what is tested bore as much."
        )
    if counts.get(UNBROKEN):
        said.append(f"Did not break: {counts[UNBROKEN]}. Every kind of flaw bore as much.")
    if counts.get(UNKNOWN):
        said.append(_on_unknown(counts[UNKNOWN], fits))
    rare = [
        name
        for name, many in counts.items()
        if name not in (UNKNOWN, UNBROKEN) and many < FEWEST
    ]
    if rare:
        said.append(
            f"Fewer than {FEWEST} breaks from {', '.join(rare)}: not fitted; the other kinds "
            "bore as much."
        )
    if not fits:
        said.append(f"Nothing is fitted: no origin has {FEWEST} known breaks.")
    for name, fit in fits.items():
        if fit.failures < _WANTED:
            low, high = fit.interval()
            need = sample_size(1.2**2, 0.95).item()
            said.append(
                f"{name.capitalize()}: {fit.failures:.0f} breaks leave the modulus open from "
                f"{show_number(low, 2)} to {show_number(high, 2)} (95%); {need:.0f} would "
                "tell it within a fifth."
            )
    return said


def _on_unknown(many: int, fits: Mapping[str, WeibullFit]) -> str:
    """Say what a fit made of specimens of unknown origin."""
    said = f"Unknown origin, but broken: {many}. "
    if any(fit.share is not None for fit in fits.values()):
        return said + "Each counts to every fitted kind by its chance, and widens the limits."
    if fits:
        return (
            f"{said}With one kind known, the truth lies between two fits: all broke from it,"
            " or none, which is left out as a survivor."
        )
    return said + "Look at the pieces again."


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


def aside_sentence(found: Series | Columns | Review) -> str:
    """Say how many lines of a file are used and how many are set aside."""
    if isinstance(found, Series):
        used = len(found.records)
    else:
        used = len(found.lines if isinstance(found, Columns) else found.specimens)
    left = len(found.troubles)
    titles = [one for one in found.remarks if not one.text.lstrip().startswith("#")]
    taken = remarks_sentence(len(found.remarks) - len(titles))
    if titles:
        taken += f" Titles above the first row, kept as remarks: {len(titles)}."
    if isinstance(found, Series):
        taken += _read_as(found)
    if not isinstance(found, Review) and found.notes:
        kept = "kept as notes" if isinstance(found, Series) else "not read"
        taken += f" Columns {kept}: {', '.join(found.notes).rstrip('.')}."
    if not left:
        return f"All {used} lines are used.{taken}"
    total = used + left
    return f"{used} of {total} lines are used.{taken} {left} set aside, each with its reason:"


def _read_as(found: Series | Outcome) -> str:
    """Say which headings were taken for the kit's own names, after a blank."""
    known = ", ".join(f"{heading} is {name}" for heading, name in found.read_as)
    return f" Taken from other words: {known}." if known else ""


def outcome_verdict(outcome: Outcome, system: System) -> str:
    """Say in six to ten words what the series shows."""
    if _several(outcome):
        return "Several kinds of flaw: one mean describes none"
    mean = precise(outcome.mean.value, METHODS[outcome.method].kind, system)
    return f"The mean of {len(outcome.records)} specimens is {mean}"


def ratio_words(middle: float, interval: FloatArray, digits: int) -> str:
    """Write a ratio with its ends."""
    low, high = (show_number(end, digits) for end in interval)
    return f"{show_number(middle, digits)} ({low} to {high})"


def comparison_verdict(found: Comparison) -> str:
    """Say in six to ten words what two lots show."""
    if not found.ratios:
        return "Nothing to compare: no origin is fitted in both lots"
    if any(all(shown) for shown in _by_origin(found).values()):
        return "The two lots differ by more than chance explains"
    return "No difference is shown; one may be there"


def comparison_sentence(found: Comparison, system: System = "metric") -> str:
    """Say what two lots show, a sentence for each kind of origin."""
    if not found.ratios:
        return f"{comparison_verdict(found)}: each needs {FEWEST} known breaks from it."
    return " ".join(
        f"Broken from the {origin}: scale of {found.names[1]} "
        f"{ratio_words(ratio.scale, ratio.scale_interval, 3)} times that of "
        f"{found.names[0]}, {_shown(ratio)}."
        for origin, ratio in found.ratios.items()
    )


def _by_origin(found: Comparison) -> dict[str, list[bool]]:
    """Return for each origin whether a difference is shown, once for each of its bounds."""
    shown: dict[str, list[bool]] = {}
    for name, ratio in found.ratios.items():
        shown.setdefault(origin_of(name.partition(" / ")[0]), []).append(ratio.shown)
    return shown


def _shown(ratio: Ratio) -> str:
    return "a difference is shown" if ratio.shown else "no difference shown, none ruled out"


def comparison_rows(found: Comparison) -> list[tuple[str, str, str, str, str]]:
    """Return origin, breaks, ratio of scales, of moduli, and breaks that would show 10%."""
    return [
        (
            origin,
            f"{ratio.first.failures:.0f} and {ratio.second.failures:.0f}",
            ratio_words(ratio.scale, ratio.scale_interval, 3),
            ratio_words(ratio.modulus, ratio.modulus_interval, 2),
            f"{ratio.needed} in each lot",
        )
        for origin, ratio in found.ratios.items()
    ]


def comparison_doubts(found: Comparison, system: System = "metric") -> list[str]:
    """List what to know before a difference is believed; each lot has doubts of its own."""
    method = METHODS[found.first.method]
    said = [
        f"{words_of(name).capitalize()} differs: {precise(one, kind, system)} and "
        f"{precise(other, kind, system)}. Part of the ratio may be that and no treatment."
        for name, (one, other) in found.unlike.items()
        for kind in [method.readings[name].kind]
    ]
    said += [
        f"{origin.capitalize()}: fitted in one lot only, so not compared."
        for origin in found.alone
    ]
    said += [
        f"{origin.capitalize()}: some origins are unknown, and the truth lies between the "
        "ratios shown."
        for origin, shown in _by_origin(found).items()
        if len(shown) > 1
    ]
    few = [
        origin
        for origin, ratio in found.ratios.items()
        if not ratio.shown and min(ratio.first.failures, ratio.second.failures) < ratio.needed
    ]
    if few:
        said.append(
            f"Too few breaks to see {100 * (DIFFERENCE - 1):.0f}% four times in five: "
            f"{', '.join(few)}. No difference shown is no proof of none."
        )
    count = 2 * len(found.ratios)
    said.append(
        f"{count} ratios are given, each with its own {100 * found.level:.0f}%: the more one "
        "looks at, the more differ by chance alone."
    )
    said.append(
        "Were lots drawn and tested in random order, at one rate, in one air? The numbers "
        "cannot tell."
    )
    return said


def comparison_numbers(found: Comparison, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of the ratios, the lots, and what to read before signing."""
    rows = []
    for origin, breaks, scales, moduli, needed in comparison_rows(found):
        rows += [
            (f"{origin}, scale", f"{scales} times; {breaks} breaks"),
            (f"{origin}, modulus", f"{moduli} times"),
            (f"{origin}, to see 10%", f"{needed}, four times in five"),
        ]
    rows += [
        (name, outcome_sentence(lot, system))
        for name, lot in zip(found.names, (found.first, found.second), strict=True)
    ]
    return rows + [("read before signing", said) for said in comparison_doubts(found, system)]


ENOUGH = 20
"""Values from which limits of a chart are worth keeping [-]; common practice."""


def chart_verdict(chart: ControlChart) -> str:
    """Say in six to ten words what a chart shows."""
    if chart.outside or chart.jumps:
        return "Something changed: stop, and look for the cause"
    if chart.drifts:
        return "Something drifts: look for the cause before it grows"
    return "Nothing beyond chance: the rig measures as before"


def chart_sentence(chart: ControlChart, system: System = "metric") -> str:
    """Say which values of a chart tell of a change."""
    low, high = (precise(end, "stress", system) for end in (chart.low, chart.high))
    said = f"{chart.values.size} values, limits {low} and {high}. "
    found = {"Beyond a limit": chart.outside, "Too far from the one before": chart.jumps}
    told = [
        f"{what}: {_few([chart.labels[at] for at in places])}."
        for what, places in found.items()
        if places
    ]
    if chart.drifts:
        seen = chart.labels[chart.drifts[0]]
        told.append(f"{RUN} values in a row lay on one side of the middle by {seen}.")
    return said + (" ".join(told) or "None lies outside, none jumps, and there is no drift.")


def chart_rows(chart: ControlChart, system: System = "metric") -> list[tuple[str, ...]]:
    """Return label, value, step from the one before, and what was said of each value."""
    share = chart.kind != "plain"
    steps = [
        "",
        *(precise(one, "percent" if share else "stress", system) for one in chart.ranges),
    ]
    told = {
        "beyond a limit": chart.outside,
        "too wide a step": chart.jumps,
        f"{RUN} or more on one side": chart.drifts,
    }
    return [
        (
            label,
            precise(value, "stress", system),
            step,
            ", ".join(words for words, places in told.items() if at in places),
        )
        for at, (label, value, step) in enumerate(
            zip(chart.labels, chart.values, steps, strict=True)
        )
    ]


def chart_source(columns: Columns) -> str:
    """Say which file a chart was made of, and what of it was set aside."""
    said = f"Raw data: {columns.file or 'pasted text'}, SHA-256 {columns.checksum or 'none'}."
    said += f" glasskit {__version__}."
    aside = [f"line {one.line} ({one.words})" for one in columns.troubles]
    return (
        f"{said} Set aside: {'; '.join(aside)}." if aside else f"{said} No line is set aside."
    )


def _few(names: Sequence[str]) -> str:
    """List names, the first and the last of many."""
    return ", ".join(names) if len(names) <= 4 else f"{names[0]} to {names[-1]}"


def chart_numbers(chart: ControlChart, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of the lines of a chart, and what to know of them."""
    share = chart.kind != "plain"
    kind = "percent" if share else "stress"
    usual, widest = (
        precise(one, kind, system) for one in (chart.usual_range, chart.widest_range)
    )
    rows = [
        ("middle", precise(chart.middle, "stress", system)),
        (
            "lower and upper limit",
            f"{precise(chart.low, 'stress', system)}, {precise(chart.high, 'stress', system)}",
        ),
        ("usual step, widest step", f"{usual}, {widest}"),
        ("limits set by", f"the first {chart.baseline} values"),
    ]
    if chart.baseline < ENOUGH:
        rows.append(("to know", f"Fewer than {ENOUGH} values: the limits are rough."))
    return [
        *rows,
        (
            "to know",
            "Limits say whether something changed. They are no tolerance of a product.",
        ),
    ]


def curve_verdict(found: CurveResult, system: System) -> str:
    """Say in six to ten words what a load-time curve shows."""
    if not found.curve.broke:
        return "No break in this record: the load never falls"
    if found.curve.doubts:
        return "Read what is odd before this load is used"
    return f"It broke at {precise(found.curve.peak, 'force', system)} after a steady rise"


def curve_sentence(found: CurveResult, system: System = "metric") -> str:
    """Say load, stress and rate of one specimen."""
    load = precise(found.curve.peak, "force", system)
    stress = precise(found.reduction.value, "stress", system)
    rate = precise(found.stress_rate, "stress", system)
    kept = "within" if found.kept else "outside"
    low, high = (precise(end, "stress", system) for end in RATES[found.standard])
    return (
        f"Highest load {load}, stress there {stress}. The stress rose by {rate} each second, "
        f"{kept} the {low} to {high} of {found.standard}."
    )


def curve_numbers(found: CurveResult, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text of a curve, its file, and what to read before it is used."""
    curve = found.curve
    force = unit("force", system).symbol
    rows = [
        ("highest load", f"{_number(curve.peak, 'force', system)} {force}"),
        (
            "rise",
            f"{precise(curve.rate, 'force', system)} each second, from a tenth to nine tenths",
        ),
        ("time to the peak", precise(curve.peak_time - curve.start, "time")),
        (
            "raw data, SHA-256",
            f"{curve.source.file or 'pasted text'}, {curve.source.checksum}",
        ),
    ]
    rows += [("limit of the method", f"{limit.words}.") for limit in found.reduction.broken]
    return rows + [("read before using it", f"{doubt}.") for doubt in curve.doubts]


def simulation_sentence(drawn: Simulation, kind: str, system: System = "metric") -> str:
    """Say where one simulated result lies, and how many draws a reading cannot have.

    Examples
    --------
    >>> import numpy as np
    >>> simulation_sentence(Simulation(draws=np.linspace(1e6, 2e6, 2001)), "stress")
    'Drawn 2,001 times: 95% lie from 1.02 MPa to 1.98 MPa.'

    """
    low, high = (precise(end, kind, system) for end in drawn.interval())
    said = f"Drawn {drawn.draws.size:,} times: 95% lie from {low} to {high}."
    if not drawn.impossible:
        return said
    share = precise(drawn.impossible, "percent", digits=2)
    said += f" {share} of the draws of a reading were zero or less, and were drawn anew"
    return said + (": how sure it is, is doubtful." if drawn.impossible > _RARE else ".")


_RARE = 0.01  # share of impossible draws from which a reading's law is doubted; own rule


def review_verdict(review: Review) -> str:
    """Say in six to ten words how far two readers agree."""
    found = review.agreement
    same = len(review.specimens) - len(found.apart)
    return f"Both readers name {same} of {len(review.specimens)} origins alike"


def review_sentence(review: Review, system: System = "metric") -> str:
    """Say how far two readers agree, and beyond chance."""
    found = review.agreement
    if np.isnan(found.kappa):
        return f"{review_verdict(review)}: with one origin there is nothing to tell apart."
    low, high = (show_number(end, 2) for end in found.interval())
    return (
        f"{review_verdict(review)}. Kappa is {show_number(found.kappa, 2)} ({low} to {high}), "
        "where 0 is chance and 1 is all."
    )


def review_numbers(review: Review, system: System = "metric") -> list[tuple[str, str]]:
    """Return label and text: what to look at together, and what agreement does not say."""
    apart = ", ".join(review.specimens[at] for at in review.agreement.apart)
    rows = [("look at these together", apart or "none")]
    rows += [
        ("ask", f"{one.capitalize()} and {other} look alike: are they one origin?")
        for one, other in look_alikes(review.agreement.origins)
    ]
    if len(review.specimens) < _READ:
        rows.append(("to know", f"Fewer than {_READ} specimens: the interval is rough."))
    return [*rows, ("to know", "Two who agree may both be wrong.")]
