# SPDX-License-Identifier: MIT
"""Do slow work for the newest request only.

A dragged slider speaks more often than a picture can be drawn. Each request only notes that
something changed; one task on the kernel's event loop does the work, with whatever values hold
by then, for as long as there is something new. So the last value is always drawn, and nothing
queues up. Where no loop runs (a script, a test) the work is done at once.
"""

import asyncio
from collections.abc import Callable

__all__ = ["Newest"]


class Newest:
    """Calls `work` after a request, at most one call at a time, the newest state last.

    Parameters
    ----------
    work : callable
        Takes nothing; reads the state it needs when called.

    """

    def __init__(self, work: Callable[[], None]) -> None:
        self._work = work
        self._wanted = False
        self._task: asyncio.Task[None] | None = None

    def request(self) -> None:
        """Ask for the work to be done soon, or do it now where no event loop runs."""
        self._wanted = True
        if self._task is not None and not self._task.done():
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._once()
        else:
            self._task = loop.create_task(self._until_settled())

    def _once(self) -> None:
        self._wanted = False
        self._work()

    async def _until_settled(self) -> None:
        while self._wanted:
            self._once()
            await asyncio.sleep(0)  # newer values come in here
