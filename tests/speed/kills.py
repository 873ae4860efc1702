# SPDX-License-Identifier: MIT
"""Kill writers at any moment, let two write at once: ``python tests/speed/kills.py [500]``.

Log, corrections and progress are each written by a process that says after every entry that it
is kept, and that is killed at a random moment. Printed: acknowledged entries that are gone,
files that cannot be read, what is left lying beside them, and what two writers without pause
keep of 200.
"""

import multiprocessing
import os
import random
import shutil
import sys
import tempfile
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

from glasskit.demonstration.breaklog import Entry, add, read_log
from glasskit.training import Attempt, Progress, open_progress, save_progress
from glasskit.training.cases import KINDS

DAY = date(2030, 5, 31)


def keep_log(path, number):
    add(path, Entry(date=DAY, pane=f"pane #{number}", height=1.0, broke=False))


def keep_corrected(path, number):
    wrong = Entry(date=DAY, pane=f"pane #{number}", height=1.0, broke=False)
    add(path, wrong)
    add(path, replace(wrong, height=2.0), instead_of=[wrong])


def keep_progress(path, number):
    one = Attempt(mistake=KINDS[0], seed=number, day=DAY)
    save_progress(Progress(attempts=(one,)), path)


def in_log(path):
    log = read_log(path)
    return {int(entry.pane.partition("#")[2]) for entry in log.entries}, len(log.troubles)


def in_corrected(path):
    log = read_log(path)
    right = [entry.pane for entry in log.entries if entry.height == 2.0]
    return {int(pane.partition("#")[2]) for pane in right}, len(log.troubles)


def in_progress(path):
    opened = open_progress(path)
    return {one.seed for one in opened.progress.attempts}, bool(opened.trouble)


FILES = {
    "log.csv": (keep_log, in_log),
    "corrected.csv": (keep_corrected, in_corrected),
    "mine.json": (keep_progress, in_progress),
}


def write_on(keep, path, start, said, count=10**9):
    for number in range(start, start + count):
        keep(path, number)
        os.write(said, b"%d\n" % number)


def killed(place, name, times):
    """Start writers by fork, which is quick, and kill each within 30 ms of its first entry."""
    keep, held = FILES[name]
    path, acknowledged, start = place / name, set(), 0
    rng = random.Random(7)
    for turn in range(times):
        read, write = os.pipe()
        child = os.fork()
        if not child:
            write_on(keep, path, start, write)
        os.close(write)
        first = os.read(read, 1 << 16)
        time.sleep(rng.uniform(0, 0.03))
        os.kill(child, 9)
        os.waitpid(child, 0)
        with os.fdopen(read, "rb") as rest:
            acknowledged |= set(map(int, (first + rest.read()).split()))
        start = max(acknowledged) + 10
        if turn % 25 == 24:  # a file that grows without end makes later turns slow
            lost, odd = acknowledged - held(path)[0], held(path)[1]
            yield len(acknowledged), len(lost), int(odd)
            path.unlink()
            acknowledged = set()


def two(place, name):
    keep, held = FILES[name]
    with open(os.devnull, "wb") as nowhere:
        fork = multiprocessing.get_context("fork")
        writers = [
            fork.Process(target=write_on, args=(keep, place / name, at, nowhere.fileno(), 100))
            for at in (0, 1000)
        ]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join()
    return len(held(place / name)[0])


def main(times):
    for name in FILES:
        place = Path(tempfile.mkdtemp())
        sums = [sum(one) for one in zip(*killed(place, name, times), strict=True)]
        said = "{} entries acknowledged, {} lost, {} troubles".format(*sums)
        partials = list(place.glob(".*.partial"))
        for left in partials:  # as if the next writing came two minutes later
            os.utime(left, times=(time.time() - 120,) * 2)
        FILES[name][0](place / name, 1)
        after = sorted(one.name for one in place.iterdir())
        print(
            f"{name}: {times} kills, {said}, {len(partials)} partial; later beside it: {after}"
        )
        shutil.rmtree(place)
        place = Path(tempfile.mkdtemp())
        print(f"{name}: two writers keep {two(place, name)} of 200")
        shutil.rmtree(place)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
