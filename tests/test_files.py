# SPDX-License-Identifier: MIT
import errno
import multiprocessing
import os
import sys
import time
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from glasskit import files
from glasskit.files import content, next_free, replace_file, update


def test_new_and_old_files_hold_the_new_content_and_nothing_is_left_beside_them(tmp_path):
    path = tmp_path / "sheet.html"
    assert replace_file(path, b"first") == path
    path.chmod(0o640)
    replace_file(str(path), b"second")
    assert path.read_bytes() == b"second"
    assert path.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_failure_on_the_way_leaves_the_old_file_as_it_was(tmp_path, monkeypatch):
    path = tmp_path / "log.csv"
    path.write_bytes(b"old")

    def fail(self, target):
        raise OSError("the disk is full")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match="the disk is full"):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_an_error(tmp_path):
    with pytest.raises(FileNotFoundError):
        replace_file(tmp_path / "absent" / "a.csv", b"")


def test_names_written_together_share_the_first_number_that_none_of_them_bears(tmp_path):
    with next_free(tmp_path / "absent", "plan") as places:
        assert places == [tmp_path / "absent/plan-01"]
    for older in ("plan-01.html", "risk[1]-02.csv", "planned-03.html"):
        (tmp_path / older).touch()
    with next_free(tmp_path, "plan", "risk[1]") as places:
        assert [path.name for path in places] == ["plan-03", "risk[1]-03"]


def save_sheets(folder, letter):
    for _ in range(20):
        with next_free(folder, "plan") as [place]:
            place.with_suffix(".html").write_text(letter)


def test_two_who_save_at_the_same_moment_never_take_the_same_name(tmp_path):
    written_by_two(save_sheets, tmp_path)
    written = sorted(tmp_path.iterdir())
    assert [path.name for path in written] == [f"plan-{n:02d}.html" for n in range(1, 41)]
    assert sorted(path.read_text() for path in written) == ["a"] * 20 + ["b"] * 20


def written_by_two(write, path):
    spawn = multiprocessing.get_context("spawn")
    writers = [spawn.Process(target=write, args=(path, letter)) for letter in "ab"]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join(120)


def add_lines(path, letter):
    for number in range(100):
        update(path, lambda old, n=number: (old or b"") + f"{letter}{n}\n".encode())


def test_two_writers_keep_what_both_of_them_add(tmp_path):
    path = tmp_path / "log.txt"
    written_by_two(add_lines, path)
    lines = path.read_text().splitlines()
    for letter in "ab":
        own = [line for line in lines if line.startswith(letter)]
        assert own == [f"{letter}{number}" for number in range(100)]
    assert {one.name for one in tmp_path.iterdir()} == {"log.txt", "backups"}


def test_a_file_that_another_keeps_is_refused_in_words_and_kept(tmp_path, monkeypatch):
    path = tmp_path / "log.txt"
    path.write_bytes(b"old")
    monkeypatch.setattr(files, "_PATIENCE", 0.05)

    def inner(old):
        with pytest.raises(TimeoutError, match=r"another window keeps log\.txt locked"):
            update(path, lambda _: b"lost")
        return old + b" new"

    update(path, inner)
    assert path.read_bytes() == b"old new"
    (tmp_path / ".log.txt.lock").touch()  # of a writer that was killed: it locks nothing
    update(path, lambda old: old + b" again")
    assert path.read_bytes() == b"old new again"


class Msvcrt(ModuleType):
    """Locks as Windows keeps them: of bytes from where a file stands, until it is closed."""

    LK_NBLCK = 2

    def __init__(self):
        super().__init__("msvcrt")
        self._kept = {}

    def locking(self, number, mode, count):
        assert (mode, count) == (self.LK_NBLCK, 1)
        byte = (os.fstat(number).st_ino, os.lseek(number, 0, os.SEEK_CUR))
        kept_by = self._kept.get(byte)
        if kept_by not in (None, number) and self._is_open(kept_by, byte[0]):
            raise PermissionError(errno.EACCES, "Permission denied")
        self._kept[byte] = number

    @staticmethod
    def _is_open(number, file):
        try:
            return os.fstat(number).st_ino == file
        except OSError:
            return False


def as_on_windows(monkeypatch):
    """Lock as on Windows, where what is open cannot be deleted either."""
    monkeypatch.setattr(files, "sys", SimpleNamespace(platform="win32"))
    monkeypatch.setitem(sys.modules, "msvcrt", Msvcrt())
    plain = Path.unlink

    def unlink(self, missing_ok=False):
        if self.suffix == ".lock":
            raise PermissionError(errno.EACCES, "The process cannot access the file")
        plain(self, missing_ok)

    monkeypatch.setattr(Path, "unlink", unlink)


def as_on_a_mac(monkeypatch):
    """Refuse a taken lock with the number that macOS gives it."""
    import fcntl

    plain = fcntl.flock

    def flock(number, how):
        assert how == fcntl.LOCK_EX | fcntl.LOCK_NB
        try:
            plain(number, how)
        except BlockingIOError:
            raise BlockingIOError(35, "Resource temporarily unavailable") from None

    monkeypatch.setattr(files, "sys", SimpleNamespace(platform="darwin"))
    monkeypatch.setattr(fcntl, "flock", flock)


@pytest.mark.parametrize("system", [as_on_windows, as_on_a_mac])
def test_the_locks_of_other_systems_keep_a_second_writer_out(system, tmp_path, monkeypatch):
    path = tmp_path / "log.txt"
    path.write_bytes(b"old")
    system(monkeypatch)
    monkeypatch.setattr(files, "_PATIENCE", 0.05)

    def inner(old):
        with pytest.raises(TimeoutError, match="another window keeps"):
            update(path, lambda _: b"lost")
        return old + b" new"

    update(path, inner)
    update(path, lambda old: old + b" again")  # although Windows leaves the lock's file
    assert path.read_bytes() == b"old new again"


def test_five_states_ten_minutes_apart_are_kept(tmp_path, monkeypatch):
    path, start = tmp_path / "log.csv", files.datetime(2030, 5, 31, 9, 0, tzinfo=files.UTC)

    class Clock:
        @staticmethod
        def now(_):
            return start + files.timedelta(minutes=Clock.minutes)

    monkeypatch.setattr(files, "datetime", Clock)
    for Clock.minutes in range(0, 75, 3):
        update(path, lambda _, n=Clock.minutes: str(n).encode())
    # Writes every 3 minutes: a state is put by at 3, then whenever 10 minutes have gone by.
    kept = [one.name for one in sorted((tmp_path / "backups").iterdir())]
    assert kept == [
        f"log-2030-05-31-{at}.csv" for at in ("0915", "0927", "0939", "0951", "1003")
    ]
    assert (tmp_path / "backups" / kept[-1]).read_bytes() == b"60"


def test_what_killed_writers_left_is_cleared_away_and_what_others_write_is_not(tmp_path):
    old, fresh = tmp_path / ".log.csv.1.partial", tmp_path / ".log.csv.2.partial"
    for left in (old, fresh):
        left.touch()
    os.utime(old, times=(time.time() - 120,) * 2)
    replace_file(tmp_path / "log.csv", b"new")
    assert {one.name for one in tmp_path.iterdir()} == {"log.csv", fresh.name}


def test_a_file_too_large_to_read_is_refused_in_words_before_it_is_read(tmp_path):
    path = tmp_path / "log.csv"
    path.write_bytes(b"a" * 1_000_000)
    with pytest.raises(OSError, match=r"at most 1 MB, .* got 1\.50 MB"):
        update(path, lambda old: old + b"b" * 500_000)
    assert content(path) == b"a" * 1_000_000
    path.write_bytes(b"a" * 5_400_000)
    for read in (content, lambda path: update(path, lambda _: b"")):
        with pytest.raises(OSError, match=r"at most 1 MB, .* got 5\.40 MB"):
            read(path)
    assert path.stat().st_size == 5_400_000


@pytest.mark.parametrize("name", ["", ".", "..", "/", "a\0b", "\ud800"])
def test_what_cannot_be_a_name_is_an_error_of_the_system_in_words(name):
    with pytest.raises(OSError, match="a file must have a name"):
        update(name, lambda _: b"")


def test_a_loop_of_links_is_an_error_of_the_system(tmp_path):
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(OSError, match="symbolic links"):
        update(tmp_path / "a", lambda _: b"")
