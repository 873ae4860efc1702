# SPDX-License-Identifier: MIT
import csv
from importlib.resources import files

import numpy as np
import pytest

from glasskit.bending import bars

INCH, PSI, POUND_FORCE = 0.0254, 6894.757, 4.4482216


def test_three_point_formula_gives_every_printed_modulus_of_the_1900_tests(outside):
    with files("glasskit.data").joinpath("bending_1900.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    section = bars.bar_section(
        [float(row["width_in"]) * INCH for row in rows],
        [float(row["thickness_in"]) * INCH for row in rows],
    )
    got = bars.three_point_stress(
        np.array([float(row["load_lbf"]) for row in rows]) * POUND_FORCE,
        np.array([float(row["span_in"]) for row in rows]) * INCH,
        section,
    )
    printed = np.array([float(row["modulus_of_rupture_psi_as_printed"]) for row in rows])
    assert len(rows) == 24
    # Tolerance: printed to 10 psi in 3000 to 7700.
    outside(
        "worst of 24 moduli of rupture, ours over printed less one",
        np.max(np.abs(got / PSI / printed - 1)),
        0.0,
        abs_=2e-3,
        source="Tests of Metals, Watertown Arsenal 1900, pages 629 and 632",
        status="found",
    )


def test_four_point_bar_and_rod(outside):
    load, outer, inner = 500.0, 0.1, 0.04
    arm = 0.03
    outside(
        "four-point bar / MPa",
        bars.four_point_stress(load, outer, inner, bars.bar_section(0.02, 0.005)) / 1e6,
        3 * load * arm / (0.02 * 0.005**2) / 1e6,
        rel=1e-12,
        source="ASTM C158: 3 L a/(b d^2)",
        status="memory",
    )
    outside(
        "three-point rod / MPa",
        bars.three_point_stress(100.0, 0.08, bars.rod_section(0.006)) / 1e6,
        94.31,
        abs_=0.01,
        source="8 F L/(pi d^3) = 64/(pi 2.16e-7) Pa = 94.314 MPa",
        status="hand calculation",
    )


def test_four_point_plate_with_its_own_weight(outside):
    load, thick, span = 2000.0, 6e-3, 1.1  # a span of one would hide a wrong power of it
    got = bars.four_point_stress(load, span, 0.2, bars.bar_section(0.36, thick))
    got = got + bars.self_weight_stress(2500.0, thick, span)
    weight = 3 * 2500 * 9.80665 * span**2 / (4 * thick)
    expected = 3 * load * (span - 0.2) / (2 * 0.36 * thick**2) + weight
    outside(
        "EN 1288-3 plate / MPa",
        got / 1e6,
        expected / 1e6,
        rel=1e-12,
        source="EN 1288-3: k [3 F (Ls-Lb)/(2 B h^2) + 3 rho g Ls^2/(4 h)], k = 1",
        status="memory",
    )


def test_four_points_close_to_one_load_become_three():
    section = bars.bar_section(0.02, 0.004)
    three = bars.three_point_stress(10.0, 0.1, section)
    assert bars.four_point_stress(10.0, 0.1, 0.0, section) == pytest.approx(three, rel=1e-12)


def test_sections_and_loads_broadcast():
    section = bars.bar_section([0.01, 0.02], [[0.003], [0.004], [0.005]])
    assert section.shape == (3, 2)
    assert bars.three_point_stress(1.0, 0.1, section).shape == (3, 2)
    assert bars.three_point_stress(1.0, 0.1, bars.rod_section(0.01)).shape == ()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: bars.bar_section(0, 1), "^width must be finite and positive; got 0 m$"),
        (lambda: bars.rod_section(-1), "^diameter must be finite and positive; got -1 m$"),
        (
            lambda: bars.four_point_stress(1, 1, 2, bars.rod_section(0.01)),
            "^inner_span must lie in 0 <= inner_span < outer_span; got 2 m$",
        ),
        (lambda: bars.self_weight_stress(1, 0, 1), "^thickness must be finite and positive"),
    ],
)
def test_impossible_bars_are_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()


SECTION = bars.bar_section(0.02, 0.004)
CALLS = [
    (bars.bar_section, {"width": 0.02, "thickness": 0.004}),
    (bars.rod_section, {"diameter": 0.006}),
    (bars.three_point_stress, {"force": 10.0, "span": 0.1, "section": SECTION}),
    (
        bars.four_point_stress,
        {"force": 10.0, "outer_span": 0.1, "inner_span": 0.05, "section": SECTION},
    ),
    (bars.self_weight_stress, {"density": 2500.0, "thickness": 0.004, "span": 0.1}),
]


@pytest.mark.parametrize(
    ("function", "given", "name"),
    [(f, given, name) for f, given in CALLS for name in given],
)
def test_every_number_must_be_one(function, given, name):
    function(**given)
    with pytest.raises(ValueError, match=f"^{name} must .*got nan"):
        function(**given | {name: np.nan})


def test_loads_pass_where_they_may_and_no_further():
    at_supports = r"^inner_span must lie in 0 <= inner_span < outer_span; got 0.1 m$"
    with pytest.raises(ValueError, match=at_supports):
        bars.four_point_stress(10.0, 0.1, 0.1, SECTION)
    with pytest.raises(ValueError, match=r"^inner_span must lie in .*; got -0.01 m$"):
        bars.four_point_stress(10.0, 0.1, -0.01, SECTION)
