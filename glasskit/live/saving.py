# SPDX-License-Identifier: MIT
"""A panel that writes files beside the notebook, says what it does, and links to them."""

import html
from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import ipywidgets as widgets

from glasskit.files import next_free, replace_file
from glasskit.live.aloud import status
from glasskit.live.controls import failing, message, set_message
from glasskit.live.panel import Panel, controls, file_link, framed, placed, row, text_field
from glasskit.live.style import STYLE
from glasskit.live.work import Work
from glasskit.steps import Steps


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
    work : Work
        What is being done, and how to stop it.
    note, said : HTML
        What went wrong; what was written, as links.
    paths : list of Path
        What was written last.
    inside : VBox
        All of it, for a panel that has a frame of its own.

    """

    def __init__(self, folder: str, parts: Sequence[Any], buttons: Sequence[Any]) -> None:
        self.folder = text_field("folder", folder)
        self.work, self.note, self.said = Work(), message(), status()
        self.paths: list[Path] = []
        self._buttons = list(buttons)
        asked = controls(map(placed, [*parts, self.folder]))
        self.inside = widgets.VBox(
            [asked, row(*buttons), self.work.widget, self.note, self.said]
        )
        self.widget = framed(widgets.HTML(STYLE), self.inside)

    def keep(
        self, stems: Sequence[str], write: Callable[[Path], Steps[object]], how: str
    ) -> None:
        """Write files under the next free number of their names, all or none, and say where.

        Parameters
        ----------
        stems : sequence of str
            Names without number and ending.
        write : callable
            Takes a folder and writes files of these names into it, step by step. A
            ``ValueError`` is shown to the reader as it stands.
        how : str
            What can be done with the files.

        """
        stopped = "stopped: nothing was written"
        self.work.start(self._keeping(stems, write, how), self._buttons, stopped)

    def _keeping(
        self, stems: Sequence[str], write: Callable[[Path], Steps[object]], how: str
    ) -> Steps[None]:
        self.paths = []
        set_message(self.note, "")
        folder = Path(self.folder.value.strip() or ".")
        try:
            with failing(self.note, f"could not save in {folder}"):
                with next_free(folder, *stems):
                    pass  # where nothing can be written, that is said before the work
                with TemporaryDirectory() as made:
                    yield from write(Path(made))
                    self.paths = _numbered(Path(made), folder, stems)
                where, listed = html.escape(str(folder)), ", ".join(map(file_link, self.paths))
                self.said.value = f"Saved in {where}, beside this notebook: {listed}. {how}"
        except ValueError as refusal:
            set_message(self.note, str(refusal))


def _numbered(made: Path, folder: Path, stems: Sequence[str]) -> list[Path]:
    """Put what was made under the next free number of its names."""
    with next_free(folder, *stems) as places:
        return [
            replace_file(place.with_suffix(file.suffix), file.read_bytes())
            for stem, place in zip(stems, places, strict=True)
            for file in sorted(made.glob(f"{stem}.*"))
        ]
