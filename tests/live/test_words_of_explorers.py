# SPDX-License-Identifier: MIT
"""What every explorer says: units of one system, short sentences, stress called stress.

And what it holds: neither units there and back nor a bad number moves anything.
"""

import re
import warnings
from contextlib import suppress
from functools import cache

import pytest
from pictures import METRIC

from glasskit.live import gallery
from glasskit.live.controls import Choice, Slider
from glasskit.quantities import OutsideValidityWarning
from glasskit.words.glossary import in_course_words

NEVER = {"41_reduce_my_data"}  # a laboratory's file names its own units
NO_SLIDER = {"22_how_we_know"}


MOST_WORDS = 25
NAMES_ITSELF = re.compile(  # numbers of standards, years, sizes published to half a picometre
    r"EN \d+\S*|\b(?:18|19|20)\d\d\b|\d+\.\d pm|annex \d, ball test [^:]*:"
)


@pytest.fixture(scope="module")
def explorers():
    return {name: gallery.explorer(name) for name in gallery.EXPLORERS}


@cache
def states(explorer):
    """Return what the explorer computes at the start and at both ends of all its controls."""
    start = {name: item.value for name, item in explorer.controls.items()}
    found = [explorer.result]
    for end in (0, -1):
        at = dict(start)
        for name, item in explorer.controls.items():
            if isinstance(item, Choice):
                at[name] = list(item.choices.values())[end]
            elif isinstance(item, Slider):
                at[name] = (item.low, item.high)[end]
        with warnings.catch_warnings(), suppress(ValueError):
            warnings.simplefilter("ignore", OutsideValidityWarning)
            found.append(explorer.compute(**at))
    return found


def said(explorer, system, result=None):
    result = result or explorer.result
    rows = explorer._numbers(result, system)
    return [explorer._sentence(result, system), *(" ".join(row) for row in rows)]


def sliders(explorer):
    return [item for item in explorer.controls.values() if isinstance(item, Slider)]


def shown(explorer):
    """Return picture, sentence, numbers, and what all number boxes hold."""
    parts = explorer.image, explorer.sentence, explorer.words
    return [part.value for part in parts], [item.box.value for item in sliders(explorer)]


@pytest.mark.parametrize("name", sorted(set(gallery.EXPLORERS) - NEVER))
def test_in_us_units_nothing_metric_is_left(name, explorers):
    explorer = explorers[name]
    before = shown(explorer)
    explorer.switch_units()
    assert shown(explorer) != before
    menus = [item.menu for item in explorer.controls.values() if hasattr(item, "menu")]
    options = [option for menu in menus for option in menu.options]
    explorer.switch_units()
    assert shown(explorer) == before
    texts = [text for result in states(explorer) for text in said(explorer, "us", result)]
    for text in (*texts, *options):
        assert not METRIC.search(NAMES_ITSELF.sub("", text)), text


@pytest.mark.parametrize("name", sorted(set(gallery.EXPLORERS) - NO_SLIDER))
def test_a_bad_number_is_refused_and_the_last_good_picture_stays(name, explorers):
    explorer = explorers[name]
    picture, boxes = shown(explorer)
    assert boxes
    for item in sliders(explorer):
        item.box.value = "much"
        assert "got “much”" in item.note.value
    assert shown(explorer) == (picture, ["much"] * len(boxes))
    for item, good in zip(sliders(explorer), boxes, strict=True):
        item.box.value = good
        assert item.note.value == ""
    assert shown(explorer) == (picture, boxes)


@pytest.mark.parametrize("name", sorted(set(gallery.EXPLORERS) - NEVER))
@pytest.mark.parametrize("system", ["metric", "us"])
def test_sentences_are_short_and_no_number_has_four_digits(name, system, explorers):
    explorer = explorers[name]
    for result in states(explorer):
        sentence, *rows = said(explorer, system, result)
        for text in re.split(r"(?<=[.!?])\s+|: |; ", sentence):
            assert len(text.split()) <= MOST_WORDS, text
        for text in (sentence, *rows):
            for number in re.findall(r"(?<![\w.])\d[\d.]*", NAMES_ITSELF.sub("", text)):
                digits = number.strip(".").lstrip("0.")
                digits = digits.replace(".", "") if "." in digits else digits.rstrip("0")
                assert len(digits) <= 3, text


@pytest.mark.parametrize("name", gallery.EXPLORERS)
def test_a_pull_in_megapascals_is_called_a_stress(name, explorers):
    for text in said(explorers[name], "metric"):
        for part in re.split(r"(?<=\.) |; ", text):
            if re.search(r"\bpull|\bstretch", part) and re.search(r"\d MPa\b(?!√)", part):
                assert re.search(r"stress|tension", part), part
    for item in explorers[name].controls.values():
        label = getattr(item, "label", "")
        assert "pull" not in label or "stress" in label


@pytest.mark.parametrize("name", gallery.EXPLORERS)
def test_the_words_of_the_course_change_no_number(name, explorers):
    for text in said(explorers[name], "metric"):
        made = in_course_words(text)
        assert re.findall(r"\d[\d.]*", made) == re.findall(r"\d[\d.]*", text)
