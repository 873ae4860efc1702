# SPDX-License-Identifier: MIT
"""What the docstring of every public function of physics says.

Every function: its parameters, what it returns, and an example if it takes anything. One that
takes numbers: what is raised. One that takes measurable numbers, not just counts or a seed:
the unit of each in brackets, or "As for" the function where it stands; the source, here or at
the head of the file (a key of ``data/references.csv`` or one of `NO_WORK`); its limits under
Notes or Warns. The others only look things up, read, write or draw lots.
"""

import importlib
import inspect
import pkgutil
import re
import sys

import pytest
from faces import NO_EXAMPLE, public
from test_arguments import numbers

import glasskit
from glasskit.tables import read

TOOLS = ("files", "quantities", "rows", "steps", "tables")  # under the physics, not of it
SECTIONS = "Parameters|Returns|Yields|Raises|Warns|Notes|References|Examples"
# Where a formula or a number has no single work behind it, the docstring says which it is.
NO_WORK = (
    "common practice",
    "definition",
    "hand calculation",
    "invented",
    "judgement",
    "own method",
)
KEYS = {row["key"] for row in read("references")}
UNIT = re.compile(r"\[[^\]]+\]")

FUNCTIONS = {
    name: inspect.unwrap(function)
    for name, function in public(inspect.isfunction).items()
    if name.split(".")[0] not in TOOLS
}


def sections(function):
    """Return heading -> text, the summary under an empty heading."""
    parts = re.split(rf"^({SECTIONS})\n-+\n", inspect.getdoc(function) or "", flags=re.M)
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


def entries(text):
    """Return parameter -> what a section says of it; several may share an entry."""
    found = {}
    for entry in re.finditer(r"^(\S[^:\n]*)(?: : .*)?\n((?:[ ]+.*\n?|\n)*)", text, re.M):
        for name in entry[1].split(","):
            found[name.strip(" *")] = entry[0]
    return found


def missing(function):
    """Return what the docstring of a function does not say."""
    said, parameters = sections(function), inspect.signature(function).parameters
    listed, numeric = entries(said.get("Parameters", "")), numbers(function)
    measured = [name for name in numeric if parameters[name].annotation is not int]
    told = [listed.get(name, "[in the list of parameters first]") for name in measured]
    returned = inspect.signature(function).return_annotation
    whole = f"{inspect.getdoc(function)} {inspect.getmodule(function).__doc__}"
    needs = {
        "parameters": not parameters.keys() <= listed.keys(),
        "units": not all(UNIT.search(text) or "As for `" in text for text in told),
        "returns": returned is not None and not {"Returns", "Yields"} & said.keys(),
        "unit of result": returned is float and not UNIT.search(said.get("Returns", "")),
        "example": bool(parameters) and ">>> " not in said.get("Examples", ""),
        "raises": bool(numeric) and "Raises" not in said,
        "source": bool(measured)
        and not KEYS & set(re.findall(r"\[(\w+)\]", whole))
        and not any(words in whole.lower() for words in NO_WORK),
        "limits": bool(measured) and not {"Notes", "Warns"} & said.keys(),
    }
    return {what for what, needed in needs.items() if needed}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_docstring_says_all_that_is_asked(name):
    assert missing(FUNCTIONS[name]) == ({"example"} if name in NO_EXAMPLE else set())


POINTER = re.compile(r"(?<!`)`([A-Za-z_]+(?:\.[A-Za-z_]+)+)`(?!`)")
MODULES = [
    importlib.import_module(info.name)
    for info in pkgutil.walk_packages(glasskit.__path__, "glasskit.")
    if not info.name.endswith("__main__")
]


def leads_somewhere(dotted, module):
    """Return whether a pointer leads on, from a module, its topic, the package or outside."""
    first, *rest = dotted.removeprefix("glasskit.").split(".")
    starts = [getattr(place, first, None) for place in (module, topic_of(module), glasskit)]
    return any(start and holds(start, rest) for start in [*starts, sys.modules.get(first)])


def topic_of(module):
    return sys.modules[module.__name__.rpartition(".")[0]]


def holds(start, names):
    """Return whether names lead on from an object: attributes, fields and slots."""
    for name in names:
        if not hasattr(start, name):
            return name in getattr(start, "__annotations__", {})
        start = getattr(start, name)
    return True


def test_pointers_in_docstrings_lead_somewhere():
    lost = {
        f"{module.__name__}: {dotted}"
        for module in MODULES
        for dotted in POINTER.findall(inspect.getsource(module))
        if not leads_somewhere(dotted, module)
    }
    assert not lost
