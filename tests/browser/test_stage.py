# SPDX-License-Identifier: MIT
"""The show from its file, without a network: keys, black, film, notes on another screen."""

import pytest

from browser.aloud import findings
from browser.lab import PATIENCE, SECONDS, elsewhere, why_no_browser
from glasskit.live import stage

SLOWEST = PATIENCE * SECONDS

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stage, "_SQUEEZES", 2)
        patch.setattr(stage, "_BREAKS", 2)
        both = stage.moments
        patch.setattr(stage, "moments", lambda fall: both(fall)[::14])
        return elsewhere(stage.stage_file, tmp_path_factory.mktemp("show") / "show.html")


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080), (3840, 2160)], ids=str)
def test_the_show_by_keys_alone_with_notes_on_another_screen(written, browser, size):
    from playwright.sync_api import expect  # waits without code that the file would refuse

    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, offline=True)
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(error))
    page.goto(written.as_uri())
    with context.expect_page() as opened:
        page.keyboard.press("n")
    notes = opened.value
    notes.get_by_text("Ask: Which of the two").wait_for()
    assert findings(notes) == []

    title, image = page.locator("#title"), page.locator("#picture")
    for key in (
        "ArrowRight",
        "PageDown",
        " ",
        "Enter",
        "ArrowRight",
        "ArrowRight",
        "ArrowRight",
    ):
        before = title.inner_text()
        if size[0] == 1280:
            assert findings(page) == []
        expect(image).not_to_have_js_property("naturalWidth", 0, timeout=SLOWEST)
        box = image.bounding_box()
        assert box["y"] + box["height"] <= size[1]
        assert box["width"] <= size[0]
        assert "Ask:" not in page.locator("body").inner_text()
        page.keyboard.press(key)
        assert title.inner_text() != before
    page.keyboard.press("End")
    page.keyboard.press("ArrowRight")
    assert title.inner_text() == "Your questions", "the end does not start again"
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]

    notes.keyboard.press("ArrowLeft")  # the notes lead as well
    notes.get_by_text("9 of 10").wait_for()
    expect(title).to_have_text("When it breaks: crumbs", timeout=SLOWEST)
    notes.get_by_role("button", name="Black").click()
    notes.get_by_text("The screen is black").wait_for()
    assert not title.is_visible()
    page.keyboard.press(".")
    assert title.is_visible()

    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    notes.get_by_text("film 4 of 4").wait_for()  # it plays by itself
    last = image.get_attribute("src")
    page.keyboard.press("ArrowDown")
    assert image.get_attribute("src") != last
    assert errors == []
    context.close()
