# SPDX-License-Identifier: MIT
"""Measure a class that answers on its own screens: everybody at once, on this machine alone.

    python tests/speed/answers.py [pupils [seconds]]

Opens a real room of answers and asks it as browsers would: all come in at the same moment,
answer two questions before and after as soon as each is asked, and look every three seconds
for news. Then 200 more browsers try to come in. Prints waits, processor time and memory, and
what became of each answer. At most 60 pupils and 120 seconds.
"""

import asyncio
import re
import sys
import tempfile
import time
from collections import Counter, defaultdict
from http.cookies import SimpleCookie
from pathlib import Path
from urllib.parse import urlencode

import numpy as np
import psutil
from tornado.httpclient import AsyncHTTPClient

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]

from rooms import open_forms  # noqa: E402

LOOK = 3  # s between two looks for news, as the script of the page has it
STRANGERS = 200


class Browser:
    """Keeps cookies and waits; follows no redirection but its own."""

    def __init__(self, address, waits):
        self.address, self.waits, self.cookies = address, waits, {}
        self.client = AsyncHTTPClient()

    async def ask(self, what, path, form=None):
        """Ask once; keep the wait under a name and return status and text."""
        started = time.perf_counter()
        answer = await self.client.fetch(
            self.address + path,
            method="GET" if form is None else "POST",
            body=None if form is None else urlencode(form),
            headers={"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())},
            follow_redirects=False,
            raise_error=False,
            request_timeout=60,
        )
        self.waits[what].append(time.perf_counter() - started)
        for line in answer.headers.get_list("Set-Cookie"):
            self.cookies |= {name: item.value for name, item in SimpleCookie(line).items()}
        return answer.code, answer.body.decode()

    async def send(self, what, path, form):
        """Send the form of the page that is shown now."""
        _, page = await self.ask("page", "/")
        hidden = dict(re.findall(r'name="(_xsrf|task)" value="([^"]*)"', page))
        return await self.ask(what, path, {**hidden, **form})


async def pupil(browser, number, code, until):
    """Come in, answer whatever is asked as soon as it is seen; return what was answered."""
    status, _ = await browser.send("come in", "/come-in", {"code": code})
    assert status == 303
    version, answered = "", []
    while time.perf_counter() < until:
        _, now = await browser.ask("is there news", "/now")
        if now != version:
            version = now
            _, page = await browser.ask("page", "/")
            if 'action="/answer"' in page:
                for _ in range(2):  # sent twice, counted once
                    form = {"option": number % 4}
                    status, _ = await browser.send("answer", "/answer", form)
                    answered.append(status)
        await asyncio.sleep(LOOK)
    return answered


async def teacher(browser, word, seconds):
    """Ask two questions before and after; return the table of answers."""
    _, page = await browser.ask("desk", "/desk")
    token = dict(re.findall(r'name="(_xsrf)" value="([^"]*)"', page))
    await browser.ask("desk", "/desk/login", {**token, "word": word})
    for place in (0, 1):
        for stage in ("before", "talk", "after", "told"):
            await browser.ask("desk", "/desk", {**token, "stage": stage, "place": place})
            for _ in range(4):
                await asyncio.sleep(seconds / 32)
                await browser.ask("desk with graph", "/desk/now")
    return (await browser.ask("desk", "/desk/answers.csv"))[1]


async def lesson(address, code, word, pupils, seconds):
    """Run a lesson; return waits, what each pupil was told, and the table."""
    AsyncHTTPClient.configure(None, max_clients=pupils + 1)
    waits = defaultdict(list)
    until = time.perf_counter() + seconds + LOOK
    everybody = [pupil(Browser(address, waits), n, code, until) for n in range(pupils)]
    table, *told = await asyncio.gather(
        teacher(Browser(address, waits), word, seconds), *everybody
    )
    strangers = [
        Browser(address, waits).send("stranger", "/come-in", {"code": code})
        for _ in range(STRANGERS)
    ]
    refused = Counter(status for status, _ in await asyncio.gather(*strangers))
    return waits, Counter(status for one in told for status in one), table, refused


def main(pupils="40", seconds="40"):
    """Print what a class meets."""
    count, length = min(int(pupils), 60), min(float(seconds), 120.0)
    with tempfile.TemporaryDirectory() as folder:
        words = ("answers", f"--seats={count}")
        with open_forms(Path(folder), *words, until="devices come") as (address, printed):
            code = re.search(r"Code for all pupils: (\S+)", printed)[1]
            word = re.search(r"word: (\S+)", printed)[1]
            room = next(
                one
                for one in psutil.Process().children(recursive=True)
                if "glasskit.room" in one.cmdline() and not one.children()
            )
            before = sum(room.cpu_times()[:2])
            results = asyncio.run(lesson(address, code, word, count, length))
            spent, memory = sum(room.cpu_times()[:2]) - before, room.memory_info().rss
    waits, told, table, refused = results
    print(f"{count} pupils, {length:g} s; load of this machine {psutil.getloadavg()[0]:.1f}")
    for what, times in waits.items():
        half, most = 1e3 * np.quantile(times, [0.5, 0.95])
        worst = 1e3 * max(times)
        print(f"{what:16s} {len(times):5d} times: {half:6.0f} {most:6.0f} {worst:6.0f} ms")
    print("(half of the time, 19 times in 20, worst)")
    print(f"processor {spent:.1f} s, memory {memory / 2**20:.0f} MiB")
    print(f"answers sent {sum(told.values())}: {dict(told)}; strangers: {dict(refused)}")
    counted = np.array([line.rsplit(",", 2)[1:] for line in table.splitlines()[1:]], int)
    print(f"counted before and after, all questions: {counted.sum(0)}")


if __name__ == "__main__":
    main(*sys.argv[1:])
