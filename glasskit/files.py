# SPDX-License-Identifier: MIT
"""Write files whole or not at all, so that a crash costs nothing that was there.

A file that grows, such as a log, is read, changed and written under a lock, so that two
windows or two people keep what either of them adds. The lock is the system's own: it goes with
whoever held it, however they ended. Former states stay in the folder ``backups``.
"""

import errno
import glob
import os
import secrets
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import BinaryIO

__all__ = ["content", "locked", "named", "next_free", "replace_file", "update"]

_LARGEST = 1_000_000  # bytes of a file that grows: ten thousand blows, read within a second

_PATIENCE = 10.0  # seconds to wait for another writer
_LEFT_OVER = 60.0  # seconds after which nobody is still writing a partial file
_BACKUPS = 5
_APART = timedelta(minutes=10)  # so that five of them reach back further than five clicks
_STAMP = "%Y-%m-%d-%H%M"


def named(path: str | os.PathLike[str]) -> Path:
    """Return where a file truly lies, past links, or refuse what cannot be one.

    Parameters
    ----------
    path : path
        As typed.

    Returns
    -------
    Path
        Absolute; the file need not be there.

    Raises
    ------
    OSError
        If it has no name, or signs in it that no name has.

    Examples
    --------
    >>> named("folder/../log.csv").name
    'log.csv'

    """
    place = Path(path)
    try:
        if place.name in ("", "..") or b"\0" in os.fsencode(place):
            raise ValueError
        return Path(os.path.realpath(place))
    except ValueError:
        said = "a file must have a name, of signs that a name can have"
        raise OSError(errno.EINVAL, said, ascii(str(path))) from None


def content(path: str | os.PathLike[str]) -> bytes | None:
    """Return what a file that grows holds, None if there is none.

    Parameters
    ----------
    path : path
        Where; links are followed.

    Returns
    -------
    bytes or None
        All of it.

    Raises
    ------
    OSError
        If it cannot be read, or has more than a million bytes: then it is not read at all.

    Examples
    --------
    >>> content("folder/that/is/not/there.csv") is None
    True

    """
    place = named(path)
    try:
        _check_size(place, place.stat().st_size)
        return place.read_bytes()
    except FileNotFoundError:
        return None


def _check_size(place: Path, size: int) -> None:
    if size > _LARGEST:
        said = f"a file must have at most {_LARGEST / 1e6:g} MB, begin another one; got"
        raise OSError(errno.EFBIG, f"{said} {size / 1e6:.2f} MB", str(place))


def update(path: str | os.PathLike[str], change: Callable[[bytes | None], bytes]) -> Path:
    """Read a file, change it and put it back, while no other writer can.

    Parameters
    ----------
    path : path
        Where; links are followed, the folder must be there.
    change : callable
        Takes what the file holds, None if there is none, and returns what it shall hold.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OSError
        If it cannot be read or written, is or would become larger than a million bytes, or
        another writer keeps it for ten seconds; it is then as it was.

    Notes
    -----
    What it held before goes to ``backups`` beside it: five states, ten minutes apart or more.
    A drive that knows no locks is written to without one.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = update(f"{folder}/log.txt", lambda old: (old or b"") + b"one")
    ...     held = update(path, lambda old: (old or b"") + b" two").read_bytes()
    >>> held
    b'one two'

    """
    place = named(path)
    with locked(place):
        old = content(place)
        new = change(old)
        if new == old:
            return place
        _check_size(place, len(new))
        if old:
            _back_up(place, old)
        return replace_file(place, new)


def _back_up(place: Path, content: bytes) -> None:
    folder, now = place.parent / "backups", datetime.now(UTC)
    name = f"{place.stem}-{{}}{place.suffix}"
    older = sorted(folder.glob(glob.escape(name).replace("{}", "[0-9]" * 4 + "-*")))
    if older and older[-1].name > name.format((now - _APART).strftime(_STAMP)):
        return
    folder.mkdir(exist_ok=True)
    replace_file(folder / name.format(now.strftime(_STAMP)), content)
    for one in older[: max(len(older) + 1 - _BACKUPS, 0)]:
        one.unlink(missing_ok=True)


@contextmanager
def locked(place: Path) -> Iterator[None]:
    """Hold the lock beside a file; another writer waits, or fails after ten seconds.

    Parameters
    ----------
    place : Path
        Where the file is or will be; its folder must be there.

    Raises
    ------
    TimeoutError
        If another writer keeps it for ten seconds.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder, locked(Path(folder) / "log.csv"):
    ...     beside = [one.name for one in Path(folder).iterdir()]
    >>> beside
    ['.log.csv.lock']

    """
    beside, until = place.with_name(f".{place.name}.lock"), time.monotonic() + _PATIENCE
    while True:
        with beside.open("ab") as file:
            free = _take(file)
            # Whoever held it before may have cleared it away: then this one guards nothing.
            if free and _same(file, beside):
                try:
                    yield
                finally:
                    with suppress(PermissionError):  # Windows keeps what is open: it stays
                        beside.unlink(missing_ok=True)
                return
        if time.monotonic() > until:
            raise TimeoutError(errno.ETIMEDOUT, f"another window keeps {place.name} locked")
        time.sleep(0.005)


def _same(file: BinaryIO, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(file.fileno()), path.stat())
    except FileNotFoundError:
        return False


def _take(file: BinaryIO) -> bool:
    """Lock a file until it is closed; say whether it was free."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as fault:
        return fault.errno in (errno.ENOTSUP, errno.ENOLCK, errno.ENOSYS)
    return True


def replace_file(path: str | os.PathLike[str], content: bytes) -> Path:
    """Put new content in place of a file in one step, or leave it as it was.

    Parameters
    ----------
    path : path
        Where to; an old file of that name is replaced and keeps its permissions.
    content : bytes
        All that the file shall hold.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    path = Path(path)
    partial = path.with_name(f".{path.name}.{secrets.token_hex(4)}.partial")
    try:
        with partial.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, partial)
        return partial.replace(path)
    finally:
        partial.unlink(missing_ok=True)
        _clear(path)


def _clear(path: Path) -> None:
    """Clear away what killed writers of a file have left half written."""
    for left in path.parent.glob(f".{glob.escape(path.name)}.*.partial"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > _LEFT_OVER:
                left.unlink()


@contextmanager
def next_free(folder: str | os.PathLike[str], *names: str) -> Iterator[list[Path]]:
    """Give paths without ending that no older file bears: all names under the same number.

    They are free as long as the context lasts: another writer, who would find the same number
    free, waits for its end.

    Parameters
    ----------
    folder : path
        Where to; it is made if it is not there.
    *names : str
        What is written together.

    Yields
    ------
    list of Path
        ``name-01``, or the first number after that which is free whatever the ending.

    Raises
    ------
    OSError
        If the folder cannot be made or written to, or another writer needs more than ten
        seconds for its new files there.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder, next_free(folder, "plan", "risk") as places:
    ...     found = [place.name for place in places]
    >>> found
    ['plan-01', 'risk-01']

    """
    place, number = named(folder), 1
    place.mkdir(parents=True, exist_ok=True)
    with locked(place / "new files"):
        while any(any(place.glob(f"{glob.escape(name)}-{number:02d}.*")) for name in names):
            number += 1
        yield [Path(folder) / f"{name}-{number:02d}" for name in names]
