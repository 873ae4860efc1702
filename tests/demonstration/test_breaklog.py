# SPDX-License-Identifier: MIT
import os
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from glasskit.demonstration import breaklog
from glasskit.demonstration.breaklog import Entry

DAY = date(2024, 5, 4)


def blow(height, broke, pane="ordinary"):
    return Entry(date=DAY, pane=pane, height=height, broke=broke)


def test_what_is_added_is_read_again(tmp_path):
    path = tmp_path / "log.csv"
    first = Entry(
        date=DAY,
        pane='4 mm, "float"',
        height=0.5,
        surface="wood",
        broke=True,
        origin="µ, edge",
    )
    breaklog.add(path, first)
    breaklog.add(path, blow(1.0, False), blow(1.25, True))
    log = breaklog.read_log(path)
    assert log.entries == (first, blow(1.0, False), blow(1.25, True))
    assert log.troubles == ()
    assert path.read_text("utf-8").splitlines()[0] == ",".join(breaklog.COLUMNS)


def test_no_file_is_an_empty_log(tmp_path):
    assert breaklog.read_log(tmp_path / "none.csv") == breaklog.Log(entries=(), troubles=())


DAMAGED = """date,pane,height_m,surface,broke,origin
2024-05-04,ordinary,0.5,wood,yes,centre
2024-05-04,"ordinary,0.5,wood,yes,centre
2024-13-04,ordinary,0.5,wood,yes,centre
2024-05-04,ordinary,high,wood,yes,centre
2024-05-04,ordinary,-1,wood,yes,centre
2024-05-04,ordinary,0.5,wood,perhaps,centre
2024-05-04,,0.5,wood,no,centre

2024-05-05;toughened;1,5;wood;held;
2024-05-05,toughened,2"""


def test_damaged_lines_are_reported_one_by_one_and_spoil_no_other(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(DAMAGED, "utf-8")
    log = breaklog.read_log(path)
    assert [(entry.pane, entry.height, entry.broke) for entry in log.entries] == [
        ("ordinary", 0.5, True),
        ("toughened", 1.5, False),
    ]
    assert [trouble.line for trouble in log.troubles] == [3, 4, 5, 6, 7, 8, 11]
    assert [trouble.text for trouble in log.troubles] == [
        DAMAGED.splitlines()[trouble.line - 1] for trouble in log.troubles
    ]
    why = [trouble.words for trouble in log.troubles]
    assert why[2] == "height_m must be a number in m; got 'high'"
    assert why[3] == "height must be finite and positive; got -1 m"
    assert why[4] == "broke must be yes or no; got 'perhaps'"
    assert why[6] == "line must have 6 fields; got 3"


@pytest.mark.parametrize("old", [DAMAGED.encode(), b"\xff\xfe\x00garbage\n", b"\xef\xbb\xbf"])
def test_adding_keeps_every_byte_and_starts_a_line_of_its_own(tmp_path, old):
    path = tmp_path / "log.csv"
    path.write_bytes(old)
    breaklog.add(path, blow(0.7, True))
    assert path.read_bytes().startswith(old)
    assert breaklog.read_log(path).entries[-1] == blow(0.7, True)


@settings(max_examples=50)
@given(data=st.binary(max_size=200))
def test_no_file_is_too_broken_to_read_or_to_add_to(tmp_path_factory, data):
    path = tmp_path_factory.mktemp("logs") / "log.csv"
    path.write_bytes(data)
    breaklog.read_log(path)
    breaklog.add(path, blow(0.7, True))
    assert path.read_bytes().startswith(data)
    assert breaklog.read_log(path).entries[-1] == blow(0.7, True)


def test_cut_anywhere_a_log_loses_only_the_line_that_was_cut(tmp_path):
    path = tmp_path / "log.csv"
    breaklog.add(path, *(blow(height, True) for height in (0.25, 0.5, 1.0)))
    whole = path.read_bytes()
    for end in range(len(whole)):
        path.write_bytes(whole[:end])
        complete = max(whole[:end].count(b"\n") - 1, 0)
        assert len(breaklog.read_log(path).entries) >= complete


def test_a_write_that_fails_leaves_the_file_as_it_was(tmp_path, monkeypatch):
    path = tmp_path / "log.csv"
    breaklog.add(path, blow(0.5, True))
    before = path.read_bytes()

    def fail(*_):
        raise OSError("disk full")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(OSError, match="disk full"):
        breaklog.add(path, blow(0.7, True))
    assert path.read_bytes() == before
    assert list(tmp_path.glob("*.*")) == [path]


def test_a_line_break_in_a_field_does_not_part_the_line(tmp_path):
    path = tmp_path / "log.csv"
    said = Entry(date=DAY, pane="a", height=1.0, broke=True, origin="edge\nthen\rmiddle")
    breaklog.add(path, said)
    assert breaklog.read_log(path).entries[0].origin == "edge then middle"


def test_a_pane_struck_again_counts_once():
    entries = [
        blow(0.2, False, "a #1"),
        blow(0.5, False, "a #1"),
        blow(0.4, False, "a #1"),
        blow(0.8, True, "a #1"),
        blow(0.9, True, "a #1"),  # cannot be: it was broken
        blow(0.5, False, "a #2"),
        blow(0.4, True, "a #2"),  # a new flaw
        blow(0.3, True, "a"),
        blow(0.3, True, "a"),
        blow(0.3, True, "b"),
    ]
    got = breaklog.bounds(entries, "a")
    assert got.tolist() == [[0.5, 0.8], [0.5, np.inf], [0.0, 0.3], [0.0, 0.3]]
    assert breaklog.bounds(entries, "c").shape == (0, 2)


def test_refusals():
    with pytest.raises(ValueError, match="height must be finite and positive; got 0 m"):
        blow(0.0, True)
    with pytest.raises(ValueError, match="pane must be named; got ' #3'"):
        blow(1.0, True, " #3")
