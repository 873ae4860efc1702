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

INNER = "called with what has been checked, in loops"
# Module -> why its functions may take what others refuse.
MODULES = {
    "annealing": INNER,
    "confidence": INNER,
    "pairs": INNER,
    "quantities": "holds the checks and shows whatever number it is given",
    "rings": INNER,
    "weight": INNER,
}
# (function, argument) -> why it need not refuse.
EXCEPTIONS = {
    ("intensity.checked_crack", "stress"): "checked by the functions that call it",
    ("odds.simulate", "panes"): INNER,
    ("odds.strike", "panes"): INNER,
    ("ranks.plotting_positions", "censored"): "true or false for each specimen",
}

FUNCTIONS = {
    name: function
    for name, function in public(inspect.isfunction).items()
    if name.split(".")[0] not in MODULES
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
