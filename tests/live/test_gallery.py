# SPDX-License-Identifier: MIT
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from pictures import at_start, unpainted
from PIL import Image

from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, LivePicture, still
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
def test_the_screen_shows_what_the_still_shows(notebook):
    shown = at_start(notebook)
    with Image.open(BytesIO(LivePicture(shown.scene).draw(shown.result, Look()))) as picture:
        live = np.asarray(picture.convert("RGB")).astype(int)
    figure = still(shown.scene, shown.result, size=SCREEN)
    figure.canvas.draw()
    kept = np.asarray(figure.canvas.buffer_rgba())[..., :3]
    other = np.abs(live - kept).max(axis=-1) > 40
    # Edges may fall between two dots; the cracks of page 15 are one image, laid by half a dot.
    assert other.mean() < (5e-3 if notebook.startswith("15") else 1e-4)


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
