# SPDX-License-Identifier: MIT
"""Long work in steps, so that whoever waits sees how far it is and can stop between two.

A generator yields the share of the work that is done [-] and what it is at, and returns the
result. Nothing runs beside it: what comes in meanwhile is served between two steps.
"""

import functools
from collections.abc import Callable, Generator
from contextlib import closing
from typing import Generic, ParamSpec, Protocol, TypeVar, cast

__all__ = ["Steps", "finished", "in_steps", "part"]

P = ParamSpec("P")
Result = TypeVar("Result")
Made = TypeVar("Made", covariant=True)

Steps = Generator[tuple[float, str], None, Result]


class InSteps(Protocol, Generic[P, Made]):
    """A function that does its work when called, and can give it step by step."""

    @property
    def steps(self) -> Callable[P, Steps[Made]]:
        """The same work, step by step."""

    def __call__(self, *args: P.args, **named: P.kwargs) -> Made:
        """Do all of it and return the result."""


def finished(steps: Steps[Result]) -> Result:
    """Do all steps and return the result.

    Parameters
    ----------
    steps : generator
        Work in steps.

    Returns
    -------
    object
        What it returns.

    Examples
    --------
    >>> def counted():
    ...     yield 0.5, "half"
    ...     return 7
    >>> finished(counted())
    7

    """
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return cast(Result, end.value)


def in_steps(work: Callable[P, Steps[Result]]) -> InSteps[P, Result]:
    """Return a function that does all of a work in steps; its `steps` gives them one by one.

    Parameters
    ----------
    work : callable
        Returns the generator.

    Returns
    -------
    callable
        Takes the same and returns the result.

    Examples
    --------
    >>> @in_steps
    ... def doubled(number):
    ...     yield 0.5, "doubling"
    ...     return 2 * number
    >>> doubled(4), [said for share, said in doubled.steps(4)]
    (8, ['doubling'])

    """

    @functools.wraps(work)
    def whole(*args: P.args, **named: P.kwargs) -> Result:
        return finished(work(*args, **named))

    vars(whole)["steps"] = work
    return cast(InSteps[P, Result], whole)


def part(steps: Steps[Result], place: tuple[int, int], said: str) -> Steps[Result]:
    """Take steps as a part of larger work.

    Parameters
    ----------
    steps : generator
        The part.
    place : tuple of int
        Which part it is, counted from one, and of how many.
    said : str
        What the part is.

    Returns
    -------
    generator
        The same steps, told as such of the whole.

    Examples
    --------
    >>> def counted():
    ...     yield 0.5, "frame 1 of 2"
    ...     return 7
    >>> list(part(counted(), (2, 2), "second film"))
    [(0.75, 'second film: frame 1 of 2')]

    """
    number, of = place
    with closing(steps):
        while True:
            try:
                share, doing = next(steps)
            except StopIteration as end:
                return cast(Result, end.value)
            yield (number - 1 + share) / of, f"{said}: {doing}" if doing else said
