# SPDX-License-Identifier: MIT
"""What the whole run needs before its first file is read; pyproject.toml loads it by name.

Several workers start kernels at the same time, in pytest and in JupyterLab. A kernel is told
the numbers of five ports that were free a moment ago, and now and then another has taken one:
the kernel dies at its start. Where sockets can be files, kernels get files of their own.
"""

import os
import shutil
import sys
import tempfile
from pathlib import Path
from uuid import uuid4

import nbval.kernel
from jupyter_client.manager import KernelManager

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
