# SPDX-License-Identifier: MIT
from pathlib import Path

import yaml

ASSETS = Path(__file__).resolve().parents[2] / "assets"


def test_the_cluster_lets_nobody_in_before_a_log_in_is_chosen():
    hub = yaml.safe_load((ASSETS / "room_kubernetes.yaml").read_text())["hub"]["config"]
    assert hub["JupyterHub"]["authenticator_class"] == "null"
    cookies = hub["JupyterHub"]["tornado_settings"]["cookie_options"]
    assert cookies == {
        "secure": True,
        "samesite": "Lax",
        "httponly": True,
        "expires_days": 0.084,
    }


def test_a_seat_on_the_cluster_is_small_and_by_itself():
    seat = yaml.safe_load((ASSETS / "room_kubernetes.yaml").read_text())["singleuser"]
    assert seat["memory"]["limit"] == "1G"
    assert seat["cpu"]["limit"] == 1
    assert seat["uid"] != 0
    assert not seat["allowPrivilegeEscalation"]
    assert not seat["networkPolicy"]["egressAllowRules"]["nonPrivateIPs"]
    assert not seat["networkPolicy"]["egressAllowRules"]["privateIPs"]


def test_the_image_runs_as_no_root_and_without_terminals():
    lines = (ASSETS / "room_image.Dockerfile").read_text().splitlines()
    assert [line for line in lines if line.startswith("USER ")][-1] == "USER seat"
    assert "terminals_enabled=False" in lines[-1]
