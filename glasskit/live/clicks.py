# SPDX-License-Identifier: MIT
"""A picture to click on: it tells where, as shares of its width and height."""

import base64
import html
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

# What was clicked goes into a box that nobody sees; the time makes each click a new text.
_CLICK = """
const at = this.getBoundingClientRect();
const box = this.closest('.glasskit-clicks').querySelector('.glasskit-clicked input');
box.value = [(event.clientX - at.left) / at.width, (event.clientY - at.top) / at.height,
  event.timeStamp].join(' ');
for (const kind of ['input', 'change'])
  box.dispatchEvent(new Event(kind, { bubbles: true }));
"""
_STYLE = """<style>.glasskit .glasskit-clicks img { max-width: 100%; height: auto;
  cursor: crosshair; border: 1px solid #595959; }
.glasskit .glasskit-clicked { display: none; }
.glasskit :is(.glasskit-clicks, .glasskit-clicks > *, .glasskit-outlines > *) { flex: none;
  overflow: visible; }</style>"""


class ClickedPicture:
    """A picture that can be clicked.

    Whatever a click does must be possible from the keyboard as well: beside it stands a box to
    type places in.

    Parameters
    ----------
    clicked : callable
        Takes the place of a click, across and down, from 0 to 1.

    Attributes
    ----------
    widget : VBox
        The picture.

    """

    def __init__(self, clicked: Callable[[float, float], None]) -> None:
        self._clicked = clicked
        self._picture = widgets.HTML()
        self._place = widgets.Text(description="last click", continuous_update=False)
        self._place.add_class("glasskit-clicked")
        self._place.observe(self._heard, "value")
        self.widget = widgets.VBox([widgets.HTML(_STYLE), self._picture, self._place])
        self.widget.add_class("glasskit-clicks")

    def show(self, picture: bytes, said: str) -> None:
        """Show a picture, as WebP, and what a screen reader says of it."""
        kept = base64.b64encode(picture).decode()
        self._picture.value = (
            f'<img alt="{html.escape(said)}" onclick="{html.escape(_CLICK, quote=True)}"'
            f' src="data:image/webp;base64,{kept}">'
        )

    def _heard(self, change: Any) -> None:
        across, down, _ = map(float, change["new"].split())
        self._clicked(min(max(across, 0.0), 1.0), min(max(down, 0.0), 1.0))
