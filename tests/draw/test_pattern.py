# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from glasskit.draw import pattern


def area(cell):
    x, y = cell.T
    return 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


@settings(deadline=None, max_examples=15)
@given(seed=st.integers(0, 2**32 - 1), density=st.floats(5e3, 1e5))
def test_pieces_fill_the_pane(seed, density):
    pane = pattern.break_pattern(0.12, 0.08, density, np.random.default_rng(seed))
    assert len(pane.cells) == round(density * 0.12 * 0.08)
    assert sum(map(area, pane.cells)) == pytest.approx(0.12 * 0.08, rel=1e-6)
    corners = np.concatenate(pane.cells)
    assert (corners >= 0).all()
    assert (corners <= [0.12, 0.08]).all()


def test_testers_count_gives_the_density():
    pane = pattern.break_pattern(0.5, 0.5, 16000.0, np.random.default_rng(3))
    counts = []
    for middle in np.stack(np.meshgrid(*[np.linspace(0.05, 0.45, 10)] * 2), -1).reshape(-1, 2):
        held = [(abs(cell - middle) <= 25e-3).all(axis=1) for cell in pane.cells]
        # Testers count pieces that are whole as one, and those that the square cuts as a half.
        counts.append(sum((any(inside) + all(inside)) / 2 for inside in held))
    # Tolerance: chance, and the half counted for every cut piece, of which the corners of the
    # square add about one too much.
    assert np.mean(counts) == pytest.approx(40.0, rel=0.06)


def test_one_seed_draws_one_pane():
    draw = [pattern.break_pattern(0.1, 0.1, 1e4, np.random.default_rng(5)) for _ in "ab"]
    assert np.array_equal(draw[0].cells[0], draw[1].cells[0])


def test_too_many_or_too_few_pieces_are_refused():
    rule = "density must give 4 to 20000 pieces"
    for density in (1.0, 1e6):
        with pytest.raises(ValueError, match=f"^{rule}; got "):
            pattern.break_pattern(1.0, 1.0, density, np.random.default_rng())
