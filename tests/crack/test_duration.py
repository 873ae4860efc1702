# SPDX-License-Identifier: MIT
import pytest

from glasskit.crack import duration


def test_design_factor_stays_between_its_bounds():
    assert duration.design_factor(1e-3) == 1.0
    assert duration.design_factor(1e12) == 0.25


def test_shapes_and_refusals():
    assert duration.duration_factor([1.0, 2.0], 60.0).shape == (2,)
    with pytest.raises(ValueError, match=r"^time must be finite and positive; got 0 s$"):
        duration.design_factor(0.0)


def test_minute_to_three_seconds(outside):
    outside(
        "stress for 3 s over stress for 60 s",
        duration.duration_factor(3.0, 60.0),
        1.206,
        abs_=0.0005,
        source="ASTM E1300: (60/3)^(1/16)",
        status="memory",
    )
