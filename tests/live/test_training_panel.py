# SPDX-License-Identifier: MIT
"""The practice panel without a browser: every button, and the file behind it."""

import json
from pathlib import Path

import pytest

from glasskit.live.training import practice_panel
from glasskit.quantities import to_display
from glasskit.training import open_progress, practice_set
from glasskit.training.cases import KINDS


@pytest.fixture
def panel(tmp_path):
    return practice_panel(tmp_path / "mine.json")


def type_in(panel, value):
    panel.number.value = f"{to_display(value, panel.case.quantity).item():.4g}"
    panel.check.click()


def test_every_case_can_be_picked_named_and_put_right(panel, tmp_path):
    assert len(panel.picks) == len(KINDS)
    for pick in panel.picks:
        pick.click()
        assert panel.case.title in panel.story.value.replace("&#x27;", "'")
        panel.choices[panel.case.choices.index(panel.case.mistake)].click()
        assert "Yes: " in panel.reply.value
        type_in(panel, panel.case.truth)
        assert "Right: " in panel.reply.value
        assert pick.icon == "check"
    assert f"All {len(KINDS)} kinds" in panel.state.value
    assert len(open_progress(tmp_path / "mine.json").progress.learned) == len(KINDS)


def test_wrong_tries_are_counted_and_answered(panel):
    place = [one.mistake for one in practice_set(1)].index("gross_span")
    panel.picks[place].click()
    wrong = next(kind for kind in panel.case.choices if kind != panel.case.mistake)
    panel.choices[panel.case.choices.index(wrong)].click()
    assert "Not here: " in panel.reply.value
    type_in(panel, panel.case.planted)
    assert "still contains the mistake" in panel.reply.value
    panel.number.value = "a lot"
    panel.check.click()
    assert "write a number in" in panel.reply.value
    attempt = panel.progress.attempts[0]
    assert (attempt.guesses, attempt.tries, attempt.done) == (1, 1, False)
    assert panel.picks[place].icon == ""


def test_hints_come_one_by_one_and_stay(panel):
    panel.picks[2].click()
    for count in (1, 2, 3):
        panel.hint.click()
        assert panel.hints.value.count("<li>") == count
    assert panel.hint.disabled
    panel.picks[3].click()
    assert panel.hints.value == ""
    panel.picks[2].click()
    assert panel.hints.value.count("<li>") == 3


def test_closing_and_opening_again_goes_on_where_one_was(panel, tmp_path):
    panel.name.value = "Ada"
    panel.picks[0].click()
    type_in(panel, panel.case.truth)
    again = practice_panel(tmp_path / "mine.json")
    assert again.name.value == "Ada"
    assert again.progress == panel.progress


def test_a_damaged_file_is_reported_and_work_goes_on(tmp_path):
    path = tmp_path / "mine.json"
    path.write_text('{"version": 1, "trai')
    panel = practice_panel(path)
    assert "mine-damaged-01.json" in panel.note.value
    panel.hint.click()
    assert json.loads(path.read_text())["attempts"][0]["hints"] == 1


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "in the way").write_text("")
    panel = practice_panel(tmp_path / "in the way" / "mine.json")
    assert "cannot be read" in panel.note.value
    panel.hint.click()
    assert "cannot be written" in panel.note.value
    assert panel.save_record() is None
    assert "cannot be saved" in panel.note.value


def test_another_set_has_other_numbers_and_the_record_holds_both(panel, tmp_path):
    panel.hint.click()
    panel.other.click()
    assert panel.case.seed == 2
    panel.hint.click()
    panel.record.click()
    page = (tmp_path / "mine-record.html").read_text(encoding="utf-8")
    assert "(set 1, working in words)" in page
    assert "(set 2, working in words)" in page
    assert "print it and have it signed" in panel.note.value


def test_larger_type_and_back(panel):
    panel.larger.click()
    assert "glasskit-large" in panel.widget._dom_classes
    panel.larger.click()
    assert "glasskit-large" not in panel.widget._dom_classes


def test_a_second_page_on_the_same_file_loses_nothing(panel, tmp_path):
    other = practice_panel(tmp_path / "mine.json")
    for pick in (0, 1, 2):
        panel.picks[pick].click()
        panel.hint.click()
    other.picks[4].click()
    other.hint.click()
    assert len(other.progress.attempts) == 4
    assert len(open_progress(tmp_path / "mine.json").progress.attempts) == 4


def test_a_file_that_cannot_be_read_is_never_written_over(panel, tmp_path, monkeypatch):
    panel.name.value = "Ada"
    panel.hint.click()
    before = (tmp_path / "mine.json").read_bytes()

    def refuse(*_):
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "read_bytes", refuse)
        panel.open()
        assert "The file cannot be read: Permission denied" in panel.note.value
        panel.hint.click()
        assert "cannot be written: Permission denied" in panel.note.value
    assert (tmp_path / "mine.json").read_bytes() == before
    panel.hint.click()
    assert "written again" in panel.note.value
    assert open_progress(tmp_path / "mine.json").progress.trainee == "Ada"


@pytest.mark.parametrize("name", ["", ".", "/", "..", "a\0b", "\ud800"])
def test_what_is_no_name_is_said(panel, name):
    panel.file.value = name
    panel.hint.click()
    assert "must have a name" in panel.note.value
    assert panel.save_record() is None
    assert "must have a name" in panel.note.value


def test_the_record_never_takes_the_place_of_the_progress(tmp_path):
    panel = practice_panel(tmp_path / "mine.html")
    panel.hint.click()
    assert panel.save_record().name == "mine-record.html"
    assert len(open_progress(tmp_path / "mine.html").progress.attempts) == 1


def test_a_right_number_without_a_name_says_so(panel):
    type_in(panel, panel.case.truth)
    assert "that is still missing" in panel.reply.value
    assert "still to be named in 1" in panel.state.value
    panel.choices[panel.case.choices.index(panel.case.mistake)].click()
    assert "still to be named" not in panel.state.value


def test_a_choice_after_the_right_one_takes_nothing_back(panel):
    panel.choices[panel.case.choices.index(panel.case.mistake)].click()
    for choice in panel.choices:
        choice.click()
        assert "Yes: " in panel.reply.value


def test_numbers_only_is_a_level_of_its_own_and_the_case_stays(panel, tmp_path):
    panel.picks[7].click()
    before, words = panel.case, panel.story.value
    type_in(panel, before.truth)
    panel.harder.click()
    assert panel.case.story == before.story
    assert panel.story.value != words
    assert not panel.progress.of(before.mistake, 1, before_day(panel), 2).solved
    panel.hint.click()
    panel.harder.click()
    assert panel.story.value == words
    held = open_progress(tmp_path / "mine.json").progress
    assert {one.level for one in held.attempts} == {1, 2}


def before_day(panel):
    return panel.progress.attempts[0].day


def test_a_record_that_lacks_the_last_answer_is_not_said_to_be_saved(panel):
    panel.record.click()
    assert panel.note.value.startswith("Saved ")
    panel.choices[0].click()
    assert panel.note.value == ""
