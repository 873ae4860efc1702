# SPDX-License-Identifier: MIT
"""A hub for those who need kernels: each seat works in a box of its own.

The hub runs under an ordinary account and starts one notebook server for each seat. All
servers belong to that account; a box (Linux namespaces, through bubblewrap) keeps them from
each other's files and processes, and limits keep each process small.
"""

import os
import shutil
import sys
from pathlib import Path
from typing import Any, ClassVar

from jupyterhub.app import JupyterHub
from jupyterhub.auth import Authenticator
from jupyterhub.spawner import SimpleLocalProcessSpawner
from jupyterhub.utils import random_port
from tornado.web import HTTPError
from traitlets.config import Config

from glasskit.__main__ import kit
from glasskit.room.door import LESSON, Room, address_of
from glasskit.room.limits import box, limited
from glasskit.room.seats import Seats, TooSoon

_IDLE = 20 * 60  # s without use before a kernel, and then its server, is stopped


class SeatAuthenticator(Authenticator):
    """Lets in whoever has a word for a seat."""

    room: ClassVar[Room]
    seats: ClassVar[Seats]

    async def authenticate(self, handler: Any, data: dict[str, str]) -> str | None:
        """Return the seat, or None for a wrong word."""
        seat = data["username"].strip().lower()
        try:
            address = address_of(handler.request, self.room)
            return seat if self.seats.admit(seat, data["password"], address) else None
        except TooSoon as wait:
            raise HTTPError(429, str(wait)) from None


class BoxedSpawner(SimpleLocalProcessSpawner):
    """Starts a seat's server in its box, with its own copy of the pages."""

    async def start(self) -> Any:
        """Lay out the seat's folder on the first visit and start the server in it."""
        home = Path(self.home_dir)
        home.mkdir(parents=True, exist_ok=True)
        for part in ("notebooks", "assets"):
            if not (home / part).exists():
                partial = home / f".{part}.partial"  # cut short, it is made anew
                shutil.rmtree(partial, ignore_errors=True)
                shutil.copytree(kit() / part, partial)
                partial.rename(home / part)
        server = limited([sys.executable, "-m", "jupyterhub.singleuser"])
        self.cmd = box(server, own=str(home))
        return await super().start()


class _Hub(JupyterHub):
    """The hub with the room's settings and no configuration file."""

    settings_of_room: ClassVar[Config]

    def load_config_file(self, *_: Any, **__: Any) -> None:
        """Take the room's settings; a file lying about is not read."""
        self.update_config(self.settings_of_room)


def serve(room: Room, seats: Seats) -> None:
    """Serve the hub until it is stopped.

    Parameters
    ----------
    room : Room
        Where and how.
    seats : Seats
        Who may come in.

    """
    SeatAuthenticator.room, SeatAuthenticator.seats = room, seats
    _Hub.settings_of_room = _settings(room, seats)
    os.chdir(room.folder)
    _Hub.launch_instance([])


def _settings(room: Room, seats: Seats) -> Config:
    config = Config()
    hub = config.JupyterHub
    host = f"[{room.host}]" if ":" in room.host else room.host
    hub.bind_url = f"http://{host}:{room.port}"
    hub.hub_port = random_port()
    hub.authenticator_class = SeatAuthenticator
    hub.spawner_class = BoxedSpawner
    # One start is one lesson: nothing that was signed or stored before it counts.
    hub.cookie_secret = os.urandom(32)
    hub.db_url = "sqlite:///:memory:"
    hub.cookie_max_age_days = LESSON / (24 * 3600)
    hub.tornado_settings = {
        "cookie_options": {
            "samesite": "Lax",
            "secure": room.encrypted,
            "httponly": True,
            "expires_days": LESSON / (24 * 3600),
        }
    }
    hub.active_server_limit = room.seats
    hub.concurrent_spawn_limit = 6  # a whole class comes in at once
    proxy = "from configurable_http_proxy.cli import main; main()"
    config.ConfigurableHTTPProxy.command = [sys.executable, "-c", proxy]
    config.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{random_port()}"
    config.Authenticator.allowed_users = set(seats.words)
    spawner = config.Spawner
    config.BoxedSpawner.home_dir_template = str(room.folder / "work" / "{username}")
    spawner.default_url = "/lab/tree/notebooks/00_start_here.ipynb"
    spawner.disable_user_config = True
    spawner.start_timeout = 120
    spawner.args = [
        "--ServerApp.terminals_enabled=False",
        f"--MappingKernelManager.cull_idle_timeout={_IDLE}",
        f"--ServerApp.shutdown_no_activity_timeout={_IDLE}",
    ]
    return config
