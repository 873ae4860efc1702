# SPDX-License-Identifier: MIT
import multiprocessing
import os
import re
from dataclasses import replace
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
    assert why[2] == "height must be a number; got 'high'"
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


def read(path, text, codec="utf-8"):
    path.write_text(text, codec)
    return breaklog.read_log(path)


@pytest.mark.parametrize(
    ("named", "typed", "metres"),
    [
        ("height_cm", "90", 0.9),
        ("Height [cm]", "90", 0.9),
        ("height / ft", "3", 0.9144),  # definition of the international foot: 0.3048 m
        ("height (in)", "10", 0.254),  # definition of the inch: 25.4 mm
        ("height_mm", "1e3", 1.0),
        ("height_m", "0,9", 0.9),
    ],
)
def test_columns_are_read_by_name_and_unit_and_written_so(tmp_path, named, typed, metres):
    path = tmp_path / "log.csv"
    text = f"sep=;\nbroke;{named};pane;who;date;origin;surface\n"
    text += f"no;{typed};a #1;Ada;2024-05-04;;w\n"
    [entry] = read(path, text).entries
    assert (entry.pane, entry.surface, entry.broke) == ("a #1", "w", False)
    assert entry.height == pytest.approx(metres, rel=1e-12)
    breaklog.add(path, blow(0.75, True))
    assert path.read_text("utf-8").startswith(text)
    again = breaklog.read_log(path)
    assert again.troubles == ()
    assert again.entries[1].height == pytest.approx(0.75, rel=1e-11)


@pytest.mark.parametrize(
    ("header", "words"),
    [
        (
            "date,pane,height_yd,surface,broke,origin",
            "height must have a unit among m, .*got yd",
        ),
        ("date,pane,height,surface,broke,origin", "height must have a unit among .*got none"),
        (
            "date,pane,hieght_cm,surface,broke,origin",
            "must name the column height once; got it 0",
        ),
        (
            "date,pane,height_m,pane,broke,origin",
            "must name the column pane once; got it 2 times",
        ),
    ],
)
def test_a_first_line_that_is_not_understood_is_said_and_nothing_is_guessed(
    tmp_path, header, words
):
    path = tmp_path / "log.csv"
    log = read(path, f"{header}\n2024-05-04,a,90,w,yes,\n")
    assert log.entries == ()
    assert [trouble.line for trouble in log.troubles] == [1, 2]
    assert re.search(words, log.troubles[0].words)
    before = path.read_bytes()
    with pytest.raises(ValueError, match=words):
        breaklog.add(path, blow(0.5, True))
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "said",
    [
        "2024-5-4",
        "04.05.2024",
        "4.5.2024",
        "2024-05-04 00:00:00",
        "2024/05/04",
        "2024-05-04T10:30",
    ],
)
@pytest.mark.parametrize(("word", "broke"), [("ja", True), ("WAHR", True), ("FALSCH", False)])
def test_dates_and_words_as_spreadsheets_write_them(tmp_path, said, word, broke):
    log = read(tmp_path / "log.csv", f"{','.join(breaklog.COLUMNS)}\n{said},a,1,w,{word},\n")
    assert [(entry.date, entry.broke) for entry in log.entries] == [(DAY, broke)]


def test_day_and_month_are_told_apart_by_the_other_lines_or_asked_about(tmp_path):
    def days(*cells):
        rows = [f"{cell},a,1,w,yes," for cell in cells]
        return read(tmp_path / "log.csv", "\n".join([",".join(breaklog.COLUMNS), *rows]))

    [trouble] = days("5/4/2024").troubles
    assert trouble.words == "date 5/4/2024 may be two days: write 2030-05-31 for 31 May"
    got = [entry.date for entry in days("5/4/2024", "5/14/2024").entries]
    assert got == [date(2024, 5, 4), date(2024, 5, 14)]
    got = [entry.date for entry in days("4/5/2024", "14/5/2024", "5/5/2024").entries]
    assert got == [date(2024, 5, 4), date(2024, 5, 14), date(2024, 5, 5)]
    mixed = days("5/4/2024", "14/5/2024", "5/14/2024")
    assert (len(mixed.entries), len(mixed.troubles)) == (2, 1)
    assert "day of the calendar" in days("31.02.2024").troubles[0].words


@pytest.mark.parametrize("codec", ["utf-16", "utf-8-sig"])
def test_a_file_of_another_encoding_is_read_and_goes_on_in_it(tmp_path, codec):
    path = tmp_path / "log.csv"
    first = f"{','.join(breaklog.COLUMNS)}\n2024-05-04,µ,1,w,yes,\n"
    assert read(path, first, codec).entries[0].pane == "µ"
    breaklog.add(path, blow(0.5, False, "über"))
    assert path.read_text(codec).startswith(first)
    assert [entry.pane for entry in breaklog.read_log(path).entries] == ["µ", "über"]


def test_no_field_is_a_formula_in_a_spreadsheet(tmp_path):
    path = tmp_path / "log.csv"
    nasty = Entry(
        date=DAY, pane="=1+1", height=1.0, broke=True, surface="@SUM(A1)", origin="+x"
    )
    breaklog.add(path, nasty)
    assert path.read_text("utf-8").splitlines()[1] == "2024-05-04,'=1+1,1.0,'@SUM(A1),yes,'+x"
    assert breaklog.read_log(path).entries == (nasty,)


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


def test_a_corrected_blow_counts_as_of_its_day_though_it_stands_at_the_end(tmp_path):
    path = tmp_path / "log.csv"
    wrong, right = blow(6.0, False, "a #1"), blow(0.6, False, "a #1")
    breaklog.add(path, wrong, blow(0.9, True, "a #1"))
    breaklog.add(path, right, instead_of=[wrong])
    assert breaklog.bounds(breaklog.read_log(path).entries, "a").tolist() == [[0.6, 0.9]]
    breaklog.add(path, replace(blow(2.0, False, "a #1"), date=date(2024, 5, 5)))  # cannot be
    assert breaklog.bounds(breaklog.read_log(path).entries, "a").tolist() == [[0.6, 0.9]]


def test_refusals():
    with pytest.raises(ValueError, match="height must be finite and positive; got 0 m"):
        blow(0.0, True)
    with pytest.raises(ValueError, match="pane must be named; got ' #3'"):
        blow(1.0, True, " #3")
    with pytest.raises(ValueError, match=r"at most 10 m, no rig is higher .* got 30 m"):
        blow(30.0, True)


@pytest.mark.parametrize(
    ("typed", "words"),
    [("１.０", "must be a number; got '１.０'"), ("30", "was another unit meant")],
)
def test_a_height_that_nobody_can_have_meant_is_asked_about(tmp_path, typed, words):
    log = read(tmp_path / "log.csv", f"{','.join(breaklog.COLUMNS)}\n{DAY},a,{typed},w,yes,\n")
    assert log.entries == ()
    assert words in log.troubles[0].words


# --- taken back and corrected ---------------------------------------------------------------


def test_a_blow_taken_back_stays_in_the_file_and_counts_no_more(tmp_path):
    path = tmp_path / "log.csv"
    breaklog.add(path, blow(1.0, True), blow(1.0, False), blow(1.0, True))
    before = path.read_bytes()
    breaklog.add(path, instead_of=[blow(1.0, True)])
    assert path.read_bytes().startswith(before)
    log = breaklog.read_log(path)
    assert log.entries == (blow(1.0, True), blow(1.0, False)), "the later of two alike goes"
    assert log.taken_back == (blow(1.0, True),)
    assert log.troubles == ()


def test_a_correction_of_a_correction_leaves_one_blow(tmp_path):
    path = tmp_path / "log.csv"
    first, second, third = blow(9.0, True), blow(0.9, True), blow(0.9, False)
    breaklog.add(path, first)
    breaklog.add(path, second, instead_of=[first])
    breaklog.add(path, third, instead_of=[second])
    log = breaklog.read_log(path)
    assert (log.entries, log.corrected, log.taken_back) == ((third,), (first, second), ())
    assert path.read_text().count("\n") == 6


def correct_again_and_again(path, was, height):
    for step in range(20):
        right = replace(was, height=height + step / 100)
        breaklog.add(path, right, instead_of=[was])
        was = right


def test_two_windows_that_both_correct_keep_what_both_have_said(tmp_path):
    path = tmp_path / "log.csv"
    first, second = blow(1.0, True), blow(1.5, False)
    breaklog.add(path, first, second)
    fork = multiprocessing.get_context("fork")
    writers = [
        fork.Process(target=correct_again_and_again, args=(path, *one))
        for one in ((first, 2.0), (second, 3.0))
    ]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join(60)
    log = breaklog.read_log(path)
    assert sorted(entry.height for entry in log.entries) == [2.19, 3.19]
    assert (len(log.corrected), log.troubles) == (40, ())
    assert len(path.read_text().splitlines()) == 1 + 2 + 2 * 40


@pytest.mark.parametrize(
    "wrong", [blow(0.5, False), blow(0.6, True), blow(0.5, True, "other")]
)
def test_what_is_not_in_the_log_is_not_taken_back(tmp_path, wrong):
    path = tmp_path / "log.csv"
    breaklog.add(path, blow(0.5, True))
    before = path.read_bytes()
    with pytest.raises(ValueError, match="must be in the log"):
        breaklog.add(path, instead_of=[wrong])
    with pytest.raises(ValueError, match="must be in the log"):
        breaklog.add(path, instead_of=[blow(0.5, True)] * 2)
    assert path.read_bytes() == before


def test_a_line_that_takes_back_nothing_is_said(tmp_path):
    text = f"{','.join(breaklog.COLUMNS)}\n2024-05-04,a,1,w,taken back (yes),\n"
    log = read(tmp_path / "log.csv", text + "2024-05-04,a,1,w,no,\n")
    assert [entry.broke for entry in log.entries] == [False]
    assert [(one.line, one.words) for one in log.troubles] == [
        (2, "it takes back a blow that is not in this log")
    ]


def test_taking_back_survives_a_spreadsheet_that_sorts_and_writes_in_its_own_way(tmp_path):
    path = tmp_path / "log.csv"
    odd = Entry(date=DAY, pane="µ  #3", height=0.9, surface="=wood", broke=True, origin="a, b")
    breaklog.add(path, blow(0.7, True), odd)
    breaklog.add(path, instead_of=breaklog.read_log(path).entries[1:])
    head, *rows = [line.split(",", 5) for line in path.read_text("utf-8").splitlines()]
    assert head[2] == "height_m"
    lines = ["date;pane;height [cm];surface;broke;origin"]
    for day, pane, height, surface, broke, origin in sorted(
        rows, key=lambda row: row[4][::-1]
    ):
        fall = f"{100 * float(height):g}".replace(".", ",")
        lines.append(f"{day};{pane};{fall};{surface};{broke.upper()};{origin}")
    path.write_text("\r\n".join(lines), "utf-16")
    log = breaklog.read_log(path)
    assert log.troubles == ()
    assert [(one.pane, round(one.height, 9)) for one in log.entries] == [("ordinary", 0.7)]
    breaklog.add(path, instead_of=log.entries)
    assert breaklog.read_log(path).entries == ()


BLOWS = [blow(height, broke) for height in (0.3, 1 / 3, 2.5) for broke in (True, False)]


@given(st.lists(st.sampled_from(BLOWS), max_size=4))
def test_every_blow_can_be_taken_back_from_any_log(tmp_path_factory, blows):
    path = tmp_path_factory.mktemp("logs") / "log.csv"
    breaklog.add(path, *blows)
    for entry in blows:
        breaklog.add(path, instead_of=[entry])
    log = breaklog.read_log(path)
    assert (log.entries, log.troubles, len(log.taken_back)) == ((), (), len(blows))
