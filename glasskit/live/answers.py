# SPDX-License-Identifier: MIT
"""Pupils answer on their own screens: a page opens the room and is its desk.

The room is a program of its own, see `glasskit.room`: it asks what the page tells it to, and
reports what came. It ends when the page closes it, runs anew or loses its kernel.
"""

import asyncio
import html
import ipaddress
import json
import socket
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from typing import Any

import ipywidgets as widgets

from glasskit.live.aloud import pressed, status
from glasskit.live.controls import message, set_message
from glasskit.live.panel import Panel, button, controls, fill_button, framed, placed, row

Report = dict[str, Any]

_COMMAND = [sys.executable, "-m", "glasskit.room", "answers", "--piped"]
_HERE = "127.0.0.1"
_OPEN, _CLOSE = "Let pupils answer on their own screens", "Close the room of answers"
_OPENING = "opening the room: some seconds"
_MEANS = {
    True: "Only this machine reaches the page of answers. Try it in another tab first.",
    False: "Everybody on this network reaches the page while it is open, and needs the code. "
    "Nothing is encrypted: whoever listens on the network can read answers, but no names, for "
    "none are asked for. Open it on the school's closed network only, and close it after the "
    "lesson.",
}
_INVITATION = """<div class="glasskit-invitation"><img alt="QR code of the address and code"
src="{picture}" width="180" height="180"><div>Pupils scan this, or go to<br>
<b>{address}</b><br>and type the code<br><b>{code}</b></div></div>"""


class Screens(Panel):
    """A button that lets pupils answer on their own screens, and what comes in.

    Parameters
    ----------
    size : callable
        Returns the number of pupils.
    actions : mapping of str to callable
        What stands on a button, and what it asks of the room: a stage, and what belongs to it.
    heard : callable
        Takes each report of the room.

    Attributes
    ----------
    reach : Dropdown
        Who reaches the page: this machine alone, or a network.
    open : Button
        Opens the room, or closes it.
    actions : dict of str to Button
        What is asked; they work while the room is open.
    note, said : HTML
        What opening means, or why it failed; how many have answered.
    invitation : HTML
        QR code, address and code for the pupils.

    """

    def __init__(
        self,
        size: Callable[[], int],
        actions: Mapping[str, Callable[[], Report]],
        heard: Callable[[Report], None],
    ) -> None:
        self._size, self._asks, self._heard = size, dict(actions), heard
        self._room: subprocess.Popen[str] | None = None
        self._loop: asyncio.AbstractEventLoop | None = None
        self.reach = widgets.Dropdown(description="who reaches it", options=networks())
        self.reach.add_class("glasskit-box")
        self.reach.add_class("glasskit-wide")
        self.reach.observe(lambda _: self._say_what_it_means(), "value")
        self.open = button(_OPEN, self._switch)
        self.actions = {
            name: button(name, partial(self._press, asked)) for name, asked in actions.items()
        }
        self.note, self.said, self.invitation = message(), status(), widgets.HTML()
        self.invitation.layout.width = "auto"
        self._invited = framed(
            self.invitation, fill_button("Show the way in large, or small again")
        )
        self.widget = widgets.VBox(
            [
                controls([placed(self.reach)]),
                row(self.open, *self.actions.values()),
                self.note,
                self.said,
                self._invited,
            ]
        )
        self._show(False)

    @property
    def is_open(self) -> bool:
        """Whether pupils can answer."""
        return self._room is not None

    def ask(self, asked: Report) -> None:
        """Ask something of the room; where none is open, nothing happens."""
        if self._room and self._room.stdin:
            with suppress(OSError):  # it has ended: that is said by whoever listens to it
                self._room.stdin.write(json.dumps(asked) + "\n")
                self._room.stdin.flush()

    def _press(self, asked: Callable[[], Report]) -> None:
        self._say_what_it_means()  # in place of what was refused before
        self.ask(asked())

    def close(self) -> None:
        """Close the room, and give back the widgets."""
        self._end()
        super().close()

    def _switch(self) -> None:
        if self._room:
            self._end()
            set_message(self.note, "closed: nothing was kept but what stands on this page")
        else:
            self._begin()

    def _begin(self) -> None:
        set_message(self.note, _OPENING)
        with suppress(RuntimeError):  # no loop runs in a script: reports come from a thread
            self._loop = asyncio.get_running_loop()
        faults = tempfile.TemporaryFile("w+")  # noqa: SIM115, whoever listens closes it
        self._room = subprocess.Popen(
            [*_COMMAND, f"--host={self.reach.value}", f"--seats={self._size()}"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=faults,
            text=True,
        )
        self.open.description = _CLOSE
        threading.Thread(target=self._listen, args=(self._room, faults), daemon=True).start()

    def _end(self) -> None:
        room, self._room = self._room, None
        if room and room.stdin:
            with suppress(OSError):
                room.stdin.close()  # it ends with its input
            room.wait(10)
        self._show(False)

    def _listen(self, room: "subprocess.Popen[str]", faults: Any) -> None:
        """Hand on each report; at the end say why it ended, unless it was closed."""
        with room, faults:
            for line in room.stdout or ():
                self._tell(room, json.loads(line))
            room.wait()
            faults.seek(0)
            why = faults.read().removeprefix("The room stays shut.\n- ").strip()
            self._tell(room, {"why": why.rpartition("\n")[2] if "Traceback" in why else why})

    def _tell(self, room: "subprocess.Popen[str]", report: Report) -> None:
        """Take a report where the page takes all else: on its event loop."""
        if self._loop and self._loop.is_running():
            self._loop.call_soon_threadsafe(self._take, room, report)
        else:
            self._take(room, report)

    def _take(self, room: "subprocess.Popen[str]", report: Report) -> None:
        if room is not self._room:  # it was closed meanwhile
            return
        if "why" in report:
            self._room = None
            self._show(False)
            set_message(self.note, f"the room of answers is closed: {report['why']}")
        elif "refused" in report:
            set_message(self.note, report["refused"])
        elif "address" in report:
            self.invitation.value = _INVITATION.format(**report)
            self._show(True)
            self._say_what_it_means()
        else:
            self.said.value = html.escape(report["said"])
            for name, one in self.actions.items():
                pressed(one, self._asks[name]()["stage"] == report["stage"])
            self._heard(report)

    def _say_what_it_means(self) -> None:
        set_message(self.note, _MEANS[self.reach.value == _HERE])

    def _show(self, on: bool) -> None:
        self.open.description = _CLOSE if on else _OPEN
        self.reach.disabled = on
        self._invited.layout.display = "" if on else "none"
        for one in self.actions.values():
            one.disabled = not on
            pressed(one, False)
        if not on:
            self.said.value = ""


def networks() -> list[tuple[str, str]]:
    """Return who can reach a page on this machine, and the address for each: itself first."""
    import psutil  # comes with what runs notebooks

    found = [("this machine alone, to try it", _HERE)]
    for name, held in psutil.net_if_addrs().items():
        for one in held:
            if one.family == socket.AF_INET:
                at = ipaddress.ip_address(one.address)
                if at.is_private and not at.is_loopback and not at.is_link_local:
                    found.append((f"the network of {at} ({name})", str(at)))
    return found
