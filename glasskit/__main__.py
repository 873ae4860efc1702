# SPDX-License-Identifier: MIT
"""Open the kit: ``python -m glasskit`` lays its pages into a folder and starts JupyterLab.

So a wheel is enough. Pages that are in the folder already stay as they are.
"""

import argparse
import shutil
import subprocess
import sys
from importlib.metadata import PackageNotFoundError, files
from importlib.util import find_spec
from pathlib import Path

_FIRST = Path("notebooks/00_start_here.ipynb")
_PARTS = ("notebooks/*.ipynb", "assets/*.*")
_LAB = 'python -m pip install "jupyterlab>=4.2,<5"'


def kit() -> Path:
    """Return the folder with the notebooks and assets of this installation.

    Raises
    ------
    FileNotFoundError
        If they were not installed with the package.

    """
    beside = Path(__file__).resolve().parents[1]
    if (beside / _FIRST).is_file():
        return beside
    try:
        installed = files("glasskit") or []
    except PackageNotFoundError:
        installed = []
    for file in installed:
        if file.name == _FIRST.name:
            return Path(str(file.locate())).resolve().parents[1]
    raise FileNotFoundError("this installation has no pages: install glasskit again")


def lay_out(folder: Path) -> tuple[int, int]:
    """Copy the pages into a folder, made if it is not there.

    Parameters
    ----------
    folder : Path
        Where ``notebooks`` and ``assets`` go.

    Returns
    -------
    tuple of int
        How many files were written, and how many were there already and stay.

    Raises
    ------
    OSError
        If the pages are missing or the folder cannot be written to.

    """
    source, written, kept = kit(), 0, 0
    for part in _PARTS:
        for page in sorted(path for path in source.glob(part) if path.is_file()):
            copy = folder / page.relative_to(source)
            if copy.exists():
                kept += 1
                continue
            copy.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(page, copy)
            written += 1
    return written, kept


def main(words: list[str] | None = None) -> int:
    """Do as the command line says; return the exit status."""
    parser = argparse.ArgumentParser(prog="python -m glasskit", description="Open the kit.")
    parser.add_argument(
        "folder",
        nargs="?",
        type=Path,
        default=Path("glasskit-pages"),
        help="where the pages are laid; glasskit-pages by default",
    )
    folder: Path = parser.parse_args(words).folder
    try:
        written, kept = lay_out(folder)
    except OSError as error:
        print(f"The pages cannot be laid into {folder}: {error.strerror or error}.")
        return 1
    print(f"{written} files laid into {folder}, {kept} that were there stay as they are.")
    if find_spec("jupyterlab") is None:
        print(f"To open them you need JupyterLab: {_LAB}, then python -m glasskit {folder}")
        return 1
    first = f"--LabApp.default_url=/lab/tree/{_FIRST.as_posix()}"
    return subprocess.call([sys.executable, "-m", "jupyterlab", first], cwd=folder)


if __name__ == "__main__":
    sys.exit(main())
