# SPDX-License-Identifier: MIT
"""The form every notebook keeps: short cells, a title, outputs only where they are checked.

``python tests/tidy_notebooks.py`` brings outputs, counts and metadata into this form.
"""

import nbformat
import pytest
from nbformat import v4
from tidy_notebooks import CHECK, NOTEBOOKS, tidy

PATHS = sorted(NOTEBOOKS.glob("*.ipynb"))
MOST_LINES = 15


def faults(notebook):
    """Return what is wrong with a notebook's form, one sentence each."""
    found = []
    first = notebook.cells[0]
    if first.cell_type != "markdown" or not first.source.startswith("# "):
        found.append("the first cell is not a title")
    if set(notebook.metadata) != {"kernelspec"}:
        found.append(f"metadata besides the kernel: {sorted(notebook.metadata)}")
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    if not any(CHECK in cell.metadata.get("tags", []) for cell in code):
        found.append(f"no cell is tagged {CHECK}")
    for cell in code:
        start = cell.source.splitlines()[0] if cell.source else "an empty cell"
        checked = CHECK in cell.metadata.get("tags", [])
        if len(cell.source.splitlines()) > MOST_LINES:
            found.append(f"more than {MOST_LINES} lines: {start}")
        if bool(cell.outputs) != checked:
            found.append(f"output {'missing' if checked else 'kept'}: {start}")
        if cell.execution_count != (1 if checked else None):
            found.append(f"count {cell.execution_count}: {start}")
        if "execution" in cell.metadata:
            found.append(f"time stamps kept: {start}")
        if cell.metadata.get("jupyter", {}).get("source_hidden") and "hide-input" not in (
            cell.metadata.get("tags", [])
        ):
            found.append(f"hidden in JupyterLab but without the tag hide-input: {start}")
    return found


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_notebook_form(path):
    assert faults(nbformat.read(path, as_version=4)) == []


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_notebook_opens_with_promise_minutes_and_audience(path):
    opening = nbformat.read(path, as_version=4).cells[0].source
    assert "minutes" in opening, "the first cell does not say how long it takes"


def executed():
    checked = v4.new_code_cell("print(1)", execution_count=7)
    checked.metadata.update(tags=[CHECK], execution={"start": "now"})
    checked.outputs = [v4.new_output("execute_result", {"text/plain": "1"}, execution_count=7)]
    plain = v4.new_code_cell("2", execution_count=8)
    plain.outputs = [v4.new_output("stream", text="2")]
    return v4.new_notebook(
        cells=[v4.new_markdown_cell("# See"), checked, plain], metadata={"widgets": {}}
    )


def test_an_untidy_notebook_has_faults_and_tidying_mends_them():
    notebook = executed()
    assert faults(notebook) == [
        "metadata besides the kernel: ['widgets']",
        "count 7: print(1)",
        "time stamps kept: print(1)",
        "output kept: 2",
        "count 8: 2",
    ]
    tidy(notebook)
    assert faults(notebook) == []
    assert notebook.cells[1].outputs[0]["execution_count"] == 1


def test_what_tidying_cannot_mend_is_a_fault():
    notebook = executed()
    tidy(notebook)
    notebook.cells[1].outputs = []
    notebook.cells[2].source = "x\n" * 16
    notebook.cells[2].metadata["jupyter"] = {"source_hidden": True}
    notebook.cells[0].source = "no title"
    assert faults(notebook) == [
        "the first cell is not a title",
        "output missing: print(1)",
        "more than 15 lines: x",
        "hidden in JupyterLab but without the tag hide-input: x",
    ]
