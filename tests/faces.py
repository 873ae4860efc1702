# SPDX-License-Identifier: MIT
"""The public physics of the package, and one good call of each function from its examples."""

import doctest
import importlib
import inspect
import pkgutil
import sys
from functools import cache

import glasskit

PICTURES_AND_WORDS = ("words", "draw", "sheets", "live")


@cache
def physics_modules():
    """Return every public module of physics, topic packages and their parts alike."""
    found = []
    for info in pkgutil.walk_packages(glasskit.__path__, "glasskit."):
        parts = info.name.split(".")[1:]
        if parts[0] in PICTURES_AND_WORDS or any(part.startswith("_") for part in parts):
            continue
        found.append(importlib.import_module(info.name))
    return found


def _names(module):
    own = [
        name
        for name, value in vars(module).items()
        if getattr(value, "__module__", None) == module.__name__ and name[0] != "_"
    ]
    return getattr(module, "__all__", own)


@cache
def public(kind):
    """Return name -> object of all that is public and of a kind, each once."""
    found = {}
    for module in physics_modules():
        for name in _names(module):
            value = getattr(module, name)
            bare = inspect.unwrap(value) if callable(value) else value
            if kind(bare) and bare.__module__.startswith("glasskit."):
                found[f"{bare.__module__.removeprefix('glasskit.')}.{bare.__qualname__}"] = (
                    value
                )
    return dict(sorted(found.items()))


# --- good calls -----------------------------------------------------------------------------


class _Keep:
    """Profiler that keeps the arguments of the first call of every function of the package."""

    def __init__(self):
        self.arguments = {}

    def __call__(self, frame, event, _argument):
        code = frame.f_code
        if event == "call" and "glasskit" in code.co_filename and code not in self.arguments:
            self.arguments[code] = dict(frame.f_locals)


_KEPT = _Keep()


@cache
def _run_examples(module):
    """Run the examples of one module and keep what its functions were called with."""
    runner = doctest.DocTestRunner(verbose=False)
    before = sys.getprofile()
    for test in doctest.DocTestFinder().find(module):
        sys.setprofile(_KEPT)
        try:
            runner.run(test, out=lambda _text: None)
        finally:
            sys.setprofile(before)


def good_call(function):
    """Return name -> value of a call that works, taken from the examples in the docstrings."""
    bare = inspect.unwrap(function)
    _run_examples(inspect.getmodule(bare))
    kept = _KEPT.arguments[bare.__code__]
    return {name: kept[name] for name in inspect.signature(bare).parameters}


def call(function, arguments):
    """Call with arguments by name, whatever kind the parameters are."""
    bound = inspect.signature(function).bind_partial()
    bound.arguments.update(arguments)
    return function(*bound.args, **bound.kwargs)
