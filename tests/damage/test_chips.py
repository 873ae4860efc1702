# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit.damage import chips, dents
from glasskit.quantities import OutsideValidityWarning

E, H, K = 70e9, 5.5e9, 0.75e6


def test_cone_crack_load_of_soda_lime(outside):
    outside(
        "Auerbach constant, N/m",
        chips.cone_crack_load(2e-3, K, E) / 2e-3,
        69e3,
        rel=0.005,
        source="[Lawn1998]: 0.75 MPa√m and 70 GPa give 69 N/mm",
        status="memory",
    )


@pytest.mark.parametrize("radius", [0.5e-3, 19e-3])
def test_balls_outside_the_range_of_auerbach_are_flagged(radius):
    with pytest.warns(OutsideValidityWarning, match="not proportional to the radius"):
        chips.cone_crack_load(radius, K, E)


def test_chip_follows_the_published_relation(outside):
    got = chips.chip_distance(100.0, K)
    # Hand calculation: (100 / (9.3 * 0.75e6))^(2/3) = (1.43369e-5)^(2/3) = 5.9017e-4 m.
    outside(
        "distance from the edge for a chip at 100 N, middle, m",
        np.sqrt(got.low * got.high),
        5.9017e-4,
        rel=0.01,
        source="[ChaiLawn2007]: P = 9.3 K h^1.5, constant ± 1.3",
        status="memory",
    )
    assert np.all(got.low < got.high)


def test_flake_is_larger_than_the_dent_and_grows_as_the_load_to_five_eighths():
    flake = chips.lateral_crack([10.0, 160.0], K, E, H)
    assert flake.high[0] > dents.half_diagonal(10.0, H)
    assert flake.low[1] / flake.low[0] == pytest.approx(2**2.5, rel=1e-12)
    assert flake.high / flake.low == pytest.approx(4.0)
    with pytest.raises(ValueError, match="read-only"):
        flake.low[0] = 0.0


def test_bad_input_gets_one_clear_sentence():
    with pytest.raises(ValueError, match=r"^radius must be finite and positive; got nan m$"):
        chips.cone_crack_load(np.nan, K, E)
    with pytest.raises(ValueError, match=r"^load must be finite and positive; got 0 N$"):
        chips.chip_distance(0.0, K)
