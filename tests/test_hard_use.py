# SPDX-License-Identifier: MIT
"""A thousand spoilt files of each kind: refused in a sentence, or read with nothing lost.

The files are sound ones of ours, spoilt in one to four ways as disks, editors, spreadsheets
and people do it; the same in every run.
"""

import json
import random
import re
from datetime import date
from pathlib import Path

import pytest

from glasskit.classroom import load_sheet, read_bank
from glasskit.demonstration.breaklog import COLUMNS, Entry, add, read_log
from glasskit.lab import read_records
from glasskit.rows import decode
from glasskit.training import Attempt, Progress, open_progress, save_progress
from glasskit.training.cases import KINDS

ROOT = Path(__file__).resolve().parents[1]
NUMBER = 1000
DAY = date(2030, 5, 31)
BLOW = Entry(date=DAY, pane="ordinary", height=0.7, broke=True)

LOG = ",".join(COLUMNS) + "\n"
LOG += "".join(
    f"2030-05-{day},ordinary #{day},0.{day},wood,yes,edge\n" for day in range(10, 31)
)
PROGRESS = {
    "version": 1,
    "trainee": "Ada Ünal",
    "attempts": [
        {"mistake": kind, "seed": seed, "day": "2030-05-31", "guesses": 2, "named": True}
        for seed, kind in enumerate(KINDS[:12])
    ],
}
INSERTED = [
    *(b"\0", b'"', b"'", b"#", b";", b",", b"\t", b"\n", b"\r", b"\xff\xfe", b"\xef\xbb\xbf"),
    *(b"\x80", b"\xc3", b"1e999", b"-", b"NaN", b"=1+1", b"{", b"[" * 9, b"\x1a", b"\x0b"),
    *("µ".encode(), "１２".encode(), "\u2028".encode(), b"9" * 5000, b"a" * 150_000),
]


def spoilt(content, rng):
    """Return the content spoilt in one way."""
    at = rng.randrange(len(content) + 1)
    end = min(at + rng.randrange(40), len(content))
    part, inserted = content[at:end], rng.choice(INSERTED)
    ways = [
        lambda: content[:at],
        lambda: content[:at] + content[end:],
        lambda: content[:at] + inserted + content[at:],
        lambda: content[:at] + inserted + content[end:],
        lambda: content[:end] + part * rng.randint(1, 3) + content[end:],
        lambda: content[:at] + rng.randbytes(len(part)) + content[end:],
        lambda: content.replace(b",", rng.choice([b";", b"\t", b",,"])),
        lambda: content.replace(b"\n", rng.choice([b"\r\n", b"\r", b"\n\n", b"\n#"])),
        lambda: content.decode("utf-8", "replace").encode("utf-16"),
        lambda: content.decode("utf-8", "replace").encode("cp1252", "replace"),
    ]
    return rng.choice(ways)()


def in_words(fault):
    """Python's own words are for programmers."""
    said = str(fault)
    assert re.search(r"\w+ \w+", said), said
    odd = r"codec|Traceback|NoneType|literal|unhashable|positional|keyword|__|object has"
    assert not re.search(odd, said), said


def lines_of(content):
    lines = enumerate(re.split(r"\r\n|\r|\n", decode(content)), start=1)
    return {number for number, text in lines if text.strip(" \t;,\ufeff")}


def try_log(path, content):
    log = read_log(path)
    for trouble in log.troubles:
        in_words(trouble.words)
    try:
        add(path, BLOW)
    except ValueError as fault:
        in_words(fault)
        assert log.troubles
        assert path.read_bytes() == content
        return
    assert path.read_bytes().startswith(content)
    later = read_log(path)
    assert len(later.entries) == len(log.entries) + 1
    assert later.entries[-1] == BLOW
    told = {trouble.line for trouble in log.troubles}
    try:
        held = lines_of(content)
    except (
        ValueError
    ):  # no text: each line is a trouble, which the reader of bytes counts itself
        return
    assert len(held) - len(told) - len(log.entries) <= 1  # the first line


def try_class(path, content):
    sheet = load_sheet(path)
    for row in sheet.rows:
        assert row.note or row.status in ("used", "blank")
    assert len(lines_of(content) - {row.line for row in sheet.rows}) == 1  # the first line


def try_records(path, content):
    series = read_records(path)
    for trouble in series.troubles:
        in_words(trouble.words)
    told = {one.line for one in (*series.records, *series.troubles)}
    told |= {remark.number for remark in series.remarks}
    assert len(lines_of(content) - told) == 1  # the first line


def try_progress(path, content):
    opened = open_progress(path)
    aside = sorted(path.parent.glob("mine-damaged-*"))
    if opened.trouble:
        in_words(opened.trouble.replace(repr(opened.progress), ""))
    one = Attempt(mistake=KINDS[-1], seed=999, day=DAY)
    saved = save_progress(Progress(attempts=(one,)), path)
    assert set(saved.progress.attempts) >= {*opened.progress.attempts, one}
    if aside:
        assert aside[-1].read_bytes() == content
        aside[-1].unlink()
        return
    after = json.loads(path.read_bytes())["attempts"]
    for row in json.loads(content)["attempts"]:
        known = {(one.mistake, one.seed) for one in opened.progress.attempts}
        here = isinstance(row, dict) and (row.get("mistake"), row.get("seed")) in known
        assert here or row in after


def try_bank(path, content):
    for trouble in read_bank(path).troubles:
        in_words(trouble.words)


ASSETS = ROOT / "assets"
KINDS_OF_FILE = {
    "log": (LOG.encode(), try_log),
    "class": ((ASSETS / "class_of_28.csv").read_bytes(), try_class),
    "records": ((ASSETS / "lab_bars_and_rings_invented.csv").read_bytes()[:1500], try_records),
    "progress": (json.dumps(PROGRESS, indent=1).encode(), try_progress),
    "bank": ((ROOT / "glasskit/data/questionbank.csv").read_bytes()[:6000], try_bank),
}


@pytest.mark.parametrize("kind", KINDS_OF_FILE)
def test_a_thousand_spoilt_files_are_refused_in_words_or_read_without_loss(tmp_path, kind):
    sound, trial = KINDS_OF_FILE[kind]
    path, rng, refused = tmp_path / "mine.file", random.Random(kind), 0
    trial(path, path.write_bytes(sound) and sound)  # the check itself passes a sound one
    for _ in range(NUMBER):
        content = sound
        for _ in range(rng.randint(1, 4)):
            content = spoilt(content, rng)
        path.write_bytes(content)
        try:
            trial(path, content)
        except ValueError as fault:
            in_words(fault)
            refused += 1
            assert path.read_bytes() == content
    assert refused < 0.8 * NUMBER  # else the rest of the test would see too little
