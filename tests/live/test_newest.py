# SPDX-License-Identifier: MIT
import asyncio
import threading
import time

import pytest

from glasskit.live.newest import Newest


class Slow:
    """Draws what is set by the time it is called."""

    def __init__(self):
        self.value = None
        self.drawn = []
        self.newest = Newest(self.draw)

    def draw(self):
        self.drawn.append(self.value)

    def set(self, value):
        self.value = value
        self.newest.request()


def test_without_a_loop_each_request_is_drawn_at_once():
    slow = Slow()
    for value in (1, 2, 3):
        slow.set(value)
        assert slow.drawn[-1] == value


def test_a_burst_is_drawn_once_with_its_last_value():
    async def burst():
        slow = Slow()
        for value in range(1000):
            slow.set(value)
        assert slow.drawn == []
        await asyncio.sleep(0.01)
        return slow.drawn

    assert asyncio.run(burst()) == [999]


def test_a_value_that_comes_while_drawing_is_drawn_after():
    async def during():
        slow = Slow()
        draw = slow.draw

        def interrupted():
            draw()
            if slow.value < 3:
                slow.set(slow.value + 1)

        slow.newest = Newest(interrupted)
        slow.set(0)
        await asyncio.sleep(0.01)
        return slow.drawn

    assert asyncio.run(during()) == [0, 1, 2, 3]


def test_values_faster_than_drawing_leave_no_queue_and_the_last_is_always_drawn():
    async def dragged():
        slow = Slow()
        draw = slow.draw

        def slowly():
            draw()
            waiting.append(len(asyncio.all_tasks()))

        waiting = []
        slow.newest = Newest(slowly)
        for value in range(300):
            slow.set(value)
            if value % 7 == 0:
                await asyncio.sleep(0)
        await asyncio.sleep(0.01)
        return slow.drawn, max(waiting)

    drawn, tasks = asyncio.run(dragged())
    assert drawn[-1] == 299
    assert drawn == sorted(set(drawn))
    assert len(drawn) < 100
    assert tasks == 2  # the dragging hand and one drawing task


def test_after_an_error_the_next_request_is_served():
    async def failing():
        slow = Slow()
        draw = slow.draw

        def sometimes():
            if slow.value == 1:
                raise RuntimeError("broken once")
            draw()

        slow.newest = Newest(sometimes)
        slow.set(1)
        await asyncio.sleep(0.01)
        with pytest.raises(RuntimeError, match="broken once"):
            slow.newest._task.result()
        slow.set(2)
        await asyncio.sleep(0.01)
        return slow.drawn

    assert asyncio.run(failing()) == [2]


def test_two_threads_with_loops_of_their_own_share_one_work_and_lose_nothing():
    slow, together, busy = Slow(), [], threading.Lock()

    def draw():
        together.append(not busy.acquire(blocking=False))
        slow.draw()
        time.sleep(0.0005)
        busy.release()

    slow.newest = Newest(draw)

    async def hand(values):
        for value in values:
            slow.set(value)
            await asyncio.sleep(0.0003)
        await asyncio.sleep(0.05)

    for start in range(0, 300, 20):
        hands = [
            threading.Thread(target=asyncio.run, args=(hand(range(start + k, start + 20, 2)),))
            for k in (0, 1)
        ]
        for thread in hands:
            thread.start()
        for thread in hands:
            thread.join()
        assert slow.drawn[-1] == slow.value
    assert not any(together)


def test_work_that_asks_for_more_is_done_again_without_a_loop():
    slow = Slow()

    def draw():
        slow.draw()
        if slow.value < 3:
            slow.set(slow.value + 1)

    slow.newest = Newest(draw)
    slow.set(0)
    assert slow.drawn == [0, 1, 2, 3]
