# SPDX-License-Identifier: MIT
"""What a class kept of its own recordings: each thing with its middle and its spread."""

import html

import ipywidgets as widgets

from glasskit.live.aloud import status
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import Panel, button, framed, row
from glasskit.live.recording import TABLE
from glasskit.live.style import STYLE
from glasskit.measured import gather_readings
from glasskit.quantities import System
from glasskit.rows import load
from glasskit.words.kept import HEADS, gathered_row, gathered_sentence


class KeptPanel(Panel):
    """The readings that pages 50 to 53 kept, brought together.

    Attributes
    ----------
    again, units : Button
        Reads the table again; changes between metric and US units.
    said, table : HTML
        How many there are; each thing in a row, and lines set aside.
    note : HTML
        Why there is none.

    """

    def __init__(self) -> None:
        self._system: System = "metric"
        self.again = button("Look again at what was kept", self.show)
        self.units = button("Show US units", self.switch_units)
        self.said, self.table, self.note = status(), widgets.HTML(), message()
        head = widgets.HTML(f"{STYLE}<strong>What our class kept</strong>")
        self.widget = framed(
            head, row(self.again, self.units), self.note, self.said, self.table
        )
        self.show()

    def switch_units(self) -> None:
        """Show the same readings in the other units."""
        self._system = "us" if self._system == "metric" else "metric"
        self.units.description = f"Show {'metric' if self._system == 'us' else 'US'} units"
        self.show()

    def show(self) -> None:
        """Read the table, and show what it holds."""
        set_message(self.note, "")
        self.said.value = self.table.value = ""
        try:
            with failing(self.note, f"no readings are kept in {TABLE} yet"):
                things, troubles = gather_readings(load(TABLE))
                self.said.value = html.escape(gathered_sentence(things))
                heads = "".join(f'<th scope="col">{name}</th>' for name in HEADS)
                lines = "".join(
                    "<tr>" + "".join(f"<td>{html.escape(c)}</td>" for c in cells) + "</tr>"
                    for cells in (gathered_row(one, self._system) for one in things)
                )
                aside = "".join(f"<li>{html.escape(str(one))}</li>" for one in troubles)
                told = f"Set aside:<ul>{aside}</ul>" if aside else ""
                numbers = f'<table class="glasskit-numbers"><tr>{heads}</tr>{lines}</table>'
                self.table.value = (numbers if things else "") + told
        except ValueError as fault:
            set_message(self.note, f"{TABLE} cannot be read: {fault}")


def kept_panel() -> KeptPanel:
    """Return the panel of notebook 31: what the class kept of its own recordings."""
    return KeptPanel()
