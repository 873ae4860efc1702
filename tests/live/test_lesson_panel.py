# SPDX-License-Identifier: MIT
import re
from html import unescape

import pytest

from glasskit.classroom import Lesson, question, topics
from glasskit.live import lesson as live
from glasskit.sheets import lesson as sheets


@pytest.fixture
def panel():
    made = live.run_a_lesson()
    yield made
    made.close()


def test_all_follows_from_the_choice(panel):
    panel.topic.value, panel.age.value = "ions", "16-18"
    assert panel.lesson == Lesson(topic="ions", age="16-18")
    assert panel.vote.title == question("holes").text
    assert panel.vote.result.size == 28
    assert "03_ions_to_scale.ipynb" in panel.plan.value
    assert "Mind the scissors." in panel.plan.value
    panel.pupils.value = 12
    assert panel.vote.result.size == 12
    panel.topic.value, panel.words.value = "quench", "lay"
    assert "squeezed" in panel.vote.title
    panel.words.value = "examined"
    assert "compress" in panel.vote.title


def test_a_class_is_known_by_number_or_by_nicknames_that_bring_no_markup(panel):
    panel.named.value = "Kim, <b>Bo</b>,, Kim "
    assert panel.lesson.names == ("Kim", "<b>Bo</b>", "Kim")
    assert panel.pupils.disabled
    assert panel.vote.result.size == 3
    assert "Materials for 3 pupils" in panel.plan.value
    assert "&lt;b&gt;Bo" in sheets.answer_key(panel.lesson)
    panel.named.value = ""
    assert panel.lesson.names == ("",) * 28
    assert not panel.pupils.disabled


def test_what_cannot_be_taught_is_said_and_the_last_lesson_stays(panel):
    panel.minutes.value = 90
    panel.lessons.value = 3
    assert "Minutes must be a whole number, 30 &lt;= minutes &lt;= 50" in panel.note.value
    assert panel.lesson.lessons == 1
    panel.minutes.value = 45
    assert panel.note.value == ""
    assert "Lesson 3: " in panel.plan.value


@pytest.mark.parametrize("topic", topics())
def test_nothing_on_the_wall_answers_the_question(topic):
    lesson = Lesson(topic=topic, age="14-16", words="lay")
    asked = question(lesson.about["vote"])
    seen = re.sub(r"(?s)<details>.*?</details>", "", live.plan_of(lesson))
    right = asked.options[asked.correct]
    assert right.text not in unescape(seen)
    assert "Explain" not in seen


def test_the_slider_comes_when_asked_for_and_goes_with_another_lesson(panel):
    assert panel.shown is None
    panel.look.click()
    assert panel.shown is not None
    panel.topic.value = "flow"
    assert panel.shown is None


def test_screens_count_once_a_question_is_closed_and_when_it_is_put_up_again(panel):
    first, other = (key for _, key in panel.asked.options[:2])

    def counted(when):
        vote = panel.vote
        return [vote.controls[f"{when}_{name}"].value for name in vote._names]

    given = {first: {"before": [5, 4, 0, 0], "after": [0, 0, 0, 0]}}
    panel._heard({"stage": "before", "key": first, "given": given})
    assert counted("before") == [0, 0, 0, 0], "nobody shall follow the others"
    given = given | {other: {"before": [1, 0, 0, 0], "after": [0, 0, 0, 0]}}
    panel._heard({"stage": "talk", "key": other, "given": given})
    assert counted("before") == [5, 4, 0, 0], "it is closed by another one"
    panel.asked.value = other
    assert counted("before") == [1, 0, 0, 0]
    panel.asked.value = first
    assert counted("before") == [5, 4, 0, 0]


def test_tickets_say_what_to_teach_again_or_what_is_wrong_with_the_letters(panel):
    panel.first.value = panel.second.value = "A" * 28
    panel.count()
    assert "of 56 answers are right" in panel.told.value
    panel.second.value = "A"
    panel.count()
    assert "Second must hold 28 letters, one a ticket; got 1" in panel._counted.value


def test_the_pages_are_written_and_linked(panel, tmp_path, monkeypatch):
    monkeypatch.setattr("glasskit.live.to_go._FEW", 3)
    monkeypatch.setattr("glasskit.sheets.bound.browser", lambda: "")
    monkeypatch.chdir(tmp_path)
    panel.pupils.value = 2
    panel.save()
    assert all(path.exists() for path in panel.paths)
    assert 'href="lesson/breaks-11-14-50min/0_print_this.html"' in panel.saved.value
    assert "save it as a PDF" in panel.saved.value
    assert sheets.numbered(panel.lesson) == ["W3"]
    (tmp_path / "file").touch()
    panel.folder.value = "file"
    panel.save()
    assert panel.paths == []
    assert "could not be saved" in panel.note.value


def test_writing_shows_life_and_leaves_nothing_when_stopped(panel, tmp_path, monkeypatch):
    monkeypatch.setattr("glasskit.sheets.bound.browser", lambda: "")
    monkeypatch.chdir(tmp_path)
    panel.pupils.value = 2
    steps, seen = panel._written(), []
    for share, doing in steps:
        seen.append((share, doing))
        if len(seen) == 3:
            break
    steps.close()
    shares = [share for share, _ in seen]
    assert shares == sorted(shares)
    assert "sliders for pupils: 01p why glass breaks: metric units: picture 3" in seen[-1][1]
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []
