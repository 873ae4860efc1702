# SPDX-License-Identifier: MIT
"""The page that reads colours: its picture, its words, its points, what it keeps."""

import csv
from io import BytesIO

import numpy as np
import pytest
from pictures import VIEWS, comes_back, faults
from PIL import Image

from glasskit.draw.colours import POINTS, ReadColoursScene, marked
from glasskit.live.colours import colours_explorer
from glasskit.materials import glass
from glasskit.measured import (
    ColourStress,
    invented_colours,
    lags_along,
    line_colours,
    read_photo,
)
from glasskit.words.colours import TOUGHENED, read_numbers, read_sentence, read_verdict

SODA = glass("soda-lime")


def of(found, path=10e-3):
    return ColourStress(found=found, path=path, spread=1e-4, thickness=3e-3, glass=SODA)


def bar(share):
    """Return a bent bar read along its stripes, so far from its dark line, or across."""
    made = invented_colours("bar", 60e6, 12e-3, 2.62e-12, seed=3)
    start, end = np.array(made.start), np.array(made.end)
    line = (start, end)
    if share:
        middle = start + (0.5 - share / 2) * (end - start)
        side = np.array([0.1, 0.0])
        line = middle - side, middle + side
    places = [tuple(point) for point in line]
    return lags_along(line_colours(read_photo(made.file), *places, made.white, made.black))


@pytest.fixture
def explorer(tmp_path, monkeypatch, unseen):
    monkeypatch.chdir(tmp_path)
    return colours_explorer()


@pytest.fixture(scope="module")
def example():
    return colours_explorer()


@pytest.fixture(scope="module")
def results(example):
    found = example.result.found
    return {
        "edge": example.result,
        "mild": of(found, 20e-3),
        "bar": of(bar(0.0)),
        "open": of(bar(0.45)),
    }


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("edge", "The skin is squeezed by 74.3 MPa. 95% interval: 69.5 MPa to "),
        ("edge", "at the faces by twice as much. That is above the 69 MPa"),
        ("mild", "That is below the 69 MPa from which a pane counts as fully tempered."),
        ("bar", "Colours do not tell squeeze from pull."),
        (
            "open",
            "No place on the line is dark, so the order is open. The largest lag may be ",
        ),
        ("open", "Let the line cross a dark place."),
    ],
)
def test_the_sentence_says_stress_interval_and_what_is_open(results, name, said):
    assert said in read_sentence(results[name], "metric")


def test_verdicts_name_what_was_read(results):
    assert read_verdict(results["edge"], "us").startswith(
        "By its colours the skin is squeezed"
    )
    assert "largest stress difference" in read_verdict(results["bar"], "metric")
    assert "stresses fit these colours" in read_verdict(results["open"], "metric")


def test_a_pane_near_the_limit_is_left_open(results):
    path = 10e-3 * results["edge"].stress / TOUGHENED
    assert "lie within." in read_sentence(of(results["edge"].found, path), "metric")


def test_numbers_give_each_part_of_the_doubt(results):
    rows = dict(read_numbers(results["edge"], "metric"))
    assert rows["share in the doubt: reading, path, coefficient"].endswith("1.0%, 1.9%")
    assert rows["stress for one order along this path"] == "21.0 MPa"
    assert "stresses that fit" in dict(read_numbers(results["open"], "metric"))


@pytest.mark.parametrize(("look", "size"), VIEWS)
@pytest.mark.parametrize("name", ["edge", "bar", "open"])
def test_nothing_is_cut_off_and_no_words_overlap(results, look, size, name):
    assert faults(ReadColoursScene(), results[name], look, size) == []


def test_the_picture_moves_with_the_path_and_comes_back(results):
    assert comes_back(ReadColoursScene(), results["edge"], results["mild"])
    assert comes_back(ReadColoursScene(), results["bar"], results["open"])


def test_line_and_patches_are_drawn_where_they_lie():
    picture = np.full((300, 400, 3), 128, np.uint8)
    places = ((0.2, 0.5), (0.6, 0.5), (0.8, 0.2), (0.8, 0.8))
    with Image.open(BytesIO(marked(picture, places))) as made:
        assert max(made.size) == 640
        shown = np.asarray(made.convert("RGB")).astype(int)
    assert shown[240, 256].min() > 230  # the middle of the line
    assert abs(shown[100, 100] - 128).max() < 10


# --- the control ----------------------------------------------------------------------------


def test_a_click_a_typed_place_and_an_arrow_set_the_chosen_point(explorer):
    points = explorer.controls["line"]
    points.point.choose(POINTS[1])
    points._set(0.41, 0.7)
    assert points.value.places[1] == (0.41, 0.7)
    assert points.place.value == "41.0 70.0"
    points.place.value = "41,5 71"
    assert points.value.places[1] == pytest.approx((0.415, 0.71))
    points.nudges["down ▾"].click()
    assert points.value.places[1] == pytest.approx((0.415, 0.712))
    assert explorer.result.lags.line is points.value
    explorer.reset()
    assert points.value.places == points._start


@pytest.mark.parametrize("text", ["much", "12", "1 2 3", "120 5", "-1 5", "nan 5"])
def test_a_place_that_is_none_is_refused_in_one_sentence(example, text, unseen):
    points = example.controls["line"]
    before = points.value
    points.place.value = text
    assert f"Write two numbers from 0 to 100, such as 40 25; got “{text}”" in points.note.value
    assert points.value is before


def test_a_line_or_patch_in_the_wrong_place_is_said_and_the_last_state_stays(explorer):
    points, before = explorer.controls["line"], explorer.result
    points.point.choose("white patch")
    points.place.value = "88 75"
    assert "White must be much brighter than black" in explorer.note.value
    assert "the picture still shows the last state" in explorer.note.value
    assert explorer.result is before
    points.reset()
    assert explorer.note.value == ""


def test_another_photograph_waits_for_its_points(explorer, tmp_path):
    Image.new("RGB", (400, 300), "grey").save(tmp_path / "pane.jpg")
    (tmp_path / "text.jpg").write_text("no picture")
    photograph = explorer.controls["line"].photograph
    before = explorer.result
    photograph.chosen.value = "text.jpg"
    assert "Did not read text.jpg" in photograph.note.value
    photograph.chosen.value = "pane.jpg"
    assert explorer.result is before
    assert "White must be much brighter" in explorer.note.value
    photograph.example.click()
    assert explorer.note.value == ""
    assert "An invented photograph." in explorer.said


def test_the_path_changes_the_stress_and_not_what_was_read(explorer):
    found, stress = explorer.result.found, explorer.result.stress
    explorer.controls["path"].value = 20e-3
    assert explorer.result.found is found
    assert explorer.result.stress == pytest.approx(stress / 2)
    explorer.controls["path"].value = 5e-3
    assert "shorter than three thicknesses" in explorer.note.value


def test_any_line_takes_no_parabola_for_granted(explorer):
    explorer.controls["seen"].menu.value = "any line"
    assert explorer.result.lags is explorer.result.found
    assert "Colours do not tell squeeze from pull." in explorer.said


def test_the_stress_is_kept_with_its_interval(explorer, tmp_path):
    path = explorer.keep_readings()
    assert path.resolve().parent == tmp_path / "recordings"
    [row] = csv.DictReader(path.read_text(encoding="utf-8").splitlines())
    assert row["what"] == "squeeze at the faces, by colours"
    assert float(row["low"]) < float(row["value"]) < float(row["high"])
    assert "light path 10 mm" in row["remark"]
    (tmp_path / "full").write_text("")
    assert explorer.keep_readings(tmp_path / "full") is None
    assert "could not be kept" in explorer.kept.value
