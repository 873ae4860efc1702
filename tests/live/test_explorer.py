# SPDX-License-Identifier: MIT
import asyncio
import html
import re
import uuid
import warnings
import weakref

import pytest
from IPython.core.formatters import DisplayFormatter
from ipywidgets.widgets.widget import _instances
from PIL import Image
from spring import SpringScene, numbers, sentence, spring_explorer, stretch

from glasskit.live import panel
from glasskit.live.controls import Slider
from glasskit.live.explorer import Explorer
from glasskit.live.predict import Prediction
from glasskit.quantities import OutsideValidityWarning


def alt(explorer):
    return html.unescape(re.search(r'alt="([^"]*)"', explorer.image.value)[1])


@pytest.fixture
def explorer():
    return spring_explorer()


def test_the_picture_stands_there_from_the_start_and_says_what_is_seen(explorer):
    assert alt(explorer) == "Pulled with 2.00 N the spring is 0.133 m long."
    assert alt(explorer) in re.sub(r"</?abbr[^>]*>", "", explorer.sentence.value)
    assert '<abbr title="tension: ' in explorer.sentence.value
    assert "<td>0.133 m</td>" in explorer.words.value


def test_a_move_changes_picture_sentence_and_numbers(explorer):
    before = explorer.image.value, explorer.words.value
    explorer.controls["force"].slider.value = 6.0
    assert explorer.result == stretch(6.0, 60.0)
    assert alt(explorer) == "Pulled with 6.00 N the spring is 0.200 m long."
    assert explorer.controls["force"].box.value == "6"
    assert explorer.image.value != before[0]
    assert explorer.words.value != before[1]


def test_on_a_loop_a_burst_of_moves_is_computed_once_with_the_last_value():
    async def drag():
        seen = []

        def compute(force):
            seen.append(force)
            return stretch(force, 60.0)

        control = Slider("force", "pull", "force", 0.0, 8.0, 0.0, step=0.1)
        explorer = Explorer([control], compute, SpringScene(), sentence, numbers, title="Drag")
        for tenth in range(1, 78):
            control.slider.value = tenth / 10
        await asyncio.sleep(0.01)
        return seen, explorer

    seen, explorer = asyncio.run(drag())
    assert seen == [0.0, 7.7]
    assert alt(explorer).startswith("Pulled with 7.70 N")
    assert explorer.controls["force"].box.value == "7.7"


def test_what_the_model_refuses_is_said_and_the_last_picture_stays(explorer):
    before = explorer.image.value
    explorer.controls["force"].slider.value = 9.5
    assert "Force must be at most 9 N, for the hook opens; got 9.5 N" in explorer.note.value
    assert explorer.image.value == before
    explorer.controls["force"].slider.value = 2.0
    assert explorer.note.value == ""


def test_the_last_good_state_follows_units_while_the_controls_are_refused(explorer):
    explorer.controls["force"].slider.value = 9.5
    explorer.switch_units()
    assert "0.450 lbf" in alt(explorer)
    assert "hook opens" in explorer.note.value


def test_a_doubtful_state_is_drawn_and_the_doubt_is_said():
    def compute(force):
        if force > 5:
            warnings.warn("above 5 N the wire yields", OutsideValidityWarning, stacklevel=2)
        return stretch(force, 60.0)

    control = Slider("force", "pull", "force", 0.0, 8.0, 1.0)
    explorer = Explorer([control], compute, SpringScene(), sentence, numbers, title="Doubt")
    control.value = 6.0
    assert "Above 5 N the wire yields." in explorer.note.value
    assert explorer.result.force == 6.0
    control.value = 2.0
    assert explorer.note.value == ""


def test_a_warning_of_another_kind_is_not_swallowed():
    def compute(force):
        warnings.warn("about something else", UserWarning, stacklevel=2)
        return stretch(force, 60.0)

    control = Slider("force", "pull", "force", 0.0, 8.0, 1.0)
    with pytest.warns(UserWarning, match="something else"):
        Explorer([control], compute, SpringScene(), sentence, numbers, title="Else")


def test_a_mistake_of_ours_is_said_and_raised():
    def compute(force):
        return stretch(force, 60.0) if force < 5 else None

    control = Slider("force", "pull", "force", 0.0, 8.0, 1.0)
    explorer = Explorer([control], compute, SpringScene(), sentence, numbers, title="Wrong")
    with pytest.raises(AttributeError):
        control.value = 6.0
    assert "Something is wrong inside this explorer" in explorer.note.value


@pytest.mark.parametrize(("soon", "marks"), [(60.0, []), (0.0, [True, False])])
def test_only_a_picture_that_is_slow_to_come_dims_the_old_one(
    explorer, monkeypatch, soon, marks
):
    monkeypatch.setattr("glasskit.live.explorer._SOON", soon)
    monkeypatch.setattr("spring.pause", 0.05)
    seen = []
    explorer.image.observe(
        lambda change: seen.append("glasskit-old" in change["new"]), "_dom_classes"
    )
    explorer.controls["force"].value = 3.0
    assert seen == marks


def test_units_switch_there_and_back_without_moving_anything(explorer):
    before = explorer.image.value, explorer.words.value
    explorer.units.click()
    assert explorer.units.description == "Show metric units"
    assert explorer.controls["force"].box.description == "pull on the spring / lbf"
    assert "0.450 lbf" in alt(explorer)
    assert explorer.result == stretch(2.0, 60.0)
    explorer.units.click()
    assert (explorer.image.value, explorer.words.value) == before


def test_large_type_enlarges_picture_and_controls(explorer):
    before = explorer.image.value
    explorer.type.click()
    assert explorer.image.value != before
    assert "glasskit-large" in explorer.widget._dom_classes
    explorer.type.click()
    assert explorer.image.value == before
    assert "glasskit-large" not in explorer.widget._dom_classes


def test_reset_goes_back_to_the_start_and_keeps_the_units(explorer):
    explorer.switch_units()
    start = explorer.image.value
    explorer.controls["force"].value = 7.0
    explorer.controls["stiffness"].menu.value = "soft"
    explorer.reset()
    assert explorer.result == stretch(2.0, 60.0)
    assert explorer.image.value == start


def test_save_writes_a_slide_and_a_vector_file_and_never_overwrites(explorer, tmp_path):
    folder = tmp_path / "pictures"
    first, second = explorer.save(folder), explorer.save(folder)
    names = [path.name for path in (*first, *second)]
    stem = "a-spring-that-stretches"
    assert names == [f"{stem}-0{n}.{kind}" for n in (1, 2) for kind in ("png", "svg")]
    assert f"{stem}-02.png" in explorer.saved.value
    assert sorted(path.name for path in folder.iterdir()) == sorted(names)
    with Image.open(first[0]) as image:
        assert image.size == (1920, 1080)
        assert image.info["Description"] == alt(explorer)


def test_a_folder_that_cannot_be_made_is_said_plainly(explorer, tmp_path):
    (tmp_path / "taken").write_text("a file, not a folder")
    assert explorer.save(tmp_path / "taken") == []
    assert "could not be saved" in explorer.saved.value


def test_sentences_are_never_taken_for_markup():
    control = Slider("force", "pull", "force", 0.0, 8.0, 1.0)
    explorer = Explorer(
        [control],
        lambda force: stretch(force, 60.0),
        SpringScene(),
        lambda result, system: 'a < b & "c"',
        lambda result, system: [("<i>", "&")],
        title="<Title>",
    )
    assert alt(explorer) == 'a < b & "c"'
    assert "&lt;i&gt;" in explorer.words.value


def test_as_last_line_of_a_cell_it_shows_itself_and_leaves_a_still(explorer, monkeypatch):
    shown = []
    monkeypatch.setattr(panel, "_display", lambda it, **_: shown.append(it))
    DisplayFormatter().format(explorer)
    alive, still = shown
    assert explorer.widget in alive.children
    assert 'alt="Pulled with 2.00 N the spring is 0.133 m long."' in still["text/html"]
    assert "Run this page to make this part live" in still["text/html"]
    name = re.search(r'id="([^"]+)"', still["text/html"])[1]
    assert alive.children[0].value.endswith(f">#{name} {{ display: none; }}</style>")


def test_a_prediction_leaves_a_still_that_gives_nothing_away(explorer, monkeypatch):
    shown = []
    monkeypatch.setattr(panel, "_display", lambda it, **_: shown.append(it))
    DisplayFormatter().format(Prediction("How long?", [("a", "b"), ("c", "d")], 0, explorer))
    assert "<img" not in shown[1]["text/html"]


class Shell:
    """What a panel asks of the kernel: which cell runs, and which run of it this is."""

    def __init__(self):
        self.request = {}

    def run(self, cell, made):
        message = str(uuid.uuid4())
        self.request = {"metadata": {"cellId": cell}, "header": {"msg_id": message}}
        for one in made:
            DisplayFormatter().format(one)

    def get_parent(self):
        return self.request


def test_a_cell_that_runs_again_gives_back_what_it_had_shown(monkeypatch):
    shell = Shell()
    monkeypatch.setattr(panel, "get_ipython", lambda: shell)
    monkeypatch.setattr(panel, "_display", lambda *_, **__: None)
    before = set(_instances)
    first, second = spring_explorer(), spring_explorer()
    shell.run("one", [first, second])
    after = set(_instances)
    assert len(after - before) > 20
    other = spring_explorer()
    shell.run("two", [other])
    figure = weakref.ref(first._picture)
    shell.run("one", [second])  # shown again itself
    assert first.widget.comm is None
    assert second.widget.comm is not None
    assert figure() is None
    first.close()  # another cell that showed it runs again, too
    second.controls["force"].value = 3.0
    assert alt(second).startswith("Pulled with 3.00 N")
    shell.run("one", [Prediction("How long?", [("a", "b"), ("c", "d")], 0, spring_explorer())])
    hidden = panel._shown["one"][1][0][0]._then
    shell.run("one", [])
    shell.run("one", [spring_explorer()])
    assert hidden.widget.comm is None
    shell.run("two", [spring_explorer()])
    for _ in range(4):
        shell.run("one", [spring_explorer()])
        shell.run("two", [spring_explorer()])
    assert len(_instances) - len(before) <= len(after - before) + 4


def test_a_page_says_that_a_panel_is_being_made_until_it_is_shown(monkeypatch):
    happened = []
    monkeypatch.setattr(panel, "_display", lambda shown, **_: happened.append(shown))
    monkeypatch.setattr(panel, "_clear", lambda *, wait: happened.append(wait))
    with panel.being_made():
        assert happened == [], "in a script there is no page"
    monkeypatch.setattr(panel, "get_ipython", Shell)
    with panel.being_made():
        assert "That takes some seconds" in happened[0]["text/html"]
    assert happened[1:] == [True]
