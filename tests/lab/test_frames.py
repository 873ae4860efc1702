# SPDX-License-Identifier: MIT
"""Columns in memory, and pandas where it is there; nothing needs it."""

import sys

import numpy as np
import pytest

from glasskit.lab import parse_records, records_from, reduce_series

HEAD = "specimen,method,origin,force [N],span [mm],width [mm],thickness [mm],operator"
FORCES = 180.5, 200.0, 215.0, 230.0, 236.0
TEXT = "\n".join(
    [
        HEAD,
        *(f"B{at},three_point_bar,edge,{one},100,20,4,Ada" for at, one in enumerate(FORCES)),
    ]
)
COLUMNS = {
    "specimen": [f"B{at}" for at in range(5)],
    "method": ["three_point_bar"] * 5,
    "origin": ["edge"] * 5,
    "force": np.array(FORCES),
    "span": [100] * 5,
    "width": [20] * 5,
    "thickness [mm]": [4.0] * 5,
    "operator": ['Ada\tB., a "name"\nof two lines'] * 5,
}
UNITS = {"force": "N", "span": "mm", "width": "mm"}


def test_columns_and_a_file_come_to_the_same():
    held, read = records_from(COLUMNS, UNITS), parse_records(TEXT)
    assert [one.readings for one in held.records] == [one.readings for one in read.records]
    assert held.notes == ("operator",)
    assert held.records[0].notes["operator"] == 'Ada B., a "name" of two lines'


def test_missing_cells_are_empty_and_a_bad_one_is_set_aside():
    spoilt = {**COLUMNS, "force": [1.0, None, float("nan"), "nan", "2,5"]}
    held = records_from(spoilt, UNITS)
    assert len(held.records) + len(held.troubles) == 5
    told = {one.line: one.words for one in held.troubles}
    assert told[3] == told[4] == "force must be given for three_point_bar; got an empty cell"
    assert told[5] == "force must be a number; got 'nan'"


def test_refusals():
    with pytest.raises(TypeError, match="columns must have items"):
        records_from([1, 2])
    with pytest.raises(ValueError, match="unit must be one of"):
        records_from(COLUMNS, {"weight": "N"})
    with pytest.raises(ValueError, match="span must hold 5 entries; got 4"):
        records_from({**COLUMNS, "span": [100] * 4}, UNITS)
    with pytest.raises(ValueError, match="column force must have a unit among N"):
        records_from(COLUMNS)


def test_without_pandas_a_frame_is_refused_in_words(monkeypatch):
    monkeypatch.setitem(sys.modules, "pandas", None)
    found = reduce_series(parse_records(TEXT), "three_point_bar")
    with pytest.raises(ImportError, match=r"to_frame needs pandas.*table\(\)"):
        found.to_frame()


def test_a_frame_goes_in_and_comes_out():
    pandas = pytest.importorskip("pandas")
    series = records_from(pandas.DataFrame(COLUMNS), UNITS)
    found = reduce_series(series, "three_point_bar")
    frame = found.to_frame()
    assert list(frame.columns) == list(found.table())
    assert np.array_equal(frame["result"], found.reduction.value)
    direct = reduce_series(parse_records(TEXT), "three_point_bar")
    assert np.array_equal(frame["result"], direct.reduction.value)
    gap = pandas.DataFrame(COLUMNS).astype({"force": "Float64"})
    gap.loc[2, "force"] = pandas.NA
    assert len(records_from(gap, UNITS).troubles) == 1
