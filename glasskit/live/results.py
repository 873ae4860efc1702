# SPDX-License-Identifier: MIT
"""A place to paste a class's readings: beside it what was set aside, below it the picture.

Whatever is typed stays as it is. Reset does not touch it; what a file, the example or an empty
sheet replaces can be brought back by a button.
"""

import html
from collections import Counter
from hashlib import sha256
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from glasskit.classroom import ClassResult, ClassSheet, class_result, read_sheet, save_table
from glasskit.draw.results import ClassScene
from glasskit.live.aloud import grouped, status
from glasskit.live.answers import Report, Screens
from glasskit.live.controls import Control, Slider, failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, controls, framed, placed, row, text_field
from glasskit.live.uploads import hold_back_large
from glasskit.rows import decode
from glasskit.words.results import class_numbers, class_sentence, row_sentences, set_aside

HEADER = "who; mass / g; span / mm; diameter / mm\n"
EXAMPLE = f"""# INVENTED: dry spaghetti, with mistakes
{HEADER}Ada; 52,5; 100; 1,8
Ada; 64,0; 100; 1,8
Ben; 83.5; 100; 1.85
Ben; 0.071; 100; 1.8

Cem; 57.5; 100; 1.75
Cem; 6o.5; 100; 1.8
Dora; 88; 100; 1.85
Dora; 71.5; 0.1; 1.8
Eli; 47; 100; 1.8
Eli; 76.5; 100; 1.8
Fay; 69; 100;
Fay; 95.5; 100; 1.85
Gus; 61; 100; 1.8
Gus; 79.5; 100; 1.8
"""

_STICKS = {"round: a diameter": "round", "flat: width and height": "flat"}

_STYLE = """<style>
.glasskit .glasskit-paste { flex: 1 1 100%; }
.glasskit .glasskit-paste .widget-textarea { height: auto; align-items: stretch; }
.glasskit .glasskit-paste textarea { font-family: monospace; line-height: 1.35; width: auto;
  font-size: var(--jp-widgets-font-size); }
.glasskit .glasskit-paste .widget-label { height: auto; width: auto;
  text-align: left; white-space: normal; line-height: 1.4; }
.glasskit .glasskit-sides { display: flex; flex-flow: row wrap; gap: 0 24px; }
.glasskit .glasskit-sides > * { flex: 1 1 24em; min-width: 0; }
.glasskit .glasskit-checks [role=region] { max-height: 22em; overflow: auto; }
.glasskit .glasskit-checks ul { margin: 0.3em 0; padding-left: 1.2em; }
.glasskit .glasskit-checks li { margin-bottom: 0.3em; }
.glasskit .glasskit-checks code { white-space: pre-wrap; overflow-wrap: anywhere;
  font-size: var(--jp-widgets-font-size); }
</style>"""


class Pasted(Control):
    """A control that holds a class's readings: typed, pasted, or from a file.

    A reset keeps the text: nobody types thirty rows twice.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the `ClassSheet`.
    example : str
        Shown at the start.
    header : str
        First row of an empty sheet.

    Attributes
    ----------
    area : Textarea
        The text; nothing but the reader, a file or a button changes it.
    checks : HTML
        The rows set aside, one sentence each.

    """

    def __init__(self, name: str, example: str = EXAMPLE, header: str = HEADER) -> None:
        super().__init__(name)
        self._example = example
        self._others: list[str] = []
        self._files: dict[str, tuple[str, str]] = {}  # name and checksum by text
        self._put = example  # what was put there last, before anything was typed
        self.area = widgets.Textarea(
            value=example, rows=14, layout=widgets.Layout(width="auto", margin="0")
        )
        self.area.description = "readings: type or paste; the first row names the columns"
        self.area.style.description_width = "initial"
        self.area.layout.flex_flow = "column"
        self.upload = widgets.FileUpload(
            accept=".csv,.txt,.tsv,.asc,.dat,.xlsx",
            multiple=False,
            description="Open a CSV or XLSX",
        )
        self.empty = button("Start an empty sheet", lambda: self.show(header))
        self.again = button("Show the example", lambda: self.show(self._example))
        self.back = button("Back to what stood here before", self.go_back)
        self.counted, self.checks, self.note = status(), widgets.HTML(), message()
        self.checks.add_class("glasskit-checks")
        sides = widgets.Box([self.area, widgets.VBox([self.counted, self.checks])])
        sides.add_class("glasskit-sides")
        buttons = row(self.upload, self.empty, self.again, self.back)
        self.widget = widgets.VBox([widgets.HTML(_STYLE), sides, buttons, self.note])
        hold_back_large(
            self.widget,
            "file",
            "keep the rows that you need in a file of their own and open it",
        )
        self.widget.add_class("glasskit-paste")
        grouped(self.widget)
        self.area.observe(lambda _: self._changed(), "value")
        self.upload.observe(self._opened, "value")
        self._changed()

    @property
    def value(self) -> Any:
        """The rows, as they stand: a `ClassSheet`.

        Raises
        ------
        ValueError
            If the first row does not name the columns with their units.

        """
        return read_sheet(self.area.value)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many rows are used, and line, text and trouble of each one set aside."""
        sheet: ClassSheet = self.value
        return set_aside(sheet), row_sentences(sheet)

    def show(self, text: str) -> None:
        """Put another text there; what it replaces waits behind `back`."""
        if self.area.value != text:
            self._others.append(self.area.value)
        self._put = text
        self.area.value = text
        self._changed()

    def go_back(self) -> None:
        """Bring back what stood there before; pressed again and again, all there ever was."""
        if self._others:
            self._others.insert(0, self.area.value)
            self._put = self._others.pop()
            self.area.value = self._put

    def take(self, former: str, now: str) -> None:
        """Follow what pupils have sent: new rows come to the end, those taken back go.

        Parameters
        ----------
        former, now : str
            All that they had sent, and all that they have; rows mended here stay as they are.

        """
        lines = self.area.value.rstrip().splitlines()
        had, has = Counter(former.splitlines()), Counter(now.splitlines())
        if lines[:1] != now.splitlines()[:1]:
            self.show(now)
            return
        for gone in (had - has).elements():
            if gone in lines:
                lines.remove(gone)
        self._put = "\n".join([*lines, *(has - had).elements(), ""])
        self.area.value = self._put

    def came_from(self) -> tuple[str, str]:
        """Return name and checksum of the file that stands there; empty where it is none.

        The checksum of one that was changed here is no longer true, and empty too.
        """
        name, checksum = self._files.get(self._put, ("", ""))
        if name and self._put != self.area.value:
            return f"{name}, changed on the page", ""
        return name, checksum

    def _opened(self, change: Any) -> None:
        if change["new"]:
            file = change["new"][0]
            self.open(file["name"], bytes(file["content"]))

    def open(self, named: str, content: bytes) -> None:
        """Put a file there and say so, or say why not.

        Parameters
        ----------
        named : str
            What the file is called.
        content : bytes
            All that it holds.

        """
        said = f"opened {named}; the file itself stays as it is"
        try:
            text = decode(content)
            self._files[text] = (named, sha256(content).hexdigest())
            self.show(text)
        except ValueError as refusal:
            said = f"{named} is not opened: {refusal}"
        set_message(self.note, said)

    def _changed(self) -> None:
        self.back.disabled = not self._others
        self._check()
        self._tell()

    def _check(self) -> None:
        """Say what is used, and what is set aside and why."""
        self.checks.value = ""
        try:
            summary, troubles = self.aside()
        except ValueError as fault:
            said = f"{str(fault)[:1].upper()}{str(fault)[1:]}."
            self.counted.value = f"<strong>{html.escape(said)}</strong>"
            return
        rows = "".join(
            f"<li><strong>{line}</strong> <code>{html.escape(text)}</code><br>"
            f"{html.escape(said)}</li>"
            for line, text, said in troubles
        )
        self.counted.value = f"<strong>{html.escape(summary)}</strong>"
        if rows:  # long lists scroll, so the keyboard must reach them
            what = html.escape(self.area.description.partition(":")[0])
            region = f'role="region" aria-label="{what}: rows set aside" tabindex="0"'
            self.checks.value = f"<div {region}><ul>{rows}</ul></div>"


class ClassExplorer(Explorer[ClassResult]):
    """The explorer of a class's readings; it saves the table beside the picture.

    Attributes
    ----------
    screens : Screens
        Lets pupils send their readings from their own screens.
    pupils : BoundedIntText
        How many they are.
    sticks : Dropdown
        What they bend.
    kinds : Text
        Words that part the sticks into groups.

    """

    def __init__(self, *given: Any, title: str) -> None:
        super().__init__(*given, title=title)
        self.pupils = widgets.BoundedIntText(description="pupils", value=28, min=1, max=60)
        self.sticks = widgets.Dropdown(description="sticks", options=list(_STICKS.items()))
        for box in (self.pupils, self.sticks):
            box.add_class("glasskit-box")
        self.kinds = text_field("two groups? one word each")
        self._sent = ""
        self.screens = Screens(
            lambda: int(self.pupils.value),
            {"Ask for readings": self._asked},
            self._receive,
        )
        below = framed(
            widgets.HTML("<strong>From the pupils' own screens</strong>"),
            controls(placed(one) for one in (self.pupils, self.sticks, self.kinds)),
            self.screens.widget,
        )
        self.frames.append(below)
        self.widget = widgets.VBox([self.widget, below])

    def _asked(self) -> Report:
        kinds = self.kinds.value.replace(",", " ").split()
        return {"stage": "readings", "sticks": self.sticks.value, "kinds": kinds}

    def _receive(self, report: Report) -> None:
        """Put what came among the readings; those that stood there wait behind a button."""
        if report["stage"] == "readings" and report["sheet"] != self._sent:
            sheet: Any = self.controls["sheet"]
            sheet.take(self._sent, report["sheet"])
            self._sent = report["sheet"]

    def save(self, folder: str | Path = "pictures") -> list[Path]:
        """Save picture and table as they are now, and say where.

        Parameters
        ----------
        folder : path
            Made if it is not there; beside the notebook by default. Older files stay.

        Returns
        -------
        list of Path
            PNG, SVG and CSV; empty, with a message, if they could not be written.

        """
        paths = super().save(folder)
        if not paths:
            return []
        with failing(self.saved, f"the table could not be saved in {folder}"):
            paths.append(save_table(self.result.sheet, paths[0].with_suffix(".csv")))
            names = f"{paths[0]}, {paths[1].name} and {paths[2].name}"
            set_message(self.saved, f"saved {names}, beside this notebook")
        return paths


def class_explorer() -> ClassExplorer:
    """Return the explorer of notebook 31: readings, and how well to know their scatter."""
    return ClassExplorer(
        [
            Pasted("sheet"),
            Slider("factor", "modulus within factor", "number", 1.1, 2.0, 1.3, 0.05),
        ],
        class_result,
        ClassScene(),
        class_sentence,
        class_numbers,
        title="What our class found",
    )
