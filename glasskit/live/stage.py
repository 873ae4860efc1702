# SPDX-License-Identifier: MIT
"""The story on stage: seven live pictures in large type, stepped with one key.

The buttons stay where they are when the picture changes, so the focus stays too, and Enter or
Space steps on.
"""

import html
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import ipywidgets as widgets

from glasskit.live.ball import struck_explorer
from glasskit.live.crack import flaw_explorer, pressed_crack_explorer
from glasskit.live.crumbs import crumb_explorer
from glasskit.live.explorer import Explorer
from glasskit.live.network import network_explorer
from glasskit.live.newest import Newest
from glasskit.live.panel import Panel, button, controls, enlarge, framed, row
from glasskit.live.quenching import kinds_explorer, quench_explorer
from glasskit.live.style import STYLE
from glasskit.quantities import System, one_of
from glasskit.words.stage import STORY

_STYLE = """<style>
.glasskit-stage .glasskit-numbers { display: none; }
.glasskit-stage .glasskit-title { font-size: 1.25em; font-weight: 600; padding-left: 0.6em; }
.glasskit-stage .glasskit-picture img { width: min(100%, 55vh * 64 / 27); }
.glasskit-stage .glasskit-buttons { align-items: center; }
.glasskit-stage .glasskit-buttons > button { flex: 0 0 auto; }
</style>"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """How an explorer goes on stage.

    Attributes
    ----------
    make : callable
        Makes it.
    sliders : tuple of str
        The one or two controls that the audience sees.
    start : dict
        Values of controls at the start, other than the explorer's own.

    """

    make: Callable[[], Explorer[Any]]
    sliders: tuple[str, ...]
    start: dict[str, float] = field(default_factory=dict)


SHOWN = {
    "flaw": Shown(make=flaw_explorer, sliders=("depth",)),
    "balance": Shown(make=quench_explorer, sliders=("heat_transfer",)),
    "shut": Shown(
        make=pressed_crack_explorer,
        sliders=("squeeze", "depth"),
        start={"squeeze": 0.0, "depth": 20e-6, "tension": 100e6},
    ),
    "ions": Shown(make=network_explorer, sliders=("fraction",), start={"fraction": 0.0}),
    "ways": Shown(make=kinds_explorer, sliders=("squeeze", "heat_transfer")),
    "drop": Shown(make=struck_explorer, sliders=("height",)),
    "crumbs": Shown(make=crumb_explorer, sliders=("squeeze",)),
}
"""The pictures by the key of their act in `glasskit.words.stage.STORY`."""


class Stage(Panel):
    """Seven pictures, one at a time.

    Parameters
    ----------
    system : {"metric", "us"}
        Units of pictures and sliders.

    Attributes
    ----------
    place : int
        Which picture is shown, counted from 0.
    back, next : Button
        Step; after the last picture `next` starts again.
    widget : VBox
        The whole, to put into other widgets.

    Raises
    ------
    ValueError
        If `system` is unknown.

    """

    def __init__(self, system: System = "metric") -> None:
        one_of("system", system, ("metric", "us"))
        self._system: System = system
        self._made: dict[int, Explorer[Any]] = {}
        self._ahead = Newest(self._prepare)
        self.place = 0
        self.back = button("Back", lambda: self.step(-1))
        self.next = button("Next", lambda: self.step(1))
        self._title = widgets.HTML()
        head = row(self.back, self.next, self._title)
        self._body = widgets.VBox()
        self.widget = framed(widgets.HTML(STYLE + _STYLE), head, self._body)
        enlarge(self.widget, True)
        self.widget.add_class("glasskit-stage")
        self._show()

    @property
    def explorer(self) -> Explorer[Any]:
        """The explorer whose picture is shown."""
        return self._explorer(self.place)

    def step(self, way: int) -> None:
        """Go on by so many pictures, round and round; sliders stay as they were left."""
        self.place = (self.place + way) % len(STORY)
        self._show()

    def _show(self) -> None:
        act, explorer = STORY[self.place], self.explorer
        title = html.escape(f"{self.place + 1} of {len(STORY)} · {act.title}")
        self._title.value = f'<div role="status" class="glasskit-title">{title}</div>'
        # Never disabled: a button that is loses the focus, and with it the one key.
        self.next.description = "Start again" if self.place == len(STORY) - 1 else "Next"
        panel = controls(explorer.controls[name].widget for name in SHOWN[act.key].sliders)
        self._body.children = [panel, explorer.note, explorer.image, explorer.words]
        self._ahead.request()

    def _prepare(self) -> None:
        """Make the picture that comes next, while this one is being talked about."""
        self._explorer((self.place + 1) % len(STORY))

    def _explorer(self, place: int) -> Explorer[Any]:
        if place not in self._made:
            shown = SHOWN[STORY[place].key]
            explorer = shown.make()
            if self._system == "us":
                explorer.switch_units()
            explorer.switch_type()
            for name, value in shown.start.items():
                explorer.controls[name].value = value  # type: ignore[misc]
            self._made[place] = explorer
        return self._made[place]


def on_stage(system: System = "metric") -> Stage:
    """Return the story of notebook 21."""
    return Stage(system)
