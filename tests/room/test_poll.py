# SPDX-License-Identifier: MIT
"""The counts of a class, without a server."""

from dataclasses import replace

import pytest

from glasskit.classroom import question
from glasskit.room.poll import MOST_READINGS, Full, Poll

NICK, GRIT = question("nick"), question("grit")


@pytest.fixture
def poll():
    return Poll(size=8, questions=[NICK, GRIT])


@pytest.mark.parametrize(("size", "most"), [(1, 6), (20, 25), (21, 27), (60, 75)])
def test_a_quarter_more_browsers_than_pupils_come_in_and_five_at_least(size, most):
    poll = Poll(size=size, questions=[NICK])
    assert len({poll.come_in() for _ in range(most)}) == most
    assert len(poll.pupils) == most
    with pytest.raises(Full, match=f"{most} browsers have come in for a class of {size}"):
        poll.come_in()


def test_answers_are_kept_for_each_question_before_and_after(poll):
    one, other = poll.come_in(), poll.come_in()
    poll.show("before")
    poll.answer(one, poll.task, "0")
    poll.answer(other, poll.task, "3")
    poll.answer(other, poll.task, "1")
    poll.show("after")
    poll.answer(one, poll.task, "2")
    poll.show("before", 1)
    poll.answer(one, poll.task, "0")
    assert poll.tally_of(NICK).before == (1, 1, 0, 0)
    assert poll.tally_of(NICK).after == (0, 0, 1, 0)
    assert poll.tally_of(NICK).size == 8
    assert poll.tally.question == GRIT
    assert poll.tally.before[0] == 1
    poll.show("told", 0)
    assert (poll.answered(one, "before"), poll.answered(one, "after")) == (0, 2)
    assert poll.answered(other, "after") is None
    assert poll.tally.revealed
    assert not poll.tally_of(GRIT).revealed
    assert poll.given == {
        "nick": {"before": (1, 1, 0, 0), "after": (0, 0, 1, 0)},
        "grit": {"before": (1, 0, 0, 0), "after": (0, 0, 0, 0)},
    }


def test_only_what_was_asked_was_answered_and_the_words_on_the_screens_count(poll):
    assert poll.given == {}
    poll.questions = [NICK, replace(NICK, text="Said in other words?")]
    one = poll.come_in()
    for place in (0, 1):
        poll.show("before", place)
        poll.answer(one, poll.task, str(place))
    assert poll.given["nick"]["before"] == (0, 1, 0, 0)
    poll.show("talk", 0)
    assert poll.given["nick"]["before"] == (1, 0, 0, 0)


@pytest.mark.parametrize("stage", ["wait", "talk", "told", "readings"])
def test_nothing_counts_while_a_question_is_not_open(poll, stage):
    one = poll.come_in()
    poll.show(stage)
    with pytest.raises(ValueError, match="not counted"):
        poll.answer(one, poll.task, "0")
    assert sum(poll.tally.before + poll.tally.after) == 0


def test_what_pupils_see_has_a_version_and_questions_a_number(poll):
    assert (poll.version, poll.number) == (0, 0)
    poll.show("before", 1)
    assert (poll.version, poll.number, poll.task) == (1, 1, "1-before")
    poll.show("before")
    assert poll.version == 1  # nothing has changed
    poll.show("talk")
    assert (poll.version, poll.place) == (2, 1)
    poll.show("before", 0)
    assert (poll.version, poll.number) == (3, 2)
    poll.show("after", 1)
    assert poll.number == 1
    for stage, place in (("before", 2), ("before", -1), ("party", 0)):
        with pytest.raises(ValueError, match="there is no"):
            poll.show(stage, place)


def test_how_many_have_answered_is_said_for_what_is_asked(poll):
    one = poll.come_in()
    assert poll.said == "Come in: 1 of 8."
    poll.show("before")
    poll.answer(one, poll.task, "0")
    poll.show("talk")
    assert poll.said == "Come in: 1 of 8; answered, before: 1."
    poll.show("after")
    assert poll.said == "Come in: 1 of 8; answered, after: 0."
    poll.ask_for_readings("round")
    poll.send(one, "1", ["60", "100", "1.8"], False)
    assert poll.said == "Come in: 1 of 8; sticks sent: 1, by 1 of them."
    poll.send(one, "2", ["61", "100", "1.8"], False)
    poll.send(poll.come_in(), "2", ["61", "100", "1.8"], False)
    assert poll.said == "Come in: 2 of 8; sticks sent: 3, by 2 of them."
    for _ in range(6):
        poll.come_in()
    assert "more than the class has" not in poll.said
    poll.come_in()
    assert "more than the class has" in poll.said


def test_other_columns_begin_anew_and_the_same_go_on(poll):
    one = poll.come_in()
    poll.ask_for_readings("flat", ["whole", "nicked"])
    assert poll.columns == ["kind", "mass / g", "span / mm", "width / mm", "height / mm"]
    poll.send(one, "1", ["whole", "900", "100", "25", "4"], False)
    poll.show("wait")
    poll.ask_for_readings("flat", ["whole", "nicked"])
    assert [sent.text for sent in poll.readings(one)] == ["whole; 900; 100; 25; 4"]
    version = poll.version
    poll.ask_for_readings("flat")
    assert (poll.readings(one), poll.version) == ([], version + 1)
    poll.ask_for_readings("round")
    assert poll.sheet == "mass / g; span / mm; diameter / mm\n"


def test_a_row_holds_what_was_typed_in_one_line(poll):
    one = poll.come_in()
    poll.ask_for_readings("round")
    poll.send(one, "1", [" 60 \n", "100", "1,8"], False)
    poll.send(one, "2", ["6000 !", "100", "1.8!"], True)
    poll.send(one, "3", ["0" * 22 + "60", "100", "1.8"], False)
    assert poll.sheet.splitlines()[1:3] == ["60; 100; 1,8", "6000 !; 100!; 1.8!"]
    with pytest.raises(ValueError, match="at most 24 signs"):
        poll.send(one, "4", ["0" * 23 + "60", "100", "1.8"], False)
    with pytest.raises(ValueError, match="say that you have checked it"):
        poll.send(one, "4", ["600000", "100", "1.8"], False)


def test_so_many_readings_and_each_once(poll):
    one, other = poll.come_in(), poll.come_in()
    poll.ask_for_readings("round")
    for number in range(MOST_READINGS):
        poll.send(one, str(number), [str(60 + number), "100", "1.8"], False)
    poll.send(one, "0", ["60", "100", "1.8"], False)  # sent again: it is there
    with pytest.raises(ValueError, match="12 sticks are enough"):
        poll.send(one, "12", ["60", "100", "1.8"], False)
    poll.send(other, "0", ["70", "100", "1.8"], False)
    poll.take_back(other, "1")
    poll.take_back(one, "0")
    texts = [sent.text.split(";")[0] for sent in poll.readings(one) + poll.readings(other)]
    assert texts == [str(60 + number) for number in range(1, MOST_READINGS)] + ["70"]
