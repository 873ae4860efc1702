# SPDX-License-Identifier: MIT
"""Where a room is served, and what is refused before anyone comes in."""

import ipaddress
import os
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from glasskit.files import content
from glasskit.room.seats import MOST_SEATS

FORMS = ("telephone", "answers")
"""Kinds of room that show forms and run nothing for anyone."""

LESSON = 2 * 3600
"""How long a seat stays taken [s]."""


@dataclass(frozen=True)
class Room:
    """A room for one lesson.

    Attributes
    ----------
    kind : str
        "pages", "hub", "telephone" or "answers".
    seats : int
        Number of seats; pupils who answer.
    host : str
        Address of this machine that pupils' browsers reach; 127.0.0.1 is this machine alone.
    port : int
        Port on it.
    https : str
        Address for pupils that begins with https:// if a proxy on this machine encrypts.
    folder : Path
        What the room writes: copies of the pages, pupils' work, the list of seats.
    log : Path
        The break log that a telephone adds to, and nothing else.
    topic, age : str
        The lesson whose questions are asked, see `classroom.Lesson`.
    code : str
        What lets all pupils in who answer.
    piped : bool
        Whether a page of the kit is the desk of those who answer.

    """

    kind: str
    seats: int
    host: str
    port: int
    https: str
    folder: Path = Path()
    log: Path = Path()
    topic: str = ""
    age: str = ""
    code: str = ""
    piped: bool = False

    @property
    def encrypted(self) -> bool:
        """Whether browsers speak to the room through TLS."""
        return bool(self.https)

    @property
    def address(self) -> str:
        """What pupils type."""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return self.https or f"http://{host}:{self.port}/"

    @property
    def link(self) -> str:
        """What the QR code leads to: the address, with the code where there is one."""
        return f"{self.address.rstrip('/')}/{self.code}"

    @property
    def open(self) -> bool:
        """Whether others than this machine reach it."""
        return not ipaddress.ip_address(self.host).is_loopback or self.encrypted


def refusals(room: Room) -> list[str]:
    """Return why this room must not be opened, a sentence each; empty if it may."""
    found = []
    if sys.platform != "linux" and room.kind not in FORMS:
        return ["A room is served from Linux, where its limits hold."]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        found.append(
            "This is the administrator's account: whoever broke out of a page would own the "
            "machine. Start the room from an ordinary account."
        )
    if not 1 <= room.seats <= MOST_SEATS:
        found.append(f"--seats must be 1 to {MOST_SEATS}; got {room.seats}.")
    if not 1024 <= room.port <= 65535:
        found.append(f"--port must be 1024 to 65535; got {room.port}.")
    found += _about_host(room)
    if room.kind in FORMS:
        return found + (_about_log(room.log) if room.kind == "telephone" else [])
    found += _about_folder(room.folder)
    if shutil.which("bwrap") is None:
        found.append(
            "Without bubblewrap seats are not kept apart: install it (Debian and its kin: "
            "apt-get install bubblewrap)."
        )
    return found


def address_of(request: Any, room: Room) -> str:
    """Return where a request comes from, seen past the proxy that encrypts."""
    forwarded: str = request.headers.get("X-Forwarded-For", "").rsplit(",", 1)[-1].strip()
    address: str = request.remote_ip
    return forwarded if forwarded and room.encrypted else address


def _about_host(room: Room) -> list[str]:
    try:
        host = ipaddress.ip_address(room.host)
    except ValueError:
        return [f"--host must be an address of this machine in digits; got {room.host!r}."]
    if host.is_unspecified:
        return ["--host must be one address of this machine, not all of them at once."]
    if host.is_global:
        return [f"--host must be on a closed network; {host} can be reached from anywhere."]
    if not room.https:
        return []
    if not room.https.startswith("https://"):
        return [f"--https must begin with https://; got {room.https!r}."]
    if not host.is_loopback:
        return ["--https needs a proxy on this machine: leave --host out, it alone listens."]
    return []


def _about_folder(folder: Path) -> list[str]:
    if not folder.exists():
        return []
    held = folder.stat()
    if held.st_uid != os.geteuid():
        return [f"--folder {folder} belongs to another account: name one of your own."]
    if held.st_mode & 0o077:
        return [f"--folder {folder} is open to other accounts: chmod 700 it, or name another."]
    return []


def _about_log(log: Path) -> list[str]:
    if not log.parent.is_dir():
        return [f"--log: there is no folder {log.parent}; make it, or name another."]
    if not os.access(log.parent, os.W_OK):
        return [f"--log: this account cannot write in {log.parent}."]
    try:
        content(log)
    except OSError as fault:
        return [f"--log {log} cannot be read: {fault.strerror or fault}."]
    return []
