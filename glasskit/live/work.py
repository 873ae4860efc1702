# SPDX-License-Identifier: MIT
"""Work that takes seconds: how far it is, what it is at, and a button that stops it.

The work gives way after each of its steps, so that the page answers meanwhile.
"""

import asyncio
import threading
from collections.abc import Iterator
from typing import Any

import ipywidgets as widgets

from glasskit.live.aloud import status
from glasskit.live.controls import set_message
from glasskit.live.panel import Panel, button, row
from glasskit.steps import Steps

_GIVE_WAY = 0.01  # [s] after each step: time for what the reader did meanwhile to come in


class Work(Panel):
    """Does one work at a time; a newer one takes the place of an older.

    Attributes
    ----------
    stop : Button
        Stops it after the step it is at.
    progress : FloatProgress
        How far it is.
    said : HTML
        What it is at.

    """

    def __init__(self) -> None:
        self.stop = button("Stop", self._ask_to_stop)
        self.progress = widgets.FloatProgress(0.0, min=0.0, max=1.0)
        self.said = status()
        self._line = row(self.progress, self.stop)
        self.widget = widgets.VBox([self._line, self.said])
        self._lock = threading.Lock()
        self._next: tuple[Steps[Any], list[Any], str] | None = None
        self._working = self._stopping = False
        self._task: asyncio.Task[None] | None = None  # kept, or it might be collected
        self._show(False)

    def start(self, steps: Steps[Any], resting: list[Any], stopped: str) -> None:
        """Do work step by step, or at once where no event loop runs.

        Parameters
        ----------
        steps : generator
            The work; it says itself what came of it.
        resting : list of Button
            What cannot be pressed meanwhile.
        stopped : str
            What is said when it was stopped.

        """
        with self._lock:
            self._next = steps, resting, stopped
            if self._working:
                return
            self._working = True
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            for _ in self._pulses():
                pass
        else:
            self._task = loop.create_task(self._giving_way())

    def close(self) -> None:
        """Stop, and give back the widgets."""
        self._ask_to_stop()
        super().close()

    def _ask_to_stop(self) -> None:
        self._stopping = True

    async def _giving_way(self) -> None:
        for _ in self._pulses():
            await asyncio.sleep(_GIVE_WAY)

    def _take(self) -> tuple[Steps[Any], list[Any], str] | None:
        with self._lock:
            taken, self._next = self._next, None
            self._working = taken is not None
            return taken

    def _pulses(self) -> Iterator[None]:
        """Work as long as there is some; yield after each step."""
        while taken := self._take():
            steps, resting, stopped = taken
            self._stopping = False
            self._report(0.0, "")
            self._show(True)
            for pressed in resting:
                pressed.disabled = True
            try:
                yield  # so that the page shows it before the first step
                for share, doing in steps:
                    self._report(share, doing)
                    yield
                    if self._stopping or self._next:
                        break
                set_message(self.said, stopped if self._stopping else "")
            except Exception as error:
                self._working = False
                set_message(self.said, f"something is wrong inside this work: {error}")
                raise
            finally:
                steps.close()
                self._show(False)
                for pressed in resting:
                    pressed.disabled = False

    def _report(self, share: float, doing: str) -> None:
        self.progress.value = share
        self.progress.description = f"{100 * share:.0f}%"
        set_message(self.said, f"working: {doing}" if doing else "working")

    def _show(self, on: bool) -> None:
        self._line.layout.display = "" if on else "none"
