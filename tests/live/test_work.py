# SPDX-License-Identifier: MIT
"""Long work shows life, lets the page answer, and when stopped leaves nothing half done."""

import asyncio
from importlib import import_module

import pytest

from glasskit.draw.falling import FallScene
from glasskit.draw.picture import Size
from glasskit.impact import Falling, fall_time
from glasskit.live.panel import button
from glasskit.live.saving import SavingPanel
from glasskit.live.work import Work
from glasskit.steps import part

FILM = import_module("glasskit.sheets.film")  # the face has a function of that name
FALLS = [
    Falling(mass=1.0, height=1.0, time=share * fall_time(1.0))
    for share in (0.0, 0.3, 0.6, 1.0)
]


def counted(upto, done):
    try:
        for number in range(upto):
            yield number / upto, f"number {number}"
            done.append(number)
        done.append("end")
    finally:
        done.append("tidy")


async def until(check):
    async with asyncio.timeout(30):
        while not check():
            await asyncio.sleep(0.002)


def idle(work):
    return work._line.layout.display == "none"


def test_without_a_loop_it_is_done_at_once():
    work, done = Work(), []
    work.start(counted(3, done), [], "stopped")
    assert done == [0, 1, 2, "end", "tidy"]
    assert idle(work)
    assert work.said.value == ""


def test_it_says_where_it_is_and_the_page_answers_between_two_steps():
    async def watched():
        work, done, pressed, seen = Work(), [], button("go", lambda: None), []
        work.start(counted(3, done), [pressed], "stopped")
        assert done == [], "the page is shown first"
        while not (idle(work) and done):
            await asyncio.sleep(0.001)
            seen.append((work.said.value, work.progress.description, pressed.disabled))
        return done, seen, pressed

    done, seen, pressed = asyncio.run(watched())
    assert done[-2:] == ["end", "tidy"]
    told = list(dict.fromkeys(text for text, _, _ in seen))
    assert [f"number {n}" in "".join(told) for n in range(3)] == [True] * 3
    assert len(seen) > 3
    assert {off for _, share, off in seen[:-1] if share == "33%"} == {True}
    assert not pressed.disabled


def test_stop_ends_it_after_the_step_it_is_at():
    async def stopped():
        work, done = Work(), []
        work.start(counted(1000, done), [], "stopped: nothing was written")
        await until(lambda: len(done) >= 2)
        work.stop.click()
        await until(lambda: idle(work))
        return done, work

    done, work = asyncio.run(stopped())
    assert done[-1] == "tidy"
    assert "end" not in done
    assert "Stopped: nothing was written" in work.said.value


def test_newer_work_takes_the_place_of_older():
    async def twice():
        work, old, new = Work(), [], []
        work.start(counted(1000, old), [], "stopped")
        await until(lambda: old)
        work.start(counted(2, new), [], "stopped")
        await until(lambda: idle(work) and new)
        return old, new, work

    old, new, work = asyncio.run(twice())
    assert old[-1] == "tidy"
    assert "end" not in old
    assert new == [0, 1, "end", "tidy"]
    assert work.said.value == ""


def test_what_goes_wrong_inside_is_said_and_the_next_work_is_done():
    work, done = Work(), []

    def broken():
        yield 0.0, ""
        raise RuntimeError("spring broke")

    with pytest.raises(RuntimeError, match="spring broke"):
        work.start(broken(), [], "stopped")
    assert "spring broke" in work.said.value
    work.start(counted(1, done), [], "stopped")
    assert done == [0, "end", "tidy"]


@pytest.mark.parametrize("stop", [True, False])
def test_a_film_that_is_stopped_leaves_no_file_and_no_number(tmp_path, monkeypatch, stop):
    monkeypatch.chdir(tmp_path)
    words = {"title": "fall", "text": "fall", "size": Size(6.4, 2.7, 40)}

    def write(made):
        (made / "fall.txt").write_text("whole")
        film = FILM.film.steps(FallScene(), FALLS, made / "fall.gif", **words)
        yield from part(film, (2, 2), "film of the fall")

    async def saved():
        panel = SavingPanel("out", [], [])
        panel.keep(["fall"], write, "Look at it.")
        await until(lambda: "frame 2 of 4" in panel.work.said.value)
        if stop:
            panel.work.stop.click()
        await until(lambda: idle(panel.work))
        return panel

    panel = asyncio.run(saved())
    names = [] if stop else ["fall-01.gif", "fall-01.txt"]
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == names
    assert sorted(path.name for path in panel.paths) == names
    assert ("nothing was written" in panel.work.said.value) == stop
    assert ("fall-01.gif" in panel.said.value) != stop


def test_a_panel_that_is_closed_stops_its_work():
    async def closed():
        work, done = Work(), []
        work.start(counted(1000, done), [], "stopped")
        await until(lambda: done)
        work.close()
        await until(lambda: "tidy" in done)
        return done

    assert "end" not in asyncio.run(closed())
