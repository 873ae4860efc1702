# SPDX-License-Identifier: MIT
"""Choosing a file: what cannot be read costs nothing that was read before."""

import asyncio
from datetime import UTC, datetime
from pathlib import Path

import pytest

from glasskit.live.recording import INVENTED, Recording
from glasskit.live.results import Pasted


def counted(media):
    held = media if isinstance(media, bytes) else Path(media).read_bytes()
    yield 0.5, "counting"
    if b"no" in held:
        raise ValueError("media must be readable, got a file that is not")
    return len(held)


@pytest.fixture
def recording(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "recordings").mkdir()
    (tmp_path / "recordings" / "Bounce.WAV").write_bytes(b"four")
    (tmp_path / "notes.txt").write_bytes(b"no sound")
    return Recording("length", "sound", (".wav", ".m4a"), counted, lambda: b"example")


def said(recording):
    return recording.note.value


def test_the_invented_example_stands_there_from_the_start(recording):
    assert recording.value == 7
    assert recording.source == INVENTED


def test_files_beside_the_page_are_listed_and_read_by_name(recording):
    assert list(recording.chosen.options) == ["recordings/Bounce.WAV"]
    told = []
    recording.on_change(lambda: told.append(recording.value))
    recording.chosen.value = "recordings/Bounce.WAV"
    assert told == [4]
    assert recording.source == "Bounce.WAV"
    assert "Read Bounce.WAV" in said(recording)


def test_a_small_file_from_anywhere_is_read(recording):
    file = {"name": "tap.m4a", "type": "", "size": 3, "content": b"tap"}
    file["last_modified"] = datetime(2030, 5, 31, tzinfo=UTC)
    recording.upload.set_trait("value", (file,))
    assert recording.value == 3
    assert recording.source == "tap.m4a"


def test_what_cannot_be_read_is_said_and_what_was_there_stays(recording):
    for name in ("notes.txt", "missing.wav"):
        recording.chosen.value = name
        assert f"Did not read {name}: " in said(recording)
        assert INVENTED in said(recording)
        assert recording.value == 7


def test_a_name_with_markup_is_shown_as_it_is(recording):
    recording.chosen.value = "<img src=x>.wav"
    assert "&lt;img src=x&gt;" in said(recording)


def test_a_stopped_reading_leaves_what_was_there(recording):
    async def stopped():
        recording.chosen.value = "recordings/Bounce.WAV"
        await asyncio.sleep(0)
        recording.work.stop.click()
        await asyncio.sleep(0.1)

    asyncio.run(stopped())
    assert recording.value == 7
    assert "Stopped" in recording.work.said.value
    assert not recording.upload.disabled


def test_the_example_comes_back(recording):
    recording.chosen.value = "recordings/Bounce.WAV"
    recording.example.click()
    assert recording.value == 7
    assert recording.source == INVENTED


def test_every_button_that_opens_a_file_holds_a_large_one_back(recording):
    # What the guard does is tried in a browser: tests/browser/test_recording.py.
    for control, instead in ((recording, "drag it onto"), (Pasted("sheet"), "keep the rows")):
        assert "glasskit-upload" in control.widget._dom_classes
        guard = control.widget.children[-1].value
        assert "has more than 8 MB" in guard
        assert instead in guard
