# SPDX-License-Identifier: MIT
"""Every number that a public function takes is refused in words when it is no number.

The functions are found, not listed, and called as in their own examples with one argument
spoilt at a time, so a new function cannot forget its checks.
"""

import inspect
import re
from functools import cache
from types import UnionType
from typing import Union, get_args, get_origin

import numpy as np
import pytest
from faces import call, good_call, public

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
    if name.split(".")[0] not in TOPICS
}


def is_number(annotation):
    """Return whether an annotation takes a number; a FloatArray has been checked before."""
    if get_origin(annotation) in (Union, UnionType):
        return any(is_number(member) for member in get_args(annotation))
    return annotation in (float, int, complex)  # complex stands in ArrayLike


def numbers(function):
    return [
        parameter.name
        for parameter in inspect.signature(function).parameters.values()
        if is_number(parameter.annotation)
    ]


def infinity_is_allowed(function, argument):
    """Return whether the docstring says that an argument may be infinite."""
    text = inspect.getdoc(function) or ""
    entry = re.search(rf"^[\w, ]*\b{argument}\b[\w, ]*(?: :.*)?\n((?: +.*\n|\n)+)", text, re.M)
    return entry is not None and re.search(r"\binfinit|\binf\b", entry.group()) is not None


def fault(function, argument, spoilt):
    """Return what is wrong with the answer to a spoilt argument, empty if nothing."""
    try:
        got = call(function, good_call(function) | {argument: spoilt})
    except (ValueError, TypeError) as error:
        named = re.search(rf"\b{argument}\b", str(error))
        return "" if named else f"does not name it: {type(error).__name__}: {error}"
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return f"taken, gives {got!r:.60}"


@cache
def _its_example_works(name):
    call(FUNCTIONS[name], good_call(FUNCTIONS[name]))


ARGUMENTS = [(name, argument) for name in FUNCTIONS for argument in numbers(FUNCTIONS[name])]


@pytest.mark.parametrize(("name", "argument"), ARGUMENTS)
@pytest.mark.filterwarnings("ignore")  # what is not refused may warn on its way
def test_what_is_no_number_is_refused_by_name(name, argument):
    function = FUNCTIONS[name]
    _its_example_works(name)
    faults = {
        kind: found
        for kind, spoilt in SPOILT.items()
        if not (kind == "infinity" and infinity_is_allowed(function, argument))
        if (found := fault(function, argument, spoilt))
    }
    if (name, argument) in EXCEPTIONS:
        assert faults, "refuses all: take it off the list"
    else:
        assert faults == {}


# --- things: a pane, a glass, a law ---------------------------------------------------------


def kinds(annotation):
    """Return the single types that an annotation allows."""
    if get_origin(annotation) in (Union, UnionType):
        return [kind for member in get_args(annotation) for kind in kinds(member)]
    return [annotation]


def is_thing(annotation):
    """Return whether an annotation takes an object of the package and no plain number."""
    ours = [getattr(kind, "__module__", "").startswith("glasskit") for kind in kinds(annotation)]
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
    function = FUNCTIONS[name]
    allowed = kinds(inspect.signature(function).parameters[argument].annotation)
    _its_example_works(name)
    faults = {
        repr(spoilt): found
        for spoilt in (0.5, "a word", None, [1.0])
        if type(spoilt) not in allowed or isinstance(spoilt, str)
        if (found := fault(function, argument, spoilt))
    }
    assert faults == {}
