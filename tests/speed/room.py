# SPDX-License-Identifier: MIT
"""Measure a room full: pupils who each move a slider on one Jupyter server.

    python tests/speed/room.py [pupils [moves [seconds between moves]]]

Starts a real server, a kernel for each pupil over HTTP and websocket, opens the crack's
explorer in each and moves its slider; prints memory for each pupil, the wait for the first
picture when all begin at once, and the wait from move to picture while all work. Only this
machine is asked.
"""

import json
import sys
import tempfile
import threading
import time
import urllib.request
import uuid
from pathlib import Path
from urllib.parse import urlsplit

import numpy as np
from websocket import create_connection

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / "browser")]

from lab import jupyterlab  # noqa: E402

OPEN = """
from glasskit.live.gallery import explorer
shown = explorer("02_a_crack_pressed_shut")
"""
MOVE = "shown.controls['depth'].value = {depth!r}"
PICTURE = "data:image/webp"


class Pupil:
    """One pupil: a kernel on the server, and what it sends to the page."""

    def __init__(self, address, token):
        request = urllib.request.Request(
            f"http://{address}/api/kernels",
            data=b"{}",
            headers={"Authorization": f"token {token}"},
        )
        with urllib.request.urlopen(request, timeout=120) as answer:
            self.kernel = json.load(answer)["id"]
        self.socket = create_connection(
            f"ws://{address}/api/kernels/{self.kernel}/channels?token={token}", timeout=180
        )

    def run(self, code):
        """Send code to the kernel."""
        header = {
            "msg_id": uuid.uuid4().hex,
            "msg_type": "execute_request",
            "username": "pupil",
            "session": self.kernel,
            "version": "5.3",
            "date": "",
        }
        content = {"code": code, "silent": False, "store_history": False}
        message = {"header": header, "parent_header": {}, "metadata": {}, "content": content}
        self.socket.send(json.dumps({**message, "channel": "shell", "buffers": []}))

    def wait_for(self, text):
        """Wait until something that holds `text` has come from the kernel."""
        while True:
            got = self.socket.recv()
            if text in (got if isinstance(got, str) else got.decode("utf-8", "replace")):
                return

    def begin(self):
        """Open the explorer; return the wait for its picture [s]."""
        started = time.perf_counter()
        self.run(OPEN)
        self.wait_for(PICTURE)
        return time.perf_counter() - started

    def work(self, rng, moves, pause):
        """Move the slider now and then; return the waits for the picture [s]."""
        waits = []
        for depth in rng.uniform(50e-6, 75e-6, moves):
            time.sleep(rng.uniform(0.5, 1.5) * pause)
            started = time.perf_counter()
            self.run(MOVE.format(depth=float(depth)))
            self.wait_for(PICTURE)
            waits.append(time.perf_counter() - started)
        return waits


def together(calls):
    """Run all calls at the same time and return what each returned."""
    results = [None] * len(calls)

    def keep(place, call):
        results[place] = call()

    threads = [threading.Thread(target=keep, args=item) for item in enumerate(calls)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return results


def used_memory():
    """Return the memory in use on this machine [MiB]."""
    lines = dict(line.split(":") for line in Path("/proc/meminfo").read_text().splitlines())
    kib = {name: int(value.split()[0]) for name, value in lines.items()}
    return (kib["MemTotal"] - kib["MemAvailable"]) / 1024


def main(pupils="30", moves="20", pause="2"):
    """Print what a room of pupils meets."""
    count = int(pupils)
    with tempfile.TemporaryDirectory() as folder, jupyterlab(Path(folder)) as url:
        parts = urlsplit(url("x.ipynb"))
        token = parts.query.split("token=")[1].split("&")[0]
        before = used_memory()
        room = [Pupil(parts.netloc, token) for _ in range(count)]
        first = together([pupil.begin for pupil in room])
        each = (used_memory() - before) / count
        rngs = np.random.default_rng(1).spawn(count)
        calls = [
            lambda pupil=pupil, rng=rng: pupil.work(rng, int(moves), float(pause))
            for pupil, rng in zip(room, rngs, strict=True)
        ]
        waits = 1e3 * np.concatenate(together(calls))
        for pupil in room:
            pupil.socket.close()
    print(f"{count} pupils, a move about every {float(pause):g} s each")
    print(f"memory for each pupil: {each:.0f} MiB")
    print(f"first picture, all at once: p50 {np.median(first):.1f} s, last {max(first):.1f} s")
    usual, slow = np.percentile(waits, [50, 95])
    print(f"move to picture: p50 {usual:.0f} ms, p95 {slow:.0f} ms")


if __name__ == "__main__":
    main(*sys.argv[1:])
