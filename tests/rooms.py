# SPDX-License-Identifier: MIT
"""A real room on this machine, and pupils who come in without a browser.

The room runs as an ordinary account: where the tests run as root, in a user namespace in
which they are not.
"""

import asyncio
import json
import os
import re
import socket
import subprocess
import sys
import threading
import time
import uuid
from contextlib import contextmanager
from http.cookiejar import CookieJar, DefaultCookiePolicy
from pathlib import Path
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, Request, build_opener, urlopen

import psutil
from websocket import create_connection

from glasskit.room.forms import server

ROOT = Path(__file__).resolve().parents[1]
ORDINARY = ["bwrap", "--dev-bind", "/", "/", "--proc", "/proc", "--die-with-parent"]
ORDINARY += ["--unshare-user", "--uid", "1000", "--gid", "1000"]
READY = 120  # s, on a machine however busy
CLOSED = 60  # s, likewise


def command(*words):
    """Return how a room is opened as an ordinary account."""
    unlike_root = ORDINARY if os.geteuid() == 0 else []
    return [*unlike_root, sys.executable, "-m", "glasskit.room", *words]


def environment(folder):
    """Return an environment whose home is `folder`."""
    return {**os.environ, "HOME": str(folder), "PYTHONPATH": str(ROOT)}


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def open_room(folder, kind, *words):
    """Open a room in a folder; yield its address and its words by seat."""
    port = free_port()
    place = folder / "room"
    whole = command(kind, f"--port={port}", f"--folder={place}", *words)
    with open(folder / "log", "wb") as log:
        room = subprocess.Popen(whole, stdout=log, stderr=log, env=environment(folder))
        try:
            address = f"http://127.0.0.1:{port}"
            _wait_for(f"{address}/login", room, folder / "log")
            sheet = (place / "seats.html").read_text(encoding="utf-8")
            found = re.findall(r"Seat <b>(.*?)</b><br>Word <b>(.*?)</b>", sheet)
            yield address, dict(found)
        finally:
            _close(room, folder)


@contextmanager
def open_forms(folder, kind, *words, until):
    """Open a room of forms; yield its address, and what it printed up to some words."""
    port = free_port()
    whole = command(kind, f"--port={port}", *words)
    whole[whole.index("-m") : whole.index("-m")] = ["-u"]
    with subprocess.Popen(
        whole, stdout=subprocess.PIPE, text=True, env=environment(folder)
    ) as room:
        try:
            said = ""
            while until not in said:
                line = room.stdout.readline()
                assert line, said
                said += line
            limit = time.monotonic() + READY
            while not _listens(port):
                assert time.monotonic() < limit
                time.sleep(0.05)
            yield f"http://127.0.0.1:{port}", said
        finally:
            room.kill()


def _listens(port):
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def _close(room, folder):
    """Close a room; nothing that it started may stay behind."""
    if room.poll() is None:
        # bwrap would kill the room before that has stopped its proxy: ask the room itself.
        outer = psutil.Process(room.pid)
        for process in outer.children() if os.geteuid() == 0 else [outer]:
            process.terminate()
        room.wait(CLOSED)
    started = [
        process
        for process in psutil.process_iter(["environ"])
        if (process.info["environ"] or {}).get("HOME", "").startswith(str(folder))
    ]
    _, left = psutil.wait_procs(started, CLOSED)
    assert not left, f"left behind by the room: {left}"


def _wait_for(address, room, log):
    limit = time.monotonic() + READY
    while time.monotonic() < limit and room.poll() is None:
        try:
            with urlopen(address, timeout=READY):
                return
        except (URLError, ConnectionError):
            time.sleep(0.1)
    raise RuntimeError(f"the room did not open:\n{log.read_text()[-3000:]}")


class Clock:
    now = 1000.0

    def __call__(self):
        return self.now


@contextmanager
def serving(app):
    """Serve an application from a thread of its own; yield its address."""
    loop, ready = asyncio.new_event_loop(), threading.Event()
    listener = socket.create_server(("127.0.0.1", 0))
    listener.setblocking(False)

    async def listen():
        running = server(app)
        running.add_socket(listener)
        ready.set()
        return running

    def run():
        asyncio.set_event_loop(loop)
        running = loop.run_until_complete(listen())
        loop.run_forever()
        running.stop()
        loop.run_until_complete(running.close_all_connections())
        loop.close()

    thread = threading.Thread(target=run)
    thread.start()
    assert ready.wait(10)
    try:
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    finally:
        loop.call_soon_threadsafe(loop.stop)
        thread.join()


class Pupil:
    """A browser's cookies and manners, without the browser."""

    def __init__(self, address):
        self.address = address
        # Cookies for TLS only are sent too: a proxy that encrypts would do so.
        self.cookies = CookieJar(DefaultCookiePolicy(secure_protocols=["http"]))
        self._opener = build_opener(HTTPCookieProcessor(self.cookies))

    def ask(self, path, method="GET", form=None, **headers):
        """Return status and text of an answer, redirections followed."""
        data = None if form is None else urlencode(form).encode()
        request = Request(self.address + path, data, headers, method=method)
        try:
            with self._opener.open(request, timeout=READY) as answer:
                return answer.status, answer.read().decode("utf-8", "replace")
        except HTTPError as error:
            with error:
                return error.code, error.read().decode("utf-8", "replace")

    def xsrf(self, path):
        """Return the token against forged requests that holds under a path."""
        held = [item for item in self.cookies if item.name == "_xsrf"]
        return {"X-XSRFToken": next(item.value for item in held if path.startswith(item.path))}

    def fill_in(self, path, page=None, **form):
        """Send the form of a page that is open, or of the one that is shown now."""
        page = page or self.ask("/desk" if path.startswith("/desk") else "/")[1]
        form_of = page.partition(f'action="{path}"')[2].partition("</form>")[0] or page
        hidden = re.findall(r'name="(_xsrf|task|once)" value="([^"]*)"', form_of)
        return self.ask(path, "POST", {**dict(hidden), **form})

    def come_in(self, form):
        """Fill in the form at the door; return status and text."""
        _, page = self.ask("/login")
        token = re.search(r'name="_xsrf" value="([^"]*)"', page)
        door = "/hub/login" if "/hub/" in page else "/login"
        return self.ask(door, "POST", {**form, "_xsrf": token[1] if token else ""})

    def socket(self, path):
        """Open a websocket with this pupil's cookies."""
        shown = "; ".join(
            f"{item.name}={item.value}" for item in self.cookies if path.startswith(item.path)
        )
        where = self.address.replace("http", "ws", 1) + path
        return create_connection(where, cookie=shown, timeout=READY)

    def new_kernel(self, seat):
        """Wait for this seat's server at a hub and return a channel to a new kernel."""
        server = f"/user/{seat}/"
        while server not in [item.path for item in self.cookies if item.name == "_xsrf"]:
            self.ask(f"{server}lab")  # waits at the hub until the server is there
        status, text = self.ask(f"{server}api/kernels", "POST", {}, **self.xsrf(server))
        if status != 201:
            raise RuntimeError(text)
        kernel = re.search(r'"id": "([\w-]+)"', text)[1]
        return self.socket(f"{server}api/kernels/{kernel}/channels")


def send(channel, kind, content, metadata=None):
    """Send a message to a kernel; return its identity."""
    header = {
        "msg_id": uuid.uuid4().hex,
        "msg_type": kind,
        "username": "",
        "session": "pupil",
        "version": "5.3",
        "date": "",
    }
    message = {
        "header": header,
        "parent_header": {},
        "metadata": metadata or {},
        "content": content,
    }
    channel.send(json.dumps({**message, "channel": "shell", "buffers": []}))
    return header["msg_id"]


def execute(channel, code):
    """Send code to a kernel; return the identity of the request."""
    # Else a kernel answers "aborted" to what comes too soon after an error.
    asked = {"code": code, "silent": False, "stop_on_error": False}
    return send(channel, "execute_request", asked)


def answers(channel, request, last):
    """Return the messages that answer a request, up to the kind `last`."""
    found = []
    while True:
        got = channel.recv()
        if isinstance(got, bytes):
            continue
        message = json.loads(got)
        if message["parent_header"].get("msg_id") == request:
            found.append(message)
            if message["msg_type"] == last:
                return found


def printed(channel, code):
    """Return what code prints or the name of its error."""
    request = execute(channel, code)
    messages = answers(channel, request, "execute_reply")
    reply = messages[-1]["content"]
    if reply["status"] != "ok":
        return reply["ename"]
    while not any(
        m["msg_type"] == "status" and m["content"]["execution_state"] == "idle"
        for m in messages
    ):
        messages += answers(channel, request, "status")
    streams = [m["content"]["text"] for m in messages if m["msg_type"] == "stream"]
    return "".join(streams).strip()
