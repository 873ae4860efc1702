# SPDX-License-Identifier: MIT
import io

import numpy as np
import pytest
from matplotlib.figure import Figure
from PIL import Image
from spring import SpringScene, stretch

from glasskit.draw.look import Look
from glasskit.draw.picture import (
    PAGE,
    SCREEN,
    SLIDE,
    LivePicture,
    layout_faults,
    save,
    still,
)
from glasskit.draw.scene import FixedScene
from glasskit.live.gallery import explorer


class CountedScene(SpringScene):
    """Counts how often the still part is built."""

    def __init__(self):
        self.built = []

    def build(self, figure, look, result):
        self.built.append(result)  # the list is shared with the copies that draw
        return super().build(figure, look, result)


def pixels(file):
    with Image.open(io.BytesIO(file)) as image:
        return np.asarray(image.convert("RGB")).astype(int)


def figure_pixels(figure):
    figure.canvas.draw()
    return np.asarray(figure.canvas.buffer_rgba())[..., :3].astype(int)


def test_a_live_picture_is_the_still_of_the_same_result_pixel_by_pixel():
    live = LivePicture(SpringScene())
    live.draw(stretch(8.0, 60.0), Look())  # leaves nothing behind
    got = pixels(live.draw(stretch(3.0, 60.0), Look()))
    expected = figure_pixels(still(SpringScene(), stretch(3.0, 60.0), size=SCREEN))
    assert got.shape == (540, 1280, 3)
    # Tolerance: none, for PNG is lossless and the artists are the same.
    assert np.array_equal(got, expected)


def test_only_what_moves_is_drawn_anew():
    scene = CountedScene()
    live = LivePicture(scene)
    first = live.draw(stretch(1.0, 60.0), Look())
    second = live.draw(stretch(2.0, 60.0), Look())
    assert first != second
    assert live.draw(stretch(1.0, 60.0), Look()) == first
    assert len(scene.built) == 1


class NamedSpring(SpringScene):
    """Words of its user in a label, a legend, a tick and the verdict."""

    words = r"$\frac{1}{0$ and a$b$c"

    def build(self, figure, look, result):
        moving = super().build(figure, look, result)
        curve = figure.axes[1]
        curve.set_title(self.words)
        curve.set_yticks([0.1, 0.2], [self.words, "b"])
        curve.plot([1, 2], [0.1, 0.2], label=self.words)
        curve.legend()
        return moving

    def verdict(self, result, system):
        return self.words


def test_dollars_in_a_users_words_make_no_formula():
    still(NamedSpring(), stretch(1.0, 60.0))
    assert LivePicture(NamedSpring()).draw(stretch(1.0, 60.0), Look())


def test_a_new_frame_or_look_builds_anew():
    scene = CountedScene()
    live = LivePicture(scene)
    live.draw(stretch(1.0, 60.0), Look())
    live.draw(stretch(1.0, 20.0), Look())
    live.draw(stretch(1.0, 20.0), Look(large=True))
    live.draw(stretch(1.0, 20.0), Look(large=True, system="us"))
    assert len(scene.built) == 4


def test_the_last_few_frames_are_kept_and_no_more():
    scene = CountedScene()
    live = LivePicture(scene)
    stiff = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0]
    first = [live.draw(stretch(1.0, one), Look()) for one in stiff]
    assert [live.draw(stretch(1.0, one), Look()) for one in stiff[:0:-1]] == first[:0:-1]
    assert len(scene.built) == 7
    assert live.draw(stretch(1.0, stiff[0]), Look()) == first[0]
    assert len(scene.built) == 8


@pytest.mark.parametrize(
    ("page", "name", "places"),
    [
        ("01_why_glass_breaks", "depth", [20e-6, 1e-8, 2e-3]),
        ("02_a_crack_pressed_shut", "depth", [25e-6, 2e-6, 2e-4]),
        ("04_from_height_to_energy", "height", [0.05, 0.9, 9.5]),
        ("04p_from_height_to_energy", "way", [0.05, 1e-4, 0.1]),
        ("09_ball_on_a_pane", "mass", [0.1, 0.003, 0.3]),
        ("06_salt_bath", "thickness", [2e-3, 0.8e-3, 6e-3]),
        ("11_keys_and_sand", "load", [0.1, 5.0, 100.0]),
        ("12_under_load_for_years", "depth", [1e-6, 11e-6, 90e-6]),
    ],
)
def test_axes_and_ground_change_without_a_new_frame(page, name, places, monkeypatch):
    shown = explorer(page)
    values = {control.name: control.value for control in shown.controls.values()}
    results = [shown.compute(**{**values, name: place}) for place in places]
    fresh = [LivePicture(shown.scene).draw(result, Look()) for result in results]
    live = LivePicture(shown.scene)
    live.draw(results[0], Look())
    monkeypatch.setattr(live, "_rebuild", None)
    for result, picture in zip(results[::-1], fresh[::-1], strict=True):
        assert live.draw(result, Look()) == picture
    shown.close()


class Slope(FixedScene):
    """One line, drawn anew for each result."""

    def build(self, figure, look, result):
        figure.subplots().plot([0, 1], [0, sum(result)])
        return []


def test_a_short_lived_result_is_never_taken_for_one_of_before():
    live = LivePicture(Slope())
    # Nobody else holds these lists, so that the place of one is free for the next.
    drawn = [live.draw([1.0, slope], Look()) for slope in (0.0, 1.0, 2.0, 3.0)]
    assert len(set(drawn)) == 4


def test_a_still_does_not_disturb_the_live_picture():
    scene = SpringScene()
    live = LivePicture(scene)
    before = live.draw(stretch(2.0, 60.0), Look())
    still(scene, stretch(7.0, 60.0))
    assert live.draw(stretch(2.0, 60.0), Look()) == before


@pytest.mark.parametrize("size", [SCREEN, SLIDE, PAGE])
@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)]
)
def test_nothing_is_cut_off_in_any_look_and_size(look, size):
    figure = still(SpringScene(), stretch(9.0, 20.0), look, size)
    assert layout_faults(figure) == []


def test_faults_of_layout_are_found():
    figure = still(SpringScene(), stretch(9.0, 20.0))
    figure.text(0.99, 0.5, "too far to the right")
    figure.text(0.5, 0.9, "one")
    figure.text(0.5, 0.9, "two")
    faults = layout_faults(figure)
    assert "cut off: 'too far to the right'" in faults
    assert "overlap: 'one' and 'two'" in faults


def faults_of(*texts, panels=1):
    figure = Figure((6, 4), 100)
    axes = figure.subplots(1, panels, squeeze=False)[0]
    for ax in axes:
        ax.set(xticks=[], yticks=[])
    for words, place, turn in texts:
        axes[0].text(*place, words, rotation=turn, transform=axes[0].transAxes)
    return layout_faults(figure)


def test_labels_along_two_slanting_lines_do_not_overlap_for_their_upright_boxes():
    slanting = [("first label", (0.3, 0.3), 45), ("second label", (0.4, 0.3), 45)]
    assert faults_of(*slanting) == []
    crossing = [slanting[0], ("second label", (0.3, 0.3), -45)]
    assert faults_of(*crossing) == ["overlap: 'first label' and 'second label'"]


def test_labels_that_touch_read_as_one():
    figure = Figure((6, 4), 100)
    first = figure.text(0.2, 0.5, "12", ha="right")
    second = figure.text(0.2, 0.5, "34")
    assert layout_faults(figure) == ["overlap: '12' and '34'"]
    second.set_x(0.2 + 0.3 * first.get_fontsize() / 72 / 6)
    assert layout_faults(figure) == []


def test_a_label_that_runs_into_the_next_panel_is_a_fault():
    assert faults_of(("over the edge of it", (0.9, 0.5), 0), panels=2) == [
        "in another panel: 'over the edge of it'"
    ]
    assert faults_of(("inside", (0.1, 0.5), 0), panels=2) == []


def test_a_slide_is_full_hd_and_says_what_is_seen(tmp_path):
    figure = still(SpringScene(), stretch(3.0, 60.0))
    path = save(figure, tmp_path / "spring.png", "Spring", "The spring is long.")
    with Image.open(path) as image:
        assert image.size == (1920, 1080)
        assert image.info["Description"] == "The spring is long."


def test_the_same_picture_gives_the_same_vector_file(tmp_path):
    texts = [
        save(still(SpringScene(), stretch(3.0, 60.0)), tmp_path / name, "Spring").read_text()
        for name in ("one.svg", "two.svg")
    ]
    assert texts[0] == texts[1]
    assert "<title>Spring" in texts[0] or "<dc:title>Spring" in texts[0]


def test_a_file_is_written_whole_or_not_at_all(tmp_path):
    figure = still(SpringScene(), stretch(3.0, 60.0))
    with pytest.raises(OSError, match="No such file"):
        save(figure, tmp_path / "missing" / "spring.png")
    save(figure, tmp_path / "spring.png")
    assert [path.name for path in tmp_path.iterdir()] == ["spring.png"]
