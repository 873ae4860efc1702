# SPDX-License-Identifier: MIT
"""A file and a report to audit: what is planted is a fault, what is sound the kit takes."""

import numpy as np
import pytest

from glasskit.lab import parse_records, reduce_series
from glasskit.tables import read
from glasskit.training import audit
from glasskit.words.audits import audit_rows, audit_sentence

SEEDS = range(40)


def test_the_same_seed_gives_the_same_audit_and_some_hold_nothing():
    for kind in ("file", "report"):
        assert audit(kind, 3) == audit(kind, 3)
        counts = [len(audit(kind, seed).faults) for seed in SEEDS]
        assert min(counts) == 0
        assert max(counts) >= 4


def test_every_kind_of_fault_is_met():
    for kind in ("file", "report"):
        reasons = {reason for seed in SEEDS for reason in audit(kind, seed).faults.values()}
        assert reasons == {row["reason"] for row in read(f"audit_{kind}")}


def as_file(one):
    """Return an audit's file as the kit reads it."""
    names = "specimen;origin;force [N];outer_span [mm];inner_span [mm];width [mm]"
    head = f"{names};thickness [mm];note;method"
    return "\n".join([head, *(f"{line};four_point_bar" for line in one.lines)])


def test_the_kit_takes_all_that_is_sound_and_stumbles_over_what_numbers_tell():
    told_by_note = {row["reason"] for row in read("audit_file") if row["fault"] == "dropped"}
    for seed in SEEDS:
        one = audit("file", seed)
        series = parse_records(as_file(one))
        aside = {trouble.line - 2 for trouble in series.troubles}
        outcome = reduce_series(series, "four_point_bar")
        names = [record.specimen for record in outcome.records]
        for limit in outcome.reduction.broken:
            aside |= {
                at
                for at, line in enumerate(one.lines)
                for name in np.array(names)[limit.where]
                if line.startswith(f"{name};")
            }
        outside = {record.specimen for record in outcome.aside}
        aside |= {at for at, line in enumerate(one.lines) if line.split(";")[0] in outside}
        shown = {at for at, why in one.faults.items() if why not in told_by_note}
        assert aside == shown, seed


def test_marking_counts_found_missed_and_blamed():
    one = next(
        audit("report", seed) for seed in SEEDS if len(audit("report", seed).faults) > 1
    )
    first, *others = one.faults
    sound = next(at for at in range(len(one.lines)) if at not in one.faults)
    marked = one.mark([first, sound])
    assert (marked.found, marked.missed, marked.blamed) == ((first,), (*others,), (sound,))
    assert not marked.right
    assert "1 sound lines blamed" in audit_sentence(one, marked)
    assert audit_rows(one, marked)[0][1].startswith(("found", "missed", "this line"))
    assert audit_sentence(one, one.mark(one.faults)).startswith("All ")
    clean = next(audit("file", seed) for seed in SEEDS if not audit("file", seed).faults)
    assert audit_sentence(clean, clean.mark([])).startswith("Right: nothing")


def test_what_is_no_audit_is_refused():
    with pytest.raises(ValueError, match=r"^kind must be one of file, report"):
        audit("rumour", 1)
    with pytest.raises(ValueError, match=r"^seed must be a whole number"):
        audit("file", -1)
    with pytest.raises(ValueError, match=r"^ticked must be one of"):
        audit("file", 1).mark([99])


def test_numbers_of_the_report_agree_with_each_other(outside):
    outside(
        "standard uncertainty of a calliper good to 0.02 mm / mm",
        0.012,
        0.02 / np.sqrt(3),
        source="half width over root 3",
        status="hand calculation",
        abs_=0.0005,
    )
    outside(
        "standard uncertainty of the mean of 28 with a spread of 9.1 MPa / MPa",
        1.7,
        9.1 / np.sqrt(28),
        source="spread over root of the number",
        status="hand calculation",
        abs_=0.05,
    )
