# SPDX-License-Identifier: MIT
"""A lesson from start to end: a teacher at the desk, thirty pupils, one of them in a browser.

Teacher and pupil use the keyboard alone. The other pupils are requests without a browser.
"""

import os
import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

import pytest
from rooms import Pupil, open_forms, serving

from browser.aloud import findings
from browser.lab import PATIENCE, SECONDS, why_no_browser
from glasskit.classroom import question
from glasskit.room import telephone
from glasskit.room.__main__ import _asked
from glasskit.room.answers import application, lesson_poll
from glasskit.room.forms import SEAT
from glasskit.room.pages import _DOOR, _HEAD, _STYLE
from glasskit.room.seats import Seats

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=why_no_browser() or "-"),
    pytest.mark.skipif(shutil.which("bwrap") is None, reason="no ordinary account"),
]

PUPILS = 30
NICK = question("nick")
SMALL = """() => [...document.querySelectorAll(
    'button, a, select, .choice, input:is(:not([type]), [type=text])')]
  .filter(it => it.getBoundingClientRect().height < 44).map(it => it.textContent)"""
NAMED = """() => { const at = document.activeElement;
  return at === document.body ? '' : (at.labels?.[0] || at).textContent.trim(); }"""


class AtKeyboard:
    """A browser in which only keys are pressed."""

    def __init__(self, browser, **size):
        self.page = browser.new_context(viewport=size).new_page()
        self.page.set_default_timeout(PATIENCE * SECONDS)
        self.page.clock.install()  # see `sees`
        self.wrong = []
        self.page.on("pageerror", lambda error: self.wrong.append(error))

    def press(self, name, key="Enter"):
        """Go on with Tab until something of this name has the focus, and press a key."""
        for _ in range(40):
            self.page.keyboard.press("Tab")
            if self.page.evaluate(NAMED).startswith(name):
                self.page.keyboard.press(key)
                return
        pytest.fail(f"Tab does not come to {name!r}")

    def sees(self, text):
        """Wait for it; a page that asks every three seconds what is new asks at once."""
        from playwright.sync_api import TimeoutError as NotYet

        wanted = self.page.get_by_text(text).first
        for _ in range(PATIENCE):
            self.page.clock.fast_forward(3 * SECONDS)
            with suppress(NotYet):
                wanted.wait_for(timeout=SECONDS)
                return
        pytest.fail(f"never saw {text!r}")

    def choose(self, letter):
        """Tick an answer: Tab into the group, arrows within, Tab to its button."""
        self.press(("A", "B", "C", "D"), "Space")
        for _ in range(4):
            if self.page.evaluate(NAMED).startswith(letter):
                break
            self.page.keyboard.press("ArrowDown")
        self.page.keyboard.press("Enter")  # sends the form from where it is
        self.sees("Your answer is in")

    def looks_right(self):
        """Check that nothing is cut off, scrolls sideways or is too small to touch."""
        width = "document.documentElement.scrollWidth - innerWidth"
        assert self.page.evaluate(width) <= 0
        assert self.page.evaluate(SMALL) == []

    def keep(self, name):
        """Check what is said; keep a screenshot where GLASSKIT_SCREENSHOTS says."""
        assert findings(self.page) == []
        if folder := os.environ.get("GLASSKIT_SCREENSHOTS"):
            Path(folder).mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=Path(folder) / f"answers-{name}.png", full_page=True)


def test_thirty_answer_a_lesson_one_of_them_by_keyboard(browser, tmp_path):
    words = ("answers", f"--seats={PUPILS}")
    with open_forms(tmp_path, *words, until="devices come") as (address, printed):
        code = re.search(r"Code for all pupils: (\S+)", printed)[1]
        word = re.search(r"word: (\S+)", printed)[1]
        teacher = AtKeyboard(browser, width=1280, height=800)
        teacher.page.goto(f"{address}/desk")
        teacher.press("Word", "Home")
        teacher.page.keyboard.type(word)
        teacher.page.keyboard.press("Enter")
        teacher.sees("Come in: 0 of 30")

        pupil = AtKeyboard(browser, width=360, height=740)
        pupil.page.goto(f"{address}/{code}")
        pupil.looks_right()
        pupil.press("Come in")
        pupil.sees("Nothing is asked yet")
        others = [Pupil(address) for _ in range(PUPILS - 1)]
        with ThreadPoolExecutor(10) as at_once:

            def all_do(path, forms):
                done = at_once.map(
                    lambda one, form: one.fill_in(path, **form)[0], others, forms
                )
                assert set(done) == {200}

            all_do("/come-in", [{"code": code}] * len(others))
            teacher.sees("Come in: 30 of 30")

            teacher.press("Ask")
            pupil.sees(NICK.text)
            pupil.page.get_by_role("group", name=NICK.text).wait_for()
            pupil.page.get_by_role("radio", name=f"B: {NICK.options[1].text}").wait_for()
            pupil.looks_right()
            pupil.keep("asked")
            pupil.choose("B")
            pupil.page.reload()
            assert pupil.page.get_by_role("radio", name="B: ").is_checked()
            all_do("/answer", [{"option": str(n % 4)} for n in range(len(others))])
            teacher.sees("answered, before: 30")
            teacher.keep("before")

            teacher.press("Close it: talk it over")
            pupil.sees("Convince your neighbour")
            teacher.press("Ask again")
            pupil.sees("Question 1, after talking it over")
            pupil.sees("Before talking you said B.")
            pupil.choose("C")
            pupil.looks_right()
            all_do("/answer", [{"option": str(NICK.correct)}] * len(others))
            teacher.sees("answered, after: 30")

        teacher.press("Tell what happens")
        # Source: hand calculation; of 29 who answer A, B, C, D in turn 7 say C before.
        teacher.sees("What happens: C, from 7 of 30 to 30 of 30 hands")
        teacher.keep("told")
        pupil.sees("After talking you said")
        pupil.sees(NICK.options[NICK.correct].reply)
        pupil.looks_right()
        pupil.keep("told-pupil")
        teacher.press("Ask the next question")
        teacher.sees("answered, before: 0")
        pupil.sees("Question 2, before talking it over")
        pupil.choose("A")

        teacher.press("Ask for readings")
        pupil.sees("Your readings")
        pupil.press("Mass", "Home")
        for number in ("60", "100", "1,8"):
            pupil.page.keyboard.type(number)
            pupil.page.keyboard.press("Tab")
        pupil.page.keyboard.press("Enter")
        pupil.sees("You have sent 1 of at most 12")
        pupil.looks_right()
        pupil.keep("reading")
        teacher.page.get_by_role("cell", name="1,8").wait_for()
        assert teacher.wrong + pupil.wrong == []
        for one in (teacher, pupil):
            one.page.context.close()


def test_without_scripts_the_page_goes_on_as_well(browser):
    room = _asked(["answers", "--seats=5"])
    poll = lesson_poll(room)
    with serving(application(room, Seats(1), poll)) as address:
        context = browser.new_context(java_script_enabled=False)
        page = context.new_page()
        page.set_default_timeout(PATIENCE * SECONDS)
        page.goto(f"{address}/{room.code}")
        page.get_by_role("button", name="Come in").click()
        page.get_by_text("Nothing is asked yet").wait_for()
        poll.show("before")
        page.get_by_role("radio", name="B: ").check()  # comes by itself within five seconds
        page.get_by_role("button", name="Send this answer").click()
        page.get_by_text("Your answer is in: B.").wait_for()
        poll.show("talk")
        page.get_by_role("link", name="Is there something new?").click()
        page.get_by_text("Convince your neighbour").wait_for()
        assert poll.tally.before == (0, 1, 0, 0)
        context.close()


def test_a_helper_logs_a_blow_by_keyboard_on_a_telephone(browser, tmp_path):
    room, seats = _asked(["telephone", f"--log={tmp_path / 'log.csv'}"]), Seats(1)
    with serving(telephone.application(room, seats)) as address:
        helper = AtKeyboard(browser, width=360, height=740)
        helper.page.goto(address)
        helper.looks_right()
        helper.keep("telephone-door")
        helper.press("Word", "Home")
        helper.page.keyboard.type(seats.words[SEAT][0])
        helper.page.keyboard.press("Enter")
        helper.sees("In the log")
        helper.press("Height", "1")
        helper.page.keyboard.press("Enter")
        helper.page.get_by_role("alert").wait_for()  # it was not said which pane did what
        helper.looks_right()
        helper.keep("telephone-refused")
        helper.press("ordinary", "Space")
        helper.press("broke", "Space")
        helper.page.keyboard.press("Enter")
        helper.sees("Stored: ordinary, 1.00 m, broke")
        helper.looks_right()
        helper.keep("telephone-stored")
        assert helper.wrong == []
        helper.page.context.close()


@pytest.mark.parametrize("message", ["", "That word does not open that seat."])
def test_the_door_to_a_seat_is_for_fingers_and_readers(browser, message):
    visitor = AtKeyboard(browser, width=360, height=740)
    head = _HEAD.format(title="Take your seat", style=_STYLE)
    visitor.page.set_content(head + _DOOR.format(message=message, xsrf=""))
    visitor.looks_right()
    visitor.keep("seat-door")
    visitor.page.context.close()
