# SPDX-License-Identifier: MIT
"""The form of the break log alone: what is stored is what was typed, and can be mended."""

import pytest

from glasskit.demonstration import read_log
from glasskit.demonstration.breaklog import add
from glasskit.live.breaklog import LogForm

FILE = "demonstration/evening.csv"


@pytest.fixture
def form(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def replanned():
        made.ask(["ordinary", "toughened"], 1.4321)  # as the planner does after each blow
        made.read()

    made = LogForm(FILE, replanned)
    replanned()
    return made


def blow(form, height, went, number=""):
    form.height.box.value, form.went.value, form.number.value = height, went, number
    form.button.click()


def test_the_plan_offers_a_height_until_the_reader_has_one(form):
    assert form.height.value == 1.43
    form.ask(["ordinary", "toughened"], 2.0)
    assert form.height.value == 2.0
    form.height.box.value = "1.0"
    form.ask(["ordinary", "toughened"], 2.0)
    assert form.height.value == 1.0


def test_what_is_stored_is_what_was_typed_whatever_is_planned_meanwhile(form):
    form.height.box.value, form.pane.value = "1.0", "toughened"
    form.file.value = "demonstration/another.csv"  # plans anew
    form.ask(["ordinary", "salt"], 0.7)
    assert (form.height.value, form.pane.value) == (1.0, "toughened")
    form.went.value = "it broke"
    form.button.click()
    [entry] = read_log("demonstration/another.csv").entries
    assert (entry.pane, entry.height, entry.broke) == ("toughened", 1.0, True)
    assert "Stored: toughened, 1.00 m, broke" in form.stored.value
    assert form.height.value == 1.0, "the last height stays"


def test_a_blow_is_corrected_and_taken_back(form):
    assert form.correct.disabled
    assert form.take_back.disabled
    blow(form, "9.0", "it broke", "#2")
    blow(form, "0.8", "it held", "#2")
    assert [said for said, _ in form.blows.options] == [
        "2: ordinary #2, 0.800 m, held",
        "1: ordinary #2, 9.00 m, broke",
    ]
    form.blows.index = 1
    form.correct.click()
    assert (form.height.value, form.went.value, form.number.value) == (9.0, "it broke", "2")
    form.correct.click()  # leave it after all
    assert form.button.description == "Add this blow to the log"
    form.blows.index = 1
    form.correct.click()
    form.height.box.value = "0.90"
    form.button.click()
    assert [entry.height for entry in read_log(FILE).entries] == [0.8, 0.9]
    assert "One blow taken back" in form.report.value
    form.take_back.click()
    assert "Taken back: ordinary #2, 0.900 m, broke" in form.stored.value
    assert "“ordinary” broke: 0 of 1 from 0.800 m" in form.report.value
    with open(FILE) as file:
        assert len(file.readlines()) == 6, "nothing is struck out"


def test_a_blow_that_another_window_took_back_is_not_taken_back_twice(form):
    blow(form, "1.0", "it broke")
    add(FILE, instead_of=read_log(FILE).entries)
    form.take_back.click()
    assert "must be in the log" in form.note.value
    form.correct.click()
    form.button.click()
    assert "must be in the log" in form.note.value
    assert read_log(FILE).entries == ()


def test_heights_are_said_in_the_units_shown(form):
    blow(form, "1.0", "it held")
    form.use("us")
    form.read()
    assert "0 of 1 from 3.3 ft" in form.report.value
    assert form.blows.options[0][0] == "1: ordinary, 3.3 ft, held"
