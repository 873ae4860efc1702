# SPDX-License-Identifier: MIT
"""Short pages: one slider, short sentences, the words that are examined by one switch."""

import re
from pathlib import Path

import nbformat
import pytest
from pictures import at_start

from glasskit.live import gallery, short
from glasskit.quantities import SYSTEMS
from glasskit.words.glossary import AGES

pytestmark = pytest.mark.usefixtures("unseen")

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
PAGES = [name for name in gallery.EXPLORERS if name[2] == "p"]
MOST_WORDS, MOST_ON_A_PAGE = 20, 390  # ten are the heading that folds the answer


def slider_of(explorer):
    (slider,) = explorer.controls.values()
    return slider


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("page", PAGES)
def test_all_along_the_one_slider_sentences_are_short(page, system):
    explorer = at_start(page)
    slider = slider_of(explorer)
    for share in (0.0, 0.1, 0.3, 0.6, 0.9, 1.0):
        value = slider.low + share * (slider.high - slider.low)
        result = explorer.compute(**{slider.name: value})
        said = explorer._sentence(result, system)
        assert all(len(part.split()) <= MOST_WORDS for part in re.split(r"(?<=\.) ", said)), (
            said
        )
        assert system == "metric" or not re.search(r"\d (?:mm|µm|MPa|kg|g|m)\b", said)


def test_sentences_say_what_the_numbers_say():
    scratch = short.scratch_explorer()
    assert "84 MPa" in scratch.said
    held = short.held_crack_explorer()
    assert held.said.startswith("It holds: under a pulling stress of 300 MPa")
    assert "has long broken" in held.said
    for tension, start in ((0.0, "It holds"), (60e6, "It holds"), (600e6, "It breaks")):
        result = held.compute(tension=tension)
        said = held._sentence(result, "metric")
        assert said.startswith(start)
        assert ("holds as well" in said) == (tension < 79e6)
    stop = short.soft_stop_explorer()
    assert "brings 2.0 J" in stop.said
    assert "presses with 200 N" in stop.said
    crumbs = short.crumbling_explorer()
    assert crumbs.said.endswith("not harmless.")
    assert "blades" in crumbs._sentence(crumbs.compute(squeeze=20e6), "metric")


@pytest.mark.parametrize("page", PAGES)
def test_question_and_sentences_follow_the_age(page):
    for age in AGES:
        asked = gallery.predicted(page, age=age)
        words = " ".join(choice.description for choice in asked.choices) + asked._then.said
        if age == "14-16":
            assert not re.search(r"\bpull|squeez", words), words
    with pytest.raises(ValueError, match=r"^age must be one of 8-11, 11-14, 14-16"):
        gallery.predicted(page, age="30")


@pytest.mark.parametrize("page", PAGES)
def test_a_short_page_is_short_and_both_pages_lead_to_each_other(page):
    full = page.replace("p_", "_", 1)
    text = " ".join(
        cell.source
        for cell in nbformat.read(NOTEBOOKS / f"{page}.ipynb", as_version=4).cells
        if cell.cell_type == "markdown"
    )
    plain = re.sub(r"(?s)!\[.*?\]\(.*?\)|<[^>]*>|\]\([^)]*\)", " ", text)
    assert len(plain.split()) <= MOST_ON_A_PAGE
    assert f"]({full}.ipynb)" in text
    assert "school's" in text
    opening = nbformat.read(NOTEBOOKS / f"{full}.ipynb", as_version=4).cells[0].source
    assert "for those who teach it" in opening
    assert f"]({page}.ipynb)" in opening
