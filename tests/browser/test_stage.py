# SPDX-License-Identifier: MIT
"""The seven pictures in a real JupyterLab: one key steps, a slider moves, all of it fits."""

import os
from pathlib import Path

import pytest
from browser.lab import OpenNotebook, chromium, jupyterlab, why_no_browser

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


@pytest.fixture(scope="module", params=[(1280, 800), (1920, 1080)], ids=str)
def opened(tmp_path_factory, request):
    folder = tmp_path_factory.mktemp("stage")
    with jupyterlab(folder) as url, chromium() as browser:
        notebook = OpenNotebook(browser, url("21_on_stage.ipynb"), request.param)
        yield notebook
        notebook.close()


def test_one_key_steps_through_seven_pictures_that_fit_and_move(opened):
    stage, page = opened.explorer, opened.page
    stage.evaluate("root => root.scrollIntoView({block: 'start'})")
    stage.get_by_role("button", name="Next").focus()
    for number in range(1, 8):

        def shown(number=number):
            assert f"{number} of 7" in stage.inner_text()
            assert opened.image.evaluate("image => image.complete && image.naturalWidth > 0")

        opened.eventually(shown)
        page.wait_for_timeout(300)
        assert stage.evaluate("root => root.clientWidth - root.scrollWidth") >= -1
        bottom = opened.image.bounding_box()
        assert bottom["y"] + bottom["height"] <= page.viewport_size["height"]
        assert stage.locator(".noUi-handle").count() in (1, 2)
        if folder := os.environ.get("GLASSKIT_SCREENSHOTS"):
            Path(folder).mkdir(parents=True, exist_ok=True)
            wide = page.viewport_size["width"]
            page.screenshot(path=Path(folder) / f"stage-{wide}-{number}.png")
        page.keyboard.press("Enter" if number % 2 else "Space")  # the focus has stayed

    def round_again():
        assert "1 of 7" in stage.inner_text()

    opened.eventually(round_again)
    before = opened.image.get_attribute("src")
    opened.press(opened.slider, *["ArrowRight"] * 3)

    def moved():
        assert opened.image.get_attribute("src") != before

    opened.eventually(moved)
    assert opened.errors() == []
