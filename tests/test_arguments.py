# SPDX-License-Identifier: MIT
"""Every number that a public function takes is refused in words when it is no number.

The functions are found, not listed, and called as in their own examples with one argument
spoilt at a time, so a new function cannot forget its checks.
"""

import inspect
import re
from dataclasses import fields, is_dataclass, replace
from functools import cache, partial
from pathlib import Path
from types import UnionType
from typing import Union, get_args, get_origin

import numpy as np
import pytest
from faces import NO_EXAMPLE, call, good_call, good_instance, public
from numpy.typing import ArrayLike

ROOT = Path(__file__).resolve().parents[1]
SPOILT = {
    "not a number": np.nan,
    "infinity": np.inf,
    "minus infinity": -np.inf,
    "truth value": True,
    "complex number": 1 + 1j,
    "text": "20e-6",
    "time span": np.timedelta64(30, "s"),
    "masked reading": np.ma.masked_array([1.0, 2.0], mask=[False, True]),
    "beyond any float": 10**400,
}

# Topic -> why its functions may take what others refuse.
TOPICS = {"quantities": "holds the checks and shows whatever number it is given"}
# (function, argument) -> why it need not refuse.
EXCEPTIONS = {
    ("strength.plotting_positions", "censored"): "true or false for each specimen",
}

FUNCTIONS = {
    name: function
    for name, function in public(inspect.isfunction).items()
    if name.split(".")[0] not in TOPICS and name not in NO_EXAMPLE
}


def is_number(annotation):
    """Return whether an annotation takes a number; a FloatArray has been checked before."""
    if get_origin(annotation) in (Union, UnionType):
        return any(is_number(member) for member in get_args(annotation))
    # Up to NumPy 2.4 ArrayLike is a union with complex in it, since then a name of its own.
    return annotation in (float, int, complex, ArrayLike)


def numbers(function):
    return [
        parameter.name
        for parameter in inspect.signature(function).parameters.values()
        if is_number(parameter.annotation)
    ]


def said_of(documented, argument):
    """Return what a docstring says of an argument."""
    bases = documented.__mro__ if inspect.isclass(documented) else [documented]
    text = "\n".join(inspect.cleandoc(base.__doc__ or "") + "\n" for base in bases)
    entry = re.search(rf"^[\w, ]*\b{argument}\b[\w, ]*(?: :.*)?\n((?: +.*\n|\n)+)", text, re.M)
    return entry.group() if entry else ""


def allowed(documented, argument):
    """Return kinds of spoilt numbers that a docstring allows."""
    words = said_of(documented, argument)
    signs = {"infinity": r"\binfinit", "not a number": r"\bNaN\b"}
    return {kind for kind, sign in signs.items() if re.search(sign, words)}


def fault(trial, argument, spoilt):
    """Return what is wrong with the answer to a spoilt argument, empty if nothing."""
    try:
        got = trial(**{argument: spoilt})
    except (ValueError, TypeError) as error:
        named = re.search(rf"\b{argument}\b", str(error))
        return "" if named else f"does not name it: {type(error).__name__}: {error}"
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return f"taken, gives {got!r:.60}"


def faults(trial, documented, argument):
    """Return kind of spoilt number -> what is wrong with the answer to it."""
    kinds = SPOILT.keys() - allowed(documented, argument)
    found = {kind: fault(trial, argument, SPOILT[kind]) for kind in sorted(kinds)}
    return {kind: what for kind, what in found.items() if what}


def trial(name):
    """Return a call of a public function as in its example, but for what is spoilt."""
    function = FUNCTIONS[name]

    def call_but(**spoilt):
        return call(function, good_call(function) | spoilt)

    return call_but


@cache
def the_example_works(name):
    trial(name)()


ARGUMENTS = [(name, argument) for name in FUNCTIONS for argument in numbers(FUNCTIONS[name])]


@pytest.mark.parametrize(("name", "argument"), ARGUMENTS)
@pytest.mark.filterwarnings("ignore")  # what is not refused may warn on its way
def test_what_is_no_number_is_refused_by_name(name, argument):
    the_example_works(name)
    found = faults(trial(name), FUNCTIONS[name], argument)
    if (name, argument) in EXCEPTIONS:
        assert found, "refuses all: take it off the list"
    else:
        assert found == {}


# --- things: a pane, a glass, a law ---------------------------------------------------------


def kinds(annotation):
    """Return the single types that an annotation allows."""
    if get_origin(annotation) in (Union, UnionType):
        return [kind for member in get_args(annotation) for kind in kinds(member)]
    return [annotation]


def is_thing(annotation):
    """Return whether an annotation takes an object of the package and no plain number."""
    ours = [
        getattr(kind, "__module__", "").startswith("glasskit") for kind in kinds(annotation)
    ]
    return any(ours) and not is_number(annotation)


THINGS = [
    (name, parameter.name)
    for name, function in FUNCTIONS.items()
    for parameter in inspect.signature(function).parameters.values()
    if is_thing(parameter.annotation)
]


@pytest.mark.parametrize(("name", "argument"), THINGS)
@pytest.mark.filterwarnings("ignore")
def test_what_is_no_such_thing_is_refused_by_name(name, argument):
    wanted = kinds(inspect.signature(FUNCTIONS[name]).parameters[argument].annotation)
    found = {
        repr(spoilt): what
        for spoilt in (0.5, "a word", None, [1.0])
        if type(spoilt) not in wanted or isinstance(spoilt, str)
        if (what := fault(trial(name), argument, spoilt))
    }
    assert found == {}


# --- what users build -----------------------------------------------------------------------


CLASSES = {name: kind for name, kind in public(inspect.isclass).items() if is_dataclass(kind)}


def built_by_users():
    """Return names of classes that notebooks, panels, sheets and the README call."""
    files = [ROOT / "README.md", *ROOT.glob("notebooks/*.ipynb")]
    files += [*ROOT.glob("glasskit/live/*.py"), *ROOT.glob("glasskit/sheets/*.py")]
    called = {
        name
        for path in files
        for name in re.findall(r"\b([A-Z]\w+)\(", path.read_text("utf-8"))
    }
    return [name for name, kind in CLASSES.items() if kind.__name__ in called]


def number_fields(kind):
    return [field.name for field in fields(kind) if field.init and is_number(field.type)]


@pytest.mark.parametrize("name", built_by_users())
def test_what_users_build_checks_itself(name):
    kind = CLASSES[name]
    assert hasattr(kind, "__post_init__") or not number_fields(kind)


CHECKS = {"positive", "non_negative", "finite", "in_range", "within", "whole", "require"}
FIELDS = [  # a class that checks one number checks them all
    (name, field)
    for name, kind in CLASSES.items()
    if not kind.__subclasses__()
    if hasattr(kind, "__post_init__") and CHECKS & {*kind.__post_init__.__code__.co_names}
    for field in number_fields(kind)
]


@pytest.mark.parametrize(("name", "field"), FIELDS)
@pytest.mark.filterwarnings("ignore")
def test_what_is_no_number_is_refused_by_a_class_that_checks_itself(name, field):
    good = good_instance(CLASSES[name])
    assert faults(partial(replace, good), CLASSES[name], field) == {}
