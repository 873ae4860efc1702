# SPDX-License-Identifier: MIT
import csv
import re
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.classroom import (
    bank,
    number_questions,
    question,
    questions,
    read_bank,
    shuffled,
)
from glasskit.live.gallery import EXPLORERS
from glasskit.quantities import units_of
from glasskit.tables import read

TABLE = files("glasskit").joinpath("data", "questionbank.csv").read_text(encoding="utf-8")
KEYS = [item.key for item in bank().questions]


# --- the bank -------------------------------------------------------------------------------


def test_the_bank_is_whole_and_large_enough():
    assert bank().troubles == ()
    assert len(KEYS) >= 40
    assert {item.level for item in bank().questions} == {1, 2}
    for level in (1, 2):
        assert len(bank().select(level=level).questions) >= 15


@pytest.mark.parametrize("key", KEYS)
def test_each_question_has_wrong_ideas_and_a_reply_to_each_answer(key):
    asked = question(key)
    assert asked.notebook in EXPLORERS
    assert any(option.idea for option in asked.options)
    for option in asked.options:
        assert len(option.reply) > 14
        assert bool(option.idea) == (" Many people think that " in option.reply)
        assert not option.reply.startswith("Many people")
    assert not asked.options[asked.correct].idea


def test_every_wrong_idea_is_asked_about():
    asked = {option.idea for item in bank().questions for option in item.options}
    assert asked - {""} == {row["idea"] for row in read("ideas")}
    assert len(asked) == 19


def test_the_right_answer_stands_in_no_favourite_place():
    places = [item.correct for item in bank().questions]
    assert max(places.count(place) for place in range(4)) < len(places) / 2


def test_numbers_in_the_questions(outside):
    texts = {key: question(key).text for key in ("sixteen", "third", "tiny")}
    outside(
        "plain glass with a long scratch of 10 µm [MPa]",
        float(re.search(r"stress of about (\d+)", texts["sixteen"])[1]),
        0.75 / (1.1215 * (3.14159265 * 10e-6) ** 0.5),
        source="K = 1.1215 s sqrt(pi a), K 0.75 MPa sqrt(m)",
        status="hand calculation",
        rel=0.01,
    )
    outside(
        "plain glass with a long scratch of 4 µm [MPa]",
        float(re.search(r"stress of about (\d+)", texts["tiny"])[1]),
        0.75 / (1.1215 * (3.14159265 * 4e-6) ** 0.5),
        source="K = 1.1215 s sqrt(pi a), K 0.75 MPa sqrt(m)",
        status="hand calculation",
        rel=0.02,
    )
    for got, expected, name in zip(
        re.findall(r"(\d+) pm", texts["third"]), (138, 102), ("K+", "Na+"), strict=True
    ):
        outside(
            f"radius of {name}, sixfold [pm]",
            float(got),
            expected,
            source="Shannon, Acta Cryst. A32 (1976) 751",
            status="found",
            abs_=0,
        )


# --- forms ----------------------------------------------------------------------------------


def test_a_form_is_the_same_for_one_seed_and_another_for_another():
    asked = bank().questions
    first, again, other = shuffled(asked, 1), shuffled(asked, 1), shuffled(asked, 2)
    assert first == again
    assert [item.key for item in first] != [item.key for item in other]
    assert sorted(item.key for item in first) == sorted(KEYS)


def test_shuffling_keeps_answers_with_their_replies():
    for item in shuffled(bank().questions, 5):
        assert set(item.options) == set(question(item.key).options)
    mixed = {item.key: item for item in shuffled(bank().questions, 5)}
    assert any(mixed[key].options != question(key).options for key in KEYS)
    with pytest.raises(
        ValueError, match=r"^seed must be a whole number, 0 <= seed <= 4294967295; got -1"
    ):
        shuffled(bank().questions, -1)


# --- an edited table ------------------------------------------------------------------------


def edited(tmp_path, old, new, encoding="utf-8"):
    assert TABLE.count(old) == 1, old
    path = tmp_path / "mine.csv"
    path.write_bytes(TABLE.replace(old, new).encode(encoding))
    return read_bank(path)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("30 MPa,,", "30 MPa,quiddity,", "no idea 'quiddity' in ideas.csv: flows"),
        ("7 MPa,,Dividing", "7 MPa,Dividing", "8 cells where the first line names 9"),
        (',flaws,1,"Two equal', ',flaws,5,"Two equal', "level must be 1 or 2; got '5'"),
        (
            'one over the square root.",yes',
            'one over the square root.",',
            "one answer must be marked correct",
        ),
        (
            'one over the square root.",yes',
            'one over the square root.",true',
            "correct must be yes or empty",
        ),
    ],
)
def test_a_slip_is_told_with_its_line_and_the_rest_is_asked(tmp_path, old, new, what):
    made = edited(tmp_path, old, new)
    assert len(made.questions) == len(KEYS) - 1
    assert len(made.troubles) == 4
    told = [fault for fault in made.troubles if what in fault.words]
    assert len(told) == 1
    place = next(i for i, line in enumerate(TABLE.splitlines(), 1) if old in line)
    if "one answer" not in what and "level" not in what:
        assert told[0].line == place
        assert str(told[0]).startswith(f"line {place}: ")
    others = [fault.words for fault in made.troubles if fault is not told[0]]
    assert all(f"left out with line {told[0].line}" in other for other in others)


def test_spreadsheets_that_write_semicolons_and_old_code_pages_are_read(tmp_path):
    rows = list(csv.reader(TABLE.splitlines()))
    path = tmp_path / "semicolons.csv"
    with path.open("w", newline="", encoding="cp1252") as file:
        csv.writer(file, delimiter=";").writerows(rows)
    made = read_bank(path)
    assert made.troubles == ()
    assert made.questions == bank().questions
    path.write_text(TABLE, encoding="utf-8-sig")
    assert read_bank(path).questions == bank().questions


def test_a_table_without_its_columns_says_which(tmp_path):
    path = tmp_path / "wrong.csv"
    path.write_text("a,b\n1,2\n", encoding="utf-8")
    assert str(read_bank(path).troubles[0]).startswith("line 1: the first line must name the")
    path.write_text("", encoding="utf-8")
    assert len(read_bank(path).troubles) == 1


@given(st.data())
def test_no_line_is_lost_however_a_table_is_spoilt(data):
    lines = TABLE.splitlines()[:40]
    for _ in range(data.draw(st.integers(1, 5))):
        place = data.draw(st.integers(1, len(lines) - 1))
        cells = lines[place].split(",")
        cell = data.draw(st.integers(0, len(cells) - 1))
        cells[cell] = data.draw(st.sampled_from(["", "yes", "x", "Ω,", "2", "nick"]))
        lines[place] = ",".join(cells)
    made = questions._parsed("\n".join(lines), questions._ideas())
    used = sum(len(item.options) for item in made.questions) + len(made.troubles)
    rows = [row for row in csv.reader(lines[1:]) if any(map(str.strip, row))]
    assert used == len(rows)


# --- numbers --------------------------------------------------------------------------------


def test_all_kinds_of_the_table_have_units():
    for item in number_questions():
        assert units_of(item.kind)


def test_unknown_questions_are_refused():
    with pytest.raises(ValueError, match=r"^question must be one of "):
        question("no such")
