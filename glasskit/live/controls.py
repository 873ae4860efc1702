# SPDX-License-Identifier: MIT
"""Controls of an explorer: a slider with its number box, and a choice from a list.

A control keeps its value in SI and shows it in the reader's units. A slider handle has no name
that a screen reader could say, so every slider has a number box that has one.
"""

import html
import math
from collections.abc import Callable, Mapping
from typing import Any, Protocol

import ipywidgets as widgets
import numpy as np

from glasskit.quantities import System, from_display, one_of, require, to_display, unit

__all__ = ["Choice", "Control", "Slider", "message", "set_message"]

_LOG_STEP = 0.02  # of a decade: one key press changes the value by 4.7 percent
_LOG_DIGITS = 3


class Control(Protocol):
    """What an explorer asks of a control."""

    name: str
    widget: Any

    @property
    def value(self) -> Any:
        """The value handed to the computation, SI."""

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the value has changed."""

    def reset(self) -> None:
        """Go back to the value at the start."""

    def use(self, system: System) -> None:
        """Show the same value in other units."""

    def settle(self) -> None:
        """Bring all parts of the control to its value, once the picture has been drawn."""


class Slider:
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
        self.name, self.label, self.kind = name, label, kind
        self.low, self.high, self.start = float(low), float(high), float(start)
        self._step = step or (high - low) / 200
        self._log = log
        self._value = self.start
        self._system: System = "metric"
        self._own_move = False
        self._callbacks: list[Callable[[], None]] = []

        self.box = widgets.Text(continuous_update=False)
        self.slider = (widgets.FloatLogSlider if log else widgets.FloatSlider)(readout=False)
        self.note = message()
        row = widgets.HBox([self.box, self.slider])
        self.widget = widgets.VBox([row, self.note])
        for widget, css in (
            (self.box, "glasskit-box"),
            (self.slider, "glasskit-slider"),
            (self.widget, "glasskit-control"),
        ):
            widget.add_class(css)
        self.slider.observe(self._moved, "value")
        self.box.observe(self._typed, "value")
        self.use("metric")

    @property
    def value(self) -> float:
        """The value [SI]."""
        return self._value

    @value.setter
    def value(self, value: float) -> None:
        slack = 1e-9 * (self.high - self.low)
        inside = self.low - slack <= value <= self.high + slack  # not so for NaN
        if not inside:
            ends = f"from {self._plain(self.low)} to {self._plain(self.high)} {self._symbol}"
            raise ValueError(
                f"{self.label} goes {ends.rstrip()} here; {self._plain(value)} is outside"
            )
        self._value = min(max(float(value), self.low), self.high)
        set_message(self.note, "")
        self._show()
        self._tell()

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the value has changed."""
        self._callbacks.append(callback)

    def reset(self) -> None:
        """Go back to the value at the start."""
        self.value = self.start

    def enable(self, on: bool) -> None:
        """Let the reader move it, or show that it has no say in the present state."""
        self.box.disabled = self.slider.disabled = not on

    def use(self, system: System) -> None:
        """Show the same value in other units."""
        self._system = system
        symbol = unit(self.kind, system).symbol
        self.box.description = f"{self.label} / {symbol}" if symbol else self.label
        low, high = self._shown(self.low), self._shown(self.high)
        if self._log:
            limits = {"min": math.log10(low), "max": math.log10(high), "step": _LOG_STEP}
        else:
            step = _plain_step(self._step / unit(self.kind, system).scale)
            # Ends on whole steps, so that every position is a plain number.
            limits = {
                "min": math.ceil(low / step - 1e-6) * step,
                "max": math.floor(high / step + 1e-6) * step,
                "step": step,
            }
        self._show(**limits)

    def _show(self, **limits: float) -> None:
        """Let slider and box show the value, and the slider its ends."""
        shown = self._shown(self._value)
        self._own_move = True
        with self.slider.hold_sync(), self.slider.hold_trait_notifications():
            for trait, limit in limits.items():
                setattr(self.slider, trait, limit)
            low, high = self.slider.min, self.slider.max
            if self._log:
                low, high = 10**low, 10**high
            self.slider.value = min(max(shown, low), high)
        self._own_move = False
        self.settle()

    def settle(self) -> None:
        """Let the number box follow the slider."""
        self._own_move = True
        self.box.value = self._plain(self._value)
        self._own_move = False

    def _tell(self) -> None:
        for callback in self._callbacks:
            callback()

    def _moved(self, change: Any) -> None:
        """Take a reader's move of the slider, which is not moved back to a rounded place."""
        if self._own_move:
            return
        if self._log:
            shown = float(f"{change['new']:.{_LOG_DIGITS - 1}e}")
        else:
            shown = round(change["new"], _decimals(self.slider.step))
        value = from_display(shown, self.kind, self._system).item()
        self._value = min(max(value, self.low), self.high)
        set_message(self.note, "")
        self._tell()

    def _typed(self, change: Any) -> None:
        """Take a typed number, or keep the last good value and say what is wrong."""
        if self._own_move:
            return
        try:
            shown = _parsed(change["new"], self._symbol)
            self.value = from_display(shown, self.kind, self._system).item()
        except ValueError as error:
            self.settle()
            set_message(self.note, str(error))

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


class Choice:
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
        self.name, self.label = name, label
        self._options, self._start = dict(options), start
        self.menu = widgets.Dropdown(description=label, options=list(options), value=start)
        self.menu.add_class("glasskit-box")
        self.widget = widgets.VBox([self.menu])
        self.widget.add_class("glasskit-control")

    @property
    def value(self) -> Any:
        """What the chosen option stands for."""
        return self._options[self.menu.value]

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever the choice has changed."""
        self.menu.observe(lambda _: callback(), "value")

    def reset(self) -> None:
        """Go back to the option at the start."""
        self.menu.value = self._start

    def use(self, system: System) -> None:
        """Do nothing: a choice has no unit."""

    def settle(self) -> None:
        """Do nothing: a choice has one part."""


def message() -> Any:
    """Return a place for one plain sentence beside a control, hidden while it is empty."""
    place = widgets.HTML()
    place.add_class("glasskit-message")
    set_message(place, "")
    return place


def set_message(place: Any, text: str) -> None:
    """Say one sentence there, or nothing."""
    sentence = text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
    place.value = f'<div role="alert">{html.escape(sentence)}</div>' if text else ""
    place.layout.display = "" if text else "none"


def _plain_step(step: float) -> float:
    """Return the step of the form 1, 2 or 5 times a power of ten nearest to `step`."""
    power = 10.0 ** math.floor(math.log10(step))
    return float(f"{min((1, 2, 5, 10), key=lambda n: abs(n - step / power)) * power:.0e}")


def _decimals(step: float) -> int:
    """Return how many decimals a multiple of a plain step needs."""
    return max(0, -math.floor(math.log10(step)))


def _parsed(text: str, symbol: str) -> float:
    """Return the number a reader typed, with or without its unit."""
    bare = text.strip().removesuffix(symbol).strip().replace("−", "-")
    try:
        return float(bare)
    except ValueError:
        raise ValueError(
            f"“{text.strip()}” is not a number: write digits, with a point if needed"
        ) from None
