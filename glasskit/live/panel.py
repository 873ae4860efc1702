# SPDX-License-Identifier: MIT
"""What every panel is made of: boxes for words, buttons in a row, controls side by side."""

from collections.abc import Callable, Iterable
from typing import Any

import ipywidgets as widgets


class Panel:
    """Something that a notebook shows as the last line of a cell.

    Attributes
    ----------
    widget : Widget
        The whole, to put into other widgets.

    """

    widget: Any

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return self.widget._repr_mimebundle_(**kwargs)


def framed(*parts: Any) -> Any:
    """Return parts below each other in the style of the kit."""
    whole = widgets.VBox(list(parts))
    whole.add_class("glasskit")
    return whole


def enlarge(frame: Any, large: bool) -> None:
    """Show a frame in larger type, or in ordinary type again."""
    (frame.add_class if large else frame.remove_class)("glasskit-large")


def button(description: str, action: Callable[[], object]) -> Any:
    """Return a button and what it does."""
    made = widgets.Button(description=description)
    made.on_click(lambda _: action())
    return made


def row(*parts: Any) -> Any:
    """Return buttons side by side, in more lines than one where there are too many."""
    line = widgets.HBox(list(parts))
    line.add_class("glasskit-buttons")
    line.layout.flex_flow = "row wrap"
    return line


def controls(parts: Iterable[Any]) -> Any:
    """Return the widgets of controls side by side, as many as there is room for."""
    box = widgets.Box(list(parts))
    box.add_class("glasskit-controls")
    return box


def text_field(label: str, start: str = "") -> Any:
    """Return a box for a few words; what is typed counts after Enter or Tab."""
    box = widgets.Text(value=start, description=label, continuous_update=False)
    box.add_class("glasskit-box")
    box.add_class("glasskit-wide")
    return box


def placed(*parts: Any) -> Any:
    """Return parts as one control among others, of the width of a slider."""
    place = widgets.VBox(list(parts))
    place.add_class("glasskit-control")
    return place
