# SPDX-License-Identifier: MIT
import re
import subprocess
import sys
from pathlib import Path

import pytest

from glasskit.live.gallery import EXPLORERS
from glasskit.room.limits import MEMORY, PROCESSOR, limited

LIVE = Path(__file__).resolve().parents[2] / "glasskit/live"

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="a room is served from Linux")


def said(code):
    command = limited([sys.executable, "-c", code])
    return subprocess.run(command, capture_output=True, text=True).stdout.split()


def test_a_process_may_take_so_much_and_no_more():
    code = """
import resource
for kind in (resource.RLIMIT_DATA, resource.RLIMIT_CPU):
    print(*resource.getrlimit(kind))
"""
    assert said(code) == [str(MEMORY)] * 2 + [str(PROCESSOR)] * 2


def test_what_is_above_the_limit_is_refused(tmp_path):
    code = f"""
try:
    bytearray({MEMORY})
except MemoryError:
    print("refused")
import signal
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
try:
    with open({str(tmp_path / "big")!r}, "wb") as file:
        for _ in range(65):
            file.write(bytes(2**20))
except OSError:
    print("refused")
"""
    assert said(code) == ["refused", "refused"]


def test_no_page_for_everyone_reads_or_writes_a_file_that_a_reader_names():
    for page in (name for name in EXPLORERS if name < "20"):
        source = (LIVE / f"{EXPLORERS[page].split(':')[0]}.py").read_text(encoding="utf-8")
        assert not re.search(r"FileUpload|\bPath\(|\bopen\(", source), page
    assert re.search(r"FileUpload", (LIVE / "results.py").read_text(encoding="utf-8"))
