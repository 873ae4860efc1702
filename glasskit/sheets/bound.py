# SPDX-License-Identifier: MIT
"""Several sheets as one file, and that file as a PDF by a browser that is installed.

The sheets are made for browsers, and every school has one. Where one of the family that can
print without a window is on the path, or named in the variable ``BROWSER``, it makes the PDF;
elsewhere the file is opened and printed, or saved as a PDF, by hand.
"""

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from glasskit.files import replace_file
from glasskit.sheets.page import render
from glasskit.steps import Steps, in_steps

_NAMES = ("chromium", "chromium-browser")
_PATIENCE = 240.0  # [s]
_LOOK = 0.2  # [s] between two looks whether it is done


def bound(
    title: str,
    sheets: Sequence[str],
    pages: Sequence[str],
    paper: tuple[float, float],
    version: str = "",
) -> str:
    """Return sheets one after the other as one HTML document, each from a new page.

    Parameters
    ----------
    title : str
        Of the whole.
    sheets : sequence of str
        HTML documents of the frame ``base.html``.
    pages : sequence of str
        Pictures of the size of the paper, as data URIs, at the end.
    paper : tuple of float
        Width and height [mm].
    version : str
        Of the sheets: "large" for large print.

    Returns
    -------
    str
        HTML with style and pictures inside, of that paper.

    """
    bodies = [re.findall(r"<body>(.*)</body>", sheet, re.S)[0] for sheet in sheets]
    width, height = paper
    return render(
        "bound.html",
        title=title,
        bodies=bodies,
        pages=pages,
        width=width,
        height=height,
        version=version,
    )


def browser() -> str:
    """Return the path of a browser that prints without a window, or an empty string."""
    wanted = (*os.environ.get("BROWSER", "").split(os.pathsep), *_NAMES)
    return next((found for name in wanted if name and (found := shutil.which(name))), "")


def _root() -> bool:
    """Tell whether we run as root, for whom such a browser has no sandbox."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _waited(command: Sequence[str]) -> Steps[None]:
    """Run a program to its end; one that takes too long, or is not wanted any more, ends."""
    try:
        running = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
    except OSError:
        return
    try:
        for waited in range(int(_PATIENCE / _LOOK)):
            with suppress(subprocess.TimeoutExpired):
                running.wait(_LOOK)
                return
            yield waited * _LOOK / _PATIENCE, "the PDF"
    finally:
        running.kill()
        running.wait()


@in_steps
def printed(page: Path) -> Steps[list[Path]]:
    """Print a file to a PDF beside it, if a browser is found that can.

    Parameters
    ----------
    page : Path
        An HTML file with a size of paper of its own.

    Returns
    -------
    list of Path
        The PDF; empty if none could be made.

    Raises
    ------
    OSError
        If the PDF cannot be written.

    """
    if not (program := browser()):
        return []
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "made.pdf"
        command = [
            *(program, "--headless", "--disable-gpu", "--no-first-run"),
            *(("--no-sandbox",) if _root() else ()),
            *("--disable-background-networking", f"--user-data-dir={folder}/profile"),
            *("--no-pdf-header-footer", f"--print-to-pdf={made}", page.resolve().as_uri()),
        ]
        yield from _waited(command)
        if not made.exists():  # no browser of that kind: print by hand
            return []
        return [replace_file(page.with_suffix(".pdf"), made.read_bytes())]
