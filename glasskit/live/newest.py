# SPDX-License-Identifier: MIT
"""Do slow work for the newest request only.

A dragged slider speaks more often than a picture can be drawn. Each request only notes that
something changed; one task on the kernel's event loop does the work, with whatever values hold
by then, for as long as there is something new. So the last value is always drawn, and nothing
queues up. Where no loop runs (a script, a test) the work is done at once.

JupyterLab may speak to a kernel through two threads, each with a loop of its own, and changes
from one to the other when it likes. Whichever asks first does the work, for both.
"""

import asyncio
import threading
from collections.abc import Callable


class Newest:
    """Calls `work` after a request, at most one call at a time, the newest state last.

    Parameters
    ----------
    work : callable
        Takes nothing; reads the state it needs when called.

    """

    def __init__(self, work: Callable[[], None]) -> None:
        self._work = work
        self._lock = threading.Lock()
        self._wanted = self._working = False
        self._task: asyncio.Task[None] | None = None  # kept, or it might be collected

    def request(self) -> None:
        """Ask for the work to be done soon, or do it now where no event loop runs."""
        with self._lock:
            self._wanted = True
            if self._working:
                return
            self._working = True
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            while self._take():
                self._once()
        else:
            self._task = loop.create_task(self._until_settled())

    def _take(self) -> bool:
        """Take the request that stands, or stop working if there is none."""
        with self._lock:
            self._working, self._wanted = self._wanted, False
            return self._working

    def _once(self) -> None:
        try:
            self._work()
        except BaseException:
            with self._lock:
                self._working = False
            raise

    async def _until_settled(self) -> None:
        while self._take():
            self._once()
            await asyncio.sleep(0)  # newer values come in here
