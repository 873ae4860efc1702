# SPDX-License-Identifier: MIT
"""Say in plain words whether this installation can show the kit, and what to do if not."""

import datetime
import sys
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path

from packaging.requirements import Requirement
from PIL import features

_KEPT = ("my_practice.json", "demonstration/break-log.csv")  # what pages keep between visits
_LEAST_MEMORY = 500e6  # byte: a page with its pictures, and its neighbours
_INSTALL = "run the first command of the README again"


def check_installation(folder: str | Path = ".") -> str:
    """Return a line for everything the notebooks need, and a verdict.

    Parameters
    ----------
    folder : path
        Where pictures will be saved: the folder of the notebooks.

    Returns
    -------
    str
        Lines that start with "good" or "please"; the last one is the verdict.

    """
    wanted = (Requirement(text) for text in requires("glasskit") or ())
    lines = [_package(item) for item in wanted if _for_notebooks(item)]
    python = ".".join(map(str, sys.version_info[:3]))
    good = sys.version_info >= (3, 11)
    known = f"good: Python {python}"
    lines.insert(0, known if good else f"please install Python 3.11 or newer, not {python}")
    webp = features.check("webp")
    lines.append("good: photographs" if webp else f"please {_INSTALL}: pillow lacks WebP")
    lines.append(_memory())
    lines += [_kept(Path(folder) / name) for name in _KEPT]
    lines.append(_writable(Path(folder)))
    lines.append("good: no page needs a network")
    faults = sum(line.startswith("please") for line in lines)
    verdict = f"{faults} to mend, see above." if faults else "All is well: go on."
    return "\n".join([*lines, verdict])


def _for_notebooks(wanted: Requirement) -> bool:
    """Tell what the package and its notebooks need from what only its tests need."""
    return wanted.marker is None or wanted.marker.evaluate({"extra": "lab"})


def _package(wanted: Requirement) -> str:
    remedy = f'{_INSTALL}, or python -m pip install "{wanted.name}{wanted.specifier}"'
    try:
        found = version(wanted.name)
    except PackageNotFoundError:
        return f"please {remedy}: {wanted.name} is missing"
    if found not in wanted.specifier:
        return f"please {remedy}: {wanted.name} is {found}"
    return f"good: {wanted.name} {found}"


def _memory() -> str:
    try:
        import psutil
    except ImportError:  # it comes with what runs the notebooks; its absence is said above
        return "memory: not known here"
    free = psutil.virtual_memory().available
    if free < _LEAST_MEMORY:
        return f"please close other programs: only {free / 1e6:.0f} MB of memory are free"
    return f"good: {free / 1e9:.1f} GB of memory are free"


def _kept(path: Path) -> str:
    """Say of a file that pages keep whether it is there, can be changed, and has a copy."""
    try:
        if not path.exists():
            return f"good: no {path.name} yet, its page will make it"
        with path.open("r+b"):  # refused while another program holds it, or by its rights
            pass
        copies = (path.parent / "backups").glob(f"{path.stem}-*{path.suffix}")
        newest = max(copies, key=lambda item: item.stat().st_mtime, default=None)
        copy = f"a copy is {newest.name} of {_day(newest)}" if newest else "it has no copy yet"
        return f"good: {path.name} of {_day(path)} can be changed; {copy}"
    except OSError as error:
        return f"please close whatever holds {path.resolve()}: {error.strerror}"


def _day(path: Path) -> str:
    return f"{datetime.datetime.fromtimestamp(path.stat().st_mtime):%Y-%m-%d %H:%M}"


def _writable(folder: Path) -> str:
    probe = folder / ".glasskit-probe"
    try:
        probe.touch()
        probe.unlink()
    except OSError:
        return f"please make {folder.resolve()} writable, or pictures cannot be saved there"
    return "good: pictures can be saved beside the notebooks"
