# SPDX-License-Identifier: MIT
"""Explorers of recordings: a ball that bounces on a pane, and a piece of glass that rings."""

import re
from collections.abc import Callable
from typing import Any, NamedTuple

import ipywidgets as widgets
import numpy as np

from glasskit.draw.listening import BounceScene, RingScene
from glasskit.impact import Ball, Pane
from glasskit.live.ball import SUPPORTS
from glasskit.live.buttons import Buttons
from glasskit.live.controls import Choice, Slider, give_say, message, set_message
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.live.recording import INVENTED, MeasuredExplorer, Read, Recording
from glasskit.materials import Body, Glass, glass, glass_names, solid
from glasskit.measured import (
    Bounced,
    Clicks,
    Reading,
    Ring,
    Rung,
    Tapped,
    bounced,
    hear_clicks,
    hear_ring,
    likely_peaks,
    read_sound,
    rung,
)
from glasskit.measured.invented_sounds import EXAMPLES, bouncing_example, ringing_example
from glasskit.measured.media import Media
from glasskit.plates import Support
from glasskit.quantities import plain_number
from glasskit.steps import Steps, part
from glasskit.words.listening import (
    bounce_numbers,
    bounce_sentence,
    glass_words,
    ring_numbers,
    ring_sentence,
)

_ENDINGS = (".wav", ".m4a", ".mp3", ".aac", ".ogg", ".flac", ".mp4", ".mov", ".3gp", ".webm")
_SEED = 50
_BALLS: dict[str, Body] = {
    "steel": solid("steel"),
    "stone": solid("granite"),
    "wood": solid("hardwood"),
}
_SHAPES = {
    "bar or strip": "bar",
    "round rod": "rod",
    "round disc": "disc",
    "pane on foam": "pane",
}
_SAY = {  # the sizes that a shape has
    "bar": ("length", "width", "thickness", "mass"),
    "rod": ("length", "width", "mass"),
    "disc": ("length", "thickness", "mass"),
    "pane": ("length", "width", "thickness", "mass"),
}


def _numbers(text: str) -> list[float]:
    """Return numbers parted by semicolons or spaces; a comma may be a decimal one."""
    parts = re.split(r"[;\s]+", text.strip().replace(", ", " "))
    return [plain_number(piece) for piece in parts if piece]


class _Heard(Recording[Read]):
    """A recording with a line below it in which what was heard is put right by hand.

    Attributes
    ----------
    line : Text
        What was heard, as numbers; what is typed there counts instead.
    as_found : Button
        Goes back to what the computer heard.

    """

    def __init__(
        self,
        name: str,
        read: Callable[[Media], Steps[Read]],
        example: Callable[[], bytes],
        label: str,
    ) -> None:
        super().__init__(name, "recording", _ENDINGS, read, example)
        self.line, self.wrong = text_field(label), message()
        self.as_found = button("As the computer heard it", self.fill)
        self.line.observe(lambda _: self._told(), "value")
        self._filling = False
        by_hand = controls(map(placed, (self.line, *self._more())))
        self.widget = widgets.VBox([self.widget, by_hand, row(self.as_found), self.wrong])
        self.widget.add_class("glasskit-paste")
        self.fill()

    def fill(self) -> None:
        """Show what the computer heard."""
        self._filling = True
        self.line.value = self._found()
        self._filling = False
        self._told()

    def reset(self) -> None:
        """Go back to what the computer heard; the recording stays."""
        self.fill()

    def _more(self) -> list[Any]:
        return []

    def _found(self) -> str:
        raise NotImplementedError

    def _tell(self) -> None:
        """Take what was read anew: the line is filled, and that tells."""
        self.fill()

    def _told(self) -> None:
        if self._filling:
            return
        try:
            self._take()
            set_message(self.wrong, "")
        except ValueError as fault:
            set_message(self.wrong, str(fault))
            return
        super()._tell()

    def _take(self) -> None:
        raise NotImplementedError


class HeardClicks(_Heard[Clicks]):
    """A control that holds the clicks of a ball in a recording, as corrected by hand.

    Attributes
    ----------
    add, off : Text
        A time at which a click is added; the number of one that is taken off.

    """

    def __init__(self, name: str) -> None:
        self._clicks: Clicks | None = None
        super().__init__(
            name,
            _read_clicks,
            lambda: bouncing_example(np.random.default_rng(_SEED)),
            "clicks of the ball / s",
        )

    @property
    def value(self) -> Clicks:
        """The recording with the clicks as they stand in the line."""
        return self._clicks or self._value

    def _more(self) -> list[Any]:
        self.add = text_field("add a click at / s")
        self.off = text_field("take off click number")
        self.add.observe(lambda _: self._added(), "value")
        self.off.observe(lambda _: self._taken_off(), "value")
        return [self.add, self.off]

    def _found(self) -> str:
        return "; ".join(f"{time:.4f}" for time in self._value.train)

    def _take(self) -> None:
        self._clicks = self._value.corrected(_numbers(self.line.value))

    def _put(self, times: list[float]) -> None:
        self.line.value = "; ".join(f"{time:.4f}" for time in sorted(times))

    def _added(self) -> None:
        if self.add.value.strip():
            try:
                time = self._value.nearest(plain_number(self.add.value))
                self._put([*_numbers(self.line.value), time])
                self.add.value = ""
            except ValueError as fault:
                set_message(self.wrong, str(fault))

    def _taken_off(self) -> None:
        if self.off.value.strip():
            times = _numbers(self.line.value)
            try:
                number = plain_number(self.off.value)
                if number not in range(1, len(times) + 1):
                    raise ValueError(f"the clicks have the numbers 1 to {len(times)}")
                del times[int(number) - 1]
                self._put(times)
                self.off.value = ""
            except ValueError as fault:
                set_message(self.wrong, str(fault))


class Chosen(NamedTuple):
    """What rang, and the peaks that the reader chose; none leaves that to the computer."""

    ring: Ring
    peaks: tuple[int, ...]


class HeardRing(_Heard[Ring]):
    """A control that holds what rang in a recording, and the peaks that count."""

    def __init__(self, name: str, shape: Buttons) -> None:
        self._chosen: tuple[int, ...] = ()
        self._shape = shape
        super().__init__(
            name,
            _read_ring,
            lambda: ringing_example(shape.value, np.random.default_rng(_SEED)),
            "numbers of the peaks that count",
        )

    @property
    def value(self) -> Any:
        """The recording and the chosen peaks."""
        return Chosen(self._value, self._chosen)

    def _found(self) -> str:
        return ""

    def _take(self) -> None:
        numbers = _numbers(self.line.value)
        known = range(1, len(self._value.peaks) + 1)
        if not all(number in known for number in numbers):
            raise ValueError(f"the peaks have the numbers 1 to {len(known)}")
        self._chosen = tuple(sorted({int(number) for number in numbers}))


def _read_clicks(media: Media) -> Steps[Clicks]:
    sound = yield from part(read_sound.steps(media), (1, 2), "sound")
    return (yield from part(hear_clicks.steps(sound), (2, 2), "clicks"))


def _read_ring(media: Media) -> Steps[Ring]:
    sound = yield from part(read_sound.steps(media), (1, 2), "sound")
    return (yield from part(hear_ring.steps(sound), (2, 2), "pitch"))


class BounceExplorer(MeasuredExplorer[Any]):
    """The explorer of a ball that is heard to bounce."""

    def __init__(self) -> None:
        self.recording = HeardClicks("clicks")
        known = Choice(
            "known", "height of the first fall", {"not measured": False, "measured": True},
            "not measured",
        )  # fmt: skip
        fall = Slider("fall", "that height", "height", 0.02, 2.0, 0.3, 0.01)
        give_say(known, (fall,), lambda measured: ("fall",) if measured else ())
        super().__init__(
            [
                self.recording,
                Slider("across", "ball across", "length", 6e-3, 40e-3, 10e-3, 0.5e-3),
                Choice("stuff", "ball of", _BALLS, "steel"),
                Slider("thickness", "thickness of the pane", "thickness", 3e-3, 25e-3, 10e-3),
                Slider("side", "side of the pane", "length", 0.1, 0.4, 0.3, 0.01),
                Choice("support", "edges lie on", SUPPORTS, next(iter(SUPPORTS))),
                known,
                fall,
            ],
            _bounced,
            BounceScene(),
            bounce_sentence,
            bounce_numbers,
            title="A ball bounces: listen",
        )
        self._with_keeping("Keep this reading")

    def readings(self) -> list[Reading]:
        """Return restitution and height of the first fall."""
        result: Bounced = self.result
        heard = result.heard
        ball = f"ball {2e3 * result.ball.radius:g} mm, pane {1e3 * result.pane.thickness:g} mm"
        remark = f"{ball}, {heard.clicks.size} clicks, predicted {result.pane_mean:.2f}"
        kept = Reading(
            what="share of speed kept in a bounce",
            kind="number",
            value=heard.restitution,
            low=float(heard.interval[0]),
            high=float(heard.interval[1]),
            file=self.file,
            remark=remark,
        )
        fall = Reading(
            what="height of the first fall",
            kind="height",
            value=heard.fall,
            low=float(heard.fall_interval[0]),
            high=float(heard.fall_interval[1]),
            file=self.file,
            remark="measured" if heard.fall_given else "from the clicks",
        )
        return [kept, fall]


def _bounced(
    clicks: Clicks,
    across: float,
    stuff: Body,
    thickness: float,
    side: float,
    support: Support,
    known: bool,
    fall: float,
) -> Bounced:
    pane = Pane(
        length=side,
        width=side,
        thickness=thickness,
        glass=glass("soda-lime"),
        support_stiffness=4 * side * support.bedding,
        damping=support.damping,
    )
    ball = Ball(radius=across / 2, solid=stuff)
    return bounced(clicks, ball, pane, fall=fall if known else None)


class RingExplorer(MeasuredExplorer[Any]):
    """The explorer of something tapped."""

    def __init__(self) -> None:
        self.shape = Buttons("shape", "What was tapped", _SHAPES, "bar or strip")
        self.recording = HeardRing("heard", self.shape)
        start = EXAMPLES["bar"]
        sizes = (
            ("length", "length, or disc across", "length", 0.05, 0.6, 1e-4),
            ("width", "width, or rod across", "length", 2e-3, 0.6, 1e-4),
            ("thickness", "thickness", "thickness", 1e-3, 0.02, 1e-5),
            ("mass", "mass", "small_mass", 5e-3, 3.0, 1e-4),
        )
        self._sizes = {
            name: Slider(name, label, kind, low, high, getattr(start, name), step)
            for name, label, kind, low, high, step in sizes
        }
        glasses: dict[str, Glass | None] = {"not known": None}
        glasses |= {glass_words(name): glass(name) for name in glass_names()}
        super().__init__(
            [
                self.shape,
                self.recording,
                *self._sizes.values(),
                Slider("within", "sizes within ±", "length", 0.0, 2e-3, 0.5e-3, 0.1e-3),
                Slider("near", "thickness within ±", "thickness", 0.0, 0.3e-3, 0.02e-3, 1e-5),
                Choice(
                    "known",
                    "if the glass is known",
                    {"not known": None} | glasses,
                    "window glass",
                ),
            ],
            _rung,
            RingScene(),
            ring_sentence,
            ring_numbers,
            title="Tap it: listen",
        )
        self.shape.on_change(self._reshaped)
        self._with_keeping("Keep this reading")

    def _reshaped(self) -> None:
        """Show sizes and example of another shape; a recording of one's own stays."""
        example = EXAMPLES[self.shape.value]
        for name, control in self._sizes.items():
            control.value = getattr(example, name)
            control.enable(name in _SAY[self.shape.value])
        if self.recording.source == INVENTED:
            self.recording.example.click()

    def readings(self) -> list[Reading]:
        """Return stiffness, and thickness where the glass is known."""
        result: Rung = self.result
        used = ", ".join(f"{pitch:.1f}" for pitch in result.frequencies)
        low, high = result.modulus.interval()
        found = [
            Reading(
                what=f"stiffness of a {result.tapped.shape} by its pitch",
                kind="stiffness",
                value=result.modulus.value.item(),
                low=float(low),
                high=float(high),
                file=self.file,
                remark=f"rings at {used} Hz",
            )
        ]
        if result.thickness is not None and isinstance(result.glass, Glass):
            low, high = result.thickness.interval()
            found.append(
                Reading(
                    what="thickness by its pitch",
                    kind="thickness",
                    value=result.thickness.value.item(),
                    low=float(low),
                    high=float(high),
                    file=self.file,
                    remark=f"taken as {glass_words(result.glass.name)}",
                )
            )
        return found


def _rung(
    heard: Chosen,
    shape: str,
    length: float,
    width: float,
    thickness: float,
    mass: float,
    within: float,
    near: float,
    known: Glass | None,
) -> Rung:
    tapped = Tapped(
        shape=shape,
        length=length,
        width=width,
        thickness=thickness,
        mass=mass,
        size_tolerance=within,
        thickness_tolerance=near,
    )
    peaks = heard.peaks or likely_peaks(tapped, heard.ring)
    return rung(tapped, heard.ring, peaks, known)


def bounce_explorer() -> BounceExplorer:
    """Return the first explorer of notebook 50: a ball that bounces on a pane."""
    return BounceExplorer()


def ring_explorer() -> RingExplorer:
    """Return the second explorer of notebook 50: something tapped that rings."""
    return RingExplorer()
