# SPDX-License-Identifier: MIT
"""The public physics of the package, and one good call of each function from its examples."""

import doctest
import gc
import importlib
import inspect
import pkgutil
import sys
from functools import cache, partial

import glasskit
from glasskit.demonstration import FallingPane
from glasskit.materials import Glass, Solid, glass, solid

ABOVE = ("words", "draw", "sheets", "live", "room", "__main__")  # no physics
# Function -> why no example calls it.
NO_EXAMPLE = {"demonstration.study": "takes minutes: its result stands in data/reckoned.csv"}


@cache
def public(kind):
    """Return "topic.name" -> object of a kind, from all that the faces of physics hand on."""
    found = {}
    for info in pkgutil.iter_modules(glasskit.__path__):
        if info.name in ABOVE:
            continue
        face = importlib.import_module(f"glasskit.{info.name}")
        for name in face.__all__:
            value = getattr(face, name)
            bare = inspect.unwrap(value) if callable(value) else value
            if kind(bare) and bare.__module__.startswith("glasskit."):
                found[f"{info.name}.{name}"] = value
    return found


# --- good calls -----------------------------------------------------------------------------


class _Keep:
    """Profiler that keeps what every function was first called with, and what was built."""

    def __init__(self):
        self.arguments = {}
        self.built = {}

    def __call__(self, frame, event, _argument):
        code = frame.f_code
        if event != "call" or "glasskit" not in code.co_filename:
            return
        if code not in self.arguments:
            self.arguments[code] = dict(frame.f_locals)
        if code.co_name == "__post_init__":
            made = frame.f_locals["self"]
            self.built.setdefault(type(made), made)


_KEPT = _Keep()


@cache
def _run_examples(module):
    """Run the examples of one module and keep what its functions were called with."""
    runner = doctest.DocTestRunner(verbose=False)
    before = sys.getprofile()
    for test in doctest.DocTestFinder().find(module):
        sys.setprofile(_KEPT)
        try:
            runner.run(test, out=lambda _text: None, clear_globs=False)
        finally:
            sys.setprofile(before)


def good_call(function):
    """Return name -> value of a call that works, taken from the examples in the docstrings."""
    bare = inspect.unwrap(function)
    _run_examples(inspect.getmodule(bare))
    kept = _KEPT.arguments[bare.__code__]
    return {name: kept[name] for name in inspect.signature(bare).parameters}


# Kept by the package once they are made, so that an example may not build them again.
_MADE_ONCE = {
    Solid: partial(solid, "steel"),
    Glass: partial(glass, "soda-lime"),
    FallingPane: FallingPane,
}


@cache
def good_instance(kind):
    """Return an object of a dataclass that checks itself, built by an example."""
    if kind in _MADE_ONCE:
        return _MADE_ONCE[kind]()
    topic = kind.__module__.split(".")[1]
    for module in [name for name in sys.modules if name.startswith(f"glasskit.{topic}")]:
        if kind not in _KEPT.built:
            _run_examples(sys.modules[module])
    if kind in _KEPT.built:
        return _KEPT.built[kind]
    # Rows of a table that another test has read are kept by the package, not built again.
    return next(kept for kept in gc.get_objects() if type(kept) is kind)


def call(function, arguments):
    """Call with arguments by name, whatever kind the parameters are."""
    bound = inspect.signature(function).bind_partial()
    bound.arguments.update(arguments)
    return function(*bound.args, **bound.kwargs)
