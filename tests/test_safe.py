# SPDX-License-Identifier: MIT
"""What keeps people whole reads the same everywhere, and no text says the opposite."""

import json
import re
from pathlib import Path

import pytest
from test_one_truth import units

from glasskit import sheets
from glasskit.classroom import BookRow, Lesson, brittle_stick, chocolate_bar
from glasskit.classroom.likenesses import KINDS, between, texts
from glasskit.demonstration import CAUTIONS, DroppedBall, annealed, plan
from glasskit.impact import Pane
from glasskit.materials import glass, solid
from glasskit.quantities import GRAVITY
from glasskit.sheets import briefing, risk
from glasskit.sheets import lab as laboratory
from glasskit.sheets.lesson import lesson_hazards
from glasskit.tables import STATUSES, read, standing

ROOT = Path(__file__).resolve().parents[1]
LIVE = standing("live pane")


def words_of(notebook):
    path = next((ROOT / "notebooks").glob(f"{notebook}_*.ipynb"))
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return " ".join(
        "".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown"
    )


@pytest.fixture(scope="module")
def sheet():
    pane = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    ball = DroppedBall(mass=0.227, solid=solid("steel"))
    return sheets.plan_sheet(plan([annealed("ordinary", pane)], ball, 1))


# --- standing sentences ---------------------------------------------------------------------


def test_standing_sentences_have_sources_and_an_unknown_one_is_refused():
    for row in read("standing"):
        assert row["source"]
        assert row["status"] in STATUSES
    with pytest.raises(ValueError, match=r"^key must be one of floor, live pane"):
        standing("no such")


def test_a_table_is_read_with_its_standing_sentences():
    told = [row["text"] for row in read("sheet_rules")]
    assert not any("{{" in text for text in told)
    assert LIVE in told


@pytest.mark.parametrize(
    "notebook", ["00", "02", "09", "10", "13", "20", "21", "23", "39", "40"]
)
def test_pages_hold_the_rule_for_the_pane_that_was_hit(notebook):
    assert LIVE in words_of(notebook)


def test_sheets_hold_the_rule_for_the_pane_that_was_hit(sheet):
    assert CAUTIONS["unbroken"] == LIVE
    for html in (
        sheet,
        sheets.risk_assessment("ball drop"),
        sheets.briefing_cards(),
        sheets.laboratory_safety(),
    ):
        assert LIVE in html


OTHER_RULES = re.compile(
    r"closed bag|closed bin|in the bin or|\b24 h\b|for a day\b.*\bpane|\bas live\b|\bis live\b"
    r"|\blive pane|bin, never by hand|cover it and treat",
    re.I,
)


def test_no_text_has_another_rule_for_the_pane_that_was_hit():
    found = [
        (place, text) for place, text in units() if OTHER_RULES.search(text.replace(LIVE, ""))
    ]
    keys = [("standing.csv", "live pane")]
    assert [item for item in found if item not in keys] == []


@pytest.mark.parametrize("key", ["eye", "cut", "first-aider"])
def test_first_aid_reads_the_same_everywhere(key):
    for html in (
        sheets.risk_assessment("bend"),
        lesson_hazards(Lesson()),
        sheets.briefing_cards(),
        sheets.laboratory_safety(),
    ):
        assert standing(key) in html
    assert standing(key) in words_of("39")


def test_first_aid_says_what_trained_first_aiders_teach():
    # Source: MedlinePlus, Eye emergencies (from memory); Self Injury Support, bleeding (read).
    for word in ("do not rub, press, pull or rinse", "does not touch the eye", "emergency"):
        assert word in standing("eye")
    for word in ("press beside the piece, never on it", "never pull it out", "padding"):
        assert word in standing("cut")
    others = [
        (place, text)
        for place, text in units()
        if re.search(r"rinse only|leave embedded|do not rub", text)
        and standing("eye") not in text
    ]
    assert [item for item in others if "standing" not in item[0]] == []


# --- what is worn ---------------------------------------------------------------------------


def test_no_glove_is_called_cut_proof_and_no_glasses_but_safety_glasses():
    for place, text in units():
        bare = re.sub(r"no glove is cut-proof", "", text)
        assert "cut-proof" not in bare, (place, text)
        worn = re.search(r"(?<!safety )\bglasses\b(?! with)", text)
        if worn and re.search(r"glove|screen round|wear|eye", text):
            assert "goggles" in text.lower(), (place, text)


@pytest.mark.parametrize("notebook", ["39", "40", "41", "42"])
def test_pages_of_the_laboratory_say_what_is_worn(notebook):
    assert standing("worn") in words_of(notebook)
    for word in ("cut-resistant", "side shields", "face shield"):
        assert word in standing("worn")


def test_the_first_page_names_eye_protection_before_anything_breaks():
    words = words_of("00")
    assert "**Goggles on before anything breaks**" in words


# --- hazards --------------------------------------------------------------------------------


def test_hazards_that_were_missing_stand_on_the_sheets():
    html = sheets.risk_assessment(risk.demo_names())
    for word in (
        "Reaching up",
        "Hydrofluoric acid",
        "etching paste",
        "Furnace, torch",
        "silica",
        "A dummy mixed up with a charged device",
        "Camera crew and signer",
        "people who fear a bang",
        "swallowed",
        "blades of plain glass",
        "Salt with oil",
    ):
        assert word in html, word
    assert "outdoors, metal tray" not in html
    lab = sheets.laboratory_safety()
    for word in ("Hydrofluoric", "Silica", "Molten salt", "Nitrate feeds fire", "Large panes"):
        assert word in lab, word


@pytest.mark.parametrize("demo", ["ball drop", "device drop", "flat fall"])
def test_a_drop_asks_for_the_height_of_release(demo):
    html = sheets.risk_assessment(demo)
    assert "Release above the floor" in html
    assert "Reaching up" in html
    assert "heavier ball from waist height" in html


def test_the_studies_on_distance_stand_on_every_assessment(outside):
    for demo in risk.demo_names():
        told = " ".join(
            f"{row['text']} {row['source']}" for row in risk.rules(demo)["distance"]
        )
        assert "back at the striker" in told
    for name, got, expected, source in (
        (
            "distance out to which the floor was searched / m",
            re.search(r"up to (\d) m away", told)[1],
            3,
            "Pounds and Smalldon 1978, abstract",
        ),
        (
            "pieces that lay straight below the frame / %",
            re.search(r"(\d+)% of the pieces", told)[1],
            86,
            "Luce, Buckle and McInnis 1991, abstract",
        ),
        (
            "step over which their amount falls four to fivefold / m",
            re.search(r"every ([\d.]+) m", told)[1],
            0.45,
            "Luce, Buckle and McInnis 1991, abstract",
        ),
    ):
        outside(name, float(got), expected, source=source, status="found", abs_=0)


def test_tables_of_cards_and_laboratory_are_whole():
    for row in read("briefing") + read("lab_hazards"):
        assert all(text for column, text in row.items() if column != "where"), row
        assert row["status"] in STATUSES


# --- sheets ---------------------------------------------------------------------------------


def test_cautions_stand_on_top_of_the_plan_and_not_in_small_type(sheet):
    top = sheet.index("Screen pushed.")
    cautions = sheet.index("screens, distance and eye protection come before any height")
    assert top < cautions < sheet.index("Size</th>")
    assert "caution small" not in sheet


def test_cards_for_the_day_are_one_page_each_and_take_what_is_known():
    html = sheets.briefing_cards({"stop_word": "<Halt>"})
    assert html.count('class="leaf big"') == 3
    assert html.count("&lt;Halt&gt;") == 3
    for label in briefing.FIELDS.values():
        assert html.count(f'aria-label="{label}"') == 3
    with pytest.raises(ValueError, match=r"^field must be one of stop_word"):
        sheets.briefing_cards({"colour": "red"})


def test_the_laboratory_page_has_room_to_fill_in():
    html = sheets.laboratory_safety({"bin": "by the door"})
    assert ">by the door</span>" in html
    for label in laboratory.SAFETY_FIELDS.values():
        assert f'aria-label="{label}"' in html
    with pytest.raises(ValueError, match=r"^field must be one of laboratory"):
        sheets.laboratory_safety({"colour": "red"})


# --- hands on -------------------------------------------------------------------------------


def test_books_are_six_paperbacks_everywhere():
    assert not [
        (place, text) for place, text in units() if re.search(r"hardback|hard-back", text)
    ]
    for place, text in units():
        if re.search(r"\bbooks\b", text) and re.search(r"\b(?:eight|half a kilo)", text, re.I):
            raise AssertionError((place, text))
    assert "Six equal paperbacks of about 0.2 kg" in texts("row of books")["buy"][0]
    told = " ".join(row["control"] for row in read("lesson_hazards"))
    assert "Six paperbacks of about 0.2 kg" in told
    amount = [row for row in read("lesson_materials") if "paperbacks" in row["item"]]
    assert amount[0]["amount"] == "6"
    assert "Six paperbacks of 0.2 kg" in words_of("33")


def first(text):
    return float(re.search(r"(\d+(?:\.\d+)?) ?k?g", text)[1])


def test_each_likeness_says_what_falls_and_how_heavy():
    names = dict.fromkeys(row["likeness"] for row in read("handson"))
    told = {name: " ".join(texts(name)["falls"]) for name in names}
    assert "falls" in KINDS
    books = BookRow(count=6, mass=0.2, length=0.15, height=0.18, friction=between(0.3, 0.3))
    computed = {
        "row of books": books.weight.item() / GRAVITY,
        "paper strips": 40.0 / GRAVITY,
        "brittle sticks": brittle_stick(1.8e-3, 0.1).mass.high.item(),
        "chocolate bars": chocolate_bar(15e-3, 6e-3, 0.12).mass.high.item(),
    }
    for name, mass in computed.items():
        assert first(told[name]) == pytest.approx(mass, rel=0.08), name
    for name in set(names) - set(computed):
        assert re.search(r"Nothing|grams", told[name]), name
    assert "hold 4 kg: do not" in told["chocolate bars"]
    assert chocolate_bar(25e-3, 8e-3, 0.08).mass.high == pytest.approx(4.0, rel=0.05)
