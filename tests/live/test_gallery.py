# SPDX-License-Identifier: MIT
from pathlib import Path

import pytest
from pictures import at_start, unpainted
from PIL import Image

from glasskit.live import gallery

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("notebook", {**gallery.EXPLORERS, **gallery.PANELS})
def test_the_still_picture_says_what_the_explorer_says(notebook):
    explorer = at_start(notebook)
    with Image.open(ROOT / "assets" / f"{notebook}.png") as picture:
        assert picture.size == (1280, 540)
        stored = picture.text["Description"]
    assert stored == explorer.alt, "draw it anew: python -m glasskit.live.gallery"


@pytest.mark.parametrize("notebook", gallery.EXPLORERS)
def test_the_notebook_shows_picture_and_explorer(notebook):
    text = (ROOT / "notebooks" / f"{notebook}.ipynb").read_text(encoding="utf-8")
    assert f"](../assets/{notebook}.png)" in text
    assert f'predicted(\\"{notebook}\\"' in text


@pytest.mark.parametrize("notebook", gallery.EXPLORERS)
def test_the_question_has_four_answers_and_a_reply_to_each(notebook):
    with unpainted():
        prediction = gallery.predicted(notebook)
    assert len(prediction.choices) == 4
    for choice in prediction.choices:
        choice.click()
        assert prediction.shown
        assert len(prediction.reply.value) > 60
    assert len({choice.description for choice in prediction.choices}) == 4


def test_an_unknown_notebook_is_refused():
    with pytest.raises(ValueError, match=r"^notebook must be one of 01_why_glass_breaks, "):
        gallery.explorer("99_no_such_page")
