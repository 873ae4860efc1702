# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.stats import norm

from glasskit.lab import CLASSES, class_odds, class_of

PSI = 6894.757


@pytest.mark.parametrize(
    ("ksi", "name"),
    [
        (3.0, "below all classes"),
        (3.6, "heat-strengthened (HS)"),
        (7.4, "heat-strengthened (HS)"),
        (8.7, "between the kinds"),
        (10.1, "fully tempered (FT)"),
    ],
)  # ASTM C1048: 3.5 to 7.5 ksi, 10 ksi (found)
def test_kinds_of_heat_treated_glass(ksi, name):
    assert class_of(ksi * 1e3 * PSI, "C1048") == name


def test_levels_are_multiples_of_25_ksi(outside):
    levels = [
        row
        for row in CLASSES
        if row.standard == "C1422"
        and row.above > 100e6
        and row.quantity == "surface_compression"
    ]
    for count, row in enumerate(levels, start=1):
        outside(
            f"lower end of {row.name}",
            row.above,
            count * 25e3 * PSI,
            abs_=0.6e6,
            source="ASTM C1422: levels are multiples of 25 ksi, printed in whole MPa",
            status="memory",
        )
    assert len(levels) == 4


def test_borders():
    assert class_of(172e6, "C1422") == "level 1"
    assert class_of(172.1e6, "C1422") == "level 2"
    assert class_of(5e6, "C1422") == "below all classes"
    assert class_of(50e-6, "C1422", "case_depth") == "level A"
    assert class_of(600e-6, "C1422", "case_depth") == "level F"
    assert class_of(24e6, "C1048") == class_of(52e6, "C1048") == "heat-strengthened (HS)"
    assert class_of(69e6, "C1048") == "fully tempered (FT)"


def test_odds_sum_to_one_and_follow_the_normal_distribution(outside):
    odds = class_odds([72e6, 60e6], 3e6, "C1048")
    assert sum(odds.values()) == pytest.approx([1, 1])
    outside(
        "odds of fully tempered",
        odds["fully tempered (FT)"][0],
        norm.sf(69, 72, 3),
        rel=1e-9,
        source="scipy.stats.norm",
        status="independent method",
    )
    deep = class_odds(40e-6, 8e-6, "C1422", "case_depth")
    assert sum(deep.values()) == pytest.approx(1)
    assert deep["below all classes"] == 0
    assert np.argmax(list(deep.values())) == 1


def test_refusals():
    with pytest.raises(ValueError, match="standard, quantity must be one of"):
        class_of(1e8, "C1048", "case_depth")
    with pytest.raises(ValueError, match="value must be finite and positive"):
        class_of(-1e8, "C1048")
