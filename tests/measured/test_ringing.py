"""Pitches to stiffness: published formulas and factors; the whole way from recordings."""

import numpy as np
import pytest
from measured.heard import rung_set

from glasskit.crack import stress_intensity
from glasskit.materials import glass
from glasskit.measured import (
    Tapped,
    bar_correction,
    bar_modulus,
    crack_drop,
    expected_pitches,
    free_disc_factors,
    free_pane_factors,
    hear_ring,
    likely_peaks,
    ringing_sound,
    rod_modulus,
    rung,
)

STRIP = Tapped(shape="bar", length=0.3, width=0.03, thickness=6e-3, mass=0.135)
PANE = Tapped(shape="pane", length=0.3, width=0.3, thickness=4e-3, mass=0.9)


def euler_bar(modulus, density, length, depth, radius):
    """Return the lowest pitch of a thin bar with free ends; an independent formula."""
    return 4.730041**2 / (2 * np.pi * length**2) * np.sqrt(modulus / density) * radius


@pytest.mark.parametrize("poisson", [0.0, 0.22, 0.4])
def test_the_correction_of_a_bar_is_as_programs_give_it(poisson, outside):
    # Source: a public program after the standard, the constants as it prints them.
    ratio = 0.08
    linear = 6.585 * (1 + 0.0752 * poisson + 0.8109 * poisson**2) * ratio**2
    above = 8.340 * (1 + 0.2023 * poisson + 2.173 * poisson**2) * ratio**4
    below = 1 + 6.338 * (1 + 0.1408 * poisson + 1.539 * poisson**2) * ratio**2
    outside(
        f"T1 of a bar a twelfth as thick as long, Poisson's ratio {poisson}",
        bar_correction(ratio, poisson),
        1 + linear - 0.868 * ratio**4 - above / below,
        source="open program for impulse excitation of tungsten, after ASTM E1876",
        status="found",
        rel=1e-6,
    )


def test_a_thin_bar_and_a_thin_rod_ring_as_the_beam_does(outside):
    pitch = euler_bar(70e9, 2500.0, 0.3, 3e-3, 3e-3 / np.sqrt(12))
    got = bar_modulus(pitch, 2500.0 * 0.3 * 0.02 * 3e-3, 0.3, 0.02, 3e-3)
    exact = {"source": "beam with free ends, root 4.730", "status": "exact"}
    outside("modulus of a thin bar", got, 70e9, rel=1e-3, **exact)
    pitch = euler_bar(70e9, 2500.0, 0.3, 3e-3, 3e-3 / 4)
    got = rod_modulus(pitch, 2500.0 * 0.3 * np.pi / 4 * 3e-3**2, 0.3, 3e-3)
    outside("modulus of a thin rod", got, 70e9, rel=1e-3, **exact)


@pytest.mark.parametrize(
    ("mode", "hertz"), list(enumerate([1.622, 2.360, 2.922, 4.190, 4.190, 7.356]))
)
def test_a_free_square_plate_rings_at_the_published_pitches(mode, hertz, outside):
    # Side 10 m, thickness 50 mm, 200 GPa, 8000 kg/m^3, Poisson's ratio 0.3.
    rigidity = 200e9 * 0.05**3 / (12 * 0.91)
    pitch = free_pane_factors(1.0, 0.3)[mode] / (2 * np.pi * 100) * np.sqrt(rigidity / 400)
    source = "NAFEMS test FV12 as open finite-element programs quote it"
    outside(f"pitch {mode + 1} / Hz", pitch, hertz, source=source, status="found", rel=5e-4)


@pytest.mark.parametrize(("mode", "factor"), list(enumerate([13.489, 19.789, 24.432])))
def test_the_factors_of_the_tables_are_near(mode, factor, outside):
    # Upper bounds from 36 beam functions, a little higher than the truth.
    got = free_pane_factors(1.0, 0.3)[mode]
    outside(
        f"factor {mode + 1}", got, factor, source="Leissa 1973", status="memory", rel=0.011
    )
    assert got < factor


@pytest.mark.parametrize(("mode", "factor"), list(enumerate([5.253, 9.084])))
def test_a_free_disc_has_its_published_factors(mode, factor, outside):
    got = free_disc_factors(0.33)[mode]
    outside(
        f"factor {mode + 1}", got, factor, source="Leissa 1969", status="memory", rel=2.5e-3
    )


@pytest.mark.parametrize(("mode", "factor"), list(enumerate([6.09, 10.53])))
def test_a_free_disc_is_near_the_handbook(mode, factor, outside):
    # B of omega = B t/a^2 sqrt(E/(rho (1 - nu^2))) with the diameter a; the ratio not said.
    got = free_disc_factors(0.33)[mode] * 4 / np.sqrt(12)
    source = "table after the Shock and Vibration Handbook, on an engineering site"
    outside(f"B of pitch {mode + 1}", got, factor, source=source, status="found", rel=0.01)


def test_a_strip_of_the_disc_and_pane_along_the_edge_hardly_twists():
    # Both are lowered in first order by the thickness, the pane's bending mode hardly.
    thin, thick = (free_pane_factors(1.0, 0.22, s) for s in (0.0, 0.02))
    assert thick[0] / thin[0] == pytest.approx(1 - 0.02 * 0.39, abs=1e-3)
    assert thick[1] / thin[1] > 0.999
    assert free_disc_factors(0.22, 0.05)[0] < 0.995 * free_disc_factors(0.22)[0]


def test_a_long_pane_rings_as_a_bar(outside):
    pane = Tapped(
        shape="pane", length=0.3, width=0.06, thickness=3e-3, mass=0.135, poisson=0.0
    )
    bar = Tapped(shape="bar", length=0.3, width=0.06, thickness=3e-3, mass=0.135, poisson=0.0)
    outside(
        "pitch of a strip as a pane and as a bar / Hz",
        expected_pitches(pane)[0],
        expected_pitches(bar)[0],
        source="plate and beam without sideways strain",
        status="consistency",
        rel=2e-3,
    )


def test_pitch_goes_with_thickness_and_the_side_to_minus_two():
    twice = Tapped(shape="pane", length=0.6, width=0.6, thickness=8e-3, mass=7.2)
    assert expected_pitches(twice) == pytest.approx(expected_pitches(PANE) / 2, rel=1e-6)


def test_a_crack_takes_what_its_energy_says(outside):
    # Shallow: K = 1.122 s sqrt(pi a), energy K^2/E a width; the bar's 0.397 s^2 t L/(6 E).
    depth, thick, long = 60e-6, 6e-3, 0.3
    tip = stress_intensity(1.0, depth).item()
    hand = 0.5 * tip**2 * depth / 2 / (0.397 * long * thick / 6)
    outside(
        "share of the pitch that a 60 µm crack takes",
        crack_drop(depth, thick, long),
        hand,
        source="Griffith's balance worked beside this check",
        status="hand calculation",
        rel=0.06,
    )
    assert np.all(np.diff(crack_drop(np.linspace(1e-4, 3.5e-3, 8), thick, long)) > 0)
    with pytest.raises(ValueError, match=r"depth must be at most 0\.6"):
        crack_drop(4e-3, thick, long)


def test_a_bar_is_heard_with_its_budget_and_its_thickness():
    pitch = expected_pitches(STRIP, 71e9)[0]
    sound = ringing_sound(
        [pitch, 2.7 * pitch], [5.0, 20.0], [1.0, 0.7], np.random.default_rng(4)
    )
    ring = hear_ring(sound)
    found = rung(STRIP, ring, likely_peaks(STRIP, ring), glass("soda-lime"))
    low, high = found.modulus.interval()
    assert low < 71e9 < high
    assert {"pitch 1", "mass", "width", "thickness", "air"} < {*found.modulus.names}
    assert found.modulus.shares.sum() == pytest.approx(1.0)
    assert found.thickness.value == pytest.approx(6e-3 * np.sqrt(71 / 70), rel=0.01)
    assert found.friction == pytest.approx(5.0 / (np.pi * pitch), rel=0.1)


def test_a_pane_is_heard_by_several_pitches():
    pitches = expected_pitches(PANE, 72e9)[:4]
    sound = ringing_sound(pitches, 8.0, [0.5, 1.0, 0.6, 0.3], np.random.default_rng(4))
    ring = hear_ring(sound)
    chosen = likely_peaks(PANE, ring)
    assert len(chosen) >= 3
    assert rung(PANE, ring, chosen).modulus.value == pytest.approx(72e9, rel=0.015)


def test_what_cannot_be_is_said():
    sound = ringing_sound([2000.0], [5.0], [1.0], np.random.default_rng(4))
    ring = hear_ring(sound)
    with pytest.raises(ValueError, match="ring must hold a pitch near 362 Hz"):
        likely_peaks(STRIP, ring)
    with pytest.raises(ValueError, match="ring must hold two or more pitches of a free pane"):
        likely_peaks(PANE, ring)
    with pytest.raises(ValueError, match="peaks must be a whole number, 1 <= peaks <= 1"):
        rung(STRIP, ring, [2])
    with pytest.raises(ValueError, match="shape must be one of bar, rod, disc, pane"):
        Tapped(shape="ball", length=0.3, width=0.03, thickness=6e-3, mass=0.1)
    with pytest.raises(ValueError, match="thickness must be far below length"):
        Tapped(shape="pane", length=0.1, width=0.1, thickness=0.02, mass=0.1)


@pytest.mark.parametrize("shape", ["bar", "rod", "disc", "pane"])
def test_from_the_recording_to_the_modulus(shape):
    # A sample of what tests/speed/listen.py does with 200 and more of each.
    rows, refused = rung_set(shape, 8, seed=3)
    truth, heard, low, high = rows.T[:4]
    off = np.log(heard / truth)
    assert refused <= 1
    assert abs(off.mean()) < 0.02
    assert off.std() < 0.035
    assert np.mean((low <= truth) & (truth <= high)) >= 0.7  # binomial about 0.95
