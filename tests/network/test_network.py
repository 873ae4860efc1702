# SPDX-License-Identifier: MIT
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from glasskit.materials import ionic_radius
from glasskit.network import annealing, network
from glasskit.network.springs import gradient, pull, settle, sideways

GLASS = network.make(sites=300, seed=7)
LAYER = 2e-9
NOISE = 1e-9  # relaxed to 1e-9 of a bond's force


def squeeze(glass, incoming="K", layers=6, **chosen):
    after = network.relax(network.swap(glass, incoming, **{"layer": LAYER, **chosen}))
    return network.layer_stress(glass, after, layers)


def with_radius(glass, factor):
    """Glass whose upper ions are all so many times as large as they were, at rest."""
    radii = glass.radii * np.where(glass.ion_depths <= LAYER, factor, 1.0)
    return network.relax(network._with_ions(glass, ("X",) * len(radii), radii))


# --- what the swap does ---------------------------------------------------------------------


def test_swap_to_the_same_ion_changes_nothing():
    result = squeeze(GLASS, "Na")
    assert np.abs(result.stress).max() < NOISE
    assert not result.swapped.any()


@pytest.mark.parametrize("seed", range(4))
def test_newcomer_of_the_same_size_leaves_no_stress_even_after_a_shake(outside, seed):
    shake = 0.02 * np.random.default_rng(seed).standard_normal(GLASS.positions.shape)
    shake[np.setdiff1d(np.arange(len(shake)), GLASS.pairs.free)] = 0.0
    after = network.relax(replace(GLASS, positions=GLASS.positions + shake * annealing.BOND))
    outside(
        f"largest layer stress after a same-size swap, seed {seed}",
        np.abs(network.layer_stress(GLASS, after).stress).max(),
        0.0,
        abs_=NOISE,
        source="no misfit, no stress",
        status="exact",
    )


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_squeeze_grows_from_ion_to_ion_and_a_smaller_one_pulls(seed):
    glass = network.make(sites=150, seed=seed)
    total = [squeeze(glass, ion).stress.sum() for ion in network.IONS]
    assert total[0] > NOISE
    assert abs(total[1]) < NOISE
    assert (np.diff(total) < -NOISE).all()


@settings(max_examples=25, deadline=None)
@given(
    seed=st.integers(0, 2**32),
    ends=st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
    ion=st.sampled_from(["K", "Rb", "Cs"]),
)
def test_squeeze_grows_with_the_share_swapped(seed, ends, ion):
    few, many = (squeeze(GLASS, ion, fraction=f, seed=seed) for f in sorted(ends))
    assert many.swapped[few.swapped].all()
    if few.swapped.sum() < many.swapped.sum():
        assert many.stress.sum() < few.stress.sum() - NOISE


@settings(max_examples=25, deadline=None)
@given(factors=st.tuples(st.floats(0.7, 1.6), st.floats(0.7, 1.6)))
def test_squeeze_grows_with_misfit(factors):
    small, large = sorted(factors)
    few, many = (network.layer_stress(GLASS, with_radius(GLASS, f)) for f in (small, large))
    if large - small > 1e-6:
        assert many.stress.sum() < few.stress.sum()


def test_little_misfit_gives_stress_in_proportion():
    # Limit: for small misfit the answer is linear, so half the misfit gives half the stress.
    whole, half = (
        network.layer_stress(GLASS, with_radius(GLASS, 1 + m)).stress.sum()
        for m in (2e-4, 1e-4)
    )
    assert whole / half == pytest.approx(2.0, rel=2e-3)


@pytest.mark.parametrize("seed", range(4))
def test_stress_stays_in_the_swapped_layer(seed):
    glass = network.make(sites=500, seed=seed)
    stress = squeeze(glass, "K", layers=5).stress
    assert stress[0] < 0
    assert np.abs(stress[2:]).max() < 0.05 * abs(stress[0])


def test_surface_rises_with_larger_ions_and_sinks_with_smaller():
    def rise(ion):
        return squeeze(GLASS, ion).displacement[:, 1].max()

    assert rise("Cs") > rise("K") > 1e-12
    assert squeeze(GLASS, "Li").displacement[:, 1].min() < -1e-12


def test_number_of_ions_and_width_stay():
    after = squeeze(GLASS, "K", fraction=0.5).after
    assert len(after.elements) == len(GLASS.elements)
    near = (GLASS.ion_depths <= LAYER).sum()
    assert Counter(after.elements)["K"] == round(0.5 * near)
    assert after.width == GLASS.width
    assert after.radii == pytest.approx([ionic_radius(ion) for ion in after.elements])


def test_deeper_layer_swaps_the_same_ions_and_more():
    shallow, deep = (squeeze(GLASS, layer=depth).swapped for depth in (1.5e-9, 3e-9))
    assert deep[shallow].all()
    assert deep.sum() > shallow.sum() > 0


def test_swapping_back_gives_the_old_glass_back():
    back = network.relax(network.swap(squeeze(GLASS, "K").after, "Na", layer=1.0))
    assert back.positions == pytest.approx(GLASS.positions, abs=1e-7 * annealing.BOND)


# --- the reading ----------------------------------------------------------------------------


@pytest.mark.parametrize("ion", ["Li", "K", "Cs"])
def test_virial_is_the_slope_of_the_energy_with_sideways_strain(outside, ion):
    result = squeeze(GLASS, ion, layers=7)

    def slope(glass, h=1e-5):
        energies = []
        for strain in (h, -h):
            stretch = np.array([1 + strain, 1.0])
            wider = replace(glass.pairs, period=glass.pairs.period * (1 + strain))
            energies.append(pull(wider, glass.positions / annealing.BOND * stretch).energy)
        return (energies[0] - energies[1]) / (2 * h)

    area = GLASS.width * GLASS.surface / annealing.BOND**2
    outside(
        f"mean of the layer stresses, {ion}",
        result.stress.mean(),
        (slope(result.after) - slope(GLASS)) / area,
        rel=1e-6,
        source="central difference of the energy with strain at fixed shape",
        status="independent method",
    )


def carried(glass, before, edges):
    """Return the force across upright cuts, averaged over many, for each layer of before."""
    now = pull(glass.pairs, glass.positions / annealing.BOND)
    depths = (before.surface - before.positions[:, 1])[now.ends]
    starts = glass.positions[now.ends[:, 1], 0] / annealing.BOND
    period, layers = glass.pairs.period, len(edges) - 1
    cuts, total = (np.arange(400) + 0.5) * period / 400, np.zeros(layers)
    for (across, _), force, (end, begin), start in zip(
        now.span, now.tension / now.length, depths, starts, strict=True
    ):
        way = (cuts - start) % period if across > 0 else -((start - cuts) % period)
        share = way[np.abs(way) < abs(across)] / across
        layer = np.digitize(begin + share * (end - begin), edges[1:-1])
        total += np.bincount(layer, minlength=layers) * force * abs(across)
    return total / len(cuts) / (before.surface / layers / annealing.BOND)


def test_layer_stress_is_what_cuts_through_the_layer_carry(outside):
    result = squeeze(GLASS, "Cs", layers=10)
    cut = carried(result.after, GLASS, result.edges) - carried(GLASS, GLASS, result.edges)
    for layer in range(4):
        outside(
            f"stress of layer {layer} by cuts, in the largest",
            result.stress[layer] / np.abs(result.stress).max(),
            cut[layer] / np.abs(result.stress).max(),
            abs_=0.02,  # 400 cuts through about 20 pairs of a layer: counting error
            source="force across upright cuts, averaged over 400 of them",
            status="independent method",
        )


@given(layers=st.integers(1, 40))
@settings(max_examples=10, deadline=None)
def test_layers_of_any_number_carry_the_same_force(layers):
    mean = squeeze(GLASS, layers=layers).stress.mean()
    assert mean == pytest.approx(squeeze(GLASS, layers=1).stress[0], rel=1e-9)


# --- the glass ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(3))
def test_glass_as_made_is_at_rest_and_unsqueezed(seed):
    glass = network.make(sites=200, seed=seed)
    now = pull(glass.pairs, glass.positions / annealing.BOND)
    left = gradient(now, len(glass.positions))[glass.pairs.free]
    assert np.abs(left).max() < 1e-9
    area = glass.width * glass.surface / annealing.BOND**2
    assert abs(sideways(now).sum()) / area < 1e-5


def test_each_ion_sits_inside_its_ring():
    for ion, ring in zip(GLASS.ions, GLASS.hosts, strict=True):
        around = GLASS.positions[GLASS.rings[ring]] - ion
        around[:, 0] -= GLASS.width * np.round(around[:, 0] / GLASS.width)
        angle = np.arctan2(around[:, 1], around[:, 0])
        turn = np.diff(np.unwrap(np.append(angle, angle[0])))
        assert abs(turn.sum()) == pytest.approx(2 * np.pi)


def test_bonds_stay_near_the_length_of_silica(outside):
    span = np.diff(GLASS.positions[GLASS.bonds], axis=1)[:, 0]
    span[:, 0] -= GLASS.width * np.round(span[:, 0] / GLASS.width)
    outside(
        "mean former-oxygen distance, m",
        np.hypot(*span.T).mean(),
        1.62e-10,
        rel=0.03,
        source="[MozziWarren1969]: Si-O closely 1.62 Å",
        status="found",
    )


def test_same_seed_gives_the_same_glass():
    again = network.make(sites=300, seed=7)
    assert np.array_equal(again.positions, GLASS.positions)
    assert not np.array_equal(network.make(sites=300, seed=8).positions, again.positions)


def test_occupancy_says_how_many_rings_hold_an_ion_and_the_widest_come_first():
    full, half = (network.make(sites=100, occupancy=share) for share in (1.0, 0.5))
    assert len(full.elements) == len(full.rings)
    taken = half.ring_sizes[half.hosts]
    assert len(taken) == round(0.5 * len(half.rings))
    assert taken.min() >= np.delete(half.ring_sizes, half.hosts).max()
    assert network.make(sites=100, occupancy=0.0).elements == ()


def test_glass_without_ions_swaps_nothing():
    empty = network.make(sites=100, occupancy=0.0)
    assert np.abs(squeeze(empty).stress).max() < NOISE


def test_arrays_are_read_only():
    for array in (GLASS.positions, GLASS.radii, GLASS.bonds, squeeze(GLASS).stress):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: network.make(sites=10),
            r"^sites must be a whole number, 60 <= sites .* got 10$",
        ),
        (lambda: network.make(ion="Mg"), r"^ion must be one of Li, Na, K, Rb, Cs; got 'Mg'$"),
        (lambda: network.make(occupancy=1.2), r"^occupancy must lie in .* got 1.2$"),
        (lambda: network.swap(GLASS, "Xx"), r"^incoming must be one of"),
        (lambda: network.swap(GLASS, fraction=-0.1), r"^fraction must lie in 0 <= fraction"),
        (lambda: network.swap(GLASS, layer=0.0), r"^layer must be finite and positive"),
        (lambda: network.relax(GLASS, 0.0), r"^tolerance must be finite and positive"),
        (
            lambda: network.layer_stress(GLASS, GLASS, 0),
            r"^layers must be a whole number, 1 <= layers .* got 0$",
        ),
        (
            lambda: network.layer_stress(GLASS, network.make(sites=300, seed=8)),
            r"^after must be the same glass",
        ),
    ],
)
def test_bad_input_is_refused_in_one_sentence(call, message):
    with pytest.raises(ValueError, match=message):
        call()


def test_relaxing_matches_settling_by_hand():
    swapped = network.swap(GLASS, "K", layer=LAYER)
    by_hand = settle(swapped.pairs, swapped.positions / annealing.BOND) * annealing.BOND
    assert np.array_equal(network.relax(swapped).positions, by_hand)
