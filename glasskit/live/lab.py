# SPDX-License-Identifier: MIT
"""A place to paste broken specimens: what was set aside, what they say, a report to sign."""

from pathlib import Path

import ipywidgets as widgets
import numpy as np

from glasskit.draw.lab import PaperScene
from glasskit.files import next_free
from glasskit.lab import (
    BENCHES,
    METHODS,
    Outcome,
    Series,
    Tolerance,
    parse_records,
    reduce_series,
)
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Slider, failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.live.results import Pasted
from glasskit.sheets.lab import FIELDS, laboratory_report
from glasskit.sheets.page import save
from glasskit.training import invented
from glasskit.words.lab import (
    aside_sentence,
    origin_sentence,
    outcome_numbers,
    outcome_sentence,
)

_HEADER = (
    "specimen,method,origin,force [N],outer_span [mm],inner_span [mm],width [mm],"
    "thickness [mm]\n"
)
_TYPED = ("width", "thickness", "diameter")  # read on each specimen, with a calliper


class PastedRecords(Pasted):
    """A control that holds specimens as a CSV: typed, pasted, or from a file."""

    def __init__(self, name: str) -> None:
        example = invented.bars_and_rings(np.random.default_rng(invented.SEED))
        super().__init__(name, example, _HEADER)
        self.area.description = (
            "specimens: type or paste; the first row names each reading with its [unit]"
        )

    @property
    def value(self) -> Series:
        """Records and lines set aside.

        Raises
        ------
        ValueError
            If the first row cannot be understood.

        """
        return parse_records(self.area.value)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many lines are used, and line, text and trouble of each one set aside."""
        series = self.value
        rows = [(str(one.line), one.text, f"{one.words}.") for one in series.troubles]
        broken = [record for record in series.records if record.method in BENCHES]
        said = f"{origin_sentence(broken)} " if broken else ""
        return said + aside_sentence(series), rows


def _outcome(series: Series, method: str, force: float, size: float, span: float) -> Outcome:
    """Reduce the specimens of one method with three tolerances for all their readings."""
    within = {}
    for name in {name for record in series.of(method) for name in record.readings}:
        if name == "force":
            within[name] = Tolerance(relative=force)
        elif name in _TYPED:
            within[name] = Tolerance(absolute=size)
        elif METHODS[method].readings[name].kind == "length":
            within[name] = Tolerance(absolute=span)
    return reduce_series(series, method, within)


class LaboratoryExplorer(Explorer[Outcome]):
    """The explorer of a series; below it the head of a report and a button to save it.

    Attributes
    ----------
    fields : dict of str to Text
        Head of the report; what is left empty becomes a line to write on.
    report : Button
        Saves the report.

    """

    def __init__(self) -> None:
        super().__init__(
            [
                PastedRecords("series"),
                Buttons(
                    "method",
                    "test method",
                    {one.title: key for key, one in BENCHES.items()},
                    BENCHES["four_point_bar"].title,
                ),
                Slider("force", "force within ±", "percent", 0.0, 0.05, 0.01, 0.0025),
                Slider("size", "sizes within ±", "thickness", 0.0, 0.2e-3, 0.02e-3, 0.01e-3),
                Slider("span", "spans within ±", "length", 0.0, 2e-3, 0.5e-3, 0.1e-3),
            ],
            _outcome,
            PaperScene(),
            outcome_sentence,
            outcome_numbers,
            title="What my specimens say",
        )
        self.fields = {name: text_field(label) for name, label in FIELDS.items()}
        self.report = button("Save the report", self.save_report)
        self.written = message()
        boxes = controls(map(placed, self.fields.values()))
        head = widgets.HTML("<strong>The report</strong>: what you leave empty stays a line.")
        self.widget.children = (
            *self.widget.children,
            head,
            boxes,
            row(self.report),
            self.written,
        )

    def save_report(self, folder: str | Path = "reports") -> Path | None:
        """Save the report of what is shown, and say where; older reports stay.

        Parameters
        ----------
        folder : path
            Made if it is not there; beside the notebook by default.

        Returns
        -------
        Path or None
            The file; None, with a message, if it could not be written.

        """
        given = {name: box.value for name, box in self.fields.items()}
        page = laboratory_report(self.result, given, system=self.look.system)
        path = None
        with failing(self.written, "the report could not be saved"):
            with next_free(folder, "report") as [place]:
                path = save(page, place.with_suffix(".html"))
            set_message(self.written, f"saved {path}: open it in a browser and print it")
        return path


def laboratory_explorer() -> LaboratoryExplorer:
    """Return the explorer of notebook 41: from specimens to a report."""
    return LaboratoryExplorer()
