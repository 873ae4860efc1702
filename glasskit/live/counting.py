# SPDX-License-Identifier: MIT
"""Count the crumbs in a photograph: find them, correct them by hand, keep the count."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import ipywidgets as widgets
import numpy as np
from PIL import Image

from glasskit.breakage import SQUARE
from glasskit.draw.counting import CountScene, outlined, to_click
from glasskit.live.buttons import Buttons
from glasskit.live.clicks import ClickedPicture
from glasskit.live.controls import Choice, Control, Slider, message, set_message
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.live.recording import PHOTOGRAPHS, MeasuredExplorer, Place, Recording
from glasskit.live.work import Work
from glasskit.measured import (
    FRAME,
    VIEW,
    Correction,
    PieceCount,
    Pieces,
    Reading,
    corrected,
    count_square,
    find_pieces,
    find_square,
    invented_photo,
    level,
    read_photo,
)
from glasskit.measured.media import Media
from glasskit.plates import plate
from glasskit.quantities import FloatArray, System, plain_number, typed, unit
from glasskit.steps import Steps
from glasskit.words.counting import count_numbers, count_sentence

_PANE = plate("window pane, quenched")
_SEED, _WIDTH = 7, 900  # of the invented photograph
_CORNERS = "set the four corners"
_KINDS = {"join two pieces": "join", "split a piece": "split", "remove what is none": "remove"}
_NEEDED = {"corners": 4, "join": 2, "split": 2, "remove": 1}
_SCREEN = 1400  # longest side of the photograph to click on [pixels]


@dataclass(frozen=True, kw_only=True, eq=False)
class _Seen:
    """A photograph, the corners of its square, its pieces; what was in the way."""

    photo: np.ndarray[Any, np.dtype[np.uint8]]
    corners: FloatArray | None
    pieces: Pieces | None
    trouble: str = ""


def example_photo() -> bytes:
    """Return an invented photograph as a file."""
    photo = invented_photo(np.random.default_rng(_SEED), width=_WIDTH, contrast=0.4, noise=3.0)
    kept = BytesIO()
    Image.fromarray(photo.pixels).save(kept, "JPEG", quality=92)
    return kept.getvalue()


def _seen(media: Media) -> Steps[_Seen]:
    yield 0.0, "reading the photograph"
    photo = read_photo(media)
    yield 0.1, "looking for the frame"
    corners = None
    try:
        corners = find_square(photo)
        yield 0.2, "looking straight down"
        pieces = yield from find_pieces.steps(level(photo, corners, side=VIEW))
    except ValueError as trouble:
        return _Seen(photo=photo, corners=corners, pieces=None, trouble=str(trouble))
    return _Seen(photo=photo, corners=corners, pieces=pieces)


class Outlines(Control):
    """A control that holds the pieces found in a photograph, as corrected by hand.

    Attributes
    ----------
    photograph : Recording
        Which photograph.
    source : str
        Name of the one whose pieces these are.
    width, height, side : Text
        True sides of the figure with the four corners; side of the view.
    tool : Buttons
        What a click does, or a line in `places`.
    picture : ClickedPicture
        The photograph with the four corners, or the view with the outlines.
    places : Text
        Places as they are typed: across and down, the next after a semicolon.
    find : Button
        Finds the pieces anew, with corners and sides as they stand.
    undo : Button
        Takes back the last correction.
    work : Work
        How far the finding is, and its stop.
    note : HTML
        What is wrong with a place.

    """

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self._system: System = "metric"
        self._corrections: tuple[Correction, ...] = ()
        self._begun: list[Place] = []  # places clicked that do not do anything yet
        self.photograph = Recording("seen", "photograph", PHOTOGRAPHS, _seen, example_photo)
        self._taken = self.photograph.value
        if self._taken.pieces is None:
            raise ValueError(self._taken.trouble)
        self._found = self._value = self._taken.pieces
        self._corners = self._taken.corners
        self.source = self.photograph.source
        self.width, self.height, self.side = (text_field("", "") for _ in range(3))
        tools = _KINDS | {_CORNERS: "corners"}
        self.tool = Buttons("tool", "What a click does", tools, "join two pieces")
        self.picture = ClickedPicture(self._clicked)
        self.places = text_field("or type places")
        self.find = button("Find the pieces", self.search)
        self.undo = button("Take back the last", self.take_back)
        self.work, self.note, self.told = Work(), message(), widgets.HTML()
        sizes = controls(map(placed, (self.width, self.height, self.side)))
        self.widget = widgets.VBox(
            [
                *(self.photograph.widget, sizes, row(self.find), self.work.widget),
                *(self.tool.widget, self.picture.widget, self.places),
                *(row(self.undo), self.note, self.told),
            ]
        )
        self.widget.add_class("glasskit-paste")
        self.widget.add_class("glasskit-outlines")
        self.photograph.on_change(self._opened)
        self.tool.on_change(self._start_again)
        self.places.observe(self._typed, "value")
        for box, start in ((self.width, FRAME), (self.height, FRAME), (self.side, VIEW)):
            box.value = f"{1e3 * start:g}"
        self._label()
        self._show()

    @property
    def value(self) -> Pieces:
        """The pieces as corrected."""
        return self._value

    @property
    def by_hand(self) -> str:
        """What was corrected by hand, in words."""
        kinds = [correction.kind for correction in self._corrections]
        done = {"join": "joined", "split": "split", "remove": "removed"}
        said = [f"{kinds.count(kind)} {done[kind]}" for kind in done if kind in kinds]
        return f"by hand: {', '.join(said)}" if said else "as found"

    def use(self, system: System) -> None:
        """Take and show places and sides in other units."""
        for box in (self.width, self.height, self.side):
            # A bare number keeps its meaning by its unit, and is bare again when that is back.
            ending = f" {unit('length', system).symbol}"
            if box.value.endswith(ending):
                box.value = box.value.removesuffix(ending)
                continue
            try:
                plain_number(box.value)
            except ValueError:
                continue  # it has its unit already, or waits to be mended
            if system != self._system:
                box.value += f" {unit('length', self._system).symbol}"
        self._system = system
        self._label()
        self._show()

    def reset(self) -> None:
        """Take back all corrections; photograph and corners stay."""
        self._corrections = ()
        self._apply()

    def search(self) -> None:
        """Find the pieces anew, with corners and sides as they stand."""
        stopped = "stopped; the outlines are those of before"
        self.work.start(self._searching(), [self.find], stopped)

    def take_back(self) -> None:
        """Take back the last place clicked, or the last correction."""
        if self._begun:
            self._begun.pop()
        else:
            self._corrections = self._corrections[:-1]
        self._apply()

    def _searching(self) -> Steps[None]:
        set_message(self.note, "")
        try:
            if self._corners is None:
                raise ValueError("set the four corners first")
            width, height, side = (
                typed(box.value, "length", self._system)
                for box in (self.width, self.height, self.side)
            )
            photo = self._taken.photo
            yield 0.0, "looking straight down"
            view = level(photo, self._corners, width=width, height=height, side=side)
            found = yield from find_pieces.steps(view)
        except ValueError as refusal:
            set_message(self.note, str(refusal))
            return
        self._take(found)

    def _take(self, found: Pieces) -> None:
        """Start from pieces as they were found."""
        self.source = self.photograph.source
        self._found, self._corrections, self._begun = found, (), []
        self.tool.choose("join two pieces")
        self._apply()

    def _opened(self) -> None:
        """Take a photograph that was read: with its pieces, or to set corners in."""
        self._taken = self.photograph.value
        self._corners = self._taken.corners
        set_message(self.note, "")
        if self._taken.pieces is not None:
            self._take(self._taken.pieces)
            return
        self.tool.choose(_CORNERS)
        set_message(
            self.note,
            f"{self._taken.trouble}. The count below is still that of the photograph before",
        )

    def _start_again(self) -> None:
        self._begun = []
        self._label()
        self._show()

    def _label(self) -> None:
        symbol = unit("length", self._system).symbol
        for box, what in (
            (self.width, "width of the frame"),
            (self.height, "height of the frame"),
            (self.side, "side of the view"),
        ):
            box.description = f"{what} / {symbol}"
        in_pixels = self.tool.value == "corners"
        self.places.description = f"or type places / {'pixels' if in_pixels else symbol}"
        self.places.placeholder = "; ".join(["across down"] * _NEEDED[self.tool.value])

    def _clicked(self, across: float, down: float) -> None:
        if self.tool.value == "corners":
            high, wide = self._taken.photo.shape[:2]
            self._gathered([(across * wide - 0.5, down * high - 0.5)])
        else:
            side = self._value.view.side
            self._gathered([((across - 0.5) * side, (down - 0.5) * side)])

    def _typed(self, change: Any) -> None:
        text = change["new"].strip()
        if not text:
            return
        size = 1.0 if self.tool.value == "corners" else unit("length", self._system).scale
        try:
            places = []
            for part in text.split(";"):
                across, down = part.split()
                places.append((plain_number(across) * size, plain_number(down) * size))
        except ValueError:
            set_message(
                self.note, f"write two numbers for each place, such as 12 -3; got “{text}”"
            )
            return
        self.places.value = ""
        self._gathered(places)

    def _gathered(self, places: Sequence[Place]) -> None:
        """Take places, and do what the tool does once there are enough."""
        set_message(self.note, "")
        self._begun += places
        needed = _NEEDED[self.tool.value]
        if len(self._begun) < needed:
            self._show()
            return
        taken, self._begun = tuple(self._begun[:needed]), []
        if self.tool.value == "corners":
            self._corners = np.array(taken)
            self._show()
            return
        correction = Correction(kind=self.tool.value, places=taken)
        try:
            self._value = corrected(self._value, (correction,))
        except ValueError as refusal:
            set_message(self.note, str(refusal))
            self._show()
            return
        self._corrections += (correction,)
        self._show()
        self._tell()

    def _apply(self) -> None:
        self._value = corrected(self._found, self._corrections)
        self._show()
        self._tell()

    def _show(self) -> None:
        """Show what can be clicked, and say what was done."""
        if self.tool.value == "corners":
            photo = self._taken.photo
            high, wide = photo.shape[:2]
            step = max(max(wide, high) // _SCREEN, 1)
            size = np.array([wide, high])

            def shares(places: Any) -> list[Place]:
                return [tuple(place) for place in (np.asarray(places) + 0.5) / size]

            figure = [] if self._corners is None else shares(self._corners)
            marked = shares(self._begun) if self._begun else []
            shown = to_click(photo[::step, ::step], marked, figure)
            said = "The photograph. Its four corners go clockwise from the upper left."
            done = f"{len(self._begun)} of 4 corners set; then press “Find the pieces”."
            if self._corners is not None and not self._begun:
                done = "Four corners are set: press “Find the pieces”, or click four others."
        else:
            side = self._value.view.side
            marked = [(x / side + 0.5, y / side + 0.5) for x, y in self._begun]
            rings = [(d.x / side + 0.5, d.y / side + 0.5) for d in self._value.unclear]
            half = SQUARE / 2 / side
            square = [
                (0.5 + x * half, 0.5 + y * half)
                for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))
            ]
            shown = to_click(outlined(self._value), marked, square, rings)
            said = f"{self._value.number} pieces with their outlines; rings where in doubt."
            done = f"The outlines are {self.by_hand}. A ring marks a border in doubt."
        self.picture.show(shown, said)
        self.told.value = f'<div role="status">{done}</div>'


class CountExplorer(MeasuredExplorer[PieceCount]):
    """The explorer of notebook 51, with a button that keeps the count."""

    def __init__(self) -> None:
        self._outlines = Outlines("pieces")
        self.recording = self._outlines.photograph
        thickness = Slider(
            "thickness", "thickness", "thickness", 2e-3, 19e-3, _PANE["thickness"], 1e-4
        )
        scale = Slider(
            "scale_error", "corners and sides within ±", "percent", 0, 0.05, 0.005, 1e-3
        )
        checked = Choice(
            "checked",
            "outlines",
            {"as the computer drew them": False, "I looked at every one": True},
            "as the computer drew them",
        )
        super().__init__(
            [self._outlines, thickness, scale, checked],
            _counted,
            CountScene(),
            count_sentence,
            count_numbers,
            title="Count the crumbs",
        )
        self._with_keeping("Keep this count")

    def _read_from(self) -> str:
        return self._outlines.source

    def readings(self) -> list[Reading]:
        """Return count and squeeze."""
        result = self.result
        remark = f"{1e3 * result.thickness:g} mm; {self._outlines.by_hand}"
        low, high = result.interval
        least, middle, most = result.squeeze
        return [
            Reading(
                what="pieces in a square of 50 mm",
                kind="number",
                value=result.count,
                low=min(low, result.count),
                high=max(high, result.count),
                file=self.file,
                remark=remark,
            ),
            Reading(
                what="squeeze that the count suggests",
                kind="stress",
                value=middle,
                low=least,
                high=most,
                file=self.file,
                remark=f"{remark}; range is a judgement",
            ),
        ]


def _counted(
    pieces: Pieces, thickness: float, scale_error: float, checked: bool
) -> PieceCount:
    """Count; twice a standard uncertainty is what corners and sides are good to."""
    return count_square(
        pieces,
        thickness=thickness,
        glass=_PANE.glass,
        scale_error=scale_error / 2,
        checked=checked,
    )


def count_explorer() -> CountExplorer:
    """Return the explorer of notebook 51: a photograph, its pieces, and their count."""
    return CountExplorer()
