# SPDX-License-Identifier: MIT
import pytest

from glasskit.lab import METHODS
from glasskit.live.testcards import TestCards
from glasskit.tables import read
from glasskit.words.testcards import card_names, card_rows


def test_every_card_is_complete_and_has_a_button():
    shown = TestCards()
    assert list(shown.tests.choices) == list(card_names())
    for name, button in shown.tests.choices.items():
        button.click()
        assert name in shown.name.value
        rows = dict(card_rows(name))
        assert len(rows) == 9
        assert all(rows.values())
        assert rows["usual mistake"].split(",")[0].split("’")[0] in shown.card.value


def test_the_cards_formulas_are_those_of_the_methods():
    known = {row["method"]: row["formula"] for row in read("test_cards") if row["method"]}
    assert set(known) == set(METHODS)
    for key, formula in known.items():
        assert formula == METHODS[key].formula


def test_an_unknown_card_is_refused():
    with pytest.raises(ValueError, match=r"^name must be one of Four-point bend of bars, "):
        card_rows("Tea break")
