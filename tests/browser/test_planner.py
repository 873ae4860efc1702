# SPDX-License-Identifier: MIT
"""The planner by keyboard in a real JupyterLab: ask, work out, move, save, log."""

import re
from datetime import date

import pytest

from browser.lab import OpenNotebook, why_no_browser
from glasskit.demonstration.breaklog import Entry, add

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


@pytest.fixture(scope="module")
def opened(lab, page, kernels):
    notebook = OpenNotebook(page, "20_plan_a_demonstration.ipynb", kernels, r"\bpredicted\(")
    notebook.folder = lab.notebooks / "demonstration"
    yield notebook
    notebook.leave()


def page_text(opened):
    return " ".join(opened.page.locator(".glasskit").all_inner_texts())


def press(opened, name):
    opened.press(opened.page.get_by_role("button", name=name), "Enter")


def test_after_skipping_the_form_is_in_view_and_the_next_key_is_for_it(opened):
    form = opened.page.locator(".glasskit:has(.progress)").first

    def in_view():
        assert 0 <= form.bounding_box()["y"] < 200
        assert form.get_by_role("textbox").first.evaluate("it => it.matches(':focus')")

    opened.eventually(in_view)


def test_form_plan_log_and_sheets_by_keyboard(opened):
    page = opened.page
    form = page.locator(".glasskit:has(.progress)").first
    opened.picture_of_page("form", form)
    before = opened.seen()
    mass = form.get_by_label("mass / g")
    opened.press(mass, "Control+A")
    page.keyboard.type("500")
    page.keyboard.press("Enter")

    def asked():
        assert "Changed since the plan below" in page_text(opened)

    opened.eventually(asked)
    assert opened.seen() == before
    press(opened, "Work out the plan")

    def worked_out():
        assert opened.seen()[1] != before[1]
        assert "Changed since" not in page_text(opened)

    opened.eventually(worked_out)

    press(opened, "Save the sheets")

    names = ("all", "plan", "risk", "cards", "briefing")
    sheets = {f"{name}-01.html" for name in names}

    def saved():
        assert all(name in page_text(opened) for name in sheets)

    opened.eventually(saved)
    assert {path.name for path in opened.folder.glob("*.html")} == sheets
    with page.context.expect_page() as tab:
        page.get_by_role("link", name="all-01.html").click()
    for sheet in ("Plan for the day", "Risk assessment"):
        tab.value.get_by_role("heading", name=sheet, exact=True).wait_for()
    tab.value.close()

    press(opened, "Add this blow to the log")

    def refused():
        assert "Say the height it fell from" in page_text(opened)

    opened.eventually(refused)
    held = Entry(date=date(2030, 5, 31), pane="ordinary", height=1.4, broke=False)
    add(opened.folder / "evening.csv", *[held] * 3)  # they move the plan
    file = page.get_by_label("log file")
    opened.press(file, "Control+A")
    page.keyboard.type("demonstration/evening.csv")
    page.keyboard.press("Enter")  # plans anew, while the height is being typed
    fall = page.get_by_label("height / m", exact=True)
    opened.press(fall, "Control+A")
    page.keyboard.type("1.0")

    def planned_anew():
        assert "3 blows in the log count here" in page_text(opened)
        assert page.get_by_text("Working").count() == 0
        assert fall.input_value() == "1.0"

    opened.eventually(planned_anew)
    page.get_by_label("what it did").select_option("it held")
    press(opened, "Add this blow to the log")

    def logged():
        assert "Stored: ordinary, 1.00 m, held" in page_text(opened)
        assert "4 blows in the log count here" in page_text(opened)

    opened.eventually(logged)
    *_, line = (opened.folder / "evening.csv").read_text().splitlines()
    assert line.split(",")[1:3] == ["ordinary", "1.0"]
    assert fall.input_value() == "1.0"
    opened.picture_of_page("plan", page.locator(".glasskit-said").first)
    opened.picture_of_page("log", page.locator("strong", has_text="The break log").last)
    assert opened.errors() == []


def test_films_show_life_the_page_answers_and_stop_leaves_no_file(opened):
    stop = opened.page.get_by_role("button", name="Stop")
    stop.wait_for(state="hidden")  # the plan with the blow of the test before
    before = sorted(opened.folder.iterdir())
    press(opened, "Save slides and films")

    def says(words):
        def said():
            assert re.search(words, page_text(opened))

        opened.eventually(said)

    says(r"Working: film of the crack: frame \d+ of 24")
    opened.press(opened.button("Show US units"), "Enter")
    opened.button("Show metric units").wait_for()  # while the film is being made
    says("film of the crack: frame")
    opened.press(stop, "Enter")
    says("Stopped: nothing was written")
    opened.page.locator("button:focus", has_text="Save slides and films").wait_for()
    assert sorted(opened.folder.iterdir()) == before
    opened.press(opened.button("Show metric units"), "Enter")
    opened.button("Show US units").wait_for()


def test_forms_fit_the_page_in_large_type(opened):
    opened.press(opened.button("Larger type"), "Enter")
    opened.button("Smaller type").wait_for()
    for width, height in ((1280, 800), (1920, 1080)):
        opened.resize(width, height)
        for part in opened.page.locator(".glasskit").all():
            spare = "it => it.clientWidth - it.scrollWidth"
            assert part.evaluate(spare) >= -1
        form = opened.page.locator(".glasskit:has(.progress)").first
        opened.picture_of_page(f"form-large-{width}", form)
        said = opened.page.locator(".glasskit-said").first
        opened.picture_of_page(f"plan-large-{width}", said)


def test_every_box_of_the_forms_has_a_name_and_is_large_enough(opened):
    for box in opened.page.locator(".glasskit input[type=text]:visible").all():
        assert box.evaluate("box => box.labels[0]?.textContent"), "a box without a name"
    small = opened.page.evaluate(
        """() => [...document.querySelectorAll(
             '.glasskit button, .glasskit input, .glasskit select, .glasskit .noUi-handle')]
          .filter(it => it.offsetParent && it.type !== 'radio')
          .map(it => [it.className, it.getBoundingClientRect()])
          .filter(([name, at]) => at.width < 23.9 || at.height < 23.9)
          .map(([name, at]) => `${name} ${at.width} x ${at.height}`)"""
    )
    assert small == []
