# SPDX-License-Identifier: MIT
"""A hub for one class on one machine: each pupil opens a browser, logs in, and has a copy.

    pip install jupyterhub jupyterhub-idle-culler && npm install -g configurable-http-proxy
    GLASSKIT_ROOM_PASSWORD="a word for the room" jupyterhub -f assets/jupyterhub_config.py

For a closed network and one lesson: all pupils share one password and one system account.
Anything open to the internet wants real accounts: see the hub's own guide to authenticators.
"""

import os
import shutil
import sys
from pathlib import Path

c = get_config()  # noqa: F821, handed in by the hub
kit = Path(__file__).resolve().parents[1]
room = Path(os.environ.get("GLASSKIT_ROOM", kit / "room"))

c.JupyterHub.authenticator_class = "dummy"
c.DummyAuthenticator.password = os.environ["GLASSKIT_ROOM_PASSWORD"]
c.Authenticator.allow_all = True  # whoever knows the word of the room

c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = str(room / "{username}")
c.Spawner.default_url = "/lab/tree/notebooks/00_start_here.ipynb"
c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
c.Spawner.args = ["--allow-root"]  # only asked for where the hub itself runs as root
c.Spawner.start_timeout = 120
c.JupyterHub.concurrent_spawn_limit = 6  # a whole class logs in at once


def own_copy(spawner):
    """Give a pupil a copy of the pages on the first visit; later ones find their own work."""
    home = room / spawner.user.name
    for part in ("notebooks", "assets"):
        if not (home / part).exists():
            shutil.copytree(kit / part, home / part)


c.Spawner.pre_spawn_hook = own_copy

# Kernels that nobody has used for an hour are stopped, and their memory is free again.
c.JupyterHub.load_roles = [
    {
        "name": "idle",
        "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
        "services": ["idle"],
    }
]
c.JupyterHub.services = [
    {
        "name": "idle",
        "command": [sys.executable, "-m", "jupyterhub_idle_culler", "--timeout=3600"],
    }
]
