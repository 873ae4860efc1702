# SPDX-License-Identifier: MIT
import itertools
import re
from pathlib import Path

import pytest

from glasskit.classroom import AGES, Lesson, bank, curriculum, question, read_tickets, topics
from glasskit.classroom.lessons import MINUTES, SERIES
from glasskit.tables import STATUSES, read
from glasskit.words.tickets import tickets_numbers, tickets_sentence

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
LENGTHS = range(MINUTES[0], MINUTES[1] + 1, 5)
ALL = [
    Lesson(topic=topic, age=age, minutes=minutes)
    for topic, age, minutes in itertools.product(topics(), AGES, LENGTHS)
] + [
    Lesson(topic=topic, age=age, minutes=minutes, lessons=SERIES)
    for topic, age, minutes in itertools.product(topics(), AGES, range(30, 51, 10))
]
MUST = ["Predict", "Observe", "Explain", "Exit ticket"]
# What each topic is about, in the words of the bank of questions.
ABOUT = {
    "breaks": {"flaws", "scatter", "time"},
    "shut": {"shut", "balance", "impact"},
    "ions": {"swap"},
    "bath": {"bath"},
    "quench": {"balance"},
    "energy": {"energy", "surface", "impact"},
    "flow": {"solid"},
    "crumbs": {"crumbs", "impact"},
}


def test_the_minutes_of_every_plan_suffice():
    for lesson in ALL:
        for period in lesson.periods:
            assert sum(phase.minutes for phase in period.core) <= period.minutes
        if lesson.lessons == 1:
            (period,) = lesson.periods
            names = [phase.name for phase in period.core]
            assert [name for name in names if name in MUST] == MUST
            more = sum(phase.more_minutes for phase in period.core)
            more += sum(phase.minutes for phase in period.spare)
            assert period.taken + more >= period.minutes  # no lesson runs dry


def test_a_longer_lesson_teaches_no_less():
    for lesson in ALL:
        if lesson.lessons == 1 and lesson.minutes > 30:
            shorter = Lesson(
                topic=lesson.topic, age=lesson.age, minutes=lesson.minutes - 5
            ).periods[0]
            assert lesson.periods[0].taken >= shorter.taken


def test_a_series_holds_each_phase_once_but_for_the_recall():
    lesson = Lesson(lessons=3, minutes=45)
    names = [phase.name for phase in lesson.core]
    assert len(lesson.periods) == 3
    assert names.count("Recall") == 2
    assert len(set(names)) == len(names) - 1
    assert names[-1] == "Exit ticket"


COMMON = "that this they them with which more less than only must have into over what does"


def words(text):
    """Return the beginnings of the words that say something."""
    found = re.findall(r"[a-z0-9.]{4,}", text.lower())
    return {word[:5] for word in found if word not in COMMON.split()}


def test_tickets_ask_only_what_the_lesson_taught():
    topic_of = {one.key: one.topic for one in bank().questions}
    for lesson in ALL:
        core = [phase.teaches for phase in lesson.core]
        asked = {one.key for ticket in lesson.tickets for one in ticket}
        assert len(asked) >= 2
        for key in asked:
            assert any(key in taught for taught in core), (lesson, key)
            assert topic_of[key] in ABOUT[lesson.topic], (lesson, key)


def test_each_phase_teaches_its_questions_in_words():
    for row in read("lesson_phases"):
        for key in row["teaches"].split():
            right = question(key).options[question(key).correct]
            told = words(f"{row['teacher']} {row['pupils']}")
            assert words(f"{right.text} {right.reply}") & told, (key, row["teacher"])


def test_the_young_are_not_asked_for_stress_in_numbers():
    for lesson in ALL:
        if lesson.age == "8-11":
            for key in lesson.taught:
                asked = question(key)
                texts = [asked.text, *(option.text for option in asked.options)]
                assert "MPa" not in " ".join(texts), key


def test_every_lesson_serves_a_curriculum_and_its_pages_are_there():
    there = {path.stem for path in NOTEBOOKS.glob("*.ipynb")}
    for row in curriculum():
        assert set(row["topics"].split(";")) <= set(topics())
        assert set(row["ages"].split(";")) <= set(AGES)
        assert set(row["pages"].split(";")) <= there
    for lesson in ALL:
        assert len(lesson.curriculum) >= 2, lesson
        assert lesson.notes("support"), lesson
        assert lesson.notes("stretch"), lesson


def test_phases_send_nobody_to_a_page_that_is_not_of_the_lesson():
    for lesson in ALL:
        there = {page.split("_")[0] for page in lesson.pages}
        for phase in (*lesson.core, *(one for each in lesson.periods for one in each.spare)):
            named = re.findall(r"page (\d\w+)", f"{phase.teacher} {phase.kit} {phase.more}")
            assert set(named) <= there, (lesson, phase)
    short = Lesson(topic="shut", age="14-16", minutes=60)
    assert short.planned_pages == ("02_a_crack_pressed_shut",)
    assert short.pages[1] == "11_keys_and_sand"


def test_tables_of_the_lesson_are_whole():
    handled = {row["activity"] for row in read("lesson_cautions")}
    named = {row["activity"] for row in read("lesson_hazards")}
    assert handled <= named
    for row in read("lesson_hazards"):
        assert all(row.values()), row
        assert row["status"] in STATUSES
    for row in read("lesson_phases"):
        assert row["topic"] in ("", *topics())
        assert set(filter(None, row["ages"].split(";"))) <= set(AGES)
        assert set(filter(None, row["activities"].split(";"))) <= handled
        assert bool(row["more"]) == (int(row["more_minutes"]) > 0)
    for row in read("lesson_notes"):
        assert row["activity"] in ("", *handled)
    for row in read("lesson_materials"):
        assert row["per"] in ("pupil", "group", "class")
        assert set(row["activities"].split(";")) <= handled


def test_what_can_hurt_has_hazard_caution_and_material():
    for lesson in ALL:
        assert len(lesson.cautions) == len(lesson.activities)
        assert set(lesson.activities) <= {row["activity"] for row in lesson.hazards}
        if lesson.activities:
            assert lesson.materials
        if "Bending sticks" in lesson.activities or "Dropping" in lesson.activities:
            goggles = [row for row in lesson.materials if "goggles" in row["item"]]
            assert int(goggles[0]["amount"]) == 28
        names = [row["item"] for row in lesson.materials]
        assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("wrong", "match"),
    [
        ({"topic": "bronze"}, r"^topic must be one of breaks, shut, .*; got 'bronze'"),
        ({"age": "5-7"}, r"^age must be one of 8-11, 11-14, 14-16, 16-18; got '5-7'"),
        ({"minutes": 29}, r"^minutes must be a whole number, 30 <= minutes <= 90; got 29"),
        (
            {"minutes": 90, "lessons": 3},
            r"^minutes must be a whole number, 30 <= minutes <= 50; got 90",
        ),
        ({"lessons": 2}, r"^lessons must be one of 1, 3; got 2"),
        ({"pupils": 0}, r"^pupils must be a whole number, 1 <= pupils <= 200; got 0"),
        ({"pupils": []}, r"^pupils must be a whole number, 1 <= pupils <= 200; got 0"),
        ({"pupils": 201}, r"^pupils must be a whole number, 1 <= pupils <= 200; got 201"),
        ({"words": "long"}, r"^words must be one of .*lay, examined; got 'long'"),
        ({"paper": "A3"}, r"^paper must be one of A4, Letter; got 'A3'"),
        ({"mass": 9.0}, r"^mass must lie in 0.01 <= mass <= 5; got 9 kg"),
        ({"seed": -1}, r"^seed must be a whole number, 0 <= seed .* got -1"),
    ],
)
def test_a_wrong_wish_is_refused(wrong, match):
    with pytest.raises(ValueError, match=match):
        Lesson(**wrong)


@pytest.mark.parametrize(
    ("age", "words_", "spoken"),
    [
        ("8-11", "", "8-11"),
        ("8-11", "examined", "14-16"),
        ("16-18", "", "16-18"),
        ("16-18", "lay", "11-14"),
        ("14-16", "examined", "14-16"),
    ],
)
def test_words_follow_the_age_unless_chosen(age, words_, spoken):
    assert Lesson(age=age, words=words_).spoken_as == spoken


# --- tickets that came back -----------------------------------------------------------------


def letters_for(lesson, choose):
    """Return both rows of letters, with the option that `choose` picks for each question."""
    return [
        "".join("ABCDEF"[choose(ticket[place])] for ticket in lesson.tickets)
        for place in (0, 1)
    ]


def test_right_letters_leave_nothing_to_teach_again():
    lesson = Lesson(age="14-16", seed=3)
    result = read_tickets(lesson, *letters_for(lesson, lambda asked: asked.correct))
    assert all(one.right == one.given for one in result.asked)
    assert sum(one.given for one in result.asked) == 56
    assert result.ideas == ()
    assert "nothing to repeat" in tickets_sentence(result)


def test_the_idea_that_most_have_chosen_is_taught_again():
    lesson = Lesson(topic="crumbs", age="8-11", pupils=28)

    def hold(asked):
        ideas = [option.idea for option in asked.options]
        return ideas.index("crumbs") if "crumbs" in ideas else asked.correct

    rows = letters_for(lesson, hold)
    result = read_tickets(lesson, f" {rows[0].lower()} ", ", ".join(rows[1]))
    asked = sum(one.key == "crumble" for ticket in lesson.tickets for one in ticket)
    assert result.ideas[0][1] == asked  # counted once more, from the tickets
    said = tickets_sentence(result)
    assert said.index("Teach again: the idea that the size of the crumbs shows") > 0
    assert f"“Why does a toughened pane go to crumbs?”: 0 of {asked}" in said
    assert (
        "the idea that the size of the crumbs shows how weak the glass was or how hard "
        "the blow",
        str(asked),
    ) in tickets_numbers(result)


def test_letters_that_do_not_fit_are_refused():
    lesson = Lesson(pupils=3)
    assert read_tickets(lesson, "A-B", "---").missing == 4
    with pytest.raises(ValueError, match=r"^first must hold 3 letters, one a ticket; got 2"):
        read_tickets(lesson, "AB", "ABC")
    with pytest.raises(
        ValueError,
        match=r"^second must hold letters from A to D, or - .* got 'X' for ticket 2",
    ):
        read_tickets(lesson, "ABC", "AXC")
