# SPDX-License-Identifier: MIT
"""A panel that writes files beside the notebook, says what it does, and links to them."""

import html
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.files import next_free
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import Panel, controls, file_link, framed, placed, row, text_field
from glasskit.live.style import STYLE


class SavingPanel(Panel):
    """Asks for a folder, and keeps files there under the next free number.

    Parameters
    ----------
    folder : str
        Where to, at the start.
    parts : sequence of Widget
        What else is asked.
    buttons : sequence of Button
        What writes.

    Attributes
    ----------
    folder : Text
        Where to.
    note, said : HTML
        What is being done or went wrong; what was written, as links.
    widget : VBox
        The whole, to put into other widgets.

    """

    def __init__(self, folder: str, parts: Sequence[Any], buttons: Sequence[Any]) -> None:
        self.folder = text_field("folder", folder)
        self.note, self.said = message(), widgets.HTML()
        asked = controls([*map(placed, parts), placed(self.folder)])
        head = widgets.HTML(STYLE)
        self.widget = framed(head, asked, row(*buttons), self.note, self.said)

    def keep(
        self, stem: str, write: Callable[[Path], list[Path]], working: str, how: str
    ) -> list[Path]:
        """Write files under the next free number of a name, and say where.

        Parameters
        ----------
        stem : str
            Name without number and ending.
        write : callable
            Takes the path without ending, returns the files written. A ``ValueError`` is
            shown to the reader as it stands.
        working : str
            What is said meanwhile.
        how : str
            What can be done with the files.

        Returns
        -------
        list of Path
            The files; empty, with a message, if they could not be written.

        """
        folder, paths = Path(self.folder.value.strip() or "."), []
        set_message(self.note, f"working: {working}")
        try:
            with failing(self.note, f"the files could not be saved in {folder}"):
                with next_free(folder, stem) as [place]:
                    paths += write(place)
                where, listed = html.escape(str(folder)), ", ".join(map(file_link, paths))
                self.said.value = (
                    f'<div role="status">Saved in {where}, beside this notebook: {listed}. '
                    f"{how}</div>"
                )
                set_message(self.note, "")
        except ValueError as refusal:
            set_message(self.note, str(refusal))
        return paths
