# SPDX-License-Identifier: MIT
"""A place to choose a sound, a photograph or a film, read it, and see what came of it.

Small files open from anywhere. Large ones lie in the folder beside the page: the server gives
up a connection that carries too much at once.
"""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any, Generic, TypeVar

import ipywidgets as widgets

from glasskit.draw.scene import Result
from glasskit.live.controls import Control, failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, row
from glasskit.live.uploads import hold_back_large
from glasskit.live.work import Work
from glasskit.measured import Reading, keep_reading
from glasskit.measured.media import Media
from glasskit.steps import Steps, finished

Read = TypeVar("Read")

FOLDER = "recordings"
TABLE = f"{FOLDER}/readings.csv"
"""Where readings are kept, beside the notebooks."""
INVENTED = "the invented example"
PHOTOGRAPHS = (".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff")
"""How names of photographs end."""

Place = tuple[float, float]
"""Across and down."""


class Recording(Control, Generic[Read]):
    """A control that holds what was read from a sound, a photograph or a film.

    A reset keeps it, and so does a file that cannot be read.

    Parameters
    ----------
    name : str
        Argument of the computation that takes what was read.
    what : str
        What the file is, such as "sound".
    endings : tuple of str
        How names of such files end, such as ``(".wav", ".m4a")``.
    read : callable
        Takes a file and returns the steps that read it.
    example : callable
        Returns the invented example, as a file.

    Attributes
    ----------
    what : str
        As given.
    source : str
        Name of the file that was read, or `INVENTED`.
    chosen : Combobox
        Name of a file beside the page; it is read after Enter or a choice.
    upload : FileUpload
        A small file from anywhere.
    work : Work
        Shows how far the reading is, and stops it.
    note : HTML
        What came of it.

    """

    def __init__(
        self,
        name: str,
        what: str,
        endings: tuple[str, ...],
        read: Callable[[Media], Steps[Read]],
        example: Callable[[], bytes],
    ) -> None:
        super().__init__(name)
        self._read, self._example, self._endings = read, example, endings
        self.what = what
        self.source = INVENTED
        self._value = finished(read(example()))
        self.work, self.note = Work(), message()
        self.upload = widgets.FileUpload(
            accept=",".join(endings), multiple=False, description=f"Open a {what}"
        )
        self.chosen = widgets.Combobox(
            description=f"or a {what} beside this page",
            continuous_update=False,
            placeholder="name of the file",
        )
        self.chosen.add_class("glasskit-box")
        self.chosen.add_class("glasskit-wide")
        self.again = button("Look for files again", self.look)
        self.example = button(f"Show {INVENTED}", self._show_example)
        buttons = row(self.upload, self.chosen, self.again, self.example)
        self.widget = widgets.VBox([buttons, self.work.widget, self.note])
        hold_back_large(
            self.widget,
            what,
            "drag it onto the list of files at the left, press “Look for files again” and "
            "choose it by its name",
        )
        self.widget.add_class("glasskit-recording")
        self.widget.add_class("glasskit-paste")
        self.chosen.observe(self._named, "value")
        self.upload.observe(self._opened, "value")
        self.look()

    @property
    def value(self) -> Read:
        """What was read last."""
        return self._value

    def look(self) -> None:
        """List the files beside the page and in the folder `FOLDER`."""
        found = [
            path.as_posix()
            for folder in (Path(), Path(FOLDER))
            for path in (sorted(folder.iterdir()) if folder.is_dir() else ())
            if path.suffix.lower() in self._endings
        ]
        self.chosen.options = found

    def open(self, media: Media, named: str) -> None:
        """Read a file; until it is read, and if it cannot be, what was there stays.

        Parameters
        ----------
        media : path or bytes
            The file.
        named : str
            What it is called on the page.

        """
        resting = [self.upload, self.chosen, self.example]
        stopped = f"stopped; what was read from {self.source} stays"
        self.work.start(self._reading(media, named), resting, stopped)

    def _reading(self, media: Media, named: str) -> Steps[None]:
        try:
            read = yield from self._read(media)
        except (OSError, ValueError) as fault:
            said = f"did not read {named}: {fault}. What was read from {self.source} stays"
            set_message(self.note, said)
            return
        self._value, self.source = read, named
        set_message(self.note, f"read {named}; the file itself stays as it is")
        self._tell()

    def _show_example(self) -> None:
        self.open(self._example(), INVENTED)

    def _named(self, change: Any) -> None:
        if change["new"].strip():
            path = Path(change["new"].strip())
            self.open(path, path.name)

    def _opened(self, change: Any) -> None:
        if change["new"]:
            file = change["new"][0]
            self.open(bytes(file["content"]), file["name"])


class MeasuredExplorer(Explorer[Result]):
    """An explorer of something recorded; below it a button that keeps what was read.

    Attributes
    ----------
    recording : Recording
        Where the file is chosen.
    source : str
        Name of the file whose result is shown, or `INVENTED`: one whose result is refused
        leaves it as it was.
    keep : Button
        Adds the readings to the table of readings.
    kept : HTML
        Where, or why not.

    """

    recording: Recording[Any]
    source: str

    def _computed(self) -> Result:
        result = super()._computed()
        self.source = self._read_from()
        return result

    def _read_from(self) -> str:
        """Return the name of the file that the controls hold."""
        return self.recording.source

    def _with_keeping(self, label: str) -> None:
        """Put the button below all else; the recording is there already."""
        self.keep = button(label, self.keep_readings)
        self.savers.append(self.keep)
        self.kept = message()
        self.widget.children = (*self.widget.children, row(self.keep), self.kept)

    @property
    def said(self) -> str:
        """The sentence that says what is seen, and whether it was invented."""
        invented = f"An invented {self.recording.what}. " if self.source == INVENTED else ""
        return f"{invented}{super().said}"

    @property
    def file(self) -> str:
        """Name of the file as it is kept: empty for the invented example."""
        return "" if self.source == INVENTED else self.source

    def readings(self) -> list[Reading]:
        """Return what was read, one line of the table each."""
        raise NotImplementedError

    def advice(self) -> str:
        """Say what else becomes of readings that were kept; nothing where that is all."""
        return ""

    def keep_readings(self, folder: str | Path = FOLDER) -> Path | None:
        """Add what was read to the table of readings, and say where.

        Parameters
        ----------
        folder : path
            Made if it is not there; beside the notebook by default.

        Returns
        -------
        Path or None
            The table; None, with a message, if it could not be written.

        """
        path, today = None, datetime.date.today()
        with failing(self.kept, "this could not be kept"):
            for reading in self.readings():
                path = keep_reading(Path(folder) / "readings.csv", reading, today)
            said = f"kept in {path}, beside this notebook. {self.advice()}"
            set_message(self.kept, said.removesuffix(". "))
        return path
