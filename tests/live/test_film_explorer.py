# SPDX-License-Identifier: MIT
"""The explorer of a filmed fall: hand and keyboard, other films, what cannot be read."""

import csv
import re
from dataclasses import replace

import numpy as np
import pytest
from pictures import faults

from glasskit.demonstration.breaklog import entry_as_typed
from glasskit.draw.look import Look
from glasskit.live.filming import example_film, film_explorer
from glasskit.live.recording import INVENTED
from glasskit.measured import Measure, film_fall
from glasskit.words.filming import for_the_log


@pytest.fixture(scope="module")
def shared():
    return film_explorer()


@pytest.fixture
def explorer(shared, unseen):
    yield shared
    for box in shared.counting.boxes:
        if box.value:  # each change draws anew
            box.value = ""


def frames(explorer):
    path = explorer.result.path
    return set(path.seen.frame[np.concatenate([path.fall, path.rise])].tolist())


def messages(explorer):
    return explorer.film.note.value + explorer.note.value


def test_the_example_says_that_it_is_invented_and_agrees_with_the_height(explorer):
    assert explorer.said.startswith("An invented film. ")
    assert "Its height foretells" in explorer.said
    assert explorer.film.source == INVENTED


def test_frames_are_left_out_by_typing_and_come_back(explorer):
    first = sorted(frames(explorer))[3]
    explorer.counting.without.value = f"{first}, {first + 1}-{first + 2}"
    assert not {first, first + 1, first + 2} & frames(explorer)
    explorer.counting.without.value = ""
    assert first in frames(explorer)


def test_a_click_leaves_the_nearest_frame_out_and_another_takes_it_back(explorer):
    seen, place = explorer.result.path.seen, explorer.result.path.fall[4]
    high, wide = seen.picture.shape[:2]
    at = seen.x[place] / wide, seen.y[place] / high
    explorer._clicked(*at)
    assert explorer.counting.without.value == str(seen.frame[place])
    assert seen.frame[place] not in frames(explorer)
    explorer._clicked(*at)
    assert explorer.counting.without.value == ""


def test_a_click_sets_a_mark_and_lengths_then_come_from_the_ruler(explorer):
    explorer.tool.choose("sets the upper mark")
    explorer._clicked(0.5, 0.25)
    assert explorer.controls["upper"].value == pytest.approx(0.25, abs=1e-3)
    assert explorer.result.ruler is not None
    explorer.tool.choose(next(iter(explorer.tool.choices)))
    explorer.controls["scale"].reset()


@pytest.mark.parametrize("typed", ["twelve", "12-"])
def test_what_is_no_frame_is_said_and_the_last_state_stays(explorer, typed):
    before = explorer.result
    explorer.counting.without.value = typed
    assert "must be like 12, 15-18" in explorer.note.value
    assert explorer.result is before


def test_first_and_last_frame_are_obeyed(explorer):
    explorer.counting.first.value = "20"
    assert min(frames(explorer)) >= 20
    explorer.counting.last.value = "x"
    assert "must be a whole number" in explorer.note.value


def test_too_few_frames_are_said_and_the_last_state_stays(explorer):
    before = explorer.result
    explorer.counting.last.value = str(min(frames(explorer)) - 2)
    assert "5 frames or more as it falls" in explorer.note.value
    assert explorer.result is before


def test_a_text_named_as_a_film_and_a_missing_one_cost_nothing(explorer, tmp_path):
    before, text = explorer.result, tmp_path / "film.mp4"
    text.write_text("no film\n" * 50)
    for path, said in (
        (text, "cannot be read"),
        (tmp_path / "none.mov", "a file that exists"),
    ):
        explorer.film.chosen.value = str(path)
        assert said in explorer.film.note.value
        assert explorer.result is before


def test_another_film_is_measured_and_a_search_uses_the_threshold(explorer, tmp_path):
    film = film_fall(np.random.default_rng(2), side=320, height=0.6, rate=240.0, slowed=8.0)
    (tmp_path / "slow.mp4").write_bytes(film.file)
    explorer.counting.first.value = "3"
    explorer.film.chosen.value = str(tmp_path / "slow.mp4")
    assert explorer.counting.first.value == ""  # of another film
    assert explorer.result.slowed == pytest.approx(8.0, rel=1e-6)
    assert "slow motion" in explorer.scene.verdict(explorer.result, "metric").lower()
    assert "times" in explorer.said
    high = explorer.result.height
    assert high.low < film.height < high.high
    explorer.film.threshold.value = 0.5
    explorer.film.search_again()
    assert "nothing round moves" in explorer.film.note.value
    assert explorer.result.height is high
    explorer.film.threshold.reset()
    explorer.film.open(example_film(), INVENTED)


def test_numbers_are_kept_with_how_they_were_found(explorer, tmp_path):
    explorer.counting.without.value = str(sorted(frames(explorer))[2])
    path = explorer.keep_readings(tmp_path)
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    assert [row["what"] for row in rows] == [
        "height of the fall",
        "speed at its end",
        "g by the film",
        "height of the rebound",
    ]
    assert "leave out frames" in rows[0]["remark"]
    assert float(rows[0]["low"]) < float(rows[0]["value"]) < float(rows[0]["high"])
    assert rows[2]["unit"] == "m/s²"
    assert "An invented film is no evidence" in explorer.kept.value


@pytest.mark.parametrize("system", ["metric", "us"])
def test_what_is_said_for_the_break_log_is_what_its_form_takes(explorer, system):
    result = explorer.result
    said = for_the_log(result, invented=False, system=system)
    typed = re.search(r"type (\S+ \S+) as height", said)[1]
    blow = {"day": "2030-05-31", "pane": "ordinary", "number": "", "system": "metric"}
    with pytest.raises(ValueError, match="say whether it broke or held"):
        entry_as_typed(height=typed, broke=None, **blow)
    entry = entry_as_typed(height=typed, broke=False, **blow)
    assert entry.height == pytest.approx(result.height.value, rel=2e-3)
    assert "Nothing is stored there until you say" in said


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"touch": "last"}, "The touch was not seen"),
        ({"free_fall": Measure(value=7.8, low=7.6, high=8.0)}, "mend the scale"),
    ],
)
def test_no_height_goes_into_the_break_log_that_is_not_one(explorer, changed, said):
    result = replace(explorer.result, **changed)
    assert said in for_the_log(result, invented=False, system="metric")


@pytest.mark.parametrize("large", [False, True])
def test_words_in_the_picture_stand_clear_of_each_other(explorer, large):
    assert faults(explorer.scene, explorer.result, Look(large=large)) == []
