# SPDX-License-Identifier: MIT
"""Write files whole or not at all, so that a crash costs nothing that was there."""

import os
import secrets
import shutil
from pathlib import Path

__all__ = ["replace_file"]


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
