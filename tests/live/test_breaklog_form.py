# SPDX-License-Identifier: MIT
"""The form of the break log alone: what is stored is what was typed, and can be mended."""

from dataclasses import replace

import pytest

from glasskit.demonstration import read_log
from glasskit.demonstration.breaklog import add
from glasskit.live.breaklog import LogForm

FILE = "demonstration/evening.csv"


@pytest.fixture
def form(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def replanned():
        made.ask(["ordinary", "toughened"])  # as the planner does after each blow
        made.read()

    made = LogForm(FILE, replanned)
    replanned()
    return made


def blow(form, height, went, number=""):
    form.height.value, form.went.value, form.number.value = height, went, number
    form.button.click()


def test_no_height_is_evidence_that_nobody_has_typed(form):
    blow(form, "", "it broke")
    assert "Say the height it fell from" in form.note.value
    blow(form, "１.０", "it broke")
    assert "got “１.０”" in form.note.value
    blow(form, "30", "it broke")
    assert "was another unit meant?" in form.note.value
    assert (form.height.value, form.went.value) == ("30", "it broke")
    assert read_log(FILE).entries == ()


def test_the_number_of_a_pane_stays_until_it_is_broken(form):
    blow(form, "1", "it held", "3")
    assert form.number.value == "3"
    blow(form, "1.5", "it broke", "3")
    assert form.number.value == ""


def test_what_is_stored_is_what_was_typed_whatever_is_planned_meanwhile(form):
    form.height.value, form.pane.value = "1.00", "toughened"
    form.file.value = "demonstration/another.csv"  # plans anew
    form.ask(["ordinary", "salt"])
    assert (form.height.value, form.pane.value) == ("1.00", "toughened")
    form.went.value = "it broke"
    form.button.click()
    [entry] = read_log("demonstration/another.csv").entries
    assert (entry.pane, entry.height, entry.broke) == ("toughened", 1.0, True)
    assert "Stored: toughened, 1.00 m, broke" in form.stored.value
    assert form.height.value == "1.00", "the last height stays"


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
    assert (form.height.value, form.went.value, form.number.value) == ("9 m", "it broke", "2")
    form.correct.click()  # leave it after all
    assert form.button.description == "Add this blow to the log"
    form.blows.index = 1
    form.correct.click()
    form.height.value = "0.90"
    form.button.click()
    assert [entry.height for entry in read_log(FILE).entries] == [0.8, 0.9]
    assert "One blow corrected." in form.report.value
    assert "taken back" not in form.report.value
    form.take_back.click()
    assert "One blow taken back." in form.report.value
    assert "Taken back: ordinary #2, 0.900 m, broke" in form.stored.value
    assert "“ordinary” broke: 0 of 1 from 0.800 m" in form.report.value
    assert "The last, the newest first: ordinary #2, 0.800 m, held." in form.report.value
    with open(FILE) as file:
        assert len(file.readlines()) == 6, "nothing is struck out"


def test_a_blow_from_elsewhere_moves_neither_a_choice_nor_a_correction(form):
    blow(form, "1.0", "it broke")
    blow(form, "2.0", "it broke")
    form.blows.index = 1
    add(FILE, replace(read_log(FILE).entries[0], height=3.0))
    form.read()
    assert form.blows.value.height == 1.0
    form.blows.index = 0
    form.correct.click()
    add(FILE, replace(read_log(FILE).entries[0], height=4.0))
    form.read()
    assert form.blows.value.height == 3.0
    assert (form.height.value, form.take_back.disabled) == ("3 m", True)


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
    # Definition of the international foot: 0.3048 m, so a metre has 3.2808 of them.
    assert "0 of 1 from 3.28 ft" in form.report.value
    assert form.blows.options[0][0] == "1: ordinary, 3.28 ft, held"
    assert (form.height.value, form.height.description) == ("1.0 m", "height / ft")
    form.went.value = "it broke"
    form.button.click()
    blow(form, "5", "it broke")
    got = [entry.height for entry in read_log(FILE).entries]
    assert got == [1.0, 1.0, pytest.approx(1.524, rel=1e-12)]
