# SPDX-License-Identifier: MIT
"""Imports only point down: topics in their order, words, draw, sheets, live."""

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import glasskit

PACKAGE = Path(__file__).resolve().parents[1] / "glasskit"
LAYERS = ["physics", "words", "draw", "sheets", "live", "room"]  # from the ground up
GROUND = ["quantities", "files", "rows", "steps", "tables"]
TOPICS = [  # from the ground up; a topic imports only from those before it
    "materials",
    "stress",
    "plates",
    "bending",
    "toughening",
    "network",
    "crack",
    "light",
    "breakage",
    "damage",
    "strength",
    "impact",
    "breaking",
    "lab",
    "demonstration",
    "measured",
    "training",
    "classroom",
]
OUTSIDE = {"matplotlib": "draw", "IPython": "live", "ipywidgets": "live"}

LOADED = """
import importlib, sys
for layer in sys.argv[1:]:
    before = set(sys.modules)
    for name in layer.split():
        importlib.import_module(name)
    print(*set(sys.modules) - before)
"""


def modules(layer):
    folders = [PACKAGE / name for name in (TOPICS if layer == "physics" else [layer])]
    paths = [path for folder in folders for path in folder.glob("*.py")]
    names = [path.relative_to(PACKAGE.parent).with_suffix("") for path in paths]
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


def imported(path):
    """Return the parts of glasskit that a file imports, such as {"crack", "tables"}."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module == "glasskit":
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("glasskit."):
            found.add(node.module.split(".")[1])
    return found


def test_a_layer_loads_nothing_from_above():
    command = [sys.executable, "-c", LOADED, *(" ".join(modules(layer)) for layer in LAYERS)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=PACKAGE.parent)
    assert done.returncode == 0, done.stderr
    # A page would wait a third of a second for these: load them where they are needed.
    late = {"matplotlib.pyplot", "scipy.signal", "scipy.stats"}
    for layer, line in zip(LAYERS, done.stdout.splitlines(), strict=True):
        loaded = line.split()
        assert loaded, layer
        assert [name for name in loaded if height(name) > LAYERS.index(layer)] == []
        assert not late & set(loaded)


def test_the_heights_tell_the_layers_apart():
    assert height("numpy.linalg") == height("glasskit.quantities") == 0
    assert height("glasskit.words.ions") < height("glasskit.draw.look") == height("matplotlib")
    assert height("ipywidgets.widgets") == height("glasskit.live.explorer") == 4


@pytest.mark.parametrize("topic", TOPICS)
def test_a_topic_imports_only_from_topics_before_it(topic):
    allowed = {*GROUND, *TOPICS[: TOPICS.index(topic) + 1]}
    for path in [*(PACKAGE / topic).glob("*.py"), *PACKAGE.glob(f"{topic}.py")]:
        assert imported(path) <= allowed, path.name


def test_the_table_holds_every_topic():
    folders = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    assert folders == {*TOPICS, *LAYERS[1:]} - {"plates"}
    assert {path.stem for path in PACKAGE.glob("[a-z]*.py")} == {*GROUND, "plates"}


@pytest.mark.parametrize("topic", TOPICS)
def test_a_face_hands_on_what_it_names(topic):
    face = import_module(f"glasskit.{topic}")
    assert face.__all__ == sorted(
        face.__all__, key=lambda name: (not name.isupper(), name.islower(), name)
    )
    assert all(hasattr(face, name) for name in face.__all__)


def test_the_package_shows_its_topics():
    assert {*TOPICS, *LAYERS[1:], *GROUND} < set(dir(glasskit))
    with pytest.raises(AttributeError, match="has no attribute 'windows'"):
        _ = glasskit.windows


def test_a_topic_is_loaded_when_it_is_asked_for():
    code = "import glasskit, sys; print('numpy' in sys.modules, glasskit.crack.__name__)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.stdout.split() == ["False", "glasskit.crack"], done.stderr
