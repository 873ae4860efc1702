# SPDX-License-Identifier: MIT
"""Explorers to go: what stands in the file is what the explorer says, and all of it."""

import base64
import json
import re
from html import unescape

import pytest

from glasskit.live import gallery, to_go
from glasskit.live.controls import Slider


def inside(path):
    written = path.read_text(encoding="utf-8")
    return json.loads(re.search(r'id="data">(.*?)</script>', written, re.S)[1]), written


@pytest.fixture(scope="module")
def held(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(to_go, "_ALONE", 5)
        path = tmp_path_factory.mktemp("go") / "held.html"
        return inside(to_go.to_go("02p_a_crack_pressed_shut", path))


def test_every_place_says_what_the_explorer_says_there(held, unseen):
    data, _ = held
    explorer = gallery.explorer("02p_a_crack_pressed_shut")
    slider = explorer.controls["tension"]
    values = slider.along(5)
    assert {slider.low, slider.start, slider.high} <= set(values)
    for system in ("metric", "us"):
        part = data["systems"][system]
        assert len(part["states"]) == len(values) == len(part["places"][0])
        for value, (picture, alt, said, numbers) in zip(values, part["states"], strict=True):
            slider.value = value
            assert (alt, said) == (explorer.alt, explorer.said)
            assert [tuple(row) for row in numbers] == explorer.numbers
            assert base64.b64decode(picture)[8:12] == b"WEBP"
        slider.value = slider.start
        assert part["places"][0][data["start"][0]] == slider.said(slider.start)
        explorer.switch_units()
    assert data["systems"]["metric"]["places"][0][data["start"][0]] == "300 MPa"


def test_the_question_stands_before_and_nothing_is_loaded_from_elsewhere(held):
    data, written = held
    question, options, correct = gallery.asked_before("02p_a_crack_pressed_shut", "11-14")
    text = unescape(written)
    assert data["correct"] == correct
    for words in (question, *(part for option in options for part in option)):
        assert words in text
    assert '<div id="after" hidden>' in written
    assert not re.search(r'(?:src|href)="(?!data:)|https?://|url\(', written)


def test_two_controls_give_a_grid_that_fits(tmp_path, monkeypatch):
    name, inputs = "12_under_load_for_years", ["tension", "pane"]
    monkeypatch.setattr(to_go, "MOST", 1e6)
    data, _ = inside(path := to_go.to_go(name, tmp_path / "go.html", inputs))
    part = data["systems"]["us"]
    pulls, panes = (len(along) for along in part["places"])
    assert panes == len(gallery.explorer(name).controls["pane"].choices)
    assert 3 <= pulls < 17
    assert len(part["states"]) == pulls * panes
    assert 5e5 < path.stat().st_size <= 1e6
    assert "surroundings damp air, as design reckons" in part["fixed"]
    monkeypatch.setattr(to_go, "MOST", 1e5)
    with pytest.raises(ValueError, match="inputs must give at most 1 pictures"):
        to_go.to_go(name, path, inputs)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["somewhere"], "notebook must be one of"),
        (["01_why_glass_breaks", "width"], "input must be one of"),
        (["01_why_glass_breaks", "depth", "glass", "shape"], "one or two controls; got 3"),
        (["31_class_results", "sheet"], "input must be one of"),
        (["01_why_glass_breaks", "--age", "3-5"], "age must be one of"),
    ],
)
def test_what_cannot_be_written_is_said(words, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert to_go.main(words) == 1
    assert said in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["01_why_glass_breaks", "09_ball_on_a_pane"])
def test_places_along_a_slider_are_plain_numbers_from_end_to_end(name):
    for slider in gallery.explorer(name).controls.values():
        if isinstance(slider, Slider):
            values = slider.along(17)
            assert values == sorted(set(values))
            assert (values[0], values[-1]) == (slider.low, slider.high)
            assert slider.start in values
            for value in values[1:-1]:
                assert len(slider.said(value).split()[0].strip("0").replace(".", "")) <= 3


def test_the_panel_writes_what_is_chosen_and_says_what_cannot_be(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(to_go, "_ALONE", 3)
    panel = to_go.ToGo()
    panel.page.value = "02p_a_crack_pressed_shut"
    panel.write.click()
    assert 'data-file="to%20go/02p_a_crack_pressed_shut-01.html"' in panel.said.value
    monkeypatch.setattr(to_go, "MOST", 1e5)
    panel.write.click()
    assert "must give at most" in panel.note.value
    assert len(list((tmp_path / "to go").glob("*.html"))) == 1
