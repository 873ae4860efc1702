# SPDX-License-Identifier: MIT
"""Explain, safely and truthfully, why toughened glass survives blows that break plain glass.

Import the topic you need, for example ``from glasskit import crack, stress``. A topic is
loaded when it is first asked for: a page which needs one does not wait for the others.
"""

from importlib import import_module
from types import ModuleType

__version__ = "0.1.0"

_TOPICS = [
    "bending",
    "breakage",
    "breaking",
    "classroom",
    "crack",
    "damage",
    "demonstration",
    "impact",
    "lab",
    "light",
    "materials",
    "measured",
    "network",
    "strength",
    "stress",
    "toughening",
    "training",
    "plates",
    "quantities",
    "rows",
    "steps",
    "tables",
    "files",
    "words",
    "draw",
    "sheets",
    "live",
    "room",
]


def __getattr__(name: str) -> ModuleType:
    if name in _TOPICS:
        return import_module(f"glasskit.{name}")
    raise AttributeError(f"module 'glasskit' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted([*_TOPICS, "__version__"])
