# SPDX-License-Identifier: MIT
"""A page that stays open, loses what computes for it, or is opened again another day."""

import pytest

from browser.lab import SPRING, OpenNotebook, run, why_no_browser

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]

STOPPED = "What computes for this page has stopped: menu Run, Run All Cells."
CURRENT = "jupyterapp.shell.currentWidget"


@pytest.fixture
def opened(page, kernels):
    notebook = OpenNotebook(page, SPRING, kernels)
    yield notebook
    notebook.leave()


@pytest.fixture
def doomed(page, kernels):
    """Open a notebook whose kernel the test ends."""
    notebook = OpenNotebook(page, SPRING, kernels)
    yield notebook
    notebook.close()


def pause(page, seconds):
    """Let the spring take so long."""
    page.evaluate(
        f"""async () => {{
          const kernel = {CURRENT}.sessionContext.session.kernel;
          await kernel.requestExecute(
            {{code: 'import spring; spring.pause = {seconds}'}}).done;
        }}"""
    )


def test_who_skips_is_led_to_the_picture_on_a_slow_machine_too(opened):
    page = opened.page
    pause(page, 0.5)
    run(page, "run-all-cells")
    page.locator(".glasskit-skip:visible").click()
    led = "document.activeElement.closest('.glasskit-asked') && document.activeElement.matches"

    def at_a_control():
        assert page.evaluate(f"{led}('input, select')")

    opened.eventually(at_a_control)
    pause(page, 0.0)


def test_an_old_picture_is_dimmed_until_the_new_one_is_there(opened):
    def opacity(wanted):
        shown = opened.image.evaluate("image => getComputedStyle(image).opacity")
        assert shown == wanted

    before = opened.image.get_attribute("src")
    pause(opened.page, 1.5)
    opened.press(opened.slider, "ArrowRight")
    old = opened.explorer.locator(".glasskit-old")
    old.wait_for()
    opened.eventually(lambda: opacity("0.4"))
    assert opened.image.get_attribute("src") == before
    assert "working" in old.evaluate("it => getComputedStyle(it, '::after').content")
    opened.picture_of_page("working")
    old.wait_for(state="detached")
    assert opened.image.get_attribute("src") != before
    opened.eventually(lambda: opacity("1"))
    pause(opened.page, 0.0)


def test_a_page_says_that_nothing_computes_any_more(opened):
    stopped = opened.explorer.get_by_text(STOPPED)
    assert not stopped.is_visible()
    opened.page.evaluate(f"async () => {CURRENT}.sessionContext.session.kernel.restart()")
    stopped.wait_for(state="visible")
    assert opened.image.is_visible()


def test_a_page_whose_computation_dies_says_so(doomed):
    doomed.page.evaluate(
        f"""() => {{ {CURRENT}.sessionContext.session.kernel.requestExecute(
          {{code: 'import os, signal; os.kill(os.getpid(), signal.SIGKILL)'}}); }}"""
    )
    doomed.explorer.get_by_text(STOPPED).wait_for(state="visible")
    # JupyterLab tells of it in a dialog of its own.
    doomed.page.locator(".jp-Dialog button").first.click()


def test_a_page_whose_kernel_was_shut_down_says_so(doomed):
    stopped = doomed.explorer.get_by_text(STOPPED)
    assert not stopped.is_visible()
    doomed.page.evaluate(f"async () => {CURRENT}.sessionContext.shutdown()")
    stopped.wait_for(state="visible")
    assert doomed.image.is_visible()


def test_a_page_kept_and_opened_again_shows_its_still_until_it_runs(page, kernels):
    notebook = OpenNotebook(page, SPRING, kernels)
    still = page.locator(".glasskit-asleep:visible")
    assert still.count() == 0
    page.evaluate(f"async () => {CURRENT}.context.save()")
    notebook.close()
    page.evaluate(
        "async path => { await jupyterapp.commands.execute('docmanager:open', {path}); }",
        f"notebooks/{SPRING}",
    )
    page.wait_for_function(f"{CURRENT}.context?.path.endsWith('{SPRING}')")
    still.get_by_text("Run this page to make this part live").wait_for()
    assert "spring" in still.inner_text()
    notebook.picture_of_page("asleep", still)
    gone = page.get_by_text("model not found")
    gone.wait_for(state="attached")  # JupyterLab has looked for the live part in vain
    assert not gone.is_visible()
    run(page, "run-all-cells")
    page.locator(".glasskit-skip:visible").click()
    page.locator(".glasskit .glasskit-picture img:visible").wait_for()
    assert still.count() == 0
    notebook.leave()


def test_a_cell_run_again_and_again_keeps_one_explorer(opened):
    for _ in range(3):
        run(opened.page, "run-all-cells")
    models = opened.page.evaluate(
        f"""async () => {{
          const kernel = {CURRENT}.sessionContext.session.kernel;
          const reply = await kernel.requestCommInfo({{target_name: 'jupyter.widget'}});
          return Object.keys(reply.content.comms).length;
        }}"""
    )
    run(opened.page, "run-all-cells")
    again = opened.page.evaluate(
        f"""async () => {{
          const kernel = {CURRENT}.sessionContext.session.kernel;
          const reply = await kernel.requestCommInfo({{target_name: 'jupyter.widget'}});
          return Object.keys(reply.content.comms).length;
        }}"""
    )
    assert again == models
