# SPDX-License-Identifier: MIT
"""The panel that counts crumbs: outlines corrected by clicks and by typing, files, keeping."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from glasskit.live.counting import count_explorer
from glasskit.measured import invented_photo


@pytest.fixture(scope="module")
def panel():
    return count_explorer()


@pytest.fixture(autouse=True)
def fresh(request, unseen):
    yield
    if "panel" in request.fixturenames:
        request.getfixturevalue("panel").reset()


def typed(panel, tool, text):
    outlines = panel.controls["pieces"]
    outlines.tool.choose(tool)
    outlines.places.value = text
    return outlines.note.value


def as_file(photo):
    kept = BytesIO()
    Image.fromarray(photo.pixels).save(kept, "PNG")
    return kept.getvalue()


def neighbours(pieces):
    """Return two places left and right of a border that lies well within the square."""
    side, fine = pieces.view.side, pieces.view.resolution
    row = len(pieces.labels) // 2
    line = pieces.labels[row]
    middle = len(line) // 2
    change = middle + np.flatnonzero(line[middle:-1] != line[middle + 1 :])[0]
    x, y = (np.array([change, row]) + 0.5) / fine - side / 2
    return (x - 0.5e-3, y), (x + 0.5e-3, y)


def in_mm(places):
    return "; ".join(f"{1e3 * x:.3f} {1e3 * y:.3f}" for x, y in places)


def test_an_invented_photograph_says_so(panel):
    assert panel.said.startswith("An invented photograph.")
    assert "95% interval" in panel.said


def test_typed_places_join_and_the_last_is_taken_back(panel):
    before = panel.result.pieces.number
    places = in_mm(neighbours(panel.result.pieces))
    assert typed(panel, "join two pieces", places) == ""
    assert panel.result.pieces.number == before - 1
    assert "1 joined" in panel.controls["pieces"].told.value
    panel.controls["pieces"].undo.click()
    assert panel.result.pieces.number == before


def test_clicks_do_the_same_as_typing(panel):
    outlines = panel.controls["pieces"]
    outlines.tool.choose("join two pieces")
    before, side = panel.result.pieces.number, panel.result.pieces.view.side
    for time, (x, y) in enumerate(neighbours(panel.result.pieces)):
        outlines.picture._place.value = f"{x / side + 0.5} {y / side + 0.5} {time}"
    assert panel.result.pieces.number == before - 1


def test_places_are_typed_in_the_units_shown(panel):
    places = neighbours(panel.result.pieces)
    before = panel.result.pieces.number
    panel.switch_units()
    inches = "; ".join(f"{x / 25.4e-3:.4f} {y / 25.4e-3:.4f}" for x, y in places)
    assert typed(panel, "join two pieces", inches) == ""
    panel.switch_units()
    assert panel.result.pieces.number == before - 1
    assert panel.controls["pieces"].width.value.startswith("70")


@pytest.mark.parametrize(
    ("tool", "text", "said"),
    [
        ("join two pieces", "0 0; 0.01 0", "lie on two pieces"),
        ("remove what is none", "99 0", "must lie in the view"),
        ("remove what is none", "here", "two numbers for each place"),
        ("remove what is none", "1 2 3", "two numbers for each place"),
    ],
)
def test_a_place_that_will_not_do_is_said_in_one_sentence(panel, tool, text, said):
    before = panel.result.pieces
    assert said in typed(panel, tool, text)
    assert panel.result.pieces is before


def test_looking_at_every_outline_leaves_a_narrower_interval(panel):
    wide = np.ptp(panel.result.interval)
    panel.controls["checked"].menu.index = 1
    assert np.ptp(panel.result.interval) < wide


def test_what_cannot_be_read_costs_nothing(panel):
    outlines, before = panel.controls["pieces"], panel.result.pieces
    outlines.photograph.open(b"no photograph", "crumbs.jpg")
    assert "Did not read crumbs.jpg" in outlines.photograph.note.value
    assert panel.result.pieces is before


def test_without_a_frame_four_corners_are_set_by_hand(panel):
    photo = invented_photo(np.random.default_rng(2), width=640, contrast=0.45, noise=1.5)
    pixels = photo.pixels.copy()
    pixels[pixels > 200] = 40  # the paper is as dark as the line
    pixels[pixels.mean(axis=2) > 0.8 * pixels.max()] = 40
    plain = Image.fromarray(pixels)
    kept = BytesIO()
    plain.save(kept, "PNG")
    outlines = panel.controls["pieces"]
    outlines.photograph.open(kept.getvalue(), "plain.png")
    if outlines._taken.pieces is None:
        assert outlines.tool.value == "corners"
        assert "corners by hand" in outlines.note.value
        assert outlines.source == "the invented example"
    outlines.photograph.open(as_file(photo), "mine.png")
    corners = "; ".join(f"{x:.2f} {y:.2f}" for x, y in photo.corners)
    assert typed(panel, "set the four corners", corners) == ""
    assert "Four corners are set" in outlines.told.value
    outlines.find.click()
    assert panel.result.count == pytest.approx(photo.count, abs=4)
    assert not panel.said.startswith("An invented")
    outlines.width.value = "wide"
    outlines.find.click()
    assert "Write a number in mm" in outlines.note.value
    outlines.width.value = "70"


def test_a_count_is_kept_with_what_was_done(panel, tmp_path):
    path = panel.keep_readings(tmp_path / "new")
    lines = path.read_text().splitlines()
    assert len(lines) == 3
    assert "pieces in a square of 50 mm" in lines[1]
    assert "6 mm; as found" in lines[1]
    assert lines[2].split(",")[5] == "MPa"
    blocked = tmp_path / "file"
    blocked.touch()
    assert panel.keep_readings(blocked) is None
    assert "could not be kept" in panel.kept.value
