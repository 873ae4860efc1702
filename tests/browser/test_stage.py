# SPDX-License-Identifier: MIT
"""The seven pictures in a real JupyterLab: one key steps, a slider moves, all of it fits."""

import pytest
from browser.lab import OpenNotebook, why_no_browser

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


@pytest.fixture(params=[(1280, 800), (1920, 1080)], ids=str)
def opened(page, request):
    page.set_viewport_size(dict(zip(("width", "height"), request.param, strict=True)))
    notebook = OpenNotebook(page, "21_on_stage.ipynb")
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
        opened.laid_out()
        assert stage.evaluate("root => root.clientWidth - root.scrollWidth") >= -1
        bottom = opened.image.bounding_box()
        assert bottom["y"] + bottom["height"] <= page.viewport_size["height"]
        assert stage.locator(".noUi-handle").count() in (1, 2)
        opened.picture_of_page(f"{page.viewport_size['width']}-{number}", stage)
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
