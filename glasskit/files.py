# SPDX-License-Identifier: MIT
"""Write files whole or not at all, so that a crash costs nothing that was there."""

import glob
import os
import secrets
import shutil
from pathlib import Path

__all__ = ["next_free", "replace_file"]


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


def next_free(folder: str | os.PathLike[str], *names: str) -> list[Path]:
    """Return paths without ending that no older file bears: all names under the same number.

    Parameters
    ----------
    folder : path
        Where to; it need not be there yet.
    *names : str
        What is written together.

    Returns
    -------
    list of Path
        ``name-01``, or the first number after that which is free whatever the ending.

    """
    place, number = Path(folder), 1
    while any(any(place.glob(f"{glob.escape(name)}-{number:02d}.*")) for name in names):
        number += 1
    return [place / f"{name}-{number:02d}" for name in names]
