# SPDX-License-Identifier: MIT
"""Boxes for words, such as a name, a date or a folder, beside the sliders of a form."""

from typing import Any

import ipywidgets as widgets

__all__ = ["placed", "text_field"]


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
