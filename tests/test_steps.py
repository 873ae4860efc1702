# SPDX-License-Identifier: MIT
"""Work in steps: whole in one call, or one step at a time."""

import pytest

from glasskit.steps import finished, in_steps, part


@in_steps
def doubled(number):
    """Return twice a number."""
    if number < 0:
        raise ValueError(f"number must be at least 0; got {number}")
    yield 0.5, "half"
    yield 1.0, ""
    return 2 * number


def test_called_it_does_the_whole_and_refuses_at_once():
    assert doubled(4) == finished(doubled.steps(4)) == 8
    assert doubled.__doc__ == "Return twice a number."
    with pytest.raises(ValueError, match="at least 0; got -1"):
        doubled(-1)


def test_a_part_tells_its_share_of_the_whole_and_hands_on_its_result():
    steps, told = part(doubled.steps(4), (2, 2), "second"), []

    def whole():
        return (yield from steps)

    for step in (running := whole()):
        told.append(step)
        if len(told) == 1:
            break
    assert told == [(0.75, "second: half")]
    assert next(running) == (1.0, "second")
    with pytest.raises(StopIteration) as end:
        next(running)
    assert end.value.value == 8


def test_a_part_that_is_given_up_gives_up_what_it_is_made_of():
    tidied = []

    def work():
        try:
            yield 0.0, "first"
        finally:
            tidied.append(True)

    steps = part(work(), (1, 1), "all")
    next(steps)
    steps.close()
    assert tidied == [True]
