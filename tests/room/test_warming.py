# SPDX-License-Identifier: MIT
"""Kernels that wait for a page: one that cannot be made does not end the making."""

import ast
import asyncio
from collections import defaultdict
from types import SimpleNamespace

import pytest

pages = pytest.importorskip("glasskit.room.pages")
WebSocketMixin = pytest.importorskip("jupyter_server.base.websocket").WebSocketMixin


def test_a_kernel_that_fails_does_not_end_the_warming(monkeypatch, capsys):
    monkeypatch.setattr(pages, "_QUIET", 0)
    monkeypatch.setattr(pages, "_free_memory", lambda: 1 << 40)
    tried = []

    async def warmed(self):
        tried.append(len(tried))
        if len(tried) == 2:
            raise RuntimeError("it did not answer")
        return f"kernel {len(tried)}"

    monkeypatch.setattr(pages.OneForEachSeat, "_warmed", warmed)
    monkeypatch.setattr(pages.OneForEachSeat, "seats", 3, raising=False)

    async def warm():
        kept = pages.OneForEachSeat()
        for _ in range(200):
            await asyncio.sleep(0.01)
            if len(kept._warm) == 3:
                return list(kept._warm)
        return list(kept._warm)

    assert asyncio.run(warm()) == ["kernel 1", "kernel 3", "kernel 4"]
    assert capsys.readouterr().out == "Seats made ready ahead: 3 of 3\n"


def test_what_shows_a_panel_needs_nothing_from_other_cells(tmp_path):
    shown = pages._copied(tmp_path / "pages")
    for name in pages.PAGES:
        cells = pages.panels_of(shown / f"{name}.ipynb")
        assert cells, name
        for cell in cells:
            nodes = list(ast.walk(ast.parse(cell.source)))
            used = {node.id for node in nodes if isinstance(node, ast.Name)}
            made = {
                one.name
                for node in nodes
                if isinstance(node, ast.ImportFrom)
                for one in node.names
            }
            assert used <= made, f"{name}: {used - made}"


def test_a_page_whose_sliders_fail_says_so_below_its_words(tmp_path):
    path, written = f"{pages.PAGES[0]}.ipynb", []

    async def flush():
        written.append("sent")

    async def fail(cells):
        raise RuntimeError("the kernel has gone")

    handler = SimpleNamespace(
        contents_manager=SimpleNamespace(root_dir=pages._copied(tmp_path / "pages")),
        _turn=defaultdict(asyncio.Lock),
        _made={path: ("words", "panels")},
        _named=fail,
        set_header=lambda *_: None,
        write=written.append,
        flush=flush,
    )
    with pytest.raises(RuntimeError, match="has gone"):
        asyncio.run(pages.Page.get.__wrapped__(handler, path))
    assert written == ["words", "sent", pages._FAILED]


def test_a_connection_is_kept_that_has_not_been_asked_yet(tmp_path):
    # Who has not answered within the time-out when the next ping is due is cut off: with a
    # time-out no longer than the interval, everybody after half a minute.
    room = SimpleNamespace(host="127.0.0.1", port=8890, folder=tmp_path)

    class Connection(WebSocketMixin):
        settings = pages._settings(room, tmp_path).Voila.tornado_settings

    assert Connection().ping_timeout > Connection().ping_interval
