# SPDX-License-Identifier: MIT
"""Film a fall: choose a film, look at what was found, correct it, keep the numbers."""

import re
from importlib.resources import files
from typing import Any

import ipywidgets as widgets
import numpy as np

from glasskit.draw.filming import FilmScene, found_places
from glasskit.live.buttons import Buttons
from glasskit.live.clicks import ClickedPicture
from glasskit.live.controls import Choice, Control, Slider, give_say
from glasskit.live.panel import button, controls, row, text_field
from glasskit.live.recording import INVENTED, MeasuredExplorer, Recording
from glasskit.measured import (
    FilmedFall,
    Reading,
    Ruler,
    Sightings,
    find_ball,
    fit_fall,
    track_ball,
)
from glasskit.measured.media import Media
from glasskit.steps import Steps
from glasskit.words.filming import fall_numbers, fall_sentence, for_the_log

_ENDINGS = (".mp4", ".mov", ".m4v", ".webm", ".avi", ".mkv", ".3gp")
_DIAMETER, _MASS = 0.0508, 0.535  # of the ball in the invented film [m], [kg]
_UPPER, _LOWER, _DISTANCE, _FACE = 0.285, 0.887, 0.72, 0.939  # marks in it, in parts and [m]
_BALL, _RULER = "the diameter of the ball", "two marks on a ruler"
_TURNS, _MARKED = "where the ball turns", "at the pane, as marked below"
_READ, _GIVEN = "read from the fall", "as given below"
_LAST = 10**6  # no film has so many frames
_LEAVE = "leaves out the nearest place, or takes it back"
_SETS = {
    _LEAVE: "",
    "sets the upper mark": "upper",
    "sets the lower mark": "lower",
    "sets the face of the pane": "pane",
}


def example_film() -> bytes:
    """Return the invented film of the page.

    `film_fall(np.random.default_rng(8), turned=True)`, kept as a file: encoders differ.
    """
    return (files("glasskit") / "data" / "filmed_fall.mp4").read_bytes()


class Film(Recording[Sightings]):
    """A film, and what was seen in it at a threshold that the reader may move.

    Attributes
    ----------
    threshold : Slider
        How far a pixel must differ from the background to count.
    search : VBox
        The threshold, and a button that searches the film again.

    """

    def __init__(self, name: str) -> None:
        self.threshold = Slider(
            "threshold", "how much differs what moves", "percent", 0.02, 0.5, 0.1, 0.01
        )
        self._media: Media = b""
        super().__init__(name, "film", _ENDINGS, self._seen, example_film)
        self.again_at = button("Search this film again", self.search_again)
        lower = widgets.HTML("Lower finds a pale ball; higher leaves out shadows and noise.")
        self.search = widgets.VBox(
            [controls([self.threshold.widget]), lower, row(self.again_at)]
        )

    def search_again(self) -> None:
        """Look through the film once more, with the threshold as it stands."""
        self.open(self._media, self.source)

    def _seen(self, media: Media) -> Steps[Sightings]:
        found = yield from find_ball.steps(media, threshold=self.threshold.value)
        track_ball(found)  # where no ball falls, that is said and what was there stays
        self._media = media
        return found


class Frames(Control):
    """Which frames count: from, to, and some that are left out.

    Attributes
    ----------
    first, last, without : Text
        Numbers of frames, as they stand in the picture; all count where nothing stands.
    left : list of int
        Frames that were left out when that was last understood.

    """

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.first = text_field("first frame that counts")
        self.last = text_field("last frame that counts")
        self.without = text_field("leave out frames")
        self.without.placeholder = "such as 12, 15-18"
        self.left: list[int] = []
        self.boxes = (self.first, self.last, self.without)
        self.widget = widgets.VBox(list(self.boxes))
        self.widget.add_class("glasskit-control")
        for box in self.boxes:
            box.observe(lambda _: self._tell(), "value")

    @property
    def value(self) -> dict[str, Any]:
        """Arguments of `track_ball`.

        Raises
        ------
        ValueError
            If what stands there is no number of a frame.

        """
        first, last = _number(self.first, 0), _number(self.last, _LAST)
        self.left = _numbers(self.without.value)
        return {"first": first, "last": last, "without": self.left}

    def turn(self, frame: int) -> None:
        """Leave a frame out, or take it back."""
        self.without.value = ", ".join(map(str, sorted({*self.left} ^ {frame})))

    @property
    def by_hand(self) -> str:
        """What was corrected, in words; empty if nothing."""
        said = [f"{box.description} {box.value.strip()}" for box in self.boxes if box.value]
        return "; ".join(said)

    def reset(self) -> None:
        """Let all frames count."""
        for box in self.boxes:
            box.value = ""


def _number(box: Any, otherwise: int) -> int:
    text = box.value.strip()
    if text and not text.isdecimal():
        raise ValueError(f"{box.description} must be a whole number; got “{text}”")
    return int(text) if text else otherwise


def _numbers(text: str) -> list[int]:
    found: list[int] = []
    for part in filter(None, re.split(r"[,;\s]+", text.replace("–", "-").strip())):
        ends = re.fullmatch(r"(\d{1,6})(?:-(\d{1,6}))?", part)
        if not ends:
            raise ValueError(f"frames to leave out must be like 12, 15-18; got “{part}”")
        found += range(int(ends[1]), int(ends[2] or ends[1]) + 1)
    return found


def _measured(
    seen: Sightings,
    frames: dict[str, Any],
    diameter: float,
    mass: float,
    scale: str,
    upper: float,
    lower: float,
    distance: float,
    end: str,
    pane: float,
    clock: str,
    slowed: float,
) -> FilmedFall:
    return fit_fall(
        track_ball(seen, **frames),
        diameter=diameter,
        mass=mass,
        ruler=Ruler(upper=upper, lower=lower, distance=distance) if scale == _RULER else None,
        pane=pane if end == _MARKED else None,
        slowed=slowed if clock == _GIVEN else None,
    )


def _asked() -> list[Control]:
    upper = Slider("upper", "upper mark, from the top", "percent", 0, 0.9, _UPPER, 1e-3)
    lower = Slider("lower", "lower mark, from the top", "percent", 0.1, 1, _LOWER, 1e-3)
    distance = Slider("distance", "from mark to mark", "height", 0.05, 3.0, _DISTANCE, 1e-3)
    pane = Slider("pane", "face of the pane, from the top", "percent", 0.1, 1, _FACE, 1e-3)
    slowed = Slider("slowed", "film slower than life by", "number", 0.5, 64, 1.0, log=True)
    scale = Choice("scale", "lengths from", {_BALL: _BALL, _RULER: _RULER}, _BALL)
    end = Choice("end", "the fall ends", {_TURNS: _TURNS, _MARKED: _MARKED}, _TURNS)
    clock = Choice("clock", "slow motion", {_READ: _READ, _GIVEN: _GIVEN}, _READ)
    marks = (upper, lower, distance)
    give_say(scale, marks, lambda by: [one.name for one in marks] if by == _RULER else ())
    give_say(end, (pane,), lambda by: ("pane",) if by == _MARKED else ())
    give_say(clock, (slowed,), lambda by: ("slowed",) if by == _GIVEN else ())
    return [
        Slider("diameter", "diameter of the ball", "length", 5e-3, 0.12, _DIAMETER, 1e-4),
        Slider("mass", "its mass", "small_mass", 1e-3, 5.0, _MASS, log=True),
        *(scale, *marks, end, pane, clock, slowed),
    ]


class FilmExplorer(MeasuredExplorer[FilmedFall]):
    """The explorer of notebook 52, with a button that keeps its numbers.

    Attributes
    ----------
    film : Film
        Which film.
    counting : Frames
        Which frames of it count.
    tool : Buttons
        What a click on the picture does; sliders and boxes do the same.
    picture : ClickedPicture
        All frames in one, with what was found.

    """

    def __init__(self) -> None:
        self.film, self.counting = Film("seen"), Frames("frames")
        self.recording = self.film
        self.film.on_change(self.counting.reset)  # another film has other frames
        self.tool = Buttons("tool", "A click on the picture below", _SETS, _LEAVE)
        self.picture = ClickedPicture(self._clicked)
        super().__init__(
            [self.film, self.counting, *_asked()],
            _measured,
            FilmScene(),
            fall_sentence,
            fall_numbers,
            title="Film the fall",
        )
        self._with_keeping("Keep these numbers")
        head = widgets.HTML("<strong>Look at every ring, and mend what was found</strong>")
        self.widget.children = (
            *self.widget.children,
            *(head, self.tool.widget, self.picture.widget),
            *(controls([self.counting.widget]), self.film.search),
        )

    def _arranged(self) -> Any:
        asked = [item.widget for item in self.controls.values() if item is not self.counting]
        return controls(asked)

    def _show(self) -> None:
        """Show the result, and what was found in the film, to be clicked on."""
        super()._show()
        fall, rise = (places.size for places in (self.result.path.fall, self.result.path.rise))
        said = f"The film in one picture: the ball in {fall} frames falling, in {rise} rising."
        self.picture.show(found_places(self.result, self.counting.left), said)

    def _clicked(self, across: float, down: float) -> None:
        if name := self.tool.value:
            slider: Any = self.controls[name]
            slider.value = min(max(down, slider.low), slider.high)
            choice: Any = self.controls["end" if name == "pane" else "scale"]
            choice.menu.value = _MARKED if name == "pane" else _RULER
            return
        seen, path = self.result.path.seen, self.result.path
        out = np.flatnonzero(np.isin(seen.frame, self.counting.left))
        places = np.concatenate([path.fall, path.rise, out])
        high, wide = seen.picture.shape[:2]
        off = np.hypot(seen.x[places] - across * wide, seen.y[places] - down * high)
        self.counting.turn(int(seen.frame[places[off.argmin()]]))

    def advice(self) -> str:
        """Say which height goes into the break log."""
        return for_the_log(self.result, self.source == INVENTED, self.look.system)

    def readings(self) -> list[Reading]:
        """Return height, speed, g and rebound."""
        result = self.result
        by_hand = self.counting.by_hand or "frames as found"
        scale = "lengths from a ruler" if result.ruler else "lengths from the ball"
        clock = f"film slower by {result.slowed:g}" if result.slowed != 1 else "ordinary film"
        found = {
            ("height of the fall", "height"): result.height,
            ("speed at its end", "speed"): result.speed,
            ("g by the film", "acceleration"): result.free_fall,
        }
        if result.rebound is not None:
            found["height of the rebound", "height"] = result.rebound
        return [
            Reading(
                what=what,
                kind=kind,
                value=measure.value,
                low=measure.low,
                high=measure.high,
                file=self.file,
                remark=f"{scale}; {clock}; {by_hand}",
            )
            for (what, kind), measure in found.items()
        ]


def film_explorer() -> FilmExplorer:
    """Return the explorer of notebook 52: a film, the ball in it, and its fall."""
    return FilmExplorer()
