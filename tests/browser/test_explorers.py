# SPDX-License-Identifier: MIT
"""Every notebook with an explorer, used by keyboard in a real JupyterLab.

Set GLASSKIT_SCREENSHOTS to a folder to keep a screenshot of each, in both sizes of type.
"""

import json

import nbformat
import pytest
from browser.lab import ROOT, OpenNotebook, chromium, jupyterlab, why_no_browser
from nbformat import v4

SPRING = "spring.ipynb"  # written here, for the parts no notebook shows
CELL = "from spring import predicted_spring\npredicted_spring()"


def with_explorer(path):
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    return any("glasskit.live" in source for source in code)


NOTEBOOKS = [
    SPRING,
    *(p.name for p in sorted(ROOT.glob("notebooks/*.ipynb")) if with_explorer(p)),
]

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lab")
    (folder / "notebooks").mkdir()
    notebook = v4.new_notebook(cells=[v4.new_code_cell(CELL)])
    notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
    nbformat.write(notebook, folder / "notebooks" / SPRING)
    with jupyterlab(folder) as url:
        yield folder, url


@pytest.fixture(scope="module")
def browser():
    # Of this module only: while Playwright runs, this thread has an event loop, and explorers
    # in other tests would wait for it instead of drawing at once.
    with chromium() as running:
        yield running


@pytest.fixture(scope="module", params=NOTEBOOKS, ids=lambda name: name.removesuffix(".ipynb"))
def notebook(request, browser, server):
    opened = OpenNotebook(browser, server[1](request.param))
    yield opened
    opened.close()


def test_a_key_moves_picture_sentence_and_numbers(notebook):
    before = notebook.seen()
    notebook.press(notebook.slider, "ArrowRight", "ArrowRight", "ArrowRight")
    notebook.wait(lambda: notebook.seen()[0] != before[0])
    notebook.settle()
    source, alt, sentence, numbers = notebook.seen()
    assert source.startswith("data:image/webp;base64,")
    assert alt == sentence
    assert (sentence, numbers) != before[2:]
    assert notebook.errors() == []


def test_after_a_burst_of_keys_the_last_value_is_shown(notebook):
    notebook.press(notebook.slider, *["ArrowRight"] * 25, *["ArrowLeft"] * 12)
    notebook.settle()
    at = float(notebook.slider.get_attribute("aria-valuenow"))
    typed = float(notebook.box.input_value().replace("−", "-"))
    # A linear slider stands exactly where its number says; a logarithmic one says its
    # exponent or value, and the number is rounded to three digits.
    assert typed in (pytest.approx(at, abs=1e-9), pytest.approx(10**at, rel=5e-3)) or (
        typed == pytest.approx(at, rel=5e-3)
    )
    shown = notebook.seen()
    notebook.press(notebook.box, "Control+A")
    notebook.page.keyboard.type(notebook.box.input_value() + " ")
    notebook.press(notebook.box, "Enter")
    notebook.settle()
    assert notebook.seen() == shown  # typing the number in gives the very same picture


def test_a_bad_number_is_refused_in_words_and_the_last_good_one_stays(notebook):
    good, shown = notebook.box.input_value(), notebook.seen()
    notebook.press(notebook.box, "Control+A")
    notebook.page.keyboard.type("much")
    notebook.press(notebook.box, "Enter")
    notebook.wait(lambda: "“much” is not a number" in notebook.messages())
    notebook.wait(lambda: notebook.box.input_value() == good)
    assert notebook.seen() == shown


def test_units_switch_and_switch_back(notebook):
    metric = notebook.seen()
    notebook.press(notebook.button("Show US units"), "Enter")
    notebook.wait(lambda: notebook.button("Show metric units").is_visible())
    notebook.wait(lambda: notebook.seen() != metric)
    notebook.press(notebook.button("Show metric units"), "Enter")
    notebook.wait(lambda: notebook.seen() == metric)
    assert notebook.errors() == []


def test_every_control_and_button_is_named_and_large_enough(notebook):
    small = notebook.explorer.evaluate(
        """root => [...root.querySelectorAll('button, input, select, .noUi-handle')]
          .filter(it => it.offsetParent && it.type !== 'radio')
          .map(it => [it.className, it.getBoundingClientRect()])
          .filter(([name, at]) => at.width < 24 || at.height < 24)
          .map(([name, at]) => `${name} ${at.width} x ${at.height}`)"""
    )
    assert small == []
    for box in notebook.explorer.locator("input[type=text]").all():
        assert box.evaluate("box => box.labels[0]?.textContent"), "a box without a name"


def test_large_type_fits_the_page(notebook):
    width = "root => root.scrollWidth - root.clientWidth"
    assert notebook.explorer.evaluate(width) <= 1
    notebook.picture_of_page("1280x800")
    notebook.page.set_viewport_size({"width": 1920, "height": 1080})
    notebook.press(notebook.button("Larger type"), "Enter")
    notebook.settle()
    assert notebook.explorer.evaluate(width) <= 1
    notebook.picture_of_page("1920x1080-large")
    assert notebook.errors() == []


def test_save_writes_both_files_and_says_where(server, browser):
    folder, url = server
    opened = OpenNotebook(browser, url(SPRING))
    opened.press(opened.button("Save picture"), "Enter")
    opened.wait(lambda: "Saved pictures/a-spring-that-stretches-01.png" in opened.messages())
    names = sorted(p.name for p in (folder / "notebooks" / "pictures").iterdir())
    assert names == ["a-spring-that-stretches-01.png", "a-spring-that-stretches-01.svg"]
    opened.close()
