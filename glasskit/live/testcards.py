# SPDX-License-Identifier: MIT
"""The test cards, one at a time: a button for each test."""

import html

import ipywidgets as widgets

from glasskit.live.aloud import status
from glasskit.live.buttons import Buttons
from glasskit.live.panel import Panel, framed
from glasskit.live.style import STYLE
from glasskit.words.testcards import card_names, card_rows


class TestCards(Panel):
    """Buttons with the names of tests, and the card of the one chosen.

    Attributes
    ----------
    tests : Buttons
        One for each card.
    card : HTML
        The card chosen.
    widget : VBox
        The whole.

    """

    __test__ = False  # for pytest, which would take the name for one of its own

    def __init__(self) -> None:
        names = card_names()
        options = {name: name for name in names}
        self.tests = Buttons("test", "Which test do you meet?", options, names[0])
        self.name, self.card = status(), widgets.HTML()
        self.tests.on_change(self._show)
        heading = widgets.HTML(f"{STYLE}<strong>Test cards</strong>")
        self.widget = framed(heading, self.tests.widget, self.name, self.card)
        self._show()

    def _show(self) -> None:
        name = self.tests.value
        rows = "".join(
            f'<tr><th scope="row">{html.escape(label)}</th><td>{html.escape(text)}</td></tr>'
            for label, text in card_rows(name)
        )
        self.name.value = f"<strong>{html.escape(name)}</strong>"
        self.card.value = f'<table class="glasskit-numbers">{rows}</table>'
