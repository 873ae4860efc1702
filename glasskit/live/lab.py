# SPDX-License-Identifier: MIT
"""Places to paste broken specimens: what was set aside, what they say, a report to sign."""

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import ClassVar

import ipywidgets as widgets
import numpy as np

from glasskit.draw.lab import ChartScene, CurveScene, LotsScene, PaperScene, ReviewScene
from glasskit.draw.scene import Result
from glasskit.files import next_free
from glasskit.lab import (
    BENCHES,
    METHODS,
    RATES,
    Columns,
    Comparison,
    ControlChart,
    CurveResult,
    Outcome,
    Review,
    Series,
    Tolerance,
    compare,
    control_chart,
    load_curve,
    parse_columns,
    parse_records,
    parse_review,
    reduce_curve,
    reduce_series,
)
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Control, Slider, failing, message, set_message
from glasskit.live.explorer import Explorer
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.live.recording import TABLE
from glasskit.live.results import Pasted
from glasskit.measured import gather_readings
from glasskit.quantities import unit
from glasskit.rows import decode
from glasskit.sheets.lab import (
    CHART_FIELDS,
    FIELDS,
    chart_report,
    comparison_report,
    laboratory_report,
)
from glasskit.sheets.page import save
from glasskit.training import invented
from glasskit.words.lab import (
    aside_sentence,
    chart_numbers,
    chart_sentence,
    comparison_numbers,
    comparison_sentence,
    curve_numbers,
    curve_sentence,
    origin_sentence,
    outcome_numbers,
    outcome_sentence,
    review_numbers,
    review_sentence,
)

_HEADER = (
    "specimen,method,origin,force [N],outer_span [mm],inner_span [mm],width [mm],"
    "thickness [mm]\n"
)
_VALUES = {
    "mean strength of several": "means",
    "strength of one": "single",
    "hardness or other, as it stands": "plain",
}
_TYPED = ("width", "thickness", "diameter")  # read on each specimen, with a calliper


class PastedRecords(Pasted):
    """A control that holds specimens as a CSV: typed, pasted, or from a file.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the `Series`.
    example : str
        Shown at the start.
    what : str
        What the specimens are called.

    """

    def __init__(self, name: str, example: str, what: str = "specimens") -> None:
        super().__init__(name, example, _HEADER)
        self.area.description = (
            f"{what}: type or paste; the first row names each reading with its [unit]"
        )

    @property
    def value(self) -> Series:
        """Records and lines set aside.

        Raises
        ------
        ValueError
            If the first row cannot be understood.

        """
        found = parse_records(self.area.value)
        file, checksum = self.came_from()
        return replace(found, file=file, checksum=checksum or found.checksum)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many lines are used, and line, text and trouble of each one set aside."""
        series = self.value
        counted, rows = _aside(series)
        broken = [record for record in series.records if record.method in BENCHES]
        return (f"{origin_sentence(broken)} {counted}" if broken else counted), rows


class LotName(Control):
    """A control that holds what a lot is called; what is left empty gets its start back."""

    def __init__(self, name: str, label: str, start: str) -> None:
        super().__init__(name)
        self.start = start
        self.box = text_field(label, start)
        self.widget = placed(self.box)
        self.box.observe(lambda _: self._tell(), "value")

    @property
    def value(self) -> str:
        """The name."""
        return self.box.value.strip() or self.start

    def reset(self) -> None:
        """Go back to the name at the start."""
        self.box.value = self.start


def _asked() -> list[Control]:
    """Return the controls that tell which test it was and how well it was measured."""
    return [
        Buttons(
            "method",
            "test method",
            {one.title: key for key, one in BENCHES.items()},
            BENCHES["four_point_bar"].title,
        ),
        Slider("force", "force within ±", "percent", 0.0, 0.05, 0.01, 0.0025),
        Slider("size", "sizes within ±", "thickness", 0.0, 0.2e-3, 0.02e-3, 0.01e-3),
        Slider("span", "spans within ±", "length", 0.0, 2e-3, 0.5e-3, 0.1e-3),
    ]


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


def _compared(
    series: Series,
    other: Series,
    name: str,
    other_name: str,
    method: str,
    force: float,
    size: float,
    span: float,
) -> Comparison:
    """Reduce two lots with the same tolerances and compare them."""
    first, second = (_outcome(one, method, force, size, span) for one in (series, other))
    return compare(first, second, names=(name, other_name))


class _Reporting(Explorer[Result]):
    """An explorer; below it the head of a report and a button to save it.

    Attributes
    ----------
    head : mapping of str to str
        What the head of the report asks for, by name.
    fields : dict of str to Text
        Head of the report; what is left empty becomes a line to write on.
    report : Button
        Saves the report.

    """

    head: ClassVar[Mapping[str, str]] = FIELDS

    def _with_report(self) -> None:
        """Put the head of the report and its button below all else."""
        self.fields = {name: text_field(label) for name, label in self.head.items()}
        self.report = button("Save the report", self.save_report)
        self.savers.append(self.report)
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

    def _hold(self, refusal: str) -> None:
        """Say beside the report too why there is none."""
        if refusal or self.report.disabled:
            why = f"no report while this stands: {refusal}" if refusal else ""
            set_message(self.written, why)
        super()._hold(refusal)

    @abstractmethod
    def page(self, given: Mapping[str, str]) -> str:
        """Return the report of what is shown, as HTML."""

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
        page = self.page({name: box.value for name, box in self.fields.items()})
        path = None
        with failing(self.written, "the report could not be saved"):
            with next_free(folder, "report") as [place]:
                path = save(page, place.with_suffix(".html"))
            set_message(self.written, f"saved {path}: open it in a browser and print it")
        return path


class LaboratoryExplorer(_Reporting[Outcome]):
    """The explorer of a series, with its report."""

    def __init__(self) -> None:
        example = invented.bars_and_rings(np.random.default_rng(invented.SEED))
        super().__init__(
            [PastedRecords("series", example), *_asked()],
            _outcome,
            PaperScene(),
            outcome_sentence,
            outcome_numbers,
            title="What my specimens say",
        )
        self._with_report()

    def page(self, given: Mapping[str, str]) -> str:
        """Return the report of the series."""
        return laboratory_report(self.result, given, system=self.look.system)


class ComparisonExplorer(_Reporting[Comparison]):
    """The explorer of two lots, with its report."""

    def __init__(self) -> None:
        lots = invented.two_lots(np.random.default_rng(invented.SEED))
        first, second = lots
        super().__init__(
            [
                LotName("name", "first lot", first),
                PastedRecords("series", lots[first], "first lot"),
                LotName("other_name", "second lot", second),
                PastedRecords("other", lots[second], "second lot"),
                *_asked(),
            ],
            _compared,
            LotsScene(),
            comparison_sentence,
            comparison_numbers,
            title="Do two lots differ?",
        )
        self._with_report()

    def page(self, given: Mapping[str, str]) -> str:
        """Return the report of both lots."""
        return comparison_report(self.result, given, system=self.look.system)


class PastedReview(Pasted):
    """A control that holds the origins that two readers found."""

    def __init__(self) -> None:
        example = invented.two_readers(np.random.default_rng(invented.SEED))
        super().__init__("review", example, "specimen,first reader,second reader\n")
        self.area.description = (
            "origins: type or paste; specimen, first reader, second reader, in any words"
        )

    @property
    def value(self) -> Review:
        """Agreement and lines set aside.

        Raises
        ------
        ValueError
            If there are not three columns, or no line to compare.

        """
        return parse_review(self.area.value)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many lines are used, and line, text and trouble of each one set aside."""
        return _aside(self.value)


def _aside(
    found: Series | Columns | Review,
) -> tuple[str, list[tuple[str, str, str]]]:
    """Say how many lines are used, and line, text and trouble of each one set aside."""
    rows = [(str(one.line), one.text, f"{one.words}.") for one in found.troubles]
    return aside_sentence(found), rows


def _chart(columns: Columns, kind: str, baseline: float) -> ControlChart:
    """Return the chart; where there are fewer values than asked for, all set the limits."""
    values = columns.values["stress"]
    return control_chart(values, kind, min(int(baseline), values.size), columns.labels)


def _things(content: bytes, kind: str) -> list[str]:
    """Return what in a table of kept readings has the unit of a kind; none in other tables."""
    try:
        found, _ = gather_readings(decode(content))
    except ValueError:
        return []
    return [one.what for one in found if one.unit == unit(kind).symbol]


class PastedColumns(Pasted):
    """A control that holds columns of numbers, each told by its unit.

    Parameters
    ----------
    example, header : str
        Shown at the start; the first row of an empty sheet.
    what : str
        What the lines are called.
    kinds : str
        Kinds of quantity, one column of each.

    Attributes
    ----------
    thing : str
        What is taken from a table of kept readings; empty: the first that fits.

    """

    def __init__(self, example: str, header: str, what: str, *kinds: str) -> None:
        self.kinds, self.thing = kinds, ""
        super().__init__("columns", example, header)
        units = ", one in ".join(unit(kind).symbol for kind in kinds)
        self.area.description = f"{what}: type or paste; a column in {units}, or units alike"
        if kinds == ("stress",):
            self.kept = button("Take what pages 50 to 53 kept", self.take_kept)
            self.widget.children = (*self.widget.children, row(self.kept))

    def take_kept(self) -> None:
        """Put the table of kept readings there, or say why not.

        Where several things fit, each press takes the next of them.
        """
        with failing(self.note, f"no readings are kept in {TABLE} yet"):
            content = Path(TABLE).read_bytes()
            things = _things(content, *self.kinds)
            at = things.index(self.thing) + 1 if self.thing in things else 0
            order = [*things[at:], *things[:at]]
            self.thing = order[0] if order else ""
            self.open(TABLE, content)
            if len(order) > 1:
                others = ", then ".join(f"“{thing}”" for thing in order[1:])
                set_message(self.note, f"took “{self.thing}”; press again for {others}")

    @property
    def value(self) -> Columns:
        """Numbers and lines set aside.

        Raises
        ------
        ValueError
            If there is not one column of each kind.

        """
        file, checksum = self.came_from()
        thing = self.thing if file.startswith(TABLE) else ""
        found = parse_columns(self.area.value, self.kinds, thing)
        return replace(found, file=file, checksum=checksum or found.checksum)

    def aside(self) -> tuple[str, list[tuple[str, str, str]]]:
        """Say how many lines are used, and line, text and trouble of each one set aside."""
        return _aside(self.value)


class ChartExplorer(_Reporting[ControlChart]):
    """The explorer of a reference lot over months, with its chart to print."""

    head: ClassVar[Mapping[str, str]] = CHART_FIELDS

    def __init__(self) -> None:
        example = invented.reference_lot(np.random.default_rng(invented.SEED))
        header = "month; mean of ten bars [MPa]\n"
        super().__init__(
            [
                PastedColumns(example, header, "reference lot in order of time", "stress"),
                Buttons("kind", "a value is", _VALUES, next(iter(_VALUES))),
                Slider("baseline", "limits from the first", "number", 3, 60, 20, 1),
            ],
            _chart,
            ChartScene(),
            chart_sentence,
            chart_numbers,
            title="Does the rig still measure as before?",
        )
        self._with_report()

    def page(self, given: Mapping[str, str]) -> str:
        """Return the chart to print."""
        columns = self.controls["columns"].value
        return chart_report(self.result, columns, given, system=self.look.system)


def _curve(columns: Columns, method: str, standard: str, **sizes: float) -> CurveResult:
    """Reduce one specimen from its curve, with the sizes that its method reads."""
    wanted = METHODS[method].readings
    given = {name: size for name, size in sizes.items() if name in wanted}
    return reduce_curve(load_curve(columns), method, given, standard)


_SIZES = {  # label, kind, ends, start and step of every size that some test reads
    "outer_span": ("outer span", "length", 0.02, 1.2, 0.1, 1e-3),
    "inner_span": ("inner span", "length", 0.005, 0.6, 0.05, 1e-3),
    "span": ("span", "length", 0.02, 1.2, 0.1, 1e-3),
    "width": ("width", "length", 0.003, 0.4, 0.02, 0.1e-3),
    "load_diameter": ("load ring", "length", 0.005, 0.1, 0.018, 0.5e-3),
    "support_diameter": ("support ring", "length", 0.01, 0.4, 0.045, 0.5e-3),
    "plate_diameter": ("disc", "length", 0.01, 0.5, 0.055, 0.5e-3),
    "square_side": ("side of the square", "length", 0.02, 0.5, 0.1, 0.5e-3),
    "thickness": ("thickness", "thickness", 0.5e-3, 25e-3, 4e-3, 0.01e-3),
    "diameter": ("diameter of the rod", "thickness", 0.5e-3, 25e-3, 5e-3, 0.01e-3),
}


class CurveExplorer(Explorer[CurveResult]):
    """The explorer of a load over time: one specimen of any test that breaks it."""

    def __init__(self) -> None:
        example = invented.load_over_time(np.random.default_rng(invented.SEED))
        header = "time [s]; load [N]\n"
        tests = {one.title: key for key, one in BENCHES.items()}
        first = BENCHES["four_point_bar"].title
        super().__init__(
            [
                PastedColumns(example, header, "curve in order of time", "time", "force"),
                Buttons("method", "test method", tests, first),
                *(Slider(name, *told) for name, told in _SIZES.items()),
                Buttons("standard", "rate asked by", {one: one for one in RATES}, "ASTM C158"),
            ],
            _curve,
            CurveScene(),
            curve_sentence,
            curve_numbers,
            title="From a rig's curve to load and stress rate",
        )
        self.controls["method"].on_change(self._ask)
        self._ask()

    def _ask(self) -> None:
        """Show the sizes that the method reads, and no others."""
        wanted = METHODS[self.controls["method"].value].readings
        for name in _SIZES:
            shown = name in wanted
            self.controls[name].widget.layout.display = "" if shown else "none"


class ReviewExplorer(Explorer[Review]):
    """The explorer of two readers' origins."""

    def __init__(self) -> None:
        super().__init__(
            [PastedReview()],
            lambda review: review,
            ReviewScene(),
            review_sentence,
            review_numbers,
            title="Do two readers find the same origins?",
        )


def laboratory_explorer() -> LaboratoryExplorer:
    """Return the explorer of notebook 41: from specimens to a report."""
    return LaboratoryExplorer()


def comparison_explorer() -> ComparisonExplorer:
    """Return the explorer of notebook 41 that compares two lots."""
    return ComparisonExplorer()


def chart_explorer() -> ChartExplorer:
    """Return the explorer of notebook 41 that watches a reference lot."""
    return ChartExplorer()


def curve_explorer() -> CurveExplorer:
    """Return the explorer of notebook 41 that reads a load over time."""
    return CurveExplorer()


def review_explorer() -> ReviewExplorer:
    """Return the explorer of notebook 41 that compares two readers' origins."""
    return ReviewExplorer()
