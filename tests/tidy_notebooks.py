# SPDX-License-Identifier: MIT
"""Run notebooks and store them so that their differences can be read.

    python tests/tidy_notebooks.py [notebooks/NN_name.ipynb ...]

Without names, all of ``notebooks/``. Outputs stay only in cells tagged ``nbval-check-output``,
with count 1, for a checked cell without a count is skipped by nbval without a word. A second
run changes nothing. The stored numbers are refreshed: read the difference as a change of
physics, and never run this to turn a red check green without a source.
"""

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

NOTEBOOKS = Path(__file__).resolve().parents[1] / "notebooks"
CHECK = "nbval-check-output"
KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}


def tidy(notebook):
    """Reduce an executed notebook to what is stored; change it in place."""
    notebook.metadata = nbformat.from_dict({"kernelspec": KERNEL})
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        cell.metadata.pop("trusted", None)
        if cell.cell_type != "code":
            continue
        checked = CHECK in cell.metadata.get("tags", [])
        cell.execution_count = 1 if checked else None
        cell.outputs = cell.outputs if checked else []
        for output in cell.outputs:
            if "execution_count" in output:
                output["execution_count"] = 1


def run(path):
    """Execute a notebook in its own folder, tidy and write it; return whether it changed."""
    before = path.read_text(encoding="utf-8")
    notebook = nbformat.reads(before, as_version=4)
    options = {"resources": {"metadata": {"path": str(path.parent)}}, "kernel_name": "python3"}
    # What a slow cell prints may come in parts, other parts each time.
    NotebookClient(notebook, timeout=120, coalesce_streams=True, **options).execute()
    tidy(notebook)
    after = nbformat.writes(notebook) + "\n"
    if after != before:
        path.write_text(after, encoding="utf-8")
    return after != before


def main(names):
    for path in map(Path, names) if names else sorted(NOTEBOOKS.glob("*.ipynb")):
        print(f"{path.name}: {'rewritten' if run(path) else 'as it was'}")


if __name__ == "__main__":
    main(sys.argv[1:])
