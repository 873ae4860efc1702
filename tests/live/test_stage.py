# SPDX-License-Identifier: MIT
import asyncio
import json
import re
from dataclasses import replace

import pytest
from matplotlib.text import Text

from glasskit.breakage import Breakage
from glasskit.demonstration import drop_both
from glasskit.impact import ball_of_mass
from glasskit.live import stage
from glasskit.live.stage import on_stage, stage_file
from glasskit.materials import glass, solid
from glasskit.stress import tempered
from glasskit.words.crumbs import about, count_sentence
from glasskit.words.stage import STORY, notes


@pytest.fixture(scope="module")
def show(tmp_path_factory):
    """Return the acts of the file, the file, and all figures that were drawn for it."""
    figures, draw = [], stage.picture

    def kept(figure):
        texts = [text.get_text() for text in figure.findobj(Text)]
        figures.append((texts, {scale for ax in figure.axes for scale in scales(ax)}))
        return draw(figure)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stage, "_SQUEEZES", 2)
        patch.setattr(stage, "_BREAKS", 2)
        patch.setattr(stage, "picture", kept)
        film = stage.moments
        patch.setattr(stage, "moments", lambda fall: film(fall)[::14])
        target = tmp_path_factory.mktemp("show") / "show.html"

        async def written():  # as on a page, where explorers draw later
            return stage_file(target, fall())

        path = asyncio.run(written())
    text = path.read_text("utf-8")
    return json.loads(re.search(r'id="data">(.*?)</script>', text, re.S)[1]), text, figures


def fall(thickness=5e-3, squeeze=100e6):
    """Return the fall of another day than the example's."""
    pane = replace(stage.example().struck.pane, thickness=thickness)
    return drop_both(ball_of_mass(0.227, solid("steel")), pane, 1.4, squeeze)


def scales(ax):
    return ax.get_xscale(), ax.get_yscale()


def test_every_act_has_pictures_words_for_them_and_notes(show):
    acts, _, _ = show
    assert [act["title"] for act in acts] == [act.title for act in STORY]
    for act in acts[:-1]:
        assert all(one.startswith("data:image/svg+xml;base64,") for one in act["pictures"])
        assert act["alt"]
        assert act["ask"]
        assert act["say"]
    assert [len(act["pictures"]) > 1 for act in acts] == [act["rate"] > 0 for act in acts]
    assert acts[-1]["lines"][0][0] == "Is glass a liquid?"


def test_the_worst_scratch_stands_open_until_it_is_pressed_shut(show):
    acts, _, figures = show
    assert acts[3]["alt"].startswith("Open from mouth to tip: the crack runs.")
    assert acts[4]["alt"].startswith("Pressed shut from mouth to tip: it holds.")
    titles = [text for texts, _ in figures for text in texts if "mouth to tip" in text]
    assert titles == ["Open from mouth to tip: the crack runs"] * 2 + [
        "Pressed shut from mouth to tip: it holds"
    ]


def test_nothing_is_loaded_from_elsewhere(show):
    _, text, _ = show
    assert not re.search(r'(?:src|href)="(?!data:)|https?://|url\(', text)


def test_no_picture_speaks_to_physicists_alone(show):
    acts, _, figures = show
    assert all(kinds <= {"linear"} for _, kinds in figures)
    told = [" ".join(texts) for texts, _ in figures]
    told += [" ".join((act["title"], act["ask"], act["say"], act["alt"])) for act in acts]
    for text in told:
        assert not re.search(r"\bK\b(?!⁺)|kN|W/\(|√|logarithm|hackle|overlap", text), text


def test_every_act_counts_the_crumbs_of_the_pane_that_fell(show):
    acts, _, figures = show
    profile = tempered(100e6, 5e-3)
    pane = Breakage(profile=profile, glass=glass("soda-lime"), way="quench")
    said = count_sentence(pane, "metric")
    told = {act["title"]: act["alt"] for act in acts if "crumb" in act["alt"].lower()}
    assert list(told) == ["A break in slow motion", "When it breaks: crumbs"]
    assert all(said in alt for alt in told.values())
    counts = re.findall(
        r"\d[\d,]* crumbs", " ".join(text for texts, _ in figures for text in texts)
    )
    assert counts == [f"{about(pane)} crumbs"]


def test_a_pane_without_crumbs_gives_way_to_a_usual_one():
    usual = {"thickness": 4e-3, "squeeze": 100e6, "height": 0.8}
    assert stage._breaking(fall(squeeze=300e6)) == usual


def test_the_panel_saves_under_the_next_free_name(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(stage, "_acts", lambda both, system: iter(()))
    panel = on_stage()
    panel.write.click()
    panel.write.click()
    assert sorted(path.name for path in (tmp_path / "demonstration").iterdir()) == [
        *("show-01.html", "show-02.html")
    ]
    assert 'data-file="demonstration/show-02.html"' in panel.said.value
    (tmp_path / "file").write_text("")
    panel.folder.value = "file"
    panel.write.click()
    assert "could not save in file" in panel.note.value.lower()


def test_an_unknown_system_is_refused(tmp_path):
    for make in (on_stage, lambda system: stage_file(tmp_path / "s.html", system=system)):
        with pytest.raises(ValueError, match=r"^system must be one of metric, us; got "):
            make("old")


def test_the_notes_hold_a_question_and_an_answer_for_each_act():
    assert notes().count("  ask: ") == notes().count("  say: ") == len(STORY) == 10
    assert all("?" in act.ask for act in STORY)
