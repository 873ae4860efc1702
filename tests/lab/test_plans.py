# SPDX-License-Identifier: MIT
"""A series by lot: as many as were asked for, every piece once, faces in turn."""

import numpy as np
import pytest

from glasskit.lab import parse_records, plan_series
from glasskit.strength import sample_size


def test_every_piece_comes_up_once_and_faces_share_them():
    plan = plan_series(1.25, np.random.default_rng(2))
    pieces = [piece for piece, _ in plan.rows]
    wanted = sample_size(1.25**2).item()
    assert len(set(pieces)) == len(pieces) == wanted + plan.spare
    counts = [sum(face == one for _, face in plan.rows) for one in ("air", "tin")]
    assert abs(counts[0] - counts[1]) <= 1
    assert pieces != sorted(pieces)


def test_no_place_in_the_order_is_liked_by_a_face_or_a_piece():
    first = [plan_series(2.0, np.random.default_rng(seed)).rows[0] for seed in range(400)]
    share = np.mean([face == "air" for _, face in first])
    assert abs(share - 0.5) < 0.08
    assert len({piece for piece, _ in first}) > 5


def test_the_table_is_read_again_by_the_kit_once_it_is_filled_in():
    lines = plan_series(2.0, np.random.default_rng(1)).to_csv().splitlines()
    sizes = "outer_span [mm];inner_span [mm];width [mm];thickness [mm];method"
    filled = [
        f"{line.replace(';;;', ';250;edge;')};100;50;20;4;four_point_bar" for line in lines[1:]
    ]
    series = parse_records("\n".join([f"{lines[0]};{sizes}", *filled]))
    assert len(series.records) == len(filled)
    assert series.troubles == ()


def test_what_is_no_plan_is_refused():
    rng = np.random.default_rng(1)
    with pytest.raises(ValueError, match=r"^factor must lie in"):
        plan_series(1.0, rng)
    with pytest.raises(ValueError, match=r"^spare must lie in"):
        plan_series(1.5, rng, spare=2.0)
    with pytest.raises(ValueError, match=r"^faces must name one face"):
        plan_series(1.5, rng, faces=())
