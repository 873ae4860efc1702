# SPDX-License-Identifier: MIT
"""Read the colours of a photograph: set line and patches, see lag and stress, keep them."""

import warnings
from collections.abc import Callable
from functools import partial
from typing import Any

import ipywidgets as widgets
import numpy as np

from glasskit.draw.colours import POINTS, ReadColoursScene, marked
from glasskit.live.buttons import Buttons
from glasskit.live.clicks import ClickedPicture
from glasskit.live.controls import Choice, Control, Slider, message, set_message
from glasskit.live.panel import button, placed, row, text_field
from glasskit.live.recording import (
    INVENTED,
    PHOTOGRAPHS,
    MeasuredExplorer,
    Place,
    Recording,
)
from glasskit.materials import glass
from glasskit.measured import (
    ColourLine,
    ColourStress,
    EdgeLine,
    Reading,
    edge_line,
    invented_colours,
    lags_along,
    line_colours,
    read_photo,
)
from glasskit.measured.media import Media
from glasskit.quantities import OutsideValidityWarning, in_range, plain_number
from glasskit.steps import Steps
from glasskit.words.colours import read_numbers, read_sentence

_SODA = glass("soda-lime")
_SEEN: dict[str, Callable[[ColourLine], EdgeLine] | Callable[[ColourLine], Any]] = {
    "the edge of a toughened pane": edge_line,
    "any line": lags_along,
}
_STEP = 0.2  # of a place that is nudged [% of width or height]
_NUDGES = {
    "◂ left": (-_STEP, 0.0),
    "right ▸": (_STEP, 0.0),
    "up ▴": (0.0, -_STEP),
    "down ▾": (0.0, _STEP),
}


def _example() -> Any:
    """Return the invented photograph: a strip 3 mm thick, 10 mm wide, squeezed by 75 MPa."""
    return invented_colours("edge", 75e6, 10e-3, _SODA.stress_optic, seed=3)


def _opened(media: Media) -> Steps[np.ndarray[Any, np.dtype[np.uint8]]]:
    yield 0.1, "reading the photograph"
    return read_photo(media)


class Points(Control):
    """A control that holds the colours along a line of a photograph.

    Attributes
    ----------
    photograph : Recording
        Which photograph.
    point : Buttons
        What a click, a typed place or an arrow sets.
    picture : ClickedPicture
        The photograph with line and patches.
    place : Text
        Where the chosen point lies, across and down in percent.
    nudges : dict of str to Button
        Move the chosen point a little.
    note : HTML
        What is wrong with a typed place.

    """

    def __init__(self, name: str) -> None:
        super().__init__(name)
        made = _example()
        self._start = (made.start, made.end, made.white, made.black)
        self._places = list(self._start)
        self._held: tuple[Any, ...] = ()
        self.photograph = Recording(
            "seen", "photograph", PHOTOGRAPHS, _opened, lambda: made.file
        )
        options = {point: number for number, point in enumerate(POINTS)}
        self.point = Buttons("point", "A click on the photograph sets", options, POINTS[0])
        self.picture = ClickedPicture(self._set)
        self.place = text_field("across and down / %")
        self.nudges = {
            said: button(said, partial(self._nudge, move)) for said, move in _NUDGES.items()
        }
        self.note = message()
        moved = row(placed(self.place), *self.nudges.values())
        self.widget = widgets.VBox(
            [self.photograph.widget, self.point.widget, self.picture.widget, moved, self.note]
        )
        self.widget.add_class("glasskit-paste")
        self.photograph.on_change(self._other)
        self.point.on_change(self._show)
        self.place.observe(self._typed, "value")
        self._show()

    @property
    def value(self) -> ColourLine:
        """The colours along the line.

        Raises
        ------
        ValueError
            If line or patches cannot be where they are.

        """
        photo, places = self.photograph.value, tuple(self._places)
        if not self._held or self._held[0] is not photo or self._held[1] != places:
            self._held = photo, places, line_colours(photo, *places)
        line: ColourLine = self._held[2]
        return line

    def reset(self) -> None:
        """Put line and patches where they lie in the invented photograph."""
        self._places = list(self._start)
        self._changed()

    def _other(self) -> None:
        """Take another photograph; line and patches of the example belong to the example."""
        if self.photograph.source == INVENTED:
            self._places = list(self._start)
        self._changed()

    def _set(self, across: float, down: float) -> None:
        self._places[self.point.value] = (across, down)
        self._changed()

    def _nudge(self, move: Place) -> None:
        across, down = (
            min(max(share + part / 100, 0.0), 1.0)
            for share, part in zip(self._places[self.point.value], move, strict=True)
        )
        self._set(across, down)

    def _typed(self, change: Any) -> None:
        text = change["new"].strip()
        if not text or text == self._said():
            return
        try:
            across, down = map(plain_number, text.split())
            in_range("place", [across, down], 0.0, 100.0)
        except ValueError:
            said = f"write two numbers from 0 to 100, such as 40 25; got “{text}”"
            set_message(self.note, said)
            return
        self._set(across / 100, down / 100)

    def _said(self) -> str:
        across, down = self._places[self.point.value]
        return f"{100 * across:.1f} {100 * down:.1f}"

    def _changed(self) -> None:
        self._show()
        self._tell()

    def _show(self) -> None:
        set_message(self.note, "")
        self.place.value = self._said()
        self.place.description = f"{POINTS[self.point.value]}: across and down / %"
        said = (
            "The photograph with the line from 1 to 2, the white patch W, the black patch B."
        )
        self.picture.show(marked(self.photograph.value, self._places), said)


class ColoursExplorer(MeasuredExplorer[ColourStress]):
    """The explorer of notebook 53, with a button that keeps the stress."""

    def __init__(self) -> None:
        self._points = Points("line")
        self.recording = self._points.photograph
        self._held: tuple[Any, ...] = ()
        super().__init__(
            [
                self._points,
                Choice("seen", "the line crosses", _SEEN, next(iter(_SEEN))),
                Slider("path", "light path in the glass", "length", 1e-3, 60e-3, 10e-3, 5e-4),
                Slider("spread", "path known to ±", "thickness", 0.0, 2e-3, 2e-4, 1e-4),
                Slider(
                    "thickness", "length of the line", "thickness", 1e-3, 50e-3, 3e-3, 1e-4
                ),
            ],
            self._read,
            ReadColoursScene(),
            read_sentence,
            read_numbers,
            title="Read the colours",
        )
        self._with_keeping("Keep this stress")

    def _read(
        self,
        line: ColourLine,
        seen: Callable[[ColourLine], Any],
        path: float,
        spread: float,
        thickness: float,
    ) -> ColourStress:
        """Read the colours, anew only if they changed; half of what ± says is standard."""
        if not self._held or self._held[0] is not line or self._held[1] is not seen:
            self._held = line, seen, seen(line)
        found = ColourStress(
            found=self._held[2],
            path=path,
            spread=spread / 2,
            thickness=thickness,
            glass=_SODA,
        )
        for text in found.doubts:
            warnings.warn(text, OutsideValidityWarning, stacklevel=1)
        return found

    def readings(self) -> list[Reading]:
        """Return the stress."""
        result = self.result
        edge = isinstance(result.found, EdgeLine)
        low, high = result.interval
        remark = f"light path {1e3 * result.path:g} mm; lag {1e9 * result.lag:.0f} nm"
        if len(result.lags.others) > 1:
            remark += "; order not known"
        return [
            Reading(
                what="squeeze at the faces, by colours"
                if edge
                else "stress difference, by colours",
                kind="stress",
                value=result.stress,
                low=low,
                high=high,
                file=self.file,
                remark=remark,
            )
        ]


def colours_explorer() -> ColoursExplorer:
    """Return the explorer of notebook 53: a photograph, its line, lag and stress."""
    return ColoursExplorer()
