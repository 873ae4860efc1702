# SPDX-License-Identifier: MIT
from dataclasses import replace

import pytest
from pictures import faults

from glasskit.classroom import Tally, bank, question
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.draw.tally import TallyScene
from glasskit.live.gallery import predicted
from glasskit.live.tally import show_of_hands
from glasskit.words.tally import tally_numbers, tally_sentence

KEYS = [item.key for item in bank().questions]


def tally(before, after, revealed=False, key="nick"):
    return Tally(question=question(key), before=before, after=after, revealed=revealed)


def hands(right, wrong, key="nick"):
    """Return hands with `right` for what happens and `wrong` for another answer."""
    asked = question(key)
    other = next(i for i, option in enumerate(asked.options) if option.idea == "one-number")
    found = [0] * len(asked.options)
    found[asked.correct], found[other] = right, wrong
    return tuple(found)


NONE = hands(0, 0)


def test_the_sentence_counts_and_tells_only_when_told():
    said = tally_sentence(tally(hands(7, 21), hands(21, 7)))
    assert "has 21 of 28 hands" in said
    assert "What happens" not in said
    told = tally_sentence(tally(hands(7, 21), hands(21, 7), True))
    # Source: hand calculation, 7/28 and 21/28.
    assert "from 7 of 28 to 21 of 28 hands" in told
    assert "with 7 hands: the idea that glass has one breaking stress." in told


def test_the_sentence_of_empty_even_and_unequal_counts():
    assert tally_sentence(tally(NONE, NONE)).startswith("No hands counted yet")
    assert "What happens: " in tally_sentence(tally(NONE, NONE, True))
    assert "each have 4 of 8 hands" in tally_sentence(tally(hands(4, 4), NONE))
    assert "1 hand before, 3 after: a slip" in tally_sentence(tally(hands(1, 0), hands(0, 3)))


def test_the_size_of_the_class_says_who_is_missing_and_ends_the_axis():
    half = replace(tally(hands(7, 18), NONE), size=28)
    # Source: hand calculation, 28 - 25.
    assert "of 25 hands; 3 missing." in tally_sentence(half)
    many = replace(tally(hands(7, 22), NONE), size=28)
    assert "29 hands of 28: a slip in counting?" in tally_sentence(many)
    figure = still(TallyScene(), replace(tally(hands(3, 1), NONE), size=28), Look(), SCREEN)
    assert figure.axes[0].spines["bottom"].get_bounds() == (0, 30)


def test_a_reset_keeps_the_class():
    panel = show_of_hands("nick", size=28)
    panel.controls["before_A"].more.click()
    panel.reset()
    assert panel.result.size == 28
    assert sum(panel.result.before) == 0


def test_the_answer_is_marked_only_when_told():
    panel = show_of_hands("nick")
    panel.controls["before_A"].box.value = 3
    panel.controls["after_B"].box.value = 3
    marked = [bar.value for bar in panel._bars]
    assert not any("what happens" in bar for bar in marked)
    assert "--from: 100.0%; --to: 100.0%" in marked[0]
    panel.controls["revealed"].button.click()
    marked = [bar.value for bar in panel._bars]
    assert ["what happens" in bar for bar in marked].index(True) == question("nick").correct
    assert "--from: 100.0%; --to: 0.0%" in marked[0]


def test_numbers_name_each_answer():
    rows = tally_numbers(tally(hands(7, 21), NONE))
    assert [label[:3] for label, _ in rows] == ["A: ", "B: ", "C: ", "D: "]
    assert ("21 before, 0 after") in [text for _, text in rows]


def test_a_tally_with_other_counts_than_answers_is_refused():
    with pytest.raises(ValueError, match=r"^before must hold 4 counts; got 2"):
        tally((1, 2), NONE)
    with pytest.raises(ValueError, match=r"^after must not be negative; got -1"):
        tally(NONE, hands(-1, 0))


@pytest.mark.parametrize("look", [Look(), Look(large=True), Look(mono=True)], ids=str)
def test_the_picture_shows_bars_counts_and_the_tick(look):
    scene = TallyScene()
    told = tally(hands(7, 21), hands(21, 7), True)
    for result in (tally(NONE, NONE), told):
        assert faults(scene, result, look) == []
    figure = still(scene, replace(told, revealed=False), look, SCREEN)
    texts = [text.get_text() for text in figure.axes[0].texts if text.get_visible()]
    assert "✓ what happens" not in texts
    assert texts.count("21") == 2
    widths = sorted(bar.get_width() for bar in figure.axes[0].patches)
    assert widths[-4:] == [7, 7, 21, 21]


@pytest.mark.parametrize("look", [Look(), Look(large=True)], ids=str)
@pytest.mark.parametrize(
    ("most", "end"), [(28, 30), (30, 30), (4, 10), (61, 70), (120, 200), (0, 10)]
)
def test_the_axis_ends_at_the_class(most, end, look):
    told = tally(hands(most, 0), hands(0, most), True)
    figure = still(TallyScene(), told, look, SCREEN)
    assert layout_faults(figure) == []
    ax = figure.axes[0]
    assert ax.spines["bottom"].get_bounds() == (0, end)
    assert max(ax.get_xticks()) <= end < ax.get_xlim()[1]


@pytest.mark.slow
@pytest.mark.parametrize("key", KEYS[::3])
def test_the_words_of_every_third_question_fit_the_picture(key):
    count = (9,) * len(question(key).options)
    for look in (Look(), Look(large=True)):
        figure = still(TallyScene(), tally(count, count, True, key), look, SCREEN)
        assert layout_faults(figure) == []


def test_buttons_and_boxes_count_hands():
    panel = show_of_hands("nick")
    first = panel.controls["before_A"]
    first.less.click()
    assert first.value == 0
    first.more.click()
    first.more.click()
    assert panel.result.before[0] == 2
    assert "A has 2 of 2 hands" in panel.said
    panel.controls["after_B"].box.value = 12
    assert panel.result.after[1] == 12
    panel.controls["revealed"].button.click()
    assert "What happens" in panel.said
    assert panel.controls["revealed"].button.description == "Take it back"
    panel.reset()
    assert panel.said.startswith("No hands counted yet")
    assert "one more: A, before" in first.more.tooltip
    panel.switch_units()
    panel.switch_type()


def test_an_explorer_can_start_with_another_question():
    asked = predicted("01_why_glass_breaks", "nick")
    assert [choice.description for choice in asked.choices] == [
        option.text for option in question("nick").options
    ]
    asked.choices[question("nick").correct].click()
    assert asked.reply.value.count("That is what happens.") == 1
    with pytest.raises(ValueError, match=r"^question must be one of "):
        predicted("01_why_glass_breaks", "no such")


def test_a_number_can_be_predicted():
    asked = predicted("04_from_height_to_energy", "blow")
    asked.box.value = "2"
    asked.check.click()
    assert "Please write a number with one of the units N, kN" in asked.reply.value
    assert not asked.shown
    asked.box.value = "1,9 kN"
    asked.check.click()
    assert "Yes, within what we can tell." in asked.reply.value
    assert asked.shown
    assert asked.check.disabled
    skipped = predicted("04_from_height_to_energy", "blow")
    skipped.skip.click()
    assert skipped.shown
