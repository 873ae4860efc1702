# SPDX-License-Identifier: MIT
"""Measure a room full: pupils who each move a slider of the page on cracks.

    python tests/speed/room.py pages [pupils [moves [seconds between moves]]]
    python tests/speed/room.py hub [pupils [moves [seconds between moves]]]

Opens a real room, lets it warm its kernels, and asks it over HTTP and websocket as browsers
would: everyone comes in and opens the page at once, then works. Prints memory and processor
time for each pupil, the wait from coming in to the first picture, and from move to picture.
Only this machine is asked.
"""

import json
import re
import struct
import sys
import tempfile
import threading
import time
from pathlib import Path

import numpy as np
import psutil

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]

from rooms import Pupil, execute, open_room, send  # noqa: E402

PAGE = "02_a_crack_pressed_shut"
OPEN = f"""
from glasskit.live.gallery import explorer
shown = explorer({PAGE!r})
"""
MOVE = "shown.controls['depth'].value = {depth!r}"
PICTURE = "data:image/png"


def text_of(got):
    """Return the JSON of a message; pictures and other buffers behind it are left out."""
    if isinstance(got, str):
        return got
    count = struct.unpack("!i", got[:4])[0]
    offsets = [*struct.unpack(f"!{count}i", got[4 : 4 * (count + 1)]), len(got)]
    return got[offsets[0] : offsets[1]].decode()


class AtPage(Pupil):
    """A pupil at a page: only what widgets say travels."""

    def begin(self, seat, word):
        """Come in, open the page; return the wait for its picture [s]."""
        started = time.perf_counter()
        self.come_in({"seat": seat, "word": word})
        _, page = self.ask(f"/voila/render/{PAGE}.ipynb")
        kernel = re.search(r'"kernelId": "([\w-]+)"', page)[1]
        self.channel = self.socket(f"/api/kernels/{kernel}/channels")
        control = {"comm_id": "pupil", "target_name": "jupyter.widget.control", "data": {}}
        metadata = {"version": "1.0.0"}
        send(self.channel, "comm_open", control, metadata)
        asked = {"comm_id": "pupil", "data": {"method": "request_states"}}
        send(self.channel, "comm_msg", asked)
        states = json.loads(self.wait_for("update_states"))["content"]["data"]["states"]
        models = {key: held["state"] for key, held in states.items()}
        for key, state in models.items():
            if "glasskit-skip" in state.get("_dom_classes", []):
                self.say(key, {"method": "custom", "content": {"event": "click"}})
        self.slider = next(
            key
            for key, state in models.items()
            if "min" in state and "Slider" in state["_model_name"]
        )
        self.low, self.high = models[self.slider]["min"], models[self.slider]["max"]
        if PICTURE not in json.dumps(models):
            self.wait_for(PICTURE)
        return time.perf_counter() - started

    def say(self, model, data):
        send(self.channel, "comm_msg", {"comm_id": model, "data": data})

    def wait_for(self, text):
        """Wait until something that holds `text` has come from the kernel; return it."""
        while True:
            got = text_of(self.channel.recv())
            if text in got:
                return got

    def move(self, share):
        """Put the slider somewhere along its way."""
        value = self.low + share * (self.high - self.low)
        state = {"value": value}
        self.say(self.slider, {"method": "update", "state": state, "buffer_paths": []})

    def work(self, rng, moves, pause):
        """Move the slider now and then; return the waits for the picture [s]."""
        waits = []
        for number, share in enumerate(rng.uniform(0.3, 0.4, moves)):
            time.sleep(rng.uniform(0.5, 1.5) * pause)
            started = time.perf_counter()
            self.move(float(share) + 0.3 * (number % 2))  # never the step it is on
            self.wait_for(PICTURE)
            waits.append(time.perf_counter() - started)
        return waits


class AtHub(AtPage):
    """A pupil with a notebook server and a kernel of their own."""

    def begin(self, seat, word):
        """Come in, open the explorer; return the wait for its picture [s]."""
        started = time.perf_counter()
        self.come_in({"username": seat, "password": word})
        self.channel = self.new_kernel(seat)
        execute(self.channel, OPEN)
        self.wait_for(PICTURE)
        return time.perf_counter() - started

    def move(self, share):
        """Put the slider somewhere along its way."""
        execute(self.channel, MOVE.format(depth=(50 + 25 * share) * 1e-6))


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


def used_processor():
    """Return the processor time that the room and its kernels have used [s]."""
    spent = [process.cpu_times() for process in psutil.Process().children(recursive=True)]
    return sum(times.user + times.system for times in spent)


def wait_until_quiet(seconds=5):
    """Wait until a room has done what it does ahead."""
    before = -1.0
    while (spent := used_processor()) > before + 0.02 * seconds:
        before = spent
        time.sleep(seconds)


def main(kind="pages", pupils="30", moves="20", pause="2"):
    """Print what a room of pupils meets."""
    count = int(pupils)
    with (
        tempfile.TemporaryDirectory() as folder,
        open_room(Path(folder), kind, f"--seats={count}") as (address, words),
    ):
        wait_until_quiet()
        before, spent = used_memory(), used_processor()
        room = [(AtPage if kind == "pages" else AtHub)(address) for _ in range(count)]
        first = together(
            [
                lambda pupil=pupil, card=card: pupil.begin(*card)
                for pupil, card in zip(room, words.items(), strict=True)
            ]
        )
        each = (used_memory() - before) / count
        work = (used_processor() - spent) / count
        rngs = np.random.default_rng(1).spawn(count)
        calls = [
            lambda pupil=pupil, rng=rng: pupil.work(rng, int(moves), float(pause))
            for pupil, rng in zip(room, rngs, strict=True)
        ]
        waits = 1e3 * np.concatenate(together(calls))
        for pupil in room:
            pupil.channel.close()
    print(f"{kind}: {count} pupils, a move about every {float(pause):g} s each")
    print(f"memory for each pupil: {each:.0f} MiB")
    print(f"processor time for each pupil up to the first picture: {work:.1f} s")
    print(f"first picture, all at once: p50 {np.median(first):.1f} s, last {max(first):.1f} s")
    usual, slow = np.percentile(waits, [50, 95])
    print(f"move to picture: p50 {usual:.0f} ms, p95 {slow:.0f} ms")


if __name__ == "__main__":
    main(*sys.argv[1:])
