# SPDX-License-Identifier: MIT
"""What the whole run needs before its first file is read; pyproject.toml loads it by name.

Linear algebra gets one thread: workers that each ask for all processors wait for each other.

Several workers start kernels at the same time, in pytest and in JupyterLab. A kernel is told
the numbers of five ports that were free a moment ago, and now and then another has taken one:
the kernel dies at its start. Where sockets can be files, kernels get files of their own.

A worker takes a file at a time, what takes longest first. The explorers in the browser would
keep one worker busy long after the others: their notebooks go out in parts.
"""

import os
import re
import shutil
import sys
import tempfile
from pathlib import Path
from uuid import uuid4

import nbval.kernel
from jupyter_client.manager import KernelManager
from xdist.scheduler import LoadFileScheduling

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before NumPy is read, here and in workers
SOCKETS = "ipc" if sys.platform == "linux" else "tcp"  # a path is too long for macOS


def pytest_configure(config):
    folder = tempfile.mkdtemp(prefix="kernels-")
    config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    os.environ["JUPYTER_RUNTIME_DIR"] = folder
    nbval.kernel.KernelManager = kernel_manager


def kernel_manager(**settings):
    """Return nbval's manager of a kernel, with sockets that no other kernel can take."""
    path = Path(os.environ["JUPYTER_RUNTIME_DIR"]) / f"kernel-{uuid4()}.json"
    return KernelManager(transport=SOCKETS, connection_file=str(path), **settings)


_FIRST = ("tests/browser/", "tests/room/", "notebooks/")  # what takes longest, in this order
_PARTED = "tests/browser/test_explorers.py"
_PARTS = 3


def pytest_collection_modifyitems(items):
    def place(item):
        firsts = [item.nodeid.startswith(start) for start in _FIRST]
        return firsts.index(True) if any(firsts) else len(_FIRST)

    items.sort(key=place)  # keeps the order within a file


class InParts(LoadFileScheduling):
    """Hands out file by file, the explorers in the browser a few notebooks at a time."""

    def _split_scope(self, nodeid):
        file = super()._split_scope(nodeid)
        if file != _PARTED or "[" not in nodeid:
            return file
        number = re.match(r"\d*", nodeid.partition("[")[2])[0]
        return f"{file} {int(number or 0) % _PARTS}"


def pytest_xdist_make_scheduler(config, log):
    return InParts(config, log)
