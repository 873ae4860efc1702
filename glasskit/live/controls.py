# SPDX-License-Identifier: MIT
"""Controls of an explorer: a slider with its number box, and a choice from a list.

A control keeps its value in SI and shows it in the reader's units. A slider speaks its name
and the value with its unit, as its number box shows it: see `aloud`.
"""

import html
import math
import threading
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

import ipywidgets as widgets
import numpy as np

from glasskit.quantities import (
    System,
    from_display,
    in_units,
    one_of,
    require,
    rounded,
    to_display,
    typed,
    unit,
)

_LOG_STEP = 0.02  # of a decade: one key press changes the value by 4.7 percent
_LOG_DIGITS = 3


class Control:
    """What an explorer asks of a control; those with one part and no unit ask no more.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the value.

    """

    widget: Any
    refusal = ""
    """What is wrong with what the reader typed last; empty while that is the value."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._callbacks: list[Callable[[], None]] = []

    @property
    def value(self) -> Any:
        """The value handed to the computation, SI."""
        raise NotImplementedError

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the value has changed."""
        self._callbacks.append(callback)

    def _tell(self) -> None:
        for callback in self._callbacks:
            callback()

    def reset(self) -> None:
        """Go back to the value at the start."""

    def use(self, system: System) -> None:
        """Show the same value in other units."""

    def settle(self) -> None:
        """Bring all parts of the control to its value, once the picture has been drawn."""


class Slider(Control):
    """A number between two ends, by slider or by typing.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the value.
    label : str
        What the reader calls it.
    kind : str
        Kind of quantity, a key of `glasskit.quantities.UNITS`.
    low, high : float
        Ends, included [SI].
    start : float
        Value at the start and after a reset [SI].
    step : float, optional
        One key press [SI], rounded to a plain step in the unit shown; a two-hundredth of the
        range by default. A logarithmic slider has its own.
    log : bool
        Equal ways are equal factors, for values over several decades.

    Raises
    ------
    ValueError
        If the ends are not in order, `start` lies outside, or a logarithmic slider starts at
        zero or below.

    """

    def __init__(
        self,
        name: str,
        label: str,
        kind: str,
        low: float,
        high: float,
        start: float,
        step: float | None = None,
        log: bool = False,
    ) -> None:
        require(low < high, "low", low, f"be less than high, {high:g}")
        require(low <= start <= high, "start", start, f"lie in {low:g} <= start <= {high:g}")
        require(not log or low > 0, "low", low, "be positive on a logarithmic slider")
        super().__init__(name)
        self.label, self.kind = label, kind
        self.low, self.high, self.start = float(low), float(high), float(start)
        self._step = step or (high - low) / 200
        self._log = log
        self._value = self.start
        self._system: System = "metric"
        self._given_in: System = "metric"  # where the value is a plain number
        self._own_move = False
        self._told: dict[int, float] = {}  # by place: what the browser may yet report back
        self._lock = threading.RLock()  # two threads may speak for one reader, see Newest

        self.box = widgets.Text(continuous_update=False)
        self.slider: Any
        self.note = message()
        self._row = widgets.HBox([self.box])
        self.widget = widgets.VBox([self._row, self.note])
        self.box.add_class("glasskit-box")
        self.widget.add_class("glasskit-control")
        self.box.observe(self._typed, "value")
        self.use("metric")

    @property
    def value(self) -> float:
        """The value [SI]."""
        return self._value

    @value.setter
    def value(self, value: float) -> None:
        self._set(value, "metric")

    def _set(self, value: float, given_in: System) -> None:
        slack = 1e-9 * (self.high - self.low)
        inside = self.low - slack <= value <= self.high + slack  # not so for NaN
        if not inside:
            ends = f"from {self._round(self.low)} to {self._round(self.high)} {self._symbol}"
            raise ValueError(
                f"{self.label} goes {ends.rstrip()} here; {self._plain(value)} is outside"
            )
        self._value = min(max(float(value), self.low), self.high)
        self._given_in = given_in
        self._refuse("")
        self._show()
        self._tell()

    def _refuse(self, why: str) -> None:
        """Say what is wrong with what was typed, which stays in the box to be mended."""
        self.refusal = why
        set_message(self.note, why)

    def reset(self) -> None:
        """Go back to the value at the start."""
        self.value = self.start

    def along(self, count: int) -> list[float]:
        """Return about `count` values from end to end [SI], the start among them.

        They are plain numbers in metric units: two digits, or whole steps.
        """
        low, high = (float(to_display(value, self.kind)) for value in (self.low, self.high))
        if self._log:
            shown = [float(f"{value:.1e}") for value in np.geomspace(low, high, count)]
        else:
            step = _plain_step(self._step / unit(self.kind).scale)
            step *= max(1, round((high - low) / step / (count - 1)))
            shown = [low + step * place for place in range(int((high - low) / step) + 1)]
        fixed = (self.low, self.start, self.high)
        values = [float(f"{from_display(value, self.kind):.9g}") for value in shown]
        inner = [value for value in values if self.low < value < self.high]
        return sorted(
            {*fixed, *(one for one in inner if not np.isclose(one, fixed, 1e-6).any())}
        )

    def said(self, value: float) -> str:
        """Write a value [SI] as the number box does, with its unit."""
        return f"{self._round(value)} {self._symbol}".rstrip()

    def enable(self, on: bool) -> None:
        """Let the reader move it, or show that it has no say in the present state."""
        self.box.disabled = self.slider.disabled = not on
        if not on and self.refusal:  # what has no say cannot be wrong
            self._refuse("")
            self.settle()

    def use(self, system: System) -> None:
        """Show the same value in other units."""
        with self._lock:
            self._system = system
            symbol = unit(self.kind, system).symbol
            self.box.description = f"{self.label} / {symbol}" if symbol else self.label
            low, high = self._shown(self.low), self._shown(self.high)
            if self._log:
                low, high = math.log10(low), math.log10(high)
                step = (high - low) / math.ceil((high - low) / _LOG_STEP)
            else:
                step = _plain_step(self._step / unit(self.kind, system).scale)
                # Ends on whole steps, so that every place is a plain number.
                low = math.ceil(low / step - 1e-6) * step
                high = math.floor(high / step + 1e-6) * step
            self._replace_slider(min=low, max=high, step=step)

    def _replace_slider(self, **limits: float) -> None:
        """Put in a slider with other ends.

        A browser given new ends would round and clamp the value to the old ones on the way,
        and report that as a reader's move; a new slider has no past.
        """
        kind = widgets.FloatLogSlider if self._log else widgets.FloatSlider
        self.slider = kind(readout=False, disabled=self.box.disabled, **limits)
        self.slider.add_class("glasskit-slider")
        if self._log:
            self.slider.add_class("glasskit-log")
        self._told.clear()
        self.slider.observe(self._moved, "value")
        self._show()
        old = self._row.children[1:]
        self._row.children = [self.box, self.slider]
        for slider in old:
            slider.unobserve_all()
            slider.close()

    def _show(self) -> None:
        """Let slider and box show the value."""
        with self._lock:
            place = self._place(self._shown(self._value))
            at = self.slider.min + place * self.slider.step
            self._own_move = True
            self.slider.value = 10**at if self._log else at
            self._own_move = False
            self._told[place] = self.slider.value
            self.settle()

    def _place(self, shown: float) -> int:
        """Return how many steps from its low end the slider stands for a value as shown."""
        at = math.log10(shown) if self._log else shown
        low, high, step = self.slider.min, self.slider.max, self.slider.step
        return round(float((min(max(at, low), high) - low) / step))

    def settle(self) -> None:
        """Let the number box follow the slider, unless it holds what was refused."""
        if self.refusal:
            return
        with self._lock:
            self._own_move = True
            as_given = self._given_in == self._system
            self.box.value = (self._plain if as_given else self._round)(self._value)
            self.slider.tooltip = f"{self.box.value} {self._symbol}".rstrip()
            self._own_move = False

    def _moved(self, change: Any) -> None:
        """Take a reader's move of the slider.

        A browser that is told a value between two steps moves to the nearer one and reports
        that as a move; it is none, and the value stays as typed, or as it was in other units.
        It does so for a hair, too, and the report may come when another value holds already:
        that is told once more. A reader who comes to a place that no hair parts from what was
        told there has moved.
        """
        with self._lock:
            if self._own_move:
                return
            place = self._place(change["new"])
            told = self._told.pop(place, change["new"])
            if place == self._place(self._shown(self._value)):
                return
            if told != change["new"]:
                self._show()
                return
            self._told.clear()  # the browser reports before its reader can move
            at = self.slider.min + place * self.slider.step
            if self._log:
                shown = float(f"{10**at:.{_LOG_DIGITS - 1}e}")
            else:
                shown = round(at, _decimals(self.slider.step))
            value = from_display(shown, self.kind, self._system).item()
            self._value = min(max(value, self.low), self.high)
            self._given_in = self._system
        self._refuse("")
        self._tell()

    def _typed(self, change: Any) -> None:
        """Take a typed number, or keep value and picture and say what is wrong."""
        with self._lock:
            if self._own_move:
                return
        try:
            self._set(typed(change["new"], self.kind, self._system), self._system)
        except ValueError as error:
            self._refuse(str(error))

    @property
    def _symbol(self) -> str:
        return unit(self.kind, self._system).symbol

    def _shown(self, value: float) -> float:
        return float(to_display(value, self.kind, self._system))

    def _plain(self, value: float) -> str:
        shown = self._shown(value)
        text = np.format_float_positional(
            shown, precision=6, unique=False, fractional=False, trim="-"
        )
        return text.replace("-", "−")

    def _round(self, value: float) -> str:
        """Write a number that was given in other units: no more digits than a reader reads."""
        if unit(self.kind, self._system) == unit(self.kind):
            return self._plain(value)
        if self.kind == "temperature":  # two digits of it would move it by a degree or two
            return f"{self._shown(value):.0f}"
        return rounded(self._shown(value))


class Choice(Control):
    """One of a few named things.

    Parameters
    ----------
    name : str
        Argument of the computation that takes the value.
    label : str
        What the reader calls it.
    options : mapping of str to object
        What the reader sees, and the value it stands for.
    start : str
        The option chosen at the start and after a reset.

    Raises
    ------
    ValueError
        If `start` is not among the options.

    """

    def __init__(self, name: str, label: str, options: Mapping[str, Any], start: str) -> None:
        one_of("start", start, options)
        super().__init__(name)
        self.label = label
        self.choices, self._start = dict(options), start
        self._reworded = False  # while the words change and the choice does not
        self.menu = widgets.Dropdown(description=label, options=list(options), value=start)
        self.menu.add_class("glasskit-box")
        self.widget = widgets.VBox([self.menu])
        self.widget.add_class("glasskit-control")

    @property
    def value(self) -> Any:
        """What the chosen option stands for."""
        return list(self.choices.values())[self.menu.index]

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the choice has changed."""

        def chosen(_: object) -> None:
            if not self._reworded:
                callback()

        self.menu.observe(chosen, "value")

    def reset(self) -> None:
        """Go back to the option at the start."""
        self.menu.index = list(self.choices).index(self._start)

    def enable(self, on: bool) -> None:
        """Let the reader choose, or show that it has no say in the present state."""
        self.menu.disabled = not on

    def use(self, system: System) -> None:
        """Say the sizes in the options in other units; the choice stays."""
        said = [in_units(option, system) for option in self.choices]
        if said == list(self.menu.options):
            return
        self._reworded = True
        with self.menu.hold_sync():
            chosen = self.menu.index
            self.menu.options = said
            self.menu.index = chosen
        self._reworded = False


def give_say(
    choice: Choice, among: Sequence[Slider | Choice], having: Callable[[Any], Collection[str]]
) -> None:
    """Let the reader move only those controls that have a say in what was chosen.

    Parameters
    ----------
    choice : Choice
        What is chosen.
    among : sequence of Slider or Choice
        Controls that have a say in some choices only.
    having : callable
        Takes the chosen value, returns the names of those that have.

    """

    def enable() -> None:
        for control in among:
            control.enable(control.name in having(choice.value))

    choice.on_change(enable)
    enable()


def message() -> Any:
    """Return a place for one plain sentence beside a control, spoken as soon as it comes.

    The place stays while it is empty: what comes together with its place is often not spoken.
    """
    place = widgets.HTML()
    place.add_class("glasskit-message")
    return place


def set_message(place: Any, text: str) -> None:
    """Say one sentence there, or nothing."""
    sentence = text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
    place.value = html.escape(sentence) if text else ""


@contextmanager
def failing(place: Any, what: str) -> Iterator[None]:
    """Say there what could not be done with a file, and why, instead of an error."""
    try:
        yield
    except OSError as error:
        set_message(place, f"{what}: {error.strerror or error}")


def _plain_step(step: float) -> float:
    """Return the step of the form 1, 2 or 5 times a power of ten nearest to `step`."""
    power = 10.0 ** math.floor(math.log10(step))
    return float(f"{min((1, 2, 5, 10), key=lambda n: abs(n - step / power)) * power:.0e}")


def _decimals(step: float) -> int:
    """Return how many decimals a multiple of a plain step needs."""
    return max(0, -math.floor(math.log10(step)))
