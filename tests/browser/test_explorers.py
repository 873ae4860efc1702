# SPDX-License-Identifier: MIT
"""Every notebook with an explorer, used by keyboard in a real JupyterLab.

Every page is opened, moved, read, enlarged and darkened. How a slider, a menu and the units go
on is the same code on all of them: that is tried on `EACH_KIND`, and on all pages without a
browser in tests/live/test_words_of_explorers.py.

Set GLASSKIT_SCREENSHOTS to a folder to keep a screenshot of each, in both sizes of type.
"""

import json
import re
from functools import wraps

import pytest

from browser.aloud import findings
from browser.lab import CLOSED, ROOT, SCREEN, SPRING, OpenNotebook, why_no_browser


def with_explorer(path):
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    return any(re.search(r"glasskit\.live\.(gallery|lesson)", source) for source in code)


# A page of each kind, and what tells that it is still of that kind.
EACH_KIND = {
    SPRING: " .glasskit-slider:not(.glasskit-log)",  # equal steps, and nothing to wait for
    "01_why_glass_breaks.ipynb": " .glasskit-log",  # equal factors
    "20_plan_a_demonstration.ipynb": " .glasskit-said",  # a form, a plan worked out in steps
    "22_how_we_know.ipynb": ":not(:has(.noUi-handle)) select",  # a menu alone
    "41_reduce_my_data.ipynb": " textarea",  # records to be pasted
    "50_listen.ipynb": " .widget-upload:has-text('recording')",  # a sound
    "52_film_the_fall.ipynb": " .widget-upload:has-text('film')",  # the slowest pictures
}
# They come first: of tests that have the same place in both lists, a notebook is opened once.
NOTEBOOKS = list(
    dict.fromkeys(
        [
            *EACH_KIND,
            *(p.name for p in sorted(ROOT.glob("notebooks/*.ipynb")) if with_explorer(p)),
        ]
    )
)

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


def named(notebook):
    return notebook.removesuffix(".ipynb")


of_each_kind = pytest.mark.parametrize("notebook", EACH_KIND, indirect=True, ids=named)


def needs_slider(test):
    """Run a test only in notebooks whose first explorer has a slider."""

    @wraps(test)
    def checked(notebook):
        if not notebook.has_slider:
            pytest.skip("the first explorer here has no slider")
        test(notebook)

    return checked


@pytest.fixture(scope="module", params=NOTEBOOKS, ids=named)
def notebook(request, page, kernels):
    page.set_viewport_size(SCREEN)
    until = None if request.param == SPRING else r"\b(explorer|predicted|run_a_lesson)\("
    opened = OpenNotebook(page, request.param, kernels, until)
    yield opened
    opened.leave()


def test_the_page_below_a_question_opens_with_the_answer(notebook):
    asked = notebook.page.locator(".glasskit-asked:visible").count() > 0
    assert bool(notebook.closed) == (asked and notebook.name != SPRING)
    assert notebook.page.evaluate(CLOSED) == 0


def test_a_key_moves_picture_sentence_and_numbers(notebook):
    before = notebook.seen()
    if notebook.has_slider:
        notebook.press(notebook.slider, *["ArrowRight"] * 3)
    elif notebook.menu.count():
        notebook.press(notebook.menu, "ArrowDown")
    else:
        notebook.press(notebook.button("Tell what happens"), "Enter")

    def all_moved():
        source, alt, sentence, numbers = notebook.seen()
        assert source != before[0]
        assert alt.endswith(sentence)
        assert (sentence, numbers) != before[2:]

    notebook.eventually(all_moved)
    assert notebook.image.get_attribute("src").startswith("data:image/png;base64,")
    assert notebook.errors() == []


@of_each_kind
def test_a_page_is_still_of_its_kind(notebook):
    assert notebook.page.locator(f".glasskit:visible{EACH_KIND[notebook.name]}").count()


@of_each_kind
def test_arrow_keys_choose_from_a_menu_whose_cell_is_not_being_edited(notebook):
    if not notebook.menu.count():
        pytest.skip("nothing to choose here")
    active = "jupyterapp.shell.currentWidget.content.activeCellIndex"
    mode = "jupyterapp.shell.currentWidget.content.mode"
    before, cell = notebook.seen(), notebook.page.evaluate(active)
    assert notebook.page.evaluate(mode) == "command"
    at = notebook.menu.evaluate("it => it.selectedIndex")
    last = notebook.menu.evaluate("it => it.options.length - 1")
    there, back = ("ArrowDown", "ArrowUp") if at < last else ("ArrowUp", "ArrowDown")
    notebook.press(notebook.menu, there)

    def chosen():
        assert abs(notebook.menu.evaluate("it => it.selectedIndex") - at) == 1
        assert notebook.seen() != before

    notebook.eventually(chosen)
    assert notebook.page.evaluate(active) == cell
    notebook.press(notebook.menu, back)

    def as_it_was():
        assert notebook.menu.evaluate("it => it.selectedIndex") == at
        # The slider may still have been on its way when this test began.
        slid = notebook.has_slider
        assert notebook.seen() == (
            notebook.expected(notebook.box.input_value()) if slid else before
        )

    notebook.eventually(as_it_was)


@of_each_kind
@needs_slider
def test_after_a_burst_of_keys_the_last_value_is_shown(notebook):
    notebook.press(notebook.slider, *["ArrowRight"] * 5, *["ArrowLeft"] * 25)

    def box_holds_what_the_slider_says():  # and not, say, its logarithm
        assert notebook.spoken() == notebook.named(), notebook.messages()

    notebook.eventually(box_holds_what_the_slider_says)
    value = notebook.box.input_value()
    expected = notebook.expected(value)

    def the_last_value_is_shown():
        assert notebook.seen() == expected

    notebook.eventually(the_last_value_is_shown)
    notebook.press(notebook.slider, "Home")
    notebook.eventually(box_holds_what_the_slider_says)
    notebook.type_number(value)
    notebook.eventually(the_last_value_is_shown)


@of_each_kind
@needs_slider
def test_a_bad_number_is_refused_in_words_and_the_last_good_picture_stays(notebook):
    good, shown = notebook.box.input_value(), notebook.seen()
    notebook.type_number("much")

    def refused():
        assert "got “much”" in notebook.messages()
        assert notebook.box.input_value() == "much"  # to be mended by who typed it

    def mended():
        assert "much" not in notebook.messages()

    notebook.eventually(refused)
    assert notebook.seen() == shown
    notebook.type_number(good)
    notebook.eventually(mended)


@of_each_kind
def test_units_switch_and_switch_back(notebook):
    metric, numbers = notebook.seen(), notebook.boxes()

    def in_us_units():
        assert notebook.button("Show metric units").is_visible()
        assert notebook.seen() != metric
        if notebook.has_slider:  # its name and its number follow the picture, one by one
            assert notebook.spoken() == notebook.named()

    def in_metric_units():
        assert notebook.button("Show US units").is_visible()
        assert notebook.seen() == metric
        assert notebook.boxes() == numbers  # not moved by the steps of the other units

    notebook.press(notebook.button("Show US units"), "Enter")
    notebook.eventually(in_us_units)
    notebook.press(notebook.button("Show metric units"), "Enter")
    notebook.eventually(in_metric_units)
    assert notebook.errors() == []


def test_every_control_and_button_is_named_and_large_enough(notebook):
    small = notebook.explorer.evaluate(
        """root => [...root.querySelectorAll('button, input, select, .noUi-handle')]
          .filter(it => it.offsetParent && it.type !== 'radio')
          .map(it => [it.className, it.getBoundingClientRect()])
          .filter(([name, at]) => at.width < 23.9 || at.height < 23.9)
          .map(([name, at]) => `${name} ${at.width} x ${at.height}`)"""
    )
    assert small == []
    for box in notebook.explorer.locator("input[type=text]").all():
        assert box.evaluate("box => box.labels[0]?.textContent"), "a box without a name"


def test_a_screen_reader_meets_no_serious_fault_in_what_the_page_says(notebook):
    assert findings(notebook.page, ".jp-OutputArea-output, .jp-RenderedMarkdown") == []


WHITE_PATCHES = """root => [root, ...root.querySelectorAll('*')]
  .filter(it => it.offsetParent && !it.closest('.glasskit-picture, .noUi-handle'))
  .filter(it => {
    const {backgroundColor} = getComputedStyle(it);
    const [r, g, b, a = 1] = backgroundColor.match(/[\\d.]+/g).map(Number);
    return a > 0.1 && Math.min(r, g, b) > 200;
  })
  .map(it => it.tagName + '.' + it.className)"""
DARK_WORDS = """root => [...root.querySelectorAll('*')]
  .filter(it => it.offsetParent && !it.closest('.glasskit-picture')
    && [...it.childNodes].some(one => one.nodeType === 3 && one.textContent.trim()))
  .filter(it => Math.max(...getComputedStyle(it).color.match(/[\\d.]+/g).slice(0, 3)) < 150)
  .map(it => it.tagName + '.' + it.className)"""


def test_the_dark_theme_has_no_white_patch_and_no_dark_words(notebook):
    change = "theme => jupyterapp.commands.execute('apputils:change-theme', {theme})"
    notebook.page.evaluate(change, "JupyterLab Dark")
    try:

        def dark():
            ground = "getComputedStyle(document.body).getPropertyValue('--jp-layout-color0')"
            assert notebook.page.evaluate(ground).strip() == "#111"
            assert notebook.page.locator("#jupyterlab-splash").count() == 0

        notebook.eventually(dark)
        notebook.laid_out()
        notebook.picture_of_page("dark")
        assert notebook.explorer.evaluate(WHITE_PATCHES) == []
        assert notebook.explorer.evaluate(DARK_WORDS) == []
    finally:
        notebook.page.evaluate(change, "JupyterLab Light")


def test_large_type_fits_the_page(notebook):
    def fits():
        spare = "root => root.clientWidth - root.scrollWidth"
        assert notebook.explorer.evaluate(spare) >= -1

    def larger():
        assert notebook.button("Smaller type").is_visible()
        assert notebook.seen()[0] != small

    fits()
    notebook.picture_of_page("1280x800")
    small = notebook.seen()[0]
    notebook.press(notebook.button("Larger type"), "Enter")
    notebook.eventually(larger)
    notebook.laid_out()
    fits()
    notebook.picture_of_page("1280x800-large")
    notebook.resize(1920, 1080)
    fits()
    notebook.picture_of_page("1920x1080-large")
    assert notebook.errors() == []


def test_save_writes_both_files_and_says_where(lab, page, kernels):
    opened = OpenNotebook(page, SPRING, kernels)
    opened.press(opened.button("Save picture"), "Enter")

    def said():
        assert "Saved pictures/a-spring-that-stretches-01.png" in opened.messages()

    opened.eventually(said)
    names = sorted(p.name for p in (lab.notebooks / "pictures").iterdir())
    assert names == ["a-spring-that-stretches-01.png", "a-spring-that-stretches-01.svg"]
    opened.leave()
