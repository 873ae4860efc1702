# SPDX-License-Identifier: MIT
"""Keep what runs for a seat small and by itself.

``python -m glasskit.room.limits COMMAND ...`` runs a command that can take only so much
memory, processor time and disk. `box` puts a command where it sees one folder and no other
process.
"""

import os
import sys
from collections.abc import Iterable
from pathlib import Path

import glasskit

MEMORY = 2**30
"""Memory that one process may ask for [byte]; a page with its pictures asks for a third."""

PROCESSOR = 20 * 60
"""Processor time of one process [s]: a lesson of pictures, not a loop without end."""

_LARGEST_FILE = 64 * 2**20  # byte
_SCRATCH = 64 * 2**20  # byte, in memory


def limited(command: Iterable[str]) -> list[str]:
    """Return a command that runs another within the limits of a seat."""
    return [sys.executable, "-m", "glasskit.room.limits", *command]


def box(command: Iterable[str], show: Iterable[str] = (), own: str = "") -> list[str]:
    """Return a command that runs another in a box of its own (Linux, bubblewrap).

    In the box are the system's programs, this Python and the kit, all read-only; the files
    in `show`, read-only; and the folder `own`. Other seats' folders and processes do not
    exist there. The network is shared: a kernel must reach its server.

    Parameters
    ----------
    command : iterable of str
        What to run.
    show : iterable of str
        Paths to see.
    own : str, optional
        The one folder to write in.

    """
    import matplotlib  # not for every command that is limited: it takes a while to load

    kit = str(Path(glasskit.__file__).parent)
    system = [
        "/usr",
        "/etc",
        *(f"/{name}" for name in ("bin", "sbin", "lib", "lib32", "lib64")),
    ]
    seen = [*system, sys.base_prefix, sys.prefix, kit, *show]
    words = ["bwrap", "--unshare-user", "--unshare-pid", "--unshare-ipc", "--unshare-uts"]
    words += ["--die-with-parent", "--proc", "/proc", "--dev", "/dev"]
    words += ["--size", str(_SCRATCH), "--tmpfs", "/tmp"]
    for path in seen:
        words += ["--ro-bind-try", path, path]
    # Without the list of fonts each first picture waits for a search through them all.
    for fonts in Path(matplotlib.get_cachedir()).glob("fontlist-*.json"):
        words += ["--ro-bind", str(fonts), f"/tmp/fonts/{fonts.name}"]
    words += ["--setenv", "MPLCONFIGDIR", "/tmp/fonts", "--setenv", "HOME", own or "/tmp"]
    if own:
        words += ["--bind", own, own]
    return [*words, "--remount-ro", "/", "--chdir", own or "/", "--", *command]


def _run(command: list[str]) -> None:
    """Take the limits upon this process, then become the command."""
    import resource  # not on Windows, where no room is served

    for kind, most in (
        (resource.RLIMIT_DATA, MEMORY),
        (resource.RLIMIT_AS, 2 * MEMORY),  # programs and libraries count here too
        (resource.RLIMIT_CPU, PROCESSOR),
        (resource.RLIMIT_FSIZE, _LARGEST_FILE),
        (resource.RLIMIT_CORE, 0),
    ):
        resource.setrlimit(kind, (most, most))
    os.nice(5)  # the server answers first
    # Each thread of a linear algebra library reserves memory; one is enough for a page.
    one = {f"{name}_NUM_THREADS": "1" for name in ("OPENBLAS", "OMP", "MKL")}
    environment = {**os.environ, **one}
    if os.getppid() == 1:  # in a box the first process is no sign that the server has gone
        environment.pop("JPY_PARENT_PID", None)
    os.execvpe(command[0], command, environment)


if __name__ == "__main__":
    _run(sys.argv[1:])
