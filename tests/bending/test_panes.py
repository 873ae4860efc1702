# SPDX-License-Identifier: MIT
import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.special import j1

from glasskit.bending import panes
from glasskit.quantities import OutsideValidityWarning

HANDBOOK = SimpleNamespace(modulus=200e9, poisson=0.3)
GLASS = SimpleNamespace(modulus=70e9, poisson=0.2)
TIMOSHENKO = "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, table "
ROARK = "Roark's Formulas for Stress and Strain, table "
SIDE, THICK = 0.7, 0.01  # a side of one would hide a wrong power of it


def moment(stress):
    return stress * THICK**2 / 6


def glass(poisson):
    return SimpleNamespace(modulus=70e9, poisson=poisson)


def test_square_pane_under_a_central_load(outside):
    patch = 0.05
    got = panes.pane_patch(1.0, patch, SIDE, SIDE, THICK, HANDBOOK)
    rigidity = panes.flexural_rigidity(THICK, HANDBOOK)
    outside(
        "central load: w D/(P a^2)",
        got.deflection * rigidity / SIDE**2,
        0.01160,
        abs_=5e-6,
        source=TIMOSHENKO + "23",
        status="common practice",
    )
    source, status = ROARK + "11.4 case 1b", "found"
    beta = got.stress * 2 * np.pi * THICK**2 / 3 - 1.3 * np.log(2 * SIDE / (np.pi * patch))
    outside("central load: beta", beta, 0.435, abs_=6e-4, source=source, status=status)
    alpha = got.deflection * HANDBOOK.modulus * THICK**3 / SIDE**2
    outside("central load: alpha", alpha, 0.1267, abs_=6e-5, source=source, status=status)


@pytest.mark.parametrize("poisson", [0.2, 0.23, 0.3])
@pytest.mark.parametrize(("longer", "patch"), [(1.0, 0.05), (1.0, 0.02), (1.6, 0.02)])
def test_patch_stress_agrees_with_the_double_series(outside, poisson, longer, patch):
    # Navier's double series for an even round patch, whose Fourier coefficient is 2 J1(x)/x.
    across = np.pi * np.arange(1, 1001, 2.0)[:, None] / SIDE
    along = np.pi * np.arange(1, 1001, 2.0) / (longer * SIDE)
    k = np.hypot(across, along)
    load = 4 / (longer * SIDE**2) * 2 * j1(k * patch) / (k * patch)
    expected = np.sum(load * (across**2 + poisson * along**2) / k**4)
    crosswise = np.sum(load * (poisson * across**2 + along**2) / k**4)
    got = panes.pane_patch(1.0, patch, longer * SIDE, SIDE, THICK, glass(poisson))
    outside(
        f"patch {patch} on {longer}:1, nu {poisson}: M/P",
        moment(got.stress),
        expected,
        rel=1e-4,
        source="Navier's double series with the patch's own Fourier coefficients",
        status="independent method",
    )
    outside(
        f"patch {patch} on {longer}:1, nu {poisson}: M/P crosswise",
        moment(got.cross_stress),
        crosswise,
        rel=1e-4,
        source="Navier's double series with the patch's own Fourier coefficients",
        status="independent method",
    )


@pytest.mark.parametrize("longer", [1.0, 1.3, 2.0])
def test_a_point_load_sinks_a_pane_as_far_as_the_double_series_says(outside, longer):
    got = panes.pane_patch(1.0, 0.0, SIDE, longer * SIDE, THICK, HANDBOOK)
    odd = np.arange(1.0, 2001, 2.0)
    waves = odd[:, None] ** 2 + (odd / longer) ** 2
    outside(
        f"point load on {longer}:1: w D/(P a^2)",
        got.deflection * panes.flexural_rigidity(THICK, HANDBOOK) / SIDE**2,
        4 / (np.pi**4 * longer) * np.sum(waves**-2.0),
        # Tolerance: what is left of the series beyond 1000 waves either way.
        rel=1e-5,
        source="Navier's double series for a point load",
        status="independent method",
    )


def test_equivalent_radius_is_finite_for_a_point_and_unchanged_for_a_wide_patch(outside):
    source, status = "Roark; Westergaard: sqrt(1.6 r^2 + t^2) - 0.675 t below 0.5 t", "found"
    for radius, printed in ((0.0, 0.325), (0.25, np.sqrt(1.1) - 0.675), (0.8, 0.8)):
        got = panes.equivalent_radius(radius, 1.0)
        outside(
            f"equivalent radius of {radius} t",
            got,
            printed,
            abs_=1e-12,
            source=source,
            status=status,
        )
    # The two branches meet within two per cent at r = t/2.
    assert panes.equivalent_radius(0.4999, 1.0) == pytest.approx(0.5, rel=0.02)


def test_turning_the_pane_changes_nothing_and_all_arguments_broadcast():
    sides = np.array([0.3, 0.5, 0.8])
    one = panes.pane_patch(1.0, 1e-3, sides, 0.4, 4e-3, GLASS)
    other = panes.pane_patch(1.0, 1e-3, 0.4, sides, 4e-3, GLASS)
    for field in dataclasses.fields(one):
        assert getattr(one, field.name).shape == (3,)
        assert getattr(one, field.name) == pytest.approx(getattr(other, field.name))
    grid = panes.pane_patch([[1.0], [2.0]], 1e-3, sides, 0.4, 4e-3, GLASS)
    assert grid.stress.shape == (2, 3)
    assert panes.pane_patch(1.0, 1e-3, 0.4, 0.4, 4e-3, GLASS).deflection.shape == ()
    with pytest.raises(ValueError, match="read-only"):
        grid.stress[0, 0] = 0.0


def test_a_pane_bent_past_half_its_thickness_is_outside_the_theory():
    def bend(load):
        return panes.pane_patch(load, 1e-2, 1.0, 1.0, 4e-3, GLASS)

    small = bend(1e-3)
    assert small.deflection < 1e-4
    with pytest.warns(OutsideValidityWarning, match="sinks by more than 0.5 of its thickness"):
        bend(1e-3 * 2.1e-3 / small.deflection)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: panes.pane_patch(1, 0, 0, 1, 1, GLASS),
            "^length must be finite and positive",
        ),
        (lambda: panes.pane_patch(np.inf, 0, 1, 1, 1, GLASS), "^force must be finite"),
        (
            lambda: panes.pane_patch(1, 0.2, 1, 1, 0.1, GLASS),
            "^patch_radius must stay below a t",
        ),
        (
            lambda: panes.equivalent_radius(-1, 1),
            "^patch_radius must be zero or more; got -1 m",
        ),
        (lambda: panes.flexural_rigidity(1, glass(0.51)), "^poisson must lie in"),
        (lambda: panes.flexural_rigidity(1, glass(-0.1)), "^poisson must lie in"),
        (
            lambda: panes.flexural_rigidity(1, SimpleNamespace(modulus=0.0, poisson=0.2)),
            "^modulus must be finite and positive; got 0 Pa$",
        ),
    ],
)
def test_impossible_panes_are_refused(call, message):
    with pytest.raises(ValueError, match=message):
        call()


PANE = {"length": 0.5, "width": 0.4, "thickness": 4e-3, "material": GLASS}
CALLS = [
    (panes.flexural_rigidity, {"thickness": 4e-3, "material": GLASS}),
    (panes.equivalent_radius, {"patch_radius": 1e-3, "thickness": 4e-3}),
    (panes.pane_patch, {"force": 1.0, "patch_radius": 1e-3} | PANE),
]


@pytest.mark.parametrize(
    ("function", "given", "name"),
    [(f, given, name) for f, given in CALLS for name in given if name != "material"],
)
def test_every_number_must_be_one(function, given, name):
    function(**given)
    with pytest.raises(ValueError, match=f"^{name} must .*got nan"):
        function(**given | {name: np.nan})
