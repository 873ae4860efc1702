# SPDX-License-Identifier: MIT
"""Readings kept in a table: added, never changed, and no formula for a spreadsheet."""

import csv
from datetime import date

import pytest

from glasskit.measured import Reading, keep_reading

DAY = date(2030, 5, 31)


def fall(**other):
    return Reading(what="first fall", kind="height", value=1.02, low=1.0, high=1.04, **other)


def test_a_reading_is_added_below_the_others(tmp_path):
    path = tmp_path / "new" / "kept.csv"
    for name in ("one.wav", "two.wav"):
        keep_reading(path, fall(file=name), DAY)
    lines = path.read_text().splitlines()
    assert len(lines) == 3
    assert lines[1].endswith(",m,one.wav,")
    assert lines[2].endswith(",m,two.wav,")
    assert all(len(row) == 8 for row in csv.reader(lines))


def test_a_cell_never_becomes_a_formula_and_stays_on_its_line(tmp_path):
    path = keep_reading(tmp_path / "kept.csv", fall(file="=1+1.wav", remark="one\ntwo"), DAY)
    assert path.read_text().splitlines()[1].endswith(",'=1+1.wav,one two")


def test_a_line_cut_short_is_not_written_on(tmp_path):
    path = tmp_path / "kept.csv"
    path.write_text("day,what\n2030-05-30,half a li")
    keep_reading(path, fall(), DAY)
    assert path.read_text().splitlines()[1] == "2030-05-30,half a li"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"low": 1.1}, "low must be at most value"),
        ({"high": 1.0}, "high must be at least value"),
        ({"value": float("nan")}, "value must be finite"),
        ({"kind": "furlong"}, "furlong"),
    ],
)
def test_what_cannot_be_is_refused(wrong, said):
    good = {"what": "first fall", "kind": "height", "value": 1.02, "low": 1.01, "high": 1.04}
    with pytest.raises(ValueError, match=said):
        Reading(**good | wrong)
