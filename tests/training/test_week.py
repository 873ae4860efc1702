# SPDX-License-Identifier: MIT
"""The record of the week: it grows, nothing in it is lost, spreadsheets get no formula."""

import datetime

import pytest

from glasskit.sheets.training import week_record
from glasskit.training import Entry, Week, add_entry, incidents, open_week, tasks
from glasskit.words.week import DAYS, week_rows, week_sentence

DAY = datetime.date(2030, 1, 7)


def entry(task="induction", evidence="page, signed", **more):
    return Entry(day=DAY, task=task, evidence=evidence, **more)


def test_the_week_has_tasks_for_every_day_and_evidence_for_each():
    assert {task.day for task in tasks().values()} == set(DAYS)
    assert all(task.words and task.evidence for task in tasks().values())
    assert len(tasks()) >= 20


def test_a_record_grows_and_keeps_what_is_in_it(tmp_path):
    path = tmp_path / "new" / "my_week.csv"
    add_entry(path, entry())
    odd = 'ring; "two"\nlines, =1+1'
    week = add_entry(path, entry("waste", odd, seen_by="=Ada"))
    assert week.done == {"induction", "waste"}
    assert week.entries[1].evidence == 'ring; "two" lines, =1+1'
    assert week.entries[1].seen_by == "=Ada"
    assert "'=Ada" in path.read_text(encoding="utf-8")
    assert open_week(path) == week


def test_a_line_that_is_not_understood_stays(tmp_path):
    path = tmp_path / "my_week.csv"
    add_entry(path, entry())
    with path.open("a", encoding="utf-8") as file:
        file.write("yesterday;induction;page;Ada\n2030-01-08;juggling;three balls;Ada\nx;y\n")
    week = add_entry(path, entry("waste"))
    assert len(week.entries) == 2
    assert [trouble.line for trouble in week.troubles] == [3, 4, 5]
    assert "three balls" in path.read_text(encoding="utf-8")


def test_sentences_count_tasks_days_and_what_nobody_saw():
    assert "No task has evidence yet" in week_sentence(Week())
    one = Week(entries=(entry(), entry("waste", seen_by="Ada")))
    assert week_sentence(one).startswith(f"2 of {len(tasks())} tasks")
    assert "on 1 day." in week_sentence(one)
    assert "Seen by nobody: 1." in week_sentence(one)
    many = Week(entries=tuple(entry(task) for task in list(tasks())[:9]))
    assert "whoever signs will ask" in week_sentence(many)


def test_the_page_to_sign_holds_every_task_and_escapes():
    page = week_record(Week(entries=(entry(evidence="<b>page</b>"),)), {"trainee": "Ada"})
    assert "&lt;b&gt;page" in page
    assert "<b>page" not in page
    assert all(row[1].split(":")[0] in page.replace("&#39;", "'") for row in week_rows(Week()))


def test_what_is_no_entry_is_refused():
    with pytest.raises(ValueError, match=r"^task must be one of induction"):
        entry("juggling")
    with pytest.raises(ValueError, match=r"^evidence must say what shows"):
        entry(evidence="  ")
    with pytest.raises(TypeError, match=r"^day must be"):
        Entry(day="2030-01-07", task="induction", evidence="page")


def test_an_incident_has_one_right_answer_and_it_stops_or_asks():
    for one in incidents():
        assert len(one.options) == len(one.replies) == 4
        right = one.options[one.right].lower()
        assert any(word in right for word in ("stop", "ask", "call", "tell")), right
        assert one.replies[one.right].startswith("Yes")
