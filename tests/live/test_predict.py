# SPDX-License-Identifier: MIT
import json
import re
from pathlib import Path

import pytest
from spring import predicted_spring, spring_explorer

from glasskit.live import gallery
from glasskit.live.predict import Prediction

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


def explorer_is_there(prediction):
    return len(prediction.widget.children) == 2


def test_the_explorer_waits_for_a_choice_and_the_page_below_with_it():
    prediction = predicted_spring()
    assert not explorer_is_there(prediction)
    assert "glasskit-unanswered" in prediction.widget._dom_classes
    prediction.choices[1].click()
    assert "glasskit-unanswered" not in prediction.widget._dom_classes


@pytest.mark.parametrize(
    ("index", "said"),
    [
        (0, "That is what happens. The stretch grows in step with the pull."),
        (1, "Not quite. That is the energy"),
    ],
)
def test_each_choice_gets_its_own_reply_and_then_the_explorer(index, said):
    prediction = predicted_spring()
    prediction.choices[index].click()
    assert said in prediction.reply.value
    right, other = prediction.choices[:2]
    assert "(what happens)" in right.description
    assert "(your answer)" in prediction.choices[index].description
    pressed = ["glasskit-pressed" in choice._dom_classes for choice in prediction.choices]
    assert pressed.index(True) == index
    assert pressed.count(True) == 1
    other.click()  # why not that one?
    assert "Not quite. That is the energy" in prediction.reply.value
    assert sum("(your answer)" in choice.description for choice in prediction.choices) == 1
    assert explorer_is_there(prediction)


def test_a_teacher_can_skip():
    prediction = predicted_spring()
    prediction.skip.click()
    assert explorer_is_there(prediction)
    assert prediction.reply.value == ""


def test_the_right_answer_must_be_an_option():
    with pytest.raises(ValueError, match=r"^correct must lie in 0 <= correct < 1; got 1$"):
        Prediction("Which?", [("this", "yes")], 1, spring_explorer())


# --- nothing on a page answers its question before the reader has ---------------------------

TELLING = {  # what gives the answer away
    "01_why_glass_breaks": r"\bhalf\b|square root",
    "01p_why_glass_breaks": r"\bhalf\b|sharp end",
    "02_a_crack_pressed_shut": r"little open|mouth",
    "02p_a_crack_pressed_shut": r"use up|\bholds:",
    "03_ions_to_scale": r"\btight\b|presse[sd]|\bpush",
    "04_from_height_to_energy": r"tens of",
    "04p_from_height_to_energy": r"\btenth",
    "05_swapping_ions": r"squeez",
    "06_salt_bath": r"\bfade|\bdeeper|gives? way",
    "07_quenched_in_air": r"squeez|shrink|shrunk",
    "08_does_glass_flow": r"\batom",
    "09_ball_on_a_pane": r"\bpatch|\bwave",
    "10_wood_steel_concrete": r"\bgrain|\bsand\b",
    "11_keys_and_sand": r"own metal|softer|\bhardness|harder one",
    "12_under_load_for_years": r"\bcreep|\bdamp|\bwater\b",
    "13_into_crumbs": r"quarter|sixteen|square of",
    "13p_into_crumbs": r"smaller|sixteen|drives many",
    "14_stress_in_colour": r"\bdark|\bcancel",
    "15_a_break_in_slow_motion": r"ten-thousandth|1500|still touches",
    "20_plan_a_demonstration": r"[Tt]wenty|\b29\b",
    "22_how_we_know": r"one pane\b|[Oo]ne piece|worst flaw",
    "23_screen_and_distance": r"[Aa]bove the release|rise as",
    "31_class_results": r"two or three times|\bwidely|worst flaw",
    "41_reduce_my_data": r"\b[Ss]ort\b|population|kind of (?:break|flaw|origin)",
    "50_listen": r"\bwaves?\b|\bthird\b",
    "52_film_the_fall": r"same step|\bgrow|evenly",
    "53_read_the_colours": r"\bcount|\border",
    "51_count_the_crumbs": r"\bfifth|fourth",
    "43_make_sure": r"\brough|\bthird\b|[Hh]ow little",
}


def seen_before(notebook):
    """Return what a page shows above its question, but for what is folded away."""
    cells = json.loads((NOTEBOOKS / f"{notebook}.ipynb").read_text(encoding="utf-8"))["cells"]
    texts = ["".join(cell["source"]) for cell in cells]
    place = next(i for i, text in enumerate(texts) if f'predicted("{notebook}"' in text)
    above = [
        text
        for text, cell in zip(texts[:place], cells, strict=False)
        if cell["cell_type"] == "markdown"
    ]
    text = re.sub(r"(?s)<details>.*?</details>", "", "\n\n".join(above))
    return re.sub(r"\*\*Words\.\*\*[^\n]*|\]\([^)]*\)", "", text)


@pytest.mark.parametrize("notebook", gallery.EXPLORERS)
def test_no_words_or_picture_above_a_question_answer_it(notebook):
    assert notebook in TELLING, "say above what would give its answer away"
    _, options, correct = gallery.asked_before(notebook, "11-14")
    above = seen_before(notebook)
    answer = " ".join(options[correct])
    assert re.search(TELLING[notebook], answer), "what tells the answer stands in it"
    assert not (found := re.search(TELLING[notebook], above)), found
    assert options[correct][0] not in above
    assert "![" not in above, "the still shows what happens: fold it away"


@pytest.mark.parametrize("notebook", gallery.EXPLORERS)
def test_before_a_page_is_run_what_answers_its_question_is_folded_away(notebook):
    cells = json.loads((NOTEBOOKS / f"{notebook}.ipynb").read_text(encoding="utf-8"))["cells"]
    texts = ["".join(cell["source"]) for cell in cells]
    place = next(i for i, text in enumerate(texts) if f'predicted("{notebook}"' in text)
    heading, below = cells[place + 1], texts[place + 2 :]
    assert texts[place + 1] == "## What happens\n\nThis part opens with your answer."
    assert heading["metadata"] == {"jp-MarkdownHeadingCollapsed": True}
    # It folds all up to the next heading of its rank or higher: what to mind stays in sight.
    last = next(i for i, text in enumerate(below) if re.match("##? ", text))
    assert below[last].startswith("## In practice")
    inner = [re.sub(r"(?s)```.*?```", "", text) for text in below[:last]]
    markdown = [
        text
        for text, cell in zip(inner, cells[place + 2 :], strict=False)
        if cell["cell_type"] == "markdown"
    ]
    assert not any(re.search(r"(?m)^##? ", text) for text in markdown)
    assert not any(cell.get("outputs") for cell in cells[place + 2 + last :])


def test_the_right_answer_stands_in_every_place():
    places = [gallery.asked_before(name, "11-14")[2] for name in gallery.EXPLORERS]
    # Source: by chance a quarter each; nobody may find the answer by its place.
    assert min(places.count(place) for place in range(4)) >= len(places) // 6
