# SPDX-License-Identifier: MIT
"""A file of one's own in a real browser: one that is too large never starts on its way."""

import pytest

from browser.lab import OpenNotebook, why_no_browser

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(bool(why_no_browser()), reason=f"browser tests: {why_no_browser()}"),
]


def test_a_large_file_is_held_back_with_what_to_do_and_a_small_one_goes_through(page, kernels):
    notebook = OpenNotebook(page, "50_listen.ipynb", kernels, r"\bpredicted\(")
    large = notebook.explorer.locator(".glasskit-too-large")

    def chosen(size):
        with page.expect_file_chooser() as asked:
            notebook.explorer.locator(".widget-upload").click()
        named = f"{size}.wav"
        asked.value.set_files({"name": named, "mimeType": "audio/wav", "buffer": bytes(size)})
        return named

    chosen(8_000_001)
    large.wait_for(state="visible")
    assert "drag it onto the list of files" in large.inner_text()
    small = chosen(50)

    def refused():
        assert f"Did not read {small}" in notebook.messages()

    notebook.eventually(refused)
    assert large.is_hidden()
    assert "8000001.wav" not in notebook.messages()
    notebook.leave()
