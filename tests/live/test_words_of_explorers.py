# SPDX-License-Identifier: MIT
"""What every explorer says at the start: units of one system, stress called stress."""

import re

import pytest

from glasskit.live import gallery
from glasskit.words.glossary import in_course_words

METRIC = re.compile(
    r"\d (?:mm|µm|cm|m|MPa|GPa|MPa√m|°C|kg|g|m/s|kN|N|J|J/m²|µm an hour)(?![\w/])"
)
NEVER = {"41_reduce_my_data"}  # a laboratory's file names its own units


def said(name, system):
    explorer = gallery.explorer(name)
    rows = explorer._numbers(explorer.result, system)
    return [explorer._sentence(explorer.result, system), *(" ".join(row) for row in rows)]


@pytest.mark.parametrize("name", sorted(set(gallery.EXPLORERS) - NEVER))
def test_in_us_units_nothing_metric_is_left(name):
    explorer = gallery.explorer(name)
    explorer.switch_units()
    menus = [item.menu for item in explorer.controls.values() if hasattr(item, "menu")]
    options = [option for menu in menus for option in menu.options]
    for text in (*said(name, "us"), *options):
        assert not METRIC.search(text), text


@pytest.mark.parametrize("name", gallery.EXPLORERS)
def test_a_pull_in_megapascals_is_called_a_stress(name):
    explorer = gallery.explorer(name)
    for text in said(name, "metric"):
        for part in re.split(r"(?<=\.) |; ", text):
            if re.search(r"\bpull|\bstretch", part) and re.search(r"\d MPa\b(?!√)", part):
                assert re.search(r"stress|tension", part), part
    for item in explorer.controls.values():
        label = getattr(item, "label", "")
        assert "pull" not in label or "stress" in label


@pytest.mark.parametrize("name", gallery.EXPLORERS)
def test_the_words_of_the_course_change_no_number(name):
    for text in said(name, "metric"):
        made = in_course_words(text)
        assert re.findall(r"\d[\d.]*", made) == re.findall(r"\d[\d.]*", text)
