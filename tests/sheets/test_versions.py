# SPDX-License-Identifier: MIT
"""Worksheets for pupils who see little or nothing: large print, and words alone."""

import re
from html import unescape

import pytest

from glasskit import sheets
from glasskit.classroom import Lesson, topics
from glasskit.live.lesson import LessonPanel
from glasskit.sheets import lesson as made
from glasskit.sheets.bound import bound

CASES = [(topic, age) for topic in topics() for age in ("8-11", "14-16", "16-18")]


def all_of(lesson, version):
    parts = [sheets.worksheets_for_all(lesson, version=version)]
    parts += [sheets.worksheets(lesson, version=version)] if made.numbered(lesson) else []
    return [*parts, sheets.exit_tickets(lesson, version=version)]


def numbers(text):
    return re.findall(r"\d+(?:\.\d+)?", re.sub(r"<[^>]*>", " ", unescape(text)))


@pytest.mark.parametrize(("topic", "age"), CASES)
def test_in_words_there_is_no_picture_and_every_place_to_write_has_a_name(topic, age):
    lesson = Lesson(topic=topic, age=age, minutes=90, pupils=2)
    for ordinary, heard in zip(all_of(lesson, ""), all_of(lesson, "words"), strict=True):
        assert "<img" not in heard
        assert not re.search(r"\bDraw (the|it|squeeze|them)", re.sub(r"<[^>]*>", " ", heard))
        assert 'class="fill"></span>' not in heard
        assert "<td></td>" not in heard
        named = re.findall(r'aria-label="(answer \d+)"', heard)
        assert len(named) == len(set(named)) == heard.count('role="textbox"') > 0
        # What the key answers is asked in both: no number of a pupil's own is lost.
        body = ordinary.split("<main>")[1]
        lost = set(numbers(body)) - set(numbers(heard))
        assert not {number for number in lost if "." in number}


@pytest.mark.parametrize("topic", topics())
def test_large_print_says_the_same_as_the_ordinary(topic):
    lesson = Lesson(topic=topic, age="16-18", minutes=90, pupils=1)
    for ordinary, large in zip(all_of(lesson, ""), all_of(lesson, "large"), strict=True):
        assert '<html lang="en" class="large">' in large
        plain = re.sub(r'src="[^"]*"', "", ordinary).replace(' lang="en"', "")
        same = re.sub(r'src="[^"]*"', "", large).replace(' lang="en" class="large"', "")
        assert plain == same


def test_the_pack_holds_the_versions_that_were_chosen(tmp_path, monkeypatch):
    monkeypatch.setattr("glasskit.sheets.bound.browser", lambda: "")
    lesson = Lesson(pupils=2, also=("large", "words"))
    paths = sheets.lesson_pack(tmp_path, lesson)
    names = [path.name for path in paths if path.name.startswith(("9", "10"))]
    assert names == ["9_large_print.html", "10_in_words_for_blind_pupils.html"]
    large, heard = (next(p for p in paths if p.name == name).read_text() for name in names)
    assert 'class="large"' in large
    assert 'href="#number-2"' in heard
    assert 'id="number-2"' in heard


def test_a_teacher_chooses_them_on_the_page():
    panel = LessonPanel()
    panel.also.value = ("words",)
    assert panel.lesson.also == ("words",)
    panel.close()


def test_a_version_that_is_not_made_is_refused():
    with pytest.raises(ValueError, match=r"^version must be one of"):
        sheets.exit_tickets(Lesson(), version="braille")
    with pytest.raises(ValueError, match=r"^also must be one of large, words"):
        Lesson(also=("braille",))


def test_large_print_stays_large_when_bound():
    one = sheets.exit_tickets(Lesson(pupils=1), version="large")
    assert 'class="large"' in bound("All", [one], [], (210, 297), "large")
    heard = sheets.exit_tickets(Lesson(pupils=1), version="words")
    assert "answer 1" in bound("All", [heard], [], (210, 297), "words")
