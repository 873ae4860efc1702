# SPDX-License-Identifier: MIT
"""The trainee's file: whole or as it was, never lost, and the record made from it."""

import datetime
import json
import os
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from glasskit.sheets.training import competences, practice_record
from glasskit.training import Attempt, Progress, open_progress, save_progress
from glasskit.training.cases import KINDS
from glasskit.words.training import progress_sentence

DAY = datetime.date(2030, 5, 31)
DONE = Attempt(mistake="psi", seed=1, day=DAY, guesses=1, tries=2, named=True, solved=True)
OPEN = Attempt(mistake="pooled", seed=1, day=DAY, hints=3)
BOTH = Progress(trainee="Ada Ünal", attempts=(DONE, OPEN))


def test_what_was_saved_is_read_back(tmp_path):
    path = tmp_path / "new folder" / "mine.json"
    assert open_progress(path).progress == Progress()
    save_progress(BOTH, path)
    opened = open_progress(path)
    assert (opened.progress, opened.trouble) == (BOTH, "")
    assert [one.name for one in path.parent.iterdir()] == ["mine.json"]


def test_attempts_are_counted_once_each():
    assert BOTH.learned == ("psi",)
    again = BOTH.with_attempt(replace(OPEN, named=True, solved=True))
    assert len(again.attempts) == 2
    assert again.learned == ("psi", "pooled")
    assert again.of("psi", 1, DAY) == DONE
    assert again.of("psi", 2, DAY) == Attempt(mistake="psi", seed=2, day=DAY)


def test_a_crash_while_writing_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "mine.json"
    save_progress(BOTH, path)

    def crash(*_):
        raise OSError("power cut")

    monkeypatch.setattr(os, "replace", crash)
    with pytest.raises(OSError, match="power cut"):
        save_progress(replace(BOTH, trainee="Ben"), path)
    assert open_progress(path).progress == BOTH
    assert [one.name for one in tmp_path.glob("*.*")] == ["mine.json"]


WHOLE = json.loads(
    '{"version": 1, "trainee": "A", "attempts": [{"mistake": "psi", "seed": 1, "day":'
    ' "2030-05-31", "guesses": 0, "tries": 0, "hints": 0, "named": false, "solved": false}]}'
)


def changed(**entries):
    held = json.loads(json.dumps(WHOLE))
    held["attempts"][0].update(entries)
    return json.dumps(held).encode()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b'{"version": 1, "trainee": "A", "attempts": [{"mis',
        b"\xff\xfe\x00",
        b"[1, 2]",
        b'{"version": 2, "trainee": "A", "attempts": []}',
        b'{"version": 1, "trainee": 5, "attempts": []}',
        b'{"version": 1, "trainee": "A", "attempts": 7}',
        b'{"version": 1, "trainee": "A"}',
        b"[" * 200_000,
    ],
)
def test_a_damaged_file_is_kept_aside_and_reported(tmp_path, content):
    path = tmp_path / "mine.json"
    path.write_bytes(content)
    opened = open_progress(path)
    assert opened.progress == Progress()
    assert "mine-damaged-01.json" in opened.trouble
    assert (tmp_path / "mine-damaged-01.json").read_bytes() == content
    save_progress(BOTH, path)
    path.write_bytes(content)
    assert "mine-damaged-02.json" in open_progress(path).trouble
    assert (tmp_path / "mine-damaged-01.json").read_bytes() == content


def test_a_file_that_another_page_puts_right_meanwhile_is_not_moved_away(
    tmp_path, monkeypatch
):
    path = tmp_path / "mine.json"
    path.write_bytes(b"damaged")

    @contextmanager
    def after_the_other(place):
        place.unlink()
        save_progress(BOTH, place)
        yield

    monkeypatch.setattr("glasskit.training.progress.locked", after_the_other)
    opened = open_progress(path)
    assert (opened.progress, opened.trouble) == (BOTH, "")
    assert [one.name for one in tmp_path.iterdir()] == ["mine.json"]


@pytest.mark.parametrize(
    "content",
    [
        changed(mistake="laziness"),
        changed(day="yesterday"),
        changed(tries=-1),
        changed(tries="two"),
        changed(named="yes"),
        changed(other=1),
        json.dumps({**WHOLE, "attempts": [7]}).encode(),
        json.dumps({**WHOLE, "attempts": [{"mistake": "psi"}]}).encode(),
    ],
)
def test_an_entry_that_is_not_understood_stays_and_spoils_no_other(tmp_path, content):
    path = tmp_path / "mine.json"
    path.write_bytes(content)
    assert open_progress(path).progress == Progress(trainee="A")
    assert "1 of 1 entries in mine.json cannot be understood" in open_progress(path).trouble
    saved = save_progress(BOTH, path)
    assert (saved.progress, "they stay there" in saved.trouble) == (BOTH, True)
    assert open_progress(path).progress == BOTH
    assert json.loads(path.read_bytes())["attempts"][-1:] == json.loads(content)["attempts"]


def test_two_open_pages_keep_the_most_of_both(tmp_path):
    path = tmp_path / "mine.json"
    save_progress(Progress(trainee="Ada", attempts=(replace(DONE, hints=2, tries=1),)), path)
    now = save_progress(Progress(attempts=(replace(DONE, solved=False), OPEN)), path)
    assert now.progress == Progress(trainee="Ada", attempts=(replace(DONE, hints=2), OPEN))
    assert open_progress(path).progress == now.progress


def test_after_a_reading_that_failed_nothing_is_written(tmp_path, monkeypatch):
    path = tmp_path / "mine.json"
    save_progress(BOTH, path)
    before = path.read_bytes()

    def refuse(*_):
        raise PermissionError("not yours")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "read_bytes", refuse)
        with pytest.raises(PermissionError, match="not yours"):
            save_progress(Progress(attempts=(OPEN,)), path)
    assert path.read_bytes() == before


def test_a_whole_file_written_by_hand_is_read(tmp_path):
    path = tmp_path / "mine.json"
    path.write_text(json.dumps(WHOLE))
    assert open_progress(path).trouble == ""


def test_sentences_count_the_kinds():
    assert f"{len(KINDS)} kinds" in progress_sentence(Progress())
    assert progress_sentence(BOTH).startswith(f"1 of {len(KINDS)} ")
    everything = Progress(attempts=tuple(replace(DONE, mistake=kind) for kind in KINDS))
    assert progress_sentence(everything).startswith(f"All {len(KINDS)} ")


def test_the_record_holds_every_attempt_and_lines_to_sign():
    page = practice_record(BOTH, {"laboratory": "<Bay 2>"}, on=DAY)
    assert "Ada Ünal" in page
    assert "&lt;Bay 2&gt;" in page
    assert "psi and MPa confused (set 1, working in words)" in page
    assert "found and put right" in page
    assert "signature of the supervisor" in page
    assert all(shown in page for _, shown in competences())
    assert "2030-05-31" in page
    with pytest.raises(ValueError, match=r"^field must be one of"):
        practice_record(BOTH, {"grade": "A"})
