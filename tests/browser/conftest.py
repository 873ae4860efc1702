# SPDX-License-Identifier: MIT
"""One JupyterLab for all tests of a worker; one Chromium for all files here that follow it.

While Playwright runs, its thread has an event loop: explorers in other tests would wait for it
instead of drawing at once. So it ends with the last file of this folder, and what a test here
needs of an explorer is made in another thread, `elsewhere`.
"""

from typing import NamedTuple

import nbformat
import pytest
from nbformat import v4

from browser.lab import LEAVE_NOTHING_OPEN, SCREEN, SPRING, chromium, jupyterlab, lab_page


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


@pytest.fixture(scope="package")
def browser():
    with chromium() as running:
        yield running


@pytest.fixture(scope="package")  # JupyterLab takes longer to load than a notebook
def loaded(browser, lab):
    return lab_page(browser, lab.url)


@pytest.fixture(scope="module")
def page(loaded):
    loaded.set_viewport_size(SCREEN)
    yield loaded
    loaded.evaluate(LEAVE_NOTHING_OPEN)


@pytest.fixture(scope="package")  # what finds faults loads once, and longer than a sheet
def printing(browser):
    sheet = browser.new_page()
    sheet.emulate_media(media="print")
    return sheet


@pytest.fixture(scope="package")
def kernels():
    return []  # one, handed on from notebook to notebook: their own tests start fresh ones
