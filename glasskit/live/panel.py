# SPDX-License-Identifier: MIT
"""What every panel is made of: boxes for words, buttons in a row, controls side by side.

A panel gives back what it held when its cell runs again, says so when nothing computes for it
any more, and leaves a still behind: a page that is opened again, or kept as a file, shows the
still until it is run.
"""

import html
import uuid
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import quote

import ipywidgets as widgets
from IPython.core.getipython import get_ipython
from IPython.display import clear_output, display

from glasskit.live.aloud import ALOUD

_display: Any = display  # it says no types
_clear: Any = clear_output

_ASLEEP = "Run this page to make this part live: menu Run, Run All Cells."
_STOPPED = "What computes for this page has stopped: menu Run, Run All Cells."
# JupyterLab's own words in place of a panel that no longer lives give way to the still.
_STILL = """<style>.jp-OutputArea-output.jupyter-widgets {{ display: none; }}</style>
<div id="{name}" class="glasskit-asleep">{still}<p>{asleep}</p></div>"""


# Running a whole page leaves it at its end. Once all has run, the first panel comes into view,
# unless the reader has moved meanwhile; once for each time that a page is opened.
_COME_BACK = """
const cell = this.closest('.jp-Cell'), page = this.closest('.jp-Notebook');
if (!cell || page.dataset.glasskit) return;
page.dataset.glasskit = 'come back';
let moved = false;
for (const act of ['wheel', 'pointerdown', 'keydown'])
  page.addEventListener(act, () => { moved = true; }, { once: true });
const waiting = setInterval(() => {
  const asked = [...page.querySelectorAll('.jp-InputPrompt')];
  if (!moved && asked.some(prompt => prompt.textContent.includes('*'))) return;
  clearInterval(waiting);
  if (!moved) cell.scrollIntoView();
}, 250);
"""


# A page that was run as a whole stands at its end while its first panel is being made.
_MAKING = """<style onload="this.closest('.jp-Cell')?.scrollIntoView({{block: 'nearest'}})">
</style><p role="status">{said}</p>"""
_MAKES = "Working out what stands here at the start. That takes some seconds."


@contextmanager
def being_made() -> Iterator[None]:
    """Say on the page that a panel is being made, until it is shown."""
    here = hasattr(get_ipython(), "get_parent")  # a page, and no script
    if here:
        _display({"text/html": _MAKING.format(said=_MAKES), "text/plain": _MAKES}, raw=True)
    try:
        yield
    finally:
        if here:
            _clear(wait=True)  # with what comes next


class Panel:
    """Something that a notebook shows as the last line of a cell.

    Attributes
    ----------
    widget : Widget
        The whole, to put into other widgets.

    """

    widget: Any

    @property
    def still(self) -> str:
        """What a page shows in place of the panel before it is run, as HTML; may be empty."""
        return ""

    def close(self) -> None:
        """Give back the widgets, and whatever else takes memory."""
        for part in vars(self).values():
            if isinstance(part, Panel):
                part.close()
        _close(self.widget)

    def _ipython_display_(self) -> None:
        name = f"glasskit-{uuid.uuid4()}"
        live = widgets.HTML(
            f'<style onload="{_COME_BACK}">#{name} {{ display: none; }}</style>'
        )
        live.layout.display = "none"
        shown = widgets.VBox([live, self.widget])
        _close_former(self, shown)
        _display(shown)
        still = _STILL.format(name=name, still=self.still, asleep=_ASLEEP)
        _display({"text/html": still, "text/plain": _ASLEEP}, raw=True)


_shown: dict[str, tuple[str, list[tuple[Panel, Any]]]] = {}
"""By cell: which run of it, and the panels it has shown, each with the box it stands in."""


def _close_former(panel: Panel, box: Any) -> None:
    """Close what an earlier run of this cell has shown; nothing of it is on the page."""
    shell: Any = get_ipython()
    if not hasattr(shell, "get_parent"):  # a script, or a terminal
        return
    request = shell.get_parent()
    cell = request.get("metadata", {}).get("cellId")
    if cell is None:
        return
    run = request["header"]["msg_id"]
    before, shown = _shown.get(cell, ("", []))
    if before != run:
        for former, stood_in in shown:
            if former is panel:
                stood_in.children = stood_in.children[:1]
            else:
                former.close()
            _close(stood_in)
        shown = []
    _shown[cell] = (run, [*shown, (panel, box)])


def _close(widget: Any) -> None:
    """Close a widget and all that hangs on it."""
    for part in list(_parts(widget)):
        part.close()


def _parts(widget: Any) -> Iterator[Any]:
    """Yield a widget and all that hangs on it, innermost first."""
    for name in ("children", "layout", "style"):
        below = getattr(widget, name, ())
        for part in below if isinstance(below, tuple) else (below,):
            if isinstance(part, widgets.Widget):
                yield from _parts(part)
    yield widget


def framed(*parts: Any) -> Any:
    """Return parts below each other in the style of the kit."""
    stopped = widgets.HTML(f'{ALOUD}<div role="alert">{_STOPPED}</div>')
    stopped.add_class("glasskit-stopped")
    whole = widgets.VBox([stopped, *parts])
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


# The browser alone can fill the screen, and only when asked by a click; Esc leaves it again.
_FILL = """<button class="jupyter-button" onclick="
  const whole = this.closest('.glasskit-asked') || this.closest('.glasskit');
  document.fullscreenElement ? document.exitFullscreen() : whole.requestFullscreen();
">{name}</button>"""


def fill_button(name: str = "Fill the screen, or leave it") -> Any:
    """Return a button that lets the panel around it fill the screen, and go back."""
    return widgets.HTML(_FILL.format(name=name))


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


_OPEN = (  # the address under which the server gives out the file beside the notebook
    "const at = location.pathname.match("
    "/^(.*?[/])(?:(?:lab|doc)(?:[/]workspaces[/][^/]+)?[/]tree|notebooks)[/](.*[/])?/);"
    "if (at) this.href = at[1] + 'files/' + (at[2] || '') + this.dataset.file;"
)


def file_link(path: Path) -> str:
    """Return the name of a file beside the notebook, as a link to a tab that prints."""
    name = html.escape(path.name)
    if path.is_absolute() or ".." in path.parts:  # no server gives it out
        return name
    to = html.escape(quote(path.as_posix()))
    return f'<a href="{to}" data-file="{to}" target="_blank" onclick="{_OPEN}">{name}</a>'


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
