# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from glasskit.toughening import interdiffusion as i


def crank_series(depth, fourier):
    """Plate with both faces held at one, as the sum of sines (for a long time)."""
    odd = 2 * np.arange(200)[:, None] + 1
    waves = np.exp(-((odd * np.pi) ** 2) * fourier) * np.sin(odd * np.pi * depth) / odd
    return 1 - 4 / np.pi * waves.sum(0)


def similarity(ratio):
    """Share against depth over root of time in a half-space, and its slope at the face.

    Solved as a boundary value problem in one variable, without any time stepping.
    """

    def slopes(place, state):
        share, flow = state
        spread = ratio / (share + (1 - share) * ratio)
        return np.vstack((flow / spread, -place / 2 * flow / spread))

    reach = 6 * np.sqrt(max(ratio, 1.0))
    mesh = np.linspace(0, reach, 400)
    start = np.vstack((np.exp(-mesh), -np.exp(-mesh)))
    done = solve_bvp(
        slopes,
        lambda face, far: np.array([face[0] - 1, far[0]]),
        mesh,
        start,
        tol=1e-8,
        max_nodes=100_000,
    )
    assert done.success
    return done.sol, -done.y[1, 0]


def test_error_falls_with_the_square_of_cell_and_step(outside):
    errors = []
    for size in (20, 40, 80, 160):
        plate = i.interdiffuse(1.0, 0.02, 1.0, cells=size, steps=size)
        errors.append(np.abs(plate.share - crank_series(plate.depth, 0.02)).max())
    rate = np.log2(errors[-2] / errors[-1])
    # Tolerance: the rate is reached only in the limit of fine cells.
    outside(
        "order of the finite volumes",
        rate,
        2.0,
        abs_=0.1,
        source="sum of sines for a plate, Crank, Mathematics of Diffusion",
        status="independent method",
    )
    assert errors[-1] < 1e-4


@pytest.mark.parametrize("ratio", [0.2, 5.0, 30.0])
def test_concentration_dependence_agrees_with_the_similarity_solution(outside, ratio):
    shares, slope = similarity(ratio)
    plate = i.interdiffuse(1.0, 1e-4, 1.0, mobility_ratio=ratio, cells=400, steps=200)
    near = plate.depth < 0.05
    exact = shares(plate.depth[near] / 1e-2)[0]
    # Tolerance: second-order error of 400 cells; the boundary value problem is far better.
    outside(
        f"largest error of the share, leaving ion {ratio:g} times as mobile",
        np.abs(plate.share[near] - exact).max(),
        0.0,
        abs_=4e-4,
        source="similarity solution as a boundary value problem",
        status="independent method",
    )
    outside(
        f"uptake of both faces, leaving ion {ratio:g} times as mobile",
        plate.uptake,
        4 * slope * 1e-2,
        rel=1e-3,
        source="similarity solution as a boundary value problem",
        status="independent method",
    )


@settings(max_examples=30, deadline=None)
@given(
    power=st.floats(-8, 1),
    ratio=st.floats(0.01, 100),
    top=st.floats(0.01, 1),
    cells=st.integers(10, 120),
    steps=st.integers(1, 40),
)
def test_no_ion_is_lost_whatever_the_cells_and_steps(power, ratio, top, cells, steps):
    plate = i.interdiffuse(
        10.0**power,
        1.0,
        1.0,
        mobility_ratio=ratio,
        surface_share=top,
        cells=cells,
        steps=steps,
    )
    # Source: conservation, exact. Tolerance: the bound promised to the user.
    assert plate.uptake == pytest.approx(plate.held, rel=1e-10)


@settings(max_examples=20, deadline=None)
@example(fourier=0.875, ratio=15.0)  # nearly full: the last steps only wear off rounding
@given(fourier=st.floats(1e-6, 1.0), ratio=st.floats(0.05, 20))
def test_shares_stay_between_none_and_the_bath_and_are_alike_on_both_faces(fourier, ratio):
    plate = i.interdiffuse(fourier, 1.0, 1.0, mobility_ratio=ratio, surface_share=0.8)
    # Tolerance: rounding, 1e-16, grows by the step over the square of the thinnest cell, 1e5.
    assert plate.share.min() >= -1e-10
    assert plate.share.max() <= 0.8 + 1e-10
    assert plate.share == pytest.approx(plate.share[::-1], abs=1e-10)


def test_longer_bath_gives_more_everywhere():
    less = i.interdiffuse(1.0, 1e-3, 1.0, mobility_ratio=4.0)
    # The grid follows the depth reached, so compare on a common depth.
    more = i.interdiffuse(2.0, 1e-3, 1.0, mobility_ratio=4.0)
    assert (np.interp(less.depth, more.depth, more.share) >= less.share - 1e-4).all()


def test_equal_mobilities_give_the_constant_coefficient():
    plain = i.interdiffuse(1.0, 1e-3, 1.0)
    almost = i.interdiffuse(1.0, 1e-3, 1.0, mobility_ratio=1 + 1e-9)
    assert almost.share == pytest.approx(plain.share, abs=1e-8)


def test_strain_of_a_fully_swapped_plate_fades_like_maxwell(outside):
    # A plate filled early and then left: all strain is as old as the bath.
    plate = i.interdiffuse(1.0, 1e4, 1.0, relaxation=(1.0, 2.0), cells=20, steps=200)
    outside(
        "strain left after half a relaxation time",
        plate.strained.mean(),
        np.exp(-0.5),
        rel=1e-3,
        source="exp(-t / tau)",
        status="exact",
    )


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"time": 0.0}, "time must be finite and positive; got 0 s"),
        ({"thickness": -1.0}, "thickness must be finite and positive; got -1 m"),
        ({"surface_share": 1.5}, "surface_share must lie in 0 <= .* <= 1; got 1.5"),
        ({"mobility_ratio": 1e4}, "mobility_ratio must lie in 0.01 <= .* <= 100; got 10000"),
        ({"relaxation": (1.0, 0.0)}, "relaxation must be positive; got 0 s"),
        ({"cells": 2}, "cells must be a whole number, 4 <= cells .* got 2"),
        ({"steps": 0}, "steps must be a whole number, 1 <= steps .* got 0"),
    ],
)
def test_bad_input_gets_one_clear_sentence(change, message):
    given_ = {"time": 1.0, "entering": 1e-3, "thickness": 1.0} | change
    with pytest.raises(ValueError, match=f"^{message}$"):
        i.interdiffuse(**given_)


def test_results_cannot_be_written_over():
    plate = i.interdiffuse(1.0, 1e-3, 1.0, cells=10, steps=2)
    with pytest.raises(ValueError, match="read-only"):
        plate.share[0] = 1.0
