# SPDX-License-Identifier: MIT
"""Pages with sliders and nothing else: no editor, no terminal, no code from a pupil.

The pages are run by the server and shown by Voilà, which passes on what a slider says and
refuses to run code. A seat has one kernel: opening a page closes the one before. Kernels are
started ahead and have loaded what pages need. Whoever opens a page first has it made; all
others get what stands still in it as it was made then, and only its panels are their own.
"""

import asyncio
import html
import json
import os
import re
import shutil
import sys
import time
from collections import defaultdict, deque
from contextvars import ContextVar
from pathlib import Path
from typing import IO, Any, ClassVar

import nbformat
from jupyter_server.auth.decorator import allow_unauthenticated
from jupyter_server.auth.identity import IdentityProvider, User
from jupyter_server.auth.login import LoginFormHandler
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
from nbclient import NotebookClient
from tornado.ioloop import IOLoop
from tornado.web import HTTPError, RequestHandler, authenticated
from traitlets.config import Config
from voila.app import Voila
from voila.tornado.handler import TornadoVoilaHandler
from voila.tornado.treehandler import TornadoVoilaTreeHandler

from glasskit.__main__ import kit
from glasskit.live.gallery import EXPLORERS
from glasskit.room.door import LESSON, Room, address_of
from glasskit.room.limits import MEMORY, box, limited
from glasskit.room.seats import Seats, TooSoon

PAGES = sorted(name for name in EXPLORERS if name < "20")
"""Pages for everyone: none of them reads or writes a file that a reader names."""

_IDLE = 20 * 60  # s without a message before a kernel is stopped
_QUIET = 15  # s after a page was opened in which no other kernel is warmed: pupils come first
_STARTING = 300  # s for a kernel to answer, on a machine however busy
# By default what a cell shows is waited for no longer than 4 s, and then left out.
_PATIENT = {"startup_timeout": _STARTING, "iopub_timeout": _STARTING}
# What a panel waits for: the modules of all pages, and a first picture with its fonts.
_WARMING = f"""
for module in {sorted({EXPLORERS[name].split(":")[0] for name in PAGES})}:
    __import__(f"glasskit.live.{{module}}")
__import__("glasskit.live.gallery").live.gallery.predicted("01p_why_glass_breaks").close()
"""
_HIDDEN = "hide-input"  # the tag of cells that pages do not show; some print what is checked
_NAMES = re.compile(r'"(?:kernelId|model_id)": "([\w-]+)"|glasskit-([0-9a-f-]{36})')
# Voilà takes this away when all has come, and shows the page in its place.
_WAITING = """<div id="loading" style="display: block; height: auto; padding: 10px">{words}
<p role="status" style="margin: 1em 10px">The sliders come in a moment.</p></div>"""
_FAILED = '<p role="alert">The sliders could not be made. Load this page again.</p>'
_STYLE = """body{font:1.25rem/1.5 sans-serif;max-width:24em;margin:3em auto;padding:0 1em}
label,input,button{display:block;font:inherit;margin:.3em 0 .8em}
input,button{min-height:3rem;padding:.3em .8em}
input{width:100%;box-sizing:border-box}
ul{list-style:none;padding:0}li a{display:block;padding:.4em 0}"""
_HEAD = """<!doctype html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title><style>{style}</style><h1>{title}</h1>"""
_DOOR = """<p role="alert">{message}</p>
<form method="post">{xsrf}
<label>Seat, such as seat-07 <input name="seat" autocomplete="off" required></label>
<label>Word from your card <input name="word" autocomplete="off" required></label>
<button>Come in</button></form></html>"""
# Only this server is asked for anything: a closed network never waits for another.
_POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; "
    "connect-src 'self' ws: wss:; frame-ancestors 'none'; form-action 'self'"
)
_sitting: ContextVar[str] = ContextVar("_sitting")


class Door(LoginFormHandler):
    """The form that asks for seat and word."""

    @allow_unauthenticated
    def post(self) -> None:
        """Let in, or say why not."""
        try:
            super().post()
        except TooSoon as wait:
            self.set_status(429)
            self._render({"error": str(wait)})

    def _render(self, message: dict[str, str] | None = None) -> None:
        said = "That word does not open that seat." if message else ""
        if self.get_status() == 429 and message:
            said = message["error"]
        form = _DOOR.format(message=html.escape(said), xsrf=self.xsrf_form_html())
        self.write(_HEAD.format(title="Take your seat", style=_STYLE) + form)


class SeatProvider(IdentityProvider):
    """Knows who sits where."""

    room: ClassVar[Room]
    seats: ClassVar[Seats]

    def __init__(self, **settings: Any) -> None:
        lesson = LESSON / (24 * 3600)  # days
        super().__init__(**{**settings, "token": "", "login_handler_class": Door})
        self.secure_cookie = self.room.encrypted
        self.cookie_options = {"samesite": "Strict", "expires_days": lesson}
        self.get_secure_cookie_kwargs = {"max_age_days": lesson}

    def process_login_form(self, handler: RequestHandler) -> User | None:
        """Return who has come in, if the word is right."""
        seat = handler.get_argument("seat", "").strip().lower()
        address = address_of(handler.request, self.room)
        if self.seats.admit(seat, handler.get_argument("word", ""), address):
            return User(seat)
        return None


class OneForEachSeat(AsyncMappingKernelManager):
    """Kernels by seat, never two for one, and as many warm ones that wait for a page."""

    seats: ClassVar[int]
    said: ClassVar[IO[bytes]]  # where kernels write what is for nobody in the room

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self._short = False  # of memory
        self._of_seat: dict[str, str] = {}
        self._turn: dict[str, asyncio.Lock] = defaultdict(asyncio.Lock)
        self._warm: deque[str] = deque()
        self._opened = -float(_QUIET)  # s, when a page was last opened
        IOLoop.current().add_callback(self._keep_warm)

    async def start_kernel(self, **settings: Any) -> str:
        """Close the seat's former kernel and hand out the next."""
        seat = _sitting.get()
        async with self._turn[seat]:
            if (former := self._of_seat.get(seat)) in self:
                await self.shutdown_kernel(former, now=True)
            self._opened = time.monotonic()
            kernel = self._taken() or await self._started(**settings)
            self._of_seat[seat] = kernel
        return kernel

    async def cull_kernel_if_idle(self, kernel_id: str) -> None:
        """Stop a kernel that nobody uses any more; warm ones are yet to be used."""
        if kernel_id not in self._warm:
            await super().cull_kernel_if_idle(kernel_id)

    async def _started(self, **settings: Any) -> str:
        said = {"stdout": self.said, "stderr": self.said}
        kernel: str = await super().start_kernel(**settings, **said)
        return kernel

    def _taken(self) -> str:
        """Return a warm kernel that still runs, or nothing."""
        while self._warm:
            if (kernel := self._warm.popleft()) in self:
                return kernel
        return ""

    async def _keep_warm(self) -> None:
        """Warm kernels one after the other while nobody waits and memory is left."""
        while True:
            wanted = len(self._warm) < self.seats
            free = _free_memory() > 2 * MEMORY
            if wanted and not free and not self._short:
                self._short = True
                print("Memory is left for no more seats made ready ahead.", flush=True)
            quiet = time.monotonic() - self._opened > _QUIET
            if quiet and wanted and free:
                try:
                    self._warm.append(await self._warmed())
                    self._say()
                except Exception as failure:  # one that fails must not end the warming
                    self.log.warning("a kernel could not be warmed: %s", failure)
                    await asyncio.sleep(_QUIET)
            else:
                await asyncio.sleep(1)

    def _say(self) -> None:
        """Tell who opens the room how far it is, up to the first page that is opened."""
        ready = len(self._warm)
        if self._opened <= 0 and (ready % 5 == 0 or ready == self.seats):
            print(f"Seats made ready ahead: {ready} of {self.seats}", flush=True)

    async def _warmed(self) -> str:
        kernel = await self._started()
        client = self.get_kernel(kernel).client()
        client.start_channels()
        try:
            await client.wait_for_ready(_STARTING)
            await client.execute(_WARMING, silent=True, reply=True, timeout=_STARTING)
        except BaseException:
            await self.shutdown_kernel(kernel, now=True)
            raise
        finally:
            client.stop_channels()
        return kernel


def _free_memory() -> int:
    """Return the memory that this machine can still give [byte]."""
    found = re.search(r"MemAvailable:\s+(\d+)", Path("/proc/meminfo").read_text())
    return int(found[1]) * 1024 if found else 0


class Contents(TornadoVoilaTreeHandler):
    """All pages by their titles."""

    @authenticated
    async def get(self, path: str = "") -> None:
        """Send the list."""
        root = Path(self.contents_manager.root_dir)
        pages = "".join(
            f'<li><a href="/voila/render/{name}.ipynb">{name.partition("_")[0]}'
            f" {html.escape(_title(root / f'{name}.ipynb'))}</a></li>"
            for name in PAGES
        )
        head = _HEAD.format(title="Pages", style=_STYLE)
        self.write(f"{head}<ul>{pages}</ul></html>")


def _title(path: Path) -> str:
    first: str = _cells(path)[0].source
    return first.partition("\n")[0].removeprefix("# ")


class Page(TornadoVoilaHandler):
    """A page: made for the first seat that asks, with panels of their own for all others."""

    _made: ClassVar[dict[str, tuple[str, str]]] = {}
    _turn: ClassVar[dict[str, asyncio.Lock]] = defaultdict(asyncio.Lock)
    # All at once would all be done at the end; a few at a time, half are in half the time.
    _at_work: ClassVar[asyncio.Semaphore] = asyncio.Semaphore(1 + (os.cpu_count() or 1))

    @authenticated
    async def get(self, path: str = "") -> None:
        """Send a page, and start what computes for it."""
        if path not in (f"{name}.ipynb" for name in PAGES):
            raise HTTPError(404)
        cells = panels_of(Path(self.contents_manager.root_dir) / path)
        async with self._turn[path]:
            if path not in self._made:
                page = "".join([part async for part in self.get_generator(path)])
                if len(_names(page)) == 1 + 2 * len(cells):  # no panel failed
                    self._made[path] = _parted(page)
                self.write(page)
                return
        words, panels = self._made[path]
        self.set_header("Cache-Control", "no-store")
        self.write(words)
        await self.flush()
        try:
            names = await self._named(cells)
        except Exception:
            self.write(_FAILED)
            raise
        new = dict(zip(_names(panels), names, strict=True))
        self.write(re.sub("|".join(new), lambda old: new[old[0]], panels))

    async def _named(self, cells: list[Any]) -> list[str]:
        """Run cells in a kernel of this seat; return its name and those of the panels."""
        sit(self)
        async with self._at_work:
            kernel = await self.kernel_manager.start_kernel()
            await _run(cells, self.kernel_manager.get_kernel(kernel))
        return _names(json.dumps({"kernelId": kernel, "cells": cells}))


def _parted(page: str) -> tuple[str, str]:
    """Return what can be read before any panel is made, and the page that takes its place."""
    head, mark, rest = page.partition('<div id="rendered_cells"')
    cell, shown = "<div cell-index=", '<script type="application/vnd.voila.cell-output'
    opening = rest[rest.index(cell) : rest.rindex(cell, 0, rest.index(shown))]
    words = re.sub(r"<script.*?</script>", "", opening, flags=re.DOTALL)
    waiting = re.compile(r'<div id="loading".*?</h2>\s*</div>', re.DOTALL)
    return waiting.sub(lambda _: _WAITING.format(words=words), head), mark + rest


def panels_of(path: Path) -> list[Any]:
    """Return the cells of a page that show a panel."""
    hidden = [cell for cell in _cells(path) if _HIDDEN in cell.metadata.get("tags", [])]
    return [cell for cell in hidden if not cell.outputs]


def _cells(path: Path) -> list[Any]:
    cells: list[Any] = nbformat.reads(path.read_text(encoding="utf-8"), 4).cells
    return cells


async def _run(cells: list[Any], kernel: Any) -> None:
    """Run cells in a kernel; what they show stands in them afterwards."""
    page = nbformat.v4.new_notebook(cells=cells)
    client = NotebookClient(page, kernel, **_PATIENT)
    client.kc = await client.async_start_new_kernel_client()
    try:
        for place, cell in enumerate(cells):
            await client.async_execute_cell(cell, place, store_history=False)
    finally:
        client.kc.stop_channels()


def _names(page: str) -> list[str]:
    """Return what a page calls its kernel, then its panels, each once."""
    return list(dict.fromkeys("".join(found) for found in _NAMES.findall(page)))


class Pages(Voila):
    """Voilà, with pages that are made once."""

    def init_handlers(self) -> list[Any]:
        """Say who answers what."""
        mine = {TornadoVoilaHandler: Page, TornadoVoilaTreeHandler: Contents}
        handlers = super().init_handlers()
        return [(where, mine.get(who, who), *rest) for where, who, *rest in handlers]

    def stop(self) -> None:
        """Stop all kernels, which takes some seconds."""
        print("Closing the room.", flush=True)
        super().stop()


def sit(handler: RequestHandler, **_: object) -> None:
    """Remember for whom the kernel is that starts next."""
    if handler.current_user is None:
        raise HTTPError(403)
    _sitting.set(handler.current_user.username)


def serve(room: Room, seats: Seats) -> None:
    """Serve the pages until it is stopped.

    Parameters
    ----------
    room : Room
        Where and how.
    seats : Seats
        Who may come in.

    """
    SeatProvider.room, SeatProvider.seats = room, seats
    OneForEachSeat.seats = room.seats
    OneForEachSeat.said = (room.folder / "kernels.txt").open("wb")
    shown = _copied(room.folder / "pages")
    os.environ["JUPYTER_PATH"] = str(_kernel(room.folder / "jupyter"))
    os.environ["JUPYTER_CONFIG_DIR"] = str(room.folder / "jupyter")
    Pages.instance(config=_settings(room, shown)).initialize([])
    Pages.instance().start()


def _settings(room: Room, shown: Path) -> Config:
    config = Config()
    config.Voila.root_dir = str(shown)
    config.Voila.ip, config.Voila.port, config.Voila.port_retries = room.host, room.port, 0
    config.Voila.open_browser = False
    config.Voila.log_level = "WARN"
    config.Voila.connection_dir_root = str(room.folder)
    config.Voila.identity_provider_class = SeatProvider
    config.Voila.tornado_settings = {"headers": {"Content-Security-Policy": _POLICY}}
    config.VoilaExecutor.update(_PATIENT)
    config.VoilaConfiguration.multi_kernel_manager_class = OneForEachSeat
    config.VoilaConfiguration.prelaunch_hook = sit
    config.VoilaConfiguration.allow_template_override = "NO"
    config.VoilaConfiguration.allow_theme_override = "NO"
    config.VoilaConfiguration.file_allowlist = [r".*\.png"]
    config.MappingKernelManager.cull_idle_timeout = _IDLE
    config.MappingKernelManager.cull_interval = 60
    config.MappingKernelManager.cull_connected = True
    return config


def _copied(folder: Path) -> Path:
    """Lay out the pages and their pictures, read-only."""
    pages = kit()
    if folder.exists():
        folder.chmod(0o700)
        shutil.rmtree(folder)
    (folder / "assets").mkdir(parents=True)
    for name in PAGES:
        page = (pages / "notebooks" / f"{name}.ipynb").read_text(encoding="utf-8")
        page = page.replace("../assets/", "/voila/files/assets/")
        (folder / f"{name}.ipynb").write_text(page, encoding="utf-8")
        shutil.copy(pages / "assets" / f"{name}.png", folder / "assets")
    folder.chmod(0o500)
    return folder


def _kernel(folder: Path) -> Path:
    """Write how a kernel is started: small, and in a box."""
    connection = "{connection_file}"
    kernel = limited([sys.executable, "-m", "ipykernel_launcher", "-f", connection])
    spec = {
        "argv": box(kernel, show=[connection]),
        "display_name": "a seat",
        "language": "python",
        "interrupt_mode": "message",
    }
    place = folder / "kernels/python3"
    place.mkdir(parents=True, exist_ok=True)
    (place / "kernel.json").write_text(json.dumps(spec), encoding="utf-8")
    return folder
