# SPDX-License-Identifier: MIT
"""Readings kept in a table: added, never changed, and no formula for a spreadsheet."""

import csv
from datetime import date

import numpy as np
import pytest

from glasskit.measured import Reading, gather_readings, keep_reading

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


def test_what_was_kept_comes_together_thing_by_thing(tmp_path):
    path = tmp_path / "kept.csv"
    for height in (1.0, 1.02, 1.4):
        ends = {"low": height - 0.03, "high": height + 0.03}
        kept = Reading(what="fall", kind="height", value=height, file="a.mp4", **ends)
        keep_reading(path, kept, DAY)
    keep_reading(path, fall(), DAY)
    pieces = Reading(what="pieces, cut", kind="number", value=61, low=60, high=62, file="b")
    keep_reading(path, pieces, DAY)
    path.write_text(path.read_text() + "2030-06-01,half a line\n2030-06-01,a,b,c,d,m,e,\n")
    (falls, counted), troubles = gather_readings(path.read_text())
    assert (falls.what, falls.unit, falls.middle, falls.holding) == ("fall", "m", 1.02, 2)
    assert np.array_equal(falls.values, [1.0, 1.02, 1.4])
    assert (counted.what, counted.unit, counted.values.tolist()) == ("pieces, cut", "", [61])
    assert [one.line for one in troubles] == [5, 7, 8]
    assert "invented example" in troubles[0].words
    with pytest.raises(ValueError, match="read-only"):
        falls.values[0] = 2


def test_another_table_is_no_table_of_kept_readings():
    with pytest.raises(ValueError, match="none is day, what, low, high, unit, file, remark"):
        gather_readings("mass,value\n1,2")
