# SPDX-License-Identifier: MIT
"""Nobody left out: a whole lesson by keys alone, and as a screen reader tells it."""

import re

import pytest

from browser.aloud import Listener, findings
from browser.lab import OpenNotebook, leave_notebook, open_notebook, why_no_browser
from glasskit import sheets
from glasskit.classroom import Lesson, topics
from glasskit.sheets.lesson import numbered

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=why_no_browser() or "-"),
]

SMALLEST = """() => Math.min(...[...document.querySelectorAll('main *, td *')]
  .filter(it => [...it.childNodes].some(one => one.nodeType === 3 && one.textContent.trim()))
  .map(it => parseFloat(getComputedStyle(it).fontSize)))"""
WIDE = """() => [...document.querySelectorAll('*')].filter(item =>
  item.scrollWidth > item.clientWidth + 1 && item.clientWidth > 0
  && getComputedStyle(item).display !== 'inline').map(item => item.outerHTML)"""
WALK = 80  # stops with Tab, more than any page has


class Walk(Listener):
    """Somebody who has a keyboard and hears what is said."""

    def __init__(self, page):
        super().__init__(page)
        self.heard = []

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)

    def to(self, role, name):
        """Go on with Tab until that is reached; return what is said there."""
        for _ in range(WALK):
            self.press("Tab")
            told = self.focused()
            self.heard.append(told)
            if told["role"] == role and re.search(name, told["name"]):
                return told
        stops = [f"{told['role']} {told['name']}" for told in self.heard[-WALK:]]
        raise AssertionError(f"never came to {role} {name}: {stops}")

    def said_now(self, role, words):
        """Return the place of this role that holds some words."""
        named = {node["element"]: node for node in self.tree()}
        texts = self.page.evaluate(
            """role => [...document.querySelectorAll(`[role=${role}]`)]
              .filter(it => it.offsetParent).map(it => it.textContent)""",
            role,
        )
        assert any(re.search(words, text) for text in texts), texts
        assert any(node["role"] == role for node in named.values())

    def places(self, role):
        """Return the elements of this role, by what the tree calls them."""
        return {node["element"] for node in self.tree() if node["role"] == role}


def opened(page, name, kernels):
    """Open a page of the kit, and return it."""
    open_notebook(page, name, kernels)
    page.wait_for_function(
        "jupyterapp.shell.currentWidget.content.widgets.every(cell => cell.isReady ?? true)"
    )
    page.evaluate("jupyterapp.shell.currentWidget.content.activate()")
    return Walk(page)


def test_a_pupil_walks_the_short_page_by_keys_and_by_ear(page, kernels):
    walk = opened(page, "01p_why_glass_breaks.ipynb", kernels)
    seen = page.locator(".jp-Notebook:visible")
    assert "four times the depth" not in seen.inner_text(), "told before it is asked"
    assert "breaks at a stress of" not in seen.inner_text()

    walk.press(*["Shift+Enter"] * 4)  # three with words, and the question
    page.locator(".glasskit-choice:visible").first.wait_for()
    answer = walk.to("button", "half")
    assert answer["pressed"] in ("false", False)
    replies = walk.places("status")
    walk.press("Enter")
    page.locator(".glasskit-picture img:visible").wait_for()
    page.wait_for_function("document.activeElement.ariaPressed === 'true'")
    told = walk.focused()  # the focus has stayed
    assert told["pressed"] in ("true", True)
    assert "your answer" in told["name"]
    walk.said_now("status", "^(That is what happens|Not quite)")
    assert replies <= walk.places("status"), "a region that changes its text stays"
    page.wait_for_function(
        "document.querySelector('.jp-Notebook').innerText.includes('four times the depth')"
    )

    slider = walk.to("slider", "depth of")
    assert (slider["valuetext"], slider["value"]) == ("20 µm", 20), "not its logarithm"
    places = walk.places("status")
    walk.press("ArrowRight", "ArrowRight")
    page.wait_for_function("document.activeElement.ariaValueText === '21.9 µm'")
    assert walk.focused()["valuetext"] == "21.9 µm"
    page.wait_for_function(
        """[...document.querySelectorAll('[role=status]')]
          .some(it => it.textContent.includes('22 µm'))"""
    )
    assert walk.places("status") == places
    walk.press("Shift+Tab")
    box = walk.focused()
    assert (box["role"], box["name"]) == ("textbox", "depth of scratch / µm")
    walk.press("Control+A")
    page.keyboard.type("deep")
    alerts = walk.places("alert")
    walk.press("Enter")
    page.wait_for_function(
        """[...document.querySelectorAll('[role=alert]')]
          .some(it => it.offsetParent && it.textContent.includes('got “deep”'))"""
    )
    assert walk.places("alert") == alerts
    walk.press("Control+A")
    page.keyboard.type("80 µm")
    walk.press("Enter")
    page.wait_for_function(  # or the units may come first: two threads take them
        """[...document.querySelectorAll('.noUi-handle')]
          .some(it => it.ariaValueText === '80 µm')"""
    )
    walk.to("button", "US units")
    walk.press("Enter")
    page.wait_for_function(
        """[...document.querySelectorAll('.noUi-handle')]
          .some(it => it.ariaValueText === '3.1 mil')"""
    )
    page.wait_for_function(  # the picture speaks of the units that are shown
        """[...document.querySelectorAll('.glasskit-picture img')]
          .every(it => it.alt.includes('3.1 mil') && !it.alt.includes('80 µm'))"""
    )

    walk.to("DisclosureTriangle", "Answer")  # out of the panel again, and on to the questions
    walk.press("Enter")
    page.locator("details[open]", has_text="about four times as deep").wait_for()
    nameless = [told for told in walk.heard if told["role"] != "generic" and not told["name"]]
    assert nameless == []
    assert findings(page, ".jp-OutputArea-output, .jp-RenderedMarkdown") == []
    leave_notebook(page, kernels)


def test_a_teacher_runs_a_lesson_by_keys_and_by_ear(page, kernels):
    notebook = OpenNotebook(page, "30_run_a_lesson.ipynb", kernels, r"\brun_a_lesson\(")
    walk = Walk(page)

    def choose_the_next():
        vote = page.get_by_role("button", name="one more: A, before").element_handle()
        walk.press("ArrowDown")
        vote.wait_for_element_state("hidden")  # another lesson, another vote

    page.locator(".glasskit:visible select").first.focus()
    assert walk.focused()["name"] == "topic"
    choose_the_next()
    assert page.evaluate("document.activeElement.selectedIndex") == 1
    walk.to("combobox", "^age$")
    choose_the_next()
    walk.to("button", "Write the pages to print")
    more = walk.to("button", "^one more: A, before$")
    walk.press("Enter", "Enter", "Enter")
    page.wait_for_function(
        """[...document.querySelectorAll('[role=status]')]
          .some(it => it.offsetParent && /\\b3\\b/.test(it.textContent))"""
    )
    assert walk.focused()["name"] == more["name"]
    walk.to("spinbutton", "^B, before$")
    page.keyboard.type("20")
    walk.to("button", "^one more: B, after$")
    walk.to("button", "^Tell what happens$")
    walk.press("Enter")
    page.get_by_text("✓ what happens").first.wait_for()
    walk.to("button", "^Show what happens$")
    walk.press("Enter")
    page.locator(".noUi-handle:visible").first.wait_for()
    slider = walk.to("slider", "")
    assert re.search(r"\d (?!\d)\S", slider["valuetext"]), "a value without its unit"
    walk.to("textbox", "letters, first question")
    page.keyboard.type("A" * 28)
    walk.to("textbox", "letters, second question")
    page.keyboard.type("B" * 28)
    walk.to("button", "What to teach again")
    walk.press("Enter")
    page.wait_for_function(
        """[...document.querySelectorAll('[role=status]')]
          .some(it => it.textContent.includes('of 56 answers are right'))"""
    )
    names = [
        f"{told['role']} {told['name']}"
        for told in walk.heard
        if told["role"] not in ("generic", "none")  # the latter is on its way out of the page
    ]
    assert [name for name in names if name.endswith(" ")] == []
    buttons = [name for name in names if re.search("one (more|less)", name)]
    assert len(buttons) == len(set(buttons)) == 18
    assert findings(page, ".jp-OutputArea-output, .jp-RenderedMarkdown") == []
    notebook.leave()


@pytest.mark.parametrize("topic", topics())
@pytest.mark.parametrize("version", ["large", "words"])
def test_sheets_for_those_who_see_little_or_nothing(printing, topic, version):
    lesson = Lesson(topic=topic, age="16-18", minutes=90, pupils=1)
    page = printing
    page.set_viewport_size({"width": 688, "height": 900})  # of A4, without margins
    written = [sheets.worksheets_for_all(lesson, version=version)]
    written += [sheets.worksheets(lesson, version=version)] if numbered(lesson) else []
    for html in [*written, sheets.exit_tickets(lesson, version=version)]:
        page.set_content(html)
        assert findings(page) == []
        assert page.evaluate(WIDE) == []
        if version == "large":
            assert page.evaluate(SMALLEST) >= 24, "18 points"
        else:
            told = Listener(page).tree()
            boxes = [one["name"] for one in told if one["role"] == "textbox"]
            assert all(boxes)
            assert boxes
            assert [one for one in told if one["role"] == "image"] == []
