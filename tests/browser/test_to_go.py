# SPDX-License-Identifier: MIT
"""An explorer to go, opened from its file without a network, on three sizes of screen."""

import pytest

from browser.aloud import findings
from browser.lab import elsewhere, why_no_browser
from glasskit.live import to_go

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=why_no_browser() or "-"),
]

SEEN = """() => [
  document.getElementById('picture').src, document.getElementById('picture').alt,
  document.getElementById('said').textContent, document.getElementById('numbers').textContent,
]"""


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(to_go, "_FIRST", 3)
        path = tmp_path_factory.mktemp("go") / "page.html"
        return elsewhere(to_go.to_go, "12_under_load_for_years", path, ["tension", "pane"])


@pytest.mark.parametrize("size", [(360, 740), (820, 1180), (1280, 800)], ids=str)
def test_first_the_answer_then_the_slider_by_keys_alone(written, browser, size):
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, offline=True, has_touch=True
    )
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(error))
    page.goto(written.as_uri())
    assert page.locator("#after").is_hidden()
    assert page.locator("#picture").get_attribute("src") is None

    assert findings(page) == []
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    chosen = page.locator(".options button").first
    assert chosen.get_attribute("aria-pressed") == "true"
    assert chosen.evaluate("it => it === document.activeElement")
    assert page.locator(".options button", has_text="this happens").count() == 1
    page.locator(".options button").nth(1).dispatch_event("click")
    assert page.locator(".options [aria-pressed=true]").count() == 1, "one answer counts"

    page.wait_for_function("document.getElementById('picture').naturalWidth === 1280")
    for slider in page.locator("input[type=range]").all():
        before, at = page.evaluate(SEEN), slider.get_attribute("aria-valuetext")
        slider.focus()
        page.keyboard.press("ArrowRight")
        assert slider.get_attribute("aria-valuetext") != at
        assert all(new != old for new, old in zip(page.evaluate(SEEN), before, strict=True))
    page.get_by_role("button", name="US units").click()
    assert "ksi" in page.locator("#said").text_content()

    assert findings(page) == []

    touched = page.locator("button, input").all()
    assert all(one.bounding_box()["height"] >= 44 for one in touched)
    assert page.evaluate("document.documentElement.scrollWidth") == size[0]
    assert errors == []
    context.close()
