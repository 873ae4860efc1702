# SPDX-License-Identifier: MIT
"""Imports only point down: physics, words, draw, sheets, live, each usable by itself."""

import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "glasskit"
LAYERS = ["physics", "words", "draw", "sheets", "live"]  # from the ground up
OUTSIDE = {"matplotlib": "draw", "PIL": "draw", "IPython": "live", "ipywidgets": "live"}

LOADED = """
import importlib, sys
for name in sys.argv[1:]:
    importlib.import_module(name)
print(*sys.modules)
"""


def modules(layer):
    folder = PACKAGE if layer == "physics" else PACKAGE / layer
    names = [path.relative_to(PACKAGE.parent).with_suffix("") for path in folder.glob("*.py")]
    return sorted(".".join(name.parts).removesuffix(".__init__") for name in names)


def layer_of(module):
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in LAYERS else "physics"


def height(name):
    """Return how high up a loaded module belongs; 0 for what every layer may use."""
    first = name.split(".")[0]
    if first == "glasskit":
        return LAYERS.index(layer_of(name))
    return LAYERS.index(OUTSIDE[first]) if first in OUTSIDE else 0


@pytest.mark.parametrize("layer", LAYERS)
def test_a_layer_loads_nothing_from_above(layer):
    command = [sys.executable, "-c", LOADED, *modules(layer)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=PACKAGE.parent)
    assert done.returncode == 0, done.stderr
    loaded = done.stdout.split()
    assert [name for name in loaded if height(name) > LAYERS.index(layer)] == []
    assert "matplotlib.pyplot" not in loaded


def test_the_heights_tell_the_layers_apart():
    assert height("numpy.linalg") == height("glasskit.quantities") == 0
    assert height("glasskit.words.ions") < height("glasskit.draw.look") == height("matplotlib")
    assert height("ipywidgets.widgets") == height("glasskit.live.explorer") == 4
