# SPDX-License-Identifier: MIT
"""One JupyterLab for all tests of a worker, one Chromium for each file."""

from typing import NamedTuple

import nbformat
import pytest
from browser.lab import SPRING, chromium, jupyterlab, lab_page
from nbformat import v4


class Lab(NamedTuple):
    """A running JupyterLab: where its notebooks lie, and a function path -> URL."""

    notebooks: object
    url: object


@pytest.fixture(scope="session")
def lab(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lab")
    with jupyterlab(folder) as url:
        cell = v4.new_code_cell("from spring import predicted_spring\npredicted_spring()")
        notebook = v4.new_notebook(cells=[cell])
        notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
        nbformat.write(notebook, folder / "notebooks" / SPRING)
        yield Lab(folder / "notebooks", url)


@pytest.fixture(scope="module")
def browser():
    # Of one file only: while Playwright runs, this thread has an event loop, and explorers
    # in other tests would wait for it instead of drawing at once.
    with chromium() as running:
        yield running


@pytest.fixture(scope="module")  # the start of JupyterLab takes as long as a notebook
def page(browser, lab):
    return lab_page(browser, lab.url)
