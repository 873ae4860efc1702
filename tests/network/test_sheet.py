# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from glasskit.network import draw_sheet

ZACHARIASEN = "[Zachariasen1932]: rules of an oxide glass, for a plane A2O3"
SHEETS = {"sites": st.integers(60, 300), "disorder": st.floats(0.0, 0.3)}


def draw(sites=200, disorder=0.2, seed=1):
    return draw_sheet(sites, disorder, np.random.default_rng(seed))


def partners(sheet):
    """Count the formers of each oxygen."""
    return np.bincount(sheet.bonds[:, 1])[sheet.formers :]


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 2**32), **SHEETS)
def test_formers_have_three_oxygens_and_oxygens_two_formers(sites, disorder, seed):
    # Source: ZACHARIASEN, exact for the plane; the cut seam leaves one former to its oxygens.
    sheet = draw(sites, disorder, seed)
    assert sheet.formers >= sites
    assert (np.bincount(sheet.bonds[:, 0]) == 3).all()
    single = np.flatnonzero(partners(sheet) == 1) + sheet.formers
    assert sorted(single) == sorted([*sheet.base, *sheet.top])
    assert (np.delete(partners(sheet), single - sheet.formers) == 2).all()


@pytest.mark.parametrize("seed", range(5))
def test_rings_bridges_and_formers_obey_euler(outside, seed):
    sheet = draw(400, 0.2, seed)
    bridges = (partners(sheet) == 2).sum()
    outside(
        f"formers less bridging oxygens plus rings, seed {seed}",
        sheet.formers - bridges + len(sheet.rings),
        0.0,
        abs_=0.0,
        source="Euler: vertices - edges + faces = 0 on a cylinder",
        status="exact",
    )


def test_each_ring_is_a_closed_walk_over_shared_formers():
    sheet = draw()
    formers = {}
    for former, oxygen in sheet.bonds.tolist():
        formers.setdefault(oxygen, set()).add(former)
    for ring in sheet.rings:
        shared = [
            formers[a] & formers[b]
            for a, b in zip(ring.tolist(), np.roll(ring, 1).tolist(), strict=True)
        ]
        assert all(len(both) == 1 for both in shared)
        assert len(set.union(*shared)) == len(ring) == len(set(ring.tolist()))


def test_rings_are_of_mixed_size_in_a_glass_and_all_sixfold_in_a_crystal():
    glass = np.bincount([len(ring) for ring in draw(1000).rings], minlength=9)
    assert all(glass[size] > 0 for size in (5, 6, 7))
    assert 0.4 < glass[6] / glass.sum() < 0.75
    assert {len(ring) for ring in draw(1000, disorder=0.0).rings} == {6}


def test_crystal_is_drawn_with_bonds_of_one_length():
    sheet = draw(disorder=0.0)
    span = np.diff(sheet.positions[sheet.bonds], axis=1)[:, 0]
    span[:, 0] -= sheet.width * np.round(span[:, 0] / sheet.width)
    assert np.hypot(*span.T) == pytest.approx(1.0, rel=1e-12)


def test_hinges_join_next_but_one_oxygens_of_a_ring():
    sheet = draw()
    hinges = {frozenset(pair) for pair in sheet.hinges.tolist()}
    for ring in sheet.rings:
        skipping = zip(ring.tolist(), np.roll(ring, 2).tolist(), strict=True)
        assert {frozenset(pair) for pair in skipping} <= hinges


def test_same_seed_gives_the_same_sheet_and_another_seed_another():
    assert np.array_equal(draw(seed=4).positions, draw(seed=4).positions)
    assert not np.array_equal(draw(seed=4).positions, draw(seed=5).positions)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"sites": 20}, r"^sites must be a whole number, 60 <= sites .* got 20$"),
        ({"disorder": 0.7}, r"^disorder must lie in 0 <= disorder <= 0.4; got 0.7$"),
        ({"disorder": -0.1}, r"^disorder must lie in"),
        ({"disorder": np.nan}, r"^disorder must lie in"),
    ],
)
def test_sheet_refuses_what_it_cannot_draw(arguments, message):
    with pytest.raises(ValueError, match=message):
        draw(**arguments)
