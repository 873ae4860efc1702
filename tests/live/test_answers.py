# SPDX-License-Identifier: MIT
"""Pages 30 and 31 as desks of a room: a real one, opened by their button."""

import os
import re
import time

import pytest
from rooms import ORDINARY, READY, Pupil

from glasskit.classroom import question
from glasskit.live import answers
from glasskit.live.answers import networks
from glasskit.live.lesson import run_a_lesson
from glasskit.live.results import class_explorer


@pytest.fixture(autouse=True)
def _ordinary(monkeypatch):
    """Let the button open a room where the tests run as root."""
    if os.geteuid() == 0:
        monkeypatch.setattr(answers, "_COMMAND", [*ORDINARY, *answers._COMMAND])


def eventually(check):
    limit = time.monotonic() + READY
    while not check():
        assert time.monotonic() < limit
        time.sleep(0.05)


def opened(screens):
    """Press the button, wait for the room and come in."""
    screens.open.click()
    eventually(lambda: screens.invitation.value)
    address, code = re.findall(r"<b>(.*?)</b>", screens.invitation.value)
    one = Pupil(address.rstrip("/"))
    assert one.fill_in("/come-in", code=code)[0] == 200
    return one


def test_answers_from_screens_are_added_to_the_hands_of_the_vote():
    panel = run_a_lesson()
    try:
        one = opened(panel.screens)
        count = panel.vote.controls["before_B"].box
        panel.screens.actions["Ask"].click()
        eventually(lambda: "Question 1" in one.ask("/")[1])
        one.fill_in("/answer", option="1")
        eventually(lambda: "answered, before: 1" in panel.screens.said.value)
        assert sum(panel.vote.result.before) == 0  # nobody shall follow the others
        panel.screens.actions["Close it: talk it over"].click()
        eventually(lambda: panel.vote.result.before[1] == 1)
        count.value += 2  # two hands of pupils without a screen
        panel.screens.actions["Ask"].click()
        eventually(lambda: "Question 1" in one.ask("/")[1])
        one.fill_in("/answer", option="2")
        panel.screens.actions["Close it: talk it over"].click()
        eventually(lambda: panel.vote.result.before[2] == 1)
        assert count.value == 2
        panel.vote.reset()
        eventually(lambda: panel.vote.result.before == (0, 0, 1, 0))
        panel.vote.controls["revealed"].button.click()
        eventually(lambda: "What happens" in one.ask("/")[1])
        panel.vote.controls["revealed"].button.click()
        eventually(lambda: "Talk it over" in one.ask("/")[1])
        first, second = (key for _, key in panel.asked.options[:2])
        panel.asked.value = second
        panel.screens.actions["Ask"].click()
        eventually(lambda: question(second).text in one.ask("/")[1])
        assert sum(panel.vote.result.before) == 0
        panel.asked.value = first
        panel.screens.actions["Close it: talk it over"].click()
        eventually(lambda: panel.vote.result.before == (0, 0, 1, 0))
        panel.screens.open.click()
        assert not panel.screens.is_open
        assert "nothing was kept" in panel.screens.note.value
        with pytest.raises(OSError, match="refused"):
            one.ask("/")
    finally:
        panel.close()


def test_readings_come_into_the_class_s_sheet_and_mended_rows_stay():
    explorer = class_explorer()
    sheet = explorer.controls["sheet"]
    before = sheet.area.value
    try:
        explorer.kinds.value = "whole, nicked"
        one = opened(explorer.screens)
        assert sheet.area.value == before
        explorer.screens.actions["Ask for readings"].click()
        eventually(lambda: "kind; mass / g" in sheet.area.value)
        for mass in ("60", "70", "80"):
            one.fill_in("/reading", cell0="whole", cell1=mass, cell2="100", cell3="1.8")
        eventually(lambda: "80" in sheet.area.value)
        sheet.area.value = sheet.area.value.replace("70;", "7.0;")
        one.fill_in("/reading", cell0="nicked", cell1="45", cell2="100", cell3="1.8")
        eventually(lambda: "45" in sheet.area.value)
        rows = sheet.area.value.splitlines()[1:]
        assert [row.split("; ")[1] for row in rows] == ["60", "7.0", "80", "45"]
        sheet.go_back()
        assert sheet.area.value == before
        explorer.kinds.value = "<b>"
        explorer.screens.actions["Ask for readings"].click()
        eventually(lambda: "Kinds must be single words" in explorer.screens.note.value)
    finally:
        explorer.close()
    with pytest.raises(OSError, match="refused"):
        one.ask("/")


def test_who_reaches_the_page_is_said_before_it_is_opened():
    panel = run_a_lesson()
    screens = panel.screens
    assert screens.reach.value == "127.0.0.1"
    screens.reach.options = [*screens.reach.options, ("the network of 10.0.0.5", "10.0.0.5")]
    screens.reach.value = "10.0.0.5"
    assert "Everybody on this network reaches the page" in screens.note.value
    screens.reach.value = "127.0.0.1"
    assert "Only this machine reaches the page" in screens.note.value
    assert all(one.disabled for one in screens.actions.values())
    screens.ask({"stage": "before"})  # nothing is open, nothing happens
    panel.close()


def test_a_room_that_stays_shut_says_why():
    panel = run_a_lesson()
    panel.pupils.value = 200
    panel.screens.open.click()
    eventually(lambda: not panel.screens.is_open)
    assert "--seats must be 1 to 60; got 200." in panel.screens.note.value
    assert panel.screens.open.description.startswith("Let pupils answer")
    panel.close()


def test_two_pages_that_open_rooms_at_the_same_moment_get_one_each():
    panels = [run_a_lesson(), run_a_lesson()]
    screens = [panel.screens for panel in panels]
    try:
        for one in screens:
            one.open.click()
        eventually(lambda: all(one.invitation.value for one in screens))
        assert all(one.is_open for one in screens)
        addresses = {re.search(r"<b>(.*?)</b>", one.invitation.value)[1] for one in screens}
        assert len(addresses) == 2
    finally:
        for panel in panels:
            panel.close()


def test_only_networks_that_are_closed_are_offered():
    (_, first), *others = networks()
    assert first == "127.0.0.1"
    assert all(not at.startswith(("127.", "169.254.")) for _, at in others)
